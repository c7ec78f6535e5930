"""The core against published values: standards, handbook tables, worked examples (`rows/`)."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from tussock import single

from .rows import FLAGS, STATES, Row, ask, figure, interval, load, misses, native, tolerance

ROWS = load()


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row(row: Row) -> None:
    assert misses(row, ask(row, native)) == [], f"{row.source}. {row.note}"


def test_there_are_enough_rows() -> None:
    assert len(ROWS) >= 120


def test_ids_are_unique() -> None:
    ids = [row.id for row in ROWS]
    assert sorted(set(ids)) == sorted(ids)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_row_says_where_it_is_from_and_can_fail(row: Row) -> None:
    assert len(row.source) > 5
    assert row.flag in FLAGS
    assert row.expected
    outputs = single.load_all()[row.relation].outputs
    for name, expected in row.expected.items():
        if isinstance(expected, str) and expected in STATES:
            continue
        si = outputs[name].unit
        for one in expected if isinstance(expected, list) else [expected]:
            published = figure(one, si)
            width = tolerance(row, name, published, si)
            assert 0 <= width <= _widest(published, si), f"{name}: {published} ± {width}"


def _widest(published: float, si: str) -> float:
    """The widest tolerance that still checks: a quarter of the figure, less where zero is arbitrary."""
    if si == "K":
        return 3.0
    if si == "s" and abs(published) > 1e7:
        return 120.0
    return math.inf if published == 0 else 0.25 * abs(published)


def _example() -> tuple[Row, dict[str, Any]]:
    row = Row("x", "r", {}, {"h": "100 ft"}, "a source", "memory", "2 ft")
    return row, {"outputs": {"h": 31.0}, "units": {"h": "m"}, "state": {}}


def test_the_judge_can_say_no() -> None:
    row, result = _example()
    assert misses(row, result) == []
    assert misses(replace(row, tolerance="1 ft"), result)
    assert misses(replace(row, tolerance={"relative": 1e-3}), result)
    assert misses(row, result | {"outputs": {"h": None}})
    assert misses(row, result | {"outputs": {"h": float("nan")}})
    assert misses(replace(row, expected={"h": "impossible"}), result)
    with pytest.raises(ValueError, match="no result"):
        misses(replace(row, expected={"v": 1}), result)
    with pytest.raises(ValueError, match="no tolerance"):
        misses(replace(row, tolerance=None), result)


def test_a_state_is_told_from_another() -> None:
    row, result = _example()
    none = result | {"outputs": {"h": None}, "state": {"h": "impossible"}}
    assert misses(replace(row, expected={"h": "impossible"}), none) == []
    assert misses(replace(row, expected={"h": "outside validity"}), none)


def test_an_interval_has_no_offset() -> None:
    assert interval("2 degC", "K") == 2
    assert interval("9 degF", "K") == pytest.approx(5)
    assert interval("0.5 deg", "deg") == 0.5
    assert interval("2 ft", "m") == pytest.approx(0.6096)
    with pytest.raises(ValueError, match="interval in m"):
        interval("2 kt", "m")
