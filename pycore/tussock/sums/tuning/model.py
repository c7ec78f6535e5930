"""Predicts the entries of a notebook from parameters: one call for parameter draws times entries.

`Frame` is what is known of the aeroplane and not fitted; `Series` are entries of one kind with their
conditions. Everything broadcasts: parameters (..., K, P), frame (...), conditions (..., N) give (..., K, N).
Distances, speeds, rotation and flow are predicted as logarithms, rates as they are [m/s].
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np

from ...relation import Number
from ..air import RHO0
from ..airspeed import stall_speed, true_airspeed
from ..landing import REFERENCE, air_distance, landing_roll
from ..power import (
    Drag,
    Thrust,
    climb_rate,
    climb_rate_from_thrust,
    drag_polynomial,
    excess_thrust,
    level_maximum_speed,
    static_torque_fraction,
    thrust_polynomial,
    torque_falloff,
)
from ..takeoff import climb_out_distance, ground_roll
from . import governor
from .governor import Governor
from .parameters import NAMES, Array, named

Values = dict[str, Array]
#: what stands for "never" in a logarithm, so that a step into the impossible is a bad step and no accident
NEVER = float(np.log(50_000.0))
#: width of the rounding of the thrust's fall, as a part of the static thrust
CORNER = 0.04


@dataclass(frozen=True)
class Frame:
    """The aeroplane's own figures that are not fitted, in SI; each a number or an array (...)."""

    wing_area: Number
    aspect_ratio: Number
    propeller_diameter: Number
    torque_cutoff: Number = 0.12
    #: share of the induced drag that is felt just after lift-off
    induced_at_lift_off: Number = 1.0
    roll_lift: Number = 0.5
    roll_drag: Number = 0.075
    landing_roll_lift: Number = 0.3
    landing_roll_drag: Number = 0.11
    idle_thrust: Number = 0.0
    approach_gradient: Number = 0.12
    float_factor: Number = 1.05
    #: of a constant-speed propeller; without it the pitch is fixed
    governor: Governor | None = None

    def spread(self) -> Frame:
        """With two axes at the end, for the draws and the entries."""
        return self.each(lambda value: np.asarray(value, dtype=float)[..., None, None])

    def each(self, change: Callable[[Number], Number]) -> Frame:
        """With every figure changed alike."""
        numbers = {f.name: change(getattr(self, f.name)) for f in fields(self) if f.name != "governor"}
        return Frame(**numbers, governor=self.governor.each(change) if self.governor else None)


@dataclass(frozen=True)
class Series:
    """Entries of one kind: `given` conditions by name (..., N) and, for a fit, what was measured.

    `value` and its `sd` are as predicted (a logarithm, or a rate [m/s]); `doubt` is the probability
    beforehand that the entry is a slip; `counts` is 0 for what is looked at but not fitted ("my best").
    `entry` are the places of the entries in the notebook.
    """

    kind: str
    given: Values
    value: Array
    sd: Array
    doubt: Array
    counts: Array
    entry: tuple[int, ...] = ()

    @property
    def size(self) -> int:
        return int(self.value.shape[-1])


def predict(kind: str, u: Array, frame: Frame, given: Values) -> Array:
    """Prediction (..., K, N) of one kind for parameters u (..., K, P) and conditions (..., N)."""
    own = {name: np.asarray(value, dtype=float)[..., None, :] for name, value in given.items()}
    with np.errstate(all="ignore"):
        found = np.asarray(
            KINDS[kind].predict(named(u, frame.governor is not None), frame.spread(), own), dtype=float
        )
    return np.where(np.isfinite(found), found, NEVER if KINDS[kind].logarithm else -NEVER)


def predict_all(series: list[Series], u: Array, frame: Frame) -> Array:
    """All series one after the other along the last axis: (..., K, sum of N)."""
    found = [predict(one.kind, u, frame, one.given) for one in series]
    shape = np.broadcast_shapes(*(part.shape[:-1] for part in found))
    return np.concatenate([np.broadcast_to(part, (*shape, part.shape[-1])) for part in found], axis=-1)


