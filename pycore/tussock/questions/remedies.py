"""Remedies: for each thing that may change, the smallest that turns an answer, answered again on all six.

Never offered: what keeps people alive (survival kit, water, tie-downs, beacon, first aid, extinguisher, oil),
reserve fuel, more tailwind. A change that makes another answer worse is none.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from ..documents import Air, Bundle, Trip
from ..documents.air import Calm, MeasuredWind, Wind
from ..documents.kit import Rigid
from ..documents.trip import Leg
from ..sums.daycurve import day_temperature_through
from ..sums.sun import solar_time, sun_times
from . import edits as change
from .answer import NO, QUESTIONS, RANK, TIGHT, YES, message
from .asking import LegAnswer, ask
from .edits import Edit
from .flight import Aboard, Flight
from .working import Working

KNOT = 1852 / 3600
LITRE = 1e-3
#: as many things are named in one breath
FEW = 4
MOST_WIND = 25 * KNOT
QUARTER = timedelta(minutes=15)
#: a wind [m/s] not worth telling
LIGHT = 0.1


@dataclass
class Remedy:
    kind: str
    change: dict[str, Any]
    edits: list[Edit]
    after: LegAnswer
    turns: list[str]
    cost: float = 0.0
    notes: list[dict[str, Any]] = field(default_factory=list)

    def as_dict(self) -> dict[str, Any]:
        return {
            "kind": self.kind,
            "change": self.change,
            "edits": self.edits,
            "turns": self.turns,
            "verdict": self.after.verdict,
            "notes": self.notes,
            "answers": [
                {
                    "question": one.question,
                    "verdict": one.verdict,
                    **{k: one.as_dict()[k] for k in ("margin", "unit", "dimension", "needed", "available")},
                }
                for one in self.after.answers
            ],
        }


class Search:
    """One leg, and the changes that are tried on it. Every change is answered once and remembered."""

    def __init__(self, bundle: Bundle, trip: Trip, leg: Leg, now: datetime) -> None:
        self.bundle, self.trip, self.leg, self.now = bundle, trip, leg, now
        self.before = ask(bundle, trip, leg, now, silent=True)
        self.asked = 1
        self._known: dict[Any, LegAnswer] = {}

    def after(self, key: Any, changed: Callable[[], Bundle]) -> LegAnswer:
        """The leg answered again in the bundle that `changed` makes; `key` names the change."""
        if key not in self._known:
            self.asked += 1
            bundle = changed()
            trip = bundle.by_id[self.trip.id]
            assert isinstance(trip, Trip)
            leg = next(leg for leg in trip.legs if leg.id == self.leg.id)
            self._known[key] = ask(bundle, trip, leg, self.now, silent=True)
        return self._known[key]

    def turned(self, after: LegAnswer) -> list[str]:
        """Questions that turn to tight or yes; empty when any verdict is worse than before."""
        before, now = self.before.verdicts, after.verdicts
        if any(RANK[now[q]] < RANK[before[q]] for q in QUESTIONS):
            return []
        return [q for q in QUESTIONS if RANK[now[q]] > RANK[before[q]] and RANK[now[q]] >= RANK[TIGHT]]

    def good(self, after: LegAnswer, question: str, goal: str) -> bool:
        return bool(self.turned(after)) and RANK[after.verdicts[question]] >= RANK[goal]

    def goals(self, question: str) -> list[str]:
        """What is worth trying for: a clear yes first, then tight where it is a no."""
        return [goal for goal in (YES, TIGHT) if RANK[goal] > RANK[self.before.verdicts[question]]]


KINDS = ("mass", "fuel", "hour", "wind", "direction")


def remedies_of(
    bundle: Bundle, trip: Trip, leg: Leg, now: datetime, kinds: tuple[str, ...] = KINDS
) -> dict[str, Any]:
    """All remedies of one leg of some kinds, those that help most first."""
    search = Search(bundle, trip, leg, now)
    ways = {"mass": _mass, "fuel": _fuel, "hour": _hour, "wind": _wind, "direction": _direction}
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


def _bisect(low: int, high: int, good: Callable[[int], bool]) -> int | None:
    """The least whole number in low..high for which `good`, taken to be monotone; None when high is not."""
    if low > high or not good(high):
        return None
    while low < high:
        middle = (low + high) // 2
        if good(middle):
            high = middle
        else:
            low = middle + 1
    return low


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
    single = _bisect(0, len(light_first) - 1, lambda i: good([light_first[i]]))
    if single is not None:
        names = [light_first[single]]
    else:
        worth = {thing.item.id: thing.item.worth for thing in things}
        cheap_first = sorted(weight, key=lambda name: (worth[name], -weight[name]))
        count = _bisect(1, len(cheap_first), lambda n: good(cheap_first[:n]))
        if count is None:
            return
        names = cheap_first[:count]
        for name in sorted(names, key=lambda n: (-worth[n], weight[n])):
            fewer = [other for other in names if other != name]
            if fewer and good(fewer):
                names = fewer
    after = without(names)
    if _harms_other_legs(search, names):
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
        best = _bisect(1, litres, lambda n: search.good(tried(n), question, goal))
    else:
        # less fuel helps until the reserve is touched: the band that is good may end, so look for its start
        limit = _most_to_drain(search, tried, litres)
        best = _bisect(1, limit, lambda n: search.good(tried(n), question, goal)) if limit >= 1 else None
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
        if RANK[tried(middle).verdicts["reaches"]] >= rank:
            low = middle
        else:
            high = middle - 1
    return low


# --- hour ------------------------------------------------------------------------------------------------


def _hour(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    """Another hour of the day, by the day curve through today's reading. Asks about dew when it is early."""
    flight = search.before.flight
    air, strip = flight.air("from"), flight.strip("from")
    if air is None or air.day is None or air.temperature is None or strip.position is None:
        return
    start = flight.departure
    for days in (0, 1):
        day = _day(flight, start + timedelta(days=days))
        if day is None:
            return
        found = _hours_of(search, question, goal, day, start)
        yield from found
        if found:
            return


