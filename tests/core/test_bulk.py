"""Bulk: boxes through doors and into bays against all ways to hold them, floors, seats, shapes."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tussock.sums import bulk

from .broadcasting import assert_broadcasts

#: whole millimetres: what differs by less than a rounding is held to be equal
edge = st.integers(50, 2000).map(lambda millimetres: millimetres / 1000.0)


@given(edge, edge, edge, edge, edge)
def test_door_against_all_ways_to_hold_the_box(length, width, height, door_width, door_height):
    any_way = any(
        a <= door_width and b <= door_height for a, b in itertools.permutations((length, width, height), 2)
    )
    standing = (length <= door_width or width <= door_width) and height <= door_height
    assert bulk.fits_door(length, width, height, door_width, door_height) == float(any_way)
    assert bulk.fits_door(length, width, height, door_width, door_height, 1.0) == float(standing)


@given(st.tuples(edge, edge, edge), st.tuples(edge, edge, edge))
def test_bay_against_all_ways_to_put_the_box(box, bay):
    any_way = any(all(a <= b for a, b in zip(way, bay, strict=True)) for way in itertools.permutations(box))
    standing = box[2] <= bay[2] and any(
        a <= bay[0] and b <= bay[1] for a, b in ((box[0], box[1]), (box[1], box[0]))
    )
    assert bulk.fits_box(*box, *bay) == float(any_way)
    assert bulk.fits_box(*box, *bay, 1.0) == float(standing)
    if standing:
        assert any_way


def test_exactly_as_large_fits_whatever_the_unit():
    for centimetres in range(1, 200):
        box, opening = centimetres * 1e-2, centimetres * 10 * 1e-3
        assert bulk.fits_door(box, box, 3.0, opening, opening) == 1.0
        assert bulk.fits_box(box, box, box, opening, opening, opening) == 1.0
    assert bulk.fits_door(0.5001, 0.6, 0.7, 0.5, 0.5) == 0.0


def test_missing_edges_do_not_fit():
    for place in range(5):
        edges = [0.1, 0.1, 0.1, 0.5, 0.5]
        edges[place] = math.nan
        assert math.isnan(bulk.fits_door(*edges))
    for place in range(6):
        edges = [0.1, 0.1, 0.1, 0.5, 0.5, 0.5]
        edges[place] = math.nan
        assert math.isnan(bulk.fits_box(*edges))
    assert math.isnan(bulk.fits_box(0.1, 0.1, 0.1, 0.5, 0.5, 0.5, math.nan))


@given(edge, edge, edge, edge, edge, st.floats(0.0, 0.5))
def test_a_larger_box_never_fits_better(length, width, height, door_width, door_height, more):
    for upright in (0.0, 1.0):
        small = bulk.fits_door(length, width, height, door_width, door_height, upright)
        for larger in (
            (length + more, width, height),
            (length, width + more, height),
            (length, width, height + more),
        ):
            assert bulk.fits_door(*larger, door_width, door_height, upright) <= small


def test_volumes():
    assert bulk.packed_volume(0.1, 0.25) == pytest.approx(0.075)
    assert bulk.packed_volume(0.1, 0.0) == 0.1
    assert bulk.packed_volume(0.1, 1.0) == 0.0
    assert bulk.usable_volume(0.5, 0.8) == pytest.approx(0.4)
    assert bulk.box_volume(0.5, 0.4, 0.3) == pytest.approx(0.06)


def test_floor_load():
    assert bulk.floor_load(20.0, 0.5, 0.4) == pytest.approx(100.0)
    assert bulk.floor_load(20.0, 0.0, 0.4) == math.inf
    assert bulk.floor_load(0.0, 0.0, 0.4) == 0.0


def test_head_room_signs():
    room = bulk.head_room(np.array([1.80, 1.85, 1.90]), 1.80, 1.87)
    np.testing.assert_array_equal(room.sits_well >= 0.0, [True, False, False])
    np.testing.assert_array_equal(room.fits >= 0.0, [True, True, False])


BOX = {"length": 0.5, "width": 0.4, "height": 0.3}


@pytest.mark.parametrize(
    ("function", "sample"),
    [
        (bulk.packed_volume, {"volume": 0.2, "compressible_fraction": 0.3}),
        (bulk.usable_volume, {"volume": 0.2, "packing_fraction": 0.8}),
        (bulk.box_volume, BOX),
        (bulk.fits_door, BOX | {"door_width": 0.4, "door_height": 0.3, "upright": 1.0}),
        (bulk.fits_door, BOX | {"door_width": 0.3, "door_height": 0.4, "upright": 0.0}),
        (bulk.fits_box, BOX | {"bay_length": 0.5, "bay_width": 0.4, "bay_height": 0.3, "upright": 1.0}),
        (bulk.fits_box, BOX | {"bay_length": 0.3, "bay_width": 0.5, "bay_height": 0.4, "upright": 0.0}),
        (bulk.floor_load, {"mass": 20.0, "length": 0.5, "width": 0.4}),
        (bulk.head_room, {"height": 1.8, "tallest_well": 1.8, "tallest_fits": 1.87}),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_broadcasting(function, sample):
    assert_broadcasts(function, **sample)


@given(st.floats(0.0, 0.2), st.floats(0.0, 0.2), st.floats(0.0, 0.2))
def test_a_bag_takes_no_less_than_it_is_nor_than_what_is_in_it(volume, rigid, soft):
    whole = rigid + bulk.bag_volume(volume, rigid, soft)
    assert whole == pytest.approx(max(volume, rigid + soft))
