"""Notebooks that tell too little, or of an aeroplane that has changed: no way to a wrong "yes"."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest

from tussock.questions.answer import RANK

from .test_tuned_answers import LEG, answer, ask, demo, document, entries, leg, lengthen


def only(bundle: dict[str, Any], kinds: tuple[str, ...], *without_fields: str) -> dict[str, Any]:
    """An aeroplane of which nothing is known but entries of some kinds, on the surface of the leg."""
    plane, book = document(bundle, "dabchick"), document(bundle, "dabchick-notebook")
    plane["prefer"], plane["performance"] = {}, []
    book["entries"] = [e for e in book["entries"] if e["what"] in kinds and e.get("technique") != "best"]
    for entry in book["entries"]:
        if "surface" in entry:
            entry["surface"] = "earth_dry"
        for name in without_fields:
            entry.pop(name, None)
    return bundle


def test_glides_tell_no_climb():
    bundle = only(demo(), ("glide",))
    book = document(bundle, "dabchick-notebook")
    book["entries"].append(copy.deepcopy(book["entries"][0]) | {"id": "again"})
    assert answer(leg(bundle), "climbs_out")["verdict"] == "can't say"


def test_level_runs_alone_tell_no_climb():
    bundle = only(demo(), ("level",))
    book = document(bundle, "dabchick-notebook")
    book["entries"].append(copy.deepcopy(book["entries"][0]) | {"id": "again"})
    assert answer(leg(bundle), "climbs_out")["verdict"] == "can't say"


def test_rolls_alone_are_not_held_against_a_length():
    told = answer(leg(only(demo(), ("takeoff",), "over_50ft")), "lifts_off")
    assert told["verdict"] == "can't say"
    assert "reason.roll_only" in json.dumps(told)


def test_what_rests_on_the_class_is_no_bare_yes():
    told = answer(leg(only(demo(), ("takeoff",))), "lifts_off")
    assert told["verdict"] in ("tight", "no")


def test_estimated_constants_stay_estimates_with_a_notebook():
    bundle = demo()
    for source in document(bundle, "dabchick")["performance"]:
        if source["source"] == "constants":
            for figure in source.values():
                if isinstance(figure, dict) and "origin" in figure:
                    figure["origin"] = "estimated"
        else:
            source["origin"] = "estimated"
    document(bundle, "dabchick")["performance"] = [
        s for s in document(bundle, "dabchick")["performance"] if s["source"] == "constants"
    ]
    document(bundle, "dabchick")["prefer"] = {}
    assert RANK[answer(leg(bundle, "to-saltpan"), "lifts_off")["verdict"]] <= RANK["tight"]


def test_runs_that_went_worse_than_the_rest_take_the_yes_away():
    def with_runs(*rolls: float) -> dict[str, Any]:
        bundle = demo()
        book = entries(bundle)
        run = next(e for e in book if e["what"] == "takeoff")
        for i, metres in enumerate(rolls):
            one = copy.deepcopy(run) | {"id": f"late{i}", "at": f"2026-11-2{i + 3}T08:00:00+00:00"}
            one.pop("over_50ft", None)
            one["roll"] = {"value": metres, "origin": "measured", "sd": 6.0}
            book.append(one)
        return answer(leg(bundle, "to-saltpan"), "lifts_off")

    assert "gone_worse" not in json.dumps(with_runs(122.0, 118.0, 125.0, 121.0))
    tired = with_runs(122.0, 118.0, 125.0, 121.0, 119.0, 420.0, 430.0)
    texts = json.dumps(tired)
    assert "reason.gone_worse" in texts or "tune.contradicts" in texts or tired["verdict"] == "no"
    assert RANK[tired["verdict"]] <= RANK["can't say"]


def test_a_mass_by_load_is_that_at_the_start_and_of_nothing_later():
    bundle = demo()
    for entry in entries(bundle):
        del entry["mass"]
        entry["load"] = "dabchick-alone"
    left = {one["what"]: one["reason"]["text"] for one in ask("tune", bundle)["left_out"]}
    assert left["landing"] == left["climb"] == "tune.left.mass_burnt"
    assert left.get("takeoff") != "tune.left.mass_burnt"


def test_a_variant_with_nothing_changed_does_no_better_than_the_aeroplane():
    bundle = lengthen(demo(), 1.6)
    before = answer(leg(bundle), "lifts_off")
    made = ask("what_if", bundle, aeroplane="dabchick", id="same", changes={})
    bundle["documents"].append(made["document"])
    flown = next(one for one in document(bundle, "week")["legs"] if one["id"] == LEG)
    flown["aeroplane"] = "same"
    told = leg(bundle)
    assert before["verdict"] == "no"
    for question in ("lifts_off", "stops"):
        assert RANK[answer(told, question)["verdict"]] <= RANK["tight"]


# --- a notebook that bears badly, and what would silence it ----------------------------------------------


def bad_climbs(bundle: dict[str, Any]) -> dict[str, Any]:
    """The notebook tells of a climb that is too little, where the constants promise enough."""
    for entry in entries(bundle):
        if entry["what"] == "climb":
            entry["rate"] = {"value": max(entry["rate"]["value"] - 1.2, 0.05), "origin": "measured"}
    return bundle


def verdicts(bundle: dict[str, Any]) -> dict[str, str]:
    return {one["question"]: one["verdict"] for one in leg(bundle)["answers"]}


def test_a_notebook_is_asked_at_the_speed_of_others_where_the_flap_has_none():
    bundle = bad_climbs(demo())
    assert verdicts(bundle)["climbs_out"] == "no"
    for flap in document(bundle, "dabchick")["flaps"]:
        flap.pop("climb_speed", None)
    assert verdicts(bundle)["climbs_out"] == "no"


@pytest.mark.parametrize("name", ["rated_power", "rated_rotation"])
def test_a_notebook_that_cannot_be_read_for_want_of_a_figure_leaves_no_yes(name):
    bundle = bad_climbs(demo())
    del document(bundle, "dabchick")["engine"][name]
    found = verdicts(bundle)
    for question in ("lifts_off", "climbs_out", "reaches", "stops"):
        assert found[question] in ("no", "can't say")
    assert "tune.lacking" in json.dumps(leg(bundle)["answers"])


def test_a_climb_too_heavy_for_the_notebook_is_no_yes():
    """The owner trusts the constants; the notebook's silence is no good news all the same."""
    bundle = demo()
    assert verdicts(bundle)["climbs_out"] == "yes"
    for entry in entries(bundle):
        if "mass" in entry:
            entry["mass"] = {"value": 0.75 * entry["mass"]["value"], "origin": "measured"}
    assert ask("tune", bundle)["usable"]
    told = answer(leg(bundle), "climbs_out")
    assert told["verdict"] == "can't say"
    assert "reason.outside_seen" in json.dumps(told["reasons"])
