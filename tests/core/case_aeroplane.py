"""The aeroplane of `case`: made up, written by hand, frozen."""

from __future__ import annotations

from typing import Any


def fig(value: float, origin: str = "measured", **more: Any) -> dict[str, Any]:
    """A figure as a document holds it."""
    return {"value": value, "origin": origin, **more}


def aeroplane() -> dict[str, Any]:
    return {
        "kind": "aeroplane",
        "id": "plover",
        "name": "Plover",
        "registration": "PLV",
        "class_of": "two seats, nosewheel",
        "datum": "firewall",
        "undercarriage": {"layout": "nosewheel", "main_arm": fig(0.55), "other_arm": fig(-0.90), "note": "-"},
        "wing": {"area": fig(13.4), "span": fig(10.3), "height": fig(2.0)},
        "engine": {
            "name": "four cylinders",
            "rated_power": fig(75_000.0),
            "rated_rotation": fig(45.0),
            "grades": ["avgas"],
            "oil": {"mass": fig(4.0), "arm": fig(-0.8)},
        },
        "propeller": {"pitch_is": "fixed", "diameter": fig(1.9), "pitch": fig(1.2), "name": "wood"},
        "seats": [_seat("left", True), _seat("right", False)],
        "bays": [
            {
                "id": "hold",
                "name": "Hold",
                "arm": fig(1.0),
                "volume": fig(0.15),
                "length": fig(0.8),
                "width": fig(0.7),
                "height": fig(0.4),
                "longest": fig(1.0),
                "door": {"width": fig(0.6), "height": fig(0.4), "face": "rear", "sill": fig(0.0)},
                "mass_limit": fig(40.0),
                "floor_limit": fig(200.0),
                "restraint": {"by": "net", "rating": fig(40.0), "rings": 4},
                "packing_fraction": fig(0.8),
                "accessible_in_flight": True,
                "may_carry": {"fuel": True, "gas": True, "battery": True},
            }
        ],
        "joint_limits": [
            {"id": "back", "name": "Back", "stations": ["hold", "right"], "mass_limit": fig(150.0)}
        ],
        "tanks": [
            {"id": "main", "name": "Main", "arm": fig(0.35), "usable": fig(0.09), "unusable": fig(0.002)}
        ],
        "configurations": [
            {
                "id": "plain",
                "name": "Plain",
                "category": "normal",
                "weighing": {
                    "by": "scales",
                    "date": "2026-01-10",
                    "includes_oil": False,
                    "includes_unusable_fuel": False,
                    "scales": [
                        {"name": "nose", "arm": fig(-0.9), "reading": fig(58.9), "tare": fig(2.0)},
                        {"name": "left", "arm": fig(0.55), "reading": fig(136.6)},
                        {"name": "right", "arm": fig(0.55), "reading": fig(136.5)},
                    ],
                },
            },
            {
                "id": "steps",
                "name": "With steps",
                "category": "normal",
                "based_on": "plain",
                "changes": [{"id": "steps", "name": "Steps", "mass": fig(3.0), "arm": fig(0.5)}],
                "takeoff_factor": fig(1.02),
                "landing_factor": fig(1.01),
                "climb_loss": fig(0.05),
            },
        ],
        "envelopes": [
            {
                "id": "normal",
                "category": "normal",
                "vertices": [
                    {"mass": 300.0, "across": 0.18},
                    {"mass": 300.0, "across": 0.50},
                    {"mass": 600.0, "across": 0.50},
                    {"mass": 600.0, "across": 0.20},
                ],
            }
        ],
        "limits": {
            "ramp": fig(604.0, "book"),
            "takeoff": fig(600.0, "book"),
            "landing": fig(590.0, "book"),
            "zero_fuel": fig(575.0, "book"),
        },
        "owner": {
            "mass_caps": [
                {"density_altitude": 0.0, "mass": 600.0},
                {"density_altitude": 3000.0, "mass": 560.0},
            ],
            "crosswind": fig(7.0),
            "tailwind": fig(4.0),
            "gust_spread": fig(6.0),
            "wind": fig(14.0),
        },
        "flaps": [
            _flap("up", 0.0, 21.5, ["cruise"], 29.0),
            _flap("first", 0.2, 20.0, ["takeoff"], 27.0),
            _flap("full", 0.6, 18.5, ["landing"], 26.5),
        ],
        "speeds": {"manoeuvring": fig(43.0), "normal": fig(51.0), "never_exceed": fig(61.0)},
        "dial_first_mark": fig(15.0),
        "performance": [],
        "prefer": {},
        "cruises": [
            {
                "id": "usual",
                "name": "Usual",
                "rotation": fig(41.0),
                "speed": fig(43.7),
                "speed_is": "true",
                "flow": fig(16e-3 / 3600),
                "altitude_low": 0.0,
                "altitude_high": 2500.0,
            }
        ],
        "fuel": {
            "taxi_and_run_up": fig(0.002),
            "climb_flow": fig(22e-3 / 3600),
            "climb_speed": fig(29.0),
            "descent_flow": fig(10e-3 / 3600),
            "descent_rate": fig(2.0),
            "dip_error": fig(0.002),
        },
        "run_up": {"rotation": fig(38.0), "pressure_altitude": 200.0, "temperature": 288.0},
        "turn_bank": 0.7,
        "quirks": [{"id": "door", "text": "Latch the door twice.", "at": ["lifts_off"]}],
    }


def _seat(name: str, controls: bool) -> dict[str, Any]:
    return {
        "id": name,
        "name": name.title() + " seat",
        "arm": fig(0.40),
        "mass_limit": fig(110.0),
        "height_sits_well": fig(1.85),
        "height_fits": fig(1.92),
        "width": fig(1.05),
        "bench": "cabin",
        "controls": controls,
    }


