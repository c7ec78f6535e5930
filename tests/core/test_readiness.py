"""What an aeroplane can answer: never "ready" while something of it is missing, and where that belongs."""

from __future__ import annotations

import copy
import json
import re
from itertools import pairwise
from typing import Any, get_args

import pytest

from tussock.api import handle
from tussock.documents import Aeroplane, read_bundle
from tussock.documents.base import Model
from tussock.questions.answer import QUESTIONS
from tussock.questions.places import PLACES, is_of_the_aeroplane
from tussock.text import catalogue, say

from . import case
from .test_estimates import figures

CLASSES = {one["id"]: one["document"] for one in json.loads(handle("classes"))["result"]}
BARE = {
    "kind": "aeroplane",
    "id": "bare",
    "name": "Bare",
    "configurations": [{"id": "plain", "name": "Plain"}],
}

#: parts in an order in which one might describe an aeroplane
PARTS = (
    *("undercarriage", "engine", "seats", "bays", "joint_limits", "tanks", "envelopes", "configurations"),
    *("limits", "owner", "fuel", "flaps", "performance", "cruises", "wing", "propeller"),
)

#: messages of what is missing that do not concern the aeroplane, or that follow from others
ELSEWHERE = {
    "strip": (
        "air temperature pressure wind elevation position surface grass_height slope direction_from "
        "direction_to obstacles approach go_around go_around_way"
    ),
    "people and kit": "person_mass person_height item_mass item_size item_rating bag",
    "trip": "fuel cruise_altitude reserve",
    "follows": "mass burn arrival density_altitude",
}


def ready(*documents: dict[str, Any], **more: Any) -> dict[str, Any]:
    given = {"documents": list(documents), "aeroplane": documents[0]["id"], **more}
    reply = json.loads(handle("readiness", json.dumps(given)))
    assert "result" in reply, reply
    return reply["result"]


def questions(*documents: dict[str, Any], **more: Any) -> dict[str, dict[str, Any]]:
    return {one["question"]: one for one in ready(*documents, **more)["questions"]}


def pointers(found: dict[str, Any], kind: str = "missing") -> set[str]:
    return {message["pointer"] for message in found[kind]}


# --- how far it is ---------------------------------------------------------------------------------------


def test_a_bare_aeroplane_answers_nothing_and_says_what_is_next() -> None:
    found = ready(BARE)
    assert [one["question"] for one in found["questions"]] == list(QUESTIONS)
    assert not any(one["ready"] for one in found["questions"])
    assert all(one["missing"] for one in found["questions"])
    assert found["next"] == {"text": "missing.seats", "values": {}, "pointer": "/seats"}


@pytest.mark.parametrize("sources", ["all", "book", "known", "constants"])
def test_a_complete_aeroplane_is_ready_for_all_six(sources: str) -> None:
    found = ready(case.base(sources)["plover"])
    assert [one["missing"] for one in found["questions"]] == [[]] * 6
    assert all(one["ready"] for one in found["questions"])
    assert found["next"] is None
    assert not any(one["estimated"] for one in found["questions"])


@pytest.mark.parametrize("name", CLASSES)
def test_a_class_is_ready_and_every_answer_rests_on_estimates(name: str) -> None:
    for one in ready(CLASSES[name])["questions"]:
        assert one["ready"], one
        assert one["estimated"]
        assert all(say(message) for message in one["estimated"])


def test_an_aeroplane_grows_question_by_question() -> None:
    """From bare to whole, part by part: what is ready stays ready, what comes next is never already there."""
    whole, growing = case.base("known")["plover"], copy.deepcopy(BARE) | {"id": "plover"}
    seen: list[set[str]] = []
    for part in PARTS:
        growing[part] = whole[part]
        found = ready(growing)
        seen.append({one["question"] for one in found["questions"] if one["ready"]})
        for one in found["questions"]:
            assert one["ready"] == (one["missing"] == [])
    assert seen[-1] == set(QUESTIONS)
    assert all(before <= after for before, after in pairwise(seen)), seen
    assert len({frozenset(one) for one in seen}) >= 3