# --- the parts of a prediction ---------------------------------------------------------------------------


def thrust(p: Values, frame: Frame, density: Number, dry_density: Number) -> Thrust:
    """E and F of the thrust in flight. The thrust constant is a torque with a propeller slope of d / 2 pi."""
    diameter = np.asarray(frame.propeller_diameter)
    return thrust_polynomial(
        density,
        dry_density,
        p["thrust_constant"],
        frame.torque_cutoff,
        diameter,
        diameter / (2.0 * np.pi),
        -p["propeller_intercept"],
    )


def thrust_at(p: Values, frame: Frame, g: Values, speed: Number) -> Thrust:
    """E and F of the thrust that holds at a true airspeed: of a governed propeller E is all of it there."""
    if frame.governor is None:
        return thrust(p, frame, g["density"], g["dry_density"])
    falloff = torque_falloff(g["dry_density"] / RHO0, frame.torque_cutoff)
    return Thrust(governor.pull(p, frame.governor, frame.propeller_diameter, falloff, g, speed), 0.0)


def drag(p: Values, frame: Frame, g: Values, induced: Number = 1.0, factor: Number = 1.0) -> Drag:
    zero = p["zero_lift_drag"] * factor + g["flap_drag"]
    return drag_polynomial(
        g["density"], g["mass"], frame.wing_area, frame.aspect_ratio, zero, p["efficiency"], induced
    )


def stall(p: Values, g: Values) -> Array:
    """Calibrated stall [m/s] at the mass of the entry."""
    return np.asarray(stall_speed(g["stall"], g["stall_mass"], g["mass"]) * p["stall"])


def _true(calibrated: Number, g: Values) -> Array:
    return np.asarray(true_airspeed(calibrated, g["pressure"], g["density"]))


def lift_off_speed(p: Values, g: Values) -> Array:
    return _true(stall(p, g) * g["lift_off_factor"] * p["lift_off"], g)


def screen_speed(p: Values, g: Values) -> Array:
    """True airspeed [m/s] at 50 ft after take-off."""
    return np.maximum(_true(stall(p, g) * g["at_50ft_factor"] * p["lift_off"], g), lift_off_speed(p, g))


def roll(p: Values, frame: Frame, g: Values) -> Array:
    """Take-off roll [m]."""
    speed = lift_off_speed(p, g)
    parts = thrust_at(p, frame, g, speed)
    static = p["static_thrust"] * torque_falloff(g["dry_density"] / RHO0, frame.torque_cutoff)
    # thrust in the roll falls from the static figure to that of flight at lift-off speed, and never rises;
    # round the corner, at most 2 % of the static thrust below it, so that the slopes of the fit have no
    # jump
    left = (parts.thrust_constant + parts.thrust_square * speed**2) / static - 1.0
    fall = 0.5 * (left - np.hypot(left, CORNER)) * static / speed**2
    return np.asarray(
        ground_roll(
            g["mass"],
            speed,
            g["headwind"],
            g["slope"],
            g["friction"] * p["rolling"],
            static,
            fall,
            g["density"],
            frame.wing_area,
            frame.roll_lift,
            frame.roll_drag,
        ).distance
    )


def away(p: Values, frame: Frame, g: Values) -> Array:
    """From lift-off to 50 ft [m]."""
    speed = lift_off_speed(p, g)
    high = screen_speed(p, g)
    distance = climb_out_distance(
        g["mass"],
        speed,
        high,
        g["headwind"],
        np.maximum(g["slope_away"], 0.0),
        excess_thrust(speed, *thrust_at(p, frame, g, speed), *drag(p, frame, g, frame.induced_at_lift_off)),
        excess_thrust(high, *thrust_at(p, frame, g, high), *drag(p, frame, g)),
    ).distance
    return np.asarray(distance * p["climb_away"])


def touchdown_speed(p: Values, g: Values) -> Array:
    return _true(stall(p, g) * g["touchdown_factor"] * p["touchdown"], g) + g["gust"]