def _day(flight: Flight, moment: datetime) -> tuple[float, float, float] | None:
    """Sunrise, solar noon and sunset [s since 1970] of the solar day of `moment`; None without a sunrise."""
    place = flight.strip("from").position
    if place is None:
        return None
    solar = moment.astimezone(UTC) + timedelta(hours=place.longitude / 15.0)
    sun = sun_times(place.latitude, place.longitude, solar.date().isoformat())
    found = float(sun.sunrise), float(sun.noon), float(sun.sunset)
    return None if any(math.isnan(one) for one in found) else found


def _hours_of(
    search: Search, question: str, goal: str, day: tuple[float, float, float], start: datetime
) -> list[Remedy]:
    flight = search.before.flight
    air = flight.air("from")
    assert air is not None and air.day is not None and air.temperature is not None
    range_of_day, reading = air.day, air.temperature
    sunrise, noon, sunset = day
    today = _day(flight, air.at)
    if today is None:
        return []
    wind = _wind_then(search.before, air)
    read_at = float(solar_time(air.at.timestamp(), today[1]))

    def tried(moment: datetime) -> tuple[LegAnswer, list[Edit], float]:
        temperature = float(
            day_temperature_through(
                solar_time=float(solar_time(moment.timestamp(), noon)),
                reading_time=read_at,
                reading=reading,
                day_length=sunset - sunrise,
                minimum=range_of_day.minimum,
                maximum=range_of_day.maximum,
            )
        )
        bundle, made = change.depart(search.bundle, search.trip, search.leg, air, moment, temperature, wind)
        return search.after(("hour", moment), lambda: bundle), made, temperature

    first = datetime.fromtimestamp(math.ceil(sunrise / 900) * 900, start.tzinfo)
    slots = int((sunset - first.timestamp()) // 900) + 1
    moments = [first + QUARTER * i for i in range(slots)]
    moments = [m for m in moments if m > search.now and abs(m - start) >= QUARTER]
    good = [m for m in _coarse(moments) if search.good(tried(m)[0], question, goal)]
    if not good:
        return []
    nearest = min(good, key=lambda m: abs(m - start))
    nearest = _refined(moments, nearest, start, lambda m: search.good(tried(m)[0], question, goal))
    after, made, temperature = tried(nearest)
    text = "remedy.earlier" if nearest < start else "remedy.later"
    said = message(
        text, hour=nearest.strftime("%H:%M"), date=nearest.date().isoformat(), temperature=temperature
    )
    notes = [message("remedy.no_headwind_taken" if isinstance(wind, Calm) else "remedy.wind_kept")]
    if nearest.timestamp() < sunrise + 3 * 3600:
        notes.append(message("remedy.ask_dew"))
    cost = abs((nearest - start).total_seconds()) / 600
    return [Remedy("hour", said, made, after, search.turned(after), cost=cost, notes=notes)]


def _wind_then(before: LegAnswer, air: Air) -> Wind | None:
    """The wind of another hour: a forecast stands, a reading keeps all but its headwind.

    That a tailwind or a crosswind will have gone is nothing to promise.
    """
    state, direction = before.first.wind, before.flight.direction("from")
    if air.origin == "forecast" or state is None or direction is None:
        return air.wind
    head, cross = state.along(direction.bearing, Working(silent=True))
    if not math.isfinite(head) or not math.isfinite(cross) or head < 0.0:
        return air.wind
    gust = max(cross, state.spread)
    if gust < LIGHT:
        return Calm(by="calm")
    side = math.copysign(math.pi / 2, math.sin(state.wind_from - direction.bearing))
    return MeasuredWind(
        by="measured",
        speed=gust - state.spread,
        gust=gust,
        wind_from=(direction.bearing + side) % (2 * math.pi),
    )


def _coarse(moments: list[datetime]) -> list[datetime]:
    """Every fourth quarter of an hour, and the last."""
    return moments[::4] + (moments[-1:] if len(moments) % 4 != 1 else [])


def _refined(
    moments: list[datetime], found: datetime, start: datetime, good: Callable[[datetime], bool]
) -> datetime:
    """The quarter nearest to `start`, among the three beside `found` towards it, that is still good."""
    between = [
        m for m in moments if min(found, start) < m < max(found, start) and abs(m - found) < 4 * QUARTER
    ]
    for moment in sorted(between, key=lambda m: abs(m - start)):
        if good(moment):
            return moment
    return found


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

    least = _bisect(1, round(MOST_WIND / KNOT), lambda n: search.good(tried(n), question, goal))
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
