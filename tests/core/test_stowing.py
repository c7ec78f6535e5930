"""What is rigid counts by its place: yes by a way to stow it, no by a proof, else can't say."""

import json
from typing import Any

import pytest

from tussock import api
from tussock.questions import stowing

from . import case
from .case_aeroplane import fig


def box(name: str, *edges: float, **fields: Any) -> dict[str, Any]:
    size = {"shape": "rigid", **dict(zip(("length", "width", "height"), map(fig, edges), strict=True))}
    return {"id": name, "name": name, "mass": fig(0.5), "size": size} | fields


def asked(*boxes: dict[str, Any], **bay: Any) -> dict[str, Any]:
    """The answer to *fits* of the case with these boxes alone in its hold of 0.8 x 0.7 x 0.4 m."""
    documents = case.base()
    hold = documents["plover"]["bays"][0]
    hold.update({"volume": fig(0.224)} | bay)
    documents["camp"]["items"] += boxes
    load = documents[case.TRIP]["loads"][0]
    load["placed"] = [{"item": one["id"], "bay": "hold"} for one in boxes]
    return case.quick(documents)["fits"]


def placing(answer: dict[str, Any]) -> dict[str, Any]:
    return next(m for m in answer["measures"] if m["name"] == "placing")


def word(answer: dict[str, Any]) -> tuple[str, str | None]:
    found = placing(answer)
    return found["verdict"], found["reason"] and found["reason"]["text"]


def test_what_is_placed_is_as_before():
    answer = asked(box("pot", 0.3, 0.3, 0.2), box("stove", 0.3, 0.2, 0.1))
    assert word(answer) == ("yes", None)
    assert answer["verdict"] == "yes"
    assert placing(answer)["needed"] == placing(answer)["available"] == 2
    assert not case.measure(asked(), "placing")


def test_litres_and_edges_alone_would_have_said_yes():
    """Each goes in by itself, and by litres they take a quarter of the bay; together they cannot."""
    long_ones = [box(name, 0.45, 0.42, 0.25, upright=True) for name in ("chest", "trunk")]
    answer = asked(*long_ones)
    assert {m["verdict"] for m in answer["measures"] if m["name"] == "bay_volume"} <= {"yes", "tight"}
    assert answer["verdict"] == "no"
    assert word(answer) == ("no", "reason.placing.pair")
    assert placing(answer)["reason"]["values"] == {"one": "chest", "two": "trunk", "bay": "Hold"}


def test_a_search_that_gives_up_is_no_proof_and_no_yes():
    # a pole that would have to be turned while it is inside
    answer = asked(box("board", 0.05, 0.55, 0.35), length=fig(0.3), volume=fig(0.084))
    assert word(answer) == ("yes", None)
    turned = asked(box("pole", 0.62, 0.1, 0.1), length=fig(0.3), volume=fig(0.084))
    assert word(turned) == ("can't say", "reason.placing.not_found")
    assert turned["verdict"] == "can't say"
    assert placing(turned)["reason"]["values"]["items"] == "pole"


def test_a_bay_of_less_than_its_edges_is_tight_where_only_those_hold_it():
    boxes = [box(name, 0.38, 0.34, 0.38) for name in "abcd"]
    assert word(asked(*boxes, door={"width": fig(0.7), "height": fig(0.4), "face": "rear"}))[0] == "yes"
    answer = asked(*boxes, volume=fig(0.2), door={"width": fig(0.7), "height": fig(0.4), "face": "rear"})
    assert word(answer) == ("tight", "reason.placing.sloping")


def test_within_reach_is_not_behind_others():
    boxes = [box(name, 0.38, 0.65, 0.38, stays_accessible=True) for name in "ab"]
    wide = {"width": fig(0.7), "height": fig(0.4), "face": "rear"}
    assert word(asked(*boxes, door=wide)) == ("tight", "reason.placing.buried")
    boxes[0]["stays_accessible"] = False
    assert word(asked(*boxes, door=wide)) == ("yes", None)


