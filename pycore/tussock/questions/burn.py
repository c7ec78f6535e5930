"""What a leg burns and how long it takes: taxi, climb, cruise, descent, alternate, contingency, reserve."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from ..documents.performance import CruiseSetting
from ..sums.air import LAPSE, air_density, isa_pressure
from ..sums.places import geodesic
from ..sums.reach import climb_time, flight_time, fuel_used
from ..sums.wind import wind_triangle
from .airs import AirState
from .answer import message
from .climbing import Climb, climbs, deciding, unsaid
from .flight import Flight
from .masses import Masses
from .speeds import Setting
from .tuned_flow import flow_here
from .working import Working

#: least height above the ground in cruise [m]: 500 ft, 14 CFR 91.119(c) (from memory)
LEAST_HEIGHT = 152.4


@dataclass
class Burn:
    """Fuel in [m³], times in [s], distances in [m]; nan where not known, with the reasons in `missing`."""

    parts: dict[str, float] = field(default_factory=dict)
    missing: list[dict[str, Any]] = field(default_factory=list)
    assumed: list[dict[str, Any]] = field(default_factory=list)
    waypoints: list[tuple[str, float]] = field(default_factory=list)
    distance: float = math.nan
    bearing: float = math.nan
    time: float = math.nan
    arrival: datetime | None = None
    cruise_speed: float = math.nan
    ground_speed: float = math.nan
    ground_speed_home: float = math.nan
    flow: float = math.nan
    climb: Climb | None = None
    cruise_climb: Climb | None = None
    wind: tuple[float, float] | None = None
    #: fuel that may be left over because the wind aloft or the descent was taken adversely; nan: all of it
    spared: float = 0.0
    #: what is drunk over what the aeroplane's figures say
    drinks: float = 1.0
    #: the best that may be said, and why
    doubts: list[tuple[str, dict[str, Any]]] = field(default_factory=list)
    #: why there is no "yes" although some source tells the climb
    unsaid: list[dict[str, Any]] = field(default_factory=list)

    @property
    def takeoff(self) -> float:
        """Burnt at take-off."""
        return self.parts.get("taxi", math.nan)

    @property
    def trip(self) -> float:
        """Burnt from take-off to landing."""
        return sum(self.parts.get(name, math.nan) for name in ("climb", "cruise", "descent"))

    @property
    def landing(self) -> float:
        """Burnt at landing."""
        return self.takeoff + self.trip

    @property
    def landing_least(self) -> float:
        """The least that may be burnt at landing: heavy is the adverse side there."""
        return self.takeoff if math.isnan(self.spared) else max(self.landing - self.spared, self.takeoff)

    @property
    def needed(self) -> float:
        """All that must be aboard, reserve and errors included."""
        names = ("taxi", "climb", "cruise", "descent", "contingency", "alternate", "reserve", "dip_error")
        return sum(self.parts.get(name, math.nan) for name in names)


def burn(flight: Flight, masses: Masses, first: AirState, work: Working) -> Burn:
    """Everything that the leg burns. Nothing is zero by default: what is not given is named as missing."""
    found = Burn()
    plane, leg, settings = flight.plane, flight.leg, flight.settings
    figures = plane.fuel
    if figures.taxi_and_run_up is None:
        found.missing.append(message("missing.taxi_fuel"))
    else:
        found.parts["taxi"] = figures.taxi_and_run_up.value
    cruise = _cruise(flight, found)
    legs = _ways(flight, found, work)
    if leg.cruise_altitude is None:
        found.missing.append(message("missing.cruise_altitude"))
    if not masses.known:
        found.missing.append(message("missing.mass"))
    if cruise is None or not legs or leg.cruise_altitude is None or found.missing:
        return found
    assert cruise.speed and cruise.flow
    altitude = leg.cruise_altitude
    if math.isnan(first.temperature) or math.isnan(first.pressure):
        found.missing.append(message("missing.air", strip=flight.strip("from").name))
        return found
    start = first.pressure_altitude(work)
    temperature = first.temperature - LAPSE * (altitude - start)
    if altitude < _lowest(flight, first, start):
        found.missing.append(message("reason.cruise_too_low", altitude=altitude, height=LEAST_HEIGHT))
        return found
    pressure = float(isa_pressure(altitude))
    density = float(air_density(pressure, temperature))
    found.cruise_speed = _true(flight, cruise, pressure, density, work)
    if math.isnan(found.cruise_speed):
        found.missing.append(message("missing.cruise_dial", cruise=cruise.name))
        return found
    if cruise.altitude_low is None or cruise.altitude_high is None:
        found.assumed.append(message("assumed.cruise_range", cruise=cruise.name, altitude=altitude))
    if not _holds(cruise, altitude):
        found.missing.append(message("reason.cruise_altitude_outside", cruise=cruise.name))
        return found
    _drink(flight, cruise, masses, pressure, density, found)
    _climb(flight, masses, first, altitude, temperature, found, work)
    if found.missing:
        return found
    _enroute(flight, cruise, legs, altitude, found, work)
    if found.missing:
        return found
    found.parts["contingency"] = settings.contingency * found.trip
    # it may land as heavy as by the lesser flow
    found.spared += (1.0 - 1.0 / found.drinks) * found.trip
    if figures.dip_error is None:
        found.missing.append(message("missing.dip_error"))
    else:
        found.parts["dip_error"] = figures.dip_error.value
    if settings.reserve is None:
        found.missing.append(message("missing.reserve"))
    else:
        found.parts["reserve"] = float(
            work.step(fuel_used, flow=found.flow, time=settings.reserve.time, label=message("part.reserve"))
        )
    found.arrival = flight.departure + timedelta(seconds=found.time)
    return found


def _drink(
    flight: Flight, cruise: CruiseSetting, masses: Masses, pressure: float, density: float, found: Burn
) -> None:
    """The flow to reckon with: an engine that was noted to drink more in cruise does so in the climb too."""
    assert cruise.flow is not None
    mass = masses.state("takeoff", found.takeoff).mass
    given = {"mass": mass, "pressure": pressure, "density": density, "dry_density": density}
    drunk = flow_here(flight, cruise, given | {"speed": found.cruise_speed})
    found.flow, found.drinks = drunk.flow, drunk.flow / cruise.flow.value
    if drunk.assumed is not None:
        found.assumed.append(drunk.assumed)
    if drunk.limit is not None:
        found.doubts.append(drunk.limit)


def _lowest(flight: Flight, first: AirState, start: float) -> float:
    """The lowest pressure altitude to cruise at [m]: clear of the ground at both ends."""
    far = flight.strip("to").elevation
    offset = 0.0 if math.isnan(first.elevation) else start - first.elevation
    return LEAST_HEIGHT + max([start, *([far.value + offset] if far is not None else [])])


def _cruise(flight: Flight, found: Burn) -> CruiseSetting | None:
    chosen = next((c for c in flight.plane.cruises if c.id == flight.leg.cruise), None)
    if chosen is None:
        found.missing.append(message("missing.cruise"))
    elif chosen.speed is None or chosen.flow is None:
        found.missing.append(message("missing.cruise_figures", cruise=chosen.name))
    else:
        return chosen
    return None


def _holds(cruise: CruiseSetting, altitude: float) -> bool:
    low, high = cruise.altitude_low, cruise.altitude_high
    return (low is None or altitude >= low) and (high is None or altitude <= high)


def _true(flight: Flight, cruise: CruiseSetting, pressure: float, density: float, work: Working) -> float:
    assert cruise.speed is not None
    if cruise.speed_is == "true":
        return cruise.speed.value
    flap = next((f for f in flight.plane.flaps if "cruise" in f.used_for), None)
    if flap is None:
        return math.nan
    setting = Setting(flap, flight.plane, 1.0, pressure, density, work)
    return setting.true(setting.from_indicated(cruise.speed.value))


def _ways(flight: Flight, found: Burn, work: Working) -> list[tuple[str, float, float]]:
    """(name, distance, bearing) of each way between strips and waypoints; empty when a place is not known."""
    stops = [(flight.strip("from").name, flight.strip("from").position)]
    stops += [(point.name, point.position) for point in flight.leg.waypoints]
    stops += [(flight.strip("to").name, flight.strip("to").position)]
    ways = []
    for (_, start), (name, end) in pairwise(stops):
        if start is None or end is None:
            strip = next(n for n, p in stops if p is None)
            found.missing.append(message("missing.position", strip=strip))
            return []
        line = work.step(
            geodesic,
            latitude_from=start.latitude,
            longitude_from=start.longitude,
            latitude_to=end.latitude,
            longitude_to=end.longitude,
            label=message("label.way", to=name),
        )
        ways.append((name, float(line.distance), float(line.bearing)))
    found.distance = sum(way[1] for way in ways)
    found.bearing = ways[0][2]
    return ways


def _climb(
    flight: Flight,
    masses: Masses,
    first: AirState,
    altitude: float,
    temperature: float,
    found: Burn,
    work: Working,
) -> None:
    """Time and fuel of the climb at the mean of the rates at both ends; take-off mass throughout."""
    figures = flight.plane.fuel
    if figures.climb_flow is None:
        found.missing.append(message("missing.climb_flow"))
        return
    quiet = Working(silent=True)
    mass = masses.state("takeoff", found.takeoff).mass
    start = first.pressure_altitude(quiet)
    rise = altitude - start
    flap = flight.flap("from")
    vapour = max(first.moistures(quiet))
    sources = climbs(flight, flap, mass, first.pressure, start, first.temperature, vapour, work)
    low = deciding(sources)
    found.unsaid = [one for one in [unsaid(flight, sources, absent=False)] if one is not None]
    if math.isnan(low.rate):
        found.missing.append(low.reason or message("missing.climb_source"))
        return
    found.climb = low
    if rise <= 0:
        found.parts["climb"] = 0.0
        return
    pressure = float(isa_pressure(altitude))
    sources = climbs(flight, flap, mass, pressure, altitude, temperature, 0.0, work)
    high = deciding(sources)
    found.unsaid += [one for one in [unsaid(flight, sources, absent=False)] if one is not None]
    found.cruise_climb = high
    if math.isnan(high.rate):
        found.missing.append(message("reason.climb_to_cruise", altitude=altitude))
        return
    mean = 0.5 * (low.rate + high.rate) if high.rate > 0 else 0.0
    time = float(work.step(climb_time, height=rise, rate=mean))
    found.parts["climb"] = float(
        work.step(
            fuel_used,
            flow=figures.climb_flow.value * found.drinks,
            time=min(time, 1e9),
            label=message("part.climb"),
        )
    )
    if math.isinf(time):
        found.missing.append(message("reason.never_at_cruise", altitude=altitude))
        return
    found.time = time


def _enroute(
    flight: Flight,
    cruise: CruiseSetting,
    ways: list[tuple[str, float, float]],
    altitude: float,
    found: Burn,
    work: Working,
) -> None:
    """Cruise and descent along the ways in the wind aloft; the climb's way is flown at climb speed."""
    leg, settings, figures = flight.leg, flight.settings, flight.plane.fuel
    assert cruise.flow is not None and found.climb is not None
    wind = (leg.wind_aloft.speed, leg.wind_aloft.wind_from) if leg.wind_aloft else None
    if wind is None:
        found.assumed.append(message("assumed.headwind_aloft", headwind=settings.headwind_aloft))
    found.wind = wind
    climb_seconds = 0.0 if math.isnan(found.time) else found.time
    flown, time, ahead = 0.0, climb_seconds, 0.0
    home = math.inf
    for index, (name, distance, bearing) in enumerate(ways):
        speed = _ground_speed(bearing, found.cruise_speed, wind, settings.headwind_aloft, work)
        climbing = _ground_speed(
            bearing, found.climb.speed, wind, settings.headwind_aloft, Working(silent=True)
        )
        home = min(
            home,
            _ground_speed(
                (bearing + math.pi) % (2 * math.pi),
                found.cruise_speed,
                wind,
                settings.headwind_aloft,
                Working(silent=True),
            ),
        )
        if speed <= 0.0:
            found.missing.append(message("reason.no_way_ahead", to=name))
            return
        if index == 0:
            ahead = min(max(climbing, 0.0) * climb_seconds, distance)
            found.ground_speed = speed
        seconds = float(
            work.step(flight_time, distance=distance - (ahead if index == 0 else 0.0), ground_speed=speed)
        )
        time += seconds
        flown += seconds
        if index < len(ways) - 1:
            found.waypoints.append((name, found.takeoff + found.parts["climb"] + flown * found.flow))
    found.ground_speed_home = home
    if wind is None:
        # as much wind from behind as was taken from ahead
        whole = sum(distance for _, distance, _ in ways)
        climbed = (found.climb.speed + settings.headwind_aloft) * climb_seconds
        least = max(whole - climbed, 0.0) / (found.cruise_speed + settings.headwind_aloft)
        found.spared = max(flown - least, 0.0) * found.flow
    down = flight.strip("to").elevation
    descent = 0.0
    if figures.descent_rate and figures.descent_flow and down:
        descent = min(max(altitude - down.value, 0.0) / figures.descent_rate.value, flown)
    if descent > 0.0 and figures.descent_flow:
        found.parts["descent"] = float(
            work.step(
                fuel_used,
                flow=figures.descent_flow.value * found.drinks,
                time=descent,
                label=message("part.descent"),
            )
        )
    else:
        found.parts["descent"] = 0.0
        if flown > 0.0 and (down is None or down.value < altitude):
            found.assumed.append(message("assumed.descent_as_cruise"))
            found.spared = math.nan
    found.parts["cruise"] = float(
        work.step(fuel_used, flow=found.flow, time=flown - descent, label=message("part.cruise"))
    )
    found.time = time
    _alternate(flight, wind, found, work)