def _flap(name: str, angle: float, stall: float, used_for: list[str], climb: float) -> dict[str, Any]:
    dial = (10.0, 20.0, 30.0, 45.0, 62.0)
    return {
        "id": name,
        "name": f"Flap {name}",
        "angle": angle,
        "stall": fig(stall),
        "stall_mass": fig(600.0, "book"),
        "limit_speed": fig(45.0),
        "correction": [{"indicated": v, "calibrated": v + 1.0 - i * 0.2} for i, v in enumerate(dial)],
        "used_for": used_for,
        "lift_off_factor": fig(1.1),
        "at_50ft_factor": fig(1.2),
        "touchdown_factor": fig(1.15),
        "climb_speed": fig(climb),
    }


MASSES = [400.0, 500.0, 600.0]
ALTITUDES = [0.0, 500.0, 1000.0, 2000.0]
TEMPERATURES = [263.15, 283.15, 303.15, 318.15]


def _grid(at_sea_level: float, by_mass: float, by_height: float, by_heat: float) -> list[Any]:
    """Figures of a made-up book: each 1000 m, 100 kg and 10 K by a factor; printed to a tenth."""
    return [
        [
            [
                round(
                    at_sea_level
                    * by_mass ** ((mass - 600.0) / 100.0)
                    * by_height ** (height / 1000.0)
                    * by_heat ** ((heat - 288.15) / 10.0),
                    1,
                )
                for heat in TEMPERATURES
            ]
            for height in ALTITUDES
        ]
        for mass in MASSES
    ]


def tables() -> list[dict[str, Any]]:
    axes = {"mass_axis": MASSES, "altitude_axis": ALTITUDES, "temperature_axis": TEMPERATURES}
    rule = {"step": 5.0, "limit": 10.0}
    return [
        {
            "source": "book_distance",
            "id": "book-takeoff",
            "name": "Book, take-off",
            "phase": "takeoff",
            "flap": "first",
            **axes,
            "roll": _grid(170.0, 1.2, 1.18, 1.05),
            "over_50ft": _grid(340.0, 1.2, 1.18, 1.05),
            "headwind_rule": {**rule, "factor": 0.85},
            "tailwind_rule": {**rule, "factor": 1.4},
        },
        {
            "source": "book_distance",
            "id": "book-landing",
            "name": "Book, landing",
            "phase": "landing",
            "flap": "full",
            **axes,
            "roll": _grid(100.0, 1.1, 1.08, 1.03),
            "over_50ft": _grid(260.0, 1.08, 1.08, 1.03),
            "headwind_rule": {**rule, "factor": 0.85},
            "tailwind_rule": {**rule, "factor": 1.4},
        },
    ]


def climb_table(flap: str = "first", rate: float = 5.0) -> dict[str, Any]:
    return {
        "source": "book_climb",
        "id": "book-climb" if flap == "first" else f"book-climb-{flap}",
        "name": f"Book, climb, flap {flap}",
        "flap": flap,
        "mass_axis": MASSES,
        "altitude_axis": ALTITUDES,
        "temperature_axis": TEMPERATURES,
        "speed": fig(27.0),
        "rate": _grid(rate, 0.8, 0.86, 0.97),
    }


def known() -> list[dict[str, Any]]:
    then = {
        "mass": fig(560.0),
        "pressure_altitude": 150.0,
        "temperature": 287.0,
        "headwind": 1.0,
        "surface": "paved_dry",
        "slope": 0.002,
    }
    return [
        {
            "source": "known_distance",
            "id": "known-takeoff",
            "name": "Measured take-off",
            "phase": "takeoff",
            "flap": "first",
            "roll": fig(165.0, sd=8.0),
            "over_50ft": fig(330.0, sd=15.0),
            "conditions": then,
        },
        {
            "source": "known_distance",
            "id": "known-landing",
            "name": "Measured landing",
            "phase": "landing",
            "flap": "full",
            "roll": fig(100.0, sd=8.0),
            "over_50ft": fig(270.0, sd=15.0),
            "from_height": fig(15.24),
            "conditions": then,
        },
    ]


def constants() -> dict[str, Any]:
    return {
        "source": "constants",
        "id": "constants",
        "name": "Own constants",
        "rated_torque": fig(340.0),
        "torque_cutoff": fig(0.12),
        "propeller_slope": fig(1.3),
        "propeller_intercept": fig(-0.022),
        "zero_lift_drag": fig(0.044),
        "efficiency": fig(0.74),
        "flap_drag": [
            {"flap": "first", "drag_increment": fig(0.003)},
            {"flap": "full", "drag_increment": fig(0.012)},
        ],
        "static_thrust": fig(1400.0, sd=40.0),
        "roll_lift": fig(0.5),
        "roll_drag": fig(0.075),
        "landing_roll_lift": fig(0.35),
        "landing_roll_drag": fig(0.11),
        "idle_thrust": fig(60.0),
        "approach_gradient": fig(0.13),
        "float_factor": fig(1.05),
        "friction": [
            {"surface": "paved_dry", "rolling": fig(0.03), "braked": fig(0.25)},
            {"surface": "grass_short_dry", "rolling": fig(0.06), "braked": fig(0.17)},
            {"surface": "grass_short_wet", "rolling": fig(0.07), "braked": fig(0.12)},
        ],
        "seen": {
            "mass_low": 420.0,
            "mass_high": 600.0,
            "density_altitude_low": -500.0,
            "density_altitude_high": 2500.0,
        },
    }
