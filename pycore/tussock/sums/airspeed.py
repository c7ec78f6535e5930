"""Airspeeds: indicated, calibrated, equivalent, true; the stall with mass and load factor.

The pitot relations are those of compressible subsonic flow and hold below the speed of sound.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from ..relation import Number, Quantity, relation
from .air import GAMMA, P0, R_AIR, T0, Altitude, Density, Pressure

_A0 = float(np.sqrt(GAMMA * R_AIR * T0))
_HALF = (GAMMA - 1.0) / 2.0
_POWER = GAMMA / (GAMMA - 1.0)

Indicated = Annotated[Number, Quantity("indicated airspeed", "m/s", 0.0, 250.0)]
Calibrated = Annotated[Number, Quantity("calibrated airspeed", "m/s", 0.0, 250.0)]
TrueAirspeed = Annotated[Number, Quantity("true airspeed", "m/s", 0.0, 330.0)]
Bank = Annotated[Number, Quantity("bank", "rad", 0.0, float(np.radians(80.0)))]
LoadFactor = Annotated[Number, Quantity("load factor", "1", 0.0, 10.0)]


# expm1 and log1p: at 20 kt the impact pressure is a thousandth of the static one.
def _impact(mach: Number) -> Number:
    """Impact pressure over static pressure, from the Mach number."""
    return np.expm1(_POWER * np.log1p(_HALF * np.square(mach)))


def _mach(impact: Number) -> Number:
    """Mach number from impact pressure over static pressure; nan above 1."""
    mach = np.sqrt(np.expm1(np.log1p(impact) / _POWER) / _HALF)
    return np.where(mach <= 1.0, mach, np.nan)[()]


@relation("Equivalent airspeed", source="Compressible pitot relation; NASA RP-1046 (Gracey), Appendix A")
def equivalent_airspeed(
    calibrated_airspeed: Calibrated, pressure: Pressure
) -> Annotated[Number, Quantity("equivalent airspeed", "m/s")]:
    """Equivalent airspeed [m/s] from calibrated [m/s] at a static pressure [Pa]. nan above Mach 1."""
    mach = _mach(_impact(calibrated_airspeed / _A0) * P0 / pressure)
    return _A0 * mach * np.sqrt(pressure / P0)


@relation("True airspeed", source="Compressible pitot relation; NASA RP-1046 (Gracey), Appendix A")
def true_airspeed(
    calibrated_airspeed: Calibrated, pressure: Pressure, density: Density
) -> Annotated[Number, Quantity("true airspeed", "m/s")]:
    """True airspeed [m/s] from calibrated [m/s], static pressure [Pa], density [kg/m³]. nan above Mach 1."""
    return _mach(_impact(calibrated_airspeed / _A0) * P0 / pressure) * np.sqrt(GAMMA * pressure / density)


@relation("Calibrated airspeed", source="Compressible pitot relation; NASA RP-1046 (Gracey), Appendix A")
def calibrated_airspeed(
    true_airspeed: TrueAirspeed, pressure: Pressure, density: Density
) -> Annotated[Number, Quantity("calibrated airspeed", "m/s")]:
    """Calibrated airspeed [m/s] from true [m/s], static pressure [Pa], density [kg/m³]. nan above Mach 1."""
    mach = true_airspeed / np.sqrt(GAMMA * pressure / density)
    mach = np.where(mach <= 1.0, mach, np.nan)[()]
    return _A0 * _mach(_impact(mach) * pressure / P0)


def _look_up(value: Number, axis: ArrayLike, values: ArrayLike) -> Number:
    points, results = np.asarray(axis, float), np.asarray(values, float)
    usable = points.ndim == 1 and points.shape == results.shape and points.size > 0
    if not usable or not (np.all(np.diff(points) > 0) and np.all(np.diff(results) > 0)):
        return np.full(np.shape(value), np.nan)[()]
    found: Number = np.interp(value, points, results, left=np.nan, right=np.nan)[()]
    return found


@relation("Calibrated airspeed from the dial", source="The aeroplane's own correction table")
def calibrated_from_indicated(
    indicated_airspeed: Indicated, table_indicated: ArrayLike, table_calibrated: ArrayLike
) -> Annotated[Number, Quantity("calibrated airspeed", "m/s")]:
    """Calibrated airspeed [m/s] of a dial reading [m/s], linear between the points of the correction table.

    `table_indicated` and `table_calibrated` [m/s] are 1-D, of one length, both increasing; nan outside them,
    or if they are not so.
    """
    return _look_up(indicated_airspeed, table_indicated, table_calibrated)


@relation("What the dial shows", source="The aeroplane's own correction table")
def indicated_from_calibrated(
    calibrated_airspeed: Calibrated, table_indicated: ArrayLike, table_calibrated: ArrayLike
) -> Annotated[Number, Quantity("indicated airspeed", "m/s")]:
    """Dial reading [m/s] at a calibrated airspeed [m/s].

    `table_indicated` and `table_calibrated` as for `calibrated_from_indicated`.
    """
    return _look_up(calibrated_airspeed, table_calibrated, table_indicated)


@relation("Stall speed", source="Lift equation: square root of mass and load factor; FAA-H-8083-25, ch. 5")
def stall_speed(
    reference_stall_speed: Calibrated,
    reference_mass: Annotated[Number, Quantity("reference mass", "kg", 1.0, 20_000.0)],
    mass: Annotated[Number, Quantity("mass", "kg", 0.0, 20_000.0)],
    load_factor: LoadFactor = 1.0,
) -> Annotated[Number, Quantity("stall speed", "m/s")]:
    """Calibrated stall speed [m/s] at a mass [kg] and load factor, from the one at a reference mass."""
    return reference_stall_speed * np.sqrt(mass / reference_mass * load_factor)


@relation("True airspeed by rule of thumb", source="2 % per 1000 ft; common practice")
def true_airspeed_rule(
    calibrated_airspeed: Calibrated, altitude: Altitude
) -> Annotated[Number, Quantity("true airspeed by rule", "m/s")]:
    """True airspeed [m/s] by 2 % of the calibrated [m/s] per 1000 ft of altitude [m]. A cross-check only."""
    return calibrated_airspeed * (1.0 + 0.02 * altitude / 304.8)


@relation("Load factor in a level turn", source="FAA-H-8083-25, ch. 5: 1 / cos(bank)")
def turn_load_factor(bank: Bank) -> Annotated[Number, Quantity("load factor", "1")]:
    """Load factor in a level turn at that bank [rad], to 80 degrees."""
    return 1.0 / np.cos(bank)
