"""What a question lacks, as limits on the things of a load: mass, litres of a bay, moment, or single things.

Only where to look is told here; whether a choice does is answered by the questions.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from ..documents.kit import Rigid
from .aboard import Aboard
from .answer import CANT_SAY, RANK, YES, Measure
from .balances import MASS_MEASURES
from .bulk import bulk_in, exposed, lies
from .choosing import Limit
from .flight import Flight
from .holding import is_loose
from .search import Search

BALANCE = ("aft", "forward", "envelope", "tipping", "passenger_out")
#: rules that everything in a bay breaks
ALL_OF_IT = ("loose_near_controls", "restraint")


@dataclass
class Need:
    """`limits` hold in any case; `more`: figures of the things of which it is not known how much must go.

    `mass` says that it is the whole mass that is too much, which no other bay lessens.
    """

    limits: list[Limit] = field(default_factory=list)
    more: Limit | None = None
    mass: bool = False


def need(search: Search, question: str, goal: str, things: list[Aboard], to: float | None) -> Need | None:
    """What must go of `things` for a question to reach a goal; None where none of them would help.

    `to`: the arm [m] of the bay that they go to, None where they stay behind.
    """
    answer = search.before.answer(question)
    if RANK[answer.cap] < RANK[goal]:
        return None
    mass = np.array([thing.mass or 0.0 for thing in things])
    if question in ("lifts_off", "climbs_out", "stops"):
        return Need(more=Limit(mass, 0.0), mass=True)
    found = Need()
    for part in answer.measures:
        if RANK[part.verdict] >= RANK[goal]:
            continue
        told = _balance(search, part, goal, things, to, found) if question == "balances" else None
        told = told or (_bay(search.before.flight, part, goal, things, found) if question == "fits" else None)
        if not told:
            return None
    return found


def _bay(flight: Flight, part: Measure, goal: str, things: list[Aboard], found: Need) -> bool:
    bays = {bay.id: bay for bay in flight.plane.bays if bay.name == part.values.get("bay")}
    if not bays:
        return False  # a seat, or who sits on it

    def of(figure: Callable[[Aboard], float]) -> np.ndarray:
        return np.array([figure(thing) if thing.bay in bays else 0.0 for thing in things])

    aboard = [thing for thing in flight.aboard if thing.bay in bays]
    name = part.values.get("item")
    if name is not None:
        found.limits.append(
            Limit(of(lambda thing: float(any(part.item.name == name for part in thing.parts))), 1.0)
        )
    elif part.name == "bay_volume" and part.verdict == CANT_SAY:
        unknown = sum(lies(thing) is None for thing in aboard)
        if not unknown:
            return False
        found.limits.append(Limit(of(lambda thing: float(lies(thing) is None)), unknown))
    elif part.name == "bay_volume" and part.needed is not None and part.available is not None:
        spare = flight.settings.tight.bulk * part.available if goal == YES else 0.0
        litres = of(lambda thing: bulk_in(thing, bays[thing.bay]) or 0.0)
        found.limits.append(Limit(litres, part.needed - part.available + spare))
    elif part.name == "placing":
        found.limits.append(
            Limit(
                of(lambda thing: float(any(isinstance(one.item.size, Rigid) for one in exposed(thing)))), 1.0
            )
        )
    elif part.name == "restraint" and part.margin is not None:
        found.limits.append(Limit(of(lambda thing: thing.mass or 0.0), -part.margin))
    elif part.name in ALL_OF_IT:
        # what has a restraint of its own may stay where nothing else holds it
        loose = [thing for thing in aboard if is_loose(bays[thing.bay], thing)]
        some = bool(loose) and len(loose) < len(aboard)
        counts = (lambda thing: float(is_loose(bays[thing.bay], thing))) if some else (lambda thing: 1.0)
        found.limits.append(Limit(of(counts), len(loose) if some else len(aboard)))
    else:
        return False
    return True


def _balance(
    search: Search, part: Measure, goal: str, things: list[Aboard], to: float | None, found: Need
) -> bool:
    flight, masses = search.before.flight, search.before.masses
    mass = np.array([thing.mass or 0.0 for thing in things])
    if part.name in MASS_MEASURES and part.margin is not None and part.available is not None:
        spare = flight.settings.tight.mass * part.available if goal == YES else 0.0
        short = Limit(mass, spare - part.margin)
        found.mass = True
        # nearer than the weights are known is tight too: how much that is shows when it is asked
        if goal == YES and found.more is None:
            found.more = short
        else:
            found.limits.append(short)
        return True
    if part.name in ("bay_mass", "joint_mass") and part.margin is not None and part.available is not None:
        spare = 0.02 * part.available if goal == YES and part.name == "bay_mass" else 0.0
        if part.name == "bay_mass":
            inside = {bay.id for bay in flight.bays if bay.name == part.values["bay"]}
        else:
            joints = [one for one in flight.plane.joint_limits if one.name == part.values["limit"]]
            inside = {station for joint in joints for station in joint.stations}
        held = np.array([thing.bay in inside for thing in things])
        found.limits.append(Limit(np.where(held, mass, 0.0), spare - part.margin))
        return True
    if part.name not in BALANCE or masses.missing:
        return False
    arms = {bay.id: bay.arm.value for bay in flight.plane.bays if bay.arm}
    now = masses.state("ramp", 0.0).arm
    over = max(-(part.margin or 0.0), 0.0)
    forward = part.name == "forward" or (part.reason is not None and part.reason["text"].endswith("forward"))
    sign = -1.0 if forward else 1.0
    limit = now - sign * over if to is None else to
    moved = np.array([sign * (arms.get(thing.bay, limit) - limit) for thing in things]) * mass
    if found.more is not None:
        found.limits.append(found.more)
    found.more = Limit(moved, 1e-6)
    return True
