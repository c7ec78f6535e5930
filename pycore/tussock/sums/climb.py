"""Climbing out: gradients over the ground, what an obstacle asks for, room to turn round.

Gradients are height over distance along the ground [1]. Upwards is positive; sinking air is an allowance,
positive too.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from ..relation import Number, Quantity, relation
from .air import G0
from .shapes import array, number, ratio

_MILE = 1852.0

Rate = Annotated[Number, Quantity("rate of climb", "m/s", -30.0, 30.0)]
Airspeed = Annotated[Number, Quantity("true airspeed", "m/s", 1.0, 150.0)]
GroundSpeed = Annotated[Number, Quantity("ground speed", "m/s", -60.0, 200.0)]
Bank = Annotated[Number, Quantity("angle of bank", "rad", 0.0, np.radians(75.0))]
Gradient = Annotated[Number, Quantity("gradient over the ground", "1", -1.0, 5.0)]
Height = Annotated[Number, Quantity("height", "m", -9000.0, 9000.0)]
Distance = Annotated[Number, Quantity("distance", "m", 0.0, 1e6)]


@relation("Net gradient", source="definition: rate less the sink of the air, over ground speed")
def net_gradient(
    climb_rate: Rate,
    sink_allowance: Annotated[Number, Quantity("allowance for sinking air", "m/s", 0.0, 20.0)],
    ground_speed: GroundSpeed,
) -> Annotated[Number, Quantity("net gradient over the ground", "1")]:
    """Gradient over the ground [1]; nan where the aeroplane does not get ahead over the ground."""
    speed = array(ground_speed)
    return ratio(array(climb_rate) - sink_allowance, np.where(speed > 0.0, speed, np.nan))


@relation("Gradient to clear a height", source="geometry")
def gradient_to_clear(
    height: Height, distance: Distance
) -> Annotated[Number, Quantity("gradient that is needed", "1")]:
    """Gradient [1] that gains `height` [m] in `distance` [m]; inf where there is no distance to do it in.

    Negative where the point to clear lies below.
    """
    height, distance = np.broadcast_arrays(array(height), array(distance))
    there = np.where(height > 0.0, np.inf, np.where(np.isnan(height), np.nan, 0.0))
    there = np.where(np.isnan(distance), np.nan, there)
    return number(np.where(distance > 0.0, ratio(height, distance), there))


@relation("Gradient from height per nautical mile", source="definition of the nautical mile, 1852 m")
def feet_per_mile_gradient(
    height_per_mile: Annotated[Number, Quantity("height gained in a nautical mile", "m", -2000.0, 2000.0)],
) -> Annotated[Number, Quantity("gradient", "1")]:
    """Gradient [1] of so much height [m] in one nautical mile: 200 ft per NM is 3.3 %."""
    return number(array(height_per_mile) / _MILE)


@relation("Rate for a gradient", source="definition: gradient times ground speed")
def rate_for_gradient(
    gradient: Gradient, ground_speed: GroundSpeed
) -> Annotated[Number, Quantity("rate of climb that is needed", "m/s")]:
    """Rate of climb [m/s] that a gradient [1] takes at a ground speed [m/s]; nan unless that is positive."""
    speed = array(ground_speed)
    return number(array(gradient) * np.where(speed > 0.0, speed, np.nan))


@relation("Distance to gain a height", source="geometry")
def distance_to_climb(
    height: Height, gradient: Gradient
) -> Annotated[Number, Quantity("distance along the ground", "m")]:
    """Distance [m] in which a net gradient [1] gains `height` [m]; 0 for none, inf where it never does."""
    height, gradient = np.broadcast_arrays(array(height), array(gradient))
    never = np.where(np.isnan(gradient), np.nan, np.inf)
    climbing = np.where(gradient > 0.0, ratio(height, gradient), never)
    return number(np.where(height <= 0.0, np.where(np.isnan(gradient), np.nan, 0.0), climbing + 0.0 * height))


@relation("Radius of turn", source="level turn: FAA-H-8083-25 (PHAK), ch. 5: V² / (g tan bank)")
def turn_radius(true_airspeed: Airspeed, bank: Bank) -> Annotated[Number, Quantity("radius of turn", "m")]:
    """Radius [m] of a level turn in still air; inf without bank."""
    return ratio(array(true_airspeed) ** 2, G0 * np.tan(array(bank)))


@relation("Room to turn round", source="twice the radius of a level turn, and the drift meanwhile")
def turning_room(
    true_airspeed: Airspeed,
    bank: Bank,
    wind_across: Annotated[Number, Quantity("wind towards the far side", "m/s", -40.0, 40.0)] = 0.0,
) -> Annotated[Number, Quantity("width for a half turn", "m")]:
    """Width [m] that a level half turn takes: 2 V² / (g tan bank), and the drift in the time that it takes.

    `wind_across` [m/s] blows towards the side turned to; from there (negative) it helps: not counted.
    """
    speed = array(true_airspeed)
    radius = array(turn_radius(speed, bank))
    drift = np.maximum(array(wind_across), 0.0) * np.pi * radius / speed
    return number(2.0 * radius + np.where(array(wind_across) > 0.0, drift, 0.0 * array(wind_across)))


@relation("Rate of turn", source="level turn: FAA-H-8083-25 (PHAK), ch. 5: g tan bank / V")
def turn_rate(true_airspeed: Airspeed, bank: Bank) -> Annotated[Number, Quantity("rate of turn", "rad/s")]:
    """Rate of a level turn [rad/s]."""
    return ratio(G0 * np.tan(array(bank)), true_airspeed)


@relation("Book climb between two altitudes", source="straight line between two figures of the book")
def climb_rate_between(
    altitude: Annotated[Number, Quantity("altitude", "m", -1000.0, 11000.0)],
    lower_altitude: Annotated[Number, Quantity("altitude of the lower figure", "m", -1000.0, 11000.0)],
    lower_rate: Rate,
    upper_altitude: Annotated[Number, Quantity("altitude of the upper figure", "m", -1000.0, 11000.0)],
    upper_rate: Rate,
) -> Annotated[Number, Quantity("rate of climb", "m/s")]:
    """Rate of climb [m/s] at an altitude [m] between two for which the book has a rate; nan outside them.

    All altitudes of one kind (pressure or density altitude). A book's ceiling is a figure too: 100 ft/min at
    the service ceiling.
    """
    low, high = array(lower_altitude), array(upper_altitude)
    share = array(ratio(array(altitude) - low, high - low))
    share = np.where((high > low) & (share >= 0.0) & (share <= 1.0), share, np.nan)
    return number(lower_rate + share * (array(upper_rate) - lower_rate))
