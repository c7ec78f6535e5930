"""The air at both ends of a leg as the sums need it, from what was read, told, or derived adversely."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

import numpy as np

from ..documents import Air
from ..documents.air import AltimeterReading, MeasuredWind, Qnh, Sock
from ..documents.oddities import QNH_HIGH, QNH_LOW
from ..sums import air as sums_air
from ..sums.wind import wind_components, windsock_speed
from .answer import message
from .flight import Flight
from .working import Working

ALTIMETER_NEAR = 10.0
#: QNH beyond which a reading is a slip [Pa]; sea-level pressures run from about 940 to 1060 hPa (memory)
QNH_LEAST, QNH_MOST = 94_000.0, 106_000.0


@dataclass(frozen=True)
class WindState:
    """Wind as a band: `low` is sure as headwind, `high` is to be feared as tailwind or crosswind [m/s].

    `high` is inf when a sock stands straight out. `wind_from` [rad, true]; `spread` is gust less steady wind.
    `astray`: nobody told where it comes from, so that it may come from anywhere.
    """

    by: str
    low: float = 0.0
    middle: float = 0.0
    high: float = 0.0
    wind_from: float = 0.0
    spread: float = 0.0
    fullness: float | None = None
    astray: bool = False
    #: an older reading of the same place: the worse of both counts
    older: WindState | None = None

    def along(self, bearing: float, work: Working) -> tuple[float, float]:
        """Headwind (negative: tailwind) to count on, and the crosswind to fear, along `bearing` [m/s].

        nan for a tailwind, inf for a crosswind, that a full sock cannot tell.
        """
        if self.older is not None:
            own = replace(self, older=None).along(bearing, work)
            old = self.older.along(bearing, work)
            return float(np.minimum(own[0], old[0])), max(own[1], old[1])
        if self.by == "assumed":
            return -self.high, 0.0
        if self.astray:
            return -self.high, self.high
        sure = work.step(wind_components, wind_speed=self.low, wind_from=self.wind_from, bearing=bearing)
        if math.isinf(self.high):
            head = float(sure.headwind)
            # a wind within a degree of the runway has no crosswind to speak of, however strong
            straight = abs(math.sin(self.wind_from - bearing)) < math.sin(math.radians(1.0))
            if head < 0:
                return math.nan, 0.0 if straight else math.inf
            return head, 0.0 if straight else math.inf
        feared = work.step(wind_components, wind_speed=self.high, wind_from=self.wind_from, bearing=bearing)
        head = min(float(sure.headwind), float(feared.headwind))
        return head, abs(float(feared.crosswind))


@dataclass(frozen=True)
class AirState:
    """Pressure, temperature, moisture and wind at one end; what is missing is named in `missing`."""

    end: str
    pressure: float = math.nan
    temperature: float = math.nan
    vapour: float | None = None
    wind: WindState | None = None
    elevation: float = math.nan
    at: datetime | None = None
    stale: float | None = None
    missing: tuple[dict[str, Any], ...] = ()
    assumed: tuple[dict[str, Any], ...] = ()
    warnings: tuple[dict[str, Any], ...] = ()
    origin: str = "read"
    #: how far from the time it is for the oldest of it was read [s]
    age: float = 0.0

    @property
    def known(self) -> bool:
        return not self.missing

    def densities(self, vapour: float, work: Working) -> tuple[float, float]:
        """Density that the wing feels and that the engine feels [kg/m³]."""
        values: dict[str, Any] = {
            "pressure": self.pressure,
            "temperature": self.temperature,
            "vapour_pressure": vapour,
        }
        moist = float(work.step(sums_air.air_density, **values))
        return moist, float(work.step(sums_air.dry_air_density, **values))

    def pressure_altitude(self, work: Working) -> float:
        return float(work.step(sums_air.pressure_altitude, pressure=self.pressure))

    def moistures(self, work: Working) -> list[float]:
        """Vapour pressures to answer for [Pa]: the one read, or dry and saturated when none was."""
        if self.vapour is not None:
            return [self.vapour]
        return [0.0, float(work.step(sums_air.vapour_pressure, dew_point=self.temperature))]


def here(flight: Flight, work: Working) -> AirState:
    """The air at the strip of departure, as read. Nothing is assumed but dryness."""
    return _read(flight, flight.air("from"), "from", flight.departure, work)


def as_read(flight: Flight, end: str, work: Working) -> AirState:
    """The air at "from" or "to" as it was read or told, and nothing more."""
    return _read(flight, flight.air(end), end, flight.departure, work)


def there(flight: Flight, first: AirState, arrival: datetime | None, work: Working) -> AirState:
    """The air at the far strip: as given if it is fresh for the arrival, else derived from here adversely.

    A stale reading is no longer held for true, nor forgotten: the worse of it and of what is derived counts.
    """
    given = flight.air("to")
    read = _read(flight, given, "to", arrival or flight.departure, work) if given else None
    if read is not None and read.stale is None and read.known:
        return read
    if read is None or read.stale is None:
        return _derived(flight, first, read, work)
    derived = _derived(flight, first, None, work)
    said = message("assumed.far_stale", strip=flight.strip("to").name, age=read.stale)
    wind = derived.wind
    if read.wind is not None and wind is not None:
        wind = replace(wind, older=read.wind, spread=max(wind.spread, read.wind.spread))
    return replace(
        derived,
        pressure=float(np.fmin(derived.pressure, read.pressure)),
        temperature=float(np.fmax(derived.temperature, read.temperature)),
        wind=wind,
        assumed=(said, *derived.assumed),
        warnings=read.warnings,
    )


def stale_said(flight: Flight, strip: str, air: AirState) -> dict[str, Any]:
    """Why air is too old: by now, or only by departure, when reading it once more now is no help."""
    if air.at is not None:
        now, then = ((one - air.at).total_seconds() for one in (flight.now, flight.departure))
        if 0.0 <= now <= flight.settings.air_age < then:
            hour = flight.departure.strftime("%H:%M")
            return message("reason.air_old_by_then", strip=strip, age=air.stale, hour=hour)
    return message("reason.stale_air", strip=strip, age=air.stale)


def _read(flight: Flight, air: Air | None, end: str, moment: datetime, work: Working) -> AirState:
    strip = flight.strip(end)
    elevation = strip.elevation.value if strip.elevation else math.nan
    if air is None:
        return AirState(end, elevation=elevation, missing=(message("missing.air", strip=strip.name),))
    missing: list[dict[str, Any]] = []
    warnings: list[dict[str, Any]] = []
    pressure, temperature = math.nan, math.nan
    if air.temperature is None:
        missing.append(message("missing.temperature", strip=strip.name))
    else:
        temperature = air.temperature
    if isinstance(air.pressure, AltimeterReading):
        pressure = float(work.step(sums_air.isa_pressure, altitude=air.pressure.pressure_altitude))
        warnings += _altimeter_oddities(air.pressure.pressure_altitude, elevation, strip.name, work)
        missing += _no_such_qnh(_implied(air.pressure.pressure_altitude, elevation), strip.name)
    elif isinstance(air.pressure, Qnh):
        if math.isnan(elevation):
            missing.append(message("missing.elevation", strip=strip.name))
        else:
            altitude = float(
                work.step(sums_air.pressure_altitude_from_qnh, elevation=elevation, qnh=air.pressure.qnh)
            )
            pressure = float(work.step(sums_air.isa_pressure, altitude=altitude))
        if not QNH_LOW <= air.pressure.qnh <= QNH_HIGH:
            warnings.append(message("odd.qnh", qnh=air.pressure.qnh))
        missing += _no_such_qnh(air.pressure.qnh, strip.name)
    else:
        missing.append(message("missing.pressure", strip=strip.name))
    vapour = None
    if air.dew_point is not None and air.temperature is not None:
        if air.dew_point > air.temperature + 0.5:
            warnings.append(message("odd.dew_point", strip=strip.name))
        vapour = float(work.step(sums_air.vapour_pressure, dew_point=min(air.dew_point, air.temperature)))
    wind = _wind(flight, air, end, work)
    if wind is None:
        missing.append(message("missing.wind", strip=strip.name))
    age = abs((moment - air.at).total_seconds())
    if air.wing_wet:
        warnings.append(message("warning.wing_wet", strip=strip.name))
    return AirState(
        end,
        pressure,
        temperature,
        vapour,
        wind,
        elevation,
        air.at,
        age if age > flight.settings.air_age else None,
        tuple(missing),
        _taken(air, wind, strip.name),
        tuple(warnings),
        air.origin,
        age,
    )


def _taken(air: Air, wind: WindState | None, strip: str) -> tuple[dict[str, Any], ...]:
    """What a reading of the wind leaves open, and how it was taken."""
    said = []
    if wind is not None and wind.astray:
        said.append(message("assumed.calm_direction", strip=strip))
    if isinstance(air.wind, Sock) or (isinstance(air.wind, MeasuredWind) and air.wind.gust is None):
        said.append(message("assumed.no_gust", strip=strip))
    return tuple(said)


def _implied(reading: float, elevation: float) -> float:
    """The QNH that a reading of the altimeter on 1013 implies at that elevation [Pa]; nan without one."""
    if math.isnan(elevation):
        return math.nan
    return float(sums_air.qnh_from_pressure_altitude(elevation=elevation, pressure_altitude=reading))


def _no_such_qnh(qnh: float, strip: str) -> list[dict[str, Any]]:
    """A pressure that no day brings is a slip of the finger, and no air to fly in."""
    if math.isnan(qnh) or QNH_LEAST <= qnh <= QNH_MOST:
        return []
    return [message("reason.no_such_qnh", strip=strip, qnh=qnh)]


def _altimeter_oddities(reading: float, elevation: float, strip: str, work: Working) -> list[dict[str, Any]]:
    if math.isnan(elevation):
        return []
    if abs(reading - elevation) <= ALTIMETER_NEAR:
        return [message("odd.altimeter_equals_elevation", strip=strip, reading=reading)]
    qnh = _implied(reading, elevation)
    if not QNH_LOW <= qnh <= QNH_HIGH:
        return [message("odd.altimeter_implies_qnh", strip=strip, reading=reading, qnh=qnh)]
    return []


def _wind(flight: Flight, air: Air, end: str, work: Working) -> WindState | None:
    wind = air.wind
    if wind is None:
        return None
    if wind.by == "calm":
        return WindState("calm")
    bearing = 0.0
    if wind.against is not None:
        bearing = next(d.bearing for d in flight.strip(end).directions if d.id == wind.against)
    wind_from = math.fmod((wind.wind_from or 0.0) + bearing, 2 * math.pi)
    if isinstance(wind, Sock):
        speed = work.step(windsock_speed, fullness=wind.fullness)
        return WindState(
            "sock",
            float(speed.low),
            float(speed.middle),
            float(speed.high),
            wind_from,
            fullness=wind.fullness,
            astray=wind.wind_from is None,
        )
    assert isinstance(wind, MeasuredWind)
    gust = wind.gust if wind.gust is not None else wind.speed
    return WindState("measured", wind.speed, wind.speed, gust, wind_from, gust - wind.speed)


def _derived(flight: Flight, first: AirState, partly: AirState | None, work: Working) -> AirState:
    """Far-strip air from here by standard lapse, hotter, with the owner's figure of tailwind: all said."""
    strip = flight.strip("to")
    elevation = strip.elevation.value if strip.elevation else math.nan
    settings = flight.settings
    missing: list[dict[str, Any]] = []
    assumed: list[dict[str, Any]] = []
    if math.isnan(elevation):
        missing.append(message("missing.elevation", strip=strip.name))
    if math.isnan(first.elevation):
        missing.append(message("missing.elevation", strip=flight.strip("from").name))
    pressure = temperature = math.nan
    vapour = None
    wind = partly.wind if partly is not None else None
    if partly is not None and not math.isnan(partly.pressure):
        pressure = partly.pressure
    elif math.isnan(first.pressure):
        missing.append(message("missing.pressure", strip=strip.name))
    elif not missing:
        altitude = first.pressure_altitude(work) + elevation - first.elevation
        pressure = float(work.step(sums_air.isa_pressure, altitude=altitude))
        assumed.append(message("assumed.far_pressure", strip=strip.name))
    if partly is not None and not math.isnan(partly.temperature):
        temperature, vapour = partly.temperature, partly.vapour
    elif math.isnan(first.temperature):
        missing.append(message("missing.temperature", strip=strip.name))
    elif not missing:
        temperature = first.temperature - sums_air.LAPSE * (elevation - first.elevation) + settings.far_hotter
        assumed.append(message("assumed.far_hotter", strip=strip.name, hotter=settings.far_hotter))
    if wind is None:
        wind = WindState("assumed", high=settings.far_tailwind)
        assumed.append(message("assumed.far_tailwind", strip=strip.name, tailwind=settings.far_tailwind))
        assumed.append(message("assumed.far_crosswind", strip=strip.name))
    return AirState(
        "to",
        pressure,
        temperature,
        vapour,
        wind,
        elevation,
        first.at,
        first.stale,
        tuple(missing),
        (*(partly.assumed if partly is not None else ()), *assumed),
        partly.warnings if partly is not None else (),
        "derived",
        first.age if partly is None else max(first.age, partly.age),
    )


def hotter(state: AirState, step: float) -> AirState:
    """The same air, `step` [K] hotter."""
    return replace(state, temperature=state.temperature + step)
