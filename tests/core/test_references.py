"""The core against reference libraries: other code, by other people, for the same published relations."""

from __future__ import annotations

from datetime import UTC, datetime

import ambiance
import ephem
import fluids
import numpy as np
import pint
import psychrolib
import pyproj
import pytest

from tussock import units
from tussock.sums import air, airspeed, places, sun

ALTITUDES = np.linspace(-1900, 10900, 33)
#: Radius that turns geometric into geopotential height (US Standard Atmosphere 1976).
RADIUS = 6356766.0
SOME = np.random.default_rng(20251125)


def geometric(altitude: np.ndarray) -> np.ndarray:
    return RADIUS * altitude / (RADIUS - altitude)


def test_atmosphere_against_ambiance() -> None:
    """Constants of Doc 7488/3 in both: to rounding. It takes geometric height."""
    there = ambiance.Atmosphere(geometric(ALTITUDES))
    np.testing.assert_allclose(air.isa_temperature(ALTITUDES), there.temperature, rtol=1e-9)
    np.testing.assert_allclose(air.isa_pressure(ALTITUDES), there.pressure, rtol=1e-6)
    np.testing.assert_allclose(air.isa_density(ALTITUDES), there.density, rtol=1e-6)
    np.testing.assert_allclose(air.speed_of_sound(there.temperature), there.speed_of_sound, rtol=1e-6)


def test_pressure_altitude_against_ambiance() -> None:
    pressures = np.linspace(25000.0, 120000.0, 20)
    there = ambiance.Atmosphere.from_pressure(pressures).H
    np.testing.assert_allclose(air.pressure_altitude(pressures), there, atol=0.01)


def test_density_altitude_against_ambiance() -> None:
    densities = np.linspace(0.4, 1.4, 20)
    there = ambiance.Atmosphere.from_density(densities).H
    np.testing.assert_allclose(air.density_altitude(densities), there, atol=0.01)


@pytest.mark.parametrize("altitude", ALTITUDES[5::6])
def test_atmosphere_against_fluids(altitude: float) -> None:
    """US Standard Atmosphere 1976: its gas constant is 2e-8 off, its layers the same."""
    there = fluids.atmosphere.ATMOSPHERE_1976(float(geometric(altitude)))
    assert air.isa_temperature(altitude) == pytest.approx(there.T, rel=1e-8)
    assert air.isa_pressure(altitude) == pytest.approx(there.P, rel=1e-6)
    assert air.isa_density(altitude) == pytest.approx(there.rho, rel=1e-6)


@pytest.fixture
def psychrometrics() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.usefixtures("psychrometrics")
@pytest.mark.parametrize("dew_point", [0.01, 5.0, 15.0, 25.0, 35.0, 45.0])
def test_vapour_pressure_against_ashrae(dew_point: float) -> None:
    """The WMO's fit lies up to 0.45 % below ASHRAE's: 0.02 % in the density of the air."""
    there = psychrolib.GetSatVapPres(dew_point)
    assert air.vapour_pressure(dew_point + 273.15) == pytest.approx(there, rel=4.5e-3)


@pytest.mark.usefixtures("psychrometrics")
@pytest.mark.parametrize("pressure", [70000.0, 85000.0, 101325.0])
@pytest.mark.parametrize(("celsius", "humidity"), [(-10, 0.5), (5, 0.2), (20, 0.5), (35, 0.3), (40, 0.9)])
def test_humid_density_against_ashrae(pressure: float, celsius: float, humidity: float) -> None:
    """From the same vapour pressure. Ideal gases in both; ratios of their constants 0.62198 and 0.621945."""
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    vapour = psychrolib.GetVapPresFromHumRatio(ratio, pressure)
    there = psychrolib.GetMoistAirDensity(celsius, ratio, pressure)
    dry = 1 / psychrolib.GetMoistAirVolume(celsius, ratio, pressure)
    assert air.air_density(pressure, celsius + 273.15, vapour) == pytest.approx(there, rel=5e-5)
    assert air.dry_air_density(pressure, celsius + 273.15, vapour) == pytest.approx(dry, rel=5e-5)


