"""Whether a relation broadcasts: (3, 1) against (4,) must equal the scalars, value by value."""

from __future__ import annotations

import numpy as np

from tussock import relation


def parts(result):
    return result if isinstance(result, tuple) else (result,)


def check_broadcast(name: str, given: dict, plain: dict | None = None) -> None:
    """`given`: input -> (low, high) of plausible values [SI]. Inputs take shapes (3, 1) and (4,) in turns."""
    declared = relation.find(name)
    assert set(given) == set(declared.inputs), f"{name}: {set(given) ^ set(declared.inputs)}"
    plain = plain or {}
    arrays = {}
    for number, (key, (low, high)) in enumerate(given.items()):
        count = (3, 4)[number % 2]
        values = np.linspace(low, high, count)
        arrays[key] = values[:, None] if count == 3 else values
    together = parts(declared.function(**arrays, **plain))
    shape = np.broadcast_shapes(*(value.shape for value in arrays.values()))
    full = {key: np.broadcast_to(value, shape) for key, value in arrays.items()}
    for place in np.ndindex(shape):
        alone = parts(declared.function(**{k: float(v[place]) for k, v in full.items()}, **plain))
        for one, many in zip(alone, together, strict=True):
            assert np.ndim(one) == 0, f"{name}: a scalar gave an array"
            assert np.shape(many) == shape, f"{name}: {np.shape(many)} instead of {shape}"
            np.testing.assert_allclose(many[place], one, rtol=1e-12, atol=0)
