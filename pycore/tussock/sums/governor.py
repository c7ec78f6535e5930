"""A constant-speed (governed) propeller at full throttle: thrust by its efficiency, and what follows.

The rotation is held, so the power is that of the torque at it, and the thrust efficiency times power over
airspeed. With a curve of efficiency there is no closed form for the speeds: they are searched on grids,
inside the curve and nowhere else. Tables are 1-D and shared by all points.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from ..relation import Number, Quantity, relation
from .curve import Array, along, greatest, last_fall, rising
from .power import Airspeed, Diameter, DragInverse, DragSquare, Power, advance_ratio, constant_speed_thrust
from .shapes import array, number

_SOURCE = "definition of propeller efficiency, its curve straight between points; searched on a grid"

Rotation = Annotated[Number, Quantity("rotation that the governor holds", "1/s", 5.0, 120.0)]
Slowest = Annotated[Number, Quantity("slowest true airspeed allowed", "m/s", 0.0, 150.0)]
#: nearer than this part of the range to its end is at its end
_EDGE = 1e-6


@relation(
    "Thrust of a governed propeller",
    source="definition of propeller efficiency, by the propeller's own curve",
)
def governed_thrust(
    true_airspeed: Airspeed,
    power: Power,
    rotation: Rotation,
    propeller_diameter: Diameter,
    table_advance: ArrayLike,
    table_efficiency: ArrayLike,
) -> Annotated[Number, Quantity("thrust", "N")]:
    """Thrust [N] at a true airspeed [m/s] of shaft `power` [W]; nan at rest and outside the curve.

    `table_efficiency` against `table_advance` is the propeller's curve, its advance ratios rising.
    """
    points, values = array(table_advance), array(table_efficiency)
    if values.ndim != 1 or not rising(points, values):
        return number(array(true_airspeed) * np.nan)
    advance = advance_ratio(true_airspeed, rotation, propeller_diameter)
    return constant_speed_thrust(true_airspeed, power, along(advance, points, values))


@relation("Speed of the steepest climb, governed propeller", source=_SOURCE)
def governed_best_angle_speed(
    power: Power,
    rotation: Rotation,
    propeller_diameter: Diameter,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
    table_advance: ArrayLike,
    table_efficiency: ArrayLike,
    slowest: Slowest = 0.0,
) -> Annotated[Number, Quantity("speed of the steepest climb Vx", "m/s")]:
    """Vx [m/s], of the most excess thrust, not below `slowest`; nan where the curve does not bracket it.

    `table_efficiency` against `table_advance` is the propeller's curve, its advance ratios rising.
    """
    case = _Case(
        power,
        rotation,
        propeller_diameter,
        drag_square,
        drag_inverse,
        table_advance,
        table_efficiency,
        slowest,
    )
    return number(case.best(case.excess))


@relation("Speed of the fastest climb, governed propeller", source=_SOURCE)
def governed_best_rate_speed(
    power: Power,
    rotation: Rotation,
    propeller_diameter: Diameter,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
    table_advance: ArrayLike,
    table_efficiency: ArrayLike,
    slowest: Slowest = 0.0,
) -> Annotated[Number, Quantity("speed of the fastest climb Vy", "m/s")]:
    """Vy [m/s], of the most excess power, not below `slowest`; nan where the curve does not bracket it.

    `table_efficiency` against `table_advance` is the propeller's curve, its advance ratios rising.
    """
    case = _Case(
        power,
        rotation,
        propeller_diameter,
        drag_square,
        drag_inverse,
        table_advance,
        table_efficiency,
        slowest,
    )
    return number(case.best(lambda speed: speed * case.excess(speed)))


@relation("Fastest level flight, governed propeller", source=_SOURCE)
def governed_level_speed(
    power: Power,
    rotation: Rotation,
    propeller_diameter: Diameter,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
    table_advance: ArrayLike,
    table_efficiency: ArrayLike,
    slowest: Slowest = 0.0,
) -> Annotated[Number, Quantity("fastest level flight", "m/s")]:
    """The greatest speed [m/s] where thrust falls to drag; nan where there is none inside the curve.

    `table_efficiency` against `table_advance` is the propeller's curve, its advance ratios rising.
    """
    case = _Case(
        power,
        rotation,
        propeller_diameter,
        drag_square,
        drag_inverse,
        table_advance,
        table_efficiency,
        slowest,
    )
    return number(case.level())


class _Case:
    """Excess thrust against speed, with an axis for the search at the end of every figure."""

    def __init__(
        self,
        power: Number,
        rotation: Number,
        diameter: Number,
        drag_square: Number,
        drag_inverse: Number,
        table_advance: ArrayLike,
        table_efficiency: ArrayLike,
        slowest: Number,
    ) -> None:
        given = np.broadcast_arrays(
            *(array(one) for one in (power, rotation, diameter, drag_square, drag_inverse, slowest))
        )
        self.points, self.values = array(table_advance), array(table_efficiency)
        self.shape = given[0].shape
        self.usable = self.values.ndim == 1 and rising(self.points, self.values)
        self.power, self.rotation, self.diameter, self.square, self.inverse = (
            part[..., None] for part in given[:5]
        )
        self.good = (given[3] > 0.0) & (given[4] > 0.0)
        if self.usable:
            turned = given[1] * given[2]
            begins, self.high = turned * self.points[0], turned * self.points[-1]
            self.low = np.maximum(begins, given[5])
            #: whether the search begins where the owner says, not where the curve happens to
            self.allowed = (given[5] >= begins) & (given[5] > 0.0)

    def excess(self, speed: Array) -> Array:
        advance = speed / (self.rotation * self.diameter)
        pull = along(advance, self.points, self.values, held=True) * self.power / speed
        return np.asarray(pull - self.square * speed**2 - self.inverse / speed**2)

    def best(self, value: object) -> Array:
        if not self.usable:
            return np.full(self.shape, np.nan)
        assert callable(value)
        found = greatest(value, self.low, self.high)
        width = _EDGE * (self.high - self.low)
        at_start, at_end = found <= self.low + width, found >= self.high - width
        return np.asarray(np.where(self.good & ~at_end & (self.allowed | ~at_start), found, np.nan))

    def level(self) -> Array:
        if not self.usable:
            return np.full(self.shape, np.nan)
        most = greatest(self.excess, self.low, self.high)
        return np.asarray(
            np.where(self.good, last_fall(self.excess, self.low, self.high, start=most), np.nan)
        )
