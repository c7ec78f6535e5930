"""The ground of a strip: its height and mean slope along the way, from segments of constant slope."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from ..relation import Number, Quantity, relation
from .shapes import array, number

Along = Annotated[Number, Quantity("distance along the strip", "m", 0.0, 20_000.0)]


@relation("Height of the ground along the strip", source="geometry of the segments")
def ground_height(
    distance: Along, lengths: ArrayLike, slopes: ArrayLike
) -> Annotated[Number, Quantity("height above the start", "m")]:
    """Height [m] of the ground above its start, `distance` [m] along.

    `lengths` [m] and `slopes` [1] of the segments are (n,). Beyond the last segment the ground is taken to go
    on level.
    """
    ends = np.concatenate(([0.0], np.cumsum(np.asarray(lengths, dtype=float))))
    heights = np.concatenate(([0.0], np.cumsum(np.asarray(lengths) * np.asarray(slopes))))
    return number(np.interp(distance, ends, heights))


@relation("Mean slope under a run", source="height gained over distance")
def mean_slope(
    start: Along,
    distance: Annotated[Number, Quantity("length of the run", "m", 0.0, 20_000.0)],
    lengths: ArrayLike,
    slopes: ArrayLike,
) -> Annotated[Number, Quantity("slope, uphill positive", "1")]:
    """Mean slope [1] of the `distance` [m] that begins `start` [m] along; nan for a run of no length.

    `lengths` and `slopes` as in `ground_height`.
    """
    run = np.where(np.asarray(distance) > 0.0, distance, np.nan)
    first = array(ground_height(start, lengths, slopes))
    last = array(ground_height(array(start) + run, lengths, slopes))
    return number((last - first) / run)
