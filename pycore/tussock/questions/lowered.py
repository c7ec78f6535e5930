"""Rules of the settings that ask for less than the method: each is told; far below it nothing is a yes."""

from __future__ import annotations

from typing import NamedTuple

from ..documents import Settings
from .answer import TIGHT, Answer, message
from .flight import Flight


class _Rule(NamedTuple):
    """Field of the settings, and the value below which nothing is better than tight."""

    field: str
    least: float


#: of the clearances and of the gradient half of the method's: own choice
_LIFTS_OFF = (_Rule("takeoff_safety", 1.15),)
_OUT = (_Rule("obstacle_clearance", 7.5), _Rule("least_gradient", 0.0165))
_BY_QUESTION = {
    "lifts_off": _LIFTS_OFF,
    "climbs_out": (*_LIFTS_OFF, *_OUT, _Rule("ridge_clearance", 75.0)),
    "stops": (_Rule("landing_safety", 1.15), *_OUT),
}


def add_lowered(answer: Answer, flight: Flight) -> None:
    """Tell of every rule that this answer rests on and that was lowered."""
    for field, least in _BY_QUESTION[answer.question]:
        here, standard = getattr(flight.settings, field), Settings.model_fields[field].default
        if here >= standard:
            continue
        answer.notes.append(message(f"note.lowered.{field}", here=here, standard=standard))
        if here < least:
            answer.limit(TIGHT, message(f"reason.low.{field}", here=here))
