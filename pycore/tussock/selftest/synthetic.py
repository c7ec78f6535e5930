"""Invented aeroplanes, pilots and notebooks of which the truth is known.

Not made by the model of noise that the fit assumes. Truth: constants from the priors of a class; besides
them a torque cutoff, lift and drag in the roll, a wind's worth of turbulence and strips each with a
friction of its own, all of which the fit takes for fixed and right. Pilots: the lift-off and touchdown
speed and the braking vary from run to run (with Student's t of 5 degrees: now and then a clumsy one), not
the distance; each pilot differs in how much. Readings: wind, mass and temperature are read with errors and
used as read; distances are paced or counted in markers, that is rounded; the accuracy that a pilot states
is wrong by a factor of its own.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..sums.air import air_density, isa_pressure
from ..sums.tuning.governor import Governor
from ..sums.tuning.model import Frame, Series, Values, predict, stall
from ..sums.tuning.parameters import (
    CLASS_CURVE,
    DOUBT,
    NAMES,
    Array,
    Prior,
    class_means,
    governed_means,
    named,
    prior_of,
)

#: mixes of entries by size of notebook: take-off roll, of these with 50 ft, landing roll, with 50 ft, climb,
#: level, glide, stall, static
MIXES: dict[int, tuple[tuple[int, ...], ...]] = {
    6: ((2, 1, 1, 1, 1, 1, 0, 1, 0), (3, 1, 1, 0, 1, 0, 1, 0, 0), (2, 0, 2, 1, 1, 1, 0, 0, 0),
        (4, 2, 2, 1, 0, 0, 0, 0, 0), (1, 1, 1, 1, 1, 1, 0, 1, 1)),
    12: ((4, 2, 3, 2, 2, 1, 1, 1, 0), (6, 2, 3, 1, 2, 1, 0, 0, 0), (3, 1, 2, 1, 3, 2, 1, 1, 0),
         (5, 0, 5, 0, 2, 0, 0, 0, 0), (3, 3, 3, 3, 2, 1, 1, 1, 1)),
    40: ((14, 6, 12, 6, 6, 3, 2, 2, 1), (20, 5, 12, 3, 4, 2, 1, 1, 0), (10, 4, 8, 4, 10, 5, 3, 3, 1),
         (18, 0, 18, 0, 4, 0, 0, 0, 0), (12, 12, 12, 12, 6, 4, 3, 2, 1)),
}  # fmt: skip
#: spreads of readings: wind [m/s], mass [1], temperature [K]
WIND_ERROR, MASS_ERROR, HEAT_ERROR = 0.8, 0.01, 1.5
#: how far a strip's friction is from that of its kind of surface
STRIP_FRICTION = 0.15


@dataclass(frozen=True)
class World:
    """B aeroplanes: the truth (B, P), their frames as they are and as the documents have them, the pilots."""

    truth: Array
    frame: Frame
    believed: Frame
    prior: Prior
    about: Values
    #: run-to-run spread of lift-off and touchdown speed, of braking, of 50 ft
    skill: Values


def world(rng: np.random.Generator, size: int, *, governed: bool = False) -> World:
    """`size` aeroplanes of the two- and four-seat classes, of those drawn that an owner would keep.

    Full up at the highest and hottest of the strips, uphill on long grass, they roll less than 1000 m, and
    they climb 150 ft/min. With propellers of fixed pitch, or governed ones.
    """
    many = (_drawn_governed if governed else _drawn)(rng, 4 * size)
    worst = {
        "mass": many.about["largest"][:, None],
        "pressure": np.full((4 * size, 1), float(isa_pressure(2100.0))),
        "temperature": np.full((4 * size, 1), 296.0),
        "headwind": np.zeros((4 * size, 1)),
        "slope": np.full((4 * size, 1), 0.01),
        "friction": np.full((4 * size, 1), 0.08),
    }
    given = aired(conditions(rng, many, 1, landing=False) | worst)
    given |= {"speed": 1.35 * given["stall"] * np.sqrt(1.225 / given["density"])}
    long, rate = (predict(k, many.truth[:, None, :], many.frame, given)[:, 0, 0] for k in ("roll", "climb"))
    kept = np.flatnonzero((long < np.log(1000.0)) & (rate > 0.75))[:size]
    if kept.size < size:
        raise ValueError(f"only {kept.size} of {4 * size} drawn aeroplanes can fly")
    return _only(many, kept)


def _only(many: World, kept: NDArray[np.int64]) -> World:
    def pick(value: Any) -> Any:
        return value[kept] if np.ndim(value) else value

    prior = replace(many.prior, mean=many.prior.mean[kept], root=many.prior.root[kept])
    about, skill = ({k: v[kept] for k, v in part.items()} for part in (many.about, many.skill))
    return World(many.truth[kept], many.frame.each(pick), many.believed.each(pick), prior, about, skill)


def _drawn(rng: np.random.Generator, size: int) -> World:
    big = rng.random(size) < 0.5
    power = np.where(big, 120e3, 75e3) * np.exp(0.06 * rng.standard_normal(size))
    rotation = rng.normal(44.5, 1.0, size)
    diameter = np.where(big, 1.9, 1.8) * np.exp(0.03 * rng.standard_normal(size))
    area, aspect = np.where(big, 16.0, 13.5), np.where(big, 7.2, 8.0)
    largest, slow = np.where(big, 1000.0, 600.0), np.where(big, 24.5, 20.5)
    believed = Frame(area, aspect, diameter, 0.12, 0.85, 0.5, 0.075, 0.3, 0.11, 0.0, 0.12, 1.05)
    frame = _otherwise(rng, believed, size)
    prior = prior_of(class_means(power, rotation, diameter))
    return _flown_by(rng, frame, believed, prior, {"largest": largest, "slow": slow})


def _drawn_governed(rng: np.random.Generator, size: int) -> World:
    """Constant-speed propellers. Each has a curve of its own, that of the documents is the class's.

    It differs at every advance ratio by some 4 %, smoothly; and the governor holds another rotation than the
    documents say, by 1 %.
    """
    big = rng.random(size) < 0.5
    power = np.where(big, 140e3, 85e3) * np.exp(0.06 * rng.standard_normal(size))
    diameter = np.where(big, 1.95, 1.8) * np.exp(0.03 * rng.standard_normal(size))
    area, aspect = np.where(big, 16.0, 13.5), np.where(big, 7.2, 8.0)
    largest, slow = np.where(big, 1150.0, 700.0), np.where(big, 26.0, 22.0)
    points, values = (np.array(part) for part in CLASS_CURVE)
    governor = Governor(np.full(size, 45.0), points, values)
    believed = Frame(area, aspect, diameter, 0.12, 0.85, 0.5, 0.075, 0.3, 0.11, 0.0, 0.12, 1.05, governor)
    waves = rng.standard_normal((size, 2)) @ np.stack([np.sin(2.5 * points), np.cos(4.0 * points)])
    own = Governor(
        45.0 * np.exp(0.01 * rng.standard_normal(size)),
        points,
        np.minimum(values * np.exp(0.04 * waves), 0.9),
    )
    frame = replace(_otherwise(rng, believed, size), governor=own)
    prior = prior_of(governed_means(power, diameter), governed=True)
    return _flown_by(rng, frame, believed, prior, {"largest": largest, "slow": slow})


def _otherwise(rng: np.random.Generator, believed: Frame, size: int) -> Frame:
    """The frame as it is, where the documents are wrong."""
    return replace(
        believed,
        torque_cutoff=np.clip(rng.normal(0.12, 0.015, size), 0.0, 0.3),
        roll_lift=rng.normal(0.5, 0.1, size),
        roll_drag=0.075 * np.exp(0.15 * rng.standard_normal(size)),
        landing_roll_lift=rng.normal(0.3, 0.08, size),
        landing_roll_drag=0.11 * np.exp(0.15 * rng.standard_normal(size)),
        induced_at_lift_off=np.full(size, 0.85),
    )


def _flown_by(rng: np.random.Generator, frame: Frame, believed: Frame, prior: Prior, about: Values) -> World:
    """With constants of each, and its pilot."""
    size = about["largest"].size
    truth = prior.mean + np.einsum("bij,bj->bi", prior.root, rng.standard_normal((size, len(NAMES))))

    def own(middle: float) -> Array:
        return np.asarray(middle * np.exp(0.3 * rng.standard_normal(size)), dtype=float)

    skill = {"speed": own(0.03), "braking": own(0.08), "away": own(0.10), "air": own(0.2)}
    return World(truth, frame, believed, prior, about, skill)


#: heights [m] of strips, and masses as parts of the largest
HEIGHTS, MASSES = (300.0, 2100.0), (0.72, 1.0)


def conditions(
    rng: np.random.Generator,
    made: World,
    count: int,
    *,
    landing: bool,
    heights: tuple[float, float] = HEIGHTS,
    masses: tuple[float, float] = MASSES,
) -> Values:
    """`count` runs a piece: where, how heavy and in which air, as they truly are."""
    size = made.truth.shape[0]
    shape = (size, count)
    # the higher the strip, the less they take: nobody flies what does not come off the ground
    height = rng.uniform(*heights, shape)
    mass = made.about["largest"][:, None] * rng.uniform(*masses, shape) * (1.0 - 0.05 * height / 2100.0)
    pressure = np.asarray(isa_pressure(height))
    temperature = 288.15 - 0.0065 * height + rng.normal(6.0, 8.0, shape)
    slope = np.clip(rng.normal(0.0, 0.008, shape), -0.02, 0.02)
    surface = rng.choice([0.04, 0.05, 0.06, 0.08], shape)
    return {
        "mass": mass,
        "pressure": pressure,
        "temperature": temperature,
        "headwind": np.clip(rng.normal(1.5, 2.0, shape), -2.0, 7.0),
        "slope": slope,
        "slope_away": np.maximum(slope, 0.0),
        "friction": surface,
        "braking": np.where(surface > 0.055, 0.20, 0.24),
        "stall": np.broadcast_to(made.about["slow"][:, None] * (0.93 if landing else 1.0), shape),
        "stall_mass": np.broadcast_to(made.about["largest"][:, None], shape),
        "lift_off_factor": np.full(shape, 1.12),
        "at_50ft_factor": np.full(shape, 1.22),
        "touchdown_factor": np.full(shape, 1.12),
        "flap_drag": np.full(shape, 0.012 if landing else 0.003),
        "gust": np.zeros(shape),
        "from_height": np.full(shape, 15.24),
    }


def aired(given: Values) -> Values:
    """With the densities of (dry) air at its pressure and temperature."""
    density = np.asarray(air_density(given["pressure"], given["temperature"], 0.0 * given["pressure"]))
    return given | {"density": density, "dry_density": density}


def as_read(rng: np.random.Generator, given: Values) -> Values:
    """The same as somebody at the strip would write it down."""
    shape = given["mass"].shape
    return aired(
        given
        | {
            "headwind": given["headwind"] + rng.normal(0.0, WIND_ERROR, shape),
            "mass": given["mass"] * np.exp(rng.normal(0.0, MASS_ERROR, shape)),
            "temperature": given["temperature"] + rng.normal(0.0, HEAT_ERROR, shape),
        }
    )


def _clumsy(rng: np.random.Generator, spread: Array, shape: tuple[int, ...]) -> Array:
    """Student's t of 5 degrees, of standard deviation `spread`."""
    return np.asarray(spread[:, None] * rng.standard_t(5.0, shape) / np.sqrt(5.0 / 3.0))


