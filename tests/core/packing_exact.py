"""One block of the three hundred invented choices, held against the other formulation."""

from __future__ import annotations

import numpy as np

from tussock.selftest.packing import invented
from tussock.solver import solve
from tussock.sums.packing.choice import broken, worth_of
from tussock.sums.packing.model import model_text, read_columns

from .packing_milp import most_worth

BLOCK = 30


def check_block(block: int) -> None:
    possible = 0
    for number in range(block * BLOCK, (block + 1) * BLOCK):
        draw = np.random.default_rng(10_000 + number)
        choice = invented(number, items=int(draw.integers(2, 41)), bays=int(draw.integers(1, 6)))
        expected = most_worth(choice)
        solved = solve(model_text(choice))
        if expected is None:
            assert solved.status == "infeasible", number
            continue
        possible += 1
        assert solved.status == "optimal", number
        bay_of = read_columns(choice, solved.columns)
        assert broken(choice, bay_of) == [], number
        assert worth_of(choice, bay_of) == round(solved.objective) == expected, number
    assert possible > BLOCK // 2
