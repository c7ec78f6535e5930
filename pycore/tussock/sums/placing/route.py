"""How a box gets from the door to its place: straight moves along the bay's edges, past what is in already.

A box that moves along an edge sweeps a box; the way is free when no swept box cuts one that stands.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from .frame import Array, Frame

#: how many depths at which to go sideways or up are tried
_DEPTHS = 8


def route(frame: Frame, low: Array, size: Array, others_low: Array, others_high: Array) -> Array | None:
    """Corners [k, 3] from outside the door to `low`, or None where none of the ways that are tried is free.

    The first corner is just outside. A box goes in, may be lifted, goes across, goes to its depth, and is let
    down; or across before it is lifted. Other ways may exist.
    """
    deep, (left, right, sill, head) = frame.size[0], frame.opening
    if size[1] > right - left or size[2] > head - sill:
        return None
    across = min(max(low[1], left), right - size[1])
    along = min(max(low[2], sill), head - size[2])
    high = low + size
    near = others_high[:, 0] > low[0]
    others_low, others_high = others_low[near], others_high[near]
    if across == low[1] and along == low[2]:
        ahead = (
            (others_low[:, 1] < high[1])
            & (others_high[:, 1] > low[1])
            & (others_low[:, 2] < high[2])
            & (others_high[:, 2] > low[2])
        )
        if not ahead.any():
            return np.array([[deep, across, along], low])
    ways = _ways(frame, low, size, others_high, across, along)
    start, end = ways[:, :-1], ways[:, 1:]
    swept_low, swept_high = np.minimum(start, end), np.maximum(start, end) + size
    hit = (swept_low[:, :, None] < others_high) & (swept_high[:, :, None] > others_low)
    struck = hit.all(axis=3).reshape(len(ways), -1).any(axis=1)
    free = np.flatnonzero(np.logical_not(struck))
    if not len(free):
        return None
    moves = (start[free] != end[free]).any(axis=2).sum(axis=1)
    way = ways[free[np.argmin(moves)]]
    stays = (way[1:] != way[:-1]).any(axis=1)
    return np.concatenate([way[:1], way[1:][stays]])


def straight(
    frame: Frame, low: Array, size: Array, others_low: Array, others_high: Array
) -> NDArray[np.bool_]:
    """True for each place [m, 3] that is reached from outside the door by one move straight in."""
    left, right, sill, head = frame.opening
    high = low + size
    clear: NDArray[np.bool_] = (
        (low[:, 1] >= left) & (high[:, 1] <= right) & (low[:, 2] >= sill) & (high[:, 2] <= head)
    )
    if len(others_low):
        ahead = (others_high[:, 0] > low[:, None, 0]) & (
            (others_low[:, 1:] < high[:, None, 1:]) & (others_high[:, 1:] > low[:, None, 1:])
        ).all(axis=2)
        clear = clear & ~ahead.any(axis=1)
    return clear


def _ways(frame: Frame, low: Array, size: Array, others_high: Array, across: float, along: float) -> Array:
    """All ways that are tried, as corners [k, 6, 3]."""
    deep, (left, right, sill, head) = frame.size[0], frame.opening
    just_in = deep - size[0]
    behind = sorted({edge for edge in others_high[:, 0].tolist() if low[0] < edge < just_in})[:_DEPTHS]
    depths = sorted({low[0], just_in, *behind})
    entries_across = sorted({across, left, right - size[1]})
    entries_along = sorted({along, sill, head - size[2]})
    lifts = sorted({along, low[2], frame.size[2] - size[2]})
    shifts = sorted({across, low[1], 0.0, frame.size[1] - size[1]})
    p, q, r, lift = (
        one.ravel() for one in np.meshgrid(depths, entries_across, entries_along, lifts, indexing="ij")
    )
    first = _joined(
        [(deep, q, r), (p, q, r), (p, q, lift), (p, low[1], lift), (low[0], low[1], lift), tuple(low)], len(p)
    )
    p, q, r, shift = (
        one.ravel() for one in np.meshgrid(depths, entries_across, entries_along, shifts, indexing="ij")
    )
    second = _joined(
        [(deep, q, r), (p, q, r), (p, shift, r), (p, shift, low[2]), (low[0], shift, low[2]), tuple(low)],
        len(p),
    )
    return np.concatenate([first, second])


def _joined(corners: list[tuple[float | Array, ...]], count: int) -> Array:
    ways = np.empty((count, len(corners), 3))
    for index, corner in enumerate(corners):
        for axis in range(3):
            ways[:, index, axis] = corner[axis]
    return ways
