"""Soft things fill what the boxes leave."""

from __future__ import annotations

import numpy as np

from .frame import Bay
from .place import Put


def fill_level(bay: Bay, put: list[Put], volume: float) -> float:
    """Height [m] up to which `volume` [m³], spread evenly between the boxes, fills the bay; inf if beyond it.

    A picture of how full the bay is: soft things stay where they are pushed, not level.
    """
    if volume <= 0.0:
        return 0.0
    low = np.array([one.corner for one in put]).reshape(-1, 3)
    size = np.array([one.edges for one in put]).reshape(-1, 3)
    bottom, top = low[:, 2], low[:, 2] + size[:, 2]
    heights = np.unique(np.concatenate([[0.0, bay.height], bottom, top]))
    heights = heights[heights <= bay.height]
    under = np.clip(heights[:, None], bottom, top) - bottom
    free = bay.length * bay.width * heights - (under * size[:, 0] * size[:, 1]).sum(axis=1)
    if volume > free[-1] * (1.0 + 1e-12):
        return float("inf")
    return float(np.interp(volume, free, heights))
