"""Which parts of a track are take-offs, landings, go-arounds: by speed over the ground, then by height."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from .noise import Array

#: Slower than this it stands or is pushed [m/s]; faster than `FAST` it flies or is about to.
STANDS, FAST = 1.0, 12.0
#: A take-off is followed, and a landing preceded, by so long a time at speed [s].
FLIES = 20.0
#: How far back the beginning of a roll is looked for [s].
LONGEST = 120.0
#: A go-around comes lower than `LOW` above the ground and goes higher than `UP` on both sides of it [m].
LOW, UP = 30.0, 45.0

What = Literal["takeoff", "landing", "go_around"]


@dataclass(frozen=True)
class Run:
    """A stretch of fixes, `start` and `end` by index; `reason` why no figures can be had, "" if they may."""

    what: What
    start: int
    end: int
    #: index at which it became fast (take-off), or ceased to be (landing)
    crossing: int
    reason: str = ""


def ground_speed(times: Array, east: Array, north: Array, speed: Array) -> Array:
    """Speed [m/s] of each fix: as recorded, else from positions two fixes apart."""
    if len(times) < 3:
        return speed
    left, right = (
        np.maximum(np.arange(len(times)) - 1, 0),
        np.minimum(np.arange(len(times)) + 1, len(times) - 1),
    )
    run = np.hypot(east[right] - east[left], north[right] - north[left])
    with np.errstate(all="ignore"):
        derived = run / (times[right] - times[left])
    return np.where(np.isnan(speed), derived, speed)


def _beginning(times: Array, speed: Array, crossing: int) -> int:
    """Index of the fix from which the speed rose to that at `crossing`: standing, or the slowest."""
    best = crossing
    for k in range(crossing - 1, -1, -1):
        if times[crossing] - times[k] > LONGEST or speed[k] > speed[best] + 1.5:
            break
        if speed[k] < speed[best]:
            best = k
        if speed[k] < STANDS:
            return k
    return best


def _fast(times: Array, speed: Array) -> list[tuple[int, int]]:
    """Stretches (first, last index) at speed; a dip of one or two fixes does not end one."""
    fast = speed >= FAST
    if len(fast) >= 5:  # one wild speed makes no flight
        padded = np.pad(fast.astype(int), 1, mode="edge")
        fast = (padded[:-2] + padded[1:-1] + padded[2:]) >= 2
    edges = np.flatnonzero(np.diff(np.concatenate([[False], fast, [False]]).astype(int)))
    return [(int(a), int(b) - 1) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def find_runs(times: Array, speed: Array, height: Array) -> list[Run]:
    """Take-offs and landings, in order, and go-arounds, of which nothing can be measured.

    `times` [s] rise; `speed` [m/s]; `height` [m], nan where none.
    """
    found: list[Run] = []
    last = len(times) - 1
    for first, end in _fast(times, speed):
        if times[end] - times[first] < FLIES:
            if speed[first : end + 1].max() > FAST * 1.15:
                begin = _beginning(times, speed, first)
                found.append(Run("takeoff", begin, end, first, "never_flew"))
            continue
        if first == 0:
            found.append(Run("takeoff", 0, 0, 0, "begins_in_motion"))
        else:
            begin = _beginning(times, speed, first)
            slow = speed[begin] < FAST / 2
            found.append(Run("takeoff", begin, end, first, "" if slow else "begins_in_motion"))
        found += [
            Run("go_around", k, k, k, "go_around") for k in _low_points(times, speed, height, first, end)
        ]
        if end == last:
            found.append(Run("landing", last, last, last, "ends_in_motion"))
        else:
            stop = last - _beginning(times[-1] - times[::-1], speed[::-1], last - end)
            stopped = speed[stop] < 2.0 * STANDS
            reason = "" if stopped else ("ends_in_motion" if stop == last else "never_stopped")
            found.append(Run("landing", first, stop, end, reason))
    return found


def _low_points(times: Array, speed: Array, height: Array, first: int, end: int) -> list[int]:
    """Fixes at which it came down near to the ground of this track and climbed away without landing."""
    slow = height[(speed < FAST / 4) & ~np.isnan(height)]
    inside = height[first : end + 1]
    if slow.size == 0 or np.isnan(inside).mean() > 0.2 or len(inside) < 60:
        return []
    level = np.interp(np.arange(len(inside)), np.flatnonzero(~np.isnan(inside)), inside[~np.isnan(inside)])
    calm = np.convolve(np.pad(level, 2, mode="edge"), np.ones(5) / 5.0, mode="valid")
    calm -= float(np.median(slow))
    found, k = [], 0
    high = np.flatnonzero(calm > UP)
    if high.size == 0:
        return []
    k = int(high[0])
    low: int | None = None
    while k < int(high[-1]):
        if calm[k] < LOW and (low is None or calm[k] < calm[low]):
            low = k
        if calm[k] > UP and low is not None:
            found.append(first + low)
            low = None
        k += 1
    return found
