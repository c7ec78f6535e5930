"""One take-off or landing measured: roll, the moment of leaving or touching the ground, climb or descent."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from .kink import LANDING, TAKEOFF, Habits, Moment, moment
from .noise import Array, Noise
from .runs import Run
from .smoother import Smoothed, smooth

#: Obstacle height of take-off and landing distances [m], 50 ft.
SCREEN = 15.24
#: A gap so long about the lift-off hides it [s]; fixes further apart than `COARSE` can't tell it at all.
GAP, COARSE = 4.5, 2.6
#: Without speeds from the receiver, fixes further apart than this are too coarse [s].
COARSE_BY_POSITION = 1.6
#: A roll is told when it is this near (a part of it) with such a chance; with less than the other it is none
#: at all, and in between a rough one, to be taken as such by a person.
NEAR, SURE, ROUGH = 0.10, 0.86, 0.35
#: Rough without so many speeds in the roll, and a climb or descent clear by so many standard errors.
FIXES, CLEAR = 6, 3.0
#: Mean square misfit, in units of the receiver's usual errors, beyond which it went otherwise than modelled.
MISFIT = 2.0


@dataclass(frozen=True)
class Told:
    """A figure with its standard error, both SI."""

    value: float
    sd: float


@dataclass(frozen=True)
class Measured:
    """Figures of a run, or the `reason` why not. `fixes`: time [s], along, across [m], speed, height.

    A run with a reason may have figures: a rough roll. `held` is the chance that the roll is within `NEAR`.
    """

    what: str
    reason: str = ""
    values: dict[str, float] = field(default_factory=dict)
    cautions: list[tuple[str, dict[str, float]]] = field(default_factory=list)
    #: time of leaving or touching the ground [s], and of the other end of the roll
    at: float = np.nan
    at_sd: float = np.nan
    end: float = np.nan
    bearing: float = np.nan
    figures: dict[str, Told] = field(default_factory=dict)
    fixes: Array = field(default_factory=lambda: np.zeros((0, 5)))
    held: float = 0.0


@dataclass(frozen=True)
class Fixes:
    """Fixes at rising times [s]: east and north [m] of any origin, height [m], speed [m/s], nan: none."""

    times: Array
    east: Array
    north: Array
    height: Array
    speed: Array
    #: speeds as used: recorded, or from positions
    used: Array

    def part(self, start: int, end: int) -> Fixes:
        return Fixes(*(getattr(self, name)[start : end + 1] for name in self.__dataclass_fields__))

    def reversed(self) -> Fixes:
        turned = {name: getattr(self, name)[::-1] for name in self.__dataclass_fields__}
        return Fixes(**turned | {"times": -turned["times"]})


def measure(run: Run, fixes: Fixes, noise: Noise, headwind: float = 0.0) -> Measured:
    """The figures of a run. A landing is measured as a take-off in reversed time.

    `headwind` [m/s] makes the airspeed out of that over the ground, where speed is exchanged for height.
    """
    if run.reason:
        return Measured(run.what, run.reason, at=float(fixes.times[run.crossing]))
    landing = run.what == "landing"
    if landing:
        last = len(fixes.times) - 1
        fixes, run = fixes.reversed(), Run(run.what, last - run.end, last - run.start, last - run.crossing)
    found = _measure(run, fixes, noise, headwind, landing)
    if not landing:
        return found
    table = found.fixes[::-1].copy()
    table[:, 0] *= -1.0
    return Measured(
        found.what,
        found.reason,
        found.values,
        found.cautions,
        -found.at,
        found.at_sd,
        -found.end,
        (found.bearing + np.pi) % (2 * np.pi),
        found.figures,
        table,
        found.held,
    )


def _measure(run: Run, fixes: Fixes, noise: Noise, headwind: float, landing: bool) -> Measured:
    times, has_speed = fixes.times, ~np.isnan(fixes.speed)
    began = float(times[run.start])
    # far enough to see the climb; no further than the stretch at speed
    until = int(np.searchsorted(times, times[run.crossing] + 60.0))
    part = fixes.part(run.start, min(until, run.end))
    refused = _too_thin(run, fixes, has_speed)
    if refused:
        return Measured(run.what, *refused, at=float(times[run.crossing]))
    airspeed = max(float(np.median(part.used[part.used > 12.0])) + headwind, 10.0)
    habits = LANDING if landing else TAKEOFF
    moment_ = _leaving(part, noise, airspeed, habits)
    if moment_ is None:
        return Measured(run.what, "too_few", {"fixes": float(len(part.times))}, at=float(times[run.crossing]))
    if moment_.misfit > MISFIT:
        return Measured(run.what, "unlike", at=moment_.time)
    if _gap_at(times, moment_.time - 2.0, moment_.time + 3.0) > GAP:
        gap = _gap_at(times, moment_.time - 2.0, moment_.time + 3.0)
        return Measured(run.what, "gap", {"seconds": gap}, at=moment_.time)

    bearing, along, across = _line(part, moment_.time)
    if bearing != bearing:
        return Measured(run.what, "not_straight", at=moment_.time)
    nodes = np.union1d(part.times[part.times >= began], [moment_.time])
    smoothed = _smoothed(nodes, part, along, across, noise)
    here = int(np.searchsorted(nodes, moment_.time))
    speed = float(smoothed.speed[0, here])
    roll = float(smoothed.distance[0, here])
    start_speed = float(part.used[0])
    # where exactly it began, or came to a stand, and what the receiver adds on the way
    own = float(np.hypot(smoothed.sd(0)[0, here], 1.0 + start_speed))
    own = float(np.hypot(own, habits.model_sd * speed))
    sd = float(np.hypot(own, speed * moment_.spread))
    figures = {
        "roll": Told(roll, sd),
        "speed": Told(speed, float(np.hypot(smoothed.sd(1)[0, here], 0.6 * moment_.sd))),
    }
    rolls = roll + speed * (moment_.moments - moment_.time)
    held = _within(roll, rolls, moment_.chances, own)
    speeds = int(np.count_nonzero(has_speed[run.start :] & (times[run.start :] < moment_.time)))
    seen = moment_.rate > max(CLEAR * moment_.rate_sd, 0.8)
    vague = "" if held >= SURE and speeds >= FIXES and seen else "too_vague"
    values = {"roll": roll, "sd": sd} if vague else {}
    if roll <= 0.0 or held < ROUGH:
        return Measured(run.what, vague, values, at=moment_.time)
    cautions: list[tuple[str, dict[str, float]]] = []
    if start_speed > 2.0:
        cautions.append(("rolling", {"speed": start_speed}))
    if smoothed.wild:
        cautions.append(("wild", {"n": float(smoothed.wild)}))
    if not has_speed[run.start : run.crossing + 1].mean() > 0.5:
        cautions.append(("no_speed", {}))
    figures |= _airborne(nodes, smoothed, moment_, roll, sd, speed, part, noise)
    table = np.column_stack(
        [
            nodes,
            smoothed.distance[0],
            smoothed.distance[1],
            smoothed.speed[0],
            smoothed.distance[2] if not np.isnan(part.height).all() else np.full(len(nodes), np.nan),
        ]
    )
    return Measured(
        run.what, vague, values, cautions, moment_.time, moment_.sd, began, bearing, figures, table, held
    )


def _within(told: float, rolls: Array, chances: Array, own: float) -> float:
    """The chance that the true roll is within `NEAR` of it of `told`.

    It may be any of `rolls` [m] with their `chances`, each with an error of `own` [m] besides (its sd).
    """

    def below(value: float) -> float:
        return float(
            chances @ [0.5 * (1.0 + math.erf((value - one) / own / math.sqrt(2.0))) for one in rolls]
        )

    return below(told / (1.0 - NEAR)) - below(told / (1.0 + NEAR))


def _too_thin(run: Run, fixes: Fixes, has_speed: Array) -> tuple[str, dict[str, float]] | None:
    """Why these fixes can't tell, or None."""
    roll = fixes.times[run.start : run.crossing + 2]
    if len(roll) < 4:
        return "too_few", {"fixes": float(len(roll))}
    apart = float(np.median(np.diff(fixes.times[run.start : run.crossing + 15])))
    by_speed = has_speed[run.start : run.crossing + 8].mean() > 0.6
    if not by_speed and apart > COARSE_BY_POSITION:
        return "no_speed_coarse", {"seconds": apart}
    if apart > COARSE:
        return "coarse", {"seconds": apart}
    return None


