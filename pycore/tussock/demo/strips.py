"""The strips of an invented plateau.

Their positions are real numbers so that distances, bearings and the sun come out right, but the place is open
ocean in the South Atlantic (about 33 S, 4 W), without a scrap of land: nobody can fly there by mistake.
"""

from __future__ import annotations

import math
from typing import Any

from .figures import Clock, guessed, iso, measured


def strips(clock: Clock) -> list[dict[str, Any]]:
    return [
        _quiet_water(clock),
        _saltpan(clock),
        _ridge_camp(clock),
        _larkfield(clock),
        _windgate(clock),
        _two_cairns(clock),
        _stone_bar(clock),
    ]


def _strip(
    name: str, label: str, code: str, place: tuple[float, float], elevation: str, **fields: Any
) -> dict[str, Any]:
    return {
        "version": 1,
        "kind": "strip",
        "id": name,
        "name": label,
        "code": code,
        "position": {"latitude": place[0], "longitude": place[1]},
        "elevation": measured(elevation),
        **fields,
    }


def _ground(
    length: str, width: str, surface: str, seen: str, segments: list[tuple[float, float]], **state: Any
) -> dict[str, Any]:
    return {
        "length": measured(length),
        "width": measured(width),
        "segments": [{"length": metres, "slope": slope} for metres, slope in segments],
        "state": {"surface": surface, "seen": seen, **state},
    }


def _ways(
    one: tuple[str, float], use: tuple[str, str], forward: dict[str, Any], back: dict[str, Any]
) -> list[dict[str, Any]]:
    """Both directions of a strip from the designator and true bearing [deg] of the first."""
    designator, bearing = one
    other = f"{(int(designator) + 17) % 36 + 1:02d}"
    ends = zip((designator, other), (bearing, bearing + 180.0), ("forward", "reverse"), use, strict=False)
    return [
        {
            "id": name,
            "designator": name,
            "bearing": math.radians(true % 360.0),
            "along": along,
            "use": allowed,
            **fields,
        }
        for (name, true, along, allowed), fields in zip(ends, (forward, back), strict=True)
    ]


def _none(clock: Clock) -> dict[str, Any]:
    return {"state": "none", "said_by": "Wren Alder", "at": iso(clock.at(-4, 10.0))}


def _listed(*obstacles: tuple[str, str, str]) -> dict[str, Any]:
    return {
        "state": "listed",
        "obstacles": [
            {"id": _id(name), "name": name, "distance": measured(distance), "height": measured(height)}
            for name, distance, height in obstacles
        ],
    }


def _id(name: str) -> str:
    return name.lower().replace(" ", "-").replace("'", "")


def _clear(clock: Clock) -> dict[str, Any]:
    return {
        "departure": _none(clock),
        "approach": _none(clock),
        "go_around": "possible",
        "go_around_way": _none(clock),
    }


def _quiet_water(clock: Clock) -> dict[str, Any]:
    return _strip(
        "quiet-water",
        "Quiet Water",
        "QW",
        (-33.50, -4.00),
        "1240 m",
        note="By the lake. The base: hangar, fuel, a tap.",
        ground=_ground("980 m", "18 m", "gravel_dry", iso(clock.at(-2, 9.0)), [(980.0, 0.002)]),
        directions=_ways(("08", 76.0), ("both", "both"), _clear(clock), _clear(clock)),
        fuel=[
            {"grade": "avgas", "seen": iso(clock.at(-2, 9.0)), "hours": "Daylight; ask at the house"},
            {"grade": "mogas", "seen": iso(clock.at(-2, 9.0)), "note": "Jerrycans"},
        ],
        has_sock=True,
        has_water=True,
    )


def _saltpan(clock: Clock) -> dict[str, Any]:
    return _strip(
        "saltpan",
        "Saltpan",
        "SP",
        (-34.05, -3.35),
        "1305 m",
        note="Dry lake bed. Firm for a week after the last rain.",
        ground=_ground("770 m", "60 m", "earth_dry", iso(clock.at(-1, 17.0)), [(770.0, 0.0)]),
        directions=_ways(("06", 63.0), ("both", "both"), _clear(clock), _clear(clock)),
        has_sock=True,
        has_water=False,
    )


