"""Book tables: exact on the grid, straight between, silent outside and at empty cells."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import RegularGridInterpolator

from tussock import relation
from tussock.sums import book

from .shapes import check_broadcast

MASSES = [500.0, 600.0, 650.0]
ALTITUDES = [0.0, 609.6, 1219.2, 1828.8]
TEMPERATURES = [263.15, 283.15, 303.15]
VALUES = (
    np.array([150.0, 210.0, 250.0])[:, None, None]
    * np.array([1.0, 1.17, 1.38, 1.66])[None, :, None]
    * np.array([0.9, 1.0, 1.13])[None, None, :]
)
AXES = {"mass_axis": MASSES, "altitude_axis": ALTITUDES, "temperature_axis": TEMPERATURES}
TABLE = AXES | {"values": VALUES}


@settings(max_examples=300, deadline=None)
@given(st.floats(500, 650), st.floats(0, 1828.8), st.floats(263.15, 303.15))
def test_inside_it_is_the_reference_library(mass, altitude, temperature):
    reference = RegularGridInterpolator((MASSES, ALTITUDES, TEMPERATURES), VALUES)
    wanted = reference([mass, altitude, temperature])[0]
    # a point within a billionth of a grid line is on it
    assert book.interpolate(mass, altitude, temperature, **TABLE) == pytest.approx(wanted, rel=1e-8)


def test_on_the_grid_it_is_the_book():
    found = book.interpolate(
        np.array(MASSES)[:, None, None], np.array(ALTITUDES)[:, None], np.array(TEMPERATURES), **TABLE
    )
    np.testing.assert_array_equal(found, VALUES)


@pytest.mark.parametrize(
    "point",
    [(499.0, 0.0, 283.15), (651.0, 0.0, 283.15), (600.0, -1.0, 283.15), (600.0, 1830.0, 283.15),
     (600.0, 0.0, 263.0), (600.0, 0.0, 303.5), (math.nan, 0.0, 283.15), (600.0, math.nan, 283.15)],
)  # fmt: skip
def test_outside_it_says_nothing(point):
    assert math.isnan(book.interpolate(*point, **TABLE))


def test_a_unit_there_and_back_is_not_outside():
    assert (
        book.interpolate(650.0 * (1 + 1e-12), 6000 * 0.3048, 30 + 273.15 + 1e-10, **TABLE) == VALUES[2, 3, 2]
    )
    assert math.isnan(book.interpolate(650.0 * (1 + 1e-7), 0.0, 283.15, **TABLE))


def test_empty_cells_matter_only_where_they_are_needed():
    values = VALUES.copy()
    values[2, 3, 2] = np.nan
    table = AXES | {"values": values}
    assert math.isnan(book.interpolate(640.0, 1500.0, 290.0, **table))
    assert math.isnan(book.interpolate(650.0, 1828.8, 303.15, **table))
    # on the lines beside the empty corner nothing is missing
    assert math.isfinite(book.interpolate(600.0, 1500.0, 290.0, **table))
    assert math.isfinite(book.interpolate(640.0, 1219.2, 290.0, **table))
    assert math.isfinite(book.interpolate(640.0, 1500.0, 283.15, **table))


def test_an_axis_of_one_holds_for_that_value_only():
    table = {"mass_axis": [600.0], "altitude_axis": [0.0, 1000.0], "temperature_axis": [288.15]}
    table |= {"values": [[[100.0], [140.0]]]}
    assert book.interpolate(600.0, 500.0, 288.15, **table) == pytest.approx(120.0)
    assert book.interpolate(600.0 * (1 + 1e-12), 500.0, 288.15, **table) == pytest.approx(120.0)
    assert math.isnan(book.interpolate(601.0, 500.0, 288.15, **table))
    assert math.isnan(book.interpolate(600.0, 500.0, 288.2, **table))


@pytest.mark.parametrize(
    "wrong",
    [{"mass_axis": [600.0, 500.0, 650.0]}, {"mass_axis": [500.0, 500.0, 650.0]},
     {"mass_axis": [500.0, 600.0]},
     {"mass_axis": []}, {"mass_axis": [500.0, math.nan, 650.0]}, {"values": VALUES[0]}],
)  # fmt: skip
def test_a_table_that_does_not_hang_together_is_refused(wrong):
    with pytest.raises(ValueError, match="table"):
        book.interpolate(600.0, 0.0, 283.15, **TABLE | wrong)


def test_outside_by_says_which_and_how_far():
    beyond = book.outside_by(670.0, -50.0, 283.15, **AXES)
    assert beyond == pytest.approx((20.0, -50.0, 0.0))
    many = book.outside_by(np.array([480.0, 600.0]), 2000.0, math.nan, **AXES)
    assert many.mass == pytest.approx([-20.0, 0.0])
    assert many.pressure_altitude == pytest.approx(171.2)
    assert math.isnan(many.temperature)


def test_outside_by_and_interpolate_agree():
    altitudes = np.linspace(-100, 2000, 211)
    silent = np.isnan(book.interpolate(600.0, altitudes, 283.15, **TABLE))
    np.testing.assert_array_equal(
        silent, book.outside_by(600.0, altitudes, 283.15, **AXES).pressure_altitude != 0
    )


def test_book_wind_rule():
    assert book.book_wind_factor(18.0, 9.0, 0.9, 20.0) == pytest.approx(0.8)
    assert book.book_wind_factor(4.0, 2.0, 1.1, 10.0) == pytest.approx(1.2)
    assert book.book_wind_factor(0.0, 9.0, 0.9, 0.0) == 1.0
    assert math.isnan(book.book_wind_factor(20.5, 9.0, 0.9, 20.0))
    assert math.isnan(book.book_wind_factor(95.0, 9.0, 0.9, 100.0))


SHAPES = {
    "interpolate": {
        "mass": (490.0, 640.0),
        "pressure_altitude": (0.0, 1800.0),
        "temperature": (263.15, 303.15),
    },
    "book_wind_factor": {"wind": (0.0, 10.0), "step": (4.0, 6.0), "factor": (0.9, 1.1), "limit": (5.0, 12.0)},
}


@pytest.mark.parametrize("name", SHAPES)
def test_broadcasts(name):
    check_broadcast(name, SHAPES[name], TABLE if name == "interpolate" else None)


def test_every_relation_is_tried_for_shape():
    mine = {name for name, r in relation.REGISTER.items() if r.module == book.__name__}
    assert mine == set(SHAPES)
