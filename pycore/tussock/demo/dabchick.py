"""Dabchick: the light one. Two seats side by side, tailwheel, 600 kg, about 100 hp. Invented."""

from __future__ import annotations

from typing import Any

from ..units import si
from .dabchick_performance import performance
from .figures import door, fig, measured


def dabchick() -> dict[str, Any]:
    return {
        "version": 1,
        "kind": "aeroplane",
        "id": "dabchick",
        "name": "Dabchick",
        "registration": "DAB",
        "class_of": "light two-seat taildragger",
        "datum": "Leading edge of the wing at its root, aeroplane level",
        "note": "Invented for the demo. Not any aeroplane that exists.",
        "undercarriage": {
            "layout": "tailwheel",
            "main_arm": measured("-90 mm"),
            "other_arm": measured("4310 mm"),
        },
        "wing": {"area": fig("13.4 m²"), "span": fig("10.3 m"), "height": measured("2.0 m")},
        "engine": {
            "name": "Four cylinders, direct drive",
            "rated_power": fig("100 hp"),
            "rated_rotation": fig("2750 rpm"),
            "grades": ["avgas", "mogas"],
            "oil": {"mass": fig("4.6 kg"), "arm": fig("-880 mm")},
        },
        "propeller": {
            "pitch_is": "fixed",
            "name": "Wood, coarse",
            "diameter": fig("1.90 m"),
            "rotation_limit": fig("2750 rpm"),
        },
        "seats": [_seat("left", "Left seat"), _seat("right", "Right seat")],
        "bays": _bays(),
        "joint_limits": [
            {
                "id": "locker-and-hold",
                "name": "Locker and hold together",
                "stations": ["locker", "hold"],
                "mass_limit": fig("68 kg"),
            }
        ],
        "tanks": [
            {
                "id": "main",
                "name": "Wing tanks",
                "arm": fig("300 mm"),
                "usable": measured("100 L"),
                "unusable": fig("3 L"),
                "note": "Both wings feed together.",
            }
        ],
        "configurations": _configurations(),
        "envelopes": [
            {
                "id": "normal",
                "category": "normal",
                "vertices": [
                    {"mass": 340.0, "across": 0.225},
                    {"mass": 340.0, "across": 0.450},
                    {"mass": 600.0, "across": 0.450},
                    {"mass": 600.0, "across": 0.275},
                    {"mass": 480.0, "across": 0.225},
                ],
            }
        ],
        "limits": {
            "ramp": fig("600 kg"),
            "takeoff": fig("600 kg"),
            "landing": fig("600 kg"),
            "zero_fuel": fig("580 kg"),
        },
        "owner": {
            "mass_caps": [
                {"density_altitude": si("6400 ft"), "mass": 600.0},
                {"density_altitude": si("6500 ft"), "mass": 550.0},
                {"density_altitude": si("9500 ft"), "mass": 530.0},
            ],
            "crosswind": measured("12 kt"),
            "tailwind": measured("6 kt"),
            "gust_spread": measured("10 kt"),
            "wind": measured("25 kt"),
        },
        "flaps": _flaps(),
        "speeds": {"manoeuvring": fig("84 kt"), "normal": fig("100 kt"), "never_exceed": fig("118 kt")},
        "dial_first_mark": fig("30 kt"),
        "performance": performance(),
        "prefer": {"takeoff": "constants", "climb": "constants", "landing": "constants"},
        "cruises": [
            _cruise("easy", "Easy", "2350 rpm", "78 kt", "13.5 L/h"),
            _cruise("usual", "Usual", "2500 rpm", "85 kt", "16 L/h"),
        ],
        "fuel": {
            "taxi_and_run_up": measured("2.0 L"),
            "climb_flow": measured("22 L/h"),
            "climb_speed": measured("60 kt"),
            "descent_flow": measured("10 L/h"),
            "descent_rate": measured("400 ft/min"),
            "dip_error": measured("2.0 L"),
        },
        "run_up": {
            "rotation": measured("2260 rpm"),
            "pressure_altitude": si("4100 ft"),
            "temperature": si("12 degC"),
            "tachometer_error": measured("0.5 %"),
        },
        "turn_bank": si("45 deg"),
        "quirks": [
            {
                "id": "slip",
                "text": "No slip with full flap: the tail blanks.",
                "at": ["stops"],
                "flap": "full",
            },
            {
                "id": "sun",
                "text": "Long three-point float on hot afternoons: be on speed at the fence.",
                "at": ["stops"],
            },
            {
                "id": "door",
                "text": "The right door must be latched twice before the run-up.",
                "at": ["fits", "lifts_off"],
            },
            {
                "id": "tunnel",
                "text": "Long things go in with the points forward, tied, clear of the elevator cables.",
                "at": ["fits", "balances"],
                "configuration": "shelf-out",
            },
            {
                "id": "vapour",
                "text": "On mogas and hot: pump on until 1000 ft above the ground.",
                "at": ["climbs_out", "reaches"],
            },
        ],
    }


def _seat(name: str, label: str) -> dict[str, Any]:
    return {
        "id": name,
        "name": label,
        "arm": fig("410 mm"),
        "mass_limit": fig("110 kg"),
        "height_sits_well": measured("1.80 m"),
        "height_fits": measured("1.90 m"),
        "width": measured("1.04 m"),
        "bench": "cabin",
        "controls": True,
    }


