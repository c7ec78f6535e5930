"""Sun: the day of the place, high latitudes, order of the day, no table of time zones."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, date, datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock.sums import sun

HOUR = 3600.0
days = st.dates(date(2000, 1, 1), date(2050, 12, 31)).map(date.isoformat)
often = settings(derandomize=True, deadline=None, max_examples=150)


def midnight(day: str) -> float:
    return datetime.fromisoformat(day).replace(tzinfo=UTC).timestamp()


@given(st.floats(-58, 58), st.floats(-180, 180), days)
@often
def test_order_of_the_day(latitude: float, longitude: float, day: str) -> None:
    times = sun.sun_times(latitude, longitude, day)
    assert times.dawn < times.sunrise < times.noon < times.sunset < times.dusk


@given(st.floats(-89, 89), st.floats(-180, 180), days)
@often
def test_the_day_is_that_of_the_place(latitude: float, longitude: float, day: str) -> None:
    """The sun is highest within 17 min (the equation of time) of 12 h by the longitude, on that date."""
    noon = sun.sun_times(latitude, longitude, day).noon
    assert abs(noon - (midnight(day) + 12 * HOUR - longitude * 240)) < 17 * 60


@given(st.floats(-58, 58), st.floats(-179.9, 179.8), days)
@often
def test_no_jump_from_one_place_to_the_next(latitude: float, longitude: float, day: str) -> None:
    """A tenth of a degree is 24 s. A slip of date would be a day; the noon is cut to whole seconds."""
    here, east = (sun.sun_times(latitude, lon, day) for lon in (longitude, longitude + 0.1))
    np.testing.assert_allclose(np.subtract(here, east), 24, atol=2.5)


@given(st.floats(-58, 58), days)
@often
def test_the_antimeridian_is_one_place_with_two_dates(latitude: float, day: str) -> None:
    tomorrow = date.fromordinal(date.fromisoformat(day).toordinal() + 1).isoformat()
    west, east = sun.sun_times(latitude, -180.0, day), sun.sun_times(latitude, 180.0, tomorrow)
    # The noon differs because the library takes the equation of time at 0 h of the date given.
    np.testing.assert_allclose(west, east, atol=35)


def test_longitude_beyond_half_a_turn() -> None:
    assert sun.sun_times(40.0, 190.0, "2025-05-05") == sun.sun_times(40.0, -170.0, "2025-05-05")


@pytest.mark.parametrize(
    ("latitude", "day"), [(68.0, "2025-06-21"), (-68.0, "2025-12-21"), (90.0, "2025-06-21")]
)
def test_midnight_sun(latitude: float, day: str) -> None:
    times = sun.sun_times(latitude, 20.0, day)
    assert np.all(np.isnan([times.dawn, times.sunrise, times.sunset, times.dusk]))
    assert sun.sun_position(latitude, 20.0, times.noon).elevation > 0
    assert sun.sun_position(latitude, 20.0, times.noon + 12 * HOUR).elevation > 0


@pytest.mark.parametrize(
    ("latitude", "day"), [(70.0, "2025-12-21"), (-70.0, "2025-06-21"), (90.0, "2025-12-21")]
)
def test_polar_night(latitude: float, day: str) -> None:
    times = sun.sun_times(latitude, 20.0, day)
    assert np.all(np.isnan([times.sunrise, times.sunset]))
    assert sun.sun_position(latitude, 20.0, times.noon).elevation < 0


def test_at_67_degrees_the_midwinter_sun_shows_for_minutes_and_the_midsummer_sun_never_sets() -> None:
    winter, summer = (sun.sun_times(67.0, 20.0, day) for day in ("2025-12-21", "2025-06-21"))
    assert 0 < winter.sunset - winter.sunrise < 2 * HOUR
    assert np.isnan(summer.sunset)


def test_white_night_has_a_sunset_but_no_end_of_twilight() -> None:
    times = sun.sun_times(64.0, 10.0, "2025-06-21")
    assert np.isnan(times.dusk)
    assert times.sunset > times.noon


@given(st.floats(64, 65.6), st.floats(-180, 180), st.dates(date(2025, 6, 10), date(2025, 7, 5)))
@often
def test_the_shortest_nights_lie_between_the_right_days(latitude: float, longitude: float, day: date) -> None:
    """Where the sun sets just before midnight and rises just after it, by the longitude or by UTC."""
    times = sun.sun_times(latitude, longitude, day.isoformat())
    assert times.sunrise < times.noon < times.sunset
    assert 20 * HOUR < times.sunset - times.sunrise < 24 * HOUR


@pytest.mark.parametrize("day", ["2025-02-30", "yesterday", ""])
def test_no_such_day(day: str) -> None:
    with pytest.raises(ValueError, match=r"month|day|format|iso"):
        sun.sun_times(0.0, 0.0, day)


def test_nowhere_is_nan() -> None:
    assert np.all(np.isnan(sun.sun_times(np.nan, 0.0, "2025-01-01")))
    assert np.all(np.isnan(sun.sun_position(0.0, np.nan, 0.0)))


def test_noon_is_due_south_or_north() -> None:
    noon = sun.sun_times(45.0, 7.0, "2025-03-20").noon
    assert np.degrees(sun.sun_position(45.0, 7.0, noon).azimuth) == pytest.approx(180, abs=0.3)
    assert np.cos(sun.sun_position(-45.0, 7.0, noon).azimuth) == pytest.approx(1, abs=1e-4)


@given(st.floats(-5e4, 2e5))
@often
def test_solar_time_is_within_the_day(after: float) -> None:
    assert 0 <= sun.solar_time(1e9 + after, 1e9) < 24 * HOUR
    assert sun.solar_time(1e9, 1e9) == 12 * HOUR


def test_needs_no_table_of_time_zones() -> None:
    """In the browser there is none."""
    script = (
        "import sys, zoneinfo; sys.modules['tzdata'] = None; zoneinfo.reset_tzpath(to=[])\n"
        "from tussock.sums.sun import sun_times\n"
        "assert not zoneinfo.available_timezones()\n"
        "print(sun_times(0.0, 0.0, '2025-03-20').noon)"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    assert float(run.stdout) == sun.sun_times(0.0, 0.0, "2025-03-20").noon
