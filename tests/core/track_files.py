"""Tracks as files: fixes written as GPX and CSV, about a place that is nowhere."""

from __future__ import annotations

from datetime import UTC, datetime

import numpy as np

from .made_tracks import Array

LATITUDE, LONGITUDE = 12.0, -40.0
BEGAN = datetime(2026, 11, 20, 9, 0, tzinfo=UTC).timestamp()


def places(fixes: dict[str, Array]) -> tuple[Array, Array]:
    """Latitude and longitude [deg] of east and north [m], by the radii of WGS84 there."""
    north = LATITUDE + np.degrees(fixes["north"] / 6_338_000.0)
    return north, LONGITUDE + np.degrees(fixes["east"] / (6_379_000.0 * np.cos(np.radians(LATITUDE))))


def stamp(seconds: float) -> str:
    return datetime.fromtimestamp(BEGAN + seconds, UTC).isoformat(timespec="milliseconds")


def gpx(fixes: dict[str, Array], version: str = "1.1") -> str:
    """A GPX track; in 1.1 the speed stands in an extension."""
    latitude, longitude = places(fixes)
    points = []
    for k, t in enumerate(fixes["times"]):
        height = "" if np.isnan(fixes["height"][k]) else f"<ele>{fixes['height'][k]:.2f}</ele>"
        speed = "" if np.isnan(fixes["speed"][k]) else f"<speed>{fixes['speed'][k]:.2f}</speed>"
        if speed and version == "1.1":
            speed = f"<extensions><x:more>{speed.replace('speed', 'x:speed')}</x:more></extensions>"
        place = f'lat="{latitude[k]:.8f}" lon="{longitude[k]:.8f}"'
        points.append(f"<trkpt {place}>{height}<time>{stamp(t)}</time>{speed}</trkpt>")
    name = version.replace(".", "/")
    return (
        f'<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="{version}" creator="made" '
        f'xmlns="http://www.topografix.com/GPX/{name}" xmlns:x="urn:made"><trk><name>x</name><trkseg>\n'
        + "\n".join(points)
        + "\n</trkseg></trk></gpx>\n"
    )


def table(
    fixes: dict[str, Array],
    header: str = "time,latitude,longitude,height (m),speed (m/s)",
    factor: float = 1.0,
) -> str:
    """A table; a header with semicolons brings decimal commas."""
    latitude, longitude = places(fixes)
    sign = ";" if ";" in header else ","
    lines = [header]
    for k, t in enumerate(fixes["times"]):
        figures = [f"{latitude[k]:.8f}", f"{longitude[k]:.8f}", f"{fixes['height'][k]:.2f}"]
        figures.append("" if np.isnan(fixes["speed"][k]) else f"{fixes['speed'][k] * factor:.3f}")
        if sign == ";":
            figures = [one.replace(".", ",") for one in figures]
        lines.append(sign.join([stamp(t), *figures]))
    return "\n".join(lines) + "\n"
