"""Rules of the settings that ask for less than the method: each is told; far below it nothing is a yes.

A rule is told where the answer rests on it: an assumption only where it was assumed, an age only where what
was read is older than the method takes.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from ..documents import Settings
from .airs import AirState
from .answer import TIGHT, Answer, message
from .flight import Flight

KNOT = 1852 / 3600


class _Rule(NamedTuple):
    """Field of the settings, and the value below which nothing is better than tight."""

    field: str
    least: float
    #: it counts only in an answer that says so
    assumed: str | None = None


#: half of the method's figure, where nothing else is said: own choice
_LIFTS_OFF = (_Rule("takeoff_safety", 1.15),)
_OUT = (_Rule("obstacle_clearance", 7.5), _Rule("least_gradient", 0.0165))
_BY_QUESTION = {
    "lifts_off": _LIFTS_OFF,
    # of sinking air 50 ft/min, a sixth: over open ground on still mornings owners allow for less (own choice)
    "climbs_out": (*_LIFTS_OFF, *_OUT, _Rule("ridge_clearance", 75.0), _Rule("sinking_air", 0.254)),
    "reaches": (
        _Rule("contingency", 0.025),
        _Rule("headwind_aloft", 10.0 * KNOT, "assumed.headwind_aloft"),
        _Rule("before_sunset", 900.0),
    ),
    "stops": (
        _Rule("landing_safety", 1.15),
        *_OUT,
        _Rule("far_tailwind", 2.5 * KNOT, "assumed.far_tailwind"),
        _Rule("far_hotter", 2.5, "assumed.far_hotter"),
    ),
}
#: final reserve [s] below which it is told (ICAO Annex 6 Part II, VFR by day), and that below which no yes is
RESERVE, LEAST_RESERVE = 1800.0, 1200.0


def add_lowered(answer: Answer, flight: Flight, air: AirState) -> None:
    """Tell of every rule that this answer rests on and that was made kinder. After what it assumes is known.

    `air` is that of the answer.
    """
    said = {one["text"] for one in answer.assumptions}
    for field, least, assumed in _BY_QUESTION[answer.question]:
        here, standard = getattr(flight.settings, field), _standard(field)
        if here >= standard or (assumed is not None and assumed not in said):
            continue
        if field != "before_sunset" or not _ridge_rules(flight, standard):
            _tell(answer, field, here, standard, is_low=here < least)
    reserve = flight.settings.reserve
    if answer.question == "reaches" and reserve is not None and reserve.time < RESERVE:
        _tell(answer, "reserve", reserve.time, RESERVE, is_low=reserve.time < LEAST_RESERVE)
    for field, age in _ages(answer, flight, air):
        here, standard = getattr(flight.settings, field), _standard(field)
        if age > standard and here > standard:
            _tell(answer, field, here, standard, is_low=here > 2.0 * standard)


def _standard(field: str) -> float:
    return float(Settings.model_fields[field].default)


def _tell(answer: Answer, field: str, here: float, standard: float, *, is_low: bool) -> None:
    answer.notes.append(message(f"note.lowered.{field}", here=here, standard=standard))
    if is_low:
        answer.limit(TIGHT, message(f"reason.low.{field}", here=here))


def _ridge_rules(flight: Flight, standard: float) -> bool:
    """Whether a ridge takes the sun before the method's time, so that the sunset does not decide."""
    shadow = flight.strip("to").ridge_shadow
    before = shadow.before_sunset if shadow is not None else None
    return before is not None and before.value >= standard


def _ages(answer: Answer, flight: Flight, air: AirState) -> Iterator[tuple[str, float]]:
    """How old is what the answer rests on [s], and the rule for it."""
    yield "air_age", air.age
    if answer.question in ("lifts_off", "stops"):
        state = flight.strip(air.end).ground.state
        if state is not None:
            yield "surface_age", abs((flight.departure - state.seen).total_seconds())
