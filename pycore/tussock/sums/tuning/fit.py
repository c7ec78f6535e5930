"""The most probable parameters of a notebook, their covariance, the scatter of the pilot, and the slips.

Maximum a posteriori by damped Gauss-Newton steps with Laplace's covariance. Each entry is either as measured,
with the accuracy it was given and the pilot's scatter, or (rarely) a slip of an error `WILD` times as large;
which of the two is told by how well *the other entries and the prior* predict it (leave one out, to first
order), and a probable slip weighs next to nothing. The scatter is estimated along with it from residuals plus
what the parameters leave uncertain (so that a good fit of few entries does not pass for a steady pilot), as a
mean and a spread of its logarithm.

Leading axes are notebooks: many of one composition are fitted at once. One evaluation is one prediction of a
whole notebook from one set of parameters; the Jacobian of an iteration is one broadcast call.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .model import KINDS, Frame, Series, predict_all
from .parameters import NAMES, SCATTER_NAMES, Array, Prior

#: a slip is this many times as wrong as an entry should be
WILD = 8.0
#: evaluations that a fit may take
MOST = 1500
#: step of a difference, in prior spreads
SMALL = 1e-4
#: a step is no longer than this, in prior spreads
LONGEST = 1.5
#: converged: this much is left to be gained (half the square of spreads of the result), and weights move less
GAIN, MOVED = 1e-4, 1e-2
#: points of the scatter's own distribution
GRID = np.linspace(-3.0, 3.0, 31)


@dataclass(frozen=True)
class Fit:
    """What a fit found; the first axis is that of the notebooks, B. N figures one after the other.

    `mean` (B, P) are logarithms with `covariance` (B, P, P). `scatter` and `scatter_sd` (B, S) are of the
    logarithm of the scatter. By figure (B, N): `predicted`, `residual` (measured less predicted), `sigma`
    (its accuracy and scatter), `left_out` (the residual in spreads, predicted without it), `slip`
    (probability).
    """

    mean: Array
    covariance: Array
    scatter: Array
    scatter_sd: Array
    predicted: Array
    residual: Array
    sigma: Array
    left_out: Array
    slip: Array
    converged: Array
    evaluations: int


@dataclass(frozen=True)
class _Data:
    value: Array
    variance: Array
    doubt: Array
    counts: Array
    scatter: Array


def _gathered(series: list[Series]) -> _Data:
    def joined(name: str) -> Array:
        parts = [np.asarray(getattr(one, name), dtype=float) for one in series]
        shape = np.broadcast_shapes(*(part.shape[:-1] for part in parts))
        whole = np.concatenate([np.broadcast_to(p, (*shape, p.shape[-1])) for p in parts], axis=-1)
        return whole.reshape(-1, whole.shape[-1])

    place = np.concatenate(
        [np.full(one.size, SCATTER_NAMES.index(KINDS[one.kind].scatter), dtype=float) for one in series]
    )
    return _Data(joined("value"), joined("sd") ** 2, joined("doubt"), joined("counts"), place)


def fit(prior: Prior, series: list[Series], frame: Frame, most: int = MOST) -> Fit:
    """Fit one notebook, or many of one composition (leading axis of prior, frame and series)."""
    data = _gathered(series)
    batch = np.broadcast_shapes(prior.mean.shape[:-1], data.value.shape[:1])
    count, size = len(NAMES), batch[0]
    mean = np.broadcast_to(prior.mean, (size, count))
    root = np.broadcast_to(prior.root, (size, count, count))
    steps = np.concatenate([np.zeros((1, count)), SMALL * np.eye(count)])
    scatter_place = data.scatter.astype(int)
    evaluations = 0

    def around(z: Array) -> tuple[Array, Array]:
        """Predictions (B, N) at z (B, P) and their slopes (B, N, P), in one call."""
        nonlocal evaluations
        evaluations += count + 1
        u = mean[:, None, :] + np.einsum("bij,bkj->bki", root, z[:, None, :] + steps)
        found = predict_all(series, u, frame)
        return found[:, 0], np.swapaxes(found[:, 1:] - found[:, :1], -1, -2) / SMALL

    z = np.zeros((size, count))
    level = np.broadcast_to(prior.scatter_mean, (size, len(SCATTER_NAMES))).copy()
    level_sd = np.broadcast_to(prior.scatter_sd, level.shape).copy()
    predicted, slopes = around(z)
    weight = np.zeros_like(predicted)
    covariance = np.broadcast_to(np.eye(count), (size, count, count))
    damping = np.zeros(size)
    done = np.zeros(size, dtype=bool)
    slip, left_out = weight, weight
    identity = np.eye(count)
    turn = -1
    while evaluations + count + 1 <= most:
        turn += 1
        residual = data.value - predicted
        variance = data.variance + np.exp(2.0 * level)[:, scatter_place]
        known = np.einsum("bni,bij,bnj->bn", slopes, covariance, slopes)
        slip, left_out = _slips(residual, variance, known, weight, data)
        # an entry is a slip or none, so the likelier of the two counts for more than its share
        fresh = data.counts * (1.0 - slip) ** 2 / ((1.0 - slip) ** 2 + slip**2)
        moved = np.max(np.abs(fresh - weight), axis=-1)
        # slowly, and slower, so that two entries that contradict each other do not take turns
        weight = fresh if turn == 0 else weight + max(0.6 * 0.96**turn, 0.1) * (fresh - weight)
        precision = weight / variance
        curvature = np.einsum("bni,bn,bnj->bij", slopes, precision, slopes) + identity
        covariance = np.linalg.inv(curvature)
        level, level_sd = _scatter(prior, residual, known, data, weight, scatter_place)
        gradient = np.einsum("bni,bn->bi", slopes, precision * residual) - z
        step = np.linalg.solve(curvature + damping[:, None, None] * identity, gradient[..., None])[..., 0]
        step *= np.minimum(1.0, LONGEST / np.maximum(np.linalg.norm(step, axis=-1), 1e-12))[:, None]
        trial, trial_slopes = around(z + step)

        def cost(r: Array, at: Array, precision: Array = precision) -> Array:
            return np.asarray(np.sum(precision * r**2, axis=-1) + np.sum(at**2, axis=-1))

        before, after = cost(residual, z), cost(data.value - trial, z + step)
        better = after <= before + 1e-9 * np.abs(before) + 1e-12
        damping = np.where(better, 0.2 * damping, np.maximum(4.0 * damping, 0.5))
        gain = np.einsum("bi,bij,bj->b", gradient, covariance, gradient)
        done = (gain < GAIN) & (moved < MOVED)
        z = np.where(better[:, None], z + step, z)
        predicted = np.where(better[:, None], trial, predicted)
        slopes = np.where(better[:, None, None], trial_slopes, slopes)
        if np.all(done):
            break
    u = mean + np.einsum("bij,bj->bi", root, z)
    spread = root @ covariance @ np.swapaxes(root, -1, -2)
    variance = data.variance + np.exp(2.0 * level)[:, scatter_place]
    usable = done & np.all(np.isfinite(u), axis=-1) & np.all(np.isfinite(spread), axis=(-1, -2))
    return Fit(
        u,
        spread,
        level,
        level_sd,
        predicted,
        data.value - predicted,
        np.sqrt(variance),
        left_out,
        slip,
        usable,
        evaluations,
    )


def _slips(residual: Array, variance: Array, known: Array, weight: Array, data: _Data) -> tuple[Array, Array]:
    """Probability that each figure is a slip, and its residual in spreads, as predicted without it."""
    taken = np.minimum(weight * known / variance, 0.999)
    without, spread = residual / (1.0 - taken), known / (1.0 - taken)
    sound, wild = variance + spread, WILD**2 * variance + spread
    odds = np.log(data.doubt / (1.0 - data.doubt)) + 0.5 * (
        np.log(sound / wild) + without**2 * (1.0 / sound - 1.0 / wild)
    )
    return 1.0 / (1.0 + np.exp(-np.clip(odds, -50.0, 50.0))), without / np.sqrt(sound)


def _scatter(
    prior: Prior, residual: Array, known: Array, data: _Data, weight: Array, place: Array
) -> tuple[Array, Array]:
    """Mean and spread of the logarithm of each scatter, on a grid of its own prior."""
    found, spread = (
        np.empty((residual.shape[0], len(SCATTER_NAMES))),
        np.empty((residual.shape[0], len(SCATTER_NAMES))),
    )
    squares = residual**2 + known
    for index in range(len(SCATTER_NAMES)):
        grid = prior.scatter_mean[index] + prior.scatter_sd[index] * GRID
        mine = place == index
        variance = data.variance[:, None, mine] + np.exp(2.0 * grid)[:, None]
        fits = np.log(variance) + squares[:, None, mine] / variance
        logs = -0.5 * np.sum(weight[:, None, mine] * fits, axis=-1) - 0.5 * GRID**2
        share = np.exp(logs - np.max(logs, axis=-1, keepdims=True))
        share /= np.sum(share, axis=-1, keepdims=True)
        found[:, index] = np.sum(share * grid, axis=-1)
        spread[:, index] = np.sqrt(np.sum(share * (grid - found[:, index, None]) ** 2, axis=-1))
    return found, spread
