"""The ground of a strip: heights and mean slopes against the sums of its segments."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock import relation
from tussock.sums.ground import ground_height, mean_slope

from .broadcasting import assert_broadcasts

often = settings(derandomize=True, deadline=None, max_examples=200)

#: 200 m level, 300 m at 4 % up, 100 m at 2 % down
LENGTHS, SLOPES = (200.0, 300.0, 100.0), (0.0, 0.04, -0.02)

segments = st.lists(st.tuples(st.floats(10, 500), st.floats(-0.15, 0.15)), min_size=1, max_size=6)


@pytest.mark.parametrize(
    ("distance", "height"),
    [(0, 0), (100, 0), (200, 0), (350, 6), (500, 12), (550, 11), (600, 10), (900, 10)],
)
def test_height_follows_the_segments(distance: float, height: float) -> None:
    assert ground_height(distance, LENGTHS, SLOPES) == pytest.approx(height, abs=1e-12)


@pytest.mark.parametrize(
    ("start", "distance", "slope"),
    [(0, 200, 0), (200, 300, 0.04), (0, 600, 10 / 600), (350, 200, 5 / 200), (500, 200, -2 / 200)],
)
def test_mean_slope_is_height_over_distance(start: float, distance: float, slope: float) -> None:
    assert mean_slope(start, distance, LENGTHS, SLOPES) == pytest.approx(slope, abs=1e-12)


def test_a_run_of_no_length_has_no_slope() -> None:
    assert math.isnan(mean_slope(100.0, 0.0, LENGTHS, SLOPES))


@given(segments, st.floats(0, 1), st.floats(0.01, 1))
@often
def test_a_mean_slope_lies_between_the_slopes_under_the_run(
    parts: list[tuple[float, float]], start: float, share: float
) -> None:
    lengths, slopes = zip(*parts, strict=True)
    total = sum(lengths)
    begins = start * 0.99 * total
    slope = mean_slope(begins, share * (total - begins), lengths, slopes)
    assert min(slopes) - 1e-9 <= slope <= max(slopes) + 1e-9


@given(segments, st.floats(0, 1))
@often
def test_two_runs_climb_as_much_as_one(parts: list[tuple[float, float]], share: float) -> None:
    lengths, slopes = zip(*parts, strict=True)
    total, first = sum(lengths), share * sum(lengths)
    climbed = [
        mean_slope(start, run, lengths, slopes) * run
        for start, run in ((0.0, first), (first, total - first))
        if run > 0
    ]
    assert sum(climbed) == pytest.approx(ground_height(total, lengths, slopes), abs=1e-9)


@pytest.mark.parametrize(
    ("function", "sample"),
    [(ground_height, {"distance": 310.0}), (mean_slope, {"start": 120.0, "distance": 290.0})],
)
def test_broadcasts(function: object, sample: dict[str, float]) -> None:
    assert_broadcasts(function, **sample, lengths=LENGTHS, slopes=SLOPES)  # type: ignore[arg-type]


def test_outside_its_range_nothing_is_said() -> None:
    told = relation.evaluate(ground_height, distance=np.array([-1.0, 1.0]), lengths=LENGTHS, slopes=SLOPES)
    assert np.isnan(told).tolist() == [True, False]
