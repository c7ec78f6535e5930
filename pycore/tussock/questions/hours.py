"""The remedy of another hour of the day, by the day curve through today's reading."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta

from ..documents import Air
from ..documents.air import Calm, MeasuredWind, Wind
from ..sums.daycurve import day_temperature_through
from ..sums.sun import solar_time, sun_times
from . import edits as change
from .answer import message
from .asking import LegAnswer
from .edits import Edit
from .flight import Flight
from .search import Remedy, Search
from .working import Working

QUARTER = timedelta(minutes=15)
#: a wind [m/s] not worth telling
LIGHT = 0.1


def hour(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    """Another hour of the day, by the day curve through today's reading. Asks about dew when it is early."""
    flight = search.before.flight
    air, strip = flight.air("from"), flight.strip("from")
    if air is None or air.day is None or air.temperature is None or strip.position is None:
        return
    if search.before.first.stale is not None:
        return  # a day's temperature is not told from a reading that no longer counts
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