def _gap_at(times: Array, start: float, end: float) -> float:
    """The longest time between neighbouring fixes anywhere between `start` and `end` [s]."""
    first = max(int(np.searchsorted(times, start)) - 1, 0)
    last = min(int(np.searchsorted(times, end)) + 1, len(times))
    steps = np.diff(times[first:last])
    return float(steps.max()) if steps.size else np.inf


def _leaving(part: Fixes, noise: Noise, airspeed: float, habits: Habits) -> Moment | None:
    """When it left the ground; first roughly over the whole run, then finely about what was found."""
    times, speed = part.times, part.used
    by_position = np.isnan(part.speed).mean() > 0.5
    if by_position:  # differences of positions two fixes apart are much noisier than a Doppler speed
        noise = Noise(
            **noise.__dict__ | {"speed": 0.6 * noise.position_new, "speed_new": 0.5 * noise.position_new}
        )
    top = float(np.quantile(speed[speed > 12.0], 0.8))
    rises = int(np.argmax(speed > 0.2 * top))
    fast = int(np.argmax(speed > 0.55 * top))
    levels = (
        times[fast] + 25.0 if not (speed > 0.97 * top).any() else times[int(np.argmax(speed > 0.97 * top))]
    )
    guesses = np.arange(times[fast], max(min(levels + 4.0, times[-1] - 5.0), times[fast] + 2.0), 0.5)
    found: Moment | None = None
    for step in (None, 0.2):
        if step is not None and found is not None:
            reach = float(np.clip(4.0 * found.sd, 2.5, 8.0))
            guesses = np.arange(max(found.time - reach, times[rises] + 3.0), found.time + reach, step)
        window = (times >= times[rises]) & (times <= guesses[-1] + habits.window)
        found = moment(times[window], speed[window], part.height[window], guesses, airspeed, noise, habits)
        if found is None:
            return None
    return found


