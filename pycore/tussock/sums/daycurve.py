"""Day curve: the temperature of the air through a clear day, from its minimum and maximum.

Times are solar, in seconds since solar midnight. A sine by day, a decay by night.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from ..relation import Number, Quantity, relation

_HOUR, _DAY = 3600.0, 86400.0
#: Parton & Logan, table 1, air at 1.5 m: lag of the maximum, decay at night, lag of the minimum.
_MAXIMUM_LAG, _DECAY, _MINIMUM_LAG = 1.86 * _HOUR, 2.20, -0.17 * _HOUR
_SOURCE = "Parton & Logan, Agricultural Meteorology 23 (1981) 205, table 1 (air at 1.5 m)"

SolarTime = Annotated[Number, Quantity("solar time", "s", 0.0, _DAY)]
DayLength = Annotated[Number, Quantity("length of the day", "s", 4 * _HOUR, 22 * _HOUR)]
Minimum = Annotated[Number, Quantity("minimum of the day", "K", 210.0, 330.0)]
Maximum = Annotated[Number, Quantity("maximum of the day", "K", 210.0, 330.0)]
Reading = Annotated[Number, Quantity("temperature read", "K", 210.0, 330.0)]


def _fraction(solar_time: Number, day_length: Number) -> Number:
    """How far the temperature is from the day's minimum (0) to its maximum (1)."""
    warming = np.mod(solar_time - (_DAY / 2 - day_length / 2 + _MINIMUM_LAG), _DAY)
    to_sunset = day_length - _MINIMUM_LAG
    sine = np.pi / (day_length + 2 * _MAXIMUM_LAG)
    by_night = np.sin(sine * to_sunset) * np.exp(-_DECAY * (warming - to_sunset) / (_DAY - day_length))
    fraction: Number = np.where(warming <= to_sunset, np.sin(sine * warming), by_night)[()]
    return fraction


@relation("Temperature through the day", source=_SOURCE)
def day_temperature(
    solar_hour: SolarTime, day_length: DayLength, minimum: Minimum, maximum: Maximum
) -> Annotated[Number, Quantity("temperature", "K")]:
    """Temperature [K] at a solar time [s] of a day of that length [s] between a minimum and a maximum [K].

    The minimum falls 10 min before sunrise, the maximum 1.69 h after noon. The night before is taken to be
    like the night after. nan where the maximum is below the minimum.
    """
    span = np.subtract(maximum, minimum)
    return minimum + np.where(span >= 0, span, np.nan)[()] * _fraction(solar_hour, day_length)


@relation(
    "Temperature through a day with a reading", source=f"{_SOURCE}, shifted to pass through the reading"
)
def day_temperature_through(
    solar_time: SolarTime,
    reading_time: SolarTime,
    reading: Reading,
    day_length: DayLength,
    minimum: Minimum,
    maximum: Maximum,
) -> Annotated[Number, Quantity("temperature", "K")]:
    """Temperature [K] at a solar time [s], the whole curve shifted so that it passes through today's reading.

    Only the difference of minimum and maximum matters then. Arguments as for `day_temperature`.
    """
    read = day_temperature(reading_time, day_length, minimum, maximum)
    shifted: Number = reading + (day_temperature(solar_time, day_length, minimum, maximum) - read)
    return shifted
