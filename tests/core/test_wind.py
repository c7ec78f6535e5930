"""Wind: signs, odd cases (north, calm, tailwind, too strong), round trips, the sock."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tussock.sums import wind

KNOT = 1852 / 3600
angles = st.floats(0, 2 * np.pi, exclude_max=True)
often = settings(derandomize=True, deadline=None, max_examples=300)


def components(speed: float, from_degrees: float, bearing_degrees: float) -> tuple[float, float]:
    return wind.wind_components(speed, np.radians(from_degrees), np.radians(bearing_degrees))


@pytest.mark.parametrize(
    ("wind_from", "bearing", "headwind", "crosswind"),
    [
        (360, 360, 10, 0),
        (0, 360, 10, 0),
        (360, 0, 10, 0),
        (180, 360, -10, 0),
        (90, 360, 0, 10),
        (270, 360, 0, -10),
        (10, 350, 9.39692621, 3.42020143),
        (350, 10, 9.39692621, -3.42020143),
    ],
)
def test_signs(wind_from: float, bearing: float, headwind: float, crosswind: float) -> None:
    """Headwind positive, crosswind positive from the right, north either 0 or 360."""
    found = components(10, wind_from, bearing)
    assert found.headwind == pytest.approx(headwind, abs=1e-8)
    assert found.crosswind == pytest.approx(crosswind, abs=1e-8)


@pytest.mark.parametrize("wind_from", [0, 90, 181, 360])
def test_calm_has_no_direction(wind_from: float) -> None:
    assert components(0, wind_from, 123) == pytest.approx((0, 0))
    calm = wind.wind_triangle(1.0, 40.0, 0.0, np.radians(wind_from))
    assert calm == pytest.approx((0.0, 1.0, 40.0))


@given(st.floats(0, 40), angles, angles)
@often
def test_the_other_direction_of_the_strip_turns_both_signs(
    speed: float, wind_from: float, bearing: float
) -> None:
    there = wind.wind_components(speed, wind_from, bearing)
    back = wind.wind_components(speed, wind_from, bearing - np.pi)
    assert back == pytest.approx((-there.headwind, -there.crosswind), abs=1e-9)
    assert np.hypot(*there) == pytest.approx(speed, abs=1e-9)


@given(angles, st.floats(15, 80), st.floats(0, 30), angles)
@often
def test_triangle_and_track_are_inverse(
    course: float, airspeed: float, speed: float, wind_from: float
) -> None:
    triangle = wind.wind_triangle(course, airspeed, speed, wind_from)
    assume(triangle.ground_speed > 0.1)
    track = wind.track_from_heading(triangle.heading, airspeed, speed, wind_from)
    assert np.cos(track.track - course) == pytest.approx(1, abs=1e-9)
    assert track.ground_speed == pytest.approx(triangle.ground_speed, rel=1e-9)
    assert track.drift == pytest.approx(-triangle.wind_correction, abs=1e-7)


@given(angles, st.floats(15, 80), st.floats(0.1, 14), angles)
@often
def test_out_and_back_wind_never_gains(
    course: float, airspeed: float, speed: float, wind_from: float
) -> None:
    out = wind.wind_triangle(course, airspeed, speed, wind_from).ground_speed
    back = wind.wind_triangle(course - np.pi, airspeed, speed, wind_from).ground_speed
    assert 2 / (1 / out + 1 / back) < airspeed


def test_a_wind_from_the_right_is_corrected_to_the_right_and_drifts_to_the_left() -> None:
    assert wind.wind_triangle(0.0, 40.0, 10.0, np.pi / 2).wind_correction > 0
    track = wind.track_from_heading(0.0, 40.0, 10.0, np.pi / 2)
    assert track.drift < 0
    assert track.track == pytest.approx(2 * np.pi + track.drift)


def test_no_heading_holds_the_course() -> None:
    correction, heading, ground_speed = wind.wind_triangle(0.0, 30.0, 35.0, np.pi / 2)
    assert np.isnan(correction)
    assert np.isnan(heading)
    assert ground_speed == 0
    assert wind.wind_triangle(0.0, 0.0, 0.0, 0.0).ground_speed == 0


def test_blown_backwards() -> None:
    assert wind.wind_triangle(0.0, 20.0, 25.0, 0.0).ground_speed == pytest.approx(-5)
    track = wind.track_from_heading(0.0, 20.0, 25.0, 0.0)
    assert track.track == pytest.approx(np.pi)
    assert track.ground_speed == pytest.approx(5)


def test_at_rest_there_is_no_track() -> None:
    track, ground_speed, drift = wind.track_from_heading(0.0, 20.0, 20.0, 0.0)
    assert ground_speed == 0
    assert np.isnan(track)
    assert np.isnan(drift)


@pytest.mark.parametrize("gap", range(4))
def test_a_missing_number_is_never_an_answer(gap: int) -> None:
    inputs = [1.0, 40.0, 5.0, 2.0]
    inputs[gap] = np.nan
    assert np.isnan(wind.wind_triangle(*inputs).ground_speed)


@given(angles, st.floats(-1e-12, 1e-12))
@often
def test_headings_stay_below_a_full_turn(course: float, shift: float) -> None:
    assert 0 <= wind.wind_triangle(course + shift, 40.0, 0.0, 0.0).heading < 2 * np.pi


def test_empty_sock_may_hide_a_little_wind() -> None:
    assert wind.windsock_speed(0.0) == pytest.approx((0, 0, 5 * KNOT))


def test_full_sock_says_at_least() -> None:
    low, middle, high = wind.windsock_speed(1.0)
    assert (low, middle) == pytest.approx((15 * KNOT, 15 * KNOT))
    assert high == np.inf


@given(st.floats(0, 1), st.floats(0, 1))
@often
def test_sock_is_in_order_and_grows(one: float, other: float) -> None:
    less, more = (wind.windsock_speed(f) for f in sorted((one, other)))
    assert 0 <= less.low <= less.middle <= less.high
    assert all(a <= b for a, b in zip(less, more, strict=True))


@pytest.mark.parametrize("fullness", [-0.01, 1.01, np.nan])
def test_no_such_sock(fullness: float) -> None:
    assert np.all(np.isnan(wind.windsock_speed(fullness)))
