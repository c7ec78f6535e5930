"""Remedies: for each thing that may change, the smallest that turns an answer, answered again on all six.

Never offered: what keeps people alive (survival kit, water, tie-downs, beacon, first aid, extinguisher, oil),
reserve fuel, more tailwind. A change that makes another answer worse is none.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from itertools import chain
from typing import Any

from ..documents import Bundle, Trip
from ..documents.air import MeasuredWind
from ..documents.trip import Leg
from . import edits as change
from .answer import CANT_SAY, NO, QUESTIONS, RANK, TIGHT, message
from .asking import LegAnswer
from .edits import Edit
from .hours import hour
from .leaving import leave, move, take_out
from .search import Remedy, Search, bisect

KNOT = 1852 / 3600
LITRE = 1e-3
MOST_WIND = 25 * KNOT
#: ways to leave things that come to the same
FEW = 2
KINDS = ("mass", "move", "fuel", "hour", "wind", "direction")


def remedies_of(
    bundle: Bundle, trip: Trip, leg: Leg, now: datetime, kinds: tuple[str, ...] = KINDS
) -> dict[str, Any]:
    """All remedies of one leg of some kinds, those that help most first."""
    search = Search(bundle, trip, leg, now)
    ways: dict[str, Callable[[Search, str, str], Iterable[Remedy]]] = {
        "mass": leave,
        "move": lambda *one: chain(take_out(*one), move(*one)),
        "fuel": _fuel,
        "hour": hour,
        "wind": _wind,
        "direction": _direction,
    }
    found: list[Remedy] = []
    for kind in kinds:
        for question in QUESTIONS:
            if search.before.verdicts[question] not in (NO, TIGHT):
                continue
            for goal in search.goals(question):
                batch = list(ways[kind](search, question, goal))
                found += batch
                # to "yes" much more may have to stay than to "tight": both are told
                if batch and kind != "mass":
                    break
    unique: dict[str, Remedy] = {}
    for one in found:
        unique.setdefault(repr((one.kind, one.change)), one)
    order = sorted(unique.values(), key=lambda one: (-RANK[one.after.verdict], one.cost, -len(one.turns)))
    told = [one.as_dict() for one in _few(order)]
    return {"leg": leg.id, "remedies": told, "asked": search.asked}


def _few(order: list[Remedy]) -> list[Remedy]:
    """Of things to leave: none that costs more and does less than another, and no more than `FEW` alike."""
    leaving = [one for one in order if one.kind == "mass"]
    alike: dict[tuple[str, ...], int] = {}
    kept = []
    for one in order:
        if one.kind == "mass":
            if any(other.cost < one.cost and _does_more(other, one) for other in leaving):
                continue
            key = (one.after.verdict, *one.turns)
            alike[key] = alike.get(key, 0) + 1
            if alike[key] > FEW:
                continue
        kept.append(one)
    return kept


def _does_more(other: Remedy, one: Remedy) -> bool:
    better, worse = other.after.verdicts, one.after.verdicts
    return better != worse and all(RANK[better[q]] >= RANK[worse[q]] for q in QUESTIONS)


# --- fuel ------------------------------------------------------------------------------------------------


def _fuel(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    tanks = search.before.masses.tanks
    if search.before.masses.missing or not tanks:
        return
    if question != "reaches" and search.before.verdicts["reaches"] in (NO, CANT_SAY):
        return  # there is no fuel to give away
    total = sum(tanks.values())
    usable = {t.id: t.usable.value for t in search.before.flight.tanks if t.usable}
    more = question == "reaches"
    span = (sum(usable.values()) - total) if more else total
    litres = math.floor(span / LITRE + 1e-9)

    def volumes(step: int) -> dict[str, float]:
        if more:
            room = {t: usable.get(t, v) - v for t, v in tanks.items()}
            share = step * LITRE / sum(room.values())
            return {t: min(tanks[t] + share * room[t], usable.get(t, tanks[t])) for t in tanks}
        share = step * LITRE / total
        return {t: v * (1.0 - share) for t, v in tanks.items()}

    def tried(step: int) -> LegAnswer:
        key = ("fuel", more, step)
        return search.after(
            key, lambda: change.refuel(search.bundle, search.trip, search.leg, volumes(step))[0]
        )

    best = None
    if more:
        best = bisect(1, litres, lambda n: search.good(tried(n), question, goal))
    else:
        # less fuel helps until the reserve is touched: the band that is good may end, so look for its start
        limit = _most_to_drain(search, tried, litres)
        best = bisect(1, limit, lambda n: search.good(tried(n), question, goal)) if limit >= 1 else None
    if best is None:
        return
    _, made = change.refuel(search.bundle, search.trip, search.leg, volumes(best))
    after = tried(best)
    text = "remedy.more_fuel" if more else "remedy.less_fuel"
    said = message(text, volume=best * LITRE, left=sum(volumes(best).values()))
    notes = []
    if more and not search.before.flight.strip("from").fuel:
        notes.append(message("remedy.no_fuel_here", strip=search.before.flight.strip("from").name))
    yield Remedy("fuel", said, made, after, search.turned(after), cost=best * 0.72, notes=notes)


def _most_to_drain(search: Search, tried: Callable[[int], LegAnswer], litres: int) -> int:
    """The most litres that may go before *reaches* gets worse than it is."""
    rank = RANK[search.before.verdicts["reaches"]]
    low, high = 0, litres
    while low < high:
        middle = (low + high + 1) // 2
        left = tried(middle)
        if RANK[left.verdicts["reaches"]] >= rank and left.burnt.needed <= left.masses.fuel:
            low = middle
        else:
            high = middle - 1
    return low


# --- wind and direction ----------------------------------------------------------------------------------


def _wind(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    """How much headwind would do. Nobody can choose it: the remedy is to wait for it."""
    end = {"lifts_off": "from", "climbs_out": "from", "stops": "to"}.get(question)
    if end is None:
        return
    flight = search.before.flight
    air, direction = flight.air(end), flight.direction(end)
    if air is None or direction is None:
        return

    def tried(knots: int) -> LegAnswer:
        wind = MeasuredWind(by="measured", speed=knots * KNOT, wind_from=direction.bearing)
        return search.after(("wind", end, knots), lambda: change.blow(search.bundle, air, wind))

    least = bisect(1, round(MOST_WIND / KNOT), lambda n: search.good(tried(n), question, goal))
    if least is None:
        return
    after = tried(least)
    said = message("remedy.wait_for_wind", headwind=least * KNOT, designator=direction.designator)
    yield Remedy("wind", said, [], after, search.turned(after), cost=50.0 + least)


def _direction(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    end = {"lifts_off": "from", "climbs_out": "from", "stops": "to"}.get(question)
    if end is None:
        return
    flight = search.before.flight
    name = "takeoff_direction" if end == "from" else "landing_direction"
    use = "takeoff" if end == "from" else "landing"
    present = flight.direction(end)

    def tried(direction: str) -> tuple[LegAnswer, list[Edit]]:
        bundle, made = change.turn(search.bundle, search.trip, search.leg, name, direction)
        return search.after((name, direction), lambda: bundle), made

    for other in flight.strip(end).directions:
        if present is not None and other.id == present.id:
            continue
        if other.use not in ("both", use):
            continue
        after, made = tried(other.id)
        if search.good(after, question, goal):
            said = message(
                f"remedy.{use}_direction", designator=other.designator, strip=flight.strip(end).name
            )
            yield Remedy("direction", said, made, after, search.turned(after))
