"""Reaching: time, fuel, rings, points of no return and equal time, reserves; signs and shapes."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tussock.sums import reach

from .broadcasting import assert_broadcasts

HOUR = 3600.0
LITRE = 1e-3


def test_time_is_never_less_than_it_can_be():
    assert reach.flight_time(1000.0, 50.0) == 20.0
    assert reach.flight_time(1000.0, 0.0) == math.inf
    assert reach.flight_time(1000.0, -5.0) == math.inf
    assert reach.flight_time(0.0, -5.0) == 0.0
    assert reach.climb_time(300.0, 2.0) == 150.0
    assert reach.climb_time(300.0, 0.0) == math.inf
    assert reach.climb_time(-300.0, 2.0) == 0.0
    for pair in ((math.nan, 5.0), (5.0, math.nan), (0.0, math.nan)):
        assert math.isnan(reach.flight_time(*pair))
        assert math.isnan(reach.climb_time(*pair))


def test_endurance_and_reserve():
    fuel, flow = 100.0 * LITRE, 20.0 * LITRE / HOUR
    assert reach.endurance(fuel, flow) == pytest.approx(5.0 * HOUR)
    assert reach.endurance(fuel, flow, 0.5 * HOUR) == pytest.approx(4.5 * HOUR)
    assert reach.endurance(5.0 * LITRE, flow, 0.5 * HOUR) == 0.0
    # A flow left at zero is not fuel for ever.
    assert math.isnan(reach.endurance(fuel, 0.0))
    assert math.isnan(reach.still_air_range(fuel, 0.0, 50.0))
    assert reach.still_air_range(fuel, flow, 50.0, 0.5 * HOUR) == pytest.approx(4.5 * HOUR * 50.0)
    assert reach.fuel_used(flow, reach.endurance(fuel, flow)) == pytest.approx(fuel)


def test_ring_in_wind_against_a_walk():
    """Of all headings, the one that leads along the course ends on the ring."""
    speed, wind, wind_from, lasting = 45.0, 12.0, math.radians(250.0), 3.0 * HOUR
    headings = np.radians(np.arange(0.0, 360.0, 0.01))
    north = speed * np.cos(headings) - wind * math.cos(wind_from)
    east = speed * np.sin(headings) - wind * math.sin(wind_from)
    for course in np.radians([10.0, 70.0, 115.0, 250.0, 333.0]):
        straight = np.argmin(np.abs(np.angle(np.exp(1j * (np.arctan2(east, north) - course)))))
        walked = math.hypot(north[straight], east[straight]) * lasting
        assert reach.range_in_wind(lasting, speed, course, wind, wind_from) == pytest.approx(walked, rel=1e-4)


def test_no_way_ahead_is_no_range():
    assert reach.range_in_wind(HOUR, 30.0, 0.0, 40.0, 0.0) == 0.0  # blown backwards
    assert reach.range_in_wind(HOUR, 30.0, 0.0, 40.0, math.pi / 2.0) == 0.0  # the course cannot be held
    assert math.isnan(reach.range_in_wind(HOUR, 30.0, 0.0, math.nan, 0.0))


@given(st.floats(20.0, 80.0), st.floats(0.0, 0.8), st.floats(0.0, 6.28), st.floats(0.0, 6.28))
def test_wind_never_lengthens_there_and_back(speed, share, course, wind_from):
    wind = share * speed
    out = reach.range_in_wind(1.0, speed, course, wind, wind_from)
    home = reach.range_in_wind(1.0, speed, math.remainder(course + math.pi, 2.0 * math.pi), wind, wind_from)
    point = reach.point_of_no_return(HOUR, out, home)
    assert point.distance <= 0.5 * HOUR * speed * (1.0 + 1e-9)
    # Out to it and home again takes exactly the endurance.
    assert point.distance / out + point.distance / home == pytest.approx(HOUR, rel=1e-9)
    assert point.time == pytest.approx(point.distance / out)


@given(st.floats(1e3, 1e6), st.floats(5.0, 100.0), st.floats(5.0, 100.0))
def test_on_and_home_take_as_long_from_the_point_of_equal_time(distance, on, home):
    point = reach.equal_time_point(distance, on, home)
    assert (distance - point.distance) / on == pytest.approx(point.distance / home, rel=1e-9)
    assert point.time == pytest.approx(point.distance / on)
    assert 0.0 < point.distance < distance


def test_points_where_the_wind_allows_no_way():
    assert reach.point_of_no_return(HOUR, 60.0, 0.0) == (0.0, 0.0)
    assert reach.point_of_no_return(HOUR, 60.0, -3.0) == (0.0, 0.0)
    assert all(math.isnan(part) for part in reach.point_of_no_return(HOUR, 0.0, 60.0))
    assert reach.equal_time_point(1e5, 60.0, -3.0) == (0.0, 0.0)
    assert all(math.isnan(part) for part in reach.equal_time_point(1e5, -3.0, 60.0))


@given(
    st.floats(0.0, 0.3),
    st.floats(1e-6, 2e-5),
    st.floats(0.0, 7200.0),
    st.floats(0.0, 0.1),
    st.floats(1.0, 2.0),
)
def test_signs_of_fuel(fuel, flow, reserve, more, thirstier):
    base = reach.endurance(fuel, flow, reserve)
    assert base >= 0.0
    assert reach.endurance(fuel + more, flow, reserve) >= base
    assert reach.endurance(fuel, flow * thirstier, reserve) <= base
    assert reach.endurance(fuel, flow, reserve + 600.0) <= base
    assert reach.fuel_used(flow * thirstier, 3600.0) >= reach.fuel_used(flow, 3600.0)


@given(st.floats(1e3, 1e6), st.floats(1.0, 90.0), st.floats(0.0, 30.0))
def test_a_headwind_never_saves_time(distance, speed, wind):
    assume(speed > wind)
    assert reach.flight_time(distance, speed - wind) >= reach.flight_time(distance, speed)


@pytest.mark.parametrize("rule", reach.RESERVES)
def test_no_rule_asks_less_by_night(rule):
    flow = 20.0 * LITRE / HOUR
    by_day, by_night = reach.reserve_fuel(flow, rule), reach.reserve_fuel(flow, rule, 1.0)
    assert by_day > 0.0
    assert math.isnan(by_night) or by_night >= by_day
    assert math.isnan(reach.reserve_fuel(flow, rule, math.nan))


def test_an_unknown_rule_is_refused():
    with pytest.raises(ValueError, match="no reserve rule"):
        reach.reserve_fuel(1e-5, "none")


@pytest.mark.parametrize(
    ("function", "sample"),
    [
        (reach.flight_time, {"distance": 9e4, "ground_speed": 45.0}),
        (reach.climb_time, {"height": 900.0, "rate": 2.5}),
        (reach.fuel_used, {"flow": 6e-6, "time": 5000.0}),
        (reach.endurance, {"fuel": 0.1, "flow": 6e-6, "reserve_time": 1800.0}),
        (
            reach.still_air_range,
            {"fuel": 0.1, "flow": 6e-6, "true_airspeed": 45.0, "reserve_time": 1800.0},
        ),
        (
            reach.range_in_wind,
            {"endurance": 9000.0, "true_airspeed": 45.0, "course": 1.2, "wind_speed": 8.0, "wind_from": 4.0},
        ),
        (
            reach.point_of_no_return,
            {"endurance": 9000.0, "ground_speed_out": 50.0, "ground_speed_home": 40.0},
        ),
        (reach.equal_time_point, {"distance": 2e5, "ground_speed_on": 50.0, "ground_speed_home": 40.0}),
        (reach.reserve_fuel, {"flow": 6e-6, "rule": "14_cfr_91_151", "night": 1.0}),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_broadcasting(function, sample):
    assert_broadcasts(function, **sample)
