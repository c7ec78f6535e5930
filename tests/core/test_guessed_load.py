"""A guess close to a limit is no bare yes, nor is what nobody weighed: limits of places, one by one."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tussock.questions.answer import judge

from . import case
from .case import fig, measure
from .test_bags import item


def pressed(documents: case.Documents, name: str, part: float) -> dict[str, Any]:
    """The measure of that name, where `part` of its limit is used up."""
    hold, plane = documents["plover"]["bays"][0], documents["plover"]
    plane["joint_limits"][0]["mass_limit"] = fig(1000.0)
    box = item(documents, "box")["mass"]["value"]
    inside = 6.2 + 4.0 + box
    if name == "seat_mass":
        plane["seats"][1]["mass_limit"] = fig(70.0 / part)
    elif name == "bay_mass":
        hold["mass_limit"] = fig(inside / part)
    elif name == "joint_mass":
        plane["joint_limits"][0]["mass_limit"] = fig((inside + 70.0) / part)
    elif name == "restraint":
        hold["restraint"]["rating"] = fig(inside / part)
    elif name == "held":
        item(documents, "box").update(held_by="strap", held_rating=fig(box / part))
    elif name == "floor":
        hold["floor_limit"] = fig(box / 0.3 / 0.25 / part)
    elif name == "floor_whole":
        hold["floor_limit"] = fig(inside / 0.8 / 0.7 / part)
    question = "balances" if name.endswith("_mass") else "fits"
    answer = case.answers(documents)[question]
    found = [one for one in answer["measures"] if one["name"] == name]
    told: dict[str, Any] = max(found, key=lambda one: one["needed"] / one["available"])
    return told


LIMITS = ["seat_mass", "bay_mass", "joint_mass", "restraint", "held", "floor", "floor_whole"]


@pytest.mark.parametrize("name", LIMITS)
def test_a_guess_close_to_a_limit_is_no_yes(name: str) -> None:
    for origin, part, verdict in (
        ("measured", 0.95, "yes"),
        ("estimated", 0.95, "tight"),
        ("estimated", 0.80, "yes"),
    ):
        documents = case.base()
        item(documents, "box")["mass"] = fig(14.0, origin)
        documents["lark"]["mass"] = fig(70.0, origin)
        assert pressed(documents, name, part)["verdict"] == verdict


@pytest.mark.parametrize("name", ["restraint", "floor", "floor_whole"])
def test_what_nobody_weighed_is_held_by_nothing_that_is_known(name: str) -> None:
    documents = case.base()
    del item(documents, "box")["mass"]
    if name == "restraint":
        del documents["plover"]["bays"][0]["floor_limit"]
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "can't say"
    assert measure(answer, name)["reason"] == {"text": "missing.item_mass", "values": {"item": "Box"}}


def test_the_floor_bears_soft_things_too() -> None:
    """15.2 kg on 0.8 by 0.7 m: 27 kg/m². Without its edges nobody knows; with no limit none is applied."""
    documents = case.base()
    hold = documents["plover"]["bays"][0]
    item(documents, "box")["size"] = {"shape": "soft", "volume": fig(0.03)}
    for limit, verdict in ((28.0, "yes"), (27.0, "no"), (10.0, "no")):
        hold["floor_limit"] = fig(limit)
        answer = case.answers(documents)["fits"]
        assert answer["verdict"] == verdict
        assert measure(answer, "floor_whole")["needed"] == pytest.approx(15.2 / 0.56)
    del hold["length"]
    assert case.answers(documents)["fits"]["verdict"] == "can't say"
    del hold["floor_limit"]
    assert case.answers(documents)["fits"]["verdict"] == "yes"


def test_guessed_litres_close_to_the_bay_are_no_yes() -> None:
    """58 l of tent, squashed by a tenth and with air round it, leave 20 l; a guess may be 21 off."""
    for litres, origin, verdict in (
        (0.058, "measured", "yes"),
        (0.058, "estimated", "tight"),
        (0.030, "estimated", "yes"),
    ):
        documents = case.base()
        documents["plover"]["bays"][0]["volume"] = fig(0.13)
        item(documents, "tent")["size"]["volume"] = fig(litres, origin)
        assert case.verdicts(documents)["fits"] == verdict


@pytest.mark.parametrize(("name", "edge"), [("box", "height"), ("tent", "longest")])
def test_a_guessed_edge_is_no_yes(name: str, edge: str) -> None:
    documents = case.base()
    item(documents, name)["size"][edge]["origin"] = "estimated"
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "tight"
    assert "figure.item_size" in case.texts(answer["reasons"])


def test_a_guessed_height_close_to_the_roof_is_no_yes() -> None:
    for height, origin, verdict in (
        (1.83, "measured", "yes"),
        (1.83, "estimated", "tight"),
        (1.79, "estimated", "yes"),
    ):
        documents = case.base()
        documents["lark"]["height"] = fig(height, origin)
        assert case.verdicts(documents)["fits"] == verdict


def test_what_never_ends_is_not_held_against_what_never_ends() -> None:
    assert judge(math.inf, math.inf, 0.0) == "can't say"
    assert judge(-math.inf, -math.inf, 0.0) == "can't say"
    assert judge(math.inf, 1.0, 0.0) == "no"
    assert judge(-math.inf, 1.0, 0.0) == "yes"


RUNS = ("lifts_off", "climbs_out", "stops")


def test_a_guessed_person_leaves_no_bare_yes_to_what_rests_on_the_mass() -> None:
    documents = case.base("known")
    documents["lark"]["mass"]["origin"] = "estimated"
    found = case.verdicts(documents)
    assert {name: found[name] for name in RUNS} == dict.fromkeys(RUNS, "tight")
    assert found["fits"] == "yes"


def test_kit_counts_as_guessed_where_the_guesses_are_much_of_the_mass() -> None:
    """2 % of 600 kg are 12 kg. A bag weighed whole is no guess, whatever is in it."""
    documents = case.base("known")
    box = next(one for one in documents["camp"]["items"] if one["id"] == "box")
    box["mass"] = case.fig(11.0) | {"origin": "estimated"}
    assert {case.verdicts(documents)[name] for name in RUNS} == {"yes"}
    box["mass"]["value"] = 13.0
    assert {case.verdicts(documents)[name] for name in RUNS} == {"tight"}
    lines = {one["item"]: one for one in documents[case.TRIP]["loads"][0]["placed"]}
    lines["box"]["inside"] = "survival"
    lines["survival"]["weighed"] = case.fig(17.0) | {"holding": ["box"]}
    answers = case.answers(documents)
    assert all("figure.kit_mass" not in str(answers[name]) for name in RUNS)
