"""Pack for me on the demo's loads: answered on all six, with reasons and swaps; what keeps alive comes."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from typing import Any

import pytest

from tussock import api
from tussock.demo import demo_bundle
from tussock.packed import pack
from tussock.solver import solve
from tussock.text import say

NOW = "2026-06-10T08:00:00+00:00"
WEEK = "to-windgate-light"
HEAVY = "to-quiet-water"
ROOMY = "to-ridge-camp"
QUESTIONS = ("fits", "balances", "lifts_off", "climbs_out", "reaches", "stops")


@pytest.fixture(scope="module")
def demo() -> dict[str, Any]:
    return demo_bundle(NOW)


def handled(method: str, params: dict[str, Any]) -> Any:
    return json.loads(api.handle(method, json.dumps(params)))


def step(bundle: dict[str, Any], name: str, leg: str, **more: Any) -> Any:
    reply = handled("pack", {"step": name, "bundle": bundle, "leg": leg, "now": NOW} | more)
    assert "result" in reply, reply
    return reply["result"]


def packed(bundle: dict[str, Any], leg: str, *, settle: bool = True) -> dict[str, Any]:
    """As the command does it, and the screen: the first pass until the choice holds, then ties."""
    found = pack(lambda name, **more: step(bundle, name, leg, **more), seconds=10, settle=settle)
    assert found.taken is not None, found.begun["nowhere"]
    assert found.proven
    return found.taken | {"columns": found.columns, "cuts": found.cuts, "begun": found.begun}


def trip_of(bundle: dict[str, Any]) -> dict[str, Any]:
    return next(one for one in bundle["documents"] if one["kind"] == "trip")


def load_of(bundle: dict[str, Any], leg: str) -> dict[str, Any]:
    flown = next(one for one in trip_of(bundle)["legs"] if one["id"] == leg)
    return next(one for one in trip_of(bundle)["loads"] if one["id"] == flown["load"])


def applied(bundle: dict[str, Any], edits: list[dict[str, Any]]) -> dict[str, Any]:
    """The bundle with edits of bays put into it, by another way than the core's."""
    changed = copy.deepcopy(bundle)
    for edit in edits:
        if isinstance(edit["value"], dict):  # a line that the load did not have
            load = edit["pointer"].split("/")[2]
            next(it for it in trip_of(changed)["loads"] if it["id"] == load)["placed"].append(edit["value"])
            continue
        _, _, load, _, item, field = edit["pointer"].split("/")
        assert field == "bay"
        (placed,) = [
            one
            for it in trip_of(changed)["loads"]
            if it["id"] == load
            for one in it["placed"]
            if one["item"] == item
        ]
        placed["bay"] = edit["value"]
    return changed


def with_load(bundle: dict[str, Any], leg: str, change: Callable[[dict[str, Any]], None]) -> dict[str, Any]:
    changed = copy.deepcopy(bundle)
    trip = trip_of(changed)
    name = next(one["load"] for one in trip["legs"] if one["id"] == leg)
    change(next(one for one in trip["loads"] if one["id"] == name))
    return changed


def item_of(bundle: dict[str, Any], name: str) -> dict[str, Any]:
    return next(
        item
        for one in bundle["documents"]
        if one["kind"] == "kit"
        for item in one["items"]
        if item["id"] == name
    )


def verdicts(bundle: dict[str, Any], leg: str) -> dict[str, str]:
    answered = handled("answer", {"bundle": bundle, "leg": leg, "now": NOW})["result"]["legs"][0]
    return {one["question"]: one["verdict"] for one in answered["answers"]}


@pytest.mark.parametrize("leg", [WEEK, HEAVY])
def test_what_did_not_go_is_packed_so_that_it_does(demo: dict[str, Any], leg: str) -> None:
    assert "no" in verdicts(demo, leg).values()
    found = packed(demo, leg)
    assert found["holds"]
    assert found["edits"]
    after = verdicts(applied(demo, found["edits"]), leg)
    assert set(after.values()) <= {"tight", "yes"}
    told = next(one for one in found["legs"] if one["id"] == leg)
    assert {one["question"]: one["verdict"] for one in told["answers"]} == after
    assert tuple(after) == QUESTIONS