def _ground_speed(
    course: float, speed: float, wind: tuple[float, float] | None, headwind: float, work: Working
) -> float:
    """Ground speed [m/s]; without a wind aloft the owner's figure of headwind is taken off."""
    if wind is None:
        return speed - headwind
    triangle = work.step(
        wind_triangle, course=course, true_airspeed=speed, wind_speed=wind[0], wind_from=wind[1]
    )
    return float(triangle.ground_speed)


def _alternate(flight: Flight, wind: tuple[float, float] | None, found: Burn, work: Working) -> None:
    """Fuel to the alternate, without credit for a tailwind."""
    found.parts["alternate"] = 0.0
    if flight.leg.alternate is None:
        found.assumed.append(message("assumed.no_alternate"))
        return
    other = flight.bundle.by_id[flight.leg.alternate]
    start, end = flight.strip("to").position, getattr(other, "position", None)
    if start is None or end is None:
        found.missing.append(message("missing.position", strip=other.name))
        return
    line = work.step(
        geodesic,
        latitude_from=start.latitude,
        longitude_from=start.longitude,
        latitude_to=end.latitude,
        longitude_to=end.longitude,
        label=message("label.way", to=other.name),
    )
    speed = _ground_speed(float(line.bearing), found.cruise_speed, wind, flight.settings.headwind_aloft, work)
    speed = min(speed, found.cruise_speed)
    time = float(work.step(flight_time, distance=float(line.distance), ground_speed=speed))
    if math.isinf(time):
        found.missing.append(message("reason.no_way_ahead", to=other.name))
        return
    climb = _climb_again(flight, found, work)
    found.parts["alternate"] = climb + float(
        work.step(fuel_used, flow=found.flow, time=time, label=message("part.alternate"))
    )


def _climb_again(flight: Flight, found: Burn, work: Working) -> float:
    """Fuel of a second climb to the cruise altitude, from the far strip [m³]; at cruise, none is deducted."""
    flow, up, ground = flight.plane.fuel.climb_flow, flight.leg.cruise_altitude, flight.strip("to").elevation
    ends = [c.rate for c in (found.climb, found.cruise_climb) if c is not None]
    if flow is None or up is None or ground is None or not ends or min(ends) <= 0.0:
        return 0.0
    time = float(work.step(climb_time, height=max(up - ground.value, 0.0), rate=sum(ends) / len(ends)))
    return float(work.step(fuel_used, flow=flow.value * found.drinks, time=time, label=message("part.climb")))
