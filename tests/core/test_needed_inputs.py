"""Every field that may be absent is classed, and taken out of a case that is "yes" on all six.

NEEDED: without it an answer is no "yes" any more. SAID: "yes" may stay, because the adverse side was taken;
it is said, and no margin of the questions named is better. STATED: absent says something by itself (nobody
set a limit, the reading is net), so that taking it out is another case; it is answered without a slip.
UNUSED: no answer rests on it. A new field of the schema must be put into one of these.
"""

from __future__ import annotations

import copy
import json
import typing
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

import pytest
from pydantic import BaseModel

from tussock.documents import Aeroplane, Air, Kit, Person, Settings, Strip, Trip, read_bundle
from tussock.errors import Refused

from . import case
from .case import quick_verdicts
from .input_classes import EXCEPT, IDLE, SAID, STATED, UNUSED, listed, needed

KINDS = (Aeroplane, Strip, Kit, Person, Air, Trip, Settings)
#: of every document or figure: names, notes, what was typed, who edited it
HEAD = {"version", "note", "stamps", "removed", "typed"}

#: which case of `case.base` shows a class at work, where it is not that of the constants
SHOWN_BY = {"DistanceTable": "book", "ClimbTable": "book", "KnownDistance": "known", "Conditions": "known"}


def models() -> dict[str, type[BaseModel]]:
    """Every class of the schema that a document of an answer may hold."""
    found: dict[str, type[BaseModel]] = {}
    waiting: list[type[BaseModel]] = list(KINDS)

    def inside(hint: Any) -> Iterator[type[BaseModel]]:
        if isinstance(hint, type) and issubclass(hint, BaseModel):
            yield hint
        for part in typing.get_args(hint):
            yield from inside(part)

    while waiting:
        model = waiting.pop()
        if model.__name__ not in found:
            found[model.__name__] = model
            waiting += [m for f in model.model_fields.values() for m in inside(f.annotation)]
    return found


def test_every_field_that_may_be_absent_is_classed_once():
    optional = {
        f"{name}.{field}"
        for name, model in models().items()
        for field, info in model.model_fields.items()
        if not info.is_required() and field not in HEAD
    }
    classes = [needed(), set(SAID), listed(STATED), listed(UNUSED)]
    assert optional - set().union(*classes) == set(), "class these: needed, said, stated or unused"
    assert set().union(*classes) - optional == set(), "the schema has no such optional field"
    twice = (classes[0] & (classes[2] | classes[3])) | (classes[1] & (classes[2] | classes[3]))
    assert twice | (classes[2] & classes[3]) == set()


@lru_cache
def occurrences(sources: str) -> list[tuple[str, str]]:
    """(pointer, Class.field) of every field that is set in the case and may be absent."""

    def walk(thing: BaseModel, plain: dict[str, Any], where: str) -> Iterator[tuple[str, str]]:
        for field, info in type(thing).model_fields.items():
            if field not in plain or field in HEAD:
                continue
            here = f"{where}/{field}"
            if not info.is_required():
                yield here, f"{type(thing).__name__}.{field}"
            value, given = getattr(thing, field), plain[field]
            if isinstance(value, BaseModel):
                yield from walk(value, given, here)
            elif isinstance(value, list):
                for index, (part, raw) in enumerate(zip(value, given, strict=True)):
                    if isinstance(part, BaseModel):
                        name = raw.get(getattr(type(part), "key", "id"), index)
                        yield from walk(part, raw, f"{here}/{name}")

    documents = case.base(sources)
    bundle = read_bundle({"documents": list(documents.values())}).bundle
    return [
        found
        for document in bundle.documents
        for found in walk(document, documents[document.id], f"/{document.id}")
    ]


@lru_cache
def before(sources: str) -> dict[str, dict[str, Any]]:
    return case.quick(case.base(sources))


def shown(group: set[str]) -> list[Any]:
    """Parameters (case, pointer, field) for the occurrences of some fields, in the case that shows them."""
    found = []
    for sources in ("constants", "book", "known"):
        for pointer, field in occurrences(sources):
            if field in group and SHOWN_BY.get(field.split(".")[0], "constants") == sources:
                found.append(pytest.param(sources, pointer, field, id=pointer))
    return found


def idle(pointer: str) -> bool:
    return any(pointer == part or pointer.startswith(part + "/") for part in IDLE)