def test_it_is_asked_of_the_configuration_that_is_named() -> None:
    plane = case.base("known")["plover"]
    plane["configurations"].append({"id": "skis", "name": "Skis", "category": "normal"})
    assert questions(plane)["balances"]["ready"]
    found = questions(plane, configuration="skis")["balances"]
    assert pointers(found) == {"/configurations/skis/weighing"}


def test_a_configuration_based_on_another_points_at_what_was_weighed() -> None:
    plane = case.base("known")["plover"]
    del plane["configurations"][0]["weighing"]["includes_oil"]
    found = questions(plane, configuration="steps")["balances"]
    assert pointers(found) == {"/configurations/plain/weighing/includes_oil"}


def test_a_strip_of_its_own_asks_for_friction_there() -> None:
    plane, strip = case.base("constants")["plover"], case.base("constants")["heath"]
    strip["ground"]["state"]["surface"] = "gravel_dry"
    assert questions(plane)["lifts_off"]["ready"]
    found = questions(plane, strip, strip="heath")
    assert pointers(found["lifts_off"]) == {"/performance/constants/friction"}
    assert not found["stops"]["ready"]


def test_constants_without_any_friction_are_not_ready() -> None:
    plane = case.base("constants")["plover"]
    plane["performance"][0]["friction"] = []
    found = questions(plane)
    assert {q for q, one in found.items() if not one["ready"]} == {"lifts_off", "stops"}
    assert pointers(found["stops"]) == {"/performance/constants/friction"}


def test_a_climb_speed_is_asked_for_where_neither_flap_nor_table_has_one() -> None:
    plane = case.base("known")["plover"]
    for one in [*plane["flaps"], *plane["performance"]]:
        for name in ("climb_speed", "speed"):
            one.pop(name, None)
    found = questions(plane)
    assert pointers(found["climbs_out"]) == {"/flaps/first/climb_speed"}
    assert not found["reaches"]["ready"]


def test_limits_of_wind_may_be_those_of_the_pilot() -> None:
    plane = case.base("known")["plover"]
    del plane["owner"]
    assert pointers(questions(plane)["lifts_off"]) == {
        "/owner/crosswind",
        "/owner/tailwind",
        "/owner/gust_spread",
    }
    limit = {"value": 5.0, "origin": "measured"}
    pilot = {"kind": "person", "id": "p", "name": "P", "flies": True}
    pilot["limits"] = dict.fromkeys(("crosswind", "tailwind", "gust_spread"), limit)
    assert questions(plane, pilot)["lifts_off"]["ready"]


def test_sources_that_can_not_tell_the_distance_are_not_ready() -> None:
    plane = case.base("known")["plover"]
    for source in plane["performance"]:
        if source.get("phase") == "takeoff":
            del source["over_50ft"]
    found = questions(plane)["lifts_off"]
    assert not found["ready"]
    assert pointers(found) == {"/performance/known-takeoff"}


# --- nothing missing goes unsaid -------------------------------------------------------------------------

#: figures without which the questions are answered all the same, with what is taken instead said
SPARE = re.compile(
    r"/speeds/|/run_up/|/dial_first_mark|/wing/height|/engine/rated|/propeller/(pitch|rotation_limit)|/rotation$"
    r"|/fuel/(climb_speed|descent_\w+)|/limits/(ramp|landing|zero_fuel)|/owner/wind|/climb_loss|/tare$"
    r"|/(takeoff|landing|lift_off|at_50ft|touchdown)_factor$|/(stall_mass|limit_speed|floor_limit|from_height|door/sill)$"
    r"|/seats/.*/(width|mass_limit)$|/flaps/up/|/roll$|/torque_cutoff"
    # the flap or the table tells the climb speed; another surface has its friction
    r"|/flaps/.*/climb_speed|/performance/.*/speed$|/friction/"
)
#: what constants need and nothing else does
PHYSICS = ("/wing/", "/propeller/")


@pytest.mark.parametrize("sources", ["known", "constants"])
def test_taking_any_needed_figure_away_is_noticed(sources: str) -> None:
    plane = case.base(sources)["plover"]
    unnoticed = []
    count = 0
    for place, _ in list(figures(plane)):
        without = drop(plane, place)
        if without is None or SPARE.search(place):
            continue
        if sources == "known" and place.startswith(PHYSICS):
            continue
        count += 1
        if all(one["ready"] for one in ready(without)["questions"]):
            unnoticed.append(place)
    assert unnoticed == []
    assert count > 20


