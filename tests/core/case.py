"""A small case that answers "yes" on all six: written by hand, frozen, for tests that take something away.

`base(sources)` gives fresh documents; `sources` is "all", "book", "known" or "constants": which performance
the aeroplane has for take-off and landing (the climb is by the book or by the constants), and which one its
owner trusts. Nothing here is an aeroplane, a place or a person that exists.
"""

from __future__ import annotations

import copy
import json
from typing import Any

from tussock import api
from tussock.documents import read_bundle
from tussock.questions.asking import ask as questions
from tussock.trip import chosen_leg, chosen_trip, moment

from .case_aeroplane import aeroplane, climb_table, constants, fig, known, tables

NOW = "2026-05-20T09:40:00+02:00"
TRIP, LEG = "day-out", "out"
QUESTIONS = ("fits", "balances", "lifts_off", "climbs_out", "reaches", "stops")
RANK = {"no": 0, "can't say": 1, "tight": 2, "yes": 3}
KNOT = 1852 / 3600

Documents = dict[str, dict[str, Any]]


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
            "pressure": {"by": "qnh", "qnh": 101_100.0},
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
            "danger": "gas",
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
    plane = aeroplane()
    by: dict[str, list[dict[str, Any]]] = {
        "book": [*tables(), climb_table(), climb_table("full", 4.2)],
        "known": [*known(), climb_table(), climb_table("full", 4.2)],
        "constants": [constants()],
        "all": [*tables(), climb_table(), *known(), constants()],
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
                direction["approach"] = {
                    "state": "none",
                    "said_by": "Wren",
                    "at": "2026-05-19T18:00:00+02:00",
                }
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
    """The six answers by question, without working, pictures and drivers: the same figures."""
    bundle = read_bundle({"documents": list(documents.values())}).bundle
    trip = chosen_trip(bundle, TRIP)
    asked = questions(bundle, trip, chosen_leg(trip, LEG), moment(now), silent=True)
    return {one["question"]: one for one in asked.as_dict()["answers"]}


def quick_verdicts(documents: Documents, now: str = NOW) -> dict[str, str]:
    return {question: answer["verdict"] for question, answer in quick(documents, now).items()}


def reasons(answer: dict[str, Any]) -> set[str]:
    """Ids of the reasons of an answer."""
    return texts(answer["reasons"])


def measure(answer: dict[str, Any], name: str) -> Any:
    """The first measure of that name, or None."""
    return next((m for m in answer["measures"] if m["name"] == name), None)
