"""Units: published factors, round trips, what a keyboard produces, what is refused."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock import units

often = settings(derandomize=True, deadline=None, max_examples=300)

#: NIST Special Publication 811 (2008), Appendix B.8, from memory; exact where the definition is.
NIST = {
    "ft": 0.3048,
    "in": 0.0254,
    "SM": 1609.344,
    "NM": 1852,
    "kt": 0.5144444,
    "mph": 0.44704,
    "ft/min": 0.00508,
    "km/h": 0.2777778,
    "lb": 0.45359237,
    "gal": 3.785412e-3,
    "L": 1e-3,
    "inHg": 3386.389,
    "hPa": 100,
    "lbf": 4.448222,
    "kgf": 9.80665,
    "hp": 745.69987,
    "lb/gal": 119.82643,
    "lb in": 0.45359237 * 0.0254,
    "ft²": 0.09290304,
    "ft³": 0.028316846592,
    "lb/ft²": 4.882428,
    "deg": 0.01745329,
    "rpm": 1 / 60,
    "h": 3600,
}


@pytest.mark.parametrize("symbol", NIST)
def test_published_factors(symbol: str) -> None:
    assert units.to_si(1.0, symbol) == pytest.approx(NIST[symbol], rel=2e-7)


@pytest.mark.parametrize(
    ("value", "symbol", "kelvin"),
    [(0, "degC", 273.15), (-40, "degF", 233.15), (212, "degF", 373.15), (70, "degF", 294.2611), (5, "K", 5)],
)
def test_temperatures_have_an_origin(value: float, symbol: str, kelvin: float) -> None:
    assert units.to_si(value, symbol) == pytest.approx(kelvin, abs=1e-4)


@given(st.sampled_from(sorted(units.UNITS)), st.floats(-1e6, 1e6))
@often
def test_round_trip(symbol: str, value: float) -> None:
    assert units.from_si(units.to_si(value, symbol), symbol) == pytest.approx(value, rel=1e-9, abs=1e-9)


def test_arrays_convert_too() -> None:
    np.testing.assert_allclose(units.to_si(np.array([[32.0], [212.0]]), "degF"), [[273.15], [373.15]])


@pytest.mark.parametrize(
    ("text", "si", "value"),
    [
        ("5000 ft", "m", 1524),
        ("5000ft", "m", 1524),
        ("  1,5 km ", "m", 1500),
        ("-12 °C", "K", 261.15),
        ("24C", "K", 297.15),
        ("10 degC", "dK", 10),
        ("18 degF", "dK", 10),
        ("1013.25 hPa", "Pa", 101325),
        ("1.2e3 mb", "Pa", 120000),
        ("100 L", "m³", 0.1),
        ("1 m3", "m³", 1),
        ("75 kts", "m/s", 75 * 1852 / 3600),
        ("500 fpm", "m/s", 2.54),
        ("90°", "rad", np.pi / 2),
        ("12.5", "kg", 12.5),
        (".5", "1", 0.5),
        ("3 %", "1", 0.03),
        ("51.5 deg", "deg", 51.5),
        ("-3", "deg", -3),
        ("0.5 rad", "deg", 28.64789),
        ("45 min", "s", 2700),
    ],
)
def test_parse(text: str, si: str, value: float) -> None:
    assert units.parse(text, si) == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "si", "words"),
    [
        ("", "m", "not a number"),
        ("ft", "m", "not a number"),
        ("nan", "m", "not a number"),
        ("inf m", "m", "not a number"),
        ("1 2 m", "m", "unknown unit"),
        ("5 furlong", "m", "unknown unit"),
        ("5 kg", "m", "unit of mass"),
        ("5 degC", "Pa", "unit of temperature"),
        ("5 dK", "K", "temperature difference"),
        ("1 ft", "m/s", "unit of length"),
    ],
)
def test_refused_in_words(text: str, si: str, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        units.parse(text, si)


def test_unknown_unit() -> None:
    with pytest.raises(ValueError, match="unknown unit"):
        units.unit("stone")


def test_no_spelling_leads_nowhere_and_none_hides_a_unit() -> None:
    for spelling, symbol in units.ALIASES.items():
        assert symbol in units.UNITS
        assert spelling not in units.UNITS


def test_si_is_si() -> None:
    for dimension, symbol in units.SI.items():
        if dimension != "latitude":
            assert (units.UNITS[symbol].factor, units.UNITS[symbol].offset) == (1.0, 0.0), dimension


@pytest.mark.parametrize("symbol", sorted(units.UNITS))
def test_every_unit_leads_to_an_si_unit_of_its_dimension(symbol: str) -> None:
    unit = units.UNITS[symbol]
    assert units.UNITS[units.SI[unit.dimension]].dimension == unit.dimension
