"""A whole aeroplane from the typical figures of its class."""

from __future__ import annotations

from typing import Any

from ..units import si
from .typical import Class, Guess, Row, Space

Data = dict[str, Any]

STANDARD_TEMPERATURE = 288.15
#: pressure altitudes [m] and temperatures above standard [K] of the table of climb
ALTITUDES = (-300.0, 0.0, 1000.0, 2000.0, 3000.0)
ABOVE_STANDARD = (-30.0, 0.0, 15.0, 30.0)
#: density altitude for each degree above standard [m/K]: 120 ft, the trade's figure
PER_DEGREE = 36.6
#: part of the climb at sea level that is left with full flap
FULL_FLAP = 0.6


def estimated(guess: Guess) -> Data:
    return {"value": si(guess.typed), "origin": "estimated", "sd": si(guess.sd), "typed": guess.typed}


def aeroplane(one: Class) -> Data:
    """The class as an aeroplane document, plain data; every figure is an estimate with its spread."""
    return {
        "version": 1,
        "kind": "aeroplane",
        "id": one.id,
        "name": one.name,
        "class_of": one.class_of,
        "datum": one.datum,
        "undercarriage": {
            "layout": one.layout,
            "main_arm": estimated(one.wheels[0]),
            "other_arm": estimated(one.wheels[1]),
        },
        "wing": {
            "area": estimated(one.area),
            "span": estimated(one.span),
            "height": estimated(one.wing_height),
        },
        "engine": {
            "rated_power": estimated(one.power),
            "rated_rotation": estimated(one.rotation),
            "grades": ["avgas"],
        },
        "propeller": {"pitch_is": "fixed", "diameter": estimated(one.propeller)},
        "seats": [seat for row in one.rows for seat in _seats(row)],
        "bays": [_bay(space) for space in one.bays],
        "tanks": [
            {
                "id": "main",
                "name": "Tanks",
                "arm": estimated(one.tank[0]),
                "usable": estimated(one.tank[1]),
                "unusable": estimated(one.tank[2]),
            }
        ],
        "configurations": [_configuration(one)],
        "envelopes": [
            {
                "id": "normal",
                "category": "normal",
                "origin": "estimated",
                "vertices": [{"mass": mass, "across": arm} for mass, arm in one.envelope],
            }
        ],
        "limits": {name: estimated(one.largest) for name in ("ramp", "takeoff", "landing")},
        "owner": {
            "crosswind": estimated(one.crosswind),
            "tailwind": estimated(Guess("4 kt", "2 kt")),
            "gust_spread": estimated(Guess("8 kt", "2 kt")),
            "wind": estimated(Guess("20 kt", "3 kt")),
        },
        "flaps": _flaps(one),
        "performance": [*_distances(one), _climb(one), _climb(one, "full")],
        "cruises": [
            {
                "id": "usual",
                "name": "Usual",
                "rotation": estimated(one.cruise[0]),
                "speed": estimated(one.cruise[1]),
                "speed_is": "true",
                "flow": estimated(one.cruise[2]),
                "altitude_low": 0.0,
                "altitude_high": 2400.0,
            }
        ],
        "fuel": {
            "taxi_and_run_up": estimated(Guess("4 L", "1.5 L")),
            "climb_flow": estimated(one.climb_flow),
            "climb_speed": estimated(one.climb_speeds[0]),
            "descent_flow": estimated(one.cruise[2]),
            "descent_rate": estimated(Guess("500 ft/min", "100 ft/min")),
            "dip_error": estimated(Guess("4 L", "2 L")),
        },
    }


def _seats(row: Row) -> list[Data]:
    return [
        {
            "id": name,
            "name": label,
            "arm": estimated(row.arm),
            "mass_limit": estimated(Guess("100 kg", "10 kg")),
            "height_sits_well": estimated(Guess("1.78 m", "0.06 m")),
            "height_fits": estimated(Guess("1.88 m", "0.06 m")),
            "width": estimated(Guess("1.00 m", "0.08 m")),
            "bench": "front" if row.controls else "rear",
            "controls": row.controls,
        }
        for name, label in row.seats
    ]


