"""Every relation is declared in full: docstring, units, ranges, source; and something checks it by name."""

from __future__ import annotations

import ast
import inspect
import json
import math
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Annotated, Any

import pytest

from tussock import relation, single, sums, units
from tussock.relation import Number, Quantity, Relation

TESTS = Path(__file__).resolve().parents[1]
REGISTER = single.load_all()

#: Inputs that may be of any size: sums over lists of parts, and times counted from any origin.
UNBOUNDED = {
    "arm_spread": {"masses", "arms", "mass_sds", "arm_sds"},
    "centre_of_gravity": {"masses", "arms"},
    "solar_time": {"noon"},
}


def faults(declared: Relation, unbounded: Iterable[str] = ()) -> list[str]:
    """What a declaration lacks."""
    found = []
    documented = inspect.getdoc(declared.function) or ""
    if len(documented.splitlines()[0] if documented else "") < 10:
        found.append("no docstring")
    if len(declared.title) < 3:
        found.append("no title")
    if len(declared.source) < 8:
        found.append("no source")
    # "[m/s, calibrated]" and "[s since 1970-01-01 UTC]" say their unit first
    bracketed = [inside.split(",")[0].strip() for inside in re.findall(r"\[([^\[\]]+)\]", documented)]
    for unit in sorted({q.unit for q in declared.outputs.values()} - {"1"}):
        if not any(inside == unit or inside.startswith(f"{unit} ") for inside in bracketed):
            found.append(f"docstring does not give the result in [{unit}]")
    for name in declared.plain:
        if not re.search(rf"\b{name}\b", documented):
            found.append(f"docstring does not tell what {name} is")
    for name, quantity in [*declared.inputs.items(), *declared.outputs.items()]:
        if quantity.unit not in units.UNITS:
            found.append(f"{name}: unit {quantity.unit} is unknown")
        elif units.SI[units.UNITS[quantity.unit].dimension] != quantity.unit and quantity.unit != "deg":
            found.append(f"{name}: {quantity.unit} is not SI")
        if len(quantity.name) < 3:
            found.append(f"{name}: no name")
    for name, quantity in declared.inputs.items():
        if not (math.isfinite(quantity.low) and math.isfinite(quantity.high)) and name not in set(unbounded):
            found.append(f"{name}: no finite range")
        if not quantity.low < quantity.high:
            found.append(f"{name}: its range is empty")
    return found


@pytest.mark.parametrize("name", REGISTER)
def test_a_relation_is_declared_in_full(name: str) -> None:
    assert faults(REGISTER[name], UNBOUNDED.get(name, ())) == []


def test_nothing_is_excused_for_nothing() -> None:
    for name, inputs in UNBOUNDED.items():
        for key in inputs:
            quantity = REGISTER[name].inputs[key]
            assert not (math.isfinite(quantity.low) and math.isfinite(quantity.high)), f"{name} {key}"


def test_a_default_lies_in_its_range() -> None:
    for declared in REGISTER.values():
        for name, value in declared.defaults.items():
            if value is not None and name in declared.inputs:
                assert declared.inputs[name].holds(value), f"{declared.name} {name}"


def test_one_name_has_one_unit() -> None:
    """A parameter is measured in the same unit wherever it stands."""
    seen: dict[str, dict[str, str]] = {}
    for declared in REGISTER.values():
        for name, quantity in declared.inputs.items():
            seen.setdefault(name, {})[quantity.unit] = declared.name
    assert {name: by for name, by in seen.items() if len(by) > 1} == {}


def public_sums() -> Iterator[tuple[str, ast.FunctionDef]]:
    """Public functions of the modules of sums."""
    for folder in sums.__path__:
        for file in sorted(Path(folder).glob("*.py")):
            for node in ast.parse(file.read_text(encoding="utf-8")).body:
                if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                    yield file.stem, node


#: Modules of helpers for sums, and public helpers that are no sums of their own.
HELPER_MODULES = {"shapes", "polygon", "roll", "curve"}
HELPERS = {"outside_by"}


