"""Air: round trips, directions of change, edges of validity. Published values are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock.relation import evaluate
from tussock.sums import air

FOOT = 0.3048
altitudes = st.floats(-2000, 11000)
temperatures = st.floats(210, 330)
often = settings(derandomize=True, deadline=None, max_examples=300)


def density_altitude(pressure_altitude: float, temperature: float, vapour_pressure: float = 0.0) -> float:
    density = air.air_density(air.isa_pressure(pressure_altitude), temperature, vapour_pressure)
    return float(air.density_altitude(density))


@given(altitudes)
@often
def test_pressure_and_altitude_round_trip(altitude: float) -> None:
    assert air.pressure_altitude(air.isa_pressure(altitude)) == pytest.approx(altitude, abs=1e-6)


@given(altitudes)
@often
def test_density_and_altitude_round_trip(altitude: float) -> None:
    assert air.density_altitude(air.isa_density(altitude)) == pytest.approx(altitude, abs=1e-6)


@given(altitudes)
@often
def test_the_standard_atmosphere_is_an_ideal_gas(altitude: float) -> None:
    density = air.air_density(air.isa_pressure(altitude), air.isa_temperature(altitude))
    assert density == pytest.approx(air.isa_density(altitude), rel=1e-12)


@given(st.floats(-400, 5000), st.floats(90000, 108000))
@often
def test_qnh_and_pressure_altitude_round_trip(elevation: float, qnh: float) -> None:
    altitude = air.pressure_altitude_from_qnh(elevation, qnh)
    assert air.qnh_from_pressure_altitude(elevation, altitude) == pytest.approx(qnh, rel=1e-12)


@given(st.floats(-400, 5000), st.floats(90000, 108000))
@often
def test_lower_qnh_is_higher_pressure_altitude(elevation: float, qnh: float) -> None:
    assert air.pressure_altitude_from_qnh(elevation, qnh - 100) > air.pressure_altitude_from_qnh(
        elevation, qnh
    )


@given(st.floats(-400, 5000), temperatures, st.floats(0.01, 30))
@often
def test_hotter_is_higher_density_altitude(altitude: float, temperature: float, warmer: float) -> None:
    assert density_altitude(altitude, temperature + warmer) > density_altitude(altitude, temperature)


@given(st.floats(-400, 5000), st.floats(260, 320))
@often
def test_humid_is_higher_density_altitude_and_less_for_the_engine(
    altitude: float, temperature: float
) -> None:
    vapour = air.vapour_pressure(temperature)
    pressure = air.isa_pressure(altitude)
    assert density_altitude(altitude, temperature, vapour) > density_altitude(altitude, temperature)
    assert air.dry_air_density(pressure, temperature, vapour) < air.air_density(pressure, temperature, vapour)


@given(st.floats(230, 325), st.floats(0.01, 5))
@often
def test_vapour_pressure_rises_with_dew_point(dew_point: float, more: float) -> None:
    assert air.vapour_pressure(dew_point + more) > air.vapour_pressure(dew_point)


@pytest.mark.parametrize("altitude", [0.0, 5000 * FOOT])
def test_slope_of_density_altitude_at_standard(altitude: float) -> None:
    """118.3 ft per degree exactly (computed), where the rules of the trade say 118.8 and 120."""
    standard = air.isa_temperature(altitude)
    slope = density_altitude(altitude, standard + 0.5) - density_altitude(altitude, standard - 0.5)
    assert slope / FOOT == pytest.approx(118.3, abs=0.3)


def test_rise_of_density_altitude_with_temperature() -> None:
    """FAA knowledge test item: at 3000 ft pressure altitude, 30 to 50 °F raises it by 1300 ft; exact 1345."""
    low, high = (density_altitude(3000 * FOOT, (f - 32) / 1.8 + 273.15) for f in (30, 50))
    assert (high - low) / FOOT == pytest.approx(1300, abs=60)
    assert (high - low) / FOOT == pytest.approx(1345, abs=1)


@pytest.mark.parametrize(
    ("altitude", "celsius", "too_high"), [(2000, 30, 92), (4000, 35, 195)], ids=["2000 ft", "4000 ft"]
)
def test_rule_of_thumb_over_reads_when_hot(altitude: float, celsius: float, too_high: float) -> None:
    rule = air.density_altitude_rule(altitude * FOOT, celsius + 273.15)
    exact = density_altitude(altitude * FOOT, celsius + 273.15)
    assert (rule - exact) / FOOT == pytest.approx(too_high, abs=1)


def test_more_vapour_than_air_is_nothing() -> None:
    assert np.isnan(air.air_density(1000.0, 300.0, 1000.0))
    assert np.isnan(air.dry_air_density(1000.0, 300.0, 2000.0))


def test_beyond_the_troposphere_is_nan_not_a_guess() -> None:
    assert np.isnan(evaluate(air.isa_pressure, altitude=11000.1))
    assert np.isnan(evaluate(air.isa_temperature, altitude=-2000.1))
    assert np.isfinite(evaluate(air.isa_density, altitude=11000.0))
    assert np.isfinite(evaluate(air.pressure_altitude, pressure=float(air.isa_pressure(11000.0))))
    assert np.isfinite(evaluate(air.pressure_altitude, pressure=float(air.isa_pressure(-2000.0))))
    assert np.isnan(evaluate(air.air_density, pressure=101325.0, temperature=340.0))


def test_coldest_air_at_sea_level_still_has_a_density_altitude() -> None:
    density = evaluate(air.air_density, pressure=105000.0, temperature=211.0)
    assert evaluate(air.density_altitude, density=density) < -3000
