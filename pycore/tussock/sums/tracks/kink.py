"""When the wheels left the ground: the acceleration changes, the height begins to rise.

The speed before it is a parabola in time; from it on the acceleration differs by a step and a slope; a climb
sets in a while later and takes its energy from the speed. For each moment, delay and softness of a grid the
coefficients are fitted by generalised least squares with weak priors, and integrated out; what is left is how
probable each moment is, so that its standard error is its own and not that of a formula.
A landing is the same in reversed time, with a float in place of the delay.
Source: marginal likelihood of a linear Gaussian model, e.g. Bishop, Pattern Recognition and Machine Learning
(2006), 3.5.1; the shape of the model is ours.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .noise import Array, Noise, covariance

_G0 = 9.80665
_BELIEF = 30.0


@dataclass(frozen=True)
class Habits:
    """What is likely beforehand, of a take-off or, in reversed time, of a landing."""

    #: seconds from leaving the ground to the beginning of the climb, and how unlikely a long time is
    delays: tuple[float, ...]
    delay: float
    shape: float
    #: how softly the climb sets in [s]
    softness: tuple[float, ...]
    #: step of the acceleration at that moment [m/s²], and its standard deviation
    step: float
    step_sd: float
    #: how the acceleration changes with time, on the ground [m/s³], and its standard deviation
    bend: float
    bend_sd: float
    #: by how much that is another in the air, beside the climb [m/s³], and its standard deviation
    air: float
    air_sd: float
    #: what the model itself may be out by [s]
    model_sd: float
    #: how long the aeroplane in the air is looked at [s]
    window: float

    def weights(self) -> Array:
        """How probable each of `delays` is: a gamma distribution of their scale and shape."""
        known = np.array(self.delays)
        share = np.gradient(known) * (known + 0.25) ** (self.shape - 1.0) * np.exp(-known / self.delay)
        return np.asarray(share / share.sum())


TAKEOFF = Habits(
    delays=(0.0, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.5),
    delay=1.5,
    shape=1.4,
    softness=(0.7, 1.5, 2.5),
    step=-0.4,
    step_sd=0.25,
    bend=-0.06,
    bend_sd=0.05,
    air=0.04,
    air_sd=0.03,
    model_sd=0.15,
    window=14.0,
)
LANDING = Habits(
    delays=(0.0, 1.0, 2.0, 3.0, 4.5, 6.0, 8.0),
    delay=2.0,
    shape=2.0,
    softness=(0.7, 1.5, 2.5),
    step=-0.8,
    step_sd=0.5,
    bend=-0.05,
    bend_sd=0.07,
    air=0.03,
    air_sd=0.08,
    model_sd=0.2,
    window=20.0,
)


@dataclass(frozen=True)
class Moment:
    """The moment and its standard error [s], rate of climb after it and its own [m/s], and the misfit.

    `spread` is that part of the standard error that the fixes leave, without what the model may be out by.
    """

    time: float
    sd: float
    spread: float
    rate: float
    rate_sd: float
    misfit: float
    #: moments that were tried [s] and how probable each is
    moments: Array
    chances: Array


def _rise(since: Array, softness: Array) -> Array:
    """Integral of 1 - exp(-t/T) from zero on [s]: the height after a soft beginning of a climb of 1 m/s."""
    after = np.maximum(since, 0.0)
    return np.asarray(after - softness * (1.0 - np.exp(-after / softness)))


def _whiten(
    times: Array, sd: float, lasting: float, new: float, columns: Array, values: Array
) -> tuple[Array, Array]:
    """Columns (cells, n, p) and values (n) freed of the correlation of the errors."""
    lower = np.linalg.cholesky(covariance(times, sd, lasting, new))
    inverse = np.linalg.inv(lower)
    return inverse @ columns, inverse @ values


def moment(
    times: Array,
    speed: Array,
    height: Array,
    guesses: Array,
    airspeed: float,
    noise: Noise,
    habits: Habits,
) -> Moment | None:
    """The moment of leaving the ground from speeds [m/s] and heights [m] (nan where none) at `times` [s].

    `guesses`: moments to try [s]. `airspeed`: about how fast it was then [m/s], for the exchange of speed and
    height. None where fewer than 4 speeds lie before or after.
    """
    grid = np.array([(g, d, c) for g in guesses for d in habits.delays for c in habits.softness])
    at, delay, softness = (grid[:, i, None] for i in range(3))
    origin = float(guesses.mean())

    def speed_columns(t: Array) -> Array:
        before, since = t[None, :] - origin, np.maximum(t[None, :] - at, 0.0)
        climb = -(_G0 / airspeed) * _rise(t[None, :] - at - delay, softness)
        one = np.ones_like(since)
        zero = np.zeros_like(since)
        bend = before**2 / 2.0 * one
        return np.stack([one, before * one, bend, since, since**2 / 2.0, climb, climb, zero], axis=-1)

    def height_columns(t: Array) -> Array:
        rise = _rise(t[None, :] - at - delay, softness)
        zero = np.zeros_like(rise)
        return np.stack([*[zero] * 5, rise, zero, np.ones_like(rise)], axis=-1)

    has_speed, has_height = ~np.isnan(speed), ~np.isnan(height)
    middle = origin
    if min((times[has_speed] < middle).sum(), (times[has_speed] > middle).sum()) < 4:
        return None
    t = times[has_speed]
    parts = [_whiten(t, noise.speed, noise.speed_time, noise.speed_new, speed_columns(t), speed[has_speed])]
    if has_height.sum() >= 5:
        t = times[has_height]
        level = height[has_height] - np.median(height[has_height])
        parts.append(_whiten(t, noise.height, noise.height_time, noise.height_new, height_columns(t), level))
    columns = np.concatenate([part[0] for part in parts], axis=1)
    values = np.concatenate([part[1] for part in parts])

    #      level  slope  bend  step  slope of it  climb  its exchange  ground
    expected = np.array([0.0, 0.0, habits.bend, habits.step, habits.air, 2.5, 0.0, 0.0])
    spread = np.array([60.0, 3.0, habits.bend_sd, habits.step_sd, habits.air_sd, 2.0, 0.4, 100.0])
    weight = 1.0 / spread**2
    normal = np.swapaxes(columns, 1, 2) @ columns + np.diag(weight)
    right = np.einsum("cnp,n->cp", columns, values) + weight * expected
    solved = np.linalg.solve(normal, right[..., None])[..., 0]
    rest = values @ values + (weight * expected) @ expected - np.einsum("cp,cp->c", right, solved)
    _, size = np.linalg.slogdet(normal)
    misfit = float(rest.min()) / max(len(values) - 5, 1)
    # how large this receiver's errors are is not known either: as if _BELIEF fixes had shown the usual ones
    count = len(values) + _BELIEF
    scale = max((float(rest.min()) + _BELIEF) / count, misfit if misfit > 1.0 else 0.0)
    likely = (
        -0.5 * count * np.log(rest + _BELIEF)
        - 0.5 * size
        + np.log(np.interp(grid[:, 1], habits.delays, habits.weights()))
    )
    chance = np.exp(likely - likely.max())
    chance /= chance.sum()
    mean = float(chance @ grid[:, 0])
    scatter = float(chance @ (grid[:, 0] - mean) ** 2)
    rate = float(chance @ solved[:, 5])
    own = np.linalg.inv(normal)[:, 5, 5] * scale
    rate_var = float(chance @ (own + (solved[:, 5] - rate) ** 2))
    chances = chance.reshape(len(guesses), -1).sum(axis=1)
    sd = float(np.sqrt(scatter + habits.model_sd**2))
    return Moment(
        mean,
        sd,
        float(np.sqrt(scatter)),
        rate,
        float(np.sqrt(rate_var)),
        misfit,
        np.asarray(guesses),
        chances,
    )
