"""Bands: which distance counts, and how they widen beyond what was seen."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tussock import relation
from tussock.questions.banding import Band
from tussock.questions.distances import Distance
from tussock.sums import bands

SEEN = {
    "mass_low": 400.0, "mass_high": 500.0, "density_altitude_low": 1000.0, "density_altitude_high": 2000.0,
}  # fmt: skip


@given(st.floats(10, 2000), st.floats(1.0, 3.0), st.floats(10, 5000))
def test_the_longer_counts(distance, factor, upper):
    found = bands.counted_distance(distance, factor, upper)
    assert found == max(distance * factor, upper)


def test_a_distance_without_a_band_counts_as_ever():
    assert Distance("a", "A", "book", 100.0, 300.0).counted(1.33) == 300.0 * 1.33


def test_the_upper_end_counts_where_it_is_longer():
    wide = Distance("a", "A", "notebook", 100.0, 300.0, band=Band(200.0, 300.0, 450.0))
    assert wide.counted(1.33) == 450.0
    assert wide.counted(2.0) == 600.0


def test_inside_nothing_is_added():
    found = bands.beyond_seen(mass=450.0, density_altitude=1500.0, **SEEN)
    assert found == (0.0, 0.0)
    assert bands.widening(*found) == 0.0


@pytest.mark.parametrize(
    ("mass", "height", "adverse", "mild"),
    [
        (550.0, 1500.0, 1.0, 0.0),
        (450.0, 2600.0, 1.0, 0.0),
        (525.0, 2900.0, math.hypot(0.5, 1.5), 0.0),
        (360.0, 1500.0, 0.0, 1.0),
        (450.0, 400.0, 0.0, 1.0),
        (550.0, 400.0, 1.0, 1.0),
    ],
)
def test_units_beyond(mass, height, adverse, mild):
    found = bands.beyond_seen(mass=mass, density_altitude=height, **SEEN)
    assert found.adverse == pytest.approx(adverse)
    assert found.mild == pytest.approx(mild)


def test_the_adverse_side_ends_and_the_mild_side_does_not():
    assert bands.widening(1.0, 0.0) == pytest.approx(0.1)
    assert bands.widening(2.0, 0.0) == pytest.approx(0.2)
    # soon beyond, and on from there without a step
    assert bands.widening(0.25, 0.0) == pytest.approx(0.05)
    assert bands.widening(0.0, 0.25) == pytest.approx(0.05)
    assert bands.widening(1e-9, 0.0) < 1e-5
    assert math.isnan(bands.widening(2.01, 0.0))
    assert bands.widening(0.0, 9.0) == pytest.approx(0.2)
    assert bands.widening(1.0, 9.0) == pytest.approx(0.2)


def test_they_broadcast_and_keep_their_ranges():
    found = bands.widening(np.array([0.0, 1.0, 3.0]), np.array([[0.0], [0.5]]))
    assert found.shape == (2, 3)
    assert np.isnan(found[0, 2])
    assert math.isnan(relation.evaluate("counted_distance", distance=-1.0, safety_factor=1.3, upper_95=1.0))
