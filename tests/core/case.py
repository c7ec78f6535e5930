"""A small case that answers "yes" on all six: written by hand, frozen, for tests that take something away.

`base(sources)` gives fresh documents; `sources` is "all", "book", "known" or "constants": which performance the
aeroplane has for take-off and landing (the climb is by the book or by the constants), and which one its owner
trusts. Nothing here is an aeroplane, a place or a person that exists.
"""

from __future__ import annotations

import copy
import json
from typing import Any

from tussock import api
from tussock.documents import read_bundle
from tussock.questions.asking import ask as questions
from tussock.trip import chosen_leg, chosen_trip, moment

NOW = "2026-05-20T09:40:00+02:00"
TRIP, LEG = "day-out", "out"
QUESTIONS = ("fits", "balances", "lifts_off", "climbs_out", "reaches", "stops")
RANK = {"no": 0, "can't say": 1, "tight": 2, "yes": 3}
KNOT = 1852 / 3600

Documents = dict[str, dict[str, Any]]


def fig(value: float, origin: str = "measured", **more: Any) -> dict[str, Any]:
    return {"value": value, "origin": origin, **more}


def _aeroplane() -> dict[str, Any]:
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
                "door": {"width": fig(0.6), "height": fig(0.4)},
                "mass_limit": fig(40.0),
                "floor_limit": fig(200.0),
                "restraint": {"by": "net", "rating": fig(40.0), "rings": 4},
                "packing_fraction": fig(0.8),
                "accessible_in_flight": True,
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


def _tables() -> list[dict[str, Any]]:
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


def _climb_table(flap: str = "first", rate: float = 5.0) -> dict[str, Any]:
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


def _known() -> list[dict[str, Any]]:
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


def _constants() -> dict[str, Any]:
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


def _strip(name: str, latitude: float, longitude: float, elevation: float, length: float) -> dict[str, Any]:
    half = length / 2
    return {
        "kind": "strip",
        "id": name,
        "name": name.title(),
        "position": {"latitude": latitude, "longitude": longitude},
        "elevation": fig(elevation),
        "ground": {
            "length": fig(length),
            "width": fig(25.0),
            "segments": [{"length": half, "slope": 0.004}, {"length": half, "slope": -0.006}],
            "state": {
                "surface": "grass_short_dry",
                "seen": "2026-05-19T18:00:00+02:00",
                "grass_height": fig(0.06),
            },
        },
        "directions": [_direction("07", 1.222, "forward"), _direction("25", 4.363, "reverse")],
        "mass_limit": fig(700.0),
        "ridge_shadow": {"before_sunset": fig(2400.0), "after_sunrise": fig(600.0)},
        "fuel": [{"grade": "avgas"}],
        "has_sock": True,
        "has_water": True,
    }


def _direction(designator: str, bearing: float, along: str) -> dict[str, Any]:
    def listed(name: str, distance: float, height: float) -> dict[str, Any]:
        thing = {"id": name, "name": name.title(), "distance": fig(distance), "height": fig(height)}
        return {"state": "listed", "obstacles": [thing]}

    return {
        "id": designator,
        "designator": designator,
        "bearing": bearing,
        "along": along,
        "use": "both",
        "departure": listed("trees", 700.0, 12.0),
        "approach": listed("hedge", 300.0, 4.0),
        "go_around": "possible",
        "go_around_way": listed("barn", 2000.0, 10.0),
        "way_out": {
            "ridges": [
                {"id": "ridge", "name": "Ridge", "distance": fig(12_000.0), "height": fig(100.0)},
            ],
            "valley_width": fig(1200.0),
        },
    }