def test_the_side_of_the_door_is_asked_for_where_it_decides():
    door = {"width": fig(0.7), "height": fig(0.3)}
    flat, tall = box("flat", 0.6, 0.3, 0.1), box("tall", 0.25, 0.6, 0.35, upright=True)
    anywhere = asked(flat, door=door)
    assert word(anywhere)[0] == "yes"
    assert "assumed.door_any_side" in case.texts(anywhere["assumptions"])
    assert word(asked(box("bin", 0.2, 0.2, 0.38, upright=True), door=door | {"face": "top"}))[0] == "yes"
    assert asked(tall, door=door | {"face": "left"})["verdict"] == "no"
    decides = asked(box("rod", 0.66, 0.28, 0.28), door=door)
    assert word(decides)[0] in ("yes", "can't say")


def test_a_bay_is_packed_once_until_it_changes():
    stowing._stowed.cache_clear()
    asked(box("pot", 0.3, 0.3, 0.2))
    asked(box("pot", 0.3, 0.3, 0.2))
    told = stowing._stowed.cache_info()
    assert (told.misses, told.hits) == (1, 1)


@pytest.mark.parametrize("missing", ["length", "width", "height", "door"])
def test_nothing_is_placed_in_a_bay_that_is_not_known(missing):
    documents = case.base()
    documents["plover"]["bays"][0].pop(missing)
    answer = case.quick(documents)["fits"]
    assert answer["verdict"] == "can't say"
    assert case.measure(answer, "placing") is None


def test_the_api_shows_each_bay_in_the_order_of_loading():
    documents = case.base()
    documents["camp"]["items"].append(box("pot", 0.3, 0.3, 0.2))
    load = documents[case.TRIP]["loads"][0]
    load["placed"].append({"item": "pot", "bay": "hold"})
    asked_for = {"documents": list(documents.values()), "trip": case.TRIP, "leg": case.LEG, "now": case.NOW}
    (bay,) = json.loads(api.handle("stowing", json.dumps(asked_for)))["result"]["bays"]
    assert (bay["id"], bay["outcome"], bay["face"]) == ("hold", "placed", "rear")
    assert {step["id"] for step in bay["steps"]} == {one["item"] for one in load["placed"]}
    rigid = [step for step in bay["steps"] if step["corner"]]
    soft = [step for step in bay["steps"] if not step["corner"]]
    assert "pot" in {step["id"] for step in rigid}
    assert all(step["route"][-1] == step["corner"] for step in rigid)
    # soft things raise the level, one after the other, and stay below the roof
    levels = [step["level"] for step in bay["steps"]]
    assert levels == sorted(levels)
    assert 0.0 < levels[-1] <= bay["edges"][2]
    assert bay["over"] is False
    assert soft
    kept = [step["stays_accessible"] for step in bay["steps"]]
    assert kept == sorted(kept)


def test_the_floor_bears_what_lies_on_a_box_too():
    """Each box alone leaves the floor alone; there is no place but on each other."""
    for mass, verdict in ((5.0, "yes"), (14.0, "tight")):
        documents = case.base()
        edges = {"length": fig(0.45), "width": fig(0.40), "volume": fig(0.072), "floor_limit": fig(160.0)}
        documents["plover"]["bays"][0] |= edges
        boxes = [box(name, 0.42, 0.36, 0.15, mass=fig(mass), upright=True) for name in ("one", "two")]
        documents["camp"]["items"] = boxes
        documents[case.TRIP]["loads"][0]["placed"] = [{"item": one["id"], "bay": "hold"} for one in boxes]
        answer = case.answers(documents)["fits"]
        assert answer["verdict"] == verdict
        assert all(m["verdict"] == "yes" for m in answer["measures"] if m["name"] == "floor")
        assert ("reason.placing.stacked" in case.reasons(answer)) == (verdict == "tight")