def _line(part: Fixes, until: float) -> tuple[float, Array, Array]:
    """Bearing [rad] of the straight line of the roll, and the fixes along and across it [m]."""
    rolling = (part.times <= until + 2.0) & (part.used > 4.0)
    if rolling.sum() < 3:
        return np.nan, part.east, part.north
    points = np.column_stack([part.east[rolling], part.north[rolling]])
    middle = points.mean(axis=0)
    _, size, axes = np.linalg.svd(points - middle, full_matrices=False)
    way = axes[0] if (points[-1] - points[0]) @ axes[0] > 0 else -axes[0]
    if size[1] > 0.2 * size[0]:
        return np.nan, part.east, part.north
    east, north = part.east - middle[0], part.north - middle[1]
    bearing = float(np.arctan2(way[0], way[1])) % (2 * np.pi)
    return bearing, east * way[0] + north * way[1], east * way[1] - north * way[0]


def _smoothed(nodes: Array, part: Fixes, along: Array, across: Array, noise: Noise) -> Smoothed:
    """Along, across and up at the nodes: those of the fixes, and others without measurements."""
    at = np.searchsorted(nodes, part.times)
    position, speed = np.full((3, len(nodes)), np.nan), np.full((3, len(nodes)), np.nan)
    position[0, at], position[1, at], position[2, at] = along, across, part.height
    speed[0, at] = part.speed
    step = float(np.median(np.diff(part.times)))
    return smooth(
        nodes,
        position,
        speed,
        wander=np.array([noise.position, noise.position, noise.height]),
        wander_time=noise.position_time,
        position_sd=np.array([noise.position_new, noise.position_new, noise.height_new]),
        speed_sd=noise.speed_apart(step),
    )


def _airborne(
    nodes: Array,
    smoothed: Smoothed,
    left: Moment,
    roll: float,
    sd: float,
    speed: float,
    part: Fixes,
    noise: Noise,
) -> dict[str, Told]:
    """Rate of climb after the lift-off (of descent before the touchdown) and the distance at 50 ft."""
    if np.isnan(part.height).mean() > 0.3:
        return {}
    figures: dict[str, Told] = {}
    steady = (part.times > left.time + 6.0) & (part.times < left.time + 40.0) & ~np.isnan(part.height)
    if steady.sum() > 12:
        t, h = part.times[steady], part.height[steady]
        length = float(t[-1] - t[0])
        slope = float(np.polyfit(t - t.mean(), h, 1)[0])
        rate_sd = noise.height_drift(length) / length * 1.2
        if rate_sd < 0.25 * abs(slope):
            figures["rate"] = Told(slope, rate_sd)
            figures["climb_speed"] = Told(
                float(np.median(part.used[steady])), float(np.std(part.used[steady]) / 3.0 + 0.2)
            )
    # where the smoothed height has risen by 50 ft above that of the roll
    ground = float(np.median(smoothed.distance[2][nodes <= left.time]))
    above = smoothed.distance[2] - ground
    over = np.flatnonzero((nodes > left.time) & (above >= SCREEN))
    if over.size and over[0] > 0 and left.rate > 0.5:
        k = int(over[0])
        share = (SCREEN - above[k - 1]) / max(above[k] - above[k - 1], 1e-6)
        distance = float(np.interp(share, [0, 1], smoothed.distance[0, k - 1 : k + 1]))
        passed = float(np.interp(share, [0, 1], nodes[k - 1 : k + 1]))
        gradient = left.rate / max(float(np.interp(passed, nodes, smoothed.speed[0])), 5.0)
        rise_sd = noise.height_drift(passed - left.time) * 1.2
        figures["over_50ft"] = Told(distance, float(np.hypot(rise_sd / gradient, 0.5 * sd)))
    return figures
