"""Book tables: figures gridded by mass, pressure altitude and temperature. Never beyond the grid."""

from __future__ import annotations

from itertools import product
from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..relation import Number, Quantity, relation
from .shapes import number

Values = NDArray[np.float64]

#: Closer to a grid line than this (relative to the axis) counts as on it: units converted there and back.
ON_LINE = 1e-9

Mass = Annotated[Number, Quantity("mass", "kg", 50.0, 20000.0)]
PressureAltitude = Annotated[Number, Quantity("pressure altitude", "m", -2000.0, 11000.0)]
Temperature = Annotated[Number, Quantity("temperature, as on the axis", "K", -80.0, 340.0)]


class OutsideBy(NamedTuple):
    """How far beyond its axis each input lies: positive above the last, negative below the first, else 0."""

    mass: Number
    pressure_altitude: Number
    temperature: Number


def _axis(values: ArrayLike) -> Values:
    axis = np.atleast_1d(np.asarray(values, dtype=float))
    if axis.ndim != 1 or axis.size == 0 or not np.all(np.isfinite(axis)) or np.any(np.diff(axis) <= 0.0):
        raise ValueError("an axis of a table must rise from figure to figure")
    return axis


def _slack(axis: Values) -> float:
    return ON_LINE * float(np.max(np.abs(axis)))


def _beyond(value: Number, axis: Values) -> Values:
    value = np.asarray(value, dtype=float)
    slack = _slack(axis)
    over, under = value - axis[-1], value - axis[0]
    return np.where(
        over > slack, over, np.where(under < -slack, under, np.where(np.isnan(value), np.nan, 0.0))
    )


def _place(value: Number, axis: Values) -> tuple[NDArray[np.intp], Values, NDArray[np.bool_]]:
    """Index of the cell's lower line, fraction of the way to the next (0 or 1 on a line), inside or not."""
    value = np.asarray(value, dtype=float)
    inside = _beyond(value, axis) == 0.0
    if axis.size == 1:
        return np.zeros(value.shape, dtype=int), np.zeros(value.shape), inside
    index = np.clip(np.searchsorted(axis, value, side="right") - 1, 0, axis.size - 2)
    low, high = axis[index], axis[index + 1]
    slack = _slack(axis)
    fraction = np.where(np.abs(value - low) <= slack, 0.0, (value - low) / (high - low))
    return index, np.where(np.abs(value - high) <= slack, 1.0, fraction), inside


@relation("Book figure between grid points", source="trilinear, inside the grid only")
def interpolate(
    mass: Mass,
    pressure_altitude: PressureAltitude,
    temperature: Temperature,
    mass_axis: ArrayLike,
    altitude_axis: ArrayLike,
    temperature_axis: ArrayLike,
    values: ArrayLike,
) -> Annotated[Number, Quantity("book figure, in the unit of the table", "1")]:
    """`values[mass, altitude, temperature]` between its grid points; the three inputs broadcast.

    `mass_axis` [kg], `altitude_axis` [m] and `temperature_axis` [K] are 1-D.
    nan outside the axes, and where a grid point that is needed has no figure (nan); a point on a grid
    line does not need the points beyond it. An axis of length 1 holds for that value only. Raises
    `ValueError` for axes that do not rise or values that do not fit them.
    """
    axes = [_axis(axis) for axis in (mass_axis, altitude_axis, temperature_axis)]
    table = np.asarray(values, dtype=float)
    if table.shape != tuple(axis.size for axis in axes):
        raise ValueError(f"a table of {table.shape} does not fit axes of {[axis.size for axis in axes]}")
    places = [_place(v, axis) for v, axis in zip((mass, pressure_altitude, temperature), axes, strict=True)]
    inside = places[0][2] & places[1][2] & places[2][2]
    total = np.zeros(inside.shape)
    for corner in product((0, 1), repeat=3):
        weight: Values = np.ones(())
        index = []
        for side, (low, fraction, _), axis in zip(corner, places, axes, strict=True):
            weight = weight * (fraction if side else 1.0 - fraction)
            index.append(np.minimum(low + side, axis.size - 1))
        # a corner without weight may be an empty cell of the book: 0 times nan is not wanted
        total = total + np.where(weight == 0.0, 0.0, weight * table[tuple(index)])
    return number(np.where(inside, total, np.nan))


@relation(
    "Book rule for wind",
    source="handbooks: so much for each step of wind, in proportion",
)
def book_wind_factor(
    wind: Annotated[Number, Quantity("wind along, as the rule counts it", "m/s", 0.0, 50.0)],
    step: Annotated[Number, Quantity("step of wind", "m/s", 0.1, 50.0)],
    factor: Annotated[Number, Quantity("factor of one step", "1", 0.1, 5.0)],
    limit: Annotated[Number, Quantity("wind to which the rule goes", "m/s", 0.0, 50.0)],
) -> Annotated[Number, Quantity("distance factor", "1")]:
    """1 + (factor - 1) wind/step; nan beyond `limit` or where nothing would be left. All inputs broadcast.

    For head and tailwind alike, `wind` being the wind from the rule's side. Give the wind that counts:
    this factor halves nothing.
    """
    part = 1.0 + (np.asarray(factor) - 1.0) * wind / step
    return number(np.where((np.asarray(wind) <= limit * (1.0 + ON_LINE)) & (part > 0.0), part, np.nan))


def outside_by(
    mass: Number,
    pressure_altitude: Number,
    temperature: Number,
    mass_axis: ArrayLike,
    altitude_axis: ArrayLike,
    temperature_axis: ArrayLike,
) -> OutsideBy:
    """How far each input lies beyond its axis, in the axis' own unit (`OutsideBy`); elementwise."""
    given = (
        (mass, mass_axis),
        (pressure_altitude, altitude_axis),
        (temperature, temperature_axis),
    )
    return OutsideBy(*(number(_beyond(value, _axis(axis))) for value, axis in given))
