"""Curves of straight pieces, and searches along them by arrays: no loops over points, no derivatives."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from ..relation import Number
from .shapes import array

Array = NDArray[np.float64]


def rising(points: Array, values: Array) -> bool:
    """Whether they make a curve: two points at least, `points` (M,) rising, `values` (..., M)."""
    fit = points.ndim == 1 and values.ndim > 0 and values.shape[-1] == points.size and points.size > 1
    return bool(fit and np.all(np.diff(points) > 0.0))


def along(at: Number, points: Array, values: Array, *, held: bool = False) -> Array:
    """`values` (..., M) at `points` (M,), straight in between, at (...); nan beyond, or (`held`) the last."""
    at = array(at)
    place = np.clip(np.searchsorted(points, at, side="right") - 1, 0, points.size - 2)
    share = (at - points[place]) / (points[place + 1] - points[place])
    if held:
        share = np.clip(share, 0.0, 1.0)
    else:
        share = np.where((at >= points[0]) & (at <= points[-1]), share, np.nan)
    if values.ndim == 1:
        low, high = values[place], values[place + 1]
    else:
        shape = np.broadcast_shapes(place.shape, values.shape[:-1])
        whole = np.broadcast_to(values, (*shape, points.size))
        place = np.broadcast_to(place, shape)[..., None]
        low, high = (np.take_along_axis(whole, place + i, -1)[..., 0] for i in (0, 1))
    return np.asarray(low + share * (high - low))


def greatest(
    value: Callable[[Array], Array],
    low: Number,
    high: Number,
    counts: tuple[int, ...] = (257, 33, 33, 33, 33),
) -> Array:
    """Where from `low` to `high` (...) `value`, of (..., G) to (..., G), is greatest; nan where it never is.

    A grid over all of it, then finer ones round the greatest: hills narrower than a step of the first may
    be missed.
    """
    low, high = (part[..., None] for part in np.broadcast_arrays(array(low), array(high)))
    usable = low < high
    for count in counts:
        at = low + (high - low) * np.linspace(0.0, 1.0, count)
        with np.errstate(all="ignore"):
            found = value(at)
        found = np.where(np.isnan(found), -np.inf, found)
        best = np.argmax(found, axis=-1, keepdims=True)
        usable = usable & np.isfinite(np.take_along_axis(found, best, -1))
        place = np.take_along_axis(at, best, -1)
        low = np.take_along_axis(at, np.maximum(best - 1, 0), -1)
        high = np.take_along_axis(at, np.minimum(best + 1, count - 1), -1)
    return np.asarray(np.where(usable, place, np.nan)[..., 0])


def last_fall(
    value: Callable[[Array], Array],
    low: Number,
    high: Number,
    counts: tuple[int, ...] = (257, 33, 33),
    start: Number | None = None,
) -> Array:
    """The last place from `low` to `high` (...) where `value` falls through nothing; nan if not bracketed.

    `start`: a place where it may be positive although no point of the grid is, to look on from.
    """
    low, high = (part[..., None] for part in np.broadcast_arrays(array(low), array(high)))
    usable = low < high
    for turn, count in enumerate(counts):
        at = low + (high - low) * np.linspace(0.0, 1.0, count)
        with np.errstate(all="ignore"):
            found = value(at)
        above = found > 0.0
        last = count - 1 - np.argmax(above[..., ::-1], axis=-1, keepdims=True)
        some = np.any(above, axis=-1, keepdims=True)
        # at the far end it is known, and not above
        ended = found[..., -1:] <= 0.0
        before = np.minimum(last, count - 2)
        nearer, further = (np.take_along_axis(at, before + i, -1) for i in (0, 1))
        if turn == 0 and start is not None:
            begin = array(start)[..., None]
            with np.errstate(all="ignore"):
                hidden = ~some & (value(begin) > 0.0)
            nearer = np.where(hidden, begin, nearer)
            further = np.where(hidden, np.minimum(begin + (high - low) / (count - 1), high), further)
            some = some | hidden
        usable = usable & some & ended
        low, high = nearer, further
    with np.errstate(all="ignore"):
        ends = value(np.concatenate([low, high], axis=-1))
        share = ends[..., :1] / (ends[..., :1] - ends[..., 1:])
    place = low + (high - low) * np.where(np.isfinite(share), np.clip(share, 0.0, 1.0), 0.5)
    return np.asarray(np.where(usable, place, np.nan)[..., 0])