def flown(rng: np.random.Generator, made: World, given: Values, *, landing: bool) -> tuple[Array, Array]:
    """True rolls and ways through the air [m] of runs in true conditions, this pilot's hand in them."""
    given = aired(given)
    shape = given["mass"].shape
    strips = np.exp(STRIP_FRICTION * rng.standard_normal(shape))
    if landing:
        hand = np.exp(_clumsy(rng, made.skill["braking"], shape))
        speed = np.exp(_clumsy(rng, made.skill["speed"], shape))
        own = given | {
            "touchdown_factor": given["touchdown_factor"] * speed,
            "braking": given["braking"] * strips**0.5 * hand,
        }
        away = np.exp(_clumsy(rng, made.skill["air"], shape))
        kinds = ("landing", "arrival")
    else:
        speed = np.exp(_clumsy(rng, made.skill["speed"], shape))
        own = given | {
            "lift_off_factor": given["lift_off_factor"] * speed,
            "friction": given["friction"] * strips,
        }
        away = np.exp(_clumsy(rng, made.skill["away"], shape))
        kinds = ("roll", "away")
    roll, air = (np.exp(predict(kind, made.truth[:, None, :], made.frame, own)[:, 0]) for kind in kinds)
    return roll, air * away


def _noted(rng: np.random.Generator, distance: Array, stated: Array) -> tuple[Array, Array]:
    """A distance as noted down, and the spread of its logarithm that the pilot states for it."""
    good = rng.random(distance.shape) < 0.5
    # paced to five metres or so, or counted in markers twenty metres apart
    error = np.where(good, 0.03, 0.05)
    read = distance * np.exp(error * rng.standard_normal(distance.shape))
    step = np.where(good, 5.0, 10.0)
    read = np.maximum(np.round(read / step) * step, step)
    true_spread = np.sqrt(error**2 + (0.29 * step / distance) ** 2)
    return read, true_spread * stated[:, None]


