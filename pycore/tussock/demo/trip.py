"""The trip: a week on an invented plateau, two people, seven legs, two aeroplanes, the air of each leg."""

from __future__ import annotations

import math
from typing import Any

from ..units import si
from .air import CALM, air, sock, wind
from .figures import Clock, fig, iso
from .loads import loads

OPEN = {"trip": "week", "leg": "to-ridge-camp"}


def settings() -> dict[str, Any]:
    return {
        "version": 1,
        "kind": "settings",
        "id": "ours",
        "name": "Our settings",
        "note": (
            "Sinking air: 100 ft/min is our own figure for still mornings on open ground. "
            "With the usual 300 most of these legs are a no."
        ),
        "reserve": {"rule": "30 min, day VFR", "time": si("30 min")},
        "sinking_air": si("100 ft/min"),
        "typed": {"/reserve/time": "30 min", "/sinking_air": "100 ft/min"},
    }


def airs(clock: Clock) -> list[dict[str, Any]]:
    start = clock.start
    return [
        air(
            "air-1-from",
            "saltpan",
            start,
            origin="read" if clock.daytime else "forecast",
            reading="4230 ft",
            temperature="11 degC",
            dew_point="4 degC",
            wind=sock(0.5, -20.0, "06"),
            day=("9 degC", "27 degC"),
        ),
        air(
            "air-1-to",
            "ridge-camp",
            clock.after(start, 1.0),
            qnh="1014 hPa",
            temperature="16 degC",
            dew_point="3 degC",
            wind=wind("5 kt", 300.0),
            day=("6 degC", "24 degC"),
        ),
        air(
            "air-2-from",
            "ridge-camp",
            clock.at(1, 12.5),
            qnh="1015 hPa",
            temperature="20 degC",
            dew_point="3 degC",
            wind=CALM,
            day=("6 degC", "23 degC"),
        ),
        air(
            "air-2-to",
            "larkfield",
            clock.at(1, 13.2),
            qnh="1015 hPa",
            temperature="24 degC",
            dew_point="4 degC",
            wind=wind("4 kt", 150.0),
            day=("8 degC", "27 degC"),
        ),
        air(
            "air-3-from",
            "larkfield",
            clock.at(2, 7.7),
            qnh="1014 hPa",
            temperature="13 degC",
            dew_point="5 degC",
            wind=wind("4 kt", 140.0),
            day=("9 degC", "29 degC"),
        ),
        air(
            "air-3-to",
            "windgate",
            clock.at(2, 8.9),
            qnh="1014 hPa",
            temperature="15 degC",
            dew_point="4 degC",
            wind=wind("6 kt", 280.0),
            day=("8 degC", "26 degC"),
        ),
        air(
            "air-4-from",
            "saltpan",
            clock.at(2, 13.5),
            qnh="1012 hPa",
            temperature="28 degC",
            dew_point="4 degC",
            wind=wind("5 kt", 80.0),
            day=("9 degC", "29 degC"),
        ),
        air(
            "air-4-to",
            "quiet-water",
            clock.at(2, 14.3),
            qnh="1012 hPa",
            temperature="26 degC",
            dew_point="5 degC",
            wind=wind("6 kt", 90.0, "9 kt"),
            day=("10 degC", "28 degC"),
        ),
        air(
            "air-5-from",
            "quiet-water",
            clock.at(3, 12.0),
            qnh="1012 hPa",
            temperature="24 degC",
            dew_point="5 degC",
            wind=wind("7 kt", 80.0),
            day=("9 degC", "27 degC"),
        ),
        air(
            "air-6-from",
            "two-cairns",
            clock.at(4, 7.5),
            qnh="1014 hPa",
            temperature="8 degC",
            dew_point="2 degC",
            wind=wind("5 kt", 40.0),
            day=("4 degC", "19 degC"),
        ),
        air(
            "air-6-to",
            "quiet-water",
            clock.at(4, 8.6),
            qnh="1014 hPa",
            temperature="15 degC",
            dew_point="6 degC",
            wind=CALM,
            day=("10 degC", "28 degC"),
        ),
        air(
            "air-7-from",
            "quiet-water",
            clock.at(5, 8.0),
            qnh="1016 hPa",
            temperature="12 degC",
            dew_point="5 degC",
            wind=wind("6 kt", 80.0),
            day=("9 degC", "26 degC"),
        ),
        air(
            "air-7-to",
            "saltpan",
            clock.at(5, 8.8),
            qnh="1016 hPa",
            temperature="13 degC",
            dew_point="4 degC",
            wind=wind("6 kt", 70.0),
            day=("9 degC", "27 degC"),
        ),
    ]


