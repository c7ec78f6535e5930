"""Shelduck: the heavier, roomier one. Four seats or two and a big floor, 1000 kg, about 145 hp. Invented."""

from __future__ import annotations

from typing import Any

from ..units import si
from .figures import door, fig, measured
from .shelduck_performance import performance


def shelduck() -> dict[str, Any]:
    return {
        "version": 1,
        "kind": "aeroplane",
        "id": "shelduck",
        "name": "Shelduck",
        "registration": "SHE",
        "class_of": "four-seater, nosewheel",
        "datum": "Front face of the firewall",
        "note": "Invented for the demo. Not any aeroplane that exists.",
        "undercarriage": {
            "layout": "nosewheel",
            "main_arm": measured("1420 mm"),
            "other_arm": measured("-150 mm"),
        },
        "wing": {"area": fig("16.9 m²"), "span": fig("11.2 m"), "height": measured("2.3 m")},
        "engine": {
            "name": "Six cylinders, direct drive",
            "rated_power": fig("145 hp"),
            "rated_rotation": fig("2700 rpm"),
            "grades": ["avgas"],
            "oil": {"mass": fig("7.2 kg"), "arm": fig("-420 mm")},
        },
        "propeller": {
            "pitch_is": "fixed",
            "name": "Metal, climb",
            "diameter": fig("2.03 m"),
            "rotation_limit": fig("2700 rpm"),
        },
        "seats": [
            _seat("front-left", "Front left seat", "930 mm", True),
            _seat("front-right", "Front right seat", "930 mm", True),
            _seat("rear-left", "Rear left seat", "1800 mm", False),
            _seat("rear-right", "Rear right seat", "1800 mm", False),
        ],
        "bays": _bays(),
        "joint_limits": [
            {
                "id": "floor-and-bay",
                "name": "Cargo floor and baggage bay together",
                "stations": ["floor", "baggage"],
                "mass_limit": fig("210 kg"),
            }
        ],
        "tanks": [_tank("left-tank", "Left tank"), _tank("right-tank", "Right tank")],
        "configurations": _configurations(),
        "envelopes": [
            {
                "id": "normal",
                "category": "normal",
                "vertices": [
                    {"mass": 620.0, "across": 0.860},
                    {"mass": 620.0, "across": 1.200},
                    {"mass": 1000.0, "across": 1.200},
                    {"mass": 1000.0, "across": 0.980},
                    {"mass": 840.0, "across": 0.860},
                ],
            }
        ],
        "limits": {
            "ramp": fig("1003 kg"),
            "takeoff": fig("1000 kg"),
            "landing": fig("1000 kg"),
            "zero_fuel": fig("960 kg"),
        },
        "owner": {
            "mass_caps": [
                {"density_altitude": si("5000 ft"), "mass": 1000.0},
                {"density_altitude": si("6500 ft"), "mass": 960.0},
                {"density_altitude": si("9500 ft"), "mass": 940.0},
            ],
            "crosswind": measured("15 kt"),
            "tailwind": measured("6 kt"),
            "gust_spread": measured("12 kt"),
            "wind": measured("30 kt"),
        },
        "flaps": _flaps(),
        "speeds": {"manoeuvring": fig("94 kt"), "normal": fig("115 kt"), "never_exceed": fig("140 kt")},
        "dial_first_mark": fig("35 kt"),
        "performance": performance(),
        "prefer": {"takeoff": "constants", "climb": "book-climb", "landing": "known-landing"},
        "cruises": [
            {
                "id": "usual",
                "name": "Usual",
                "rotation": measured("2400 rpm"),
                "speed": measured("98 kt"),
                "speed_is": "true",
                "flow": measured("28 L/h"),
                "altitude_low": si("4000 ft"),
                "altitude_high": si("9500 ft"),
            }
        ],
        "fuel": {
            "taxi_and_run_up": measured("4.0 L"),
            "climb_flow": measured("38 L/h"),
            "climb_speed": measured("70 kt"),
            "descent_flow": measured("18 L/h"),
            "descent_rate": measured("450 ft/min"),
            "dip_error": measured("3.0 L"),
        },
        "run_up": {
            "rotation": measured("2300 rpm"),
            "pressure_altitude": si("4100 ft"),
            "temperature": si("11 degC"),
            "tachometer_error": measured("1 %"),
        },
        "turn_bank": si("40 deg"),
        "quirks": [
            {
                "id": "nose",
                "text": "Hold the nosewheel light from the first roll: the fork does not like stones.",
                "at": ["lifts_off", "stops"],
            },
            {
                "id": "tail-stand",
                "text": "Tail stand in before anybody loads the bay behind.",
                "at": ["balances", "fits"],
            },
            {
                "id": "go-around",
                "text": "Flap 25 hardly climbs away with four aboard up here: decide early.",
                "at": ["stops"],
                "flap": "landing",
            },
        ],
    }


def _seat(name: str, label: str, arm: str, controls: bool) -> dict[str, Any]:
    return {
        "id": name,
        "name": label,
        "arm": fig(arm),
        "mass_limit": fig("120 kg"),
        "height_sits_well": measured("1.86 m" if controls else "1.75 m"),
        "height_fits": measured("1.96 m" if controls else "1.85 m"),
        "width": measured("1.02 m"),
        "bench": "front" if controls else "rear",
        "controls": controls,
        "takes": ["adult"] if controls else ["adult", "child_seat", "dog_crate"],
    }


