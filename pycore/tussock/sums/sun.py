"""Sun: rise, noon, set, civil twilight and position, by a library (astral). UTC, sea-level horizon.

Times are seconds since 1970-01-01 00:00 UTC. No table of time zones is needed.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Annotated, NamedTuple

import numpy as np
from astral import Observer, SunDirection
from astral import sun as _library

from ..relation import Number, Quantity, relation
from .places import Latitude, Longitude

_SOURCE = "Meeus, Astronomical Algorithms, in the form of NOAA's solar calculator (astral)"
_DAY = 86400.0
#: Elevation of the sun's centre [deg] that defines the events: refraction 34' and radius 16', and 6 degrees.
_HORIZON, _CIVIL = -0.833, -6.0

Time = Annotated[Number, Quantity("time since 1970-01-01 UTC", "s", -2_208_988_800.0, 4_102_444_800.0)]
Noon = Annotated[Number, Quantity("solar noon", "s")]


class SunTimes(NamedTuple):
    """Civil dawn, sunrise, solar noon, sunset, civil dusk [s since 1970 UTC]; nan where there is none."""

    dawn: Annotated[Number, Quantity("civil dawn", "s")]
    sunrise: Annotated[Number, Quantity("sunrise", "s")]
    noon: Annotated[Number, Quantity("solar noon", "s")]
    sunset: Annotated[Number, Quantity("sunset", "s")]
    dusk: Annotated[Number, Quantity("civil dusk", "s")]


class SunPosition(NamedTuple):
    """Elevation above the horizon [rad], refraction included; azimuth from true north [rad]."""

    elevation: Annotated[Number, Quantity("elevation of the sun", "rad")]
    azimuth: Annotated[Number, Quantity("azimuth of the sun", "rad")]


def _observer(latitude: float, longitude: float) -> Observer:
    if abs(longitude) > 180.0:
        longitude = (longitude + 180.0) % 360.0 - 180.0
    return Observer(latitude, longitude, 0.0)


def _event(observer: Observer, day: date, elevation: float, direction: SunDirection, noon: float) -> float:
    """When the sun passes an elevation [deg] in the half day before or after a noon [s]; nan if it does not.

    The library goes by the UTC date, far from Greenwich not the day of the place: hence three of them.
    """
    rising = direction is SunDirection.RISING
    for shift in (0, -1, 1):
        try:
            # Not `sunrise` and `dusk`, which add refraction to a definition that has it already.
            at = _library.time_at_elevation(
                observer, elevation, day + timedelta(shift), direction, UTC, False
            )
        except ValueError:  # the sun does not reach it on that date
            continue
        moment = at.timestamp()
        if 0 <= (noon - moment if rising else moment - noon) <= _DAY / 2:
            return moment
    return np.nan


def _times(latitude: float, longitude: float, day: date) -> tuple[float, ...]:
    if not (np.isfinite(latitude) and np.isfinite(longitude)):
        return (np.nan,) * 5
    observer = _observer(latitude, longitude)
    noon = _library.noon(observer, day, tzinfo=UTC).timestamp()
    morning = [_event(observer, day, low, SunDirection.RISING, noon) for low in (_CIVIL, _HORIZON)]
    evening = [_event(observer, day, low, SunDirection.SETTING, noon) for low in (_HORIZON, _CIVIL)]
    return (*morning, noon, *evening)


def _position(latitude: float, longitude: float, time: float) -> tuple[float, float]:
    if not np.all(np.isfinite((latitude, longitude, time))):
        return np.nan, np.nan
    observer, moment = _observer(latitude, longitude), datetime.fromtimestamp(time, UTC)
    elevation, azimuth = _library.elevation(observer, moment), _library.azimuth(observer, moment)
    return float(np.radians(elevation)), float(np.radians(azimuth))


# The library takes one place at a time.
_TIMES = np.vectorize(_times, otypes=[float] * 5, excluded={2})
_POSITION = np.vectorize(_position, otypes=[float, float])


@relation("Sunrise, sunset and civil twilight", source=_SOURCE)
def sun_times(latitude: Latitude, longitude: Longitude, day: str) -> SunTimes:
    """Times [s since 1970-01-01 UTC] of the sun at a place [deg] on the ISO date `day`.

    The day is that of the place, by longitude and not by clock.

    The sunrise is the one before that day's solar noon, the sunset the one after it. Sunrise and sunset: the
    centre 0.833 degrees below a level horizon; civil twilight: 6 degrees. Noon may be 30 s out. nan when the
    sun does not pass there, whether it stays up or down (`sun_position` at noon tells which). Raises
    `ValueError` for no date.
    """
    with np.errstate(invalid="ignore"):  # where the library finds no such moment
        times = _TIMES(latitude, longitude, date.fromisoformat(day))
    return SunTimes(*(part[()] for part in times))


@relation("Position of the sun", source=_SOURCE)
def sun_position(latitude: Latitude, longitude: Longitude, time: Time) -> SunPosition:
    """Where the sun stands [rad] at a place [deg] and time [s since 1970-01-01 UTC], 1900 to 2100."""
    return SunPosition(*(part[()] for part in _POSITION(latitude, longitude, time)))


@relation("Solar time", source="By definition: the sun is highest at 12 h")
def solar_time(time: Time, noon: Noon) -> Annotated[Number, Quantity("solar time", "s")]:
    """Time since solar midnight [s], 0 to 24 h, from a time and that day's solar noon [s, same origin]."""
    return np.mod(np.subtract(time, noon) + _DAY / 2, _DAY)
