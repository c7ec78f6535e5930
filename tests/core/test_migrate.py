"""Documents of version 0: frozen files become what is written beside them, however they come in."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tussock import units
from tussock.api import handle
from tussock.documents import read_bundle, read_document
from tussock.documents.base import VERSION
from tussock.documents.merge import merge
from tussock.documents.migrate import STEPS, migrate
from tussock.documents.parts import plain
from tussock.errors import Refused

FOLDER = Path(__file__).parent / "fixtures" / "v0"
FILES = sorted(FOLDER.glob("*.json"))
SINGLE = [path for path in FILES if path.stem != "bundle"]


def old(name: str) -> dict[str, Any]:
    return json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))


def expected(name: str) -> dict[str, Any]:
    return json.loads((FOLDER / "expected" / f"{name}.json").read_text(encoding="utf-8"))


def test_there_is_a_step_from_every_older_version() -> None:
    assert sorted(STEPS) == list(range(VERSION))
    assert {path.stem for path in FILES} == {path.stem for path in (FOLDER / "expected").glob("*.json")}


@pytest.mark.parametrize("path", SINGLE, ids=lambda path: path.stem)
def test_a_frozen_document_becomes_what_is_written_beside_it(path: Path) -> None:
    given = old(path.stem)
    assert migrate(given, "") == expected(path.stem)
    assert given == old(path.stem), "what was given is not touched"


@pytest.mark.parametrize("path", SINGLE, ids=lambda path: path.stem)
def test_it_passes_the_gate_and_keeps_its_id_and_name(path: Path) -> None:
    document = read_document(old(path.stem))
    given = old(path.stem)
    assert (document.version, document.id, document.name) == (VERSION, given["id"], given["name"])
    assert document == read_document(expected(path.stem))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_twice_is_as_good_as_once(path: Path) -> None:
    once = migrate(old(path.stem), "")
    assert migrate(once, "") == once


def test_a_file_of_mixed_versions_is_read_as_one() -> None:
    assert {document["version"] for document in old("bundle")["documents"]} == {0, 1}
    accepted = read_bundle((FOLDER / "bundle.json").read_bytes())
    assert accepted.warnings == []
    assert accepted.bundle == read_bundle(expected("bundle")).bundle
    assert accepted.bundle.open.trip == "outing"
    assert set(accepted.bundle.removed) == {"old-strip"}


def test_documents_as_texts_migrate_too() -> None:
    texts = [json.dumps(document) for document in old("bundle")["documents"]]
    assert read_bundle({"documents": texts}).bundle.documents == read_bundle(old("bundle")).bundle.documents


def test_an_old_file_merges_into_new_documents() -> None:
    found = merge(expected("bundle"), old("bundle"))
    assert (found.changes, found.not_joined) == ([], [])


def test_the_border_gives_documents_in_the_present_version() -> None:
    result = json.loads(handle("migrate", json.dumps({"bundle": old("bundle")})))["result"]
    assert result["documents"] == [plain(read_document(one)) for one in expected("bundle")["documents"]]
    assert (result["version"], result["migrated"]) == (VERSION, 4)
    again = json.loads(handle("migrate", json.dumps({"bundle": result | {"migrated": 0}})))
    assert again["error"]["code"] == "unknown_field"
    del result["migrated"]
    assert json.loads(handle("migrate", json.dumps({"bundle": result})))["result"]["migrated"] == 0


@pytest.mark.parametrize("path", SINGLE, ids=lambda path: path.stem)
def test_every_plain_number_is_an_estimate_and_says_so(path: Path) -> None:
    """None of the numbers that were figures is lost, and none claims to be better than it is."""
    before, after = figures(expected(path.stem)), figures(plain(read_document(old(path.stem))))
    assert after == before
    assert {origin for place, (_, origin) in after.items() if "items/1/mass" not in place} <= {"estimated"}


def figures(node: Any, place: str = "") -> dict[str, tuple[float, str]]:
    if isinstance(node, dict) and {"value", "origin"} <= set(node):
        return {place: (node["value"], node["origin"])}
    children = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    return {k: v for name, child in children for k, v in figures(child, f"{place}/{name}").items()}


def test_what_was_typed_for_an_air_says_the_number_that_is_stored() -> None:
    air = read_document(old("air"))
    assert units.parse(air.typed["/pressure/qnh"], "Pa") == air.pressure.qnh
    assert units.parse(air.typed["/temperature"], "K") == air.temperature
    assert units.parse(air.typed["/wind/speed"], "m/s") == air.wind.speed


def test_a_wind_from_nowhere_is_no_wind_but_is_not_lost() -> None:
    given = old("air")
    del given["wind_from_deg"], given["stamps"]
    air = read_document(given)
    assert (air.wind, air.note) == (None, "[wind_kt 8]")


# --- what is refused -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "code", "path"),
    [
        ({"qnh_hpa": "high"}, "not_a_number", "/qnh_hpa"),
        ({"qnh_hpa": True}, "not_a_number", "/qnh_hpa"),
        ({"wind_kt": 10**400}, "not_a_number", "/wind_kt"),
        ({"temperature": 290.0}, "inconsistent", "/temperature_c"),
        ({"temperature_c": 900}, "out_of_range", "/temperature"),
        ({"humidity": 40}, "unknown_field", "/humidity"),
        ({"version": -1}, "not_supported", "/version"),
        ({"version": 2}, "newer_version", "/version"),
        ({"version": "0"}, "wrong_type", "/version"),
        ({"stamps": {"/qnh_hpa": 3, "/altimeter_ft": 4}}, "wrong_type", "/stamps//pressure"),
    ],
)
def test_what_cannot_be_read_is_refused_with_its_place(change: dict[str, Any], code: str, path: str) -> None:
    with pytest.raises(Refused) as refusal:
        read_document(old("air") | change)
    assert (refusal.value.path, refusal.value.code) in {(path, code), (path, "impossible")}


def test_the_place_is_that_in_the_file() -> None:
    given = old("bundle") | {"documents": [old("person"), old("air") | {"qnh_hpa": "high"}]}
    with pytest.raises(Refused) as refusal:
        read_bundle(given | {"open": {}})
    assert refusal.value.path == "/documents/1/qnh_hpa"


@pytest.mark.parametrize("mass", [10**400, True, "78", [78], {"kg": 78}])
def test_what_is_no_number_is_left_for_the_gate(mass: Any) -> None:
    with pytest.raises(Refused) as refusal:
        read_document(old("person") | {"mass": mass})
    assert refusal.value.path.startswith("/mass")


@pytest.mark.parametrize("kind", [None, 3, ["air"], "balloon"])
def test_an_unknown_kind_is_refused_not_mended(kind: Any) -> None:
    with pytest.raises(Refused):
        read_document({"version": 0, "kind": kind, "id": "x", "name": "X"})