def without(sources: str, pointer: str) -> dict[str, dict[str, Any]]:
    return case.quick(case.drop(case.base(sources), pointer))


def better(now: dict[str, Any], then: dict[str, Any]) -> list[str]:
    """Measures of an answer whose margin has grown."""
    margins = {
        (m["name"], json.dumps(m["values"].get("obstacle") or m["values"].get("state"))): m["margin"]
        for m in then["measures"]
    }
    return [
        m["name"]
        for m in now["measures"]
        if m["margin"] is not None
        and (
            old := margins.get(
                (m["name"], json.dumps(m["values"].get("obstacle") or m["values"].get("state")))
            )
        )
        is not None
        and m["margin"] > old + 1e-9
    ]


@pytest.mark.parametrize("sources", ["all", "book", "known", "constants"])
def test_the_case_is_yes_on_all_six(sources):
    assert {a["question"]: a["verdict"] for a in case.leg(case.base(sources))["answers"]} == dict.fromkeys(
        case.QUESTIONS, "yes"
    )


def test_what_is_classed_as_needed_or_said_is_in_the_case():
    there = {field for sources in ("constants", "book", "known") for _, field in occurrences(sources)}
    assert (needed() | set(SAID)) - there == set()


@pytest.mark.parametrize(
    ("sources", "pointer", "field"),
    [
        p
        for p in shown(needed())
        if not idle(p.values[1]) and (p.values[1] not in EXCEPT or EXCEPT[p.values[1]] in ("", "needed"))
    ],
)
def test_without_a_needed_input_there_is_no_yes(sources, pointer, field):
    try:
        now = without(sources, pointer)
    except Refused:
        return
    left = [q for q, answer in now.items() if answer["verdict"] in ("no", "can't say")]
    assert left, f"{field} is gone and the leg is still a yes or tight"
    for question in left:
        assert case.texts(now[question]["reasons"]), "nobody says why"


@pytest.mark.parametrize(
    ("sources", "pointer", "field"),
    [
        p
        for p in shown(set(SAID))
        if not idle(p.values[1]) and EXCEPT.get(p.values[1], "derived adversely") == "derived adversely"
    ],
)
def test_what_is_taken_adversely_is_said_and_no_margin_is_better(sources, pointer, field):
    text, questions = SAID[field]
    now = without(sources, pointer)
    assert any(text in case.texts(answer["assumptions"]) for answer in now.values())
    for question in questions.split():
        assert better(now[question], before(sources)[question]) == [], question
        assert case.RANK[now[question]["verdict"]] <= case.RANK[before(sources)[question]["verdict"]]


@pytest.mark.parametrize(("sources", "pointer", "field"), shown(listed(STATED)))
def test_what_is_stated_by_its_absence_is_answered(sources, pointer, field):
    try:
        now = without(sources, pointer)
    except Refused:
        return
    assert set(now) == set(case.QUESTIONS)


@pytest.mark.parametrize(
    ("sources", "pointer", "field"),
    [
        *shown(listed(UNUSED) - {"Aeroplane.engine"}),
        *(p for p in shown(needed() | set(SAID) | listed(STATED)) if idle(p.values[1])),
    ],
)
def test_what_is_not_used_changes_nothing(sources, pointer, field):
    def figures(found: dict[str, dict[str, Any]]) -> Any:
        return {
            q: (a["verdict"], [(m["name"], m["margin"]) for m in a["measures"]]) for q, a in found.items()
        }

    assert figures(without(sources, pointer)) == figures(before(sources))


# --- what the case does not show by itself ----------------------------------------------------------------


def test_must_stay():
    """A thing that must stay in reach rides in a bay that is; nobody says that it is: no."""
    documents = case.base()
    case.put(documents, "/camp/items/box/stays_accessible", True)
    assert quick_verdicts(copy.deepcopy(documents))["fits"] == "yes"
    assert quick_verdicts(case.drop(documents, "/plover/bays/hold/accessible_in_flight"))["fits"] == "no"


def test_the_flap_is_known_by_its_use_or_by_its_name():
    documents = case.base()
    case.drop(documents, "/day-out/legs/out/takeoff_flap")
    assert quick_verdicts(copy.deepcopy(documents))["lifts_off"] == "yes"
    assert quick_verdicts(case.drop(documents, "/plover/flaps/first/used_for"))["lifts_off"] == "can't say"


