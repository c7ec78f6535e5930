"""Published check rows: loading them, asking the core, judging its answer.

Each file in `rows/` is one subject, a list of objects:

    id         unique
    relation   name of the sum
    inputs     by parameter: a number (SI), text with a unit ("5883 ft"), a moment ("2015-12-01T07:43Z"), a
               word or date where the sum takes one, a list of numbers or of texts with units, or the result
               of another sum: {"relation": ..., "inputs": ..., "output": ...} (no output named: its first)
    expected   by output: a number (SI), text with a unit or a moment, a list of them, or the state in which
               there is no number ("impossible" or "outside validity")
    tolerance  text with a unit ("2 ft"), {"relative": 1e-6}, or one of these by output. Text is an interval:
               it is converted by factor only. Not needed for states
    source     document and section, or "from memory: ...", or "common practice, no source"
    flag       "read", "read-inputs", "memory", "computed" or "common practice": how the figure was come by
    note       optional
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from tussock import units
from tussock.api import handle

FOLDER = Path(__file__).parent / "rows"
FLAGS = ("read", "read-inputs", "memory", "computed", "common practice")
STATES = ("impossible", "outside validity")
_KEYS = {"id", "relation", "inputs", "expected", "tolerance", "source", "flag", "note"}

#: (method, params) -> the parsed answer of `tussock.api.handle`
Api = Callable[[str, dict[str, Any]], dict[str, Any]]


def native(method: str, params: dict[str, Any]) -> dict[str, Any]:
    """The `Api` of this process."""
    return json.loads(handle(method, json.dumps(params)))


@dataclass(frozen=True)
class Row:
    """One published value; fields as in the files."""

    id: str
    relation: str
    inputs: dict[str, Any]
    expected: dict[str, Any]
    source: str
    flag: str
    tolerance: Any = None
    note: str = ""
    subject: str = ""


def load(folder: Path = FOLDER) -> list[Row]:
    """All rows, in order of file and place. Raises `ValueError` for one that is not as described above."""
    rows = []
    for file in sorted(folder.glob("*.json")):
        for entry in json.loads(file.read_text(encoding="utf-8")):
            wrong = set(entry) - _KEYS
            if wrong:
                raise ValueError(f"{file.name}: {entry.get('id')}: unknown {sorted(wrong)}")
            try:
                rows.append(Row(**entry, subject=file.stem))
            except TypeError as problem:
                raise ValueError(f"{file.name}: {entry.get('id')}: {problem}") from problem
    return rows


def interval(text: str | float, si: str) -> float:
    """A width such as "2 ft" in SI [`si`]: by factor only, for 2 degrees of temperature are 2 K."""
    if not isinstance(text, str):
        return float(text)
    match = re.fullmatch(r"\s*([\d.eE+-]+)\s*(.*?)\s*", text)
    if not match:
        raise ValueError(f"{text!r} is not an interval")
    given, wanted = units.unit(match[2]), units.unit(si)
    if given.dimension.removesuffix(" difference") != wanted.dimension.removesuffix(" difference"):
        raise ValueError(f"{text!r} is not an interval in {si}")
    return float(match[1]) * given.factor / wanted.factor


def _si(value: Any, api: Api) -> Any:
    """Moments, other sums, and lists of texts with units, as SI numbers; all else as it is."""
    if isinstance(value, dict):
        outputs = _call(value["relation"], value["inputs"], api)["outputs"]
        return outputs[value.get("output", next(iter(outputs)))]
    if isinstance(value, list):
        return [_alone(v) if isinstance(v, str) else _si(v, api) for v in value]
    return _moment(value) if _is_moment(value) else value


def _is_moment(value: Any) -> bool:
    return isinstance(value, str) and re.match(r"\d{4}-\d\d-\d\dT", value) is not None


def _moment(text: str) -> float:
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(f"{text!r} does not say which clock")
    return moment.timestamp()


def figure(value: str | float, si: str) -> float:
    """One published figure in SI [`si`]."""
    if not isinstance(value, str):
        return float(value)
    return _moment(value) if _is_moment(value) else units.parse(value, si)


def _alone(text: str) -> float:
    match = re.fullmatch(r"\s*([\d.eE+-]+)\s*(.*?)\s*", text)
    if not match:
        raise ValueError(f"{text!r} is not a number with a unit")
    return float(units.to_si(float(match[1]), match[2]))


def ask(row: Row, api: Api) -> dict[str, Any]:
    """The result of the row's sum. Raises `AssertionError` when it is refused."""
    return _call(row.relation, row.inputs, api)


def _call(relation: str, inputs: dict[str, Any], api: Api) -> dict[str, Any]:
    answer = api("sum", {"name": relation, "args": {k: _si(v, api) for k, v in inputs.items()}})
    assert "result" in answer, f"{relation}: refused: {answer.get('error')}"
    return answer["result"]


def misses(row: Row, result: dict[str, Any]) -> list[str]:
    """What of the result is not as published, in words; empty when all of it is."""
    found = []
    for name, expected in row.expected.items():
        if name not in result["outputs"]:
            raise ValueError(f"{row.id}: {row.relation} has no result {name!r}")
        value, si = result["outputs"][name], result["units"][name]
        if isinstance(expected, str) and expected in STATES:
            if value is not None or result["state"].get(name) != expected:
                found.append(f"{name}: {value} [{si}] {result['state'].get(name, '')}, published: {expected}")
            continue
        values = value if isinstance(expected, list) else [value]
        wanted = expected if isinstance(expected, list) else [expected]
        if not isinstance(values, list) or len(values) != len(wanted):
            raise ValueError(f"{row.id}: {name}: {value} and {expected} are not of one shape")
        for got, one in zip(values, wanted, strict=True):
            published = figure(one, si)
            width = tolerance(row, name, published, si)
            # Not "abs(...) > width": that would let a missing number pass.
            if got is None or not abs(got - published) <= width:
                found.append(f"{name}: {got} [{si}], published: {one} = {published} ± {width}")
    return found


def tolerance(row: Row, name: str, published: float, si: str) -> float:
    """How far an output may be from a published figure [SI]."""
    allowed = row.tolerance
    if isinstance(allowed, dict) and "relative" not in allowed:
        allowed = allowed[name]
    if allowed is None:
        raise ValueError(f"{row.id}: no tolerance")
    if isinstance(allowed, dict):
        return float(allowed["relative"]) * abs(published)
    return interval(allowed, si)
