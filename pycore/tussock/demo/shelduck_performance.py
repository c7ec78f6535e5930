"""Shelduck's performance: the book, what its owner measured, and the constants that fit both."""

from __future__ import annotations

from typing import Any

from ..units import si
from .figures import fig, measured
from .tables import ALTITUDES, TEMPERATURES, climbs, distances

MASSES = [720.0, 790.0, 860.0, 930.0, 1000.0]


def performance() -> list[dict[str, Any]]:
    return [_takeoff(), _landing(), _climb(), _known_landing(), _constants()]


def _takeoff() -> dict[str, Any]:
    return {
        "source": "book_distance",
        "id": "book-takeoff",
        "name": "Book, take-off, flap 10",
        "phase": "takeoff",
        "flap": "ten",
        "mass_axis": MASSES,
        "altitude_axis": ALTITUDES,
        "temperature_axis": TEMPERATURES,
        "surface": "paved_dry",
        "roll": distances(MASSES, 1000.0, 230.0, 2.4, 2.5),
        "over_50ft": distances(MASSES, 1000.0, 500.0, 2.5, 3.3),
    }


def _landing() -> dict[str, Any]:
    return {
        "source": "book_distance",
        "id": "book-landing",
        "name": "Book, landing, flap 25",
        "phase": "landing",
        "flap": "landing",
        "mass_axis": MASSES,
        "altitude_axis": ALTITUDES,
        "temperature_axis": TEMPERATURES,
        "surface": "paved_dry",
        "roll": distances(MASSES, 1000.0, 130.0, 1.0, 1.0),
        "over_50ft": distances(MASSES, 1000.0, 320.0, 0.6, 0.7),
    }


def _climb() -> dict[str, Any]:
    return {
        "source": "book_climb",
        "id": "book-climb",
        "name": "Book, climb",
        "mass_axis": MASSES,
        "altitude_axis": ALTITUDES,
        "temperature_axis": TEMPERATURES,
        "speed": fig("65 kt"),
        "rate": climbs(MASSES, 1000.0, 650.0, 1250.0, 1850.0),
    }


def _known_landing() -> dict[str, Any]:
    return {
        "source": "known_distance",
        "id": "known-landing",
        "name": "Measured at Larkfield, two aboard",
        "phase": "landing",
        "flap": "landing",
        "technique": "usual",
        "roll": measured("135 m", "12 m"),
        "over_50ft": measured("330 m", "30 m"),
        "conditions": {
            "mass": measured("890 kg"),
            "pressure_altitude": si("4500 ft"),
            "temperature": si("16 degC"),
            "headwind": 0.0,
            "surface": "grass_short_dry",
            "slope": 0.0,
        },
    }


def _constants() -> dict[str, Any]:
    return {
        "source": "constants",
        "id": "constants",
        "name": "Own constants",
        "rated_torque": fig("382 N m"),
        "torque_cutoff": fig("0.12"),
        "propeller_slope": measured("1.69"),
        "propeller_intercept": measured("-0.027"),
        "zero_lift_drag": measured("0.046"),
        "efficiency": measured("0.72"),
        "flap_drag": [
            {"flap": "ten", "drag_increment": measured("0.003")},
            {"flap": "landing", "drag_increment": measured("0.007")},
        ],
        "static_thrust": measured("1950 N", "70 N"),
        "roll_lift": measured("0.45"),
        "roll_drag": measured("0.076"),
        "landing_roll_lift": measured("0.30"),
        "landing_roll_drag": measured("0.115"),
        "idle_thrust": measured("90 N"),
        "approach_gradient": measured("0.120"),
        "float_factor": measured("1.05"),
        "friction": [
            {"surface": "gravel_dry", "rolling": measured("0.045"), "braked": measured("0.22")},
            {"surface": "earth_dry", "rolling": measured("0.050"), "braked": measured("0.22")},
            {"surface": "grass_short_dry", "rolling": measured("0.060"), "braked": measured("0.20")},
        ],
        "technique": "usual",
    }
