"""A checker of placings that knows nothing of how they were found: it moves every box by itself."""

from __future__ import annotations

from itertools import permutations
from typing import Any

import numpy as np

#: what floats leave of whole micrometres [m]
HAIR = 1e-9


def opening_of(bay: Any) -> tuple[int, float, np.ndarray, np.ndarray]:
    """Axis of the door, +1 or -1 outwards, and the corners of the opening in the bay's axes [m]."""
    size = np.array([bay.length, bay.width, bay.height])
    door = bay.opening
    axis, out = {"front": (0, -1), "rear": (0, 1), "left": (1, -1), "right": (1, 1), "top": (2, 1)}[door.face]
    low, high = np.zeros(3), size.copy()
    if axis == 2:
        spans = {1: door.width, 0: door.height}
    else:
        spans = {1 - axis: door.width}
        low[2], high[2] = min(door.sill, size[2]), min(door.sill + door.height, size[2])
    for across, span in spans.items():
        gap = max(0.0, size[across] - span) / 2
        # half a micrometre where the gap is odd
        low[across], high[across] = gap - 6e-7, size[across] - gap + 6e-7
    return axis, out, low, high


def faults(bay: Any, boxes: Any, found: Any) -> list[str]:
    """What is wrong with a placing of `boxes` in `bay`: each box once, in its order of loading."""
    wrong: list[str] = []
    size = np.array([bay.length, bay.width, bay.height])
    given = {box.key: box for box in boxes}
    keys = [one.key for one in found.put]
    if len(set(keys)) != len(keys) or set(keys) | set(found.left) != set(given):
        wrong.append("not every box once")
    if not keys:
        return wrong
    low = np.array([one.corner for one in found.put])
    edges = np.array([one.edges for one in found.put])
    high = low + edges
    if (low < -HAIR).any() or (high > size + HAIR).any():
        wrong.append("out of the bay")
    for one in found.put:
        box = given[one.key]
        turned = [p for p in permutations(box.edges) if np.allclose(p, one.edges, atol=1e-9, rtol=0)]
        if not turned:
            wrong.append(f"{one.key} has changed its size")
        stands = box.stands or ((False, False, True) if box.upright else (True, True, True))
        if not any(s and abs(one.edges[2] - e) < 1e-9 for s, e in zip(stands, box.edges, strict=True)):
            wrong.append(f"{one.key} does not stand as it must")
    cut = np.minimum(high[:, None], high) - np.maximum(low[:, None], low) > HAIR
    if (cut.all(axis=2) & ~np.eye(len(keys), dtype=bool)).any():
        wrong.append("boxes overlap")
    wrong += _hanging(low, high, keys)
    axis, out, door_low, door_high = opening_of(bay)
    for index, one in enumerate(found.put):
        way = np.array(one.route)
        if not np.allclose(way[-1], low[index], atol=1e-9, rtol=0):
            wrong.append(f"{one.key} does not arrive")
        outside = way[0, axis] >= size[axis] - HAIR if out > 0 else way[0, axis] + edges[index, axis] <= HAIR
        if not outside:
            wrong.append(f"{one.key} does not start outside")
        if ((np.abs(np.diff(way, axis=0)) > HAIR).sum(axis=1) > 1).any():
            wrong.append(f"{one.key} moves askew")
        swept_low = np.minimum(way[:-1], way[1:])
        swept_high = np.maximum(way[:-1], way[1:]) + edges[index]
        through = (swept_high[:, axis] > size[axis] + HAIR) if out > 0 else (swept_low[:, axis] < -HAIR)
        other = [a for a in range(3) if a != axis]
        lowest = np.where(through[:, None], door_low, 0.0)[:, other]
        highest = np.where(through[:, None], door_high, size)[:, other]
        if (swept_low[:, other] < lowest - HAIR).any() or (swept_high[:, other] > highest + HAIR).any():
            wrong.append(f"{one.key} goes through a wall")
        reach = given[one.key].accessible and one.key not in found.buried
        there = np.arange(len(keys)) != index if reach else np.arange(len(keys)) < index
        hit = np.minimum(swept_high[:, None], high[there]) - np.maximum(swept_low[:, None], low[there]) > HAIR
        if hit.all(axis=2).any():
            wrong.append(f"{one.key} hits another on its way")
    return wrong


def _hanging(low: np.ndarray, high: np.ndarray, keys: list[str]) -> list[str]:
    """Boxes of which less than half of the base stands on the floor or on boxes that are in before."""
    wrong = []
    for index, key in enumerate(keys):
        if low[index, 2] < HAIR:
            continue
        under = np.abs(high[:index, 2] - low[index, 2]) < HAIR
        shared = np.minimum(high[:index, :2], high[index, :2]) - np.maximum(low[:index, :2], low[index, :2])
        carried = np.clip(shared, 0.0, None).prod(axis=1)[under].sum()
        if carried < 0.5 * (high[index, :2] - low[index, :2]).prod():
            wrong.append(f"{key} hangs in the air")
    return wrong
