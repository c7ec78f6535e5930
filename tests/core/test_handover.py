"""The passenger's list and what comes back: nothing private goes out, and no edit of either side is lost."""

from __future__ import annotations

import copy
import json
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock.api import handle

NOW = "2026-11-25T09:00:00+00:00"
TRIP, LOAD, LEG = "week", "dabchick-three-days", "to-ridge-camp"


def asked(method: str, **params: Any) -> Any:
    reply = json.loads(handle(method, json.dumps(params)))
    if "error" in reply:
        raise AssertionError(reply["error"])
    return reply["result"]


def refused(method: str, **params: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(handle(method, json.dumps(params)))["error"]
    return reply


DEMO = asked("demo", now=NOW)


def trip_of(bundle: dict[str, Any]) -> dict[str, Any]:
    (found,) = (one for one in bundle["documents"] if one["id"] == TRIP)
    return found


def placed_of(bundle: dict[str, Any]) -> dict[str, dict[str, Any]]:
    (load,) = (one for one in trip_of(bundle)["loads"] if one["id"] == LOAD)
    return {one["item"]: one for one in load["placed"]}


def list_of(bundle: dict[str, Any], leg: str = LEG) -> dict[str, Any]:
    found: dict[str, Any] = asked("hand_over", bundle=json.dumps(bundle), trip=TRIP, leg=leg, now=NOW)
    return found


def deed(item: str, field: str, value: Any, minute: int, by: str = "wren", over: str | None = None) -> Any:
    stamp = {"at": f"2026-11-25T10:{minute:02}:00Z", "by": by} | ({"over": over} if over else {})
    if field == "weighed" and value is not None:
        value = {"value": value, "origin": "measured"}
    return {"item": item, "field": field, field: value, "stamp": stamp}


def brought(*deeds: Any) -> str:
    return json.dumps(
        {"format": "tussock-brought", "version": 1, "trip": TRIP, "load": LOAD, "name": "x", "deeds": deeds}
    )


def taken(bundle: dict[str, Any], message: str) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    merged = asked("take_handed", mine=bundle, message=message)
    assert merged["not_joined"] == []
    assert merged["gone"] == []
    new = {one["id"]: one for one in merged["documents"]}
    documents = [new.get(one["id"], one) for one in bundle["documents"]]
    return {**bundle, "documents": documents}, merged["changes"]


def edited(bundle: dict[str, Any], item: str, field: str, value: Any, minute: int) -> dict[str, Any]:
    """The same on the pilot's own phone."""
    after = copy.deepcopy(bundle)
    trip, one = trip_of(after), placed_of(after)[item]
    place = f"/loads/{LOAD}/placed/{item}/{field}"
    before = trip.get("stamps", {}).get(place)
    stamp = {"at": f"2026-11-25T10:{minute:02}:30Z", "by": "pilot"} | (
        {"over": before["at"]} if before else {}
    )
    one[field] = {"value": value, "origin": "measured"} if field == "weighed" else value
    trip.setdefault("stamps", {})[place] = stamp
    return after


def test_the_list_holds_the_plan_and_no_more() -> None:
    found = list_of(DEMO)
    planned = {item: one["bay"] for item, one in placed_of(DEMO).items() if one.get("bay")}
    assert {one["id"]: one["bay"] for one in found["items"]} == planned
    people = {one["name"]: one for one in DEMO["documents"] if one["kind"] == "person"}
    assert found["people"]
    for one in found["people"]:
        assert ("mass" in one) == (not people[one["name"]].get("mass_is_private", True))


def test_a_weight_is_told_only_by_choice() -> None:
    shown = copy.deepcopy(DEMO)
    for one in shown["documents"]:
        if one["kind"] == "person":
            one["mass_is_private"] = one["id"] != "wren"
    text = json.dumps(list_of(shown))
    masses = {one["id"]: one["mass"]["value"] for one in DEMO["documents"] if one["kind"] == "person"}
    assert [one.get("mass", {}).get("value") for one in list_of(shown)["people"] if "mass" in one] == [
        masses["wren"]
    ]
    private = json.dumps(list_of(DEMO))
    assert "stamps" not in text
    assert all(f'"value": {mass}' not in private for mass in masses.values())


def test_what_is_free_is_the_least_of_all_legs_with_that_load() -> None:
    """A second leg with the same load, more fuel: less is free."""
    both = copy.deepcopy(DEMO)
    trip = trip_of(both)
    (leg,) = (one for one in trip["legs"] if one["id"] == LEG)
    heavy = copy.deepcopy(leg) | {"id": "again"}
    heavy["fuel"] = [
        {**one, "volume": {**one["volume"], "value": one["volume"]["value"] + 0.005}} for one in heavy["fuel"]
    ]
    trip["legs"].append(heavy)
    before, after = list_of(DEMO)["spare_mass"], list_of(both)["spare_mass"]
    assert 3 < before - after < 4.5, "five litres of petrol"


def test_what_is_free_keeps_the_balance() -> None:
    """The bay's own limits raised, its arm far aft: the envelope is what is left, and holds when used up."""
    aft = copy.deepcopy(DEMO)
    (plane,) = (one for one in aft["documents"] if one["id"] == "dabchick")
    for bay in plane["bays"]:
        if bay["id"] == "hold":
            bay["arm"]["value"] += 1.0
            bay["mass_limit"]["value"] = 200.0
    for key in ("joint_limits",):
        plane.pop(key, None)
    free = list_of(aft)["spare_mass"]
    assert 0 < free < list_of(DEMO)["spare_mass"] - 5
    heaviest = next(item for item, one in placed_of(aft).items() if one.get("bay") == "hold")
    mass = {one["id"]: one["mass"]["value"] for one in list_of(aft)["items"]}[heaviest]

    def aft_margin(more: float) -> float:
        bundle = edited(aft, heaviest, "weighed", mass + more, 5)
        (leg,) = asked("answer", bundle=json.dumps(bundle), trip=TRIP, leg=LEG, now=NOW)["legs"]
        return float(next(one["margin"] for one in leg["answers"][1]["measures"] if one["name"] == "aft"))

    assert aft_margin(free - 0.1) > 0
    assert aft_margin(free + 3.0) < 0


def verdicts(bundle: dict[str, Any], leg: str) -> dict[str, str]:
    (found,) = asked("answer", bundle=json.dumps(bundle), trip=TRIP, leg=leg, now=NOW)["legs"]
    return {one["question"]: one["verdict"] for one in found["answers"]}


def heavier(bundle: dict[str, Any], leg: str, more: float) -> dict[str, Any]:
    """Things of the leg's load weigh so much more in all, the heaviest alone; or so much less, in turn."""
    after = copy.deepcopy(bundle)
    trip = trip_of(after)
    (load,) = (one["load"] for one in trip["legs"] if one["id"] == leg)
    masses = {one["id"]: one["mass"]["value"] for one in list_of(bundle, leg)["items"]}
    (lines,) = (one["placed"] for one in trip["loads"] if one["id"] == load)
    for line in sorted((one for one in lines if one.get("bay")), key=lambda one: -masses[one["item"]]):
        mass = max(masses[line["item"]] + more, 0.0)
        more -= mass - masses[line["item"]]
        line["weighed"] = {"value": mass, "origin": "measured"}
    assert abs(more) < 1e-9
    return after


def longer(bundle: dict[str, Any], metres: float) -> dict[str, Any]:
    """The strip that the leg departs from, made longer, and level there."""
    after = copy.deepcopy(bundle)
    (leg,) = (one for one in trip_of(after)["legs"] if one["id"] == LEG)
    (strip,) = (one for one in after["documents"] if one["id"] == leg["from_strip"])
    strip["ground"]["length"]["value"] += metres
    strip["ground"]["segments"].append({"length": metres, "slope": 0.0})
    return after


def filled(bundle: dict[str, Any], leg: str, more: dict[str, tuple[float, float]]) -> dict[str, Any]:
    """One soft thing more in bays of the leg's load, of so many litres [m³] and so heavy [kg]."""
    after = copy.deepcopy(bundle)
    kit = next(one for one in after["documents"] if one["id"] in trip_of(after)["kits"])
    (name,) = (one["load"] for one in trip_of(after)["legs"] if one["id"] == leg)
    (lines,) = (one["placed"] for one in trip_of(after)["loads"] if one["id"] == name)
    for bay, figures in more.items():
        volume, mass = ({"value": value, "origin": "measured", "sd": 0.0} for value in figures)
        size = {"shape": "soft", "volume": volume}
        kit["items"].append({"id": f"fill-{bay}", "name": "Fill", "mass": mass, "size": size, "worth": 1})
        lines.append({"item": f"fill-{bay}", "bay": bay})
    return after


@pytest.mark.parametrize("leg", [one["id"] for one in trip_of(DEMO)["legs"]])
def test_the_litres_free_in_a_bay_go_in_as_soft_things(leg: str) -> None:
    """All bays filled up with them: between soft things there is air, which the list counts."""
    free = {bay["id"]: bay["spare_bulk"] for bay in list_of(DEMO, leg)["bays"] if bay["spare_bulk"] > 0.0}
    before = verdicts(DEMO, leg)["fits"]
    full = filled(DEMO, leg, {bay: (volume, 0.001) for bay, volume in free.items()})
    assert verdicts(full, leg)["fits"] in {before, "tight"}
    bay, volume = next(iter(free.items()))
    assert verdicts(filled(DEMO, leg, {bay: (1.02 * volume, 0.001)}), leg)["fits"] == "no"


@pytest.mark.parametrize("by", ["net", "floor"])
def test_the_kilos_free_in_a_bay_are_held_and_borne_there(by: str) -> None:
    """A net or a floor that takes less than the bay may: the free kilos go in, and no more."""
    weak = copy.deepcopy(DEMO)
    (plane,) = (one for one in weak["documents"] if one["id"] == "dabchick")
    (hold,) = (bay for bay in plane["bays"] if bay["id"] == "hold")
    plane.pop("joint_limits", None)
    free = {bay["id"]: bay["spare_mass"] for bay in list_of(weak)["bays"]}["hold"]
    most = hold["mass_limit"]["value"] - free + 2.0
    if by == "net":
        hold["restraint"]["rating"]["value"] = most
    else:
        hold["floor_limit"]["value"] = most / hold["length"]["value"] / hold["width"]["value"]
    found = {bay["id"]: bay["spare_mass"] for bay in list_of(weak)["bays"]}["hold"]
    assert found == pytest.approx(2.0)
    name = "restraint" if by == "net" else "floor_whole"
    for more, verdict in ((found, "tight"), (found + 0.1, "no")):
        full = filled(weak, LEG, {"hold": (0.001, more)})
        (answered,) = asked("answer", bundle=json.dumps(full), trip=TRIP, leg=LEG, now=NOW)["legs"]
        measures = [one for one in answered["answers"][0]["measures"] if one["name"] == name]
        assert min(measures, key=lambda one: one["margin"])["verdict"] == verdict


def test_without_a_packing_fraction_nobody_says_how_many_litres_are_free() -> None:
    untold = copy.deepcopy(DEMO)
    (plane,) = (one for one in untold["documents"] if one["id"] == "dabchick")
    for bay in plane["bays"]:
        bay.pop("packing_fraction")
    assert all("spare_bulk" not in bay for bay in list_of(untold)["bays"])


def test_what_is_free_is_what_still_lifts_off() -> None:
    """So warm that the strip counts, the bays' limits raised: used up it holds, with more it does not."""
    warm = copy.deepcopy(DEMO)
    (leg,) = (one for one in trip_of(warm)["legs"] if one["id"] == LEG)
    (air,) = (one for one in warm["documents"] if one["id"] == leg["air_from"])
    air["temperature"] += 5.0
    (plane,) = (one for one in warm["documents"] if one["id"] == "dabchick")
    for bay in plane["bays"]:
        bay["mass_limit"]["value"] += 60.0
    plane.pop("joint_limits", None)
    found = list_of(warm)
    free = found["spare_mass"]
    assert 0.5 < free < 60.0
    assert found["by_strips"] is True
    assert verdicts(heavier(warm, LEG, free - 0.05), LEG)["lifts_off"] == "tight"
    assert verdicts(heavier(warm, LEG, free + 0.3), LEG)["lifts_off"] == "no"
    roomy = list_of(longer(warm, 100.0))["spare_mass"]
    assert roomy > free + 1.0, "it was the strip"


def test_what_does_not_lift_off_now_is_too_much_by_what_would() -> None:
    leg = "to-larkfield"
    assert verdicts(DEMO, leg)["lifts_off"] == "no"
    over = -list_of(DEMO, leg)["spare_mass"]
    assert over > 0, "the scales alone would take more"
    assert verdicts(heavier(DEMO, leg, -over - 0.05), leg)["lifts_off"] == "tight"
    assert verdicts(heavier(DEMO, leg, 0.3 - over), leg)["lifts_off"] == "no"


def test_what_less_kit_does_not_help_is_left_out_and_told() -> None:
    aimless = copy.deepcopy(DEMO)
    (leg,) = (one for one in trip_of(aimless)["legs"] if one["id"] == LEG)
    leg.pop("takeoff_direction")
    found, before = list_of(aimless), list_of(DEMO)
    assert before["by_strips"] is True
    assert found["by_strips"] is False
    assert found["spare_mass"] >= before["spare_mass"]
    dark = copy.deepcopy(DEMO)
    (leg,) = (one for one in trip_of(dark)["legs"] if one["id"] == LEG)
    leg["departure"] = "2026-11-25T23:30:00+00:00"
    assert verdicts(dark, LEG)["reaches"] == "no"
    assert list_of(dark)["by_strips"] is False


def test_what_can_not_be_said_is_not_free() -> None:
    unknown = copy.deepcopy(DEMO)
    for one in unknown["documents"]:
        if one["kind"] == "person":
            one.pop("mass", None)
    found = list_of(unknown)
    assert "spare_mass" not in found
    weightless = copy.deepcopy(DEMO)
    item = next(item for item, one in placed_of(DEMO).items() if one["bay"] == "locker")
    for kit in (one for one in weightless["documents"] if one["kind"] == "kit"):
        for one in kit["items"]:
            if one["id"] == item:
                one.pop("mass", None)
    (locker,) = (bay for bay in list_of(weightless)["bays"] if bay["id"] == "locker")
    assert "spare_mass" not in locker


def test_a_tick_and_a_weight_come_back_and_count() -> None:
    item = next(iter(placed_of(DEMO)))
    after, changes = taken(DEMO, brought(deed(item, "packed", True, 1), deed(item, "weighed", 4.5, 2)))
    assert placed_of(after)[item]["packed"] is True
    assert placed_of(after)[item]["weighed"]["value"] == 4.5
    assert len(changes) == 2
    before = {one["id"]: one["mass"]["value"] for one in list_of(DEMO)["items"]}[item]
    spare = list_of(DEMO)["spare_mass"] - list_of(after)["spare_mass"]
    assert spare == pytest.approx(4.5 - before, abs=1e-6), "the answers count it"
    again, nothing = taken(after, brought(deed(item, "packed", True, 1), deed(item, "weighed", 4.5, 2)))
    assert again == after
    assert nothing == []


def test_two_edits_made_apart_are_told() -> None:
    item = next(iter(placed_of(DEMO)))
    mine = edited(DEMO, item, "weighed", 3.0, 5)
    after, changes = taken(mine, brought(deed(item, "weighed", 4.5, 2)))
    assert placed_of(after)[item]["weighed"]["value"] == 3.0, "the later stays"
    assert [one["kind"] for one in changes] == ["conflict"]
    after, changes = taken(mine, brought(deed(item, "weighed", 4.5, 9)))
    assert placed_of(after)[item]["weighed"]["value"] == 4.5
    assert [one["kind"] for one in changes] == ["conflict"]


def test_an_edit_over_what_was_seen_is_no_conflict() -> None:
    item = next(iter(placed_of(DEMO)))
    mine = edited(DEMO, item, "weighed", 3.0, 5)
    (listed,) = (one for one in list_of(mine)["items"] if one["id"] == item)
    after, changes = taken(mine, brought(deed(item, "weighed", 4.5, 9, over=listed["seen"]["weighed"])))
    assert placed_of(after)[item]["weighed"]["value"] == 4.5
    assert [one["kind"] for one in changes] == ["changed"]


def test_what_was_taken_out_of_the_plan_meanwhile_stays_out_and_is_told() -> None:
    item = next(iter(placed_of(DEMO)))
    mine = copy.deepcopy(DEMO)
    trip = trip_of(mine)
    (load,) = (one for one in trip["loads"] if one["id"] == LOAD)
    load["placed"] = [one for one in load["placed"] if one["item"] != item]
    trip["removed"] = {f"/loads/{LOAD}/placed/{item}": {"at": "2026-11-25T10:20:00Z", "by": "pilot"}}
    after, changes = taken(mine, brought(deed(item, "weighed", 4.5, 2)))
    assert item not in placed_of(after)
    assert [one["kind"] for one in changes] == ["conflict"]


def test_what_is_left_at_home_stays_behind_unless_the_pilot_has_moved_it_since() -> None:
    item = next(name for name, one in placed_of(DEMO).items() if one["bay"] == "hold")
    before = {one["id"]: one["mass"]["value"] for one in list_of(DEMO)["items"]}[item]
    after, changes = taken(DEMO, brought(deed(item, "bay", None, 1)))
    assert not placed_of(after)[item].get("bay")
    assert [one["kind"] for one in changes] == ["removed"]
    assert item not in {one["id"] for one in list_of(after)["items"]}
    free = {bay["id"]: bay["spare_mass"] for bay in list_of(after)["bays"]}
    assert free["hold"] == pytest.approx(
        before + {bay["id"]: bay["spare_mass"] for bay in list_of(DEMO)["bays"]}["hold"]
    )
    moved = edited(DEMO, item, "bay", "locker", 5)
    after, changes = taken(moved, brought(deed(item, "bay", None, 2)))
    assert placed_of(after)[item]["bay"] == "locker", "the later stays"
    assert [one["kind"] for one in changes] == ["conflict"]


def test_left_at_home_it_comes_out_of_its_bag_and_that_is_no_conflict() -> None:
    item, bag = sorted(name for name, one in placed_of(DEMO).items() if one["bay"] == "hold")[:2]
    mine = edited(DEMO, item, "inside", bag, 5)
    (listed,) = (one for one in list_of(mine)["items"] if one["id"] == item)
    assert listed["inside"] == bag
    after, changes = taken(mine, brought(deed(item, "bay", None, 9, over=listed["seen"]["bay"])))
    assert "inside" not in placed_of(after)[item]
    assert not placed_of(after)[item].get("bay")
    assert {one["kind"] for one in changes} == {"removed"}


def test_the_list_says_what_is_never_left_at_home() -> None:
    found = {one["id"]: one.get("must_come", False) for one in list_of(DEMO)["items"]}
    assert found["beacon"]
    assert found["water-one"]
    assert not found["iron-pot"]


ITEMS = sorted(placed_of(DEMO))[:3]
DEEDS = st.lists(
    st.one_of(
        st.tuples(st.sampled_from(ITEMS), st.just("packed"), st.booleans(), st.integers(0, 59)),
        st.tuples(
            st.sampled_from(ITEMS), st.just("weighed"), st.sampled_from([1.0, 2.5, 7.0]), st.integers(0, 59)
        ),
        st.tuples(
            st.sampled_from(ITEMS),
            st.just("bay"),
            st.sampled_from([None, "hold", "locker"]),
            st.integers(0, 59),
        ),
    ),
    max_size=5,
    unique_by=lambda one: (one[0], one[1]),
)
SMALL = {**DEMO, "documents": DEMO["documents"]}


@settings(max_examples=25)
@given(wren=DEEDS, rowan=DEEDS, pilot=DEEDS)
def test_the_order_of_taking_back_does_not_matter_and_nothing_is_lost_unseen(
    wren: list[Any], rowan: list[Any], pilot: list[Any]
) -> None:
    mine = SMALL
    for one in pilot:
        mine = edited(mine, *one)
    messages = [
        brought(*(deed(*one, by=by) for one in deeds)) for by, deeds in (("wren", wren), ("rowan", rowan))
    ]
    ends, told = [], []
    for order in permutations([0, 1]):
        now, said = mine, []
        for index in order:
            now, changes = taken(now, messages[index])
            said += changes
        ends.append(now)
        told.append(said)
    assert trip_of(ends[0]) == trip_of(ends[1])
    for message in messages:
        assert taken(ends[0], message)[0] == ends[0], "twice is once"
    both = [*(("wren", one) for one in wren), *(("rowan", one) for one in rowan)]
    for _, (item, field, value, _minute) in both:
        stands = placed_of(ends[0])[item].get(field)
        stands = stands["value"] if isinstance(stands, dict) else stands
        conflict = [
            one
            for one in told[0]
            if one["kind"] == "conflict" and one["pointer"].endswith(f"/{item}/{field}")
        ]
        assert stands == value or conflict, "an edit that does not stand is told"


@pytest.mark.parametrize(
    ("message", "path"),
    [
        ("", ""),
        ("{}", "/format"),
        ('{"format": "tussock", "documents": []}', "/format"),
        ('{"format": "tussock-brought", "version": 9}', "/version"),
        (brought(deed(ITEMS[0], "weighed", -1.0, 1)), "/deeds/0/weighed"),
        (brought(deed(ITEMS[0], "weighed", 1e9, 1)), "/deeds/0/weighed"),
        (brought(deed(ITEMS[0], "packed", None, 1)), "/deeds/0"),
        (brought(deed(ITEMS[0], "locked", True, 1)), "/deeds/0/field"),
        (brought({**deed(ITEMS[0], "packed", True, 1), "bay": "hold"}), "/deeds/0"),
        (
            brought({**deed(ITEMS[0], "packed", True, 1), "weighed": {"value": 1, "origin": "measured"}}),
            "/deeds/0",
        ),
        (json.dumps({**json.loads(brought()), "trip": "another"}), "/trip"),
        (json.dumps({**json.loads(brought()), "load": "another"}), "/trip"),
        (json.dumps(list_of(DEMO)), "/message"),
        ("[" * 5000, ""),
    ],
)
def test_what_is_no_message_is_refused_with_its_place(message: str, path: str) -> None:
    problem = refused("take_handed", mine=DEMO, message=message)
    assert problem["path"] == path
    assert len(problem["message"]) > 10


def test_both_messages_are_read_back_as_they_were_written() -> None:
    written = list_of(DEMO)
    assert asked("handed", message=json.dumps(written)) == written
    back = brought(deed(ITEMS[0], "packed", True, 1))
    assert asked("handed", message=back) == json.loads(back)
