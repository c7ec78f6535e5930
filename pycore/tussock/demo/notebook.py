"""Dabchick's notebook: what its owner measured."""

from __future__ import annotations

from typing import Any

from .figures import Clock, iso, measured, si


def notebook(clock: Clock) -> dict[str, Any]:
    def entry(
        number: int, day: int, what: str, mass: str, altitude: str, temperature: str, **fields: Any
    ) -> dict[str, Any]:
        return {
            "what": what,
            "id": f"n{number}",
            "at": iso(clock.at(-day, 9.0)),
            "configuration": "shelf-out",
            "mass": measured(mass, "4 kg"),
            "pressure_altitude": si(altitude),
            "temperature": si(temperature),
            **fields,
        }

    home = {"strip": "quiet-water", "direction": "08", "surface": "gravel_dry", "slope": 0.002}
    return {
        "version": 1,
        "kind": "notebook",
        "id": "dabchick-notebook",
        "name": "Dabchick's notebook",
        "aeroplane": "dabchick",
        "entries": [
            entry(
                1,
                40,
                "takeoff",
                "430 kg",
                "4100 ft",
                "14 degC",
                flap="first",
                headwind=0.0,
                roll=measured("120 m", "8 m"),
                over_50ft=measured("315 m", "25 m"),
                **home,
            ),
            entry(
                2,
                33,
                "takeoff",
                "515 kg",
                "4200 ft",
                "18 degC",
                flap="first",
                headwind=si("4 kt"),
                roll=measured("195 m", "12 m"),
                note="Three of five markers",
                **home,
            ),
            entry(
                3,
                33,
                "climb",
                "510 kg",
                "6500 ft",
                "9 degC",
                flap="up",
                indicated=measured("55 kt", "1 kt"),
                rate=measured("360 ft/min", "40 ft/min"),
            ),
            entry(
                4,
                26,
                "level",
                "445 kg",
                "7500 ft",
                "6 degC",
                indicated=measured("80 kt", "1 kt"),
                rotation=measured("2620 rpm", "15 rpm"),
            ),
            entry(
                5,
                26,
                "cruise",
                "440 kg",
                "7500 ft",
                "6 degC",
                indicated=measured("75 kt", "1 kt"),
                rotation=measured("2500 rpm", "15 rpm"),
                flow=measured("16 L/h", "1 L/h"),
            ),
            entry(
                6,
                19,
                "landing",
                "500 kg",
                "4100 ft",
                "14 degC",
                flap="full",
                headwind=0.0,
                roll=measured("88 m", "8 m"),
                over_50ft=measured("265 m", "25 m"),
                from_height=measured("15 m", "3 m"),
                **home,
            ),
            entry(
                7,
                19,
                "stall",
                "440 kg",
                "6000 ft",
                "8 degC",
                flap="full",
                indicated=measured("26 kt", "2 kt"),
            ),
            entry(
                8,
                12,
                "takeoff",
                "440 kg",
                "4300 ft",
                "21 degC",
                flap="first",
                headwind=0.0,
                technique="best",
                roll=measured("112 m", "8 m"),
                note="Tail up late, flap at the last moment",
                **home,
            ),
            entry(
                9,
                5,
                "glide",
                "430 kg",
                "6000 ft",
                "7 degC",
                flap="up",
                indicated=measured("58 kt", "1 kt"),
                sink=measured("540 ft/min", "50 ft/min"),
                suspect=True,
                note="Rough air",
            ),
        ],
    }