def trip(clock: Clock) -> dict[str, Any]:
    return {
        "version": 1,
        "kind": "trip",
        "id": "week",
        "name": "A week on the plateau",
        "note": "Invented from end to end: people, aeroplanes, strips. The plateau lies in open ocean.",
        "aeroplane": "dabchick",
        "configuration": "shelf-out",
        "people": ["wren", "rowan"],
        "kits": ["always", "camp", "winter", "tools"],
        "settings": "ours",
        "nights": 6,
        "water_per_day": 3.0,
        "loads": loads(),
        "legs": [
            _leg(
                "to-ridge-camp",
                "Out to the camp",
                ("saltpan", "06"),
                ("ridge-camp", "31"),
                "dabchick-three-days",
                fuel={"main": "42 L"},
                departure=None if clock.daytime else iso(clock.start),
                airs=("air-1-from", "air-1-to"),
                aloft=("8 kt", 280.0),
                alternate="saltpan",
            ),
            _leg(
                "to-larkfield",
                "Wren alone, down for the rest, at noon",
                ("ridge-camp", "13"),
                ("larkfield", "14"),
                "dabchick-alone",
                fuel={"main": "42 L"},
                departure=iso(clock.at(1, 12.5)),
                airs=("air-2-from", "air-2-to"),
                aloft=("8 kt", 260.0),
            ),
            _leg(
                "to-windgate-light",
                "On to Windgate with clothes for the week",
                ("larkfield", "14"),
                ("windgate", "27"),
                "dabchick-week",
                fuel={"main": "42 L"},
                departure=iso(clock.at(2, 7.7)),
                airs=("air-3-from", "air-3-to"),
                aloft=("8 kt", 200.0),
            ),
            _leg(
                "to-quiet-water",
                "Wren alone with the camp, after lunch",
                ("saltpan", "06"),
                ("quiet-water", "08"),
                "shelduck-alone",
                fuel={"left-tank": "23 L", "right-tank": "23 L"},
                departure=iso(clock.at(2, 13.5)),
                airs=("air-4-from", "air-4-to"),
                aloft=("8 kt", 200.0),
                heavy=True,
            ),
            _leg(
                "to-two-cairns",
                "Up to the cairns at noon",
                ("quiet-water", "08"),
                ("two-cairns", "22"),
                "shelduck-week",
                fuel={"left-tank": "38 L", "right-tank": "38 L"},
                departure=iso(clock.at(3, 12.0)),
                airs=("air-5-from", None),
                aloft=("10 kt", 250.0),
                cruise_altitude="8000 ft",
                heavy=True,
            ),
            _leg(
                "down-with-the-trunk",
                "Down to the lake with the lent trunk",
                ("two-cairns", "04"),
                ("quiet-water", "08"),
                "shelduck-trunk",
                fuel={"left-tank": "35 L", "right-tank": "35 L"},
                departure=iso(clock.at(4, 7.5)),
                airs=("air-6-from", "air-6-to"),
                aloft=("8 kt", 240.0),
                cruise_altitude="8000 ft",
                heavy=True,
            ),
            _leg(
                "to-saltpan",
                "Wren alone, home",
                ("quiet-water", "08"),
                ("saltpan", "06"),
                "dabchick-alone",
                fuel={"main": "45 L"},
                departure=iso(clock.at(5, 8.0)),
                airs=("air-7-from", "air-7-to"),
                aloft=("8 kt", 250.0),
            ),
        ],
    }


def _leg(
    name: str,
    label: str,
    start: tuple[str, str],
    end: tuple[str, str],
    load: str,
    *,
    fuel: dict[str, str],
    departure: str | None,
    airs: tuple[str, str | None],
    aloft: tuple[str, float],
    alternate: str | None = None,
    cruise_altitude: str = "6500 ft",
    heavy: bool = False,
) -> dict[str, Any]:
    leg: dict[str, Any] = {
        "id": name,
        "name": label,
        "from_strip": start[0],
        "takeoff_direction": start[1],
        "to_strip": end[0],
        "landing_direction": end[1],
        "load": load,
        "fuel": [{"tank": tank, "volume": fig(volume, "measured")} for tank, volume in fuel.items()],
        "fuel_grade": "avgas",
        "takeoff_flap": "ten" if heavy else "first",
        "landing_flap": "landing" if heavy else "full",
        "cruise": "usual",
        "cruise_altitude": si(cruise_altitude),
        "wind_aloft": {"speed": si(aloft[0]), "wind_from": math.radians(aloft[1])},
        "air_from": airs[0],
    }
    if heavy:
        leg |= {"aeroplane": "shelduck", "configuration": "two-seats"}
    optional = {"departure": departure, "air_to": airs[1], "alternate": alternate}
    return leg | {key: value for key, value in optional.items() if value is not None}