def _series(kind: str, given: Values, value: Array, sd: Array, start: int) -> Series:
    count = value.shape[-1]
    return Series(
        kind,
        given,
        value,
        np.broadcast_to(sd, value.shape),
        np.full(count, DOUBT),
        np.ones(count),
        tuple(range(start, start + count)),
    )


def notebook(
    rng: np.random.Generator,
    made: World,
    mix: tuple[int, ...],
    heights: tuple[float, float] = HEIGHTS,
    masses: tuple[float, float] = MASSES,
) -> list[Series]:
    """A notebook of one composition for every aeroplane, with realistic noise, as the fit takes it.

    Its runs at strips and masses between `heights` and `masses`.
    """
    takeoffs, over, landings, from_over, climb, level, glide, stalls, static = mix
    size = made.truth.shape[0]
    stated = np.exp(0.25 * rng.standard_normal(size))
    found: list[Series] = []
    start = 0
    for landing, count, whole in ((False, takeoffs, over), (True, landings, from_over)):
        given = conditions(rng, made, count, landing=landing, heights=heights, masses=masses)
        roll, air = flown(rng, made, given, landing=landing)
        read = as_read(rng, given)
        noted, sd = _noted(rng, roll, stated)
        # what the wind and the mass may have been besides: told by the readings' own accuracy
        sd = np.hypot(sd, reading_spread("landing" if landing else "roll", made, read))
        found.append(_series("landing" if landing else "roll", read, np.log(noted), sd, start))
        if whole:
            part = {name: value[:, :whole] for name, value in read.items()}
            noted, sd = _noted(rng, air[:, :whole], stated)
            found.append(_series("arrival" if landing else "away", part, np.log(noted), sd, start))
        start += count
    for kind, count, error in (("climb", climb, 0.2), ("level", level, 0.015), ("glide", glide, 0.2),
                            ("stall", stalls, 0.04), ("static", static, 0.006)):  # fmt: skip
        if count:
            found.append(_aloft(rng, made, kind, count, error, start))
            start += count
    return found


