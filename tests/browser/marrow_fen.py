"""What lies beside the phone: a written description of an aeroplane, two strips, people and kit. Invented.

**Marrow Fen**, registration MFN, four seats, high wing, tailwheel. Arms from the front face of the
firewall. Main wheels 12 in, tailwheel 210 in. Wing 175 ft² in area, 36 ft in span, 7 ft above the ground.
Engine 180 hp at 2700 rpm, avgas or mogas; a fixed propeller of 80 in diameter. Seats: front left and front
right (controls) at 36 in, rear left and rear right at 70 in, each for at most 265 lb. People of up to 75 in
sit well in front and 68 in behind; 79 in and 73 in get in. Benches 42 in wide. Baggage bay at 95 in: at
most 120 lb, 60 lb/ft² on its floor; 260 L, 30 in long, 34 in wide, 24 in high, the longest straight thing
55 in; door 24 x 20 in; a net rated for 120 lb; soft bags fill 85 %. Not within reach in flight. Tanks: left
and right wing, 48 in, 26 US gal usable and 1.5 unusable each; they feed together. Masses: ramp 2455 lb,
take-off 2450, landing 2450. Envelope (lb, in): 1400 at 33 and 46, 2450 at 46 and 40, 2100 at 36, 1800 at
33. Weighed on 14 October 2026 with oil and unusable fuel in it: left main 688 lb, right main 684 lb,
tailwheel 177 lb. The owner's own limits: crosswind 12 kt, tailwind 5, gusts 10, any wind 25. Take-off mass
at most 2450 lb at a density altitude of 3000 ft, 2300 lb at 6000 ft, 2150 lb at 9000 ft. Steepest bank in a
valley 40°. Flaps (kt; dial/calibrated): up, for the cruise, stall 50, climb 70, 40/47 60/62 80/80 140/138;
flap 20, for take-off, 20°, stall 46, at most 95, climb 66, lift-off 1.15 and 50 ft 1.3 times the stall,
40/46 60/61 95/94; flap 40, for landing, 40°, stall 43, at most 85, climb 62, touchdown 1.15 times the
stall, 40/45 60/60 85/84. Stalls at 2450 lb. Placard: manoeuvring 105, normal 125, never exceed 158. The
dial begins at 40. Final approach usually at 8 %. Book: take-off with flap 20, landing with flap 40, climb (80
mph) and going around with flap 40 (65 mph) as in the tables below, on a paved dry runway. The climb tables
have no temperatures. Cruise
"Easy": 2400 rpm, 105 kt true, 8.8 US gal an hour, seen from 1000 to 9000 ft. Taxi and run-up 1.1 US gal;
climb 13 US gal an hour at 75 kt; descent 6 an hour, 500 ft a minute; the dipstick is good to 1. Notes:
"Lock the tailwheel before full power" where it lifts off; "No slip with flap 40" where it stops.

**Cold Marrow**, 840 ft up, 840 paces of 2.5 ft, 80 ft wide, short dry grass seen today, the first 900 ft
rise by 1 % going east and the rest is level. 09 and 27 (true 92 and 272) for both. Beyond 09: pines, 1200
ft off, 45 ft high. There is nothing beyond 27. A sock.

**Hollow Barn**, 1150 ft up, one way: land on 31 (true 308) uphill, take off on 13 (true 128) downhill. 1900
ft long, 70 ft wide, dry gravel seen today, 3 % all along. Before 31: a wall, 150 ft off, 6 ft high. No
going around: committed at the gate. Beyond 13: nothing. Both lie on 33° south, where it is two hours before
noon now, 36 minutes of arc apart.

**People**: Ada Fenn 148 lb, 66 in tall, flies; Bo Marrow 176 lb, 71 in tall. **Kit** "Two nights": tent 14
lb and 30 L, sleeping bags 9 lb and 26 L, both soft; water can 22 lb, 11 x 7 x 13 in, rigid.
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from tussock.demo.figures import fig, measured
from tussock.units import si

Row = tuple[float, ...]

#: masses [lb]; pressure altitudes [ft]; temperatures [°C]; distances [ft] in the same order
HEAVY, LIGHT = 2450, 2000
HEIGHTS = (0, 3000, 6000)
WARMTHS = (0, 20, 40)
TAKEOFF_ROLL = {
    LIGHT: ((410, 460, 520), (560, 630, 710), (780, 880, 1000)),
    HEAVY: ((670, 755, 850), (915, 1030, 1165), (1275, 1440, 1630)),
}
TAKEOFF_50FT = {
    LIGHT: ((820, 915, 1030), (1105, 1240, 1400), (1545, 1745, 1985)),
    HEAVY: ((1310, 1470, 1660), (1790, 2020, 2295), (2560, 2915, 3340)),
}
LANDING_ROLL = {
    LIGHT: ((330, 355, 380), (370, 395, 425), (415, 445, 475)),
    HEAVY: ((405, 435, 465), (455, 485, 520), (505, 545, 580)),
}
LANDING_50FT = {
    LIGHT: ((890, 945, 1000), (975, 1035, 1095), (1070, 1140, 1205)),
    HEAVY: ((1080, 1145, 1215), (1185, 1260, 1335), (1305, 1385, 1470)),
}
#: feet a minute by pressure altitude [ft], standard day
CLIMB_HEIGHTS = (0, 4000, 8000, 12000)
CLIMB = {LIGHT: ((1180,), (930,), (680,), (430,)), HEAVY: ((830,), (620,), (410,), (200,))}
#: the same with flap 40
AROUND = {LIGHT: ((860,), (620,), (390,), (150,)), HEAVY: ((540,), (350,), (150,), (-40,))}
#: (mass [lb], arm [in]) in order round the edge
CORNERS = ((1400, 33), (1400, 46), (2450, 46), (2450, 40), (2100, 36), (1800, 33))
#: wheel, arm [in], reading [lb]
SCALES = (("Left main", 12, 688), ("Right main", 12, 684), ("Tailwheel", 210, 177))
#: density altitude [ft], mass [lb]
CAPS = ((3000, 2450), (6000, 2300), (9000, 2150))
#: dial and calibrated airspeed [kt] by flap
DIAL = {
    "Up": ((40, 47), (60, 62), (80, 80), (140, 138)),
    "Flap 20": ((40, 46), (60, 61), (95, 94)),
    "Flap 40": ((40, 45), (60, 60), (85, 84)),
}


def meridian(now: datetime) -> float:
    """Where it is two hours before noon by the sun, with both strips this side of the date line [deg]."""
    there = now.astimezone(UTC)
    east = 15.0 * (10.0 - there.hour - there.minute / 60.0)
    return min(round((east + 180.0) % 360.0 - 180.0, 1), 179.0)


def sheet(tables: dict[int, tuple[Row, ...]], heights: Row, warmths: Row) -> str:
    """A table as copied from a spreadsheet: the mass in the corner, an empty line between."""
    blocks = []
    for mass, rows in sorted(tables.items()):
        lines = [(mass, *warmths), *((height, *row) for height, row in zip(heights, rows, strict=True))]
        blocks.append("\n".join("\t".join(map(str, line)) for line in lines))
    return "\n\n".join(blocks)


def _grid(tables: dict[int, tuple[Row, ...]], unit: str) -> list[Any]:
    return [[[si(f"{one} {unit}") for one in row] for row in tables[mass]] for mass in sorted(tables)]


def _axes(heights: Row, warmths: list[float]) -> dict[str, Any]:
    return {
        "mass_axis": [si(f"{mass} lb") for mass in (LIGHT, HEAVY)],
        "altitude_axis": [si(f"{height} ft") for height in heights],
        "temperature_axis": warmths,
    }


def _distances(name: str, phase: str, flap: str, roll: Any, over_50ft: Any) -> dict[str, Any]:
    return {
        "source": "book_distance",
        "id": name,
        "name": f"Book, {phase}",
        "phase": phase,
        "flap": flap,
        "surface": "paved_dry",
        **_axes(HEIGHTS, [si(f"{one} degC") for one in WARMTHS]),
        "roll": _grid(roll, "ft"),
        "over_50ft": _grid(over_50ft, "ft"),
    }


def _climb(name: str, speed: str, rates: Any, **fields: Any) -> dict[str, Any]:
    return {
        "source": "book_climb",
        "id": name.lower().replace(", ", "-").replace(" ", "-"),
        "name": name,
        "speed": fig(speed),
        "temperature_is": "above_standard",
        **_axes(CLIMB_HEIGHTS, [0.0]),
        "rate": _grid(rates, "ft/min"),
        **fields,
    }


def _flap(name: str, label: str, stall: int, climb: int, used_for: str, **fields: Any) -> dict[str, Any]:
    return {
        "id": name,
        "name": label,
        "stall": fig(f"{stall} kt"),
        "stall_mass": fig("2450 lb"),
        "climb_speed": fig(f"{climb} kt"),
        "correction": [
            {"indicated": si(f"{dial} kt"), "calibrated": si(f"{true} kt")} for dial, true in DIAL[label]
        ],
        "used_for": [used_for],
        **fields,
    }


def _seat(label: str, arm: str, tall: str, fits: str, controls: bool) -> dict[str, Any]:
    return {
        "id": label.lower().replace(" ", "-"),
        "name": label,
        "arm": fig(arm),
        "mass_limit": fig("265 lb"),
        "height_sits_well": fig(tall),
        "height_fits": fig(fits),
        "width": fig("42 in"),
        "bench": label.split()[0].lower(),
        "controls": controls,
    }


def aeroplane() -> dict[str, Any]:
    return {
        "version": 1,
        "kind": "aeroplane",
        "id": "marrow-fen",
        "name": "Marrow Fen",
        "registration": "MFN",
        "class_of": "four seats, high wing, tailwheel",
        "datum": "Front face of the firewall",
        "undercarriage": {"layout": "tailwheel", "main_arm": fig("12 in"), "other_arm": fig("210 in")},
        "wing": {"area": fig("175 ft²"), "span": fig("36 ft"), "height": fig("7 ft")},
        "engine": {
            "rated_power": fig("180 hp"),
            "rated_rotation": fig("2700 rpm"),
            "grades": ["avgas", "mogas"],
        },
        "propeller": {"pitch_is": "fixed", "diameter": fig("80 in")},
        "seats": [
            _seat("Front left", "36 in", "75 in", "79 in", True),
            _seat("Front right", "36 in", "75 in", "79 in", True),
            _seat("Rear left", "70 in", "68 in", "73 in", False),
            _seat("Rear right", "70 in", "68 in", "73 in", False),
        ],
        "bays": [
            {
                "id": "baggage",
                "name": "Baggage",
                "arm": fig("95 in"),
                "mass_limit": fig("120 lb"),
                "floor_limit": fig("60 lb/ft²"),
                "volume": fig("260 L"),
                "length": fig("30 in"),
                "width": fig("34 in"),
                "height": fig("24 in"),
                "longest": fig("55 in"),
                "door": {"width": fig("24 in"), "height": fig("20 in")},
                "restraint": {"by": "net", "rating": fig("120 lb")},
                "packing_fraction": fig("85 %"),
            }
        ],
        "tanks": [
            {
                "id": f"{side}-wing",
                "name": f"{side.capitalize()} wing",
                "arm": fig("48 in"),
                "usable": fig("26 gal"),
                "unusable": fig("1.5 gal"),
            }
            for side in ("left", "right")
        ],
        "limits": {"ramp": fig("2455 lb"), "takeoff": fig("2450 lb"), "landing": fig("2450 lb")},
        "envelopes": [
            {
                "id": "normal",
                "category": "Normal",
                "vertices": [{"mass": si(f"{mass} lb"), "across": si(f"{arm} in")} for mass, arm in CORNERS],
            }
        ],
        "configurations": [
            {
                "id": "as-it-is",
                "name": "As it is",
                "weighing": {
                    "by": "scales",
                    "date": "2026-10-14",
                    "includes_oil": True,
                    "includes_unusable_fuel": True,
                    "scales": [
                        {"name": name, "arm": fig(f"{arm} in"), "reading": fig(f"{reading} lb")}
                        for name, arm, reading in SCALES
                    ],
                },
            }
        ],
        "owner": {
            "crosswind": fig("12 kt"),
            "tailwind": fig("5 kt"),
            "gust_spread": fig("10 kt"),
            "wind": fig("25 kt"),
            "mass_caps": [
                {"density_altitude": si(f"{height} ft"), "mass": si(f"{mass} lb")} for height, mass in CAPS
            ],
        },
        "turn_bank": si("40 deg"),
        "approach_gradient": fig("8 %"),
        "flaps": [
            _flap("up", "Up", 50, 70, "cruise"),
            _flap(
                "flap-20",
                "Flap 20",
                46,
                66,
                "takeoff",
                angle=si("20 deg"),
                limit_speed=fig("95 kt"),
                lift_off_factor=fig("1.15"),
                at_50ft_factor=fig("1.3"),
            ),
            _flap(
                "flap-40",
                "Flap 40",
                43,
                62,
                "landing",
                angle=si("40 deg"),
                limit_speed=fig("85 kt"),
                touchdown_factor=fig("1.15"),
            ),
        ],
        "speeds": {"manoeuvring": fig("105 kt"), "normal": fig("125 kt"), "never_exceed": fig("158 kt")},
        "dial_first_mark": fig("40 kt"),
        "performance": [
            _distances("book-takeoff", "takeoff", "flap-20", TAKEOFF_ROLL, TAKEOFF_50FT),
            _distances("book-landing", "landing", "flap-40", LANDING_ROLL, LANDING_50FT),
            _climb("Book, climb", "80 mph", CLIMB),
            _climb("Book, going around", "65 mph", AROUND, flap="flap-40"),
        ],
        "fuel": {
            "taxi_and_run_up": fig("1.1 gal"),
            "climb_flow": fig("13 gal/h"),
            "climb_speed": fig("75 kt"),
            "descent_flow": fig("6 gal/h"),
            "descent_rate": fig("500 ft/min"),
            "dip_error": fig("1 gal"),
        },
        "cruises": [
            {
                "id": "easy",
                "name": "Easy",
                "rotation": fig("2400 rpm"),
                "speed": fig("105 kt"),
                "flow": fig("8.8 gal/h"),
                "altitude_low": si("1000 ft"),
                "altitude_high": si("9000 ft"),
            }
        ],
        "quirks": [
            {"id": "tailwheel", "text": "Lock the tailwheel before full power", "at": ["lifts_off"]},
            {"id": "slip", "text": "No slip with flap 40", "at": ["stops"], "flap": "flap-40"},
        ],
    }


def strips(now: str, longitude: float) -> list[dict[str, Any]]:
    none = {"state": "none", "said_by": "Ada Fenn", "at": now}

    def listed(name: str, distance: str, height: str) -> dict[str, Any]:
        one = {"id": name.lower(), "name": name, "distance": measured(distance), "height": measured(height)}
        return {"state": "listed", "obstacles": [one]}

    def way(designator: str, bearing: int, along: str, use: str, **fields: Any) -> dict[str, Any]:
        turned = {"bearing": si(f"{bearing} deg"), "along": along, "use": use}
        return {"id": designator, "designator": designator, **turned, **fields}

    pines = listed("Pines", "1200 ft", "45 ft")
    return [
        {
            "version": 1,
            "kind": "strip",
            "id": "cold-marrow",
            "name": "Cold Marrow",
            "position": {"latitude": -33.0, "longitude": longitude},
            "elevation": measured("840 ft"),
            "ground": {
                "length": measured("2100 ft", note="840 paces of 2.5 ft"),
                "width": measured("80 ft"),
                "segments": [
                    {"length": si("900 ft"), "slope": 0.01},
                    {"length": si("1200 ft"), "slope": 0.0},
                ],
                "state": {"surface": "grass_short_dry", "seen": now},
            },
            "directions": [
                way("09", 92, "forward", "both", departure=pines, approach=none, go_around="possible"),
                way("27", 272, "reverse", "both", departure=none, approach=pines, go_around="possible"),
            ],
            "has_sock": True,
        },
        {
            "version": 1,
            "kind": "strip",
            "id": "hollow-barn",
            "name": "Hollow Barn",
            "position": {"latitude": -33.0, "longitude": round(longitude + 0.6, 1)},
            "elevation": measured("1150 ft"),
            "ground": {
                "length": measured("1900 ft"),
                "width": measured("70 ft"),
                "segments": [{"length": si("1900 ft"), "slope": 0.03}],
                "state": {"surface": "gravel_dry", "seen": now},
            },
            "directions": [
                way(
                    "31",
                    308,
                    "forward",
                    "landing",
                    approach=listed("Wall", "150 ft", "6 ft"),
                    go_around="none",
                    committed_at="the gate",
                ),
                way("13", 128, "reverse", "takeoff", departure=none),
            ],
        },
    ]


def people() -> list[dict[str, Any]]:
    def person(name: str, mass: str, height: str, **fields: Any) -> dict[str, Any]:
        head = {"version": 1, "kind": "person", "id": name.lower().replace(" ", "-"), "name": name}
        return {**head, "mass": measured(mass), "height": measured(height), **fields}

    return [person("Ada Fenn", "148 lb", "66 in", flies=True), person("Bo Marrow", "176 lb", "71 in")]


def kit() -> dict[str, Any]:
    def item(name: str, mass: str, **size: Any) -> dict[str, Any]:
        return {
            "id": name.lower().replace(" ", "-"),
            "name": name,
            "mass": measured(mass),
            "size": {key: one if key == "shape" else measured(one) for key, one in size.items()},
        }

    return {
        "version": 1,
        "kind": "kit",
        "id": "two-nights",
        "name": "Two nights",
        "items": [
            item("Tent", "14 lb", shape="soft", volume="30 L"),
            item("Sleeping bags", "9 lb", shape="soft", volume="26 L"),
            item("Water can", "22 lb", shape="rigid", length="11 in", width="7 in", height="13 in"),
        ],
    }