def _bays() -> list[dict[str, Any]]:
    return [
        {
            "id": "pocket",
            "name": "Pocket between the front seats",
            "arm": measured("1050 mm"),
            "volume": measured("36 L"),
            "length": measured("0.45 m"),
            "width": measured("0.30 m"),
            "height": measured("0.30 m"),
            "floor_height": measured("6 cm"),
            "longest": measured("0.50 m"),
            "door": door("0.30 m", "0.45 m", "top"),
            "mass_limit": fig("15 kg"),
            "floor_limit": fig("400 kg/m²"),
            "restraint": {"by": "locker", "rating": fig("15 kg")},
            "packing_fraction": measured("0.90"),
            "accessible_in_flight": True,
            "may_carry": {"fuel": False, "gas": False, "battery": True},
        },
        {
            "id": "baggage",
            "name": "Baggage bay",
            "arm": measured("2380 mm"),
            "volume": measured("340 L"),
            "length": measured("0.68 m"),
            "width": measured("0.92 m"),
            "height": measured("0.62 m"),
            "floor_height": measured("20 cm"),
            "longest": measured("1.30 m"),
            "door": door("0.60 m", "0.52 m", "left"),
            "mass_limit": fig("54 kg"),
            "floor_limit": fig("350 kg/m²"),
            "restraint": {"by": "net", "rating": fig("60 kg"), "rings": 6},
            "packing_fraction": measured("0.85"),
            "may_carry": {"fuel": True, "gas": True, "battery": False},
        },
        {
            "id": "floor",
            "name": "Cargo floor, rear seats out",
            "arm": measured("1720 mm"),
            "volume": measured("760 L"),
            "length": measured("1.05 m"),
            "width": measured("1.00 m"),
            "height": measured("0.85 m"),
            "floor_height": measured("0 cm"),
            "longest": measured("2.10 m"),
            "door": door("0.88 m", "0.84 m", "left"),
            "mass_limit": fig("180 kg"),
            "floor_limit": fig("500 kg/m²"),
            "restraint": {"by": "net", "rating": fig("200 kg"), "rings": 10},
            "packing_fraction": measured("0.85"),
            "accessible_in_flight": True,
            "may_carry": {"fuel": False, "gas": True, "battery": True},
        },
    ]


def _tank(name: str, label: str) -> dict[str, Any]:
    return {"id": name, "name": label, "arm": fig("1220 mm"), "usable": fig("70 L"), "unusable": fig("4 L")}


def _configurations() -> list[dict[str, Any]]:
    return [
        {
            "id": "four-seats",
            "name": "Four seats",
            "category": "normal",
            "weighing": {
                "by": "scales",
                "date": "2025-10-02",
                "includes_oil": True,
                "includes_unusable_fuel": False,
                "note": "Level, tanks drained, tail stand out.",
                "scales": [
                    {"name": "Nosewheel", "arm": measured("-150 mm"), "reading": measured("188.0 kg")},
                    {"name": "Left wheel", "arm": measured("1420 mm"), "reading": measured("236.4 kg")},
                    {"name": "Right wheel", "arm": measured("1420 mm"), "reading": measured("235.6 kg")},
                ],
            },
            "bays_out": ["floor"],
        },
        {
            "id": "two-seats",
            "name": "Two seats and the floor",
            "category": "normal",
            "based_on": "four-seats",
            "changes": [
                {"id": "seats", "name": "Rear seats", "mass": measured("-17.5 kg"), "arm": fig("1830 mm")},
                {
                    "id": "boards",
                    "name": "Floor boards and net",
                    "mass": measured("4.2 kg"),
                    "arm": fig("1720 mm"),
                },
            ],
            "seats_out": ["rear-left", "rear-right"],
        },
        {
            "id": "bush",
            "name": "Two seats, bush tyres",
            "category": "normal",
            "based_on": "two-seats",
            "changes": [
                {"id": "tyres", "name": "Bush tyres", "mass": measured("14.0 kg"), "arm": measured("980 mm")}
            ],
            "seats_out": ["rear-left", "rear-right"],
            "takeoff_factor": measured("1.05"),
            "landing_factor": measured("1.02"),
            "climb_loss": measured("25 ft/min"),
        },
    ]


def _flaps() -> list[dict[str, Any]]:
    errors = {
        "up": (7.0, 5.0, 3.0, 1.5, 0.5, 0.0),
        "ten": (6.5, 4.5, 2.5, 1.0),
        "landing": (6.0, 4.0, 2.0, 0.5),
    }

    def correction(name: str) -> list[dict[str, float]]:
        dial = (25.0, 35.0, 45.0, 60.0, 85.0, 140.0)
        return [
            {"indicated": si(f"{shown} kt"), "calibrated": si(f"{shown + error} kt")}
            for shown, error in zip(dial, errors[name], strict=False)
        ]

    return [
        {
            "id": "up",
            "name": "Flap up",
            "angle": 0.0,
            "stall": fig("48 kt"),
            "stall_mass": fig("1000 kg"),
            "correction": correction("up"),
            "used_for": ["cruise"],
            "climb_speed": fig("65 kt"),
        },
        {
            "id": "ten",
            "name": "Flap 10",
            "angle": si("10 deg"),
            "stall": fig("44 kt"),
            "stall_mass": fig("1000 kg"),
            "limit_speed": fig("96 kt"),
            "correction": correction("ten"),
            "used_for": ["takeoff"],
            "lift_off_factor": fig("1.10"),
            "at_50ft_factor": fig("1.20"),
            "touchdown_factor": measured("1.10"),
            "climb_speed": fig("63 kt"),
        },
        {
            "id": "landing",
            "name": "Flap 25",
            "angle": si("25 deg"),
            "stall": fig("42 kt"),
            "stall_mass": fig("1000 kg"),
            "limit_speed": fig("85 kt"),
            "correction": correction("landing"),
            "used_for": ["landing"],
            "touchdown_factor": measured("1.10"),
            "climb_speed": fig("63 kt"),
        },
    ]
