"""Climbing out: gradients, obstacles, room to turn round; signs and shapes."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tussock.sums import climb

from .broadcasting import assert_broadcasts


def test_net_gradient_takes_the_sink_off():
    assert climb.net_gradient(3.0, 1.0, 40.0) == pytest.approx(0.05)
    assert climb.net_gradient(1.0, 1.5, 40.0) == pytest.approx(-0.0125)
    assert math.isnan(climb.net_gradient(3.0, 1.0, 0.0))
    assert math.isnan(climb.net_gradient(3.0, 1.0, -5.0))


@given(st.floats(0.0, 8.0), st.floats(0.0, 3.0), st.floats(5.0, 60.0), st.floats(0.0, 10.0))
def test_signs_of_the_net_gradient(rate, sink, speed, more):
    base = climb.net_gradient(rate, sink, speed)
    assert climb.net_gradient(rate, sink + more, speed) <= base
    assert climb.net_gradient(rate + more, sink, speed) >= base
    if rate >= sink:  # a tailwind flattens what climbs
        assert climb.net_gradient(rate, sink, speed + more) <= base


@given(st.floats(-500.0, 2000.0), st.floats(1.0, 50_000.0), st.floats(10.0, 80.0))
def test_gradient_rate_and_distance_are_one_triangle(height, distance, speed):
    gradient = climb.gradient_to_clear(height, distance)
    assert gradient * distance == pytest.approx(height, abs=1e-9)
    rate = climb.rate_for_gradient(gradient, speed)
    assert rate * (distance / speed) == pytest.approx(height, abs=1e-9)
    assert climb.net_gradient(rate, 0.0, speed) == pytest.approx(gradient)
    if height > 1e-3:
        assert climb.distance_to_climb(height, gradient) == pytest.approx(distance)


def test_where_there_is_no_distance_or_no_climb():
    assert climb.gradient_to_clear(10.0, 0.0) == math.inf
    assert climb.gradient_to_clear(0.0, 0.0) == 0.0
    assert climb.gradient_to_clear(-10.0, 0.0) == 0.0
    assert climb.distance_to_climb(100.0, 0.0) == math.inf
    assert climb.distance_to_climb(100.0, -0.02) == math.inf
    assert climb.distance_to_climb(0.0, 0.0) == 0.0
    assert climb.distance_to_climb(-5.0, 0.03) == 0.0
    assert math.isnan(climb.rate_for_gradient(0.033, 0.0))
    for function in (climb.gradient_to_clear, climb.distance_to_climb):
        assert math.isnan(function(math.nan, 0.05))
        assert math.isnan(function(10.0, math.nan))
        assert math.isnan(function(0.0, math.nan))


def test_a_turn_balances_the_forces():
    speed, bank = 35.0, math.radians(40.0)
    radius = climb.turn_radius(speed, bank)
    assert speed**2 / radius == pytest.approx(9.80665 * math.tan(bank))
    assert climb.turn_rate(speed, bank) == pytest.approx(speed / radius)
    assert climb.turning_room(speed, bank) == pytest.approx(2.0 * radius)
    assert climb.turn_radius(speed, 0.0) == math.inf


def test_half_a_turn_in_a_wind_against_small_steps():
    speed, bank, wind = 33.0, math.radians(35.0), 6.0
    rate = climb.turn_rate(speed, bank)
    times = np.linspace(0.0, math.pi / rate, 200_001)
    across = speed * np.sin(rate * times) + wind
    middle = 0.5 * (across[1:] + across[:-1])
    moved = np.concatenate([[0.0], np.cumsum(middle * np.diff(times))])
    assert climb.turning_room(speed, bank, wind) == pytest.approx(moved[-1], rel=1e-6)
    assert climb.turning_room(speed, bank, -wind) == climb.turning_room(speed, bank)
    assert math.isnan(climb.turning_room(speed, bank, math.nan))


@given(st.floats(20.0, 60.0), st.floats(0.1, 1.0), st.floats(0.0, 10.0), st.floats(0.0, 0.3))
def test_signs_of_the_turning_room(speed, bank, more, steeper):
    room = climb.turning_room(speed, bank, more)
    assert room >= climb.turning_room(speed, bank)
    assert climb.turning_room(speed + more, bank) >= climb.turning_room(speed, bank)
    assert climb.turning_room(speed, bank + steeper) <= climb.turning_room(speed, bank)


def test_book_climb_is_never_carried_beyond_the_book():
    rate = climb.climb_rate_between(np.array([-1.0, 0.0, 1000.0, 4000.0, 4001.0]), 0.0, 4.0, 4000.0, 0.508)
    np.testing.assert_allclose(rate, [np.nan, 4.0, 4.0 - 3.492 / 4.0, 0.508, np.nan])
    assert math.isnan(climb.climb_rate_between(500.0, 500.0, 3.0, 500.0, 2.0))
    assert math.isnan(climb.climb_rate_between(500.0, 1000.0, 3.0, 0.0, 2.0))


@pytest.mark.parametrize(
    ("function", "sample"),
    [
        (climb.net_gradient, {"climb_rate": 3.0, "sink_allowance": 1.5, "ground_speed": 40.0}),
        (climb.gradient_to_clear, {"height": 60.0, "distance": 900.0}),
        (climb.feet_per_mile_gradient, {"height_per_mile": 61.0}),
        (climb.rate_for_gradient, {"gradient": 0.033, "ground_speed": 40.0}),
        (climb.distance_to_climb, {"height": 60.0, "gradient": 0.04}),
        (climb.turn_radius, {"true_airspeed": 35.0, "bank": 0.6}),
        (climb.turning_room, {"true_airspeed": 35.0, "bank": 0.6, "wind_across": 4.0}),
        (climb.turn_rate, {"true_airspeed": 35.0, "bank": 0.6}),
        (
            climb.climb_rate_between,
            {"altitude": 1500.0, "lower_altitude": 500.0, "lower_rate": 4.0}
            | {"upper_altitude": 3000.0, "upper_rate": 1.5},
        ),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_broadcasting(function, sample):
    assert_broadcasts(function, **sample)
