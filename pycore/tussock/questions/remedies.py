"""Remedies: for each thing that may change, the smallest that turns an answer, answered again on all six.

Never offered: what keeps people alive (survival kit, water, tie-downs, beacon, first aid, extinguisher, oil),
reserve fuel, more tailwind. A change that makes another answer worse is none.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Any

from ..documents import Bundle, Trip
from ..documents.air import MeasuredWind
from ..documents.kit import Rigid
from ..documents.trip import Leg
from . import edits as change
from .answer import CANT_SAY, NO, QUESTIONS, RANK, TIGHT, message
from .asking import LegAnswer, ask
from .edits import Edit
from .flight import Aboard
from .hours import hour
from .search import Remedy, Search, bisect

KNOT = 1852 / 3600
LITRE = 1e-3
#: as many things are named in one breath
FEW = 4
#: nobody repacks more than that at the strip
MOST = 8
MOST_WIND = 25 * KNOT
KINDS = ("mass", "fuel", "hour", "wind", "direction")


def remedies_of(
    bundle: Bundle, trip: Trip, leg: Leg, now: datetime, kinds: tuple[str, ...] = KINDS
) -> dict[str, Any]:
    """All remedies of one leg of some kinds, those that help most first."""
    search = Search(bundle, trip, leg, now)
    ways = {"mass": _mass, "fuel": _fuel, "hour": hour, "wind": _wind, "direction": _direction}
    found: list[Remedy] = []
    for kind in kinds:
        for question in QUESTIONS:
            if search.before.verdicts[question] not in (NO, TIGHT):
                continue
            for goal in search.goals(question):
                batch = list(ways[kind](search, question, goal))
                found += batch
                if batch:
                    break
    unique: dict[str, Remedy] = {}
    for one in found:
        unique.setdefault(repr((one.kind, one.change)), one)
    order = sorted(unique.values(), key=lambda one: (-RANK[one.after.verdict], -len(one.turns), one.cost))
    return {"leg": leg.id, "remedies": [one.as_dict() for one in order], "asked": search.asked}


# --- mass: which bag to leave ----------------------------------------------------------------------------


def _mass(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    if question == "reaches":
        return
    things = [
        thing
        for thing in search.before.flight.aboard
        if thing.item.role == "general" and not thing.item.must_come and thing.mass is not None
    ]
    if not things:
        return
    weight = {thing.item.id: _bulk(thing) if question == "fits" else thing.mass or 0.0 for thing in things}

    def without(names: list[str]) -> LegAnswer:
        key = ("leave", *sorted(names))
        return search.after(key, lambda: change.leave(search.bundle, search.trip, search.leg, names)[0])

    def good(names: list[str]) -> bool:
        return search.good(without(names), question, goal)

    light_first = sorted(weight, key=lambda name: (weight[name], name))
    single = bisect(0, len(light_first) - 1, lambda i: good([light_first[i]]))
    if single is not None:
        names = [light_first[single]]
    else:
        worth = {thing.item.id: thing.item.worth for thing in things}
        cheap_first = sorted(weight, key=lambda name: (worth[name], -weight[name]))
        count = bisect(1, len(cheap_first), lambda n: good(cheap_first[:n]))
        if count is None:
            return
        names = cheap_first[:count]
        for name in sorted(names, key=lambda n: (-worth[n], weight[n])):
            fewer = [other for other in names if other != name]
            if fewer and good(fewer):
                names = fewer
    after = without(names)
    if len(names) > MOST or _harms_other_legs(search, names):
        return
    by_id = {thing.item.id: thing for thing in things}
    total = sum(by_id[name].mass or 0.0 for name in names)
    said = message(
        "remedy.leave" if len(names) <= FEW else "remedy.leave_many",
        items=", ".join(by_id[name].item.name for name in names),
        mass=total,
        count=len(names),
    )
    made = change.leave(search.bundle, search.trip, search.leg, names)[1]
    yield Remedy("mass", said, made, after, search.turned(after), cost=total)


def _bulk(thing: Aboard) -> float:
    size = thing.item.size
    if size is None:
        return 0.0
    if isinstance(size, Rigid):
        return float(size.length.value * size.width.value * size.height.value)
    return float(size.volume.value * (1.0 - size.crush))


def _harms_other_legs(search: Search, names: list[str]) -> bool:
    """Whether another leg with the same load would be answered worse."""
    bundle, _ = change.leave(search.bundle, search.trip, search.leg, names)
    trip = bundle.by_id[search.trip.id]
    assert isinstance(trip, Trip)
    for leg in search.trip.legs:
        if leg.id == search.leg.id or leg.load != search.leg.load:
            continue
        before = ask(search.bundle, search.trip, leg, search.now, silent=True).verdict
        after = ask(bundle, trip, leg, search.now, silent=True).verdict
        if RANK[after] < RANK[before]:
            return True
    return False


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
