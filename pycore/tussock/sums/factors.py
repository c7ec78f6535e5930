"""Distance factors: what mass, air, surface, slope and wind do to a known take-off or landing distance.

The factors multiply. Whole steps are those of the leaflet, part steps run geometrically between them (the
leaflet is silent about part steps). A factor puts an effect *in*: half of a headwind, one and a half
times a tailwind, no credit for a take-off downhill or a landing uphill. The `remove_*` factors take an
effect *out* of a distance that was measured with it: a benefit with its full physical effect, a burden by
no more than the leaflet's factor.

SSL7: UK CAA Safety Sense Leaflet 7c, "Aeroplane Performance", table of factors, as commonly reproduced.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from ..relation import Number, Quantity, evaluate, relation
from . import air
from .roll import G0, slope_sine
from .shapes import number

SSL7 = "UK CAA Safety Sense Leaflet 7c, table of factors, as commonly reproduced"
PHAK = "FAA-H-8083-25 (PHAK) ch. 11, from memory"
#: Safety factors after all others, on the distance to and from 50 ft (SSL7, from memory).
TAKEOFF_SAFETY = 1.33
LANDING_SAFETY = 1.43

THOUSAND_FEET = 304.8
#: Beyond this ratio of mass to reference mass the steps of 10 % are no longer believed (own choice).
MASS_RATIO = (0.5, 1.5)
#: The leaflet's grass ends at 20 cm [m].
LONGEST_GRASS = 0.20

#: surface: (take-off factor, landing factor, source). For any other nothing can be said.
SURFACES: dict[str, tuple[float, float, str]] = {
    "paved_dry": (1.00, 1.00, "reference surface"),
    "paved_wet": (1.00, 1.15, "SSL7 (landing, from memory); class B landing wet 1.15, CAP 698 SEP"),
    "gravel_dry": (1.05, 1.08, "NZ CAA AC91-3, metal (from memory)"),
    "earth_dry": (1.08, 1.16, "NZ CAA AC91-3, rolled earth (from memory)"),
    "grass_short_dry": (1.20, 1.15, "SSL7, dry grass up to 20 cm on firm soil"),
    "grass_long_dry": (1.20, 1.15, "SSL7, dry grass up to 20 cm on firm soil"),
    "grass_short_wet": (
        1.30,
        1.60,
        "SSL7, wet grass; landing: very short wet grass, up to 60 % (memory)",
    ),
    "grass_long_wet": (1.30, 1.35, "SSL7, wet grass up to 20 cm on firm soil"),
    "soft": (1.25, 1.25, "SSL7, soft ground: 25 % or more"),
    "snow": (1.25, 1.25, "SSL7, snow: 25 % or more"),
}
#: Surfaces whose factor the source gives only as "or more": it can prove a "no", never a "yes".
LOWER_BOUND_ONLY = frozenset({"soft", "snow"})

Mass = Annotated[Number, Quantity("mass", "kg", 50.0, 20000.0)]
ReferenceMass = Annotated[Number, Quantity("reference mass", "kg", 50.0, 20000.0)]
Elevation = Annotated[Number, Quantity("elevation", "m", -500.0, 5000.0)]
ReferenceElevation = Annotated[Number, Quantity("reference elevation", "m", -500.0, 5000.0)]
AboveStandard = Annotated[Number, Quantity("temperature above standard", "dK", -60.0, 60.0)]
ReferenceAbove = Annotated[Number, Quantity("reference temperature above standard", "dK", -60.0, 60.0)]
Slope = Annotated[Number, Quantity("slope, uphill positive", "1", -0.35, 0.35)]
Headwind = Annotated[Number, Quantity("headwind", "m/s", -30.0, 50.0)]
LiftOffSpeed = Annotated[Number, Quantity("lift-off true airspeed", "m/s", 5.0, 120.0)]
TouchdownSpeed = Annotated[Number, Quantity("touchdown true airspeed", "m/s", 5.0, 120.0)]
Speed = Annotated[Number, Quantity("true airspeed", "m/s", 5.0, 150.0)]
Roll = Annotated[Number, Quantity("measured roll", "m", 1.0, 10000.0)]
GrassLength = Annotated[Number | None, Quantity("grass length", "m", 0.0, 5.0)]
Distance = Annotated[Number, Quantity("distance", "m", 0.0, 1e5)]
Factor = Annotated[Number, Quantity("distance factor", "1")]


def _by_mass(step: float, mass: Number, reference_mass: Number) -> Number:
    ratio = np.asarray(mass) / reference_mass
    factor = step ** ((ratio - 1.0) / 0.1)
    return number(np.where((ratio >= MASS_RATIO[0]) & (ratio <= MASS_RATIO[1]), factor, np.nan))


def _by_slope(slope: Number) -> Number:
    return number(1.1 ** (np.maximum(slope, 0.0) / 0.02))


# --- wind -------------------------------------------------------------------------------------------------


@relation("Wind that counts", source="half of a headwind, 1.5 times a tailwind: CAT.POL.A.305 (from memory)")
def counted_wind(headwind: Headwind) -> Annotated[Number, Quantity("headwind that counts", "m/s")]:
    """Half of a headwind, one and a half times a tailwind (negative) [m/s]. Applied once, nowhere twice."""
    return number(np.where(np.asarray(headwind) > 0.0, 0.5, 1.5) * headwind)


@relation(
    "Full physical effect of wind",
    source=PHAK + ": as ground speed squared",
)
def wind_ratio_full(headwind: Headwind, speed: Speed) -> Factor:
    """(1 - headwind/speed)², distance in this wind over that in calm; nan where wind reaches speed."""
    part = np.asarray(headwind) / speed
    return number(np.where(part < 1.0, np.square(1.0 - part), np.nan))


@relation("Tailwind factor", source=SSL7 + ": 20 % for each tailwind of 10 % of the speed")
def tailwind_factor(
    tailwind: Annotated[Number, Quantity("tailwind", "m/s", 0.0, 30.0)], speed: Speed
) -> Factor:
    """1.2 for each tenth of `speed`, of the whole tailwind [m/s]."""
    return number(1.2 ** (np.asarray(tailwind) / speed / 0.1))


def _by_wind(headwind: Number, speed: Number) -> Number:
    counted = np.asarray(counted_wind(headwind))
    with np.errstate(all="ignore"):
        behind = tailwind_factor(np.maximum(-counted, 0.0), speed)
        ahead = np.where(
            np.asarray(headwind) < speed, wind_ratio_full(np.maximum(counted, 0.0), speed), np.nan
        )
    return number(np.where(counted < 0.0, behind, ahead))


# --- take-off ---------------------------------------------------------------------------------------------


@relation("Take-off factor for mass", source=SSL7 + ": 20 % for each 10 % of mass")
def takeoff_mass_factor(mass: Mass, reference_mass: ReferenceMass) -> Factor:
    """1.2 for each tenth above the reference mass, its inverse below; nan outside `MASS_RATIO`."""
    return _by_mass(1.2, mass, reference_mass)


@relation("Take-off factor for elevation", source=SSL7 + ": 10 % for each 1000 ft")
def takeoff_elevation_factor(elevation: Elevation, reference_elevation: ReferenceElevation = 0.0) -> Factor:
    """1.1 for each 1000 ft above the reference, its inverse below."""
    return number(1.1 ** ((np.asarray(elevation) - reference_elevation) / THOUSAND_FEET))


@relation("Take-off factor for temperature", source=SSL7 + ": 10 % for each 10 °C")
def takeoff_temperature_factor(
    temperature_above_standard: AboveStandard, reference_above_standard: ReferenceAbove = 0.0
) -> Factor:
    """1.1 for each 10 K above the reference, both counted above standard there; inverse below."""
    return number(1.1 ** ((np.asarray(temperature_above_standard) - reference_above_standard) / 10.0))


@relation("Take-off factor for slope", source=SSL7 + ": 10 % for each 2 % uphill; downhill no credit")
def takeoff_slope_factor(slope: Slope) -> Factor:
    """1.1 for each 2 % of uphill slope; 1 downhill."""
    return _by_slope(np.asarray(slope))


@relation("Take-off factor for wind", source=SSL7 + " (tailwind); " + PHAK + " (headwind)")
def takeoff_wind_factor(headwind: Headwind, lift_off_speed: LiftOffSpeed) -> Factor:
    """Half of a headwind by (1 - w/V)², one and a half times a tailwind by 1.2 for each tenth of V.

    The halving is inside: give the whole wind. nan where the headwind reaches lift-off speed.
    """
    return _by_wind(headwind, lift_off_speed)


def _by_surface(surface: str, column: int, grass_length: Number | None) -> Number:
    figures = SURFACES.get(surface)
    factor = float(figures[column]) if figures else np.nan
    if grass_length is None or not str(surface).startswith("grass"):
        return factor
    return number(np.where(np.asarray(grass_length) <= LONGEST_GRASS, factor, np.nan))


@relation("Take-off factor for the surface", source=SSL7 + "; gravel and earth NZ CAA AC91-3; see SURFACES")
def takeoff_surface_factor(surface: str, grass_length: GrassLength = None) -> Factor:
    """Factor of a surface by its name in `SURFACES`; nan without published factor or above 20 cm."""
    return _by_surface(surface, 0, grass_length)


# --- landing ----------------------------------------------------------------------------------------------


@relation("Landing factor for mass", source=SSL7 + ": 10 % for each 10 % of mass")
def landing_mass_factor(mass: Mass, reference_mass: ReferenceMass) -> Factor:
    """1.1 for each tenth above the reference mass, its inverse below; nan outside `MASS_RATIO`."""
    return _by_mass(1.1, mass, reference_mass)


@relation("Landing factor for elevation", source=SSL7 + ": 5 % for each 1000 ft")
def landing_elevation_factor(elevation: Elevation, reference_elevation: ReferenceElevation = 0.0) -> Factor:
    """1.05 for each 1000 ft above the reference, its inverse below."""
    return number(1.05 ** ((np.asarray(elevation) - reference_elevation) / THOUSAND_FEET))


@relation("Landing factor for temperature", source=SSL7 + ": 5 % for each 10 °C")
def landing_temperature_factor(
    temperature_above_standard: AboveStandard, reference_above_standard: ReferenceAbove = 0.0
) -> Factor:
    """1.05 for each 10 K above the reference, both counted above standard there; inverse below."""
    return number(1.05 ** ((np.asarray(temperature_above_standard) - reference_above_standard) / 10.0))


@relation("Landing factor for slope", source=SSL7 + ": 10 % for each 2 % downhill; uphill no credit")
def landing_slope_factor(slope: Slope) -> Factor:
    """1.1 for each 2 % of downhill slope; 1 uphill."""
    return _by_slope(-np.asarray(slope))


@relation("Landing factor for wind", source=SSL7 + " (tailwind); " + PHAK + " (headwind)")
def landing_wind_factor(headwind: Headwind, touchdown_speed: TouchdownSpeed) -> Factor:
    """As `takeoff_wind_factor`, with the speed at touchdown."""
    return _by_wind(headwind, touchdown_speed)


@relation("Landing factor for the surface", source=SSL7 + "; gravel and earth NZ CAA AC91-3; see SURFACES")
def landing_surface_factor(surface: str, grass_length: GrassLength = None) -> Factor:
    """Factor of a surface by its name in `SURFACES`; nan without published factor or above 20 cm."""
    return _by_surface(surface, 1, grass_length)


# --- taking an effect out of a measured distance ----------------------------------------------------------


def _out_of_wind(headwind: Number, speed: Number) -> Number:
    with np.errstate(all="ignore"):
        calm = 1.0 / np.asarray(wind_ratio_full(np.maximum(headwind, 0.0), speed))
        burden = 1.0 / tailwind_factor(np.maximum(-np.asarray(headwind), 0.0), speed)
    return number(np.where(np.asarray(headwind) > 0.0, calm, burden))


def _out_of_slope(helping: Number, speed: Number, roll: Number) -> Number:
    """`helping` > 0: a slope that shortened the roll, by physics; < 0: lengthened it, by the leaflet."""
    with np.errstate(all="ignore"):
        measured = np.square(speed) / (2.0 * np.asarray(roll))
        level = measured - G0 * slope_sine(np.maximum(helping, 0.0))
        benefit = np.where(level > 0.0, measured / level, np.inf)
    return number(np.where(np.asarray(helping) > 0.0, benefit, 1.0 / _by_slope(-np.asarray(helping))))


@relation(
    "Wind taken out of a measured take-off",
    source=PHAK + " (headwind); " + SSL7 + " (tailwind)",
)
def remove_takeoff_wind(headwind: Headwind, lift_off_speed: LiftOffSpeed) -> Factor:
    """Calm distance over the distance measured in `headwind`: the whole wind, not half or more of it."""
    return _out_of_wind(headwind, lift_off_speed)


@relation(
    "Slope taken out of a measured take-off",
    source="a = V²/2s (downhill); " + SSL7 + " (uphill)",
)
def remove_takeoff_slope(slope: Slope, lift_off_speed: LiftOffSpeed, roll: Roll) -> Factor:
    """Level distance over the distance measured on `slope`, from the measured `roll` [m] and its speed [m/s].

    `lift_off_speed` is the ground speed at lift-off. inf where the slope did all the accelerating.
    """
    return _out_of_slope(-np.asarray(slope), lift_off_speed, roll)


@relation(
    "Wind taken out of a measured landing",
    source=PHAK + " (headwind); " + SSL7 + " (tailwind)",
)
def remove_landing_wind(headwind: Headwind, touchdown_speed: TouchdownSpeed) -> Factor:
    """Calm distance over the distance measured in `headwind`: the whole wind, not half or more of it."""
    return _out_of_wind(headwind, touchdown_speed)


@relation(
    "Slope taken out of a measured landing",
    source="a = V²/2s (uphill); " + SSL7 + " (downhill)",
)
def remove_landing_slope(slope: Slope, touchdown_speed: TouchdownSpeed, roll: Roll) -> Factor:
    """Level distance over the distance measured on `slope`, from the measured `roll` [m] and its speed [m/s].

    `touchdown_speed` is the ground speed at touchdown. inf where the slope did all the stopping.
    """
    return _out_of_slope(np.asarray(slope), touchdown_speed, roll)


# --- together, and cross-checks ---------------------------------------------------------------------------


@relation("Distance times its factors", source=SSL7 + ": the factors multiply")
def factored_distance(distance: Distance, factors: ArrayLike) -> Annotated[Number, Quantity("distance", "m")]:
    """`distance` [m] times all `factors`, which lie along the last axis of their array."""
    return number(distance * np.prod(np.asarray(factors, dtype=float), axis=-1))


@relation("Take-off factor by density altitude", source="Koch chart, two readings (FAA-P-8740-2, memory)")
def takeoff_density_altitude_factor(
    density_altitude: Annotated[Number, Quantity("density altitude", "m", -1500.0, 3657.6)],
) -> Factor:
    """Take-off distance over that at standard sea level, by 1.126 for each 1000 ft of density altitude.

    The one rate that meets both readings of the Koch chart that could be had: 3.3 at pressure altitude
    6000 ft and 100 °F, 3.0 at a density altitude of 10,000 ft. A cross-check: it lies well above the
    leaflet's factors.
    """
    return number(1.126 ** (np.asarray(density_altitude) / THOUSAND_FEET))


@relation("Take-off factor by the Koch chart", source="Koch chart, by density altitude of dry air")
def koch_takeoff_factor(
    pressure_altitude: Annotated[Number, Quantity("pressure altitude", "m", -500.0, 3048.0)],
    temperature: Annotated[Number, Quantity("temperature", "K", 228.15, 325.0)],
) -> Factor:
    """`takeoff_density_altitude_factor` of dry air; nan where its density altitude lies beyond the chart."""
    density = air.dry_air_density(air.isa_pressure(pressure_altitude), temperature)
    return number(evaluate(takeoff_density_altitude_factor, density_altitude=air.density_altitude(density)))


@relation(
    "Rule of thumb by density altitude",
    source="mountain rules of thumb, cross-check",
)
def takeoff_density_altitude_rule(
    density_altitude: Annotated[Number, Quantity("density altitude", "m", 0.0, 3657.6)],
    below: Annotated[Number, Quantity("increase per 1000 ft up to 8000 ft", "1", 0.0, 1.0)] = 0.12,
    above: Annotated[Number, Quantity("increase per 1000 ft beyond", "1", 0.0, 1.0)] = 0.20,
) -> Factor:
    """1 + `below` for each 1000 ft to 8000 ft + `above` for each beyond (fixed pitch 12 and 20 %)."""
    thousands = np.asarray(density_altitude) / THOUSAND_FEET
    return number(1.0 + below * np.minimum(thousands, 8.0) + above * np.maximum(thousands - 8.0, 0.0))


@relation("Take-off distance by mass squared", source="rule of the trade (+10 % mass: +21 %); cross-check")
def takeoff_mass_rule(mass: Mass, reference_mass: ReferenceMass) -> Factor:
    """(mass/reference mass)²."""
    return number(np.square(np.asarray(mass) / reference_mass))


@relation("Safety factor by mass", source="Australia CAO 20.7.4 (superseded, from memory)")
def safety_factor_by_mass(
    mass: Mass,
    light_mass: Annotated[Number, Quantity("mass up to which it is light", "kg", 50.0, 20000.0)] = 2000.0,
    heavy_mass: Annotated[Number, Quantity("mass from which it is heavy", "kg", 50.0, 20000.0)] = 3500.0,
    light_factor: Annotated[Number, Quantity("factor of the light", "1", 1.0, 3.0)] = 1.15,
    heavy_factor: Annotated[Number, Quantity("factor of the heavy", "1", 1.0, 3.0)] = 1.25,
) -> Factor:
    """Straight between the two masses, level outside them. A cross-check of the fixed safety factors."""
    part = np.clip((np.asarray(mass) - light_mass) / (np.asarray(heavy_mass) - light_mass), 0.0, 1.0)
    return number(light_factor + part * (np.asarray(heavy_factor) - light_factor))
