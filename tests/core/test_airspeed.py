"""Airspeeds: round trips, directions of change, correction tables, the stall."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tussock.sums import air, airspeed

KNOT = 1852 / 3600
speeds = st.floats(5, 130)
altitudes = st.floats(-300, 6000)
temperatures = st.floats(240, 320)
often = settings(derandomize=True, deadline=None, max_examples=300)


def conditions(altitude: float, temperature: float) -> tuple[float, float]:
    pressure = float(air.isa_pressure(altitude))
    return pressure, float(air.air_density(pressure, temperature))


@given(speeds, altitudes, temperatures)
@often
def test_calibrated_and_true_round_trip(speed: float, altitude: float, temperature: float) -> None:
    pressure, density = conditions(altitude, temperature)
    true = airspeed.true_airspeed(speed, pressure, density)
    assert airspeed.calibrated_airspeed(true, pressure, density) == pytest.approx(speed, rel=1e-11)


@given(speeds, altitudes, temperatures)
@often
def test_true_airspeed_through_equivalent(speed: float, altitude: float, temperature: float) -> None:
    """By definition: true is equivalent over the root of the density ratio."""
    pressure, density = conditions(altitude, temperature)
    equivalent = airspeed.equivalent_airspeed(speed, pressure)
    true = equivalent * np.sqrt(air.RHO0 / density)
    assert airspeed.true_airspeed(speed, pressure, density) == pytest.approx(true, rel=1e-12)


@given(speeds, altitudes, temperatures, st.floats(0.1, 20))
@often
def test_hotter_and_faster_are_faster(speed: float, altitude: float, temperature: float, more: float) -> None:
    here, hotter = conditions(altitude, temperature), conditions(altitude, temperature + more)
    true = airspeed.true_airspeed(speed, *here)
    assert airspeed.true_airspeed(speed, *hotter) > true
    assert airspeed.true_airspeed(speed + more, *here) > true


@given(st.floats(5, 60), st.floats(1, 6000))
@often
def test_above_sea_level_equivalent_is_below_calibrated(speed: float, altitude: float) -> None:
    equivalent = airspeed.equivalent_airspeed(speed, air.isa_pressure(altitude))
    assert speed * 0.99 < equivalent <= speed * (1 + 1e-12)


def test_at_sea_level_all_are_one() -> None:
    speeds_here = np.array([0.0, 10.0, 100.0, 250.0])
    np.testing.assert_allclose(airspeed.equivalent_airspeed(speeds_here, air.P0), speeds_here, rtol=1e-12)
    np.testing.assert_allclose(airspeed.true_airspeed(speeds_here, air.P0, air.RHO0), speeds_here, rtol=1e-12)


def test_faster_than_sound_is_nan() -> None:
    assert np.isnan(airspeed.true_airspeed(250.0, 30000.0, 0.46))
    assert np.isnan(airspeed.calibrated_airspeed(345.0, air.P0, air.RHO0))


def test_how_far_the_two_per_cent_rule_is_off() -> None:
    """Common practice, no source: 75 and 85 kt at 7500 ft. The rule reads 2.8 % too fast."""
    altitude = 7500 * 0.3048
    calibrated = np.array([75, 85]) * KNOT
    rule = airspeed.true_airspeed_rule(calibrated, altitude)
    exact = airspeed.true_airspeed(calibrated, air.isa_pressure(altitude), air.isa_density(altitude))
    np.testing.assert_allclose(exact / KNOT, [83.90, 95.07], atol=0.005)
    np.testing.assert_allclose(rule / KNOT, [86.25, 97.75], atol=1e-9)
    np.testing.assert_allclose(rule / exact - 1, [0.0280, 0.0281], atol=1e-4)


TABLE = np.array([20.0, 25.0, 35.0]), np.array([24.0, 27.0, 34.0])


@given(st.floats(20, 35))
@often
def test_dial_and_calibrated_round_trip(dial: float) -> None:
    calibrated = airspeed.calibrated_from_indicated(dial, *TABLE)
    assert airspeed.indicated_from_calibrated(calibrated, *TABLE) == pytest.approx(dial, rel=1e-12)


@pytest.mark.parametrize("dial", [19.999, 35.001, np.nan])
def test_no_reading_beyond_the_table(dial: float) -> None:
    assert np.isnan(airspeed.calibrated_from_indicated(dial, *TABLE))


@pytest.mark.parametrize("calibrated", [23.999, 34.001])
def test_no_dial_reading_beyond_the_table(calibrated: float) -> None:
    assert np.isnan(airspeed.indicated_from_calibrated(calibrated, *TABLE))


@pytest.mark.parametrize(
    ("indicated", "calibrated"),
    [
        ([20.0, 20.0, 30.0], [20.0, 21.0, 30.0]),
        ([30.0, 20.0], [30.0, 20.0]),
        ([20.0, 30.0], [25.0, 24.0]),
        ([20.0, 30.0], [25.0]),
        ([20.0, np.nan], [25.0, 30.0]),
        ([], []),
    ],
    ids=["twice", "falling", "turning", "short", "gap", "empty"],
)
def test_a_table_that_is_none_says_nothing(indicated: list[float], calibrated: list[float]) -> None:
    assert np.isnan(airspeed.calibrated_from_indicated(25.0, indicated, calibrated))
    assert np.isnan(airspeed.indicated_from_calibrated(25.0, indicated, calibrated))


def test_a_table_of_one_point_holds_there_only() -> None:
    assert airspeed.calibrated_from_indicated(25.0, [25.0], [26.0]) == 26.0
    assert np.isnan(airspeed.calibrated_from_indicated(25.1, [25.0], [26.0]))


@given(st.floats(15, 40), st.floats(200, 1500), st.floats(0.5, 1.5), st.floats(1, 4))
@often
def test_stall_speed_is_lift_at_the_same_coefficient(
    speed: float, mass: float, ratio: float, load_factor: float
) -> None:
    stall = airspeed.stall_speed(speed, mass, mass * ratio, load_factor)
    assert stall**2 / (mass * ratio * load_factor) == pytest.approx(speed**2 / mass, rel=1e-12)


@given(st.floats(0, 1.3), st.floats(0.001, 0.09))
@often
def test_load_factor_grows_with_bank(bank: float, more: float) -> None:
    assume(bank + more < 1.39)
    assert airspeed.turn_load_factor(bank + more) > airspeed.turn_load_factor(bank) >= 1
