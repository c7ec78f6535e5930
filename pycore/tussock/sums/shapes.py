"""Scalars and arrays alike: what the sums need to give back plain numbers for plain numbers."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..relation import Number


def array(value: Any) -> NDArray[np.float64]:
    """`value` as an array of floats, of any shape (also none)."""
    return np.asarray(value, dtype=float)


def number(value: Any) -> Number:
    """`value` as floats: an array as it is, one without a shape as a plain number."""
    plain: Number = np.asarray(value, dtype=float)[()]
    return plain


def ratio(top: Any, bottom: Any) -> Number:
    """top / bottom without a warning: inf or nan where `bottom` is zero."""
    with np.errstate(all="ignore"):
        return number(array(top) / array(bottom))