def drop(plane: dict[str, Any], place: str) -> dict[str, Any] | None:
    """The aeroplane without that figure; None where the gate asks for it anyway."""
    documents = {"plane": copy.deepcopy(plane)}
    case.drop(documents, f"/plane{place}")
    reply = json.loads(handle("check", json.dumps({"documents": [documents["plane"]]})))
    return documents["plane"] if "result" in reply else None


def test_what_is_said_to_be_missing_is_missing_there() -> None:
    """The pointer leads to the figure that was taken away, or to the element that it belongs to."""
    plane = case.base("known")["plover"]
    for place in (
        "/tanks/main/usable",
        "/tanks/main/unusable",
        "/tanks/main/arm",
        "/seats/left/height_fits",
        "/bays/hold/volume",
        "/bays/hold/longest",
        "/bays/hold/door",
        "/bays/hold/packing_fraction",
        "/bays/hold/restraint",
        "/bays/hold/restraint/rating",
        "/bays/hold/mass_limit",
        "/bays/hold/arm",
        "/engine/oil",
        "/engine/grades",
        "/limits/takeoff",
        "/flaps/first/stall",
        "/fuel/taxi_and_run_up",
        "/fuel/climb_flow",
        "/fuel/dip_error",
        "/cruises/usual/speed",
        "/undercarriage",
        "/undercarriage/main_arm",
    ):
        documents = {"plane": copy.deepcopy(plane)}
        case.drop(documents, f"/plane{place}")
        found = [p for one in ready(documents["plane"])["questions"] for p in pointers(one)]
        assert place in found, place


# --- the table of places ---------------------------------------------------------------------------------


def test_every_message_of_what_is_missing_has_its_place_or_belongs_elsewhere() -> None:
    elsewhere = {f"missing.{name}" for names in ELSEWHERE.values() for name in names.split()}
    known = {text for text in catalogue() if text.startswith("missing.")}
    here = {text for text in PLACES if text.startswith("missing.")}
    assert known - elsewhere - here == set()
    assert here | elsewhere == known
    assert here & elsewhere == set()
    assert all(is_of_the_aeroplane(text) for text in here)
    assert not any(is_of_the_aeroplane(text) for text in elsewhere)


@pytest.mark.parametrize("text", PLACES)
def test_every_place_is_one_of_the_schema(text: str) -> None:
    pattern = PLACES[text].replace("{station}", "/tanks/{tank}")
    here: set[Any] = {Aeroplane}
    for part in pattern.split("/")[1:]:
        if not part.startswith("{"):
            here = {
                inner
                for one in here
                if part in getattr(one, "model_fields", {})
                for inner in kinds(one, part)
            }
            assert here, f"{part} of {pattern}"


def kinds(owner: type[Model], field: str) -> list[Any]:
    waiting, found = [owner.model_fields[field].annotation], []
    while waiting:
        one = waiting.pop()
        found.append(one)
        waiting += get_args(one)
    return found


# --- through the border ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("params", "path"),
    [
        ({"aeroplane": "x"}, "/aeroplane"),
        ({"aeroplane": "bare", "configuration": "x"}, "/configuration"),
        ({"aeroplane": "bare", "strip": "x"}, "/strip"),
        ({"aeroplane": 3}, "/aeroplane"),
    ],
)
def test_a_name_that_is_not_there_is_refused(params: dict[str, Any], path: str) -> None:
    reply = json.loads(handle("readiness", json.dumps({"documents": [BARE], **params})))
    assert reply["error"]["path"] == path


def test_nothing_of_the_probe_is_left_in_what_is_told() -> None:
    for document in (BARE, *CLASSES.values(), case.base("constants")["plover"]):
        assert "probe" not in json.dumps(ready(document))


def test_it_needs_no_other_document_and_changes_none() -> None:
    documents = case.base("all")
    before = copy.deepcopy(documents)
    with_all = ready(documents["plover"], *(d for name, d in documents.items() if name != "plover"))
    assert documents == before
    assert with_all == ready(documents["plover"])
    assert read_bundle({"documents": list(documents.values())}).bundle