def test_bulk_is_what_the_week_of_clothes_breaks(demo: dict[str, Any]) -> None:
    before = verdicts(demo, WEEK)
    assert (before["fits"], before["balances"]) == ("no", "yes")
    found = packed(demo, WEEK)
    stays = [one["item"] for one in found["stays"]]
    assert 0 < len(stays) <= 3
    why = step(demo, "reason", WEEK, columns=found["columns"], item=stays[0])
    assert why["breaks"][0]["text"] == "pack.breaks.bulk"


def test_a_limit_that_bays_share_is_told_by_their_names(demo: dict[str, Any]) -> None:
    changed = copy.deepcopy(demo)
    plane = next(one for one in changed["documents"] if one["id"] == "dabchick")
    (joint,) = plane["joint_limits"]
    joint["mass_limit"]["value"] = 40.0
    found = packed(changed, WEEK, settle=False)
    assert sum(one["mass"] for one in found["comes"]) <= 40.0
    said = step(changed, "reason", WEEK, columns=found["columns"], item=found["stays"][0]["item"])
    shared = next(one for one in said["breaks"] if one["text"] == "pack.breaks.together")
    names = [bay["name"] for bay in plane["bays"] if bay["id"] in joint["stations"]]
    assert say(shared).startswith(" + ".join(names) + " together bear no more: ")


def test_what_less_kit_does_not_turn_says_why(demo: dict[str, Any]) -> None:
    changed = copy.deepcopy(demo)
    leg = next(one for one in trip_of(changed)["legs"] if one["id"] == WEEK)
    next(one for one in changed["documents"] if one["id"] == leg["air_from"]).pop("temperature")
    found = packed(changed, WEEK, settle=False)
    assert not found["holds"]
    told = next(one for one in found["legs"] if one["id"] == WEEK)
    (lifts,) = (one for one in told["answers"] if one["question"] == "lifts_off")
    assert lifts["verdict"] == "can't say"
    assert "temperature" in say(lifts["reason"][0]).lower()


def test_a_strip_limits_the_kit_by_its_answers(demo: dict[str, Any]) -> None:
    """The limit is the take-off's; what was chosen is within it, and with all kit it is a no."""
    begun = step(demo, "begin", HEAVY)
    assert begun["most"]["by"]["question"] == "lifts_off"
    found = packed(demo, HEAVY)
    mass = sum(one["mass"] for one in found["comes"])
    assert mass <= begun["most"]["mass"]
    assert verdicts(demo, HEAVY)["lifts_off"] == "no"
    why = step(demo, "reason", HEAVY, columns=found["columns"], item=found["stays"][0]["item"])
    assert why["breaks"][0]["values"]["what"]["text"] == "question.lifts_off"


def test_why_not_is_answered_by_the_cheapest_swap(demo: dict[str, Any]) -> None:
    found = packed(demo, HEAVY)
    wanted = next(one for one in found["stays"] if one["worth"] > 3)
    why = step(demo, "reason", HEAVY, columns=found["columns"], item=wanted["item"])
    forced = solve(why["model"])
    swap = step(demo, "instead", HEAVY, columns=found["columns"], item=wanted["item"], forced=forced.columns)[
        "swap"
    ]
    assert swap["lost"] >= 0
    assert swap["out"]
    assert wanted["item"] in [one["item"] for one in swap["load"]["comes"]]
    after = verdicts(applied(demo, swap["load"]["edits"]), HEAVY)
    assert set(after.values()) <= {"tight", "yes"}
    names = {one["name"] for one in swap["out"]}
    assert all(name in swap["said"]["values"]["items"] for name in names)


ALWAYS = ("survival-bag", "beacon", "first-aid", "extinguisher", "tie-downs", "oil", "water-one", "water-two")


def test_what_keeps_people_alive_never_stays(demo: dict[str, Any]) -> None:
    """Though it has no worth, and nobody said that it must come."""
    changed = copy.deepcopy(demo)
    for name in ALWAYS:
        item_of(changed, name)["worth"] = 0
        item_of(changed, name).pop("must_come")
    found = packed(changed, HEAVY, settle=False)
    assert set(ALWAYS) <= {one["item"] for one in found["comes"]}


def test_water_beyond_what_people_need_may_stay(demo: dict[str, Any]) -> None:
    changed = copy.deepcopy(demo)
    trip_of(changed)["nights"] = 0
    trip_of(changed)["water_per_day"] = 5.0
    for name in ("water-one", "water-two"):
        item_of(changed, name)["worth"] = 0
        item_of(changed, name).pop("must_come")
    found = packed(changed, HEAVY, settle=False)
    assert len({"water-one", "water-two"} & {one["item"] for one in found["comes"]}) == 1


