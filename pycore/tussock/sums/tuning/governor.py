"""The thrust of a governed propeller in the model of a notebook.

The useful power makes the curve's efficiency higher or lower everywhere, the lean makes it so towards rest
only. Beyond the ends of the curve the efficiency is held at its last value, so that a step of the fit that
strays there is a bad step and no accident. Nothing rests on that: who asks sees by `reaches` that a figure
lies inside.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from ...relation import Number
from ..curve import along, last_fall
from ..power import Drag
from .parameters import Array

#: true airspeeds [m/s] between which level flight is looked for, and the grids: wide, then finer
LEVEL_LOW, LEVEL_HIGH = 15.0, 150.0
LEVEL_GRIDS = (33, 17, 17)


@dataclass(frozen=True)
class Governor:
    """Governed rotation [1/s] (...), and efficiency (..., M) by advance ratio (M,)."""

    rotation: Number
    points: Array
    values: Array

    @property
    def peak(self) -> float:
        """Advance ratio of the greatest efficiency, of the mean curve."""
        mean = np.mean(np.reshape(self.values, (-1, self.points.size)), axis=0)
        return float(self.points[int(np.argmax(mean))]) or float(self.points[-1])

    def each(self, change: Callable[[Number], Number]) -> Governor:
        """With the figures changed as those of a frame; the points are the same for all."""
        values = self.values
        if values.ndim > 1:
            values = np.moveaxis(np.asarray(change(values)), values.ndim - 1, -1)
        return replace(self, rotation=change(self.rotation), values=values)

    def efficiency(self, advance: Number, lean: Number, values: Array | None = None) -> Array:
        """Efficiency [1] at an advance ratio with this lean: what that is at rest, none at the peak."""
        found = along(advance, self.points, self.values if values is None else values, held=True)
        return np.asarray(found * np.asarray(lean) ** (1.0 - np.asarray(advance) / self.peak))


def reaches(governor: Governor, diameter: Number, speed: Number, turning: Number | None = None) -> Array:
    """Whether the curve reaches a true airspeed [m/s], at this rotation [1/s] or the governed one."""
    rotation = governor.rotation if turning is None else turning
    advance = np.asarray(speed) / (np.asarray(rotation) * diameter)
    return np.asarray((advance >= governor.points[0]) & (advance <= governor.points[-1]))


def pull(
    p: dict[str, Array],
    governor: Governor,
    diameter: Number,
    falloff: Number,
    g: dict[str, Array],
    speed: Number,
) -> Array:
    """Thrust [N] at a true airspeed [m/s]; of a run at `turning` [1/s] the power goes with that."""
    turning = g.get("turning", governor.rotation)
    share = governor.efficiency(speed / (turning * np.asarray(diameter)), p["curve_lean"])
    return np.asarray(share * p["useful_power"] * falloff * turning / governor.rotation / speed)


def level(
    p: dict[str, Array],
    governor: Governor,
    diameter: Number,
    falloff: Number,
    g: dict[str, Array],
    drag: Drag,
) -> Array:
    """Greatest true airspeed [m/s] of level flight; nan where there is none."""
    turning = np.asarray(g.get("turning", governor.rotation))[..., None]
    power = np.asarray(p["useful_power"] * falloff)[..., None] * turning
    power = power / np.asarray(governor.rotation)[..., None]
    lean, size = p["curve_lean"][..., None], np.asarray(diameter)[..., None]
    square, inverse = (np.asarray(part)[..., None] for part in drag)
    values = governor.values if governor.values.ndim == 1 else governor.values[..., None, :]

    def excess(speed: Array) -> Array:
        share = governor.efficiency(speed / (turning * size), lean, values)
        return np.asarray(share * power / speed - square * speed**2 - inverse / speed**2)

    shape = np.broadcast_shapes(*(part.shape[:-1] for part in (turning, power, lean, size, square, inverse)))
    return last_fall(excess, np.full(shape, LEVEL_LOW), np.full(shape, LEVEL_HIGH), LEVEL_GRIDS)