def _bays() -> list[dict[str, Any]]:
    return [
        {
            "id": "locker",
            "name": "Locker under the seats",
            "arm": measured("390 mm"),
            "volume": measured("42 L"),
            "length": measured("0.70 m"),
            "width": measured("0.50 m"),
            "height": measured("0.125 m"),
            "floor_height": measured("4 cm"),
            "longest": measured("0.70 m"),
            "door": door("0.65 m", "0.12 m", "front"),
            "mass_limit": fig("15 kg"),
            "floor_limit": fig("400 kg/m²"),
            "restraint": {"by": "locker", "rating": fig("15 kg")},
            "packing_fraction": measured("0.90"),
            "accessible_in_flight": True,
            "may_carry": {"fuel": False, "gas": False, "battery": True},
        },
        {
            "id": "shelf",
            "name": "Rear shelf",
            "arm": measured("900 mm"),
            "volume": measured("95 L"),
            "length": measured("0.45 m"),
            "width": measured("0.98 m"),
            "height": measured("0.24 m"),
            "floor_height": measured("52 cm"),
            "longest": measured("1.00 m"),
            "door": door("0.80 m", "0.30 m", "front"),
            "mass_limit": fig("20 kg"),
            "floor_limit": fig("150 kg/m²"),
            "restraint": {"by": "net", "rating": fig("25 kg"), "rings": 4},
            "packing_fraction": measured("0.85"),
            "accessible_in_flight": True,
            "may_carry": {"fuel": False, "gas": False, "battery": True},
        },
        {
            "id": "hold",
            "name": "Hold behind the seats",
            "arm": measured("980 mm"),
            "volume": measured("190 L"),
            "length": measured("0.80 m"),
            "width": measured("0.75 m"),
            "height": measured("0.40 m"),
            "floor_height": measured("8 cm"),
            "longest": measured("1.90 m"),
            "door": door("0.80 m", "0.42 m", "front"),
            "mass_limit": fig("58 kg"),
            "floor_limit": fig("200 kg/m²"),
            "restraint": {"by": "net", "rating": fig("65 kg"), "rings": 6},
            "packing_fraction": measured("0.85"),
            "may_carry": {"fuel": False, "gas": True, "battery": True},
        },
    ]


def _configurations() -> list[dict[str, Any]]:
    return [
        {
            "id": "shelf-in",
            "name": "Rear shelf in",
            "category": "normal",
            "weighing": {
                "by": "scales",
                "date": "2026-03-14",
                "includes_oil": True,
                "includes_unusable_fuel": False,
                "note": "Level, doors shut, tanks drained.",
                "scales": [
                    {"name": "Left wheel", "arm": measured("-90 mm"), "reading": measured("138.6 kg")},
                    {"name": "Right wheel", "arm": measured("-90 mm"), "reading": measured("137.8 kg")},
                    {
                        "name": "Tailwheel",
                        "arm": measured("4310 mm"),
                        "reading": measured("29.8 kg"),
                        "tare": measured("6.2 kg"),
                    },
                ],
            },
            "bays_out": ["hold"],
        },
        {
            "id": "shelf-out",
            "name": "Rear shelf out",
            "category": "normal",
            "based_on": "shelf-in",
            "changes": [
                {
                    "id": "shelf",
                    "name": "Shelf and its posts",
                    "mass": measured("-3.4 kg"),
                    "arm": fig("880 mm"),
                }
            ],
            "bays_out": ["shelf"],
        },
        {
            "id": "bush",
            "name": "Bush tyres, shelf out",
            "category": "normal",
            "based_on": "shelf-out",
            "changes": [
                {"id": "tyres", "name": "Bush tyres", "mass": measured("7.8 kg"), "arm": measured("-90 mm")}
            ],
            "bays_out": ["shelf"],
            "takeoff_factor": measured("1.04"),
            "landing_factor": measured("1.02"),
            "climb_loss": measured("20 ft/min"),
        },
    ]


def _flaps() -> list[dict[str, Any]]:
    # the dial reads low when slow: the tube sits under the wing
    errors = {
        "up": (8.5, 5.5, 3.0, 1.5, 0.5, 0.0),
        "first": (8.0, 5.0, 2.5, 1.0, 0.5),
        "full": (7.5, 4.5, 2.0, 0.5),
    }

    def correction(name: str) -> list[dict[str, float]]:
        dial = (20.0, 30.0, 40.0, 50.0, 70.0, 110.0)
        return [
            {"indicated": si(f"{shown} kt"), "calibrated": si(f"{shown + error} kt")}
            for shown, error in zip(dial, errors[name], strict=False)
        ]

    return [
        {
            "id": "up",
            "name": "Flap up",
            "angle": 0.0,
            "stall": measured("42 kt"),
            "stall_mass": fig("600 kg"),
            "correction": correction("up"),
            "used_for": ["cruise"],
            "climb_speed": measured("56 kt"),
        },
        {
            "id": "first",
            "name": "First flap",
            "angle": si("12 deg"),
            "stall": measured("39 kt"),
            "stall_mass": fig("600 kg"),
            "limit_speed": fig("70 kt"),
            "correction": correction("first"),
            "used_for": ["takeoff"],
            "lift_off_factor": measured("1.10"),
            "at_50ft_factor": measured("1.20"),
            "touchdown_factor": measured("1.10"),
            "climb_speed": measured("52 kt"),
        },
        {
            "id": "full",
            "name": "Full flap",
            "angle": si("35 deg"),
            "stall": measured("36 kt"),
            "stall_mass": fig("600 kg"),
            "limit_speed": fig("62 kt"),
            "correction": correction("full"),
            "used_for": ["landing"],
            "touchdown_factor": measured("1.10"),
            "climb_speed": measured("52 kt"),
        },
    ]


def _cruise(name: str, label: str, rotation: str, speed: str, flow: str) -> dict[str, Any]:
    return {
        "id": name,
        "name": label,
        "rotation": measured(rotation),
        "speed": measured(speed),
        "speed_is": "true",
        "flow": measured(flow),
        "altitude_low": si("4000 ft"),
        "altitude_high": si("9500 ft"),
    }
