"""The gate: limits of size and depth, text that is only text, and what is odd but accepted."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tussock.documents import gate as gate_module
from tussock.documents import read_bundle
from tussock.documents.gate import DEEPEST, LARGEST, MOST_DOCUMENTS, parse
from tussock.documents.oddities import falls
from tussock.errors import Refused

from .whole import ABSENT, WHOLE, changed, refusal

# --- limits ----------------------------------------------------------------------------------------------


def test_a_file_that_is_too_large_is_refused_before_it_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(json, "loads", lambda *_, **__: pytest.fail("it was read"))
    assert refusal(" " * (LARGEST + 1)).code == "too_large"
    assert refusal(b" " * (LARGEST + 1)).code == "too_large"


@pytest.mark.parametrize("opening", ["[", '{"a":', '[{"a":'])
def test_a_file_that_is_nested_too_deeply_is_refused_before_it_is_read(
    opening: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(json, "loads", lambda *_, **__: pytest.fail("it was read"))
    assert refusal(opening * 100_000).code == "too_deep"


def test_brackets_inside_texts_are_no_depth() -> None:
    deep = "[" * 500 + '"\\'
    bundle, _ = changed("wren", "/note", deep)
    assert read_bundle(json.dumps(bundle)).bundle.by_id["wren"].note == deep


def test_the_depth_of_our_own_documents_is_far_from_the_limit() -> None:
    gate_module.check_depth([[WHOLE]])
    nested: Any = 1
    for _ in range(DEEPEST):
        nested = [nested]
    gate_module.check_depth(nested)
    with pytest.raises(Refused):
        gate_module.check_depth([nested])


def test_data_that_holds_itself_is_refused() -> None:
    loop: dict[str, Any] = {"documents": []}
    loop["documents"].append(loop)
    assert refusal(loop).code == "too_deep"


def test_too_many_documents_and_too_long_lists_are_refused() -> None:
    assert refusal({"documents": [3] * (MOST_DOCUMENTS + 1)}).code == "too_large"
    items = [{"id": f"i{n}", "name": "x"} for n in range(501)]
    assert refusal(changed("camp", "/items", items)[0]).path.endswith("/items")


def test_a_number_with_more_digits_than_python_reads_is_refused() -> None:
    with pytest.raises(Refused) as caught:
        parse('{"documents": [' + "9" * 6000 + "]}")
    assert caught.value.code == "not_json"


# --- text ------------------------------------------------------------------------------------------------

NASTY = [
    "<script>alert(1)</script>",
    '<img src=x onerror="x">',
    "&lt;b&gt;",
    "Ridge “Camp” & Co",
    "نَسيم",
    "日本 ✈",
    "{name|mass}",
    "%s %n ${x} `x`",
    "'; drop table--",
]


@pytest.mark.parametrize("name", NASTY)
def test_markup_in_a_name_is_text_like_any_other(name: str) -> None:
    accepted = read_bundle(json.dumps(changed("saltpan", "/name", name)[0]))
    assert accepted.bundle.by_id["saltpan"].name == name


def test_half_a_character_is_refused() -> None:
    """A lone surrogate cannot be written as UTF-8: it would break the file that holds it."""
    text = json.dumps(changed("saltpan", "/name", "Salt?pan")[0]).replace("Salt?pan", "Salt\\ud800pan")
    assert refusal(text).path.endswith("/name")


# --- odd -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("document", "pointer", "value", "text", "path"),
    [
        ("air-2-from", "/pressure/qnh", 110_000.0, "odd.qnh", "/pressure/qnh"),
        ("air-2-from", "/pressure/qnh", 97_000.0, "odd.qnh", "/pressure/qnh"),
        (
            "dabchick",
            "/configurations/0/weighing/scales/2/reading/value",
            400.0,
            "odd.tail_heavy",
            "/configurations/0/weighing",
        ),
        ("dabchick", "/limits/landing/value", 650.0, "odd.landing_above_takeoff", "/limits/landing"),
        ("dabchick", "/flaps/0/stall/value", 60.0, "odd.fast_stall", "/flaps/0/stall"),
        ("dabchick", "/flaps/0/stall/value", 11.0, "odd.slow_stall", "/flaps/0/stall"),
        ("dabchick", "/performance/0/roll/2/2/2", 5.0, "odd.table_falls", "/performance/0/roll"),
        ("dabchick", "/performance/2/rate/2/2/2", 9.0, "odd.rate_rises", "/performance/2/rate"),
    ],
)
def test_what_is_odd_is_accepted_with_a_warning(
    document: str, pointer: str, value: float, text: str, path: str
) -> None:
    warned = read_bundle(changed(document, pointer, value)[0]).warnings
    assert [(one.text, one.document, one.path) for one in warned] == [(text, document, path)]


@pytest.mark.parametrize(
    ("grid", "axis"),
    [
        ([[[100.0, 110.0], [120.0, 130.0]], [[110.0, 120.0], [130.0, 140.0]]], None),
        ([[[100.0]], [[None]], [[90.0]]], "mass"),
        ([[[100.0], [None], [90.0]]], "pressure altitude"),
        ([[[None, 100.0, None, 90.0]]], "temperature"),
        ([[[None, 100.0, None, 110.0, None]]], None),
        ([[[100.0, 110.0]], [[None, 105.0]]], "mass"),
        ([[[100.0]], [[100.0]]], None),
    ],
)
def test_a_distance_that_falls_is_found_across_empty_cells(grid: list, axis: str | None) -> None:
    assert falls(grid) == axis


@pytest.mark.parametrize("qnh", [98_000.0, 101_325.0, 104_000.0])
def test_a_usual_qnh_is_not_odd(qnh: float) -> None:
    assert read_bundle(changed("air-2-from", "/pressure/qnh", qnh)[0]).warnings == []


def test_a_missing_figure_is_not_refused() -> None:
    """It leads to "can't say" further on; a document may be filled piece by piece."""
    for document, pointer in [
        ("dabchick", "/tanks/0/usable"),
        ("dabchick", "/flaps/0/stall"),
        ("dabchick", "/wing/area"),
        ("dabchick", "/bays/0/volume"),
        ("wren", "/mass"),
        ("camp", "/items/0/size"),
        ("saltpan", "/elevation"),
        ("saltpan", "/ground/state"),
        ("air-1-from", "/temperature"),
        ("ours", "/reserve"),
        ("week", "/legs/0/cruise_altitude"),
    ]:
        read_bundle(changed(document, pointer, ABSENT)[0])
