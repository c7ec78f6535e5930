"""Bands of measured figures: which distance counts, and how a band widens beyond what was seen."""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np

from ..relation import Number, Quantity, relation
from .shapes import array, number

#: beyond what was seen by this part of the mass, or by this much density altitude [m], a unit is gone
MASS_UNIT, ALTITUDE_UNIT = 0.10, 600.0
#: spread of the logarithm of a distance for each unit
PER_UNIT = 0.10
#: units beyond which nothing is said on the adverse side, and nothing more is added on the mild side
MOST_UNITS = 2.0

Distance = Annotated[Number, Quantity("distance", "m", 0.0, 50_000.0)]
Mass = Annotated[Number, Quantity("mass", "kg", 0.0, 20_000.0)]
Altitude = Annotated[Number, Quantity("density altitude", "m", -3000.0, 12_000.0)]


class Beyond(NamedTuple):
    """How far beyond what was seen, on its adverse and its mild side, in units; 0 inside."""

    adverse: Annotated[Number, Quantity("units beyond the heavy or high end", "1")]
    mild: Annotated[Number, Quantity("units beyond the light or low end", "1")]


@relation("Distance that counts", source="method of this tool: factored, or upper 95 % where longer")
def counted_distance(
    distance: Distance,
    safety_factor: Annotated[Number, Quantity("safety factor", "1", 1.0, 10.0)],
    upper_95: Annotated[Number, Quantity("one-sided upper 95 % of own runs", "m", 0.0, 50_000.0)],
) -> Annotated[Number, Quantity("distance that counts", "m")]:
    """The longer [m] of the factored distance and the upper end of the band of the aeroplane's own runs."""
    return number(np.maximum(array(distance) * safety_factor, upper_95))


@relation("Beyond what was seen", source="method of this tool, no source: 10 % of mass or 600 m are a unit")
def beyond_seen(
    mass: Mass,
    mass_low: Mass,
    mass_high: Mass,
    density_altitude: Altitude,
    density_altitude_low: Altitude,
    density_altitude_high: Altitude,
) -> Beyond:
    """How far mass [kg] and density altitude [m] lie beyond those of a notebook, both ways put together.

    As the sides of a right angle: heavier and higher at once is further out than either alone.
    """
    heavy = (array(mass) / mass_high - 1.0) / MASS_UNIT
    light = (1.0 - array(mass) / mass_low) / MASS_UNIT
    high = (array(density_altitude) - density_altitude_high) / ALTITUDE_UNIT
    low = (array(density_altitude_low) - density_altitude) / ALTITUDE_UNIT
    return Beyond(number(np.hypot(_out(heavy), _out(high))), number(np.hypot(_out(light), _out(low))))


def _out(units: Number) -> Number:
    return number(np.maximum(units, 0.0))


@relation("Widening of a band", source="method of this tool, no source: 0.10 of the logarithm for a unit")
def widening(
    adverse: Annotated[Number, Quantity("units beyond the heavy or high end", "1", 0.0, 1000.0)],
    mild: Annotated[Number, Quantity("units beyond the light or low end", "1", 0.0, 1000.0)],
) -> Annotated[Number, Quantity("spread to add, of the logarithm", "1")]:
    """Spread [1] that a band gets on top, in quadrature; nan more than two units beyond the adverse side.

    With the root of what is less than a unit: put on in quadrature, a small spread would hardly widen a band
    at all just beyond what was seen, where invented aeroplanes showed it to be narrow. On the mild side it
    stops growing at two units: a lighter aeroplane in denser air does better, never worse.
    """
    units = np.maximum(array(adverse), np.minimum(array(mild), MOST_UNITS))
    return number(
        np.where(array(adverse) <= MOST_UNITS, PER_UNIT * np.maximum(units, np.sqrt(units)), np.nan)
    )