def _bay(space: Space) -> Data:
    return {
        "id": space.id,
        "name": space.name,
        "arm": estimated(space.arm),
        "volume": estimated(space.volume),
        "length": estimated(space.length),
        "width": estimated(space.width),
        "height": estimated(space.height),
        "longest": estimated(space.longest),
        "door": {"width": estimated(space.door[0]), "height": estimated(space.door[1])},
        "mass_limit": estimated(space.mass),
        "floor_limit": estimated(Guess("150 kg/m²", "50 kg/m²")),
        "restraint": {"by": "net", "rating": estimated(space.mass)},
        "packing_fraction": estimated(Guess("0.80", "0.05")),
        # until the owner has read the manual; of batteries each class is silent, as is who guesses it
        "may_carry": {"fuel": False, "gas": False},
    }


def _configuration(one: Class) -> Data:
    mass, arm = one.empty
    return {
        "id": "standard",
        "name": "Standard",
        "category": "normal",
        "weighing": {
            "by": "mass_and_arm",
            "includes_oil": True,
            "includes_unusable_fuel": True,
            "mass": estimated(mass),
            "arm": estimated(arm),
        },
    }


def _flaps(one: Class) -> list[Data]:
    up, takeoff, full = one.stalls
    reference = {"stall_mass": estimated(one.largest)}
    return [
        {"id": "up", "name": "Flap up", "angle": 0.0, "stall": estimated(up), **reference,
         "used_for": ["cruise"], "climb_speed": estimated(one.climb_speeds[0])},
        {"id": "first", "name": "First flap", "angle": si("10 deg"), "stall": estimated(takeoff), **reference,
         "used_for": ["takeoff"], "climb_speed": estimated(one.climb_speeds[1])},
        {"id": "full", "name": "Full flap", "angle": si("35 deg"), "stall": estimated(full), **reference,
         "used_for": ["landing"], "climb_speed": estimated(one.climb_speeds[1])},
    ]  # fmt: skip


def _distances(one: Class) -> list[Data]:
    return [
        {
            "source": "known_distance",
            "id": phase,
            "name": f"Class, {label}",
            "phase": phase,
            "flap": flap,
            "technique": "usual",
            "roll": estimated(figures[0]),
            "over_50ft": estimated(figures[1]),
            "conditions": {
                "mass": estimated(one.largest),
                "pressure_altitude": 0.0,
                "temperature": STANDARD_TEMPERATURE,
                "headwind": 0.0,
                "slope": 0.0,
                "surface": "paved_dry",
            },
        }
        for phase, label, flap, figures in (
            ("takeoff", "take-off", "first", one.takeoff),
            ("landing", "landing", "full", one.landing),
        )
    ]


def _climb(one: Class, flap: str | None = None) -> Data:
    """Rates of climb: by the square of the mass, straight down to nothing at a ceiling, to 0.05 m/s."""
    least, largest = si(one.empty[0].typed), si(one.largest.typed)
    masses = [least, (least + largest) / 2, largest]
    rate, ceiling = one.climb

    def at(mass: float, altitude: float, hotter: float) -> float:
        part = (1.0 if flap is None else FULL_FLAP) - (altitude + PER_DEGREE * hotter) / ceiling
        exact = rate * (largest / mass) ** 2 * part if part > 0 else rate * part
        return round(20.0 * exact) / 20.0

    return {
        "source": "book_climb",
        "id": "climb" if flap is None else f"climb-{flap}",
        "name": "Class, climb" if flap is None else f"Class, climb, {flap} flap",
        **({} if flap is None else {"flap": flap}),
        "origin": "estimated",
        "mass_axis": masses,
        "altitude_axis": list(ALTITUDES),
        "temperature_axis": list(ABOVE_STANDARD),
        "temperature_is": "above_standard",
        "speed": estimated(one.climb_speeds[1]),
        "rate": [[[at(m, h, t) for t in ABOVE_STANDARD] for h in ALTITUDES] for m in masses],
    }
