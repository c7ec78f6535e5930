"""What is in a bay so far, and where one more box can stand: corner points, and what carries it.

Corner points: where a new box's least corner may go, found by sliding from each edge of a placed box towards
the far end, the side and the floor (T. G. Crainic, G. Perboli, R. Tadei, "Extreme point-based heuristics for
three-dimensional bin packing", INFORMS Journal on Computing 20(3), 2008; memory).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .frame import Array

#: share of its base that must stand on the floor or on boxes; above a half, its middle is carried
CARRIED = 0.6
_OTHERS = ((1, 2), (0, 2), (0, 1))


class Space:
    """Boxes of `low` and `high` corners [n, 3] in a bay of `size`, in the axes of its door."""

    def __init__(self, size: Array, up: int, most: int) -> None:
        self.size, self.up, self.count = size, up, 0
        self._low, self._high = np.empty((most, 3)), np.empty((most, 3))
        self.points = np.zeros((1, 3))

    @property
    def low(self) -> Array:
        return self._low[: self.count]

    @property
    def high(self) -> Array:
        return self._high[: self.count]

    def candidates(self, ways: Array) -> tuple[Array, Array]:
        """Corners and sizes [m, 3] at which a box can stand, held in one of its `ways` [o, 3]."""
        low = np.repeat(self.points, len(ways), axis=0)
        size = np.tile(ways, (len(self.points), 1))
        inside = (low + size <= self.size).all(axis=1)
        low, size = low[inside], size[inside]
        if not self.count or not len(low):
            kept = low[:, self.up] == 0.0
            return low[kept], size[kept]
        high = low + size
        apart = np.minimum(high[:, None], self.high) - np.maximum(low[:, None], self.low)
        cuts: NDArray[np.bool_] = np.asarray((apart > 0.0).all(axis=2))
        free = np.logical_not(cuts.any(axis=1))
        low, size, high, apart = low[free], size[free], high[free], apart[free]
        one, two = _OTHERS[self.up]
        shared = np.clip(apart[:, :, one], 0.0, None) * np.clip(apart[:, :, two], 0.0, None)
        under = self.high[None, :, self.up] == low[:, None, self.up]
        carried = (shared * under).sum(axis=1) >= CARRIED * size[:, one] * size[:, two]
        kept = carried | (low[:, self.up] == 0.0)
        return low[kept], size[kept]

    def touching(self, low: Array, size: Array) -> Array:
        """Share of each candidate's surface that touches walls or boxes [m]."""
        high = low + size
        face = np.stack([size[:, a] * size[:, b] for a, b in _OTHERS], axis=1)
        area = (((low == 0.0).astype(float) + (high == self.size)) * face).sum(axis=1)
        if self.count:
            apart = np.minimum(high[:, None], self.high) - np.maximum(low[:, None], self.low)
            apart = np.clip(apart, 0.0, None)
            for axis, (one, two) in enumerate(_OTHERS):
                beside = (self.high[None, :, axis] == low[:, None, axis]) | (
                    self.low[None, :, axis] == high[:, None, axis]
                )
                area += (apart[:, :, one] * apart[:, :, two] * beside).sum(axis=1)
        share: Array = area / (2.0 * face.sum(axis=1))
        return share

    def put(self, low: Array, size: Array) -> None:
        """Let a box stand at `low`, and find the corner points that it makes."""
        self._low[self.count], self._high[self.count] = low, low + size
        self.count += 1
        high = low + size
        fresh = []
        for axis in range(3):
            edge = low.copy()
            edge[axis] = high[axis]
            if edge[axis] >= self.size[axis]:
                continue
            fresh.append(edge)
            for slide in _OTHERS[axis]:
                fresh.append(self._slid(edge, slide))
        every = {tuple(point) for point in (*self.points.tolist(), *(one.tolist() for one in fresh))}
        points = np.array(sorted(every))
        covered = (points[:, None] >= self.low) & (points[:, None] < self.high)
        inside: NDArray[np.bool_] = np.asarray(covered.all(axis=2))
        self.points = points[np.logical_not(inside.any(axis=1))]

    def _slid(self, point: Array, axis: int) -> Array:
        """The point moved along an axis towards nought until a box or the wall stops it."""
        one, two = _OTHERS[axis]
        low, high = self.low, self.high
        stops = (
            (low[:, one] <= point[one])
            & (point[one] < high[:, one])
            & (low[:, two] <= point[two])
            & (point[two] < high[:, two])
            & (high[:, axis] <= point[axis])
        )
        slid = point.copy()
        slid[axis] = high[stops, axis].max(initial=0.0)
        return slid