def landing(p: Values, frame: Frame, g: Values) -> Array:
    """Landing roll [m]."""
    return np.asarray(
        landing_roll(
            g["mass"],
            touchdown_speed(p, g),
            g["headwind"],
            g["slope"],
            np.minimum(g["braking"] * p["braking"], 1.0),
            frame.idle_thrust,
            g["density"],
            frame.wing_area,
            frame.landing_roll_lift,
            frame.landing_roll_drag,
        ).distance
    )


def arrival(p: Values, frame: Frame, g: Values) -> Array:
    """From `from_height` to touchdown [m]."""
    down = air_distance(
        _true(stall(p, g) * REFERENCE, g) + g["gust"],
        touchdown_speed(p, g),
        np.minimum(frame.approach_gradient * p["approach"], 1.0),
        g["headwind"],
        g["from_height"],
    )
    return np.asarray(down.distance * frame.float_factor)


# --- the kinds -------------------------------------------------------------------------------------------


def _climb(p: Values, frame: Frame, g: Values) -> Number:
    parts = thrust_at(p, frame, g, g["speed"])
    return climb_rate(g["speed"], g["mass"], *parts, *drag(p, frame, g))


def _level(p: Values, frame: Frame, g: Values) -> Number:
    if frame.governor is not None:
        falloff = torque_falloff(g["dry_density"] / RHO0, frame.torque_cutoff)
        own = drag(p, frame, g)
        return np.log(governor.level(p, frame.governor, frame.propeller_diameter, falloff, g, own))
    parts = thrust(p, frame, g["density"], g["dry_density"])
    return np.log(level_maximum_speed(*parts, *drag(p, frame, g)))


def _glide(p: Values, frame: Frame, g: Values) -> Number:
    return -climb_rate_from_thrust(g["speed"], g["mass"], 0.0, *drag(p, frame, g, 1.0, p["gliding"]))


def _static(p: Values, frame: Frame, g: Values) -> Number:
    # the rotation at which the torque is all there: what the run-up check would call a fraction of 1
    ratio, dry = g["density"] / RHO0, g["dry_density"] / RHO0
    here = static_torque_fraction(
        p["rotation"], p["rotation"], ratio, np.ones_like(ratio), frame.torque_cutoff, dry, np.ones_like(dry)
    )
    return np.log(p["rotation"] / np.sqrt(here))


def _flow(p: Values, frame: Frame, g: Values) -> Number:
    work = -g["speed"] * excess_thrust(g["speed"], 0.0, 0.0, *drag(p, frame, g))
    return np.log(p["flow"] * work)


@dataclass(frozen=True)
class Kind:
    """How a kind of figure is predicted, whether as a logarithm, and which scatter it has."""

    predict: Callable[[Values, Frame, Values], Number]
    scatter: str
    logarithm: bool = True


KINDS: dict[str, Kind] = {
    "roll": Kind(lambda p, f, g: np.log(roll(p, f, g)), "takeoff"),
    "away": Kind(lambda p, f, g: np.log(away(p, f, g)), "away"),
    "over": Kind(lambda p, f, g: np.log(roll(p, f, g) + away(p, f, g)), "takeoff"),
    "landing": Kind(lambda p, f, g: np.log(landing(p, f, g)), "landing"),
    "arrival": Kind(lambda p, f, g: np.log(arrival(p, f, g)), "arrival"),
    "from_over": Kind(lambda p, f, g: np.log(landing(p, f, g) + arrival(p, f, g)), "landing"),
    "climb": Kind(_climb, "climb", False),
    "level": Kind(_level, "speed"),
    "glide": Kind(_glide, "climb", False),
    "stall": Kind(lambda p, f, g: np.log(stall(p, g)), "speed"),
    "static": Kind(_static, "speed"),
    "flow": Kind(_flow, "flow"),
}
assert all(kind.scatter for kind in KINDS.values()) and len(NAMES) == 15
