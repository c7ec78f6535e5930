"""The length of a strip from a track walked along it, once or up and down, and its slope if it can be."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from .measured import Told
from .noise import Array, Noise
from .smoother import smooth

#: A walk whose ends are nearer than this measures nothing [m].
SHORTEST = 30.0
#: A slope is said when its standard error is below this, or it stands out by so many of them.
SLOPE_SD, SLOPE_CLEAR = 0.006, 3.0
#: What a phone's speed may be out by at a walk, whatever the length, and how far off the ends one stands [m].
SPEED_SCALE, AT_THE_ENDS = 0.01, 1.5
#: A walker changes pace gently: white jerk [m²/s⁵].
_JERK = 0.05


@dataclass(frozen=True)
class Walked:
    """What a walk tells, slope along `bearing`; `reason` why no length, `slope_reason` why no slope."""

    reason: str = ""
    slope_reason: str = ""
    length: Told | None = None
    slope: Told | None = None
    bearing: float = np.nan
    passes: int = 0


def measure_walk(
    times: Array, east: Array, north: Array, height: Array, speed: Array, noise: Noise
) -> Walked:
    """Length [m] and slope of what was walked in a straight line, from fixes (nan: no height, no speed)."""
    if len(times) < 15:
        return Walked("too_few")
    points = np.column_stack([east, north])
    centred = points - points.mean(axis=0)
    _, _, axes = np.linalg.svd(centred, full_matrices=False)
    run, off = centred @ axes[0], centred @ axes[1]
    calm = _calm(run)
    span = float(np.ptp(calm))
    if span < SHORTEST:
        return Walked("too_short")
    if float(np.sqrt(np.mean(off**2))) > 0.08 * span + 6.0:
        return Walked("not_straight")
    turns = _turns(calm, span)
    if len(turns) < 2:
        return Walked("too_short")
    if float(np.diff(times[turns[0] : turns[-1] + 1]).max()) > 30.0:
        return Walked("gap")
    ends = list(pairwise(turns))
    passes = np.array([_one_pass(times, run, speed, first, last, noise) for first, last in ends])
    ways = np.array([1.0 if run[last] > run[first] else -1.0 for first, last in ends])
    rises = ways * [_mean_at(height, times, last) - _mean_at(height, times, first) for first, last in ends]
    rise_sds = np.array([noise.height_drift(float(times[last] - times[first])) for first, last in ends])

    count = len(ends)
    length = float(passes[:, 0].mean())
    scatter = float(np.std(passes[:, 0], ddof=1)) if count > 1 else 0.0
    own = float(np.sqrt(np.mean(passes[:, 1] ** 2)))
    # the whole walk is one stay of the receiver: passes soon after each other share its error
    sd = float(np.hypot(max(own, scatter) / np.sqrt(count), np.hypot(SPEED_SCALE * length, AT_THE_ENDS)))
    bearing = float(np.arctan2(ways[0] * axes[0][0], ways[0] * axes[0][1])) % (2 * np.pi)
    told = Told(length, sd)
    slopes = ways[0] * rises / length
    if not np.isfinite(slopes).all():
        return Walked("", "no_height", told, None, bearing, count)
    spread = float(np.std(slopes, ddof=1)) if count > 1 else 0.0
    slope_sd = max(float(rise_sds.mean()) / length, spread) / float(np.sqrt(count))
    slope = Told(float(slopes.mean()), slope_sd)
    if slope.sd > SLOPE_SD and abs(slope.value) < SLOPE_CLEAR * slope.sd:
        return Walked("", "height_vague", told, None, bearing, count)
    return Walked("", "", told, slope, bearing, count)


def _calm(run: Array) -> Array:
    """The way along, freed of single wild fixes."""
    padded = np.pad(run, 2, mode="edge")
    return np.asarray(np.median(np.lib.stride_tricks.sliding_window_view(padded, 5), axis=1))


def _turns(calm: Array, span: float) -> list[int]:
    """Fixes at the ends: where one stood farthest before coming back by more than half of the way."""
    turns: list[int] = []
    high = low = way = 0
    for k in range(len(calm)):
        high = k if calm[k] >= calm[high] else high
        low = k if calm[k] <= calm[low] else low
        if way >= 0 and calm[high] - calm[k] > span / 2:
            turns.append(high)
            way, low = -1, k
        elif way <= 0 and calm[k] - calm[low] > span / 2:
            turns.append(low)
            way, high = 1, k
    if way:
        turns.append(high if way > 0 else low)
    return turns


def _one_pass(
    times: Array, run: Array, speed: Array, first: int, last: int, noise: Noise
) -> tuple[float, float]:
    """Length [m] of one pass and its standard error, by the smoother."""
    part = slice(first, last + 1)
    sign = 1.0 if run[last] > run[first] else -1.0
    smoothed = smooth(
        times[part],
        sign * run[None, part],
        speed[None, part],
        wander=np.array([noise.position]),
        wander_time=noise.position_time,
        position_sd=np.array([noise.position_new]),
        speed_sd=noise.speed_apart(float(np.median(np.diff(times[part])))),
        start_speed_sd=2.0,
        jerk=_JERK,
    )
    return float(smoothed.distance[0, -1]), float(smoothed.sd(0)[0, -1])


def _mean_at(height: Array, times: Array, index: int) -> float:
    """Height about a fix [m], over the few seconds that one turns there."""
    there = height[np.abs(times - times[index]) <= 3.0]
    there = there[~np.isnan(there)]
    return float(there.mean()) if there.size else np.nan
