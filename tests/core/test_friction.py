"""Published friction: bands that are bands, and silence where nothing is published."""

import math

import pytest

from tussock.sums import factors, friction

TABLES = {friction.rolling_friction_band: friction.ROLLING, friction.braking_friction_band: friction.BRAKED}


@pytest.mark.parametrize("band", TABLES)
def test_bands(band):
    for surface, (low, high, source) in TABLES[band].items():
        assert surface in factors.SURFACES
        assert 0 < low < high < 1
        assert band(surface) == (low, high)
        assert len(source) > 10


@pytest.mark.parametrize("band", TABLES)
def test_nothing_published_nothing_said(band):
    assert all(math.isnan(end) for end in band("gravel_dry"))
    assert all(math.isnan(end) for end in band("ploughed"))


def test_brakes_hold_more_than_wheels_that_roll():
    for surface in set(friction.ROLLING) & set(friction.BRAKED):
        assert friction.BRAKED[surface][0] > friction.ROLLING[surface][1]


def test_worse_ground_rolls_worse():
    order = ["paved_dry", "grass_short_dry", "grass_long_dry", "soft"]
    highs = [friction.rolling_friction_band(surface).high for surface in order]
    assert highs == sorted(highs)
    assert len(set(highs)) == len(highs)
