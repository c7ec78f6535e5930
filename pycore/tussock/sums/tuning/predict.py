"""Draws from a fit: what the next runs of this aeroplane, flown as usual, may take.

Uncertain parameters and the pilot's scatter are in every draw, so that its quantiles are predictive. A
whole run of draws is one chain of NumPy calls. The parameters' part is carried to first order in the
logarithm of the figure: that is what Laplace's covariance by Gauss-Newton belongs to. (The full model on
the same draws strays from the posterior along what the notebook leaves open, where the notebook's own
predictions would bend too, and comes out some 2 % long; `exact` does that, to compare.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np

from .fit import Fit
from .model import KINDS, NEVER, Frame, Values, predict
from .parameters import NAMES, SCATTER_NAMES, Array

DRAWS = 10_000
SEED = 20_26
_STEP = 1e-4


@dataclass(frozen=True)
class Draws:
    """Draws of parameters and of chance.

    `mean` (..., P) the most probable parameters, `offset` (..., D, P) about them, `scatter` (..., D, S),
    `luck` (..., D, 2) standard normal: what chance does to a single run. Parameters are logarithms.
    """

    mean: Array
    offset: Array
    scatter: Array
    luck: Array


class Band(NamedTuple):
    """5 %, 50 % and 95 % quantiles: the 90 % band; its upper end is the one-sided upper 95 %."""

    low: Array
    median: Array
    high: Array


def draws_of(found: Fit, count: int = DRAWS, seed: int = SEED) -> Draws:
    """`count` draws for each notebook of a fit; the second half mirrors the first."""
    rng = np.random.default_rng(seed)
    size, half = found.mean.shape[0], (count + 1) // 2
    deviates = rng.standard_normal((half, len(NAMES) + len(SCATTER_NAMES) + 2))
    deviates = np.concatenate([deviates, -deviates])[:count]
    own, wobble, luck = np.split(deviates, [len(NAMES), len(NAMES) + len(SCATTER_NAMES)], axis=-1)
    # luck is not to mirror along with the parameters
    luck = np.roll(luck, count // 4, axis=0)
    lower = np.linalg.cholesky(found.covariance + 1e-14 * np.eye(len(NAMES)))
    offset = np.einsum("bij,dj->bdi", lower, own)
    scatter = np.exp(found.scatter[:, None, :] + found.scatter_sd[:, None, :] * wobble)
    return Draws(found.mean, offset, scatter, np.broadcast_to(luck, (size, *luck.shape)))


def widened(draws: Draws, more: float) -> Draws:
    """With the scatter of every figure made wider by a spread `more` of the logarithm."""
    return replace(draws, scatter=np.sqrt(draws.scatter**2 + more**2))


def drawn(draws: Draws, kind: str, frame: Frame, given: Values, *, exact: bool = False) -> Array:
    """One kind of figure for each draw, without chance, as predicted (a logarithm or a rate): (..., D, N)."""
    if exact:
        return predict(kind, draws.mean[..., None, :] + draws.offset, frame, given)
    steps = np.concatenate([np.zeros((1, len(NAMES))), _STEP * np.eye(len(NAMES))])
    looked = predict(kind, draws.mean[..., None, :] + steps, frame, given)
    slopes = (looked[..., 1:, :] - looked[..., :1, :]) / _STEP
    found = looked[..., :1, :] + draws.offset @ slopes
    # where it never happens, or nearly never, a slope tells nothing
    return np.where(np.any(looked >= NEVER, axis=-2, keepdims=True), NEVER, found)


def runs(
    draws: Draws, frame: Frame, given: Values, *, landing: bool = False, exact: bool = False
) -> tuple[Array, Array]:
    """Rolls and distances over 50 ft [m] of the draws, (..., D, N) each; `inf` where it never lifts off."""
    parts = []
    for index, kind in enumerate(("landing", "arrival") if landing else ("roll", "away")):
        own = draws.scatter[..., SCATTER_NAMES.index(KINDS[kind].scatter)]
        logs = drawn(draws, kind, frame, given, exact=exact)
        logs = np.where(logs >= NEVER, np.inf, logs)
        parts.append(np.exp(logs + (own * draws.luck[..., index])[..., None]))
    return parts[0], parts[0] + parts[1]


def band(values: Array, axis: int = -2) -> Band:
    """Band of drawn values along `axis`; inf counts as longer than all."""
    # the draw at that rank itself: no mean of two, of which one may be inf, and far quicker than a quantile
    order = np.sort(values, axis=axis)
    count = order.shape[axis]
    ranks = [min(max(math.ceil(share * count) - 1, 0), count - 1) for share in (0.05, 0.5, 0.95)]
    low, middle, high = (np.take(order, rank, axis=axis) for rank in ranks)
    return Band(low, middle, high)


def figures(draws: Draws, kind: str, frame: Frame, given: Values) -> Band:
    """Band of one kind of figure with its scatter, as measured (no logarithm)."""
    own = draws.scatter[..., SCATTER_NAMES.index(KINDS[kind].scatter)]
    found = drawn(draws, kind, frame, given) + (own * draws.luck[..., 0])[..., None]
    return band(np.exp(found) if KINDS[kind].logarithm else found)