def _ridge_camp(clock: Clock) -> dict[str, Any]:
    up = {
        "departure": {"state": "unknown"},
        "approach": _none(clock),
        "go_around": "none",
        "committed_at": "The lone tree on the near bank",
        "note": "Uphill to land; the ridge stands behind.",
    }
    down = {
        "departure": _listed(("Scrub", "90 m", "3 m")),
        "approach": {"state": "unknown"},
        "way_out": {
            "ridges": [
                {
                    "id": "far-rim",
                    "name": "Far rim",
                    "distance": measured("6.5 km"),
                    "height": measured("60 m"),
                }
            ],
            "valley_width": measured("1400 m"),
            "note": "Down the valley, then left over the flats.",
        },
    }
    return _strip(
        "ridge-camp",
        "Ridge Camp",
        "RC",
        (-33.30, -2.50),
        "1720 m",
        note="One-way: land uphill, leave downhill.",
        ground=_ground(
            "600 m",
            "14 m",
            "grass_short_dry",
            iso(clock.at(-3, 15.0)),
            [(220.0, 0.015), (220.0, 0.035), (160.0, 0.05)],
            grass_height=measured("6 cm"),
        ),
        directions=_ways(("31", 308.0), ("landing", "takeoff"), up, down),
        ridge_shadow={"before_sunset": measured("50 min"), "after_sunrise": measured("20 min")},
        mass_limit=guessed("900 kg"),
        has_sock=True,
        has_water=True,
    )


def _larkfield(clock: Clock) -> dict[str, Any]:
    return _strip(
        "larkfield",
        "Larkfield",
        "LF",
        (-32.70, -3.30),
        "1360 m",
        note="Hay meadow, mown.",
        ground=_ground(
            "1150 m",
            "30 m",
            "grass_short_dry",
            iso(clock.at(-1, 11.0)),
            [(1150.0, 0.004)],
            grass_height=measured("5 cm"),
        ),
        directions=_ways(("14", 141.0), ("both", "both"), _clear(clock), _clear(clock)),
        fuel=[{"grade": "avgas", "seen": iso(clock.at(-1, 11.0)), "hours": "By arrangement"}],
        has_sock=True,
        has_water=True,
    )


def _windgate(clock: Clock) -> dict[str, Any]:
    west = {
        "departure": _listed(("Fence", "40 m", "1.3 m"), ("Poplars", "320 m", "14 m")),
        "approach": _none(clock),
        "go_around": "possible",
        "go_around_way": _listed(("Saddle", "5 km", "60 m")),
        "way_out": {
            "ridges": [
                {"id": "saddle", "name": "Saddle", "distance": measured("5 km"), "height": measured("60 m")}
            ],
            "valley_width": measured("900 m"),
        },
    }
    east = {
        "departure": _none(clock),
        "approach": _listed(("Poplars", "320 m", "14 m"), ("Fence", "40 m", "1.3 m")),
        "go_around": "possible",
        "go_around_way": _none(clock),
        "way_out": {"valley_width": measured("1600 m")},
    }
    return _strip(
        "windgate",
        "Windgate",
        "WG",
        (-32.20, -4.90),
        "1500 m",
        note="In a gap of the hills: the wind comes through it by ten.",
        ground=_ground(
            "600 m",
            "16 m",
            "gravel_dry",
            iso(clock.at(-1, 12.0)),
            [(250.0, -0.01), (150.0, 0.005), (200.0, 0.012)],
        ),
        directions=_ways(("27", 268.0), ("both", "both"), west, east),
        ridge_shadow={"before_sunset": measured("35 min")},
        has_sock=True,
        has_water=False,
    )


def _two_cairns(clock: Clock) -> dict[str, Any]:
    up = {
        "approach": _none(clock),
        "go_around": "none",
        "committed_at": "The second cairn",
        "note": "Lands up the slope only.",
    }
    down = {
        "departure": _none(clock),
        "way_out": {"valley_width": measured("2200 m"), "note": "Straight out over the edge."},
    }
    return _strip(
        "two-cairns",
        "Two Cairns",
        "TC",
        (-34.60, -5.60),
        "2060 m",
        note="On the shoulder of the high ground, steep at the top.",
        ground=_ground(
            "460 m",
            "12 m",
            "earth_dry",
            iso(clock.at(-1, 15.0)),
            [(160.0, 0.03), (180.0, 0.06), (120.0, 0.08)],
        ),
        directions=_ways(("22", 219.0), ("landing", "takeoff"), up, down),
        mass_limit=guessed("1000 kg"),
        has_sock=False,
        has_water=True,
    )


def _stone_bar(clock: Clock) -> dict[str, Any]:
    """A river bar of which little is known: what is not known is not made up."""
    unknown = {"departure": {"state": "unknown"}, "approach": {"state": "unknown"}, "go_around": "unknown"}
    return _strip(
        "stone-bar",
        "Stone Bar",
        "SB",
        (-33.95, -5.05),
        "1275 m",
        note="Paced once, years ago.",
        ground={
            "length": guessed("420 m", "30 m", "Paced"),
            "state": {"surface": "gravel_dry", "seen": iso(clock.at(-6, 12.0))},
        },
        directions=_ways(("09", 92.0), ("both", "both"), unknown, dict(unknown)),
        has_sock=False,
        has_water=True,
    )