def _aloft(rng: np.random.Generator, made: World, kind: str, count: int, sd: float, start: int) -> Series:
    """Entries that are no runs: rates in air that moves, speeds off a dial."""
    given = conditions(rng, made, count, landing=False)
    shape = given["mass"].shape
    if kind != "static":
        higher = rng.uniform(800.0, 2600.0, shape)
        lapse = 288.15 - 0.0065 * higher
        given = given | {"pressure": np.asarray(isa_pressure(higher)), "temperature": lapse}
    given = given | {"temperature": given["temperature"] + rng.normal(0.0, 6.0, shape)}
    given |= {"flap_drag": np.zeros(shape)}
    given = aired(given)
    # flown some 1.35 times the stall, or what that pilot holds for it
    speed = 1.35 * stall(named(made.prior.mean[:, None, :]), {k: v[:, None] for k, v in given.items()})[:, 0]
    given |= {"speed": speed * np.sqrt(1.225 / given["density"]) * rng.uniform(0.95, 1.1, shape)}
    true = predict(kind, made.truth[:, None, :], made.frame, given)[:, 0]
    read = as_read(rng, given) | {"speed": given["speed"] * np.exp(rng.normal(0.0, 0.015, shape))}
    if kind in ("climb", "glide"):
        # lift and sink of the air, and a stopwatch
        noted = np.round((true + rng.normal(0.0, 0.3, shape)) / 0.05) * 0.05
    else:
        noted = true + rng.normal(0.0, sd, shape)
    spread = reading_spread(kind, made, read) if kind in ("climb", "glide") else 0.0
    return _series(kind, read, noted, np.hypot(sd, spread), start)


def reading_spread(kind: str, made: World, read: Values) -> Array:
    """Spread of a figure by what wind, mass and speed may have been besides, to first order."""
    at = made.prior.mean[:, None, :]

    def looked(given: Values) -> Array:
        return predict(kind, at, made.believed, given)[:, 0]

    here = looked(read)
    parts = [looked(read | {"mass": read["mass"] * (1 + MASS_ERROR)}) - here]
    if kind in ("roll", "landing"):
        parts.append(looked(read | {"headwind": read["headwind"] + WIND_ERROR}) - here)
    if "speed" in read:
        parts.append(looked(read | {"speed": read["speed"] * 1.015}) - here)
    return np.asarray(np.sqrt(np.sum(np.square(parts), axis=0)))


def spoiled(rng: np.random.Generator, series: list[Series]) -> tuple[list[Series], list[Series]]:
    """One roll of each notebook gone wrong by a unit (feet for metres); and the notebook without it."""
    first = series[0]
    assert first.kind == "roll"
    up = rng.random(first.value.shape[0]) < 0.5
    value = first.value.copy()
    value[:, 0] += np.where(up, 1.0, -1.0) * np.log(3.2808)
    counts = np.ones(first.size)
    counts[0] = 0.0
    wrong, without = [replace(first, value=value)], [replace(first, counts=counts)]
    for other in series[1:]:
        # the way to 50 ft of that same run is out of it in both
        if other.kind == "away":
            off = np.ones(other.size)
            off[0] = 0.0
            other = replace(other, counts=off)
        wrong.append(other)
        without.append(other)
    return wrong, without
