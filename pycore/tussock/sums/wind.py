"""Wind: components along and across a direction, the wind triangle, the windsock.

Angles are in radians clockwise from north. The wind's direction is the one it comes FROM.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np

from ..relation import Number, Quantity, relation

_KNOT = 1852.0 / 3600.0
#: The speed at which a standard sock stands straight out, and how far a part-full one can be misread.
_FULL, _BAND = 15.0 * _KNOT, 5.0 * _KNOT
_TURN = 2.0 * np.pi

WindSpeed = Annotated[Number, Quantity("wind speed", "m/s", 0.0, 100.0)]
WindFrom = Annotated[Number, Quantity("wind from", "rad", -_TURN, _TURN)]
Bearing = Annotated[Number, Quantity("bearing", "rad", -_TURN, _TURN)]
Course = Annotated[Number, Quantity("course", "rad", -_TURN, _TURN)]
Heading = Annotated[Number, Quantity("heading", "rad", -_TURN, _TURN)]
TrueAirspeed = Annotated[Number, Quantity("true airspeed", "m/s", 0.0, 330.0)]


class WindComponents(NamedTuple):
    """Headwind [m/s], negative for a tailwind; crosswind [m/s], positive from the right."""

    headwind: Annotated[Number, Quantity("headwind", "m/s")]
    crosswind: Annotated[Number, Quantity("crosswind from the right", "m/s")]


class WindTriangle(NamedTuple):
    """Correction [rad], positive right; heading [rad], 0 to 2 pi; ground speed [m/s] along the course."""

    wind_correction: Annotated[Number, Quantity("wind correction", "rad")]
    heading: Annotated[Number, Quantity("heading", "rad")]
    ground_speed: Annotated[Number, Quantity("ground speed", "m/s")]


class Track(NamedTuple):
    """Track [rad], 0 to 2 pi; ground speed [m/s]; drift [rad], positive to the right."""

    track: Annotated[Number, Quantity("track", "rad")]
    ground_speed: Annotated[Number, Quantity("ground speed", "m/s")]
    drift: Annotated[Number, Quantity("drift", "rad")]


class SockSpeed(NamedTuple):
    """The least, likely and greatest wind [m/s] that a sock may mean; greatest is inf when it is full."""

    low: Annotated[Number, Quantity("least wind", "m/s")]
    middle: Annotated[Number, Quantity("likely wind", "m/s")]
    high: Annotated[Number, Quantity("greatest wind", "m/s")]


def _around(angle: Number) -> Number:
    """The same direction from 0 up to, not including, a full turn."""
    turned = np.mod(angle, _TURN)
    return np.where(turned >= _TURN, 0.0, turned)[()]


@relation("Headwind and crosswind", source="FAA-H-8083-25, ch. 11: cosine and sine of the angle between")
def wind_components(wind_speed: WindSpeed, wind_from: WindFrom, bearing: Bearing) -> WindComponents:
    """Components of a wind [m/s, rad it comes from] for motion along a bearing [rad]."""
    angle = np.subtract(wind_from, bearing)
    return WindComponents(wind_speed * np.cos(angle), wind_speed * np.sin(angle))


@relation("Wind triangle", source="Plane vectors; FAA-H-8083-25, ch. 16")
def wind_triangle(
    course: Course, true_airspeed: TrueAirspeed, wind_speed: WindSpeed, wind_from: WindFrom
) -> WindTriangle:
    """Heading that holds a course [rad] at a true airspeed [m/s] in a wind, and the ground speed left.

    The ground speed is negative when the headwind is stronger than the aeroplane. Where the crosswind is too
    strong for any heading: nan, nan and a ground speed of 0.
    """
    angle = np.subtract(wind_from, course)
    across = wind_speed * np.sin(angle)
    held = (np.abs(across) <= true_airspeed) & (np.asarray(true_airspeed) > 0)
    sine = np.where(held, across, np.nan) / np.where(held, true_airspeed, 1.0)
    correction = np.arcsin(sine)[()]
    along = true_airspeed * np.cos(correction) - wind_speed * np.cos(angle)
    missing = np.isnan(angle) | np.isnan(across) | np.isnan(true_airspeed)
    ground_speed = np.where(held, along, np.where(missing, np.nan, 0.0))[()]
    return WindTriangle(correction, _around(course + correction), ground_speed)


@relation("Track from heading", source="Plane vectors; FAA-H-8083-25, ch. 16")
def track_from_heading(
    heading: Heading, true_airspeed: TrueAirspeed, wind_speed: WindSpeed, wind_from: WindFrom
) -> Track:
    """Where a heading [rad] at a true airspeed [m/s] leads in a wind. No track or drift (nan) at rest."""
    angle = np.subtract(wind_from, heading)
    along, right = true_airspeed - wind_speed * np.cos(angle), -wind_speed * np.sin(angle)
    ground_speed = np.hypot(along, right)
    drift = np.where(ground_speed > 0, np.arctan2(right, along), np.nan)[()]
    return Track(_around(heading + drift), ground_speed, drift)


@relation("Wind from the windsock", source="FAA AC 150/5345-27: full at 15 kt; between, common practice")
def windsock_speed(fullness: Annotated[Number, Quantity("fullness", "1", 0.0, 1.0)]) -> SockSpeed:
    """Wind [m/s] that a standard sock means, by how much of it stands out: 0 limp to 1 straight, else nan.

    Straight out says "15 kt or more", nothing else. Part-full is read as proportional, give or take 5 kt.
    """
    fullness = np.where((np.asarray(fullness) >= 0) & (np.asarray(fullness) <= 1), fullness, np.nan)[()]
    full = np.equal(fullness, 1.0)
    middle = _FULL * fullness
    low = np.where(full, _FULL, np.maximum(middle - _BAND, 0.0))[()]
    return SockSpeed(low, middle, np.where(full, np.inf, middle + _BAND)[()])
