"""A lesson on the demo trip: one thing moves, the room says what else will."""

from __future__ import annotations

from typing import Any

from ..units import si


def lesson() -> dict[str, Any]:
    return {
        "version": 1,
        "kind": "lesson",
        "id": "hot-and-high",
        "name": "Hot and high",
        "subject": "Density altitude",
        "trip": "week",
        "leg": "to-ridge-camp",
        "steps": [
            {
                "id": "heat",
                "ask": "The morning warms up. Which answers move, and which way?",
                "moves": {
                    "document": "air-1-from",
                    "pointer": "/temperature",
                    "start": si("5 degC"),
                    "stop": si("35 degC"),
                    "unit": "degC",
                },
                "watch": ["lifts_off", "climbs_out"],
                "explain": "Thin air takes from the wing, the propeller and the engine at once.",
            },
            {
                "id": "fuel",
                "ask": "Take less fuel. What do you win, and what do you pay?",
                "moves": {
                    "document": "week",
                    "pointer": "/legs/to-ridge-camp/fuel/main/volume/value",
                    "start": si("100 L"),
                    "stop": si("20 L"),
                    "unit": "L",
                },
                "watch": ["lifts_off", "reaches", "balances"],
                "explain": "Mass comes off the distance faster than one for one; the reserve does not bend.",
            },
            {
                "id": "sock",
                "ask": "The wind goes round behind. How much before you stay?",
                "moves": {
                    "document": "air-1-from",
                    "pointer": "/wind/wind_from",
                    "start": 0.0,
                    "stop": si("180 deg"),
                    "unit": "deg",
                },
                "watch": ["lifts_off"],
            },
        ],
    }
