"""Before the doors close: each line exactly when what it speaks of is aboard."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from .test_tuned_answers import demo, document, leg


def lines(bundle: dict[str, Any]) -> list[dict[str, Any]]:
    return list(leg(bundle)["before_doors"])


def texts(bundle: dict[str, Any]) -> set[str]:
    return {line["text"] for line in lines(bundle)}


def load_of(bundle: dict[str, Any]) -> dict[str, Any]:
    week = document(bundle, "week")
    (flown,) = (one for one in week["legs"] if one["id"] == "to-ridge-camp")
    (load,) = (one for one in week["loads"] if one["id"] == flown["load"])
    return dict(load)


def items(bundle: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {item["id"]: item for one in bundle["documents"] if one["kind"] == "kit" for item in one["items"]}


def in_bay(bundle: dict[str, Any], bay: str) -> dict[str, Any]:
    """The first item that rides there."""
    return items(bundle)[next(one["item"] for one in load_of(bundle)["placed"] if one["bay"] == bay)]


def bay(bundle: dict[str, Any], name: str) -> dict[str, Any]:
    (found,) = (one for one in document(bundle, "dabchick")["bays"] if one["id"] == name)
    assert isinstance(found, dict)
    return found


def test_the_controls_and_the_doors_are_always_among_them():
    bundle = demo()
    load = next(one for one in document(bundle, "week")["loads"] if one["id"] == load_of(bundle)["id"])
    load["placed"] = []
    assert [line["text"] for line in lines(bundle)][-2:] == ["doors.shut", "doors.controls"]
    assert not any("bay" in line["values"] for line in lines(bundle))


@pytest.mark.parametrize(
    ("rides", "told"),
    [
        ({"bay": None, "packed": True}, True),
        ({"bay": "hold", "packed": True}, False),
        ({"bay": None, "packed": False}, False),
        ({"bay": None, "packed": True, "inside": "of one that stays"}, True),
        ({"bay": None, "packed": True, "inside": "of one that comes"}, False),
    ],
)
def test_what_is_packed_and_comes_not_is_told_first(rides, told):
    bundle = demo()
    load = next(one for one in document(bundle, "week")["loads"] if one["id"] == load_of(bundle)["id"])
    first, bag = [one for one in load["placed"] if one["bay"] == "hold"][:2]
    if "inside" in rides:
        bag["bay"] = "hold" if rides["inside"] == "of one that comes" else None
        rides = {**rides, "inside": bag["item"]}
    first.pop("packed", None)
    first.update(rides)
    line = {"text": "doors.uncounted", "values": {"item": items(bundle)[first["item"]]["name"]}}
    assert (line == lines(bundle)[0]) is told
    assert (line in lines(bundle)) is told


@pytest.mark.parametrize(
    ("restraint", "text"),
    [
        (None, "doors.unheld"),
        ({"by": "none"}, "doors.unheld"),
        ({"by": "net"}, "doors.net"),
        ({"by": "straps", "rating": {"value": 40.0, "origin": "book"}}, "doors.straps_rated"),
        ({"by": "rings"}, "doors.rings"),
        ({"by": "locker", "rating": {"value": 15.0, "origin": "book"}}, "doors.locker_rated"),
    ],
)
def test_a_bay_in_use_tells_how_it_is_held(restraint, text):
    bundle = demo()
    hold = bay(bundle, "hold")
    hold.pop("restraint")
    if restraint is not None:
        hold["restraint"] = restraint
    (line,) = (
        one
        for one in lines(bundle)
        if one["values"].get("bay") == hold["name"] and "item" not in one["values"]
    )
    assert line["text"] == text
    assert line["values"].get("rating") == (restraint or {}).get("rating", {}).get("value")


@pytest.mark.parametrize("place", ["near_controls", "near_exit"])
def test_a_bay_by_the_controls_or_the_way_out_says_so(place):
    bundle = demo()
    assert f"doors.{place}" not in texts(bundle)
    bay(bundle, "hold")[place] = True
    assert f"doors.{place}" in texts(bundle)


@pytest.mark.parametrize(
    ("field", "value", "text"),
    [
        ("danger", "fuel", "doors.fuel"),
        ("danger", "gas", "doors.gas"),
        ("danger", "battery", "doors.battery"),
        ("upright", True, "doors.upright"),
        ("stays_accessible", True, "doors.within_reach"),
        ("held_by", "strap", "doors.item_strap"),
    ],
)
def test_a_thing_that_wants_looking_at_is_named_while_it_is_aboard(field, value, text):
    bundle = demo()
    thing = in_bay(bundle, "hold")
    for name in ("danger", "upright", "stays_accessible", "held_by"):
        thing.pop(name, None)

    def named(given: dict[str, Any]) -> bool:
        return any(one["text"] == text and one["values"].get("item") == thing["name"] for one in lines(given))

    assert not named(bundle)
    thing[field] = value
    assert named(bundle)
    left = copy.deepcopy(bundle)
    for load in document(left, "week")["loads"]:
        for one in load["placed"]:
            if one["item"] == thing["id"]:
                one["bay"] = None
    assert not named(left)


@pytest.mark.parametrize("is_a", ["child", "infant", "dog"])
def test_who_is_no_adult_is_made_fast_and_a_passenger_keeps_off_the_stick(is_a):
    bundle = demo()
    people = [document(bundle, one["person"]) for one in load_of(bundle)["seats"]]
    (passenger,) = (one for one in people if not one.get("flies"))
    clear = {"text": "doors.stick_clear", "values": {"person": passenger["name"]}}
    assert clear in lines(bundle)
    assert f"doors.{is_a}" not in texts(bundle)
    passenger["is_a"] = is_a
    assert {"text": f"doors.{is_a}", "values": {"person": passenger["name"]}} in lines(bundle)
    document(bundle, "dabchick")["seats"][1]["controls"] = False
    assert clear not in lines(bundle)


def test_an_empty_seat_with_controls_is_made_safe():
    bundle = demo()
    load = next(one for one in document(bundle, "week")["loads"] if one["id"] == load_of(bundle)["id"])
    seats = document(bundle, "dabchick")["seats"]
    assert "doors.empty_seat" not in texts(bundle)
    (left,) = (one for one in load["seats"] if not document(bundle, one["person"]).get("flies"))
    load["seats"].remove(left)
    (seat,) = (one for one in seats if one["id"] == left["seat"])
    seat["controls"] = True
    assert {"text": "doors.empty_seat", "values": {"seat": seat["name"]}} in lines(bundle)
    seat["controls"] = False
    assert "doors.empty_seat" not in texts(bundle)


@pytest.mark.parametrize(
    ("only", "told"),
    [
        ({}, True),
        ({"at": ["fits"]}, True),
        ({"at": ["stops", "lifts_off"]}, True),
        ({"at": ["stops"]}, False),
        ({"flap": "of the leg"}, True),
        ({"flap": "another"}, False),
        ({"configuration": "of the leg"}, True),
        ({"configuration": "another"}, False),
    ],
)
def test_a_note_of_the_owner_stands_where_rig_and_flap_are_those_of_the_leg(only, told):
    bundle = demo()
    plane, week = document(bundle, "dabchick"), document(bundle, "week")
    (flown,) = (one for one in week["legs"] if one["id"] == "to-ridge-camp")
    ours = {
        "flap": {flown["takeoff_flap"], flown["landing_flap"]},
        "configuration": {flown.get("configuration") or week["configuration"]},
    }
    all_of = {"flap": plane["flaps"], "configuration": plane["configurations"]}
    note = {"id": "latch", "text": "The left latch wants a second push", **only}
    for field, names in ours.items():
        if field in only:
            others = {one["id"] for one in all_of[field]} - names
            note[field] = sorted(names if only[field] == "of the leg" else others)[0]
    plane["quirks"] = [note]
    assert ({"text": "text", "values": {"text": note["text"]}} in lines(bundle)) is told


def told(bundle: dict[str, Any], question: str = "fits") -> dict[str, dict[str, Any]]:
    (answer,) = (one for one in leg(bundle)["answers"] if one["question"] == question)
    return {note["text"]: note["values"] for note in answer["notes"]}


def test_what_keeps_people_alive_and_stays_behind_is_told_whoever_took_it_out():
    bundle = demo()
    assert "note.not_aboard" not in texts(bundle)
    week = document(bundle, "week")
    load = next(one for one in week["loads"] if one["id"] == load_of(bundle)["id"])
    by_role = {item["role"]: item for item in items(bundle).values() if item.get("role")}
    left = [by_role["beacon"], by_role["survival"]]
    load["placed"] = [one for one in load["placed"] if one["item"] not in {item["id"] for item in left}]
    assert lines(bundle)[0]["text"] == "note.not_aboard", "the first line"
    assert set(told(bundle)["note.not_aboard"]["items"].split(", ")) == {item["name"] for item in left}
    # a trip without its kits named goes by what its load lists
    week["kits"] = []
    assert "note.not_aboard" not in texts(bundle)
    load["placed"].append({"item": left[0]["id"]})
    assert lines(bundle)[0]["values"]["items"] == left[0]["name"]


def test_water_short_of_a_day_for_everybody_is_told():
    bundle = demo()
    assert "note.little_water" not in texts(bundle)
    week = document(bundle, "week")
    week["water_per_day"] = 6.0
    values = told(bundle)["note.little_water"]
    water = [item for item in items(bundle).values() if item.get("role") == "water"]
    aboard = {one["item"] for one in load_of(bundle)["placed"] if one["bay"]}
    assert values["aboard"] == pytest.approx(sum(w["mass"]["value"] for w in water if w["id"] in aboard))
    assert values["wanted"] == pytest.approx(2 * 6.0)
