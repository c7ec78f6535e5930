"""Motion along the ground under a = A + B V², in closed form: what a take-off roll and a landing roll share.

V is the airspeed, w the headwind (a tailwind is negative), the ground speed V - w. Between two airspeeds

    time     = ∫ dV / (A + B V²): an arctangent, a logarithm (artanh) or a series, by the sign of A B
    distance = ∫ (V - w) dV / (A + B V²) = ln(a_end / a_start) / (2 B) - w time

Derived from the equation of motion; the integrals are elementary.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ..relation import Number, Quantity
from .shapes import array, number

G0 = 9.80665
#: Below this |A B| t² the time is a series of five terms, exact to rounding; above it the logarithm is.
SERIES = 1e-3
#: An acceleration this small [m/s²] is none: days to walking pace, and no overflow on the way.
STILL = 1e-9

#: (A, B) of a = A + B V²
Line = tuple[Number, Number]


class GroundRoll(NamedTuple):
    """A roll along the ground: distance [m] and time [s]; inf where it never ends."""

    distance: Annotated[Number, Quantity("distance along the ground", "m")]
    time: Annotated[Number, Quantity("time", "s")]


class AirDistance(NamedTuple):
    """A stretch flown, as distance over the ground [m] and time [s]; inf where it never ends."""

    distance: Annotated[Number, Quantity("distance over the ground", "m")]
    time: Annotated[Number, Quantity("time", "s")]


def slope_sine(slope: Number) -> Number:
    """Sine of the angle whose tangent is `slope` (rise/run)."""
    return number(slope / np.sqrt(1.0 + np.square(slope)))


def unload_speed(weight: Number, lift: Number) -> Number:
    """Airspeed [m/s] at which a lift of `lift` V² carries `weight` [N]; inf where it never does."""
    lifts = np.asarray(lift) > 0.0
    with np.errstate(all="ignore"):
        return number(np.where(lifts, np.sqrt(weight / np.where(lifts, lift, 1.0)), np.inf))


def run(constant: Number, square: Number, start: Number, end: Number, headwind: Number) -> GroundRoll:
    """Distance [m] and time [s] from airspeed `start` to `end` [m/s] with a = constant + square V² [m/s²].

    All broadcast. Zero where `end` is not above `start`; inf where a is not positive somewhere between.
    A braked roll is the same sum read backwards: a is then the deceleration.
    """
    constant, square, start, end = array(constant), array(square), array(start), array(end)
    with np.errstate(all="ignore"):
        gain = end - start
        a_start = constant + square * start * start
        a_end = constant + square * end * end
        # a is monotone in V², and V² is least at zero where the airspeed passes through it (a tailwind)
        least = np.minimum(
            np.minimum(a_start, a_end), np.where((start < 0.0) & (end > 0.0), constant, np.inf)
        )
        middle = constant + square * start * end
        product = constant * square
        root = np.sqrt(np.abs(product))
        # artanh y = ln((1 + y) / sqrt(1 - y²)), 1 - y² = a_start a_end / middle²: no cancellation near 1
        closed = np.where(
            product > 0.0,
            np.arctan2(root * gain, middle),
            np.log((middle + root * gain) / np.sqrt(a_start * a_end)),
        ) / np.where(root > 0.0, root, 1.0)
        short = gain / middle
        z = product * short * short
        series = short * (1.0 - z * (1.0 / 3.0 - z * (1.0 / 5.0 - z * (1.0 / 7.0 - z / 9.0))))
        time = np.where((np.abs(z) < SERIES) & (middle > 0.0), series, closed)
        rise = gain * (end + start) / a_start
        y = square * rise
        logarithm = 0.5 * rise * np.where(y == 0.0, 1.0, np.log1p(y) / np.where(y == 0.0, 1.0, y))
        distance = np.maximum(logarithm - headwind * time, 0.0)
        never = least <= STILL
        distance = np.where(gain <= 0.0, 0.0, np.where(never, np.inf, distance))
        time = np.where(gain <= 0.0, 0.0, np.where(never, np.inf, time))
    return GroundRoll(number(distance), number(time))


def run_on_wheels(
    loaded: Line,
    unloaded: Line,
    unload_speed: Number,
    start: Number,
    end: Number,
    headwind: Number,
) -> GroundRoll:
    """`run` with (constant, square) `loaded` until the wing carries all at `unload_speed`, then `unloaded`.

    Without the second part, friction would turn into a push once lift exceeds weight.
    """
    change = np.minimum(np.maximum(unload_speed, start), np.maximum(end, start))
    first = run(*loaded, start, change, headwind)
    if not np.any(change < end):
        # also the branch of nan, which has then gone through `first`; shapes must not depend on the branch
        return first
    second = run(*unloaded, change, end, headwind)
    return GroundRoll(first.distance + second.distance, first.time + second.time)


def refine(
    function: Callable[[NDArray[np.float64]], Number],
    low: Number,
    high: Number,
    target: Number,
    passes: int = 3,
    points: int = 64,
) -> tuple[Number, Number]:
    """Bracket `target` of a rising `function(x)` in `low` to `high` along a new last axis, pass by pass.

    `function` takes an array with one more axis at the end than its own data (give it data with a
    trailing axis of length 1). Returns the ends of the last bracket. `function` may reach inf. The caller
    checks that `target` lies between the ends at all.
    """
    fractions = np.linspace(0.0, 1.0, points + 1)
    target = np.asarray(target)[..., None]
    for _ in range(passes):
        low, high = np.asarray(low)[..., None], np.asarray(high)[..., None]
        grid = low + (high - low) * fractions
        below = np.sum(function(grid) <= target, axis=-1, keepdims=True)
        index = np.clip(below - 1, 0, points - 1)
        shape = np.broadcast_shapes(grid.shape[:-1], index.shape[:-1])
        grid = np.broadcast_to(grid, (*shape, points + 1))
        index = np.broadcast_to(index, (*shape, 1))
        low = np.take_along_axis(grid, index, axis=-1)[..., 0]
        high = np.take_along_axis(grid, index + 1, axis=-1)[..., 0]
    return low, high