def test_every_public_sum_is_a_relation() -> None:
    found = list(public_sums())
    assert len(found) > 100
    plain = [
        f"{module}.{node.name}"
        for module, node in found
        if module not in HELPER_MODULES and node.name not in HELPERS and node.name not in REGISTER
    ]
    assert plain == []


# --- checked by name -------------------------------------------------------------------------------------


def in_rows(node: Any) -> Iterator[str]:
    """Names of relations in a published row, at any depth."""
    if isinstance(node, dict):
        if isinstance(node.get("relation"), str):
            yield node["relation"]
        for child in node.values():
            yield from in_rows(child)
    elif isinstance(node, list):
        for child in node:
            yield from in_rows(child)


def in_tests(source: str) -> set[str]:
    """Names that a test uses: called, passed on, or spelled out; an import alone is no use."""
    tree = ast.parse(source)
    found = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    found |= {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    return found | {
        node.value
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def exercised() -> set[str]:
    found: set[str] = set()
    for file in (TESTS / "published" / "rows").glob("*.json"):
        found |= set(in_rows(json.loads(file.read_text(encoding="utf-8"))))
    for file in (TESTS / "core").glob("test_*.py"):
        found |= in_tests(file.read_text(encoding="utf-8"))
    return found


def test_every_relation_is_exercised_by_a_row_or_a_test() -> None:
    assert sorted(set(REGISTER) - exercised()) == []


def test_every_row_is_of_a_relation_that_is_there() -> None:
    for file in (TESTS / "published" / "rows").glob("*.json"):
        assert set(in_rows(json.loads(file.read_text(encoding="utf-8")))) <= set(REGISTER)


# --- the check itself ------------------------------------------------------------------------------------

Far = Annotated[Number, Quantity("distance", "m", 0.0, 10.0)]


def declared(function: Any, title: str = "A sum", source: str = "a handbook") -> Relation:
    """The declaration of a function that is not to stay in the register."""
    relation.relation(title, source=source)(function)
    return relation.REGISTER.pop(function.__name__)


def _fine(way: Far, table: Any) -> Annotated[Number, Quantity("time", "s")]:
    """How long [s, on the clock] the way takes by `table`."""
    return way


def _mute(way: Far, table: Any) -> Annotated[Number, Quantity("time", "s")]:
    return way


def _bare(way: Far, table: Any) -> Annotated[Number, Quantity("time", "s")]:
    """How long the way takes."""
    return way


def _endless(way: Annotated[Number, Quantity("distance", "m")]) -> Annotated[Number, Quantity("time", "s")]:
    """How long [s] the way takes."""
    return way


def _foreign(
    way: Annotated[Number, Quantity("way", "ft", 0, 1)],
) -> Annotated[Number, Quantity("time", "s/x")]:
    """How long [s/x] the way takes."""
    return way


def test_a_full_declaration_has_no_faults() -> None:
    assert faults(declared(_fine)) == []


@pytest.mark.parametrize(
    ("function", "found"),
    [
        (
            _mute,
            ["no docstring", "docstring does not give the result in [s]", "docstring does not tell what"],
        ),
        (_bare, ["docstring does not give the result in [s]", "docstring does not tell what table is"]),
        (_endless, ["way: no finite range"]),
        (_foreign, ["way: ft is not SI", "_foreign: unit s/x is unknown"]),
    ],
)
def test_a_lacking_declaration_is_found(function: Any, found: list[str]) -> None:
    given = faults(declared(function))
    assert len(given) == len(found)
    assert all(fault.startswith(start) for fault, start in zip(given, found, strict=True))


def test_a_missing_source_is_found() -> None:
    assert faults(declared(_fine, source="me")) == ["no source"]


def test_an_import_alone_exercises_nothing() -> None:
    assert "ceiling" not in in_tests("from tussock.sums.power import ceiling")
    assert "ceiling" in in_tests("from tussock.sums import power\npower.ceiling(1)")
    assert set(in_rows([{"relation": "a", "inputs": {"x": {"relation": "b"}}}])) == {"a", "b"}