def test_locked_placements_stay(demo: dict[str, Any]) -> None:
    def lock(load: dict[str, Any]) -> None:
        for one in load["placed"]:
            if one["item"] in ("iron-pot", "stove"):
                one["locked"] = True
            if one["item"] == "stove":
                one["bay"] = None

    found = packed(with_load(demo, WEEK, lock), WEEK)
    bays = {one["item"]: one["bay"] for one in found["comes"]}
    assert bays["iron-pot"] == "hold"
    assert "stove" in {one["item"] for one in found["stays"]}
    why = step(with_load(demo, WEEK, lock), "reason", WEEK, columns=found["columns"], item="stove")
    assert why == {
        "item": "stove",
        "breaks": [{"text": "pack.locked_out", "values": {"item": "Stove"}}],
        "model": None,
    }


def test_what_is_locked_in_a_bay_that_a_leg_leaves_out_is_named_and_never_moved(demo: dict[str, Any]) -> None:
    """Two legs fly with the load, the second without the locker: there is no choice while the lock stands."""
    changed = copy.deepcopy(demo)
    plane = next(one for one in changed["documents"] if one["id"] == "dabchick")
    (flown,) = (one for one in trip_of(changed)["legs"] if one["id"] == ROOMY)
    rig = flown.get("configuration") or trip_of(changed)["configuration"]
    (rigged,) = (one for one in plane["configurations"] if one["id"] == rig)
    bare = {"id": "bare", "name": "Bare", "based_on": rig, "bays_out": ["locker"]}
    plane["configurations"].append(bare | ({"category": rigged["category"]} if "category" in rigged else {}))
    trip_of(changed)["legs"].append(flown | {"id": "again", "configuration": "bare"})
    lines = load_of(changed, ROOMY)["placed"]
    # what has to stay within reach has no other bay
    lines[:] = [one for one in lines if one.get("bay") != "locker"]
    inside = [one for one in lines if one["item"] == "iron-pot"]
    inside[0]["bay"] = "locker"
    begun = step(changed, "begin", ROOMY)
    assert begun["nowhere"] == []
    inside[0]["locked"] = True
    begun = step(changed, "begin", ROOMY)
    (told,) = begun["nowhere"]
    assert (told["item"], told["reason"]["text"]) == (inside[0]["item"], "pack.locked_where_no_bay")
    assert told["reason"]["values"]["bay"] == next(b["name"] for b in plane["bays"] if b["id"] == "locker")
    assert solve(begun["model"]).status == "infeasible"


@pytest.mark.parametrize(("field", "text"), [("mass", "missing.item_mass"), ("size", "missing.item_size")])
def test_what_is_not_known_is_never_packed(demo: dict[str, Any], field: str, text: str) -> None:
    changed = copy.deepcopy(demo)
    item_of(changed, "lantern").pop(field)
    found = packed(changed, HEAVY, settle=False)
    assert "lantern" in {one["item"] for one in found["stays"] if one["nowhere"]}
    why = step(changed, "reason", HEAVY, columns=found["columns"], item="lantern")
    assert why["model"] is None
    assert why["breaks"][0]["text"] == text


def test_what_must_come_and_goes_nowhere_is_named(demo: dict[str, Any]) -> None:
    changed = copy.deepcopy(demo)
    item_of(changed, "tie-downs")["size"] |= {"longest": {"value": 3.0, "origin": "measured"}}
    begun = step(changed, "begin", WEEK)
    assert [one["item"] for one in begun["nowhere"]] == ["tie-downs"]
    assert solve(begun["model"]).status == "infeasible"


def test_all_legs_with_the_load_are_asked(demo: dict[str, Any]) -> None:
    found = packed(demo, "to-saltpan", settle=False)
    assert {one["id"] for one in found["legs"]} == {"to-larkfield", "to-saltpan"}


def test_the_weights_of_a_scale_count(demo: dict[str, Any]) -> None:
    def weigh(load: dict[str, Any]) -> None:
        next(one for one in load["placed"] if one["item"] == "food-three")["weighed"] = {
            "value": 30.0,
            "origin": "measured",
        }

    found = packed(with_load(demo, HEAVY, weigh), HEAVY, settle=False)
    masses = {one["item"]: one["mass"] for one in [*found["comes"], *found["stays"]]}
    assert masses["food-three"] == 30.0


