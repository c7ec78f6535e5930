"""Engine, propeller and wing at full throttle: thrust and drag as polynomials of airspeed, and what follows.

For a piston engine without supercharger and a propeller of fixed pitch: thrust E + F V², drag G V² + H / V²,
in true airspeed. In the parameters E is `thrust_constant`, F `thrust_square`, G `drag_square` and H
`drag_inverse`. With K = F - G the sums below hold for K < 0 < H only, and are nan for anything else: no
aeroplane has excess thrust that grows without end. Source: J. T. Lowry, Performance of Light Aircraft (AIAA,
1999), the bootstrap approach (memory); each closed form is checked in the tests against a search on an array.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from ..relation import Number, Quantity, relation
from .air import G0, RHO0, isa_density
from .shapes import array, number, ratio

_LOWRY = "Lowry, Performance of Light Aircraft (1999), bootstrap approach (memory)"
#: share of the sea-level density at which the torque would vanish
CUTOFF = 0.12
_TROPOPAUSE = 11000.0

Density = Annotated[Number, Quantity("density of the air", "kg/m³", 0.3, 1.6)]
DryDensity = Annotated[Number, Quantity("density of the dry air in it", "kg/m³", 0.3, 1.6)]
DensityRatio = Annotated[Number, Quantity("density over that of the standard at sea level", "1", 0.1, 1.3)]
Cutoff = Annotated[Number, Quantity("density ratio at which the torque vanishes", "1", 0.0, 0.3)]
Mass = Annotated[Number, Quantity("mass of the aeroplane", "kg", 50.0, 5700.0)]
Airspeed = Annotated[Number, Quantity("true airspeed", "m/s", 0.0, 150.0)]
ThrustConstant = Annotated[Number, Quantity("thrust constant E", "N", 0.0, 1e5)]
ThrustSquare = Annotated[Number, Quantity("thrust per airspeed squared F", "N s²/m²", -100.0, 0.0)]
DragSquare = Annotated[Number, Quantity("drag per airspeed squared G", "N s²/m²", 0.0, 100.0)]
DragInverse = Annotated[Number, Quantity("drag times airspeed squared H", "N m²/s²", 0.0, 1e9)]
Torque = Annotated[Number, Quantity("rated torque", "N m", 10.0, 5000.0)]
Diameter = Annotated[Number, Quantity("diameter of the propeller", "m", 0.5, 4.0)]
PropellerSlope = Annotated[Number, Quantity("slope of the propeller polar", "1", 0.1, 10.0)]
PropellerIntercept = Annotated[Number, Quantity("intercept of the propeller polar", "1", -1.0, 0.0)]
WingArea = Annotated[Number, Quantity("wing area", "m²", 3.0, 60.0)]
AspectRatio = Annotated[Number, Quantity("aspect ratio", "1", 2.0, 40.0)]
ZeroLiftDrag = Annotated[Number, Quantity("drag coefficient without lift", "1", 0.005, 0.3)]
Efficiency = Annotated[Number, Quantity("efficiency of the wing (Oswald)", "1", 0.3, 1.0)]
InducedFactor = Annotated[Number, Quantity("share of the induced drag that is felt", "1", 0.0, 1.0)]
Power = Annotated[Number, Quantity("shaft power", "W", 0.0, 1e6)]
Speed = Annotated[Number, Quantity("true airspeed", "m/s")]


class Thrust(NamedTuple):
    thrust_constant: Annotated[Number, Quantity("thrust constant E", "N")]
    thrust_square: Annotated[Number, Quantity("thrust per airspeed squared F", "N s²/m²")]


class Drag(NamedTuple):
    drag_square: Annotated[Number, Quantity("drag per airspeed squared G", "N s²/m²")]
    drag_inverse: Annotated[Number, Quantity("drag times airspeed squared H", "N m²/s²")]


class ClimbPoint(NamedTuple):
    speed: Speed
    rate: Annotated[Number, Quantity("rate of climb", "m/s")]
    gradient: Annotated[Number, Quantity("gradient in still air", "1")]


@relation("Fall of torque with density", source=f"{_LOWRY}; Gagg & Ferrar, SAE Journal 34 (1934)")
def torque_falloff(
    density_ratio: DensityRatio, cutoff: Cutoff = CUTOFF
) -> Annotated[Number, Quantity("share of the rated torque", "1")]:
    """Full-throttle torque over rated torque, phi = (sigma - C) / (1 - C), of dry air; 0 below the cutoff."""
    return number(np.maximum((array(density_ratio) - cutoff) / (1.0 - array(cutoff)), 0.0))


@relation("Fall of power with density", source="Gagg & Ferrar, SAE Journal 34 (1934): 1.132 sigma - 0.132")
def gagg_ferrar(density_ratio: DensityRatio) -> Annotated[Number, Quantity("share of the rated power", "1")]:
    """Full-throttle power over rated power at the same rotation; 0 where the density gives none."""
    return number(np.maximum(1.132 * array(density_ratio) - 0.132, 0.0))


@relation("Thrust at full throttle, fixed pitch", source=_LOWRY)
def thrust_polynomial(
    density: Density,
    dry_density: DryDensity,
    rated_torque: Torque,
    cutoff: Cutoff,
    propeller_diameter: Diameter,
    propeller_slope: PropellerSlope,
    propeller_intercept: PropellerIntercept,
) -> Thrust:
    """E [N] and F [N s²/m²] of the thrust E + F V² in flight: E = 2 pi m M0 phi / d, F = rho d² b.

    The engine feels the dry air, the propeller all of it. Not for the take-off roll: E overstates the static
    thrust.
    """
    falloff = torque_falloff(ratio(dry_density, RHO0), cutoff)
    constant = 2.0 * np.pi * array(propeller_slope) * rated_torque * falloff / propeller_diameter
    square = array(density) * array(propeller_diameter) ** 2 * propeller_intercept
    return Thrust(number(constant), number(square))


@relation("Drag", source=f"{_LOWRY}: parabolic polar")
def drag_polynomial(
    density: Density,
    mass: Mass,
    wing_area: WingArea,
    aspect_ratio: AspectRatio,
    zero_lift_drag: ZeroLiftDrag,
    efficiency: Efficiency,
    induced_factor: InducedFactor = 1.0,
) -> Drag:
    """G [N s²/m²] and H [N m²/s²] of the drag G V² + H / V²; `induced_factor` from `ground_effect_factor`."""
    pressing = array(density) * wing_area
    weight = array(mass) * G0
    inverse = 2.0 * weight**2 * induced_factor / (pressing * np.pi * efficiency * aspect_ratio)
    return Drag(number(0.5 * pressing * zero_lift_drag), number(inverse))


@relation("Speed of the steepest climb", source=_LOWRY)
def best_angle_speed(
    thrust_constant: ThrustConstant,
    thrust_square: ThrustSquare,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
) -> Annotated[Number, Quantity("speed of the steepest climb Vx", "m/s")]:
    """Vx [m/s]: Vx⁴ = -H / K, whatever E. It may lie below 1.2 Vs1: the caller sees to that."""
    del thrust_constant
    slope, drag_inverse = _usable(thrust_square, drag_square, drag_inverse)
    return number(ratio(-drag_inverse, slope) ** 0.25)


@relation("Speed of the fastest climb", source=_LOWRY)
def best_rate_speed(
    thrust_constant: ThrustConstant,
    thrust_square: ThrustSquare,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
) -> Annotated[Number, Quantity("speed of the fastest climb Vy", "m/s")]:
    """Vy [m/s]: Vy² = (-E - sqrt(E² - 12 K H)) / (6 K)."""
    slope, drag_inverse = _usable(thrust_square, drag_square, drag_inverse)
    thrust = array(thrust_constant)
    return number(np.sqrt((-thrust - np.sqrt(thrust**2 - 12.0 * slope * drag_inverse)) / (6.0 * slope)))


@relation("Fastest level flight", source=_LOWRY)
def level_maximum_speed(
    thrust_constant: ThrustConstant,
    thrust_square: ThrustSquare,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
) -> Annotated[Number, Quantity("fastest level flight", "m/s")]:
    """The greater speed [m/s] where thrust is drag: V² = (-E - sqrt(E² + 4 K H)) / (2 K); nan where none."""
    slope, drag_inverse = _usable(thrust_square, drag_square, drag_inverse)
    thrust = array(thrust_constant)
    with np.errstate(invalid="ignore"):
        root = np.sqrt(thrust**2 + 4.0 * slope * drag_inverse)
    return number(np.sqrt((-thrust - root) / (2.0 * slope)))


@relation("Speed of the best glide", source=_LOWRY)
def best_glide_speed(
    drag_square: DragSquare, drag_inverse: DragInverse
) -> Annotated[Number, Quantity("speed of the best glide", "m/s")]:
    """Speed [m/s] of the least drag: V⁴ = H / G; nan unless both are positive."""
    return number(_positive(drag_inverse, drag_square) ** 0.25)


@relation("Speed of the least sink", source=_LOWRY)
def minimum_sink_speed(
    drag_square: DragSquare, drag_inverse: DragInverse
) -> Annotated[Number, Quantity("speed of the least sink", "m/s")]:
    """Speed [m/s] of the least power for level flight: V⁴ = H / (3 G); nan unless both are positive."""
    return number((_positive(drag_inverse, drag_square) / 3.0) ** 0.25)


@relation("Best glide ratio", source="parabolic polar: Anderson, Introduction to Flight, ch. 6 (memory)")
def best_glide_ratio(
    aspect_ratio: AspectRatio, zero_lift_drag: ZeroLiftDrag, efficiency: Efficiency
) -> Annotated[Number, Quantity("distance over height lost", "1")]:
    """Greatest lift over drag: half the square root of pi e A / CD0."""
    return number(0.5 * np.sqrt(np.pi * array(efficiency) * aspect_ratio / zero_lift_drag))


@relation("Excess thrust", source=_LOWRY)
def excess_thrust(
    true_airspeed: Airspeed,
    thrust_constant: ThrustConstant,
    thrust_square: ThrustSquare,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
) -> Annotated[Number, Quantity("thrust less drag", "N")]:
    """Thrust less drag [N] at `true_airspeed` [m/s]; nan unless that is positive."""
    speed = array(true_airspeed)
    square = np.where(speed > 0.0, speed, np.nan) ** 2
    slope = array(thrust_square) - drag_square
    return number(thrust_constant + slope * square - drag_inverse / square)


@relation("Rate of climb", source=f"{_LOWRY}: excess power over weight")
def climb_rate(
    true_airspeed: Airspeed,
    mass: Mass,
    thrust_constant: ThrustConstant,
    thrust_square: ThrustSquare,
    drag_square: DragSquare,
    drag_inverse: DragInverse,
) -> Annotated[Number, Quantity("rate of climb", "m/s")]:
    """Rate of climb [m/s] at full throttle; negative is sinking."""
    excess = excess_thrust(true_airspeed, thrust_constant, thrust_square, drag_square, drag_inverse)
    return number(array(true_airspeed) * excess / (array(mass) * G0))


@relation("Rate of climb from a thrust", source="excess power over weight (Anderson, ch. 6)")
def climb_rate_from_thrust(
    true_airspeed: Airspeed,
    mass: Mass,
    thrust: Annotated[Number, Quantity("thrust at that airspeed", "N", 0.0, 1e5)],
    drag_square: DragSquare,
    drag_inverse: DragInverse,
) -> Annotated[Number, Quantity("rate of climb", "m/s")]:
    """Rate of climb [m/s] where the thrust [N] at that speed comes from elsewhere, or is 0 (gliding)."""
    return number(climb_rate(true_airspeed, mass, thrust, 0.0, drag_square, drag_inverse))


@relation("Gradient in still air", source="geometry: rate over the horizontal part of the airspeed")
def climb_gradient_still(
    true_airspeed: Airspeed, climb_rate: Annotated[Number, Quantity("rate of climb", "m/s", -50.0, 50.0)]
) -> Annotated[Number, Quantity("gradient in still air", "1")]:
    """Height over distance [1]; nan where the rate would be as great as the airspeed itself."""
    level = array(true_airspeed) ** 2 - array(climb_rate) ** 2
    return ratio(climb_rate, np.sqrt(np.where(level > 0.0, level, np.nan)))


@relation("Best climb", source=f"{_LOWRY}: all of it at the speed of the fastest climb")
def best_climb(
    mass: Mass,
    density: Density,
    dry_density: DryDensity,
    rated_torque: Torque,
    cutoff: Cutoff,
    propeller_diameter: Diameter,
    propeller_slope: PropellerSlope,
    propeller_intercept: PropellerIntercept,
    wing_area: WingArea,
    aspect_ratio: AspectRatio,
    zero_lift_drag: ZeroLiftDrag,
    efficiency: Efficiency,
    slowest: Annotated[Number, Quantity("slowest true airspeed allowed", "m/s", 0.0, 150.0)] = 0.0,
) -> ClimbPoint:
    """Speed [m/s], rate [m/s] and still-air gradient [1] of the fastest climb not below `slowest` [m/s]."""
    thrust = thrust_polynomial(
        density, dry_density, rated_torque, cutoff, propeller_diameter, propeller_slope, propeller_intercept
    )
    drag = drag_polynomial(density, mass, wing_area, aspect_ratio, zero_lift_drag, efficiency)
    speed = number(np.maximum(best_rate_speed(*thrust, *drag), slowest))
    rate = climb_rate(speed, mass, *thrust, *drag)
    return ClimbPoint(speed, rate, climb_gradient_still(speed, rate))


@relation("Ceiling", source=f"{_LOWRY}: where the fastest climb falls to a given rate, standard atmosphere")
def ceiling(
    mass: Mass,
    rate: Annotated[Number, Quantity("rate of climb that is left", "m/s", 0.0, 10.0)],
    rated_torque: Torque,
    cutoff: Cutoff,
    propeller_diameter: Diameter,
    propeller_slope: PropellerSlope,
    propeller_intercept: PropellerIntercept,
    wing_area: WingArea,
    aspect_ratio: AspectRatio,
    zero_lift_drag: ZeroLiftDrag,
    efficiency: Efficiency,
) -> Annotated[Number, Quantity("ceiling", "m")]:
    """Altitude [m] in the standard atmosphere where the fastest climb is `rate` [m/s].

    0 gives the absolute ceiling, 100 ft/min the service ceiling. nan below sea level or above 11 km.
    """
    given = (
        mass, rate, rated_torque, cutoff, propeller_diameter, propeller_slope, propeller_intercept,
        wing_area, aspect_ratio, zero_lift_drag, efficiency,
    )  # fmt: skip
    mass, rate, *constants = (part[..., None] for part in np.broadcast_arrays(*(array(x) for x in given)))
    low, high = np.zeros_like(mass), np.full_like(mass, _TROPOPAUSE)
    share = np.linspace(0.0, 1.0, 33)
    # The rate falls all the way up: halving by 32 along an array axis, four times, leaves a centimetre.
    for _ in range(4):
        altitude = low + (high - low) * share
        density = isa_density(altitude)
        left = array(best_climb(mass, density, density, *constants).rate) - rate
        enough = left >= 0.0
        last = np.clip(np.sum(enough, axis=-1, keepdims=True) - 1, 0, share.size - 2)
        bracketed = enough[..., :1] & ~enough[..., -1:] & ~np.isnan(left[..., -1:])
        low, high = (np.where(bracketed, np.take_along_axis(altitude, last + i, -1), np.nan) for i in (0, 1))
    return number(0.5 * (low + high)[..., 0])


@relation("Thrust, constant speed", source="definition of propeller efficiency")
def constant_speed_thrust(
    true_airspeed: Airspeed,
    power: Power,
    efficiency: Annotated[Number, Quantity("efficiency of the propeller", "1", 0.0, 1.0)],
) -> Annotated[Number, Quantity("thrust", "N")]:
    """Thrust [N] of a constant-speed propeller, efficiency times power over airspeed; nan at rest."""
    speed = array(true_airspeed)
    return ratio(array(efficiency) * power, np.where(speed > 0.0, speed, np.nan))


@relation("Advance ratio", source="definition: V / (n d)")
def advance_ratio(
    true_airspeed: Airspeed,
    rotation: Annotated[Number, Quantity("rotation of the propeller", "1/s", 5.0, 120.0)],
    propeller_diameter: Diameter,
) -> Annotated[Number, Quantity("advance ratio J", "1")]:
    """Advance ratio J [1] of a propeller: way through the air in one turn, over its diameter."""
    return ratio(true_airspeed, array(rotation) * propeller_diameter)


@relation("Efficiency of a governed propeller", source="the propeller's own curve, straight between points")
def governed_efficiency(
    advance_ratio: Annotated[Number, Quantity("advance ratio J", "1", 0.0, 5.0)],
    table_advance: ArrayLike,
    table_efficiency: ArrayLike,
) -> Annotated[Number, Quantity("efficiency of the propeller", "1")]:
    """Efficiency [1] at an advance ratio, by a curve of `table_efficiency` against `table_advance`.

    Both 1-D, of one length, two points at least, the advance ratios rising; nan outside them, or if they are
    not so.
    """
    points, values = array(table_advance), array(table_efficiency)
    usable = points.ndim == 1 and points.shape == values.shape and points.size > 1
    if not usable or not np.all(np.diff(points) > 0.0):
        return number(np.full(np.shape(advance_ratio), np.nan))
    return number(np.interp(array(advance_ratio), points, values, left=np.nan, right=np.nan))


@relation("Static torque against the baseline", source=f"{_LOWRY}: torque as density times rotation squared")
def static_torque_fraction(
    static_rotation: Annotated[Number, Quantity("static rotation today", "1/s", 5.0, 120.0)],
    baseline_rotation: Annotated[Number, Quantity("static rotation of the baseline", "1/s", 5.0, 120.0)],
    density_ratio: DensityRatio,
    baseline_density_ratio: DensityRatio,
    cutoff: Cutoff = CUTOFF,
    dry_density_ratio: Annotated[Number | None, Quantity("dry density ratio today", "1", 0.1, 1.3)] = None,
    baseline_dry_density_ratio: Annotated[
        Number | None, Quantity("dry density ratio of the baseline", "1", 0.1, 1.3)
    ] = None,
) -> Annotated[Number, Quantity("torque over that which the baseline promises", "1")]:
    """Share of the torque that the same aeroplane's own run-up promises: (n/n0)² (rho/rho0) / (phi/phi0).

    1 is as good as then. The ratios of the dry air, which the engine feels, count for phi; not given, the air
    is taken as dry. nan where there is no torque to expect.
    """
    dry = density_ratio if dry_density_ratio is None else dry_density_ratio
    dry_then = baseline_density_ratio if baseline_dry_density_ratio is None else baseline_dry_density_ratio
    turned = (array(static_rotation) / baseline_rotation) ** 2 * density_ratio / baseline_density_ratio
    falloff = ratio(torque_falloff(dry, cutoff), torque_falloff(dry_then, cutoff))
    return ratio(turned, np.where(array(falloff) > 0.0, falloff, np.nan))


@relation("Ideal static thrust", source="momentum theory: T³ = 2 rho A P²")
def ideal_static_thrust(
    power: Power, density: Density, propeller_diameter: Diameter
) -> Annotated[Number, Quantity("greatest static thrust that physics allows", "N")]:
    """Static thrust [N] of a loss-free propeller: no real one reaches it, a figure above it is wrong."""
    return number(np.cbrt(2.0 * array(density) * _disc(propeller_diameter) * array(power) ** 2))


@relation("Ideal efficiency", source="momentum theory (Rankine, Froude)")
def froude_efficiency(
    thrust: Annotated[Number, Quantity("thrust", "N", 0.0, 1e5)],
    true_airspeed: Airspeed,
    density: Density,
    propeller_diameter: Diameter,
) -> Annotated[Number, Quantity("efficiency that physics allows", "1")]:
    """Efficiency [1] of a loss-free propeller: 2 / (1 + sqrt(1 + 2 T / (rho A V²))); 0 at rest."""
    moving = array(density) * _disc(propeller_diameter) * array(true_airspeed) ** 2
    return ratio(2.0, 1.0 + np.sqrt(1.0 + array(ratio(2.0 * array(thrust), moving))))


@relation("Ground effect", source="McCormick, Aerodynamics, Aeronautics and Flight Mechanics (memory)")
def ground_effect_factor(
    height: Annotated[Number, Quantity("height of the wing above the ground", "m", 0.0, 100.0)],
    span: Annotated[Number, Quantity("wing span", "m", 3.0, 40.0)],
) -> Annotated[Number, Quantity("share of the induced drag that is left", "1")]:
    """Factor on the induced drag, (16 h/b)² / (1 + (16 h/b)²): 0 on the ground, 1 far above."""
    square = (16.0 * array(height) / span) ** 2
    return number(square / (1.0 + square))


def _disc(diameter: Number) -> np.ndarray:
    return 0.25 * np.pi * array(diameter) ** 2


def _usable(
    thrust_square: Number, drag_square: Number, drag_inverse: Number
) -> tuple[np.ndarray, np.ndarray]:
    """K = F - G and H where K < 0 < H, else nan."""
    slope = array(thrust_square) - drag_square
    return np.where(slope < 0.0, slope, np.nan), np.where(array(drag_inverse) > 0.0, drag_inverse, np.nan)


def _positive(top: Number, bottom: Number) -> np.ndarray:
    top, bottom = array(top), array(bottom)
    return array(ratio(np.where(top > 0.0, top, np.nan), np.where(bottom > 0.0, bottom, np.nan)))
