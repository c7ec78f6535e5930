"""What a new measurement would be worth: how much narrower it would make the band of a run.

To first order round the fit: the covariance after one more figure is known before it is measured.
"""

from __future__ import annotations

import numpy as np

from .fit import SMALL, Fit
from .model import KINDS, Frame, Series, predict_all
from .parameters import NAMES, SCATTER_NAMES, Array


def narrowing(found: Fit, frame: Frame, target: Series, candidates: list[Series]) -> Array:
    """Share [1] by which each candidate figure would narrow the band of the target, (sum of N,).

    The target is one figure. Of one notebook: the first of the fit.
    """
    mean, covariance = found.mean[0], found.covariance[0]
    steps = np.concatenate([np.zeros((1, len(NAMES))), SMALL * np.eye(len(NAMES))])
    looked = predict_all([target, *candidates], mean + steps, frame)
    looked = looked.reshape(-1, *looked.shape[-2:])[0]
    slopes = ((looked[1:] - looked[0]) / SMALL).T
    aim, others = slopes[0], slopes[1:]
    spread = np.exp(found.scatter[0])

    def noise(one: Series) -> Array:
        own = spread[SCATTER_NAMES.index(KINDS[one.kind].scatter)]
        return np.broadcast_to(np.ravel(one.sd) ** 2 + own**2, (one.size,))

    told = np.concatenate([noise(one) for one in candidates])
    before = aim @ covariance @ aim + noise(target)[0]
    shared = others @ covariance @ aim
    gained = shared**2 / (np.einsum("ni,ij,nj->n", others, covariance, others) + told)
    return np.asarray(1.0 - np.sqrt((before - gained) / before))
