"""Arrays give the same as one number after another: the check that every sum has to pass."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np

from tussock import relation

_ROWS = np.array([0.97, 1.0, 1.03])
_COLUMNS = np.array([0.96, 0.99, 1.01, 1.04])


def assert_broadcasts(function: Callable[..., Any], **sample: Any) -> None:
    """Vary each quantity of a relation together with the next, (3, 1) by (4,); hold it against single calls.

    `sample` holds a number for every quantity that is to be varied, and anything else as it is to be passed.
    """
    declared = relation.find(function)
    quantities = [name for name in declared.inputs if name in sample]
    assert set(declared.inputs) - set(quantities) <= set(declared.defaults), "a quantity is not varied"
    pairs = [*pairwise(quantities)] or [(quantities[0], quantities[0])]
    for rows, columns in pairs:
        many = function(
            **sample | {rows: sample[rows] * _ROWS[:, None]} | {columns: sample[columns] * _COLUMNS}
        )
        for i, row in enumerate(_ROWS):
            for j, column in enumerate(_COLUMNS):
                one = function(**sample | {rows: sample[rows] * row} | {columns: sample[columns] * column})
                for part, whole in zip(_parts(one), _parts(many), strict=True):
                    assert isinstance(part, float), f"{function.__name__}: {part!r} is no plain number"
                    shown = np.broadcast_to(whole, (3, 4))[i, j]
                    np.testing.assert_allclose(shown, part, rtol=1e-12, err_msg=f"{rows}, {columns}")


def _parts(result: Any) -> tuple[Any, ...]:
    return tuple(result) if isinstance(result, tuple) else (result,)
