"""Landing: approach speed, the air distance from 50 ft, the braked roll, the friction of a known roll.

Speeds are true airspeeds unless said otherwise, slopes rise/run and positive uphill in the direction of
motion. Braking friction is always asked for, never assumed. Which wind counts is decided by the caller,
once.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated

import numpy as np

from ..relation import Number, Quantity, relation
from .roll import G0, AirDistance, GroundRoll, Line, refine, run_on_wheels, slope_sine, unload_speed
from .shapes import array, number

SCREEN = 15.24
#: Reference speed over stall speed, both calibrated.
REFERENCE = 1.3
#: Highest braking friction looked for: a tyre on dry pavement skids at about 0.8 (NASA TR R-20).
MOST_FRICTION = 1.0

Mass = Annotated[Number, Quantity("mass", "kg", 50.0, 20000.0)]
TouchdownSpeed = Annotated[Number, Quantity("touchdown true airspeed", "m/s", 5.0, 120.0)]
Headwind = Annotated[Number, Quantity("headwind", "m/s", -30.0, 50.0)]
Slope = Annotated[Number, Quantity("slope, uphill positive", "1", -0.35, 0.35)]
Braking = Annotated[Number, Quantity("braking friction coefficient", "1", 0.0, MOST_FRICTION)]
IdleThrust = Annotated[Number, Quantity("idle thrust", "N", -5000.0, 10000.0)]
Density = Annotated[Number, Quantity("air density", "kg/m³", 0.3, 1.7)]
WingArea = Annotated[Number, Quantity("wing area", "m²", 1.0, 200.0)]
LiftCoefficient = Annotated[Number, Quantity("lift coefficient in the roll", "1", -1.0, 4.0)]
DragCoefficient = Annotated[Number, Quantity("drag coefficient in the roll", "1", 0.0, 2.0)]


@relation(
    "Approach speed", source="common practice: 1.3 times the stall speed, calibrated, + half the gust spread"
)
def approach_speed(
    stall_speed: Annotated[Number, Quantity("stall calibrated airspeed", "m/s", 5.0, 80.0)],
    gust_spread: Annotated[Number, Quantity("gust less steady wind", "m/s", 0.0, 30.0)] = 0.0,
) -> Annotated[Number, Quantity("approach calibrated airspeed", "m/s")]:
    """1.3 times the stall speed of that configuration, plus half the gust spread [m/s, calibrated]."""
    return REFERENCE * stall_speed + 0.5 * gust_spread


@relation(
    "From 50 ft to touchdown", source="descent at the approach gradient, then level while the speed falls"
)
def air_distance(
    approach_speed: Annotated[Number, Quantity("approach true airspeed", "m/s", 5.0, 150.0)],
    touchdown_speed: TouchdownSpeed,
    approach_gradient: Annotated[Number, Quantity("descent gradient through the air", "1", 0.0, 1.0)],
    headwind: Headwind,
    height: Annotated[Number, Quantity("height", "m", 0.0, 300.0)] = SCREEN,
    deceleration_gradient: Annotated[
        Number | None, Quantity("deceleration in the float over g", "1", 0, 1)
    ] = None,
    float_time: Annotated[Number, Quantity("time held off at touchdown speed", "s", 0.0, 60.0)] = 0.0,
) -> AirDistance:
    """Ground distance [m] and time [s] from `height` to touchdown; all inputs broadcast.

    The gradient is rise/run through the air (drag less idle thrust over weight), so that a headwind
    steepens the path over the ground. From approach to touchdown speed the aeroplane floats: (V² -
    V_td²)/2g over `deceleration_gradient`, which is the approach gradient where it is not stated. A
    touchdown above approach speed gives no credit. inf where a gradient is nil; zero where the headwind
    holds the aeroplane over one spot.
    """
    slowing = approach_gradient if deceleration_gradient is None else deceleration_gradient
    with np.errstate(all="ignore"):
        excess = np.maximum(np.asarray(approach_speed) - touchdown_speed, 0.0)
        down = height / np.asarray(approach_gradient)
        # nothing to lose needs no gradient to lose it in
        slow = np.where(excess > 0.0, excess / (G0 * np.asarray(slowing)), 0.0)
        down_time = np.hypot(height, down) / approach_speed
        mean = 0.5 * (np.asarray(approach_speed) + touchdown_speed)
        # a part flown against more wind than airspeed goes backwards: no credit for that either
        distance = (
            np.maximum(down - headwind * down_time, 0.0)
            + np.where(slow > 0.0, slow * np.maximum(mean - headwind, 0.0), 0.0)
            + float_time * np.maximum(np.asarray(touchdown_speed) - headwind, 0.0)
        )
        time = down_time + slow + float_time
        never = np.asarray(approach_gradient) <= 0.0
        distance, time = np.where(never, np.inf, distance), np.where(never, np.inf, time)
    return AirDistance(number(distance), number(time))


def _deceleration(
    mass: Number,
    slope: Number,
    braking_friction: Number,
    idle_thrust: Number,
    density: Number,
    wing_area: Number,
    lift_coefficient: Number,
    drag_coefficient: Number,
) -> tuple[Line, Line, Number]:
    """(A, B) of the deceleration A + B V², wheels loaded and unloaded, and the airspeed that parts them."""
    mass = array(mass)
    weight = mass * G0
    hold = weight * slope_sine(slope) - idle_thrust
    half = 0.5 * density * wing_area
    loaded = (
        (hold + braking_friction * weight) / mass,
        half * (drag_coefficient - braking_friction * lift_coefficient) / mass,
    )
    unloaded = (hold / mass, half * drag_coefficient / mass)
    return loaded, unloaded, unload_speed(weight, half * lift_coefficient)


@relation("Landing roll", source="equation of motion, deceleration A + B V²; closed form derived")
def landing_roll(
    mass: Mass,
    touchdown_speed: TouchdownSpeed,
    headwind: Headwind,
    slope: Slope,
    braking_friction: Braking,
    idle_thrust: IdleThrust,
    density: Density,
    wing_area: WingArea,
    lift_coefficient: LiftCoefficient,
    drag_coefficient: DragCoefficient,
) -> GroundRoll:
    """Ground distance [m] and time [s] from touchdown to a stop; all inputs broadcast.

    inf where it does not slow down somewhere before; zero where the headwind alone reaches touchdown
    speed. Brakes act on what the wing does not carry.
    """
    loaded, unloaded, change = _deceleration(
        mass, slope, braking_friction, idle_thrust, density, wing_area, lift_coefficient, drag_coefficient
    )
    return run_on_wheels(loaded, unloaded, change, headwind, touchdown_speed, headwind)


@relation("Braking friction from a known roll", source="inverse of the landing roll, by bracketing")
def friction_from_roll(
    roll: Annotated[Number, Quantity("known landing roll", "m", 1.0, 10000.0)],
    mass: Mass,
    touchdown_speed: TouchdownSpeed,
    headwind: Headwind,
    slope: Slope,
    idle_thrust: IdleThrust,
    density: Density,
    wing_area: WingArea,
    lift_coefficient: LiftCoefficient,
    drag_coefficient: DragCoefficient,
) -> Annotated[Number, Quantity("braking friction coefficient", "1")]:
    """The braking friction with which `landing_roll` gives `roll` [m]; inputs broadcast.

    nan where no friction from 0 to 1 does: the roll is longer than without brakes or shorter than can be
    braked.
    """
    given = (mass, touchdown_speed, headwind, slope, idle_thrust, density, wing_area, lift_coefficient,
             drag_coefficient)  # fmt: skip

    def along(friction: Number, parts: Sequence[Number]) -> Number:
        mass, speed, wind, slope, thrust, *wing = parts
        distance: Number = landing_roll(mass, speed, wind, slope, friction, thrust, *wing).distance
        return distance

    on_axis = [np.asarray(part)[..., None] for part in given]
    shape = np.broadcast_shapes(np.shape(roll), *(np.shape(part) for part in given))
    ends = np.zeros(shape), np.full(shape, MOST_FRICTION)
    longest, shortest = along(ends[0], given), along(ends[1], given)
    wanted = np.broadcast_to(array(roll), shape)
    with np.errstate(all="ignore"):
        low, high = refine(lambda friction: -along(friction, on_axis), *ends, -wanted, passes=4)
        # inside a few millionths of the range 1/roll is straight in the friction
        at_low, at_high = 1.0 / along(low, given), 1.0 / along(high, given)
        part = np.where(at_high > at_low, (1.0 / wanted - at_low) / (at_high - at_low), 0.0)
        friction = low + (high - low) * np.clip(part, 0.0, 1.0)
        found = (wanted <= longest) & (wanted >= shortest) & (longest > shortest)
        return number(np.where(found, friction, np.nan))
