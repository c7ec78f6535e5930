"""Places: distance and bearing on the WGS84 ellipsoid, by a library (geographiclib, Karney 2013).

Latitudes and longitudes are in degrees, the one exception to SI. Longitudes may be given beyond ±180.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from geographiclib.geodesic import Geodesic as _Library

from ..relation import Number, Quantity, relation

_TURN = 2.0 * np.pi
_WGS84 = _Library.WGS84
_SOURCE = "Karney, Algorithms for geodesics, J. Geodesy 87 (2013) 43; WGS84"

Latitude = Annotated[Number, Quantity("latitude", "deg", -90.0, 90.0)]
Longitude = Annotated[Number, Quantity("longitude", "deg", -540.0, 540.0)]
Bearing = Annotated[Number, Quantity("bearing", "rad", -_TURN, _TURN)]
Distance = Annotated[Number, Quantity("distance", "m", 0.0, 20_004_000.0)]


class Geodesic(NamedTuple):
    """Distance [m]; bearings [rad] from true north, 0 to 2 pi, at the start and on arrival."""

    distance: Annotated[Number, Quantity("distance", "m")]
    bearing: Annotated[Number, Quantity("bearing", "rad")]
    bearing_at_end: Annotated[Number, Quantity("bearing on arrival", "rad")]


class Place(NamedTuple):
    """Latitude and longitude [deg], -180 to 180; bearing on arrival [rad], 0 to 2 pi."""

    latitude: Annotated[Number, Quantity("latitude", "deg")]
    longitude: Annotated[Number, Quantity("longitude", "deg")]
    bearing_at_end: Annotated[Number, Quantity("bearing on arrival", "rad")]


def _bearing(degrees: float) -> float:
    turned = float(np.radians(degrees)) % _TURN
    return 0.0 if turned >= _TURN else turned


def _inverse(*points: float) -> tuple[float, float, float]:
    if not np.all(np.isfinite(points)):
        return np.nan, np.nan, np.nan
    line = _WGS84.Inverse(*points)
    return line["s12"], _bearing(line["azi1"]), _bearing(line["azi2"])


def _direct(latitude: float, longitude: float, bearing: float, distance: float) -> tuple[float, float, float]:
    if not np.all(np.isfinite((latitude, longitude, bearing, distance))):
        return np.nan, np.nan, np.nan
    line = _WGS84.Direct(latitude, longitude, float(np.degrees(bearing)), distance)
    return line["lat2"], line["lon2"], _bearing(line["azi2"])


# The library takes one pair of points at a time.
_INVERSE = np.vectorize(_inverse, otypes=[float, float, float])
_DIRECT = np.vectorize(_direct, otypes=[float, float, float])


@relation("Distance and bearing between places", source=_SOURCE)
def geodesic(
    latitude_from: Latitude, longitude_from: Longitude, latitude_to: Latitude, longitude_to: Longitude
) -> Geodesic:
    """Shortest line between two places [deg] on the ellipsoid: length [m], bearing [rad] at both ends.

    Of no use as a bearing where they coincide.
    """
    return Geodesic(
        *(part[()] for part in _INVERSE(latitude_from, longitude_from, latitude_to, longitude_to))
    )


@relation("Place at a distance and bearing", source=_SOURCE)
def destination(latitude: Latitude, longitude: Longitude, bearing: Bearing, distance: Distance) -> Place:
    """Where the shortest line from a place [deg] along a bearing [rad] leads after a distance [m]."""
    return Place(*(part[()] for part in _DIRECT(latitude, longitude, bearing, distance)))