def _air() -> list[dict[str, Any]]:
    return [
        {
            "kind": "air",
            "id": "air-heath",
            "name": "Heath now",
            "strip": "heath",
            "at": "2026-05-20T09:30:00+02:00",
            "origin": "read",
            "pressure": {"by": "qnh", "qnh": 101_300.0},
            "temperature": 289.0,
            "dew_point": 281.0,
            "wind": {"by": "measured", "speed": 3.0, "gust": 5.0, "wind_from": 0.6, "against": "07"},
            "day": {"minimum": 281.0, "maximum": 295.0},
            "wing_wet": False,
        },
        {
            "kind": "air",
            "id": "air-moor",
            "name": "Moor, forecast",
            "strip": "moor",
            "at": "2026-05-20T10:30:00+02:00",
            "origin": "forecast",
            "pressure": {"by": "altimeter", "pressure_altitude": 290.0},
            "temperature": 288.5,
            "dew_point": 280.0,
            "wind": {"by": "measured", "speed": 1.5, "gust": 2.5, "wind_from": 2.5, "against": "07"},
        },
    ]


def _people_and_kit() -> list[dict[str, Any]]:
    def person(name: str, mass: float, height: float, flies: bool) -> dict[str, Any]:
        figures = {"mass": fig(mass), "height": fig(height), "width": fig(0.48)}
        return {"kind": "person", "id": name, "name": name.title(), "flies": flies, **figures}

    items = [
        {
            "id": "tent",
            "name": "Tent",
            "mass": fig(6.0),
            "size": {"shape": "soft", "volume": fig(0.020), "crush": 0.1, "longest": fig(0.55)},
            "worth": 6,
        },
        {
            "id": "box",
            "name": "Box",
            "mass": fig(5.0),
            "size": {"shape": "rigid", "length": fig(0.4), "width": fig(0.3), "height": fig(0.25)},
            "worth": 3,
        },
        {
            "id": "survival",
            "name": "Survival bag",
            "mass": fig(4.0),
            "size": {"shape": "soft", "volume": fig(0.012)},
            "role": "survival",
        },
    ]
    return [
        person("wren", 80.0, 1.75, True),
        person("lark", 70.0, 1.68, False),
        {"kind": "kit", "id": "camp", "name": "Camp", "items": items},
    ]


def _trip() -> list[dict[str, Any]]:
    return [
        {
            "kind": "settings",
            "id": "settings",
            "name": "Settings",
            "reserve": {"rule": "45 min", "time": 2700.0},
        },
        {
            "kind": "trip",
            "id": TRIP,
            "name": "Day out",
            "aeroplane": "plover",
            "configuration": "steps",
            "people": ["wren", "lark"],
            "kits": ["camp"],
            "settings": "settings",
            "loads": [
                {
                    "id": "camping",
                    "name": "Camping",
                    "seats": [{"seat": "left", "person": "wren"}, {"seat": "right", "person": "lark"}],
                    "placed": [
                        {"item": "tent", "bay": "hold", "weighed": fig(6.2)},
                        {"item": "box", "bay": "hold"},
                        {"item": "survival", "bay": "hold"},
                    ],
                }
            ],
            "legs": [
                {
                    "id": LEG,
                    "name": "Out",
                    "from_strip": "heath",
                    "takeoff_direction": "07",
                    "to_strip": "moor",
                    "landing_direction": "07",
                    "alternate": "heath",
                    "departure": "2026-05-20T10:00:00+02:00",
                    "load": "camping",
                    "fuel": [{"tank": "main", "volume": fig(0.07)}],
                    "fuel_grade": "avgas",
                    "takeoff_flap": "first",
                    "landing_flap": "full",
                    "cruise": "usual",
                    "cruise_altitude": 900.0,
                    "wind_aloft": {"speed": 6.0, "wind_from": 1.0},
                    "air_from": "air-heath",
                    "air_to": "air-moor",
                }
            ],
        },
    ]


