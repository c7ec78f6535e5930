"""Reaches? Fuel and daylight against the leg and its reserves, and whether the cruise altitude is reached."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import Any

from ..documents import Strip
from ..sums.reach import endurance, equal_time_point, point_of_no_return, still_air_range
from ..sums.sun import SunTimes, sun_times
from .airs import AirState, stale_said
from .answer import CANT_SAY, NO, Answer, Measure, cant_say, measure, message, plain
from .burn import Burn
from .flight import Flight
from .lowered import add_lowered
from .masses import Masses
from .working import Working

#: rate left at the service ceiling: 100 ft/min
LEAST_RATE = 0.508
NEVER = ("reason.no_way_ahead", "reason.never_at_cruise", "reason.cruise_too_low")
PARTS = ("taxi", "climb", "cruise", "descent", "contingency", "alternate", "reserve", "dip_error")
VAPOUR_LOCK_TEMPERATURE, VAPOUR_LOCK_ALTITUDE = 303.15, 2400.0


def reaches(flight: Flight, masses: Masses, burn: Burn, air: AirState, work: Working) -> Answer:
    answer = Answer("reaches")
    answer.assumptions += burn.assumed
    tanks = masses.tanks
    lacking = [m for m in masses.missing if m["text"] in ("missing.fuel", "missing.tanks")]
    fuel = sum(tanks.values()) if not lacking else math.nan
    for reason in lacking:
        answer.measures.append(cant_say("fuel", "m³", "volume", reason))
    for tank in flight.tanks:
        if tank.usable is None:
            reason = message("missing.usable", tank=tank.name)
            answer.measures.append(cant_say("fuel", "m³", "volume", reason))
    _fuel(answer, flight, burn, fuel)
    for reason in burn.unsaid:
        answer.limit(CANT_SAY, reason)
    for cap, reason in burn.doubts:
        answer.limit(cap, reason)
    _grade(answer, flight, burn, air)
    _altitude(answer, flight, burn)
    daylight = _daylight(answer, flight, burn, work)
    add_lowered(answer, flight, air)
    answer.notes += [message("text", text=text) for text in flight.quirks("reaches")]
    if not work.silent:
        answer.picture = _picture(flight, burn, fuel, daylight, work)
    answer.working = work.steps
    if air.stale is not None:
        answer.limit(CANT_SAY, stale_said(flight, flight.strip("from").name, air))
    return answer


def _picture(
    flight: Flight, burn: Burn, fuel: float, daylight: dict[str, Any] | None, work: Working
) -> dict[str, Any]:
    return {
        "fuel": _stack(burn, fuel),
        "usable": sum(t.usable.value for t in flight.tanks if t.usable),
        "aboard": plain(fuel),
        "distance": plain(burn.distance),
        "bearing": plain(burn.bearing),
        "daylight": daylight,
        "range": _range(flight, burn, fuel, work),
    }


def _fuel(answer: Answer, flight: Flight, burn: Burn, fuel: float) -> None:
    if burn.missing:
        for reason in burn.missing:
            # a climb that never gets there, a cruise too low, a wind that lets nobody ahead: plainly "no"
            never = reason["text"] in NEVER
            part = cant_say("fuel", "m³", "volume", reason, available=plain(fuel))
            if never:
                part.verdict = NO
            answer.measures.append(part)
        return
    if math.isnan(fuel):
        return
    tight = flight.settings.tight.fuel_time * burn.flow
    part = measure("fuel", burn.needed, fuel, "m³", "volume", tight_below=tight)
    part.values = {"reserve": flight.settings.reserve.rule if flight.settings.reserve else ""}
    if part.verdict == NO:
        minutes = (burn.needed - fuel) / burn.flow
        part.reason = message("reason.fuel_short", short=burn.needed - fuel, time=minutes, **part.values)
    answer.measures.append(part)


def _grade(answer: Answer, flight: Flight, burn: Burn, air: AirState) -> None:
    """The grade must be one that the engine takes; mogas, hot and high, may boil."""
    grades, used = flight.plane.engine.grades, flight.leg.fuel_grade
    if not grades:
        answer.measures.append(cant_say("grade", "1", "count", message("missing.grades")))
    if used is None and "mogas" in grades:
        used = "mogas"
    if used is not None and grades and used not in grades:
        reason = message("reason.wrong_grade", grade=message(f"grade.{used}"))
        answer.measures.append(Measure("grade", None, None, "1", "count", NO, {}, reason))
    if used == "mogas":
        high = flight.leg.cruise_altitude is not None and flight.leg.cruise_altitude > VAPOUR_LOCK_ALTITUDE
        if high or air.temperature > VAPOUR_LOCK_TEMPERATURE:
            answer.notes.append(message("warning.vapour_lock"))


def _altitude(answer: Answer, flight: Flight, burn: Burn) -> None:
    """The cruise altitude must leave 100 ft/min of climb, by the worse source."""
    if burn.cruise_climb is None:
        return
    rate, altitude = burn.cruise_climb.rate, flight.leg.cruise_altitude
    values = {"altitude": altitude}
    if math.isnan(rate):
        return  # named as missing by the burn already
    part = measure(
        "cruise_climb", LEAST_RATE, rate, "m/s", "vertical speed", tight_below=LEAST_RATE, values=values
    )
    if part.verdict == NO:
        part.reason = message("reason.above_ceiling", **values)
    answer.measures.append(part)


# --- daylight --------------------------------------------------------------------------------------------


def _daylight(answer: Answer, flight: Flight, burn: Burn, work: Working) -> dict[str, Any] | None:
    """Landing before dark: some time before sunset, or before a ridge takes the sun; departure after dawn."""
    far, near = flight.strip("to"), flight.strip("from")
    if far.position is None or near.position is None:
        return None  # the burn names the position as missing
    if flight.leg.departure is None:
        answer.assume("assumed.departs_now")
    departure = flight.departure
    if burn.arrival is None:
        answer.measures.append(cant_say("daylight", "s", "time", message("missing.arrival")))
        return None
    there = _sun(far, burn.arrival, work)
    here = _sun(near, departure, work)
    # the first sunset there after departure: nobody flies through a night to land in another day's light
    before = _sun(far, departure, work)
    if departure.timestamp() <= float(before.sunset) < float(there.sunset):
        there = before
    if math.isnan(float(there.sunset)) or math.isnan(float(here.sunrise)):
        answer.measures.append(cant_say("daylight", "s", "time", message("reason.no_sunset", strip=far.name)))
        return None
    sunset = float(there.sunset)
    latest = sunset - flight.settings.before_sunset
    shadow = far.ridge_shadow.before_sunset if far.ridge_shadow else None
    if shadow is None:
        answer.assume("assumed.no_ridge_shadow", strip=far.name)
    else:
        latest = min(latest, sunset - shadow.value)
        answer.assume("assumed.ridge_shadow", strip=far.name, before=shadow.value)
    start = departure.timestamp()
    values = {"strip": far.name}
    part = measure(
        "daylight",
        burn.time,
        max(latest - start, 0.0),
        "s",
        "time",
        tight_below=flight.settings.tight.daylight,
        values=values,
    )
    if part.verdict == NO:
        part.reason = message("reason.dark", late=start + burn.time - latest, **values)
    answer.measures.append(part)
    if burn.arrival.timestamp() < float(there.dawn):
        reason = message("reason.dark_on_the_way", strip=far.name)
        answer.measures.append(Measure("arrival_light", None, None, "s", "time", NO, values, reason))
    earliest = float(here.dawn)
    if start < earliest or start > float(here.dusk):
        reason = message("reason.departs_in_the_dark", strip=near.name)
        answer.measures.append(Measure("departure_light", None, None, "s", "time", NO, values, reason))
    return {
        "departure": departure.isoformat(),
        "arrival": burn.arrival.isoformat(),
        "latest": _iso(latest, departure),
        "sunset": _iso(sunset, departure),
        "sunrise": _iso(float(here.sunrise), departure),
    }


def _sun(strip: Strip, moment: datetime, work: Working) -> SunTimes:
    """Sun of the solar day at the strip in which `moment` lies."""
    assert strip.position is not None
    solar = moment.astimezone(UTC) + timedelta(hours=strip.position.longitude / 15.0)
    times: SunTimes = work.step(
        sun_times,
        latitude=strip.position.latitude,
        longitude=strip.position.longitude,
        day=solar.date().isoformat(),
        label=message("label.sun", strip=strip.name),
    )
    return times


def _iso(seconds: float, like: datetime) -> str:
    return datetime.fromtimestamp(seconds, like.tzinfo).isoformat(timespec="seconds")


# --- picture ---------------------------------------------------------------------------------------------


def _stack(burn: Burn, fuel: float) -> list[dict[str, Any]]:
    found = [{"part": name, "volume": plain(burn.parts.get(name, math.nan))} for name in PARTS]
    spare = math.nan if burn.missing else fuel - burn.needed
    return [*found, {"part": "spare", "volume": plain(spare)}]


def _range(flight: Flight, burn: Burn, fuel: float, work: Working) -> dict[str, Any] | None:
    """Endurance, range, point of no return and equal-time point, to the reserve."""
    if burn.missing or math.isnan(fuel) or flight.settings.reserve is None:
        return None
    usable = fuel - burn.takeoff
    lasting = float(
        work.step(endurance, fuel=usable, flow=burn.flow, reserve_time=flight.settings.reserve.time)
    )
    still = float(
        work.step(
            still_air_range,
            fuel=usable,
            flow=burn.flow,
            true_airspeed=burn.cruise_speed,
            reserve_time=flight.settings.reserve.time,
        )
    )
    out: dict[str, Any] = {"ground_speed_home": burn.ground_speed_home}
    back = work.step(point_of_no_return, endurance=lasting, ground_speed_out=burn.ground_speed, **out)
    equal = work.step(equal_time_point, distance=burn.distance, ground_speed_on=burn.ground_speed, **out)
    return {
        "endurance": plain(lasting),
        "still_air_range": plain(still),
        "point_of_no_return": plain(back.distance),
        "equal_time_point": plain(equal.distance),
        "ground_speed": plain(burn.ground_speed),
    }
