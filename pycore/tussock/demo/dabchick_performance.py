"""Dabchick's performance: the book, what its owner measured, and the constants that fit both."""

from __future__ import annotations

from typing import Any

from ..units import si
from .figures import fig, measured
from .tables import ALTITUDES, TEMPERATURES, climbs, distances

MASSES = [360.0, 420.0, 480.0, 540.0, 600.0]


def performance() -> list[dict[str, Any]]:
    return [_takeoff(), _landing(), _climb(), _known_takeoff(), _known_landing(), _constants()]


def _takeoff() -> dict[str, Any]:
    return {
        "source": "book_distance",
        "id": "book-takeoff",
        "name": "Book, take-off, first flap",
        "phase": "takeoff",
        "flap": "first",
        "mass_axis": MASSES,
        "altitude_axis": ALTITUDES,
        "temperature_axis": TEMPERATURES,
        "surface": "paved_dry",
        "roll": distances(MASSES, 600.0, 190.0, 2.6, 2.5),
        "over_50ft": distances(MASSES, 600.0, 475.0, 3.0, 3.4),
    }


def _landing() -> dict[str, Any]:
    return {
        "source": "book_distance",
        "id": "book-landing",
        "name": "Book, landing, full flap",
        "phase": "landing",
        "flap": "full",
        "mass_axis": MASSES,
        "altitude_axis": ALTITUDES,
        "temperature_axis": TEMPERATURES,
        "surface": "paved_dry",
        "roll": distances(MASSES, 600.0, 85.0, 1.0, 1.0),
        "over_50ft": distances(MASSES, 600.0, 250.0, 0.6, 0.7),
    }


def _climb() -> dict[str, Any]:
    return {
        "source": "book_climb",
        "id": "book-climb",
        "name": "Book, climb",
        "mass_axis": MASSES,
        "altitude_axis": ALTITUDES,
        "temperature_axis": TEMPERATURES,
        "speed": fig("56 kt"),
        "rate": climbs(MASSES, 600.0, 600.0, 1050.0, 1750.0),
    }


def _known_takeoff() -> dict[str, Any]:
    return {
        "source": "known_distance",
        "id": "known-takeoff",
        "name": "Measured at Quiet Water, one aboard",
        "phase": "takeoff",
        "flap": "first",
        "technique": "usual",
        "roll": measured("120 m", "8 m"),
        "over_50ft": measured("315 m", "25 m"),
        "conditions": {
            "mass": measured("430 kg"),
            "pressure_altitude": si("4100 ft"),
            "temperature": si("14 degC"),
            "headwind": 0.0,
            "surface": "gravel_dry",
            "slope": 0.0,
        },
    }


def _known_landing() -> dict[str, Any]:
    return {
        "source": "known_distance",
        "id": "known-landing",
        "name": "Measured at Quiet Water, two aboard",
        "phase": "landing",
        "flap": "full",
        "technique": "usual",
        "roll": measured("88 m", "8 m"),
        "over_50ft": measured("265 m", "25 m"),
        "conditions": {
            "mass": measured("500 kg"),
            "pressure_altitude": si("4100 ft"),
            "temperature": si("14 degC"),
            "headwind": 0.0,
            "surface": "gravel_dry",
            "slope": 0.0,
        },
    }


def _constants() -> dict[str, Any]:
    return {
        "source": "constants",
        "id": "constants",
        "name": "Own constants",
        "rated_torque": fig("259 N m"),
        "torque_cutoff": fig("0.12"),
        "propeller_slope": measured("1.30"),
        "propeller_intercept": measured("-0.022"),
        "zero_lift_drag": measured("0.044"),
        "efficiency": measured("0.75"),
        "flap_drag": [
            {"flap": "first", "drag_increment": measured("0.003")},
            {"flap": "full", "drag_increment": measured("0.012")},
        ],
        "static_thrust": measured("1110 N", "40 N"),
        "roll_lift": measured("0.50"),
        "roll_drag": measured("0.075"),
        "landing_roll_lift": measured("0.35"),
        "landing_roll_drag": measured("0.110"),
        "idle_thrust": measured("60 N"),
        "approach_gradient": measured("0.130"),
        "float_factor": measured("1.05"),
        "friction": [
            {"surface": "gravel_dry", "rolling": measured("0.045"), "braked": measured("0.19")},
            {"surface": "earth_dry", "rolling": measured("0.050"), "braked": measured("0.19")},
            {"surface": "grass_short_dry", "rolling": measured("0.060"), "braked": measured("0.17")},
        ],
        "technique": "usual",
        "seen": {
            "mass_low": 405.0,
            "mass_high": 575.0,
            "density_altitude_low": si("2500 ft"),
            "density_altitude_high": si("9000 ft"),
        },
    }