@pytest.mark.usefixtures("psychrometrics")
@pytest.mark.parametrize(("celsius", "dew_point"), [(15, 5), (30, 20), (35, 10), (40, 25)])
def test_density_altitude_from_dew_point_against_ashrae(celsius: float, dew_point: float) -> None:
    """All the way from the dew point: within 3 m."""
    ratio = psychrolib.GetHumRatioFromTDewPoint(dew_point, 90000.0)
    there = ambiance.Atmosphere.from_density(psychrolib.GetMoistAirDensity(celsius, ratio, 90000.0)).H[0]
    vapour = air.vapour_pressure(dew_point + 273.15)
    here = air.density_altitude(air.air_density(90000.0, celsius + 273.15, vapour))
    assert here == pytest.approx(there, abs=3)


@pytest.mark.parametrize("altitude", [0.0, 2500.0, 6000.0])
@pytest.mark.parametrize("calibrated", [20.0, 60.0, 120.0])
def test_airspeed_against_a_library_of_gas_flow(calibrated: float, altitude: float) -> None:
    """The pitot reads the stagnation pressure of the true flow, the dial gives it as a speed at sea level."""
    pressure, density = air.isa_pressure(altitude), air.isa_density(altitude)

    def impact(speed: float, static: float, thin: float) -> float:
        temperature = static / (287.05287 * thin)
        stagnation = fluids.T_stagnation_ideal(temperature, speed, 3.5 * 287.05287)
        return float(fluids.P_stagnation(static, temperature, stagnation, 1.4) - static)

    true = airspeed.true_airspeed(calibrated, pressure, density)
    sea_level = impact(calibrated, air.P0, air.RHO0)
    assert impact(true, pressure, density) == pytest.approx(sea_level, rel=1e-9)


def test_geodesics_against_proj() -> None:
    """PROJ's own implementation of the same series, in another language."""
    ellipsoid = pyproj.Geod(ellps="WGS84")
    many = 200
    lat1, lat2 = SOME.uniform(-90, 90, (2, many))
    lon1, lon2 = SOME.uniform(-180, 180, (2, many))
    ahead, back, distance = ellipsoid.inv(lon1, lat1, lon2, lat2)
    here = places.geodesic(lat1, lon1, lat2, lon2)
    np.testing.assert_allclose(here.distance, distance, atol=1e-6)
    np.testing.assert_allclose(np.cos(here.bearing - np.radians(ahead)), 1, atol=1e-12)
    np.testing.assert_allclose(np.cos(here.bearing_at_end - np.radians(np.array(back) + 180)), 1, atol=1e-12)


def test_destinations_against_proj() -> None:
    ellipsoid = pyproj.Geod(ellps="WGS84")
    many = 200
    lat, lon, bearing = SOME.uniform(-89, 89, many), SOME.uniform(-180, 180, many), SOME.uniform(0, 360, many)
    distance = SOME.uniform(0, 5e6, many)
    lon2, lat2, _ = ellipsoid.fwd(lon, lat, bearing, distance)
    here = places.destination(lat, lon, np.radians(bearing), distance)
    np.testing.assert_allclose(here.latitude, lat2, atol=1e-9)
    np.testing.assert_allclose(np.cos(np.radians(here.longitude - lon2)), 1, atol=1e-15)


