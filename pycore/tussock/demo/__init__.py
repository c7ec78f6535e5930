"""The demo trip: a bundle of documents, wholly invented, made by plain functions."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from .dabchick import dabchick
from .figures import Clock
from .kit import kits
from .lessons import lesson
from .notebook import notebook
from .people import people
from .shelduck import shelduck
from .strips import strips
from .trip import OPEN, airs, settings, trip


def demo_bundle(now: str) -> dict[str, Any]:
    """The demo as plain JSON data, SI. `now` is an ISO 8601 time with its offset.

    The first leg leaves now where there is light on the plateau for the flight, else on the next morning; the
    other legs follow on the days after. Raises `ValueError` when `now` is no time or has no offset.
    """
    moment = datetime.fromisoformat(now)
    if moment.tzinfo is None:
        raise ValueError("the time needs its offset, as in 2026-11-25T07:52+00:00")
    clock = Clock.starting(moment)
    return {
        "format": "tussock",
        "version": 1,
        "documents": [
            trip(clock),
            settings(),
            dabchick(),
            shelduck(),
            *people(),
            *kits(),
            *strips(clock),
            *airs(clock),
            notebook(clock),
            lesson(),
        ],
        "open": OPEN,
    }