def test_a_bench_that_nobody_measured_is_said():
    documents = case.base()
    for seat in ("left", "right"):
        case.drop(documents, f"/plover/seats/{seat}/width")
    assert "assumed.bench_not_measured" in case.texts(case.quick(documents)["fits"]["assumptions"])


@pytest.mark.parametrize("length", range(480, 800, 20))
def test_no_dew_point_is_no_better_than_any(length):
    """Hot, where moisture weighs most; the strip ever longer, so that verdicts turn somewhere on the way."""
    documents = case.base()
    case.put(documents, "/air-heath/temperature", 303.0)
    half = length / 2
    ground = {
        "length": case.fig(length),
        "segments": [{"length": half, "slope": 0.004}, {"length": half, "slope": -0.006}],
    }
    documents["heath"]["ground"] |= ground
    verdicts = []
    for dew_point in (None, 270.0, 290.0, 303.0):
        case.put(documents, "/air-heath/dew_point", dew_point)
        verdicts.append([case.RANK[quick_verdicts(documents)[q]] for q in ("lifts_off", "climbs_out")])
    for told in verdicts[1:]:
        assert (
            all(not_told <= one for not_told, one in zip(verdicts[0], told, strict=True))
            or min(verdicts[0]) == 1
        )


def test_long_grass_must_say_how_long():
    documents = case.base()
    case.put(documents, "/heath/ground/state/surface", "grass_long_dry")
    friction = {"surface": "grass_long_dry", "rolling": case.fig(0.08), "braked": case.fig(0.2)}
    documents["plover"]["performance"][-1]["friction"].append(friction)
    case.put(documents, "/heath/ground/state/grass_height", case.fig(0.15))
    assert quick_verdicts(copy.deepcopy(documents))["lifts_off"] == "yes"
    assert (
        quick_verdicts(case.drop(documents, "/heath/ground/state/grass_height"))["lifts_off"] == "can't say"
    )


def test_two_envelopes_and_no_category():
    documents = case.base()
    other = copy.deepcopy(documents["plover"]["envelopes"][0]) | {"id": "utility", "category": "utility"}
    documents["plover"]["envelopes"].append(other)
    assert quick_verdicts(copy.deepcopy(documents))["balances"] == "yes"
    assert (
        quick_verdicts(case.drop(documents, "/plover/configurations/steps/category"))["balances"]
        == "can't say"
    )


def test_a_flap_without_an_angle_needs_its_drag():
    documents = case.base("constants")
    case.put(documents, "/day-out/legs/out/takeoff_flap", "up")
    assert quick_verdicts(copy.deepcopy(documents))["climbs_out"] == "yes"
    assert quick_verdicts(case.drop(documents, "/plover/flaps/up/angle"))["climbs_out"] == "can't say"


@pytest.mark.parametrize("field", ["includes_oil", "includes_unusable_fuel"])
def test_a_record_of_mass_and_arm_says_what_is_in_it(field):
    documents = case.base()
    record = {"by": "mass_and_arm", "mass": case.fig(330.0), "arm": case.fig(0.3)}
    whole = {"includes_oil": True, "includes_unusable_fuel": True}
    case.put(documents, "/plover/configurations/plain/weighing", record | whole)
    assert quick_verdicts(copy.deepcopy(documents))["balances"] == "yes"
    assert (
        quick_verdicts(case.drop(documents, f"/plover/configurations/plain/weighing/{field}"))["balances"]
        == "can't say"
    )


@pytest.mark.parametrize("phase", ["takeoff", "climb", "landing"])
def test_a_silent_source_takes_the_yes_away_when_nobody_says_which_to_trust(phase):
    """The constants fall silent for want of one figure; the book goes on answering."""
    lacking = {"takeoff": "static_thrust", "climb": "rated_torque", "landing": "landing_roll_drag"}[phase]
    question = {"takeoff": "lifts_off", "climb": "climbs_out", "landing": "stops"}[phase]
    documents = case.base()
    case.drop(documents, f"/plover/performance/constants/{lacking}")
    assert quick_verdicts(copy.deepcopy(documents))[question] == "can't say"
    del documents["plover"]["prefer"][phase]
    assert quick_verdicts(documents)[question] == "can't say"