def test_an_aft_limit_is_guarded_by_what_the_weights_may_be_wrong_by(demo: dict[str, Any]) -> None:
    """With the envelope drawn in behind the load, what is chosen keeps clear of its aft edge by the error."""
    changed = copy.deepcopy(demo)
    plane = next(one for one in changed["documents"] if one["id"] == "shelduck")
    for vertex in plane["envelopes"][0]["vertices"]:
        vertex["across"] = min(vertex["across"], _aft_of(demo, HEAVY) - 0.012)
    reply = handled("pack", {"step": "begin", "bundle": changed, "leg": HEAVY, "now": NOW})
    if "error" in reply:
        pytest.fail(str(reply))
    found = packed(changed, HEAVY, settle=False)
    answered = handled("answer", {"bundle": applied(changed, found["edits"]), "leg": HEAVY, "now": NOW})[
        "result"
    ]["legs"][0]["answers"][1]
    states = answered["picture"]["states"]
    limit = max(vertex["across"] for vertex in plane["envelopes"][0]["vertices"])
    assert all(one["arm"] + one["spread"] <= limit + 1e-6 for one in states if one["state"] != "without")
    # not far from it either, or the guard would not have bound
    assert any(one["arm"] + one["spread"] > limit - 0.01 for one in states)


def test_without_room_for_the_guard_the_envelope_is_taken_as_it_is(demo: dict[str, Any]) -> None:
    """An aft limit just behind what must come: guarded there is no choice, else there is."""
    changed = copy.deepcopy(demo)
    trip = trip_of(changed)
    for load in trip["loads"]:
        load["placed"] = [one for one in load["placed"] if one["item"] in ALWAYS]
    for one in (one for load in trip["loads"] for one in load["placed"]):
        one["locked"] = True
    plane = next(one for one in changed["documents"] if one["id"] == "shelduck")
    aft = _aft_of(changed, HEAVY) + 0.0002
    masses = [vertex["mass"] for vertex in plane["envelopes"][0]["vertices"]]
    low, high = min(masses), max(masses)
    plane["envelopes"][0]["vertices"] = [
        {"mass": mass, "across": across}
        for mass, across in ((low, aft - 0.4), (low, aft), (high, aft), (high, aft - 0.4))
    ]
    assert solve(step(changed, "begin", HEAVY)["model"]).status == "infeasible"
    cuts = {"unguarded": True}
    found = solve(step(changed, "begin", HEAVY, cuts=cuts)["model"])
    taken = step(changed, "take", HEAVY, columns=found.columns, cuts=cuts)
    (leg,) = taken["legs"]
    assert {one["question"]: one["verdict"] for one in leg["answers"]}["balances"] == "tight"


def _aft_of(bundle: dict[str, Any], leg: str) -> float:
    answered = handled("answer", {"bundle": bundle, "leg": leg, "now": NOW})["result"]["legs"][0]["answers"][
        1
    ]
    return max(one["arm"] for one in answered["picture"]["states"])


def test_what_showed_not_to_hold_is_cut_off(demo: dict[str, Any]) -> None:
    """A set that does not go into one bay together, and less mass than was thought."""
    found = packed(demo, HEAVY, settle=False)
    floor = [one["item"] for one in found["comes"] if one["bay"] == "floor"]
    cuts = {"never": [{"bay": "floor", "items": floor}], "total": 60.0, "guard": 0.2}
    begun = step(demo, "begin", HEAVY, cuts=cuts)
    other = solve(begun["model"])
    taken = step(demo, "take", HEAVY, columns=other.columns, cuts=cuts)
    assert not set(floor) <= {one["item"] for one in taken["comes"] if one["bay"] == "floor"}
    assert sum(one["mass"] for one in taken["comes"]) <= 60.0
    assert taken["worth"] <= found["worth"]


def test_a_choice_that_a_question_refuses_is_sent_back(demo: dict[str, Any]) -> None:
    """Everything aboard at once, as a solver that errs would have it: told as it is, with what to cut off."""
    begun = step(demo, "begin", WEEK)
    everything = {f"x{item}_1": 1.0 for item in range(begun["items"])}
    taken = step(demo, "take", WEEK, columns=everything)
    assert not taken["holds"]
    assert taken["verdict"] == "no"
    (never,) = [one for one in taken["again"]["never"] if len(one["items"]) > 10]
    assert never["bay"] == "hold"


