"""Numerical integrals that know how good they are."""

from __future__ import annotations

import warnings
from collections.abc import Callable

from hypothesis import reject
from scipy.integrate import IntegrationWarning, quad


def area(function: Callable[[float], float], low: float, high: float) -> float:
    """The integral by adaptive quadrature; where that does not reach 1e-9 itself, it is no test case."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", IntegrationWarning)
        value, error = quad(function, low, high, epsabs=0.0, epsrel=1e-12, limit=200)
    return value if error <= 1e-9 * abs(value) else reject()
