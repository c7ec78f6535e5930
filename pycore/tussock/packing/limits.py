"""How heavy the kit of a load may be, and the aeroplane at every moment without it: asked of the questions.

Kit of any mass is tried as one thing of that mass in one bay, on every leg that is flown with the load.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

import numpy as np

from ..documents import Bundle, Trip
from ..documents.aeroplane import Bay
from ..documents.trip import Leg, Load, Placed, Weighing
from ..questions.aboard import GUARD
from ..questions.answer import CANT_SAY, NO, message
from ..questions.asking import LegAnswer, ask
from ..questions.balances import MASS_MEASURES, corners, judged_states
from ..questions.edits import replaced
from ..questions.search import bisect
from ..sums.packing.choice import Moment
from ..sums.packing.pieces import convex_pieces, guarded

#: questions whose limit of mass is looked for
BY_MASS = ("lifts_off", "climbs_out", "reaches", "stops")
#: the limit is found to so much [kg], on the light side
STEP = 0.1


@dataclass
class Limits:
    """Kit mass [kg] at most, what sets it; questions that less kit doesn't help; moments without the kit."""

    total: float
    by: dict[str, Any] | None = None
    helpless: list[tuple[str, str]] = field(default_factory=list)
    moments: list[Moment] = field(default_factory=list)
    #: the same with the envelope as it is, where what must come leaves no room for the guard
    unguarded: list[Moment] = field(default_factory=list)


class Probe:
    """All legs with one load, answered with the kit as one thing of some mass in one bay."""

    def __init__(
        self, bundle: Bundle, trip: Trip, legs: list[Leg], load: Load, item: str, bay: Bay, now: datetime
    ) -> None:
        self.bundle, self.trip, self.legs, self.load = bundle, trip, legs, load
        self.item, self.bay, self.now = item, bay, now
        self._known: dict[float, list[LegAnswer]] = {}

    def at(self, mass: float) -> list[LegAnswer]:
        if mass not in self._known:
            weighed = Weighing(value=mass, origin="measured", sd=0.0)
            placed = [Placed(item=self.item, bay=self.bay.id, weighed=weighed)] if mass > 0.0 else []
            load = self.load.model_copy(update={"placed": placed})
            loads = [load if one.id == load.id else one for one in self.trip.loads]
            trip = self.trip.model_copy(update={"loads": loads})
            bundle = replaced(self.bundle, trip)
            self._known[mass] = [ask(bundle, trip, leg, self.now, silent=True) for leg in self.legs]
        return self._known[mass]