REFUSED = [
    ({"step": "dance"}, "unknown_name"),
    ({"step": "take"}, "wrong_type"),
    ({"step": "take", "columns": {"x0_0": "much"}}, "wrong_type"),
    ({"step": "begin", "cuts": {"never": 3}}, "wrong_type"),
    ({"step": "reason", "columns": {}, "item": "no-such-thing"}, "unknown_name"),
    ({"step": "begin", "leg": "no-such-leg"}, "unknown_name"),
]


@pytest.mark.parametrize(("params", "code"), REFUSED)
def test_nonsense_is_refused_in_words(demo: dict[str, Any], params: dict[str, Any], code: str) -> None:
    given = {"bundle": demo, "leg": WEEK, "now": NOW} | params
    assert handled("pack", given)["error"]["code"] == code


def test_of_all_kit_what_the_load_does_not_list_comes_too(demo: dict[str, Any]) -> None:
    lines = load_of(demo, ROOMY)["placed"]
    inside = {one["item"] for one in lines if one.get("inside")}  # it goes with its bag
    listed = {one["item"] for one in lines} - inside
    found = pack(lambda name, **more: step(demo, name, ROOMY, **more), seconds=10, everything=True)
    every = {one["id"] for kit in demo["documents"] if kit["kind"] == "kit" for one in kit["items"]}
    told = {one["item"] for one in [*found.taken["comes"], *found.taken["stays"]]}
    assert listed < told == every - inside
    new = {one["item"] for one in found.taken["comes"]} - listed
    assert new
    less = packed(demo, ROOMY)
    assert found.taken["worth"] > less["worth"]
    done = applied(demo, found.taken["edits"])
    rides = {one["item"]: one.get("bay") for one in load_of(done, ROOMY)["placed"]}
    assert {item for item, bay in rides.items() if bay} - inside == {
        one["item"] for one in found.taken["comes"]
    }
    # what stays at home and was not listed is not put on the list
    assert set(rides) == listed | new | inside


def test_no_more_is_packed_onto_a_floor_than_it_bears(demo: dict[str, Any]) -> None:
    changed = copy.deepcopy(demo)
    plane = next(one for one in changed["documents"] if one["id"] == "dabchick")
    (hold,) = (bay for bay in plane["bays"] if bay["id"] == "hold")
    hold["floor_limit"]["value"] = 40.0
    area = hold["length"]["value"] * hold["width"]["value"]
    assert 40.0 * area < hold["restraint"]["rating"]["value"]
    begun = step(changed, "begin", WEEK)
    found = solve(begun["model"], seconds=10)
    taken = step(changed, "take", WEEK, columns=found.columns)
    mass = sum(one["mass"] for one in taken["comes"] if one["bay"] == "hold")
    assert 0.0 < mass <= 40.0 * area + 1e-6


def test_a_swap_that_does_not_hold_is_not_offered_but_another_looked_for(demo: dict[str, Any]) -> None:
    """The table, for both chairs and the tarp: but by its shape it does not go in beside the rest."""
    found = pack(lambda name, **more: step(demo, name, ROOMY, **more), seconds=10, everything=True)
    assert found.taken["holds"]
    given = {"columns": found.columns, "item": "table"}
    cuts, refused = found.cuts, []
    for _ in range(8):
        why = step(demo, "reason", ROOMY, cuts=cuts, **given)
        forced = solve(why["model"], seconds=10)
        said = step(demo, "instead", ROOMY, cuts=cuts, forced=forced.columns, **given)
        if said["again"] is None:
            break
        assert said["swap"] is None
        refused.append(forced.columns)
        cuts = said["again"]
    assert refused
    assert said["swap"]["load"]["holds"]
    assert "table" in {one["item"] for one in said["swap"]["load"]["comes"]}
    done = applied(demo, said["swap"]["load"]["edits"])
    assert set(verdicts(done, ROOMY).values()) <= {"tight", "yes"}
    # what was refused was refused for a reason
    edits = step(demo, "take", ROOMY, cuts=found.cuts, columns=refused[0])["edits"]
    assert verdicts(applied(demo, edits), ROOMY)["fits"] == "no"
