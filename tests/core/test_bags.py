"""Things inside other things: weighed as sums or whole, the bulk of a bag, and nothing in it forgotten."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock.api import handle
from tussock.documents.kit import Item
from tussock.documents.trip import Load
from tussock.questions.aboard import things_of

from . import case
from .case import fig, measure
from .test_remedies import applied, of_kind, remedies


def soft(litres: float, crush: float = 0.0) -> dict[str, Any]:
    return {"shape": "soft", "volume": fig(litres / 1000.0), "crush": crush}


def box(length: float, width: float, height: float) -> dict[str, Any]:
    return {"shape": "rigid", "length": fig(length), "width": fig(width), "height": fig(height)}


def bagged(size: Any = None, *, into: tuple[str, ...] = ("tent", "box"), **fields: Any) -> case.Documents:
    """The case with a duffel bag of 1 kg in the hold, and some of its things in that."""
    documents = case.base()
    size = soft(60.0, 0.2) if size is None else size
    duffel = {"id": "duffel", "name": "Duffel", "mass": fig(1.0), "size": size, "worth": 1} | fields
    documents["camp"]["items"].append({k: v for k, v in duffel.items() if v is not None})
    placed = documents[case.TRIP]["loads"][0]["placed"]
    placed.append({"item": "duffel", "bay": "hold"})
    for one in placed:
        if one["item"] in into:
            one["inside"] = "duffel"
    return documents


def item(documents: case.Documents, name: str) -> dict[str, Any]:
    found: dict[str, Any] = case.element(documents["camp"]["items"], name)
    return found


def line(documents: case.Documents, name: str) -> dict[str, Any]:
    found: dict[str, Any] = case.element(documents[case.TRIP]["loads"][0]["placed"], name)
    return found


def mass_of(documents: case.Documents) -> float | None:
    found = measure(case.answers(documents)["balances"], "bay_mass")
    return found["needed"] if found else None


# --- what it weighs --------------------------------------------------------------------------------------


def test_a_bag_weighs_what_it_is_and_what_is_in_it() -> None:
    assert mass_of(bagged()) == pytest.approx(1.0 + 6.2 + 5.0 + 4.0)
    assert case.verdicts(bagged())["balances"] == "yes"


def test_a_bag_weighed_whole_weighs_what_the_scale_said() -> None:
    documents = bagged()
    line(documents, "duffel")["weighed"] = fig(13.5) | {"holding": ["tent", "box"]}
    del item(documents, "box")["mass"], item(documents, "duffel")["mass"]
    assert mass_of(documents) == pytest.approx(13.5 + 4.0)
    assert case.verdicts(documents)["balances"] == "yes"


def test_what_has_no_mass_in_a_bag_that_was_not_weighed_is_missing() -> None:
    documents = bagged()
    del item(documents, "box")["mass"]
    answer = case.answers(documents)["balances"]
    assert answer["verdict"] == "can't say"
    assert {"text": "missing.item_mass", "values": {"item": "Box"}} in answer["reasons"]
    # the bag alone on the scale says nothing of what is in it now
    line(documents, "duffel")["weighed"] = fig(13.5)
    assert case.verdicts(documents)["balances"] == "can't say"


def test_what_went_in_since_counts_on_top_and_what_came_out_off() -> None:
    documents = bagged()
    line(documents, "duffel")["weighed"] = fig(13.5) | {"holding": ["tent"]}
    assert mass_of(documents) == pytest.approx(13.5 + 5.0 + 4.0)
    line(documents, "duffel")["weighed"]["holding"] = ["tent", "box", "survival"]
    assert mass_of(documents) == pytest.approx(13.5 - 4.0 + 4.0)
    del item(documents, "survival")["mass"]
    line(documents, "survival")["bay"] = None
    # what came out has no mass: the sum of what is in it then
    assert mass_of(documents) == pytest.approx(1.0 + 6.2 + 5.0)
    del item(documents, "box")["mass"]
    assert case.verdicts(documents)["balances"] == "can't say"


def nested(whole: tuple[float, list[str]], inner: tuple[float, list[str]]) -> case.Documents:
    """A pot with the box in it lies in the duffel, with the tent; both were on the scale."""
    documents = bagged(into=("tent",))
    pot = {"id": "pot", "name": "Pot", "mass": fig(1.0), "size": soft(15.0), "worth": 1}
    documents["camp"]["items"].append(pot)
    documents[case.TRIP]["loads"][0]["placed"].append({"item": "pot", "inside": "duffel"})
    line(documents, "box")["inside"] = "pot"
    for name, (value, holding) in (("duffel", whole), ("pot", inner)):
        line(documents, name)["weighed"] = fig(value) | {"holding": holding}
    return documents


@pytest.mark.parametrize(
    ("whole", "inner", "mass"),
    [
        # the pot came in since, with what the scale said of it
        ((8.0, ["tent"]), (12.0, ["box"]), 20.0),
        # the pot was in when it was empty, and has been on the scale with the box since
        ((9.0, ["tent", "pot"]), (12.0, ["box"]), 9.0 - 1.0 + 12.0),
        # the box was in, loose; it went into a pot that came
        ((13.0, ["tent", "box"]), (12.0, ["box"]), 13.0 - 5.0 + 12.0),
        # all of it was on the scale together
        ((20.0, ["tent", "pot", "box"]), (12.0, ["box"]), 20.0),
        # a whole that is lighter than what is in it: the tent of 6.2 kg and the pot of 12 kg
        ((8.0, ["tent", "pot", "box"]), (12.0, ["box"]), 18.2),
    ],
)
def test_a_whole_inside_a_whole_weighs_what_its_scale_said(whole: Any, inner: Any, mass: float) -> None:
    assert mass_of(nested(whole, inner)) == pytest.approx(mass + 4.0)


def test_a_bag_left_behind_takes_along_nothing_that_is_in_it() -> None:
    documents = bagged()
    line(documents, "duffel")["bay"] = None
    assert mass_of(documents) == pytest.approx(4.0)
    before = measure(case.answers(case.base())["fits"], "bay_volume")["needed"]
    assert measure(case.answers(documents)["fits"], "bay_volume")["needed"] < before / 2


@pytest.mark.parametrize("inside", ["duffel", "nowhere", "box"])
def test_inside_nothing_that_is_here_is_no_yes(inside: str) -> None:
    """In a bag that is not on the load, in an unknown one, or in itself."""
    documents = case.base()
    if inside == "duffel":
        documents = bagged(into=())
        placed = documents[case.TRIP]["loads"][0]["placed"]
        placed.remove(line(documents, "duffel"))
    line(documents, "box")["inside"] = inside
    found = case.answers(documents)
    for question in ("fits", "balances"):
        assert found[question]["verdict"] == "can't say"
        assert "missing.bag" in case.reasons(found[question])
    assert found["lifts_off"]["verdict"] == "can't say"


def test_two_bags_inside_each_other_are_no_yes() -> None:
    documents = bagged(into=("box",))
    line(documents, "duffel")["inside"] = "box"
    assert case.verdicts(documents)["balances"] == case.verdicts(documents)["fits"] == "can't say"


KITS = st.lists(st.tuples(st.floats(0.1, 20.0), st.integers(-1, 7)), min_size=1, max_size=8)


@given(KITS, st.data())
@settings(max_examples=150, deadline=None)
def test_however_things_are_packed_into_each_other_none_is_lost_or_counted_twice(kit: Any, data: Any) -> None:
    """Masses against their plain sum; each thing lies in one other at most, of those before it."""
    items = {
        f"i{n}": Item.model_validate({"id": f"i{n}", "name": f"I{n}", "mass": fig(mass)})
        for n, (mass, _) in enumerate(kit)
    }
    placed: list[dict[str, Any]] = []
    for n, (_, into) in enumerate(kit):
        one: dict[str, Any] = {"item": f"i{n}", "bay": "hold"}
        if 0 <= into < n:
            one["inside"] = f"i{into}"
        placed.append(one)
    load = Load.model_validate({"id": "l", "name": "L", "placed": data.draw(st.permutations(placed))})
    things, bagless = things_of(load, items, lambda figure: 0.1 * figure.value)
    assert not bagless
    assert sorted(part.item.id for thing in things for part in thing.parts) == sorted(items)
    assert sum(thing.mass or 0.0 for thing in things) == pytest.approx(sum(mass for mass, _ in kit))
    variance = sum((0.1 * mass) ** 2 for mass, _ in kit)
    assert sum(thing.sd**2 for thing in things) == pytest.approx(variance)


# --- whether it fits -------------------------------------------------------------------------------------


def volume(documents: case.Documents) -> float:
    found: float = measure(case.answers(documents)["fits"], "bay_volume")["needed"]
    return found


BOX, TENT, SURVIVAL = 0.4 * 0.3 * 0.25, 0.020 * 0.9, 0.012


@pytest.mark.parametrize(
    ("size", "taken"),
    [
        # the bag is as large as it is, squashed, though what is in it is smaller
        (soft(80.0, 0.2), BOX + (0.064 - BOX + SURVIVAL) / 0.8),
        # squashed as far as what is in it allows
        (soft(50.0, 0.9), BOX + (TENT + SURVIVAL) / 0.8),
        # nothing but cloth: what is in it
        (False, BOX + (TENT + SURVIVAL) / 0.8),
        # a trunk is what it is
        (box(0.7, 0.5, 0.35), 0.7 * 0.5 * 0.35 + SURVIVAL / 0.8),
    ],
)
def test_a_bag_takes_its_own_litres_or_those_of_what_is_in_it(size: Any, taken: float) -> None:
    documents = bagged(size)
    if size is False:
        del item(documents, "duffel")["size"]
    assert volume(documents) == pytest.approx(taken)


def test_a_bag_of_unknown_size_is_no_bare_yes() -> None:
    """Taken for cloth it is as large as what is in it; a trunk would be larger."""
    documents = bagged()
    assert case.verdicts(documents)["fits"] == "yes"
    del item(documents, "duffel")["size"]
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "tight"
    assert "figure.item_size" in case.texts(answer["reasons"])


def test_a_bag_holds_no_more_than_its_litres() -> None:
    answer = case.answers(bagged(soft(40.0)))["fits"]
    assert answer["verdict"] == "no"
    found = measure(answer, "inside")
    assert found["needed"] == pytest.approx(BOX + TENT)
    assert found["available"] == pytest.approx(0.040)


def test_a_trunk_takes_nothing_that_is_longer_than_it() -> None:
    """As many litres as it likes: 0.4 m do not go into 0.35 m."""
    answer = case.answers(bagged(box(0.35, 0.35, 0.35), into=("box",)))["fits"]
    assert answer["verdict"] == "no"
    assert measure(answer, "inside")["reason"]["values"] == {"item": "Box", "bay": "Duffel"}
    assert case.verdicts(bagged(box(0.45, 0.35, 0.30), into=("box",)))["fits"] == "yes"


def trunk(pot: tuple[float, float, float], thing: tuple[float, float, float]) -> case.Documents:
    """A trunk in the hold with two boxes in it, each of which goes in alone; litres to spare."""
    documents = bagged(box(0.45, 0.45, 0.38), into=("box",))
    documents["plover"]["bays"][0]["volume"] = fig(0.22)
    item(documents, "box")["size"] = box(*thing)
    more = {"id": "pot", "name": "Pot", "mass": fig(1.0), "size": box(*pot), "worth": 1}
    documents["camp"]["items"].append(more)
    documents[case.TRIP]["loads"][0]["placed"].append({"item": "pot", "inside": "duffel"})
    return documents


@pytest.mark.parametrize(
    ("pot", "thing", "verdict"),
    [
        ((0.3, 0.3, 0.3), (0.3, 0.3, 0.3), "no"),
        ((0.44, 0.44, 0.1), (0.3, 0.3, 0.3), "no"),
        ((0.44, 0.44, 0.05), (0.3, 0.3, 0.3), "yes"),
        ((0.45, 0.22, 0.38), (0.45, 0.23, 0.38), "yes"),
    ],
)
def test_what_goes_into_a_trunk_one_by_one_must_go_in_together(pot: Any, thing: Any, verdict: str) -> None:
    answer = case.answers(trunk(pot, thing))["fits"]
    assert answer["verdict"] == verdict
    assert ("reason.placing.pair" in case.reasons(answer)) == (verdict == "no")


@pytest.mark.parametrize(("longest", "verdict"), [(0.44, "yes"), (0.50, "tight"), (0.90, "no")])
def test_a_pole_goes_into_a_trunk_that_is_as_long(longest: float, verdict: str) -> None:
    for into in ("duffel", "sack"):
        documents = bagged(box(0.45, 0.40, 0.35), into=("tent",))
        documents["plover"]["bays"][0]["volume"] = fig(0.22)
        sack = {"id": "sack", "name": "Sack", "mass": fig(0.1), "size": soft(25.0), "worth": 1}
        documents["camp"]["items"].append(sack)
        documents[case.TRIP]["loads"][0]["placed"].append({"item": "sack", "inside": "duffel"})
        line(documents, "tent")["inside"] = into
        item(documents, "tent")["size"] |= {"longest": fig(longest)}
        assert case.verdicts(documents)["fits"] == verdict


@pytest.mark.parametrize(
    ("filled", "verdict"), [(0.84, "yes"), (0.86, "tight"), (0.99, "tight"), (1.01, "no")]
)
def test_a_trunk_full_of_soft_things_to_the_brim_is_tight(filled: float, verdict: str) -> None:
    height = TENT / filled / (0.6 * 0.3)
    documents = bagged(box(0.6, 0.3, height), into=("tent",))
    documents["plover"]["bays"][0] |= {"volume": fig(0.60), "floor_limit": fig(400.0)}
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == verdict
    assert ("reason.trunk_air" in case.reasons(answer)) == (verdict == "tight")


@pytest.mark.parametrize("size", [soft(60.0), box(0.7, 0.5, 0.35)])
def test_what_has_no_size_in_a_bag_is_missing(size: Any) -> None:
    documents = bagged(size)
    del item(documents, "box")["size"]
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "can't say"
    assert {"text": "missing.item_size", "values": {"item": "Box"}} in answer["reasons"]


@pytest.mark.parametrize(
    ("fields", "reason"),
    [
        ({"not_bays": ["hold"]}, "reason.not_bay"),
        ({"must_bays": ["elsewhere"]}, "reason.must_bay"),
        ({"stays_accessible": True}, "reason.not_accessible"),
    ],
)
def test_what_a_thing_must_have_it_must_have_in_a_bag(fields: Any, reason: str) -> None:
    documents = bagged()
    case.put(documents, "/plover/bays/hold/accessible_in_flight", False)
    assert case.verdicts(documents)["fits"] == "yes"
    item(documents, "box").update(fields)
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "no"
    assert reason in case.reasons(answer)


def test_what_is_rigid_in_a_bag_goes_through_the_door_and_onto_the_floor_as_it_is() -> None:
    documents = bagged()
    case.put(documents, "/plover/bays/hold/door/width", fig(0.2))
    assert "reason.door" in case.reasons(case.answers(documents)["fits"])
    documents = bagged()
    item(documents, "box")["mass"] = fig(20.0)  # on 0.3 by 0.25 m
    assert case.answers(documents)["fits"]["verdict"] == "no"
    assert measure(case.answers(documents)["fits"], "floor")["needed"] == pytest.approx(20.0 / 0.075)


def test_a_trunk_bears_on_the_floor_with_all_that_is_in_it() -> None:
    documents = bagged(box(0.45, 0.35, 0.30), into=("box",))
    found = measure(case.answers(documents)["fits"], "floor")
    assert found["needed"] == pytest.approx(6.0 / (0.35 * 0.30))


def test_a_long_pole_in_a_bag_is_as_long() -> None:
    documents = bagged()
    item(documents, "tent")["size"]["longest"] = fig(1.2)
    assert measure(case.answers(documents)["fits"], "longest")["needed"] == pytest.approx(1.2)
    assert case.verdicts(documents)["fits"] == "no"


def stowed(documents: case.Documents) -> dict[str, Any]:
    found = case.ask("stowing", documents, leg=case.LEG)["result"]["bays"][0]
    assert isinstance(found, dict)
    return found


def test_rigid_things_in_a_bag_are_placed_and_those_in_a_trunk_ride_in_it() -> None:
    boxes = {one["id"]: one["in"] for one in stowed(bagged())["steps"] if one["corner"]}
    assert boxes == {"box": "Duffel"}
    steps = {one["id"]: one for one in stowed(bagged(box(0.45, 0.35, 0.30), into=("box",)))["steps"]}
    assert steps["duffel"]["corner"] is not None
    assert steps["duffel"]["with"] == ["Box"]
    assert "box" not in steps


def test_what_must_stand_keeps_its_trunk_upright() -> None:
    """A trunk that goes in on its side alone does not with something in it that must stand."""
    size = box(0.35, 0.30, 0.45)  # the bay is 0.40 m high
    documents = bagged(size, into=("box",))
    assert case.verdicts(documents)["fits"] == "yes"
    item(documents, "box")["upright"] = True
    assert case.verdicts(documents)["fits"] == "no"


# --- what is given up, handed over, packed ---------------------------------------------------------------


def pointers(found: list[dict[str, Any]]) -> list[set[str]]:
    return [{edit["pointer"].split("/placed/")[-1] for edit in one["edits"]} for one in found]


def test_a_bag_with_what_keeps_alive_in_it_is_never_left_but_other_things_of_it_are() -> None:
    documents = bagged(into=("tent", "box", "survival"))
    item(documents, "duffel")["size"] = soft(80.0, 0.5)
    case.put(documents, "/plover/bays/hold/mass_limit", fig(14.0))
    found = pointers(of_kind(remedies(documents), "mass"))
    assert {"box/bay", "box/inside"} in found
    assert not any(one.startswith(("duffel", "survival")) for names in found for one in names)
    line(documents, "survival").pop("inside")
    case.put(documents, "/plover/bays/hold/mass_limit", fig(5.0))
    found = pointers(of_kind(remedies(documents), "mass"))
    assert {"duffel/bay"} in found


def test_a_bag_is_packed_whole() -> None:
    documents = bagged()
    given = {"documents": list(documents.values()), "trip": case.TRIP, "leg": case.LEG, "now": case.NOW}
    begun = json.loads(handle("pack", json.dumps(given | {"step": "begin"})))["result"]
    assert begun["items"] == 2  # the duffel and the survival bag
    assert begun["worth"] == 1 + 6 + 3 + 5


def test_a_bag_goes_to_the_passenger_with_what_is_in_it_and_comes_back_weighed_whole() -> None:
    documents = bagged()
    listed = case.ask("hand_over", documents, leg=case.LEG)["result"]
    by_id = {one["id"]: one for one in listed["items"]}
    assert by_id["box"]["inside"] == by_id["tent"]["inside"] == "duffel"
    assert by_id["duffel"]["mass"]["value"] == pytest.approx(12.2)
    assert by_id["box"]["mass"]["value"] == pytest.approx(5.0)
    assert {one["bay"] for one in listed["items"]} == {"hold"}
    stamp = {"at": "2026-05-20T09:50:00+02:00", "by": "lark"}
    weighed = fig(14.0) | {"origin": "measured", "holding": ["tent", "box"]}
    message = {"format": "tussock-brought", "version": 1, "trip": case.TRIP, "load": "camping", "name": "x"}
    message["deeds"] = [{"item": "duffel", "field": "weighed", "weighed": weighed, "stamp": stamp}]
    mine = {"format": "tussock", "version": 1, "documents": list(documents.values())}
    reply = json.loads(handle("take_handed", json.dumps({"mine": mine, "message": json.dumps(message)})))
    (trip,) = reply["result"]["documents"]
    documents[case.TRIP] = trip
    assert mass_of(documents) == pytest.approx(14.0 + 4.0)


def test_what_a_bag_does_not_hold_is_taken_out_of_it() -> None:
    """The tent (18 L) and the box (30 L) in 40 L; beside the bag there is room."""
    documents = bagged(soft(40.0))
    case.put(documents, "/plover/bays/hold/volume", fig(0.3))
    (found,) = of_kind(remedies(documents), "move")
    assert found["change"] == {
        "text": "remedy.take_out",
        "values": {"items": "Box", "mass": 5.0, "bag": "Duffel"},
    }
    assert "fits" in found["turns"]
    assert pointers([found]) == [{"box/bay", "box/inside"}]
    assert case.verdicts(applied(documents, found["edits"]))["fits"] == "yes"


def test_one_thing_of_a_bag_is_left_sooner_than_all_of_it() -> None:
    documents = bagged()
    case.put(documents, "/plover/bays/hold/mass_limit", fig(14.0))  # 16.2 kg are in it
    found = of_kind(remedies(documents), "mass")
    assert {"box/bay", "box/inside"} in pointers(found)
    best = applied(documents, found[0]["edits"])
    assert case.verdicts(best)["balances"] in ("tight", "yes")
    assert not line(best, "box").get("bay")
