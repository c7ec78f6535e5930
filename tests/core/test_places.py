"""Places: wrap of the longitude, poles, directions, round trips."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock.relation import evaluate
from tussock.sums import places

latitudes = st.floats(-89, 89)
longitudes = st.floats(-180, 180)
often = settings(derandomize=True, deadline=None, max_examples=200)


@given(latitudes, longitudes, st.floats(0, 6.28), st.floats(1, 2e6))
@often
def test_destination_and_geodesic_round_trip(
    latitude: float, longitude: float, bearing: float, distance: float
) -> None:
    there = places.destination(latitude, longitude, bearing, distance)
    assert -180 <= there.longitude <= 180
    line = places.geodesic(latitude, longitude, there.latitude, there.longitude)
    assert line.distance == pytest.approx(distance, abs=1e-6)
    assert np.cos(line.bearing - bearing) == pytest.approx(1, abs=1e-6)
    assert np.cos(line.bearing_at_end - there.bearing_at_end) == pytest.approx(1, abs=1e-6)


@given(latitudes, longitudes, latitudes, longitudes)
@often
def test_there_and_back(lat1: float, lon1: float, lat2: float, lon2: float) -> None:
    out, back = places.geodesic(lat1, lon1, lat2, lon2), places.geodesic(lat2, lon2, lat1, lon1)
    assert out.distance == pytest.approx(back.distance, abs=1e-6)
    assert 0 <= out.bearing < 2 * np.pi


@given(latitudes, longitudes, latitudes, longitudes)
@often
def test_a_full_turn_of_longitude_changes_nothing(lat1: float, lon1: float, lat2: float, lon2: float) -> None:
    plain, turned = (
        places.geodesic(lat1, lon1, lat2, lon2),
        places.geodesic(lat1, lon1 + 360, lat2, lon2 - 360),
    )
    assert turned.distance == pytest.approx(plain.distance, abs=1e-4)


def test_across_the_antimeridian_is_the_short_way() -> None:
    east = places.geodesic(10.0, 179.9, 10.0, -179.9)
    assert east.distance < 25000
    assert np.degrees(east.bearing) == pytest.approx(90, abs=0.1)
    there = places.destination(10.0, 179.9, np.pi / 2, 30000.0)
    assert -180 < there.longitude < -179.5


def test_cardinal_directions() -> None:
    bearings = places.geodesic(
        0.0, 0.0, np.array([1.0, 0.0, -1.0, 0.0]), np.array([0.0, 1.0, 0.0, -1.0])
    ).bearing
    np.testing.assert_allclose(np.degrees(bearings), [0, 90, 180, 270], atol=1e-9)


def test_from_the_pole_all_ways_lead_to_the_equator() -> None:
    line = places.geodesic(90.0, 0.0, 0.0, np.array([0.0, 77.0, -120.0]))
    np.testing.assert_allclose(line.distance, 10001965.729, atol=1e-3)


def test_nowhere_is_nan() -> None:
    assert np.all(np.isnan(places.geodesic(np.nan, 0.0, 1.0, 1.0)))
    assert np.all(np.isnan(places.destination(0.0, 0.0, np.inf, 1.0)))
    assert np.all(
        np.isnan(
            evaluate(places.geodesic, latitude_from=90.1, longitude_from=0, latitude_to=0, longitude_to=0)
        )
    )


def test_same_place_is_no_distance() -> None:
    assert places.geodesic(12.0, 34.0, 12.0, 34.0).distance == 0
