"""Take-off: the ground roll, the way to 50 ft, the speed along the roll, and stopping again.

Speeds are true airspeeds, slopes are rise/run and positive uphill in the direction of motion, headwind
positive. Which wind counts (half a headwind, one and a half times a tailwind) is decided by the caller,
once.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import NDArray

from ..relation import Number, Quantity, relation
from .roll import G0, AirDistance, GroundRoll, Line, refine, run_on_wheels, slope_sine, unload_speed
from .shapes import array, number

SCREEN = 15.24

Mass = Annotated[Number, Quantity("mass", "kg", 50.0, 20000.0)]
LiftOffSpeed = Annotated[Number, Quantity("lift-off true airspeed", "m/s", 5.0, 120.0)]
Headwind = Annotated[Number, Quantity("headwind", "m/s", -30.0, 50.0)]
Slope = Annotated[Number, Quantity("slope, uphill positive", "1", -0.35, 0.35)]
Friction = Annotated[Number, Quantity("rolling friction coefficient", "1", 0.0, 1.0)]
StaticThrust = Annotated[Number, Quantity("static thrust", "N", 0.0, 1e5)]
ThrustFall = Annotated[Number, Quantity("thrust change with speed squared", "N s²/m²", -1000.0, 1000.0)]
Density = Annotated[Number, Quantity("air density", "kg/m³", 0.3, 1.7)]
WingArea = Annotated[Number, Quantity("wing area", "m²", 1.0, 200.0)]
LiftCoefficient = Annotated[Number, Quantity("lift coefficient in the roll", "1", -1.0, 4.0)]
DragCoefficient = Annotated[Number, Quantity("drag coefficient in the roll", "1", 0.0, 2.0)]
Distance = Annotated[Number, Quantity("distance", "m", 0.0, 50000.0)]
GroundSpeed = Annotated[Number, Quantity("ground speed", "m/s", 0.0, 150.0)]
Height = Annotated[Number, Quantity("height", "m", 0.0, 5000.0)]


def _acceleration(
    mass: Number,
    slope: Number,
    friction: Number,
    static_thrust: Number,
    thrust_fall: Number,
    density: Number,
    wing_area: Number,
    lift_coefficient: Number,
    drag_coefficient: Number,
) -> tuple[Line, Line, Number]:
    """(A, B) of a = A + B V² with the wheels loaded and unloaded, and the airspeed [m/s] that parts them."""
    mass = array(mass)
    weight = mass * G0
    pull = static_thrust - weight * slope_sine(slope)
    half = 0.5 * density * wing_area
    square = thrust_fall - half * drag_coefficient
    loaded = ((pull - friction * weight) / mass, (square + half * friction * lift_coefficient) / mass)
    unloaded = (pull / mass, square / mass)
    return loaded, unloaded, unload_speed(weight, half * lift_coefficient)


@relation("Take-off ground roll", source="equation of motion, a = A0 + B0 V²; closed form derived")
def ground_roll(
    mass: Mass,
    lift_off_speed: LiftOffSpeed,
    headwind: Headwind,
    slope: Slope,
    friction: Friction,
    static_thrust: StaticThrust,
    thrust_fall: ThrustFall,
    density: Density,
    wing_area: WingArea,
    lift_coefficient: LiftCoefficient,
    drag_coefficient: DragCoefficient,
) -> GroundRoll:
    """Ground distance [m] and time [s] from standstill to `lift_off_speed`; all inputs broadcast.

    Thrust is static_thrust + thrust_fall V². inf where the aeroplane does not accelerate somewhere before
    lift-off; zero where the headwind alone reaches lift-off speed. Once the wing carries all, friction is
    nil, not a push.
    """
    loaded, unloaded, change = _acceleration(
        mass,
        slope,
        friction,
        static_thrust,
        thrust_fall,
        density,
        wing_area,
        lift_coefficient,
        drag_coefficient,
    )
    return run_on_wheels(loaded, unloaded, change, headwind, lift_off_speed, headwind)


@relation("Airspeed reached along the roll", source="inverse of the take-off ground roll, by bracketing")
def speed_at_distance(
    distance: Distance,
    mass: Mass,
    lift_off_speed: LiftOffSpeed,
    headwind: Headwind,
    slope: Slope,
    friction: Friction,
    static_thrust: StaticThrust,
    thrust_fall: ThrustFall,
    density: Density,
    wing_area: WingArea,
    lift_coefficient: LiftCoefficient,
    drag_coefficient: DragCoefficient,
) -> Annotated[Number, Quantity("true airspeed", "m/s")]:
    """True airspeed [m/s] after `distance` along the ground from standstill; all inputs broadcast.

    nan beyond the point of lift-off, where the aeroplane no longer rolls, and where it can't move at all.
    Where it never reaches lift-off speed the speed that it does reach is given.
    """
    given = (mass, slope, friction, static_thrust, thrust_fall, density, wing_area, lift_coefficient,
             drag_coefficient)  # fmt: skip
    loaded, unloaded, change = _acceleration(*given)

    def along(speed: Number) -> Number:
        return run_on_wheels(loaded, unloaded, change, headwind, speed, headwind).distance

    loaded_axis, unloaded_axis, change_axis = _acceleration(*(np.asarray(part)[..., None] for part in given))
    wind_axis = np.asarray(headwind)[..., None]

    def along_axis(speed: NDArray[np.float64]) -> Number:
        return run_on_wheels(loaded_axis, unloaded_axis, change_axis, wind_axis, speed, wind_axis).distance

    shape = np.broadcast_shapes(*(np.shape(part) for part in (distance, lift_off_speed, headwind, *given)))
    end = np.broadcast_to(np.maximum(lift_off_speed, headwind), shape)
    start = np.broadcast_to(array(headwind), shape)
    with np.errstate(all="ignore"):
        full = along(end)
        low, high = refine(along_axis, start, end, np.broadcast_to(distance, shape))
        speed = low
        for _ in range(3):  # Newton inside the last bracket, a few millionths of the range wide
            a = np.where(
                speed < change,
                loaded[0] + loaded[1] * speed * speed,
                unloaded[0] + unloaded[1] * speed * speed,
            )
            step = (distance - along(speed)) * a / (speed - headwind)
            speed = np.clip(np.where(speed > start, speed + step, speed), low, high)
        # the very start of the roll: distance = (V - w)² / (2 a), too steep there for Newton
        first = loaded[0] + loaded[1] * start * start
        speed = np.where(low > start, speed, np.clip(start + np.sqrt(2.0 * first * distance), low, high))
        moves = (first > 0.0) & (distance <= full) & (end > start)
        moves |= (distance == 0.0) & (end > start)
        answer = np.where(moves, speed, np.nan)
    return number(answer)


@relation("From lift-off to 50 ft", source="energy: W (h + ΔV²/2g) = ∫ excess thrust ds")
def climb_out_distance(
    mass: Mass,
    lift_off_speed: LiftOffSpeed,
    speed_at_height: Annotated[Number, Quantity("true airspeed at the height", "m/s", 5.0, 150.0)],
    headwind: Headwind,
    slope: Slope,
    excess_thrust_lift_off: Annotated[Number, Quantity("excess thrust at lift-off", "N", -1e5, 1e5)],
    excess_thrust_at_height: Annotated[Number, Quantity("excess thrust at the height", "N", -1e5, 1e5)],
    height: Height = SCREEN,
) -> AirDistance:
    """Ground distance [m] and time [s] from lift-off to `height` above the lift-off point; inputs broadcast.

    Ground that rises (slope > 0) is climbed too, so that the height is above it; ground that falls away
    gives no credit, nor does an airspeed below that of lift-off. The excess thrust runs from one end's
    value to the other's in proportion to the energy gained, which makes its mean the logarithmic one. inf
    where there is no excess.
    """
    weight = mass * G0
    rise = np.maximum(slope, 0.0)
    with np.errstate(all="ignore"):
        # metres of rising ground passed for each metre flown through the air
        low = excess_thrust_lift_off - weight * rise * np.maximum(1.0 - array(headwind) / lift_off_speed, 0.0)
        high = excess_thrust_at_height - weight * rise * np.maximum(
            1.0 - array(headwind) / speed_at_height, 0.0
        )
        energy = weight * height + 0.5 * mass * np.maximum(
            np.square(speed_at_height) - np.square(lift_off_speed), 0.0
        )
        change = (high - low) / low
        mean = np.where(change == 0.0, 1.0, np.log1p(change) / np.where(change == 0.0, 1.0, change))
        flown = energy / low * mean
        time = flown / (0.5 * (lift_off_speed + np.maximum(speed_at_height, lift_off_speed)))
        distance = np.maximum(flown - headwind * time, 0.0)
        never = (low <= 0.0) | (high <= 0.0)
        distance, time = np.where(never, np.inf, distance), np.where(never, np.inf, time)
    return AirDistance(number(distance), number(time))


@relation("Height along a straight climb", source="geometry")
def climb_height(
    distance_beyond: Annotated[Number, Quantity("distance beyond the height's point", "m", 0.0, 1e5)],
    gradient: Annotated[Number, Quantity("climb gradient over the ground", "1", -1.0, 1.0)],
    height: Height = SCREEN,
) -> Annotated[Number, Quantity("height", "m")]:
    """Height [m] above the lift-off point, `distance_beyond` [m] after `height` [m] was reached."""
    return height + gradient * distance_beyond


@relation(
    "Distance to stop",
    source="reaction time, then a known roll scaled by ground speed squared",
)
def stopping_distance(
    speed_ground: GroundSpeed,
    reaction_time: Annotated[Number, Quantity("reaction time", "s", 0.0, 30.0)],
    reference_roll: Annotated[Number, Quantity("known landing roll, level", "m", 1.0, 10000.0)],
    reference_ground_speed: Annotated[Number, Quantity("ground speed of that roll", "m/s", 1.0, 150.0)],
    slope: Slope = 0.0,
    surface_ratio: Annotated[Number, Quantity("surface factor here over there", "1", 0.1, 10.0)] = 1.0,
) -> Annotated[Number, Quantity("distance", "m")]:
    """Distance [m] from `speed_ground` to a stop; all inputs broadcast.

    The known roll, made longer by `surface_ratio`, gives the mean deceleration; a downhill slope takes
    from it, an uphill slope gives no credit. inf where the slope takes all of it.
    """
    with np.errstate(all="ignore"):
        deceleration = np.square(reference_ground_speed) / (2.0 * reference_roll * surface_ratio)
        deceleration = deceleration + G0 * slope_sine(np.minimum(slope, 0.0))
        braked = np.where(deceleration > 0.0, np.square(speed_ground) / (2.0 * deceleration), np.inf)
        braked = np.where(np.asarray(speed_ground) == 0.0, 0.0, braked)
        return number(speed_ground * reaction_time + braked)


@relation(
    "Ground speed due by half the strip",
    source="common practice: 70 % of lift-off speed by half the strip, ground speed; cross-check only",
)
def half_strip_ground_speed(
    lift_off_speed: LiftOffSpeed, headwind: Headwind
) -> Annotated[Number, Quantity("ground speed", "m/s")]:
    """0.7 times the ground speed at lift-off [m/s]; from a constant acceleration it would be sqrt(1/2)."""
    return number(0.7 * np.maximum(lift_off_speed - headwind, 0.0))
