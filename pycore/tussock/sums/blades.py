"""A fixed-pitch propeller by its coefficients of thrust and power against the advance ratio.

CT = T / (rho n² d⁴), CP = P / (rho n³ d⁵), J = V / (n d), as NACA reports give them (such as TR 640). At full
throttle it turns as fast as the engine's torque lets it, CP rho n² d⁵ = 2 pi M, but no faster than its limit.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from ..relation import Number, Quantity, relation
from .roll import refine
from .shapes import array, number

Airspeed = Annotated[Number, Quantity("true airspeed", "m/s", 0.0, 150.0)]
Density = Annotated[Number, Quantity("density of the air", "kg/m³", 0.3, 1.6)]
Torque = Annotated[Number, Quantity("torque of the engine at full throttle", "N m", 10.0, 5000.0)]
Diameter = Annotated[Number, Quantity("diameter of the propeller", "m", 0.5, 4.0)]
#: turns [1/s] between which the balance is looked for
SLOWEST, FASTEST = 5.0, 120.0


class Turning(NamedTuple):
    """Thrust and rotation of a propeller at full throttle; nan where its curves do not reach."""

    thrust: Annotated[Number, Quantity("thrust", "N")]
    rotation: Annotated[Number, Quantity("rotation", "1/s")]


@relation("Propeller by its coefficients", source="definitions of CT, CP and J: NACA TR 640; torque balance")
def blade_thrust(
    true_airspeed: Airspeed,
    density: Density,
    torque: Torque,
    propeller_diameter: Diameter,
    rotation_limit: Annotated[Number, Quantity("fastest that it may turn", "1/s", 5.0, 120.0)],
    table_advance: ArrayLike,
    table_thrust: ArrayLike,
    table_power: ArrayLike,
) -> Turning:
    """Thrust [N] and rotation [1/s] at full throttle, or throttled back to the limit; inputs broadcast.

    `table_thrust` (CT) and `table_power` (CP) stand against `table_advance` (J), all 1-D, J rising. nan where
    no rotation balances the torque inside the curves: nothing is read beyond them.
    """
    advance, ct, cp = array(table_advance), array(table_thrust), array(table_power)
    given = np.broadcast_arrays(*(array(x) for x in (true_airspeed, density, torque, propeller_diameter,
                                                     rotation_limit)))  # fmt: skip
    speed, rho, moment, diameter, limit = given
    usable = advance.ndim == 1 and advance.shape == ct.shape == cp.shape and advance.size > 1
    if not usable or not np.all(np.diff(advance) > 0.0) or not np.all(cp > 0.0):
        nothing = np.full(speed.shape, np.nan)
        return Turning(number(nothing), number(nothing))
    axis = [part[..., None] for part in given]

    def wanted(rotation: Number) -> Number:
        """Torque that it takes, rising with the rotation; held at the ends of the curves, checked below."""
        coefficient = np.interp(axis[0] / (rotation * axis[3]), advance, cp)
        taken: Number = coefficient * axis[1] * np.square(rotation) * axis[3] ** 5 / (2.0 * np.pi)
        return taken

    low, high = refine(wanted, np.full(speed.shape, SLOWEST), np.full(speed.shape, FASTEST), moment, passes=4)
    free = 0.5 * (array(low) + array(high))
    rotation = np.minimum(free, limit)
    ratio = speed / (rotation * diameter)
    inside = (
        (ratio >= advance[0]) & (ratio <= advance[-1]) & (free > SLOWEST * 1.01) & (free < FASTEST * 0.99)
    )
    thrust = np.interp(ratio, advance, ct) * rho * rotation**2 * diameter**4
    return Turning(number(np.where(inside, thrust, np.nan)), number(np.where(inside, rotation, np.nan)))
