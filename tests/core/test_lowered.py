"""Rules of the settings made kinder than the method's: told where they count, and far beyond it no yes."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from . import case
from .case import KNOT, Documents, fig, reasons, texts


def nothing(_: Documents) -> None:
    pass


def without_far_air(documents: Documents) -> None:
    case.drop(documents, "/day-out/legs/out/air_to")


def without_wind_aloft(documents: Documents) -> None:
    case.drop(documents, "/day-out/legs/out/wind_aloft")


def without_ridge_shadow(documents: Documents) -> None:
    del documents["moor"]["ridge_shadow"]


#: what makes it count; setting; question; kinder and told; so far beyond the method that nothing is a yes
RULES: list[tuple[Any, str, str, Any, Any]] = [
    (nothing, "sinking_air", "climbs_out", 0.26, 0.25),
    (without_far_air, "far_tailwind", "stops", 2.6 * KNOT, 2.4 * KNOT),
    (without_far_air, "far_hotter", "stops", 2.6, 2.4),
    (nothing, "contingency", "reaches", 0.026, 0.024),
    (without_wind_aloft, "headwind_aloft", "reaches", 10.1 * KNOT, 9.9 * KNOT),
    (without_ridge_shadow, "before_sunset", "reaches", 901.0, 899.0),
    (
        nothing,
        "reserve",
        "reaches",
        {"rule": "21 min", "time": 1260.0},
        {"rule": "none", "time": 0.0},
    ),
]


@pytest.mark.parametrize(("counts", "name", "question", "told", "low"), RULES)
def test_a_rule_made_kinder_is_told_and_far_beyond_the_method_nothing_is_a_yes(
    counts: Any, name: str, question: str, told: Any, low: Any
) -> None:
    documents = case.base()
    counts(documents)
    before = case.answers(documents)[question]
    assert before["verdict"] == "yes"
    assert f"note.lowered.{name}" not in texts(before["notes"])
    documents["settings"][name] = told
    found = case.answers(documents)
    assert found[question]["verdict"] == "yes"
    assert [q for q, one in found.items() if f"note.lowered.{name}" in texts(one["notes"])] == [question]
    documents["settings"][name] = low
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "tight"
    assert f"reason.low.{name}" in reasons(answer)
    assert f"note.lowered.{name}" in texts(answer["notes"])


@pytest.mark.parametrize(
    ("name", "question"),
    [
        ("far_tailwind", "stops"),
        ("far_hotter", "stops"),
        ("headwind_aloft", "reaches"),
        ("before_sunset", "reaches"),
    ],
)
def test_what_is_not_reckoned_with_is_not_told(name: str, question: str) -> None:
    """The far air and the wind aloft are given, and a ridge takes the sun 40 minutes before it sets."""
    documents = case.base()
    documents["settings"][name] = 0.0
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "yes"
    assert f"note.lowered.{name}" not in texts(answer["notes"])


AIR, SURFACE = ("lifts_off", "climbs_out", "reaches", "stops"), ("lifts_off", "stops")


def read_long_ago(documents: Documents) -> None:
    for name in ("air-heath", "air-moor"):
        documents[name]["at"] = "2026-05-20T08:55:00+02:00"


def seen_long_ago(documents: Documents) -> None:
    for name in ("heath", "moor"):
        documents[name]["ground"]["state"]["seen"] = "2026-05-12T08:00:00+02:00"


@pytest.mark.parametrize(
    ("name", "old", "told", "low", "questions"),
    [
        ("air_age", read_long_ago, 7200.0, 86_400.0, AIR),
        ("surface_age", seen_long_ago, 14 * 86_400.0, 90 * 86_400.0, SURFACE),
    ],
)
def test_what_is_older_than_the_method_takes_is_told_and_by_a_rule_of_more_than_twice_it_no_yes(
    name: str, old: Any, told: float, low: float, questions: tuple[str, ...]
) -> None:
    fresh, documents = case.base(), case.base()
    old(documents)
    assert case.verdicts(documents)["lifts_off"] == "can't say"
    for value, verdict in ((told, "yes"), (low, "tight")):
        documents["settings"][name] = fresh["settings"][name] = value
        found = case.answers(documents)
        for question in case.QUESTIONS:
            counts = question in questions
            assert found[question]["verdict"] == (verdict if counts else "yes"), question
            assert (f"note.lowered.{name}" in texts(found[question]["notes"])) == counts
            assert (f"reason.low.{name}" in reasons(found[question])) == (counts and value == low)
        # what is fresh by the method's rule does not rest on the other
        answers = case.answers(fresh)
        assert set(case.verdicts(fresh).values()) == {"yes"}
        assert not any(f"note.lowered.{name}" in texts(one["notes"]) for one in answers.values())


def test_air_that_is_derived_for_the_far_strip_is_as_old_as_that_of_here() -> None:
    documents = case.base()
    read_long_ago(documents)
    without_far_air(documents)
    documents["settings"]["air_age"] = 86_400.0
    answer = case.answers(documents)["stops"]
    assert answer["verdict"] == "tight"
    assert "reason.low.air_age" in reasons(answer)


def test_no_kindness_turns_an_answer_into_a_bare_yes() -> None:
    """A high ridge: without any allowance for sinking air it climbs out, and tight is all it is."""
    documents = case.base("constants")
    for direction in documents["heath"]["directions"]:
        direction["way_out"]["ridges"][0]["height"] = fig(900.0)
    assert case.verdicts(documents)["climbs_out"] == "no"
    kind = copy.deepcopy(documents)
    kind["settings"]["sinking_air"] = 0.0
    assert case.verdicts(kind)["climbs_out"] == "tight"
