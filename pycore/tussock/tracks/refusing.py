"""Refusals and messages of tracks, in the words of the catalogue."""

from __future__ import annotations

from typing import Any

from ..errors import Refused
from ..text import say


def message(text: str, **values: Any) -> dict[str, Any]:
    """A text by id with its values, for the edges to say."""
    return {"text": text, "values": values}


def refused(code: str, why: dict[str, Any], path: str = "", expected: str = "track.expected.file") -> Refused:
    """A refusal that says `why`; `path` names the place in the file: /line/12, /point/340."""
    return Refused(code, path, say(why), say(message(expected)))
