"""Sections of a closed polygon by a straight line: the geometry under the loading envelope.

Polygons are simple (no edge crosses another) and may be non-convex; the boundary belongs to them. A share
`SNAP` of the polygon's own size is taken as rounding of the inputs, so that a load that reaches a limit to
the last decimal is on it and not beyond it.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

#: rounding allowed on the boundary, as a share of the polygon's extent
SNAP = 1e-9

Array = NDArray[np.float64]


def extent(values: Array) -> Any:
    """Largest less smallest of `values` along the last axis."""
    return np.max(values, axis=-1) - np.min(values, axis=-1)


def section(position: Any, level: Array, along: Array) -> tuple[Array, Array]:
    """The piece of the polygon, on one straight line, that lies nearest to `position`.

    `level` (..., n) is the signed offset of each vertex from the line, `along` (..., n) the coordinate of
    each vertex on it, `position` (...) a coordinate on it. Returns (low, high), each (...): the ends of the
    connected piece that holds `position`, or else of the nearest; nan where the line misses the polygon.

    A line through a vertex or along an edge is the limit of its two neighbours: the pieces just above and
    just below are both taken and joined where they touch.
    """
    position = np.asarray(position, dtype=float)
    level, along = np.broadcast_arrays(level, along)
    level = np.where(np.abs(level) <= SNAP * extent(level)[..., None], 0.0, level)
    level_next, along_next = np.roll(level, -1, axis=-1), np.roll(along, -1, axis=-1)
    with np.errstate(all="ignore"):
        crossing = along + level / (level - level_next) * (along_next - along)
    pieces = []
    for below in (level <= 0.0, level < 0.0):
        cut = below != np.roll(below, -1, axis=-1)
        ends = np.sort(np.where(cut, crossing, np.inf), axis=-1)
        if ends.shape[-1] % 2:
            ends = np.concatenate([ends, np.full_like(ends[..., :1], np.inf)], axis=-1)
        pieces.append(ends.reshape(*ends.shape[:-1], -1, 2))
    both = np.concatenate(pieces, axis=-2)
    order = np.argsort(both[..., 0], axis=-1)
    left = np.take_along_axis(both[..., 0], order, axis=-1)
    reach = np.maximum.accumulate(np.take_along_axis(both[..., 1], order, axis=-1), axis=-1)
    starts = np.ones(left.shape, dtype=bool)
    starts[..., 1:] = left[..., 1:] > reach[..., :-1] + SNAP * extent(along)[..., None]
    ends_here = np.ones(left.shape, dtype=bool)
    ends_here[..., :-1] = starts[..., 1:]
    low = np.maximum.accumulate(np.where(starts, left, -np.inf), axis=-1)
    high = np.minimum.accumulate(np.where(ends_here, reach, np.inf)[..., ::-1], axis=-1)[..., ::-1]
    with np.errstate(invalid="ignore"):
        away = np.maximum(np.maximum(low - position[..., None], position[..., None] - high), 0.0)
    low, high, away = np.broadcast_arrays(low, high, away)
    nearest = np.argmin(np.where(np.isnan(away), np.inf, away), axis=-1)[..., None]
    low = np.take_along_axis(low, nearest, axis=-1)[..., 0]
    high = np.take_along_axis(high, nearest, axis=-1)[..., 0]
    missed = ~np.isfinite(low) | np.isnan(position)
    return np.where(missed, np.nan, low), np.where(missed, np.nan, high)


def holds(across: Any, up: Any, vertex_across: Array, vertex_up: Array) -> Any:
    """True where the point (`across`, `up`) lies in the closed polygon; points broadcast, vertices (n,)."""
    across, up = np.broadcast_arrays(np.asarray(across, dtype=float), np.asarray(up, dtype=float))
    low, high = section(across, vertex_up - up[..., None], vertex_across)
    slack = SNAP * extent(vertex_across)
    with np.errstate(invalid="ignore"):
        return (across >= low - slack) & (across <= high + slack)
