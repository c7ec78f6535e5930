"""Day curve: bounds, continuity, the peak, the reading of today."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock.relation import evaluate
from tussock.sums.daycurve import day_temperature, day_temperature_through

HOUR = 3600.0
times = st.floats(0, 24 * HOUR)
lengths = st.floats(4 * HOUR, 22 * HOUR)
minima = st.floats(250, 300)
spans = st.floats(0, 25)
often = settings(derandomize=True, deadline=None, max_examples=300)


@given(times, lengths, minima, spans)
@often
def test_between_minimum_and_maximum(time: float, length: float, minimum: float, span: float) -> None:
    temperature = day_temperature(time, length, minimum, minimum + span)
    assert minimum - 1e-9 <= temperature <= minimum + span + 1e-9


@given(lengths, minima, spans)
@often
def test_continuous_at_sunset(length: float, minimum: float, span: float) -> None:
    sunset = 12 * HOUR + length / 2
    before, after = day_temperature(np.array([sunset - 1e-6, sunset + 1e-6]), length, minimum, minimum + span)
    assert before == pytest.approx(after, abs=1e-6)


@given(lengths, minima, spans)
@often
def test_peak_and_trough(length: float, minimum: float, span: float) -> None:
    maximum = minimum + span
    assert day_temperature(13.69 * HOUR, length, minimum, maximum) == pytest.approx(maximum, abs=1e-9)
    trough = 12 * HOUR - length / 2 - 0.17 * HOUR
    assert day_temperature(trough, length, minimum, maximum) == pytest.approx(minimum, abs=1e-9)


@given(lengths, minima, st.floats(1, 25))
@often
def test_the_step_at_the_minimum_is_that_of_the_source(length: float, minimum: float, span: float) -> None:
    """The night does not decay all the way: what is left is the step that the source has."""
    trough = 12 * HOUR - length / 2 - 0.17 * HOUR
    sunset = day_temperature(12 * HOUR + length / 2, length, minimum, minimum + span)
    left = day_temperature(trough - 1e-3, length, minimum, minimum + span)
    night = 24 * HOUR - length
    decayed = (sunset - minimum) * np.exp(-2.2 * (night - 0.17 * HOUR) / night)
    assert left - minimum == pytest.approx(decayed, abs=1e-4)


def test_midnight_is_one_moment() -> None:
    ends = day_temperature(np.array([0.0, 24 * HOUR]), 12 * HOUR, 280.0, 295.0)
    assert ends[0] == pytest.approx(ends[1], abs=1e-9)


def test_warms_all_morning_and_cools_all_evening() -> None:
    hours = np.arange(6, 13.6, 0.1) * HOUR
    assert np.all(np.diff(day_temperature(hours, 12 * HOUR, 280.0, 295.0)) > 0)
    hours = np.arange(13.8, 24, 0.1) * HOUR
    assert np.all(np.diff(day_temperature(hours, 12 * HOUR, 280.0, 295.0)) < 0)


@given(times, times, st.floats(255, 305), lengths, minima, spans)
@often
def test_passes_through_the_reading(
    time: float, read_at: float, reading: float, length: float, minimum: float, span: float
) -> None:
    maximum = minimum + span
    at_reading = day_temperature_through(read_at, read_at, reading, length, minimum, maximum)
    assert at_reading == pytest.approx(reading, abs=1e-9)
    rise = day_temperature(time, length, minimum, maximum) - day_temperature(
        read_at, length, minimum, maximum
    )
    there = day_temperature_through(time, read_at, reading, length, minimum, maximum)
    assert there - reading == pytest.approx(rise, abs=1e-9)


def test_impossible_days_are_nan() -> None:
    assert np.isnan(day_temperature(0.0, 12 * HOUR, 290.0, 280.0))
    for length in (0.0, 3.9 * HOUR, 22.1 * HOUR, 24 * HOUR):
        assert np.isnan(
            evaluate(day_temperature, solar_hour=0.0, day_length=length, minimum=280.0, maximum=290.0)
        )
