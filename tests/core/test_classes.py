"""Classes to start from: whole aeroplanes that pass the gate, all of estimates, and never a bare "yes"."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tussock import units
from tussock.api import handle
from tussock.documents import read_bundle, read_document
from tussock.documents.parts import plain
from tussock.questions.answer import QUESTIONS
from tussock.questions.asking import ask
from tussock.questions.probe import Probe
from tussock.text import say

from .test_estimates import figures

CLASSES: list[dict[str, Any]] = json.loads(handle("classes"))["result"]
IDS = [one["id"] for one in CLASSES]


@pytest.fixture(params=CLASSES, ids=IDS)
def document(request: pytest.FixtureRequest) -> dict[str, Any]:
    return json.loads(json.dumps(request.param["document"]))


def test_there_are_four_and_each_has_its_words() -> None:
    assert len({*IDS}) == len(CLASSES) == 4
    assert all(say(one["label"]) != one["label"]["text"] for one in CLASSES)


def test_it_passes_the_gate_without_a_warning(document: dict[str, Any]) -> None:
    accepted = read_bundle({"documents": [document]})
    assert accepted.warnings == []
    assert plain(accepted.bundle.documents[0]) == document


def test_every_figure_is_an_estimate_with_a_spread_and_its_text(document: dict[str, Any]) -> None:
    found = list(figures(document))
    assert len(found) > 60
    for place, figure in found:
        assert figure["origin"] == "estimated", place
        assert figure["sd"] > 0, place
        assert figure["sd"] <= 0.5 * abs(figure["value"]) or place.endswith(("arm", "main_arm", "other_arm"))
        symbol = figure["typed"].split(" ", 1)[1] if " " in figure["typed"] else "1"
        assert units.parse(figure["typed"], units.SI[units.unit(symbol).dimension]) == figure["value"], place
    assert {envelope["origin"] for envelope in document["envelopes"]} == {"estimated"}
    tables = [one for one in document["performance"] if one["source"] == "book_climb"]
    assert {table["origin"] for table in tables} == {"estimated"}


@pytest.mark.parametrize("full", [True, False])
def test_it_answers_all_six_and_no_answer_is_a_bare_yes(document: dict[str, Any], full: bool) -> None:
    bundle = read_bundle({"documents": [document]}).bundle
    plane = bundle.documents[0]
    made, trip, leg, now = Probe(bundle, plane, plane.configurations[0], None, full=full).made()
    asked = ask(made, trip, leg, now)
    assert list(asked.verdicts) == list(QUESTIONS)
    assert set(asked.verdicts.values()) <= {"tight", "no"}
    assert "can't say" not in {measure.verdict for answer in asked.answers for measure in answer.measures}


def test_one_person_and_a_little_fuel_is_tight_throughout(document: dict[str, Any]) -> None:
    """A class that could not fly at all would teach nothing."""
    bundle = read_bundle({"documents": [document]}).bundle
    plane = bundle.documents[0]
    made, trip, leg, now = Probe(bundle, plane, plane.configurations[0], None, full=False).made()
    assert set(ask(made, trip, leg, now).verdicts.values()) == {"tight"}


def test_replacing_all_but_one_estimate_still_leaves_no_yes(document: dict[str, Any]) -> None:
    for _, figure in figures(document):
        figure["origin"] = "measured"
    for table in document["performance"]:
        if table["source"] == "book_climb":
            table["origin"] = "book"
    document["envelopes"][0]["origin"] = "book"
    assert "yes" in verdicts_of(document).values(), "with nothing estimated there are answers of yes"
    document["configurations"][0]["weighing"]["mass"]["origin"] = "estimated"
    rest = verdicts_of(document)
    assert "yes" not in {rest[name] for name in QUESTIONS if name != "fits"}


def verdicts_of(document: dict[str, Any]) -> dict[str, str]:
    bundle = read_bundle({"documents": [document]}).bundle
    plane = bundle.documents[0]
    made, trip, leg, now = Probe(bundle, plane, plane.configurations[0], None, full=False).made()
    return ask(made, trip, leg, now, silent=True).verdicts


def test_the_envelope_holds_the_empty_aeroplane_and_the_heaviest(document: dict[str, Any]) -> None:
    corners = [(one["mass"], one["across"]) for one in document["envelopes"][0]["vertices"]]
    empty = document["configurations"][0]["weighing"]
    low, high = min(mass for mass, _ in corners), max(mass for mass, _ in corners)
    assert low <= empty["mass"]["value"] < high == document["limits"]["takeoff"]["value"]
    arms = [arm for _, arm in corners]
    assert min(arms) < empty["arm"]["value"] < max(arms)


def test_each_is_fresh() -> None:
    first = json.loads(handle("classes"))["result"][0]["document"]
    assert first == CLASSES[0]["document"]
    assert read_document(first).id == IDS[0]
