"""What a flight's own documents say for an entry in the notebook: mass, air as it was read, ground.

Only what was read or told counts: a forecast, and air that answers derive adversely for the far strip, are
no measurement and stay out. The headwind is the likely one, not the lull that an answer counts on.
"""

from __future__ import annotations

import math
from datetime import datetime
from typing import Any

from ..documents import Bundle, Strip, Trip
from ..documents.strip import Direction
from ..documents.trip import Leg
from ..sums.wind import wind_components
from .airs import AirState, as_read
from .answer import plain
from .asking import ask
from .flight import Flight
from .working import Working

#: With which direction of the strip a walk may be meant [rad].
ALONG = math.radians(30.0)


def noted(bundle: Bundle, trip: Trip, leg: Leg, now: datetime) -> dict[str, Any]:
    """By "takeoff" and "landing" of the leg: the fields of an entry that are known, SI."""
    asked = ask(bundle, trip, leg, now, silent=True)
    flight = asked.flight
    return {
        "takeoff": _at(flight, "from", asked.takeoff_mass),
        "landing": _at(flight, "to", asked.landing_mass),
    }


def _at(flight: Flight, end: str, mass: float) -> dict[str, Any]:
    work = Working(silent=True)
    strip, direction = flight.strip(end), flight.direction(end)
    given = flight.air(end)
    air = as_read(flight, end, work) if given and given.origin != "forecast" else None
    altitude = air.pressure_altitude(work) if air and not math.isnan(air.pressure) else math.nan
    state = strip.ground.state
    found = {
        "mass": plain(mass),
        "pressure_altitude": plain(altitude),
        "temperature": plain(air.temperature) if air else None,
        "headwind": plain(_headwind(air, direction)),
        "slope": plain(_slope(strip, direction)),
        "surface": state.surface if state else None,
        "strip": strip.id,
        "direction": direction.id if direction else None,
        "flap": flight.leg.takeoff_flap if end == "from" else flight.leg.landing_flap,
        "configuration": flight.configuration.id,
        "air_at": air.at.isoformat() if air and air.at else None,
    }
    return {name: value for name, value in found.items() if value is not None}


def _headwind(air: AirState | None, direction: Direction | None) -> float:
    """The likely headwind [m/s]; nan where a sock stands straight out or nobody told whence it comes."""
    wind = air.wind if air else None
    if wind is None or direction is None or wind.astray or wind.by == "assumed" or math.isinf(wind.high):
        return math.nan
    found = wind_components(wind_speed=wind.middle, wind_from=wind.wind_from, bearing=direction.bearing)
    return float(found.headwind)


def _slope(strip: Strip, direction: Direction | None) -> float:
    """The mean slope of the ground in that direction; nan where it is not known."""
    segments = strip.ground.segments
    if not segments or direction is None:
        return math.nan
    mean = sum(one.length * one.slope for one in segments) / sum(one.length for one in segments)
    return mean if direction.along == "forward" else -mean


def walked_way(strip: Strip, bearing: float) -> int:
    """1 where a walk along `bearing` [rad] met the segments in order, -1 in reverse, 0: not along it."""
    for direction in strip.directions:
        off = abs((direction.bearing - bearing + math.pi) % (2.0 * math.pi) - math.pi)
        if off < ALONG:
            return 1 if direction.along == "forward" else -1
    return 0
