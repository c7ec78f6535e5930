"""A file merged into what a device holds: what comes, what goes, what is told, what is refused."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from tussock.api import handle
from tussock.documents import read_bundle
from tussock.documents.merge import merge
from tussock.errors import Refused

from .editing import edit, stamp

Data = dict[str, Any]
BUNDLE = json.loads((Path(__file__).parent / "fixtures/v1/bundle.json").read_text(encoding="utf-8"))


def bundle() -> Data:
    return copy.deepcopy(BUNDLE)


def named(given: Data, name: str) -> Data:
    return next(document for document in given["documents"] if document["id"] == name)


def put(given: Data, document: Data) -> Data:
    kept = [document if one["id"] == document["id"] else one for one in given["documents"]]
    return given | {"documents": kept}


def edited(given: Data, name: str, pointer: str, value: Any, at: int, by: str) -> Data:
    return put(given, edit(named(given, name), pointer, value, at, by))


def file_of(*documents: Data, **more: Any) -> Data:
    return {"format": "tussock", "version": 1, "documents": list(documents)} | more


def told(found: Any) -> list[tuple[str, str, str]]:
    return [(change["document"], change["pointer"], change["kind"]) for change in found.changes]


def litres(value: float) -> Data:
    return {"value": value / 1000, "origin": "measured"}


# --- what comes ------------------------------------------------------------------------------------------


def test_the_same_file_changes_nothing() -> None:
    found = merge(bundle(), json.dumps(bundle()))
    assert (found.documents, found.gone, found.changes, found.not_joined) == ([], [], [], [])
    assert found.unchanged == len(BUNDLE["documents"])


def test_a_changed_field_comes_with_what_it_measures() -> None:
    theirs = edited(bundle(), "dabchick", "/tanks/main/usable", litres(90.0), 5, "b")
    found = merge(bundle(), file_of(named(theirs, "dabchick")))
    (change,) = found.changes
    before = named(BUNDLE, "dabchick")["tanks"][0]["usable"]
    assert change == {
        "document": "dabchick",
        "name": "Dabchick",
        "pointer": "/tanks/main/usable",
        "within": ["Wing tanks"],
        "before": before,
        "after": litres(90.0),
        "kind": "changed",
        "dimension": "volume",
        "unit": "m³",
    }
    (document,) = found.documents
    assert document.tanks[0].usable.value == 0.09
    assert found.unchanged == len(BUNDLE["documents"]) - 1


def test_a_new_document_and_a_new_element_are_added() -> None:
    person = {"version": 1, "kind": "person", "id": "heron", "name": "Heron"}
    bay = {"id": "net", "name": "Net"}
    theirs = edited(bundle(), "dabchick", "/bays/net", bay, 5, "b")
    found = merge(bundle(), file_of(person, named(theirs, "dabchick")))
    assert told(found) == [("heron", "", "added"), ("dabchick", "/bays/net", "added")]
    assert found.changes[1]["after"] == bay
    assert found.changes[1]["within"] == ["Net"]
    assert [document.id for document in found.documents] == ["heron", "dabchick"]


def test_a_removed_element_goes() -> None:
    theirs = edited(bundle(), "dabchick", "/quirks/slip", None, 5, "b")
    found = merge(bundle(), file_of(named(theirs, "dabchick")))
    assert told(found) == [("dabchick", "/quirks/slip", "removed")]
    assert found.documents[0].removed.keys() >= {"/quirks/slip"}


def test_another_order_is_one_change() -> None:
    plane = named(bundle(), "dabchick")
    names = [quirk["id"] for quirk in plane["quirks"]]
    theirs = edit(plane, "/quirks", names[::-1], 5, "b")
    found = merge(bundle(), file_of(theirs))
    assert told(found) == [("dabchick", "/quirks", "changed")] if len(names) > 1 else not found.changes


def test_a_conflict_tells_all_three_values() -> None:
    mine = edited(bundle(), "dabchick", "/limits/takeoff", {"value": 590.0, "origin": "book"}, 5, "a")
    theirs = edited(bundle(), "dabchick", "/limits/takeoff", {"value": 580.0, "origin": "book"}, 4, "b")
    (change,) = merge(mine, theirs).changes
    assert change["kind"] == "conflict"
    assert (change["before"]["value"], change["after"]["value"], change["other"]["value"]) == (590, 590, 580)
    assert (change["dimension"], change["unit"]) == ("mass", "kg")
    (back,) = merge(theirs, mine).changes
    assert (back["before"]["value"], back["after"]["value"], back["other"]["value"]) == (580, 590, 580)


def test_both_devices_end_with_the_same_documents() -> None:
    mine = edited(bundle(), "dabchick", "/limits/takeoff", {"value": 590.0, "origin": "book"}, 5, "a")
    mine = edited(mine, "week", "/name", "Mine", 6, "a")
    theirs = edited(bundle(), "dabchick", "/limits/landing", {"value": 580.0, "origin": "book"}, 4, "b")
    theirs = edited(theirs, "week", "/name", "Theirs", 7, "b")
    one = {d.id: d for d in merge(mine, theirs).documents}
    other = {d.id: d for d in merge(theirs, mine).documents}
    assert set(one) == {"dabchick", "week"}
    assert one["week"] == other.get("week", read_bundle(theirs).bundle.by_id["week"])
    assert one["dabchick"] == other["dabchick"]


def test_units_and_look_stay_those_of_the_device() -> None:
    settings = next(d for d in BUNDLE["documents"] if d["kind"] == "settings")
    mine = edited(bundle(), settings["id"], "/look", "night", 1, "a")
    theirs = edited(bundle(), settings["id"], "/look", "sun", 9, "b")
    theirs = edited(theirs, settings["id"], "/units/mass", "lb", 9, "b")
    theirs = edited(theirs, settings["id"], "/contingency", 0.1, 9, "b")
    found = merge(mine, theirs)
    assert told(found) == [(settings["id"], "/contingency", "changed")]
    assert (found.documents[0].look, found.documents[0].contingency) == ("night", 0.1)
    assert found.documents[0].units == read_bundle(mine).bundle.by_id[settings["id"]].units


def test_settings_that_are_new_look_as_the_device_does() -> None:
    theirs = {"version": 1, "kind": "settings", "id": "other", "name": "Other", "look": "sun"}
    mine = {"version": 1, "kind": "settings", "id": "own", "name": "Own", "look": "night"}
    assert merge(file_of(mine), file_of(theirs)).documents[0].look == "night"
    assert merge(file_of(), file_of(theirs)).documents[0].look == "sun"


# --- what goes -------------------------------------------------------------------------------------------

HERON = {"version": 1, "kind": "person", "id": "heron", "name": "Heron"}


def test_a_document_that_was_removed_goes_and_does_not_come_back() -> None:
    known = edit(HERON, "/name", "Heron", 1, "a")
    gone = file_of(removed={"heron": stamp(5, "b", stamp(1, "a")["at"])})
    found = merge(file_of(known), gone)
    assert (found.gone, told(found)) == (["heron"], [("heron", "", "removed")])
    again = merge(file_of(removed=found.removed), file_of(known))
    assert (again.documents, again.gone, again.changes) == ([], [], [])
    assert set(again.removed) == {"heron"}


def test_what_was_edited_after_its_removal_stays_and_is_told() -> None:
    mine = file_of(edit(HERON, "/name", "Grey heron", 9, "a"))
    found = merge(mine, file_of(removed={"heron": stamp(5, "b")}))
    assert (found.gone, told(found), found.removed) == ([], [("heron", "", "conflict")], {})


def test_a_removal_that_did_not_see_the_edits_is_told_as_a_conflict() -> None:
    mine = file_of(edit(HERON, "/name", "Grey heron", 4, "a"))
    found = merge(mine, file_of(removed={"heron": stamp(5, "b")}))
    assert (found.gone, told(found)) == (["heron"], [("heron", "", "conflict")])


def test_a_removed_document_that_others_name_stays() -> None:
    found = merge(bundle(), file_of(removed={"dabchick": stamp(3000, "b")}))
    assert found.gone == []
    assert [one["document"] for one in found.not_joined] == ["dabchick"]
    assert "dabchick" not in found.removed


# --- what is refused -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("theirs", "code", "path"),
    [
        ("{", "not_json", ""),
        ("[]", "wrong_type", ""),
        ('{"documents": [{"kind": "person"}]}', "missing", "/documents/0/id"),
        (file_of(HERON | {"version": 99}), "newer_version", "/documents/0/version"),
        (file_of(HERON, HERON), "duplicate", "/documents/1/id"),
        (file_of(HERON, removed={"x": {}}), "missing", "/removed/x/at"),
        ("[" * 100, "too_deep", ""),
        (" " * 9_000_000, "too_large", ""),
    ],
    ids=["half", "list", "no id", "newer", "twice", "tombstone", "deep", "large"],
)
def test_a_broken_file_is_refused_with_its_place(theirs: Any, code: str, path: str) -> None:
    with pytest.raises(Refused) as refusal:
        merge(bundle(), theirs)
    assert (refusal.value.code, refusal.value.path) == (code, path)


def test_documents_of_the_device_that_do_not_pass_are_said_to_be_mine() -> None:
    with pytest.raises(Refused) as refusal:
        merge(file_of(HERON | {"mass": 3}), file_of())
    assert refusal.value.path.startswith("/mine/documents/0/mass")


def test_another_kind_under_the_same_id_is_not_joined() -> None:
    other = {"version": 1, "kind": "kit", "id": "heron", "name": "Heron", "items": []}
    found = merge(file_of(HERON), file_of(other))
    assert (found.documents, found.changes, found.unchanged) == ([], [], 1)
    assert [(one["document"], one["error"]["path"]) for one in found.not_joined] == [("heron", "/kind")]


def test_what_joins_to_the_impossible_keeps_the_stored_one() -> None:
    ground = {"length": {"value": 300.0, "origin": "book"}, "segments": [{"length": 300.0, "slope": 0.0}]}
    way = {"id": "09", "designator": "09", "bearing": 1.57, "along": "forward", "use": "both"}
    strip = {"version": 1, "kind": "strip", "id": "s", "name": "S", "ground": ground, "directions": [way]}
    mine = edit(strip, "/ground/length", {"value": 304.0, "origin": "book"}, 1, "a")
    theirs = edit(strip, "/ground/segments", [{"length": 296.0, "slope": 0.0}], 2, "b")
    found = merge(file_of(mine), file_of(theirs, HERON))
    assert [document.id for document in found.documents] == ["heron"]
    (reason,) = found.not_joined
    assert reason["reason"] == {"text": "merge.not_joined", "values": {"name": "S"}}
    assert "segments add up" in reason["error"]["message"]


def test_a_document_whose_links_lead_nowhere_is_left_out() -> None:
    trip = named(bundle(), "week")
    found = merge(file_of(HERON), file_of(trip))
    assert found.documents == []
    assert [one["document"] for one in found.not_joined] == ["week"]


def test_a_change_that_breaks_a_link_of_a_stored_document_is_taken_back() -> None:
    tank = named(BUNDLE, "week")["legs"][0]["fuel"][0]["tank"]
    theirs = edited(bundle(), "dabchick", f"/tanks/{tank}", None, 3000, "b")
    theirs = edit(named(theirs, "dabchick"), "/note", "Changed", 3000, "b")
    found = merge(bundle(), file_of(theirs, HERON))
    assert [document.id for document in found.documents] == ["heron"]
    assert [one["document"] for one in found.not_joined] == ["dabchick"]


# --- through the border ----------------------------------------------------------------------------------


def ask(**params: Any) -> Data:
    return json.loads(handle("merge", json.dumps(params)))


def test_the_method_takes_documents_as_texts_and_gives_data() -> None:
    theirs = edited(bundle(), "dabchick", "/note", "Changed", 3000, "b")
    texts = [json.dumps(document) for document in BUNDLE["documents"]]
    result = ask(mine=texts, theirs=json.dumps(theirs))["result"]
    assert set(result) == {"documents", "gone", "removed", "changes", "not_joined", "unchanged"}
    assert result["documents"][0]["note"] == "Changed"
    assert json.loads(handle("merge", json.dumps({"mine": bundle(), "theirs": theirs})))["result"] == result


def test_the_result_stored_and_merged_again_changes_nothing() -> None:
    theirs = edited(bundle(), "dabchick", "/note", "Changed", 3000, "b")
    theirs = edited(theirs, "week", "/name", "Other week", 3000, "b")
    result = ask(mine=bundle(), theirs=theirs)["result"]
    mine = bundle()
    for document in result["documents"]:
        mine = put(mine, document)
    again = ask(mine=mine, theirs=theirs)["result"]
    assert (again["documents"], again["changes"]) == ([], [])
    assert ask(mine=theirs, theirs=mine)["result"]["changes"] == []


def test_both_sides_are_asked_for() -> None:
    assert ask(mine=[])["error"]["path"] == "/theirs"
    assert ask(theirs="{}")["error"]["path"] == "/mine"
