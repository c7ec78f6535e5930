"""Exactness of the choice, half of three hundred invented ones: equal optimum in another formulation."""

from __future__ import annotations

import pytest

from .packing_exact import check_block


@pytest.mark.parametrize("block", range(5, 10))
def test_the_optimum_is_that_of_the_other_formulation(block: int) -> None:
    check_block(block)