def base(sources: str = "all") -> Documents:
    """The documents by id, fresh."""
    plane = _aeroplane()
    by = {
        "book": [*_tables(), _climb_table(), _climb_table("full", 4.2)],
        "known": [*_known(), _climb_table(), _climb_table("full", 4.2)],
        "constants": [_constants()],
        "all": [*_tables(), _climb_table(), *_known(), _constants()],
    }
    plane["performance"] = by[sources]
    plane["prefer"] = {
        "book": {"takeoff": "book-takeoff", "climb": "book-climb", "landing": "book-landing"},
        "known": {"takeoff": "known-takeoff", "climb": "book-climb", "landing": "known-landing"},
        "constants": {"takeoff": "constants", "climb": "constants", "landing": "constants"},
        "all": {"takeoff": "constants", "climb": "constants", "landing": "constants"},
    }[sources]
    strips = [_strip("heath", 50.0, 5.0, 200.0, 1000.0), _strip("moor", 50.2, 5.6, 260.0, 1000.0)]
    if sources in ("book", "known"):
        # the angle of the approach is known from the constants alone
        for strip in strips:
            for direction in strip["directions"]:
                direction["approach"] = {"state": "none", "said_by": "Wren", "at": "2026-05-19T18:00:00+02:00"}
    documents = [plane, *strips, *_air(), *_people_and_kit(), *_trip()]
    return copy.deepcopy({document["id"]: document for document in documents})


def ask(method: str, documents: Documents, **params: Any) -> Any:
    """A method of the border with the documents; the reply as it came, checked to be strict JSON."""
    params = {"documents": list(documents.values()), "trip": TRIP, "now": NOW, **params}
    reply = api.handle(method, json.dumps(params))

    def refuse(name: str) -> None:
        raise AssertionError(f"{name} in an answer")

    return json.loads(reply, parse_constant=refuse)


def leg(documents: Documents, **params: Any) -> dict[str, Any]:
    """The answered leg. Fails when the documents are refused."""
    reply = ask("answer", documents, **params)
    assert "result" in reply, reply
    return reply["result"]["legs"][0]


def answers(documents: Documents, **params: Any) -> dict[str, dict[str, Any]]:
    """The six answers of the leg by question."""
    return {one["question"]: one for one in leg(documents, **params)["answers"]}


def verdicts(documents: Documents, **params: Any) -> dict[str, str]:
    return {question: one["verdict"] for question, one in answers(documents, **params).items()}


def element(where: Any, name: str) -> Any:
    """A field of an object, or an element of a list by its id or the field that names it."""
    if isinstance(where, dict):
        return where[name]
    for key in ("id", "tank", "item", "person", "grade", "surface", "flap"):
        for one in where:
            if isinstance(one, dict) and one.get(key) == name:
                return one
    return where[int(name)]


def parent(documents: Documents, pointer: str) -> tuple[Any, str]:
    """What holds the field at `/document/...`, and the field's name."""
    head, *parts = pointer.lstrip("/").split("/")
    where: Any = documents[head]
    for part in parts[:-1]:
        where = element(where, part)
    return where, parts[-1]


def put(documents: Documents, pointer: str, value: Any) -> Documents:
    """The same documents with a field set, in place."""
    where, name = parent(documents, pointer)
    if isinstance(where, list):
        where[where.index(element(where, name))] = value
    else:
        where[name] = value
    return documents


def drop(documents: Documents, pointer: str) -> Documents:
    """The same documents without a field, or without an element of a list, in place."""
    where, name = parent(documents, pointer)
    if isinstance(where, list):
        where.remove(element(where, name))
    else:
        del where[name]
    return documents


def texts(messages: Any) -> set[str]:
    """Ids of the catalogue of every message inside."""
    found: set[str] = set()
    level = [messages]
    while level:
        one = level.pop()
        if isinstance(one, dict):
            if "text" in one and "values" in one:
                found.add(one["text"])
            level += one.values()
        elif isinstance(one, list):
            level += one
    return found


def quick(documents: Documents, now: str = NOW) -> dict[str, dict[str, Any]]:
    """The six answers by question, through the gate but without working, pictures and drivers: the same figures."""
    bundle = read_bundle({"documents": list(documents.values())}).bundle
    trip = chosen_trip(bundle, TRIP)
    asked = questions(bundle, trip, chosen_leg(trip, LEG), moment(now), silent=True)
    return {one["question"]: one for one in asked.as_dict()["answers"]}
