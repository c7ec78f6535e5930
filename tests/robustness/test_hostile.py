"""Hostile input: whatever is done to a document, it is refused in words or accepted; nothing else happens."""

from __future__ import annotations

import copy
import json
import sys
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tussock.api import handle
from tussock.documents import Accepted, read_bundle, read_document
from tussock.errors import CODES, Refused

sys.path.insert(0, str(Path(__file__).parent))
from hostile import FIXTURES, UNKNOWN_TO_JSON, WHOLE, mutated, paths, scaled

NOW = "2026-11-25T07:52:00+00:00"
SLOW = settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])


def accepted(source: Any) -> Accepted | None:
    """What the gate says: accepted, or None for a refusal in due form. Anything else is raised."""
    try:
        return read_bundle(source)
    except Refused as refusal:
        said = refusal.as_dict()
        assert said["code"] in CODES
        assert said["code"] != "internal"
        assert said["message"]
        assert said["path"] == "" or said["path"].startswith("/")
        json.dumps(said, allow_nan=False).encode()
        return None


@SLOW
@given(mutated(UNKNOWN_TO_JSON))
def test_a_mutated_bundle_is_refused_or_accepted(bundle: dict[str, Any]) -> None:
    accepted(bundle)


@SLOW
@given(mutated())
def test_what_is_accepted_survives_being_written_and_read(bundle: dict[str, Any]) -> None:
    found = accepted(json.dumps(bundle))
    if found is not None:
        for document in found.bundle.documents:
            assert read_document(json.loads(document.model_dump_json())) == document


@SLOW
@given(st.data())
def test_a_mutated_document_of_any_kind_is_refused_or_accepted(data: st.DataObject) -> None:
    path = data.draw(st.sampled_from(sorted(FIXTURES.glob("*.json"))))
    document = json.loads(path.read_text(encoding="utf-8"))
    places = list(paths(document))
    for _ in range(data.draw(st.integers(1, 3))):
        place = data.draw(st.sampled_from(places))
        node: Any = document
        try:
            for part in place[:-1]:
                node = node[part]
            node[place[-1]] = data.draw(UNKNOWN_TO_JSON)
        except (KeyError, IndexError, TypeError):
            continue
    accepted({"documents": [document]})


@SLOW
@given(st.data())
def test_a_torn_text_is_refused_or_accepted(data: st.DataObject) -> None:
    text = json.dumps(WHOLE, ensure_ascii=False)
    start = data.draw(st.integers(0, len(text)))
    length = data.draw(st.integers(0, 40))
    middle = data.draw(
        st.sampled_from(["", "[", "]", "{", "}", '"', "\\", ",", "1e999", "-", "\u0000", "NaN", "0x1"])
    )
    torn = text[:start] + middle + text[start + length :]
    accepted(torn)
    accepted(torn.encode())


@SLOW
@given(st.binary(max_size=200))
def test_bytes_of_any_kind_are_refused(content: bytes) -> None:
    assert accepted(content) is None


@SLOW
@given(
    st.recursive(
        st.none() | st.booleans() | st.floats() | st.text(),
        lambda s: st.lists(s) | st.dictionaries(st.text(), s),
    )
)
def test_data_of_any_shape_is_refused(data: Any) -> None:
    if not (isinstance(data, dict) and data.get("documents") == []):
        assert accepted(data) is None
        assert accepted({"documents": data}) is None or data == []


# --- through the border, to the answers ------------------------------------------------------------------


def answers(bundle: dict[str, Any], method: str = "answer") -> dict[str, Any]:
    """The reply to a request, after what must hold of every reply."""
    reply = json.loads(handle(method, json.dumps({**bundle, "now": NOW})), parse_constant=_never)
    assert set(reply) in ({"result"}, {"error"})
    if "error" in reply:
        assert reply["error"]["code"] in CODES
        assert reply["error"]["code"] != "internal"
    return reply


def _never(name: str) -> float:
    raise AssertionError(f"{name} in a reply")


def leg(reply: dict[str, Any]) -> dict[str, Any] | None:
    return reply["result"]["legs"][0] if "result" in reply else None


RANK = ["no", "can't say", "tight", "yes"]


def test_the_untouched_leg_is_answered() -> None:
    """Else the tests below would prove nothing: its answers are no "no" and no "can't say"."""
    found = leg(answers(WHOLE))
    assert found is not None
    assert {answer["verdict"] for answer in found["answers"]} <= {"yes", "tight"}


@settings(SLOW, max_examples=100)
@given(mutated(most=2))
def test_a_mutated_bundle_has_an_answer_or_a_refusal(bundle: dict[str, Any]) -> None:
    found = leg(answers(bundle))
    if found is not None:
        assert len(found["answers"]) == 6
        assert found["verdict"] == min((a["verdict"] for a in found["answers"]), key=RANK.index)


@settings(SLOW, max_examples=100)
@given(scaled())
def test_a_bundle_with_wild_numbers_has_an_answer_or_a_refusal(bundle: dict[str, Any]) -> None:
    found = leg(answers(bundle))
    if found is not None:
        for answer in found["answers"]:
            assert answer["verdict"] in RANK
            assert answer["verdict"] == "yes" or answer["reasons"]


@settings(SLOW, max_examples=6)
@given(scaled())
def test_a_bundle_with_wild_numbers_has_remedies_or_a_refusal(bundle: dict[str, Any]) -> None:
    answers({**bundle, "leg": WHOLE["open"]["leg"]}, "remedies")


# --- what is taken out never helps -----------------------------------------------------------------------


def _optional_places() -> list[tuple[str | int, ...]]:
    """Places of the bundle that the gate lets one take out, one by one."""
    found = []
    for place in paths(WHOLE["documents"], ("documents",)):
        if isinstance(place[-1], str) and not {"typed", "note"} & set(place):
            found.append(place)
    return found


#: what may be taken out and make an answer better, because less is asked of the flight: each with its reason
BETTER = {
    "alternate": "no alternate, no fuel to it",
    "departure": "then it leaves now",
}


@pytest.mark.parametrize("document", [d["id"] for d in WHOLE["documents"]])
def test_no_figure_that_is_taken_out_turns_an_answer_to_yes(document: str) -> None:
    before = {a["question"]: a["verdict"] for a in leg(answers(WHOLE))["answers"]}
    index = next(i for i, d in enumerate(WHOLE["documents"]) if d["id"] == document)
    wrong = []
    for place in _optional_places():
        if place[1] != index or place[-1] in BETTER:
            continue
        bundle = copy.deepcopy(WHOLE)
        node: Any = bundle
        for part in place[:-1]:
            node = node[part]
        if not _is_figure(node[place[-1]]):
            continue
        del node[place[-1]]
        found = leg(answers(bundle))
        if found is None:
            continue
        for answer in found["answers"]:
            if RANK.index(answer["verdict"]) > RANK.index(before[answer["question"]]):
                wrong.append((place, answer["question"], before[answer["question"]], answer["verdict"]))
    assert wrong == []


def _is_figure(node: Any) -> bool:
    return isinstance(node, dict) and {"value", "origin"} <= set(node)