def middle(bays: list[Bay]) -> Bay:
    """The bay with an arm in the middle of the others': kit that is tried there balances soonest."""
    known = sorted((bay for bay in bays if bay.arm), key=lambda bay: bay.arm.value if bay.arm else 0.0)
    return known[len(known) // 2] if known else bays[0]


@dataclass(frozen=True)
class Room:
    """Kit mass [kg] that may still come by the answers; less than nothing is too much by so much.

    `whole`: no answer had to be left out, as one that can't be said, or a "no" that less kit doesn't help.
    """

    mass: float
    whole: bool


def room_by_answers(probe: Probe, kit: float, most: float) -> Room:
    """How much more than `kit` [kg] lifts off, climbs out, reaches and stops on every leg; to `most` [kg]."""
    pairs = [(index, question) for index in range(len(probe.legs)) for question in BY_MASS]

    def refused(mass: float, among: list[tuple[int, str]]) -> list[tuple[int, str]]:
        asked = probe.at(mass)
        return [(i, q) for i, q in among if asked[i].verdicts[q] in (NO, CANT_SAY)]

    now = refused(kit, pairs)
    counted = [pair for pair in pairs if pair not in refused(0.0, now)]
    top = kit + max(most, 0.0)
    if not refused(top, counted):
        return Room(top - kit, len(counted) == len(pairs))
    steps = math.ceil(top / STEP)
    least_steps = bisect(0, steps, lambda step: not refused(max(top - step * STEP, 0.0), counted))
    found = 0.0 if least_steps is None else max(top - least_steps * STEP, 0.0)
    return Room(found - kit, len(counted) == len(pairs))


def limits_of(probe: Probe, least: float, most: float, spread: Callable[[float], float]) -> Limits:
    """Limits for kit between `least` and `most` [kg].

    `spread`: the variance of the moment [kg² m²] that the kit can bring at most about an arm [m].
    """
    light = probe.at(least)
    found = Limits(most)
    for asked in light:
        for part in asked.answer("balances").measures:
            if part.name in MASS_MEASURES and part.margin is not None and least + part.margin < found.total:
                found.total = max(least + part.margin, 0.0)
                found.by = _said(asked, message(f"measure.{part.name}", **part.values))
    helped = [
        (index, question)
        for index, asked in enumerate(light)
        for question in BY_MASS
        if asked.verdicts[question] not in (NO, CANT_SAY)
    ]
    found.helpless = [
        (asked.flight.leg.id, question)
        for index, asked in enumerate(light)
        for question in BY_MASS
        if (index, question) not in helped
    ]
    if found.total > least:
        _by_questions(probe, least, helped, found)
    for mass in dict.fromkeys((found.total, least)):
        for asked in probe.at(mass):
            found.moments += _moments(probe, asked, mass, spread)
            found.unguarded += _moments(probe, asked, mass, None)
    return found


def _said(asked: LegAnswer, what: dict[str, Any]) -> dict[str, Any]:
    leg = asked.flight.leg
    return {"leg": leg.id, "what": what, "question": "balances"}


def _by_questions(probe: Probe, least: float, helped: list[tuple[int, str]], found: Limits) -> None:
    """Lower the total until no question that less kit helps is "no" or "can't say"."""

    def refused(mass: float) -> list[tuple[int, str]]:
        asked = probe.at(mass)
        return [(i, q) for i, q in helped if asked[i].verdicts[q] in (NO, CANT_SAY)]

    first = refused(found.total)
    if not first:
        return
    top = found.total
    steps = math.ceil((top - least) / STEP)

    def mass_after(step: int) -> float:
        return max(top - step * STEP, least)

    least_steps = bisect(1, steps, lambda step: not refused(mass_after(step)))
    found.total = least if least_steps is None else mass_after(least_steps)
    last = refused(mass_after(least_steps - 1)) if least_steps else first
    index, question = (last or first)[0]
    asked = probe.at(found.total)[index]
    found.by = _said(asked, message(f"question.{question}")) | {"question": question}


def _moments(
    probe: Probe, asked: LegAnswer, kit: float, spread: Callable[[float], float] | None
) -> list[Moment]:
    """The aeroplane without the kit at each judged moment, with the envelope as its limit."""
    flight, masses = asked.flight, asked.masses
    envelope = flight.envelope
    if envelope is None or masses.missing or probe.bay.arm is None:
        return []
    mass, arm, edges = corners(envelope)
    pieces = convex_pieces(mass, arm, edges)
    aft = arm[arm >= 0.5 * (float(np.min(arm)) + float(np.max(arm)))]
    guard = 0.0
    if spread is not None:
        guard = max(_guard(masses, at, spread) for at in (float(np.min(aft)), float(np.max(aft))))
    drawn = tuple(guarded(piece, guard) for piece in pieces)
    return [
        Moment(
            f"{flight.leg.id}/{name}",
            state.mass - kit,
            state.mass * state.arm - kit * probe.bay.arm.value,
            drawn,
        )
        for name, state in judged_states(flight, masses, asked.burnt).items()
    ]


def _guard(masses: Any, arm: float, spread: Callable[[float], float]) -> float:
    """What the moment about an arm may be wrong by [kg m], one-sided 95 %: aeroplane, people, and any kit."""
    fixed = sum((part.sd * (part.arm - arm)) ** 2 for part in masses.dry)
    return GUARD * math.sqrt(fixed + spread(arm))