def _ephemeris(latitude: float, longitude: float, noon: float) -> list[float]:
    """Dawn, sunrise, noon, sunset, dusk [s] around a noon from an ephemeris (VSOP87)."""
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure = str(latitude), str(longitude), 0
    middle = ephem.Date(datetime.fromtimestamp(noon, UTC).replace(tzinfo=None))

    def at(horizon: str, which: str) -> float:
        observer.horizon, observer.date = horizon, middle
        return (
            getattr(observer, which)(ephem.Sun(), use_center=True).datetime().replace(tzinfo=UTC).timestamp()
        )

    observer.date = middle - 0.25
    highest = observer.next_transit(ephem.Sun()).datetime().replace(tzinfo=UTC).timestamp()
    morning = [at("-6", "previous_rising"), at("-0:49:58.8", "previous_rising")]
    return [*morning, highest, at("-0:49:58.8", "next_setting"), at("-6", "next_setting")]


@pytest.mark.parametrize(
    "day", ["2020-02-29", "2025-03-20", "2025-06-21", "2026-11-25", "2035-09-10", "2049-12-21"]
)
@pytest.mark.parametrize(
    ("latitude", "longitude"), [(0, 0), (12, -170), (-38, 145), (47, 9), (-45, 170), (59, -3)]
)
def test_sun_against_an_ephemeris(latitude: float, longitude: float, day: str) -> None:
    """Within 10 s; noon within 32: the library takes the equation of time at 0 h UTC and cuts the second."""
    here = sun.sun_times(float(latitude), float(longitude), day)
    there = _ephemeris(latitude, longitude, here.noon)
    off = np.abs(np.subtract(here, there))
    assert np.all(off[[0, 1, 3, 4]] < 10), off
    assert off[2] < 32


@pytest.mark.parametrize("hours", [0, 6, 9, 12, 15, 18])
@pytest.mark.parametrize(("latitude", "longitude"), [(0, 0), (47, 9), (-34, -58)])
def test_position_of_the_sun_against_an_ephemeris(latitude: float, longitude: float, hours: int) -> None:
    moment = datetime(2026, 3, 1, hours, tzinfo=UTC)
    observer = ephem.Observer()
    observer.lat, observer.lon, observer.pressure = str(latitude), str(longitude), 1010
    observer.date = ephem.Date(moment.replace(tzinfo=None))
    there = ephem.Sun(observer)
    here = sun.sun_position(float(latitude), float(longitude), moment.timestamp())
    if there.alt > 0:
        assert here.elevation == pytest.approx(float(there.alt), abs=np.radians(0.05))
    else:  # each refracts in its own way below the horizon, where nobody sees it
        assert here.elevation < 0
    assert np.cos(here.azimuth - float(there.az)) == pytest.approx(1, abs=1e-4)


PINT = pint.UnitRegistry()
#: Our symbols where the other library has another spelling.
SPELLING = {
    "%": "percent", "SM": "mile", "NM": "nautical_mile", "kt": "knot", "degC": "degC", "degF": "degF",
    "dK": "delta_degC", "ddegC": "delta_degC", "ddegF": "delta_degF", "kg/m³": "kg/m**3",
    "lb/gal": "lb/gallon", "m³": "m**3", "gal": "gallon",
    "m³/s": "m**3/s", "gal/h": "gallon/hour", "m²": "m**2", "ft²": "ft**2",
    "N m": "N*m", "hp": "horsepower", "kg m": "kg*m", "lb in": "lb*inch", "1/s": "1/s", "rpm": "1/minute",
    "m/s²": "m/s**2", "kg/m²": "kg/m**2", "1": "dimensionless", "kgf": "kilogram_force", "lbf": "pound_force",
    "L/h": "L/hour", "h": "hour", "in": "inch", "°": "degree", "ft/min": "ft/minute", "km/h": "km/hour",
}  # fmt: skip


@pytest.mark.parametrize("symbol", sorted(units.UNITS))
def test_units_against_pint(symbol: str) -> None:
    si = units.SI[units.UNITS[symbol].dimension]
    for value in (1.0, 37.5):
        there = PINT.Quantity(value, SPELLING.get(symbol, symbol)).to(SPELLING.get(si, si)).magnitude
        assert units.to_si(value, symbol) == pytest.approx(there, rel=1e-9)
