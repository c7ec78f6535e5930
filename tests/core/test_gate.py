"""The gate: impossible and inconsistent documents are refused with the place, odd ones are warned about."""

from __future__ import annotations

import copy
import json
import math
from typing import Any

import pytest

from tussock.documents import read_bundle, read_document
from tussock.errors import Refused

from .whole import ABSENT, WHOLE, all_of, changed, refusal


def test_the_whole_bundle_is_accepted() -> None:
    """Else every refusal below would prove nothing."""
    assert len(read_bundle(copy.deepcopy(WHOLE)).bundle.documents) == len(WHOLE["documents"])


# --- impossible ------------------------------------------------------------------------------------------

FIG = "/value"
IMPOSSIBLE = [
    ("wren", "/mass/value", -74.0),
    ("wren", "/mass/value", 0.0),
    ("camp", "/items/0/mass/value", -0.001),
    ("dabchick", "/configurations/0/weighing/scales/0/reading/value", -1.0),
    ("dabchick", "/limits/takeoff/value", 0.0),
    ("dabchick", "/wing/area/value", 0.0),
    ("dabchick", "/tanks/0/usable/value", 0.0),
    ("dabchick", "/tanks/0/unusable/value", -1e-3),
    ("dabchick", "/fuel/climb_flow/value", 0.0),
    ("dabchick", "/flaps/0/stall/value", -1.0),
    ("dabchick", "/envelopes/0/vertices/0/mass", -1.0),
    ("saltpan", "/ground/length/value", 0.0),
    ("saltpan", "/ground/length/value", -400.0),
    ("saltpan", "/ground/segments/0/length", 0.0),
    ("saltpan", "/ground/segments/0/slope", 0.9),
    ("saltpan", "/position/latitude", 90.5),
    ("saltpan", "/position/longitude", -180.5),
    ("saltpan", "/directions/0/bearing", 7.0),
    ("saltpan", "/elevation/value", 9000.0),
    ("air-1-from", "/temperature", -1.0),
    ("air-1-from", "/temperature", 100.0),
    ("air-1-from", "/dew_point", -273.15),
    ("air-2-from", "/pressure/qnh", 0.0),
    ("air-1-to", "/wind/speed", -0.1),
    ("air-1-from", "/wind/fullness", 1.1),
    ("week", "/legs/0/fuel/0/volume/value", -0.01),
    ("week", "/water_per_day", -1.0),
    ("ours", "/takeoff_safety", 0.9),
    ("ours", "/contingency", 1.5),
    ("dabchick-notebook", "/entries/0/roll/value", 0.0),
    ("dabchick-notebook", "/entries/0/temperature", 0.0),
]


@pytest.mark.parametrize(("document", "pointer", "value"), IMPOSSIBLE)
def test_an_impossible_figure_is_refused_where_it_stands(document: str, pointer: str, value: float) -> None:
    bundle, path = changed(document, pointer, value)
    said = refusal(bundle)
    assert said.code in ("impossible", "out_of_range")
    assert said.path == path.removesuffix(FIG)
    assert said.expected


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize(
    ("document", "pointer"),
    [
        ("wren", "/mass/value"),
        ("wren", "/mass/sd"),
        ("air-1-from", "/temperature"),
        ("air-1-from", "/pressure/pressure_altitude"),
        ("dabchick", "/envelopes/0/vertices/1/across"),
        ("dabchick", "/performance/0/roll/0/0/0"),
        ("dabchick", "/performance/0/temperature_axis/0"),
        ("saltpan", "/position/latitude"),
        ("hot-and-high", "/steps/0/moves/start"),
    ],
)
def test_a_number_that_is_none_is_refused(document: str, pointer: str, value: float) -> None:
    bundle, path = changed(document, pointer, value)
    assert refusal(bundle).path == path
    assert refusal(json.dumps(bundle)).code == "not_json"  # JSON knows neither NaN nor Infinity


def test_an_infinity_in_disguise_is_refused() -> None:
    bundle, path = changed("air-1-from", "/temperature", 12345.5)
    said = refusal(json.dumps(bundle).replace("12345.5", "1e999"))
    assert (said.code, said.path) == ("not_a_number", path)


@pytest.mark.parametrize("value", ["75 kg", "75", True, None, [75], {"value": 75}, 10**400])
def test_what_is_no_number_is_refused(value: Any) -> None:
    bundle, path = changed("wren", "/mass/value", value)
    said = refusal(bundle)
    assert said.path.startswith(path)
    assert said.code in ("not_a_number", "wrong_type")


@pytest.mark.parametrize(
    "value", [1764057120, 1764057120.5, "yesterday", "2026-11-25T07:52:00", "", True, None]
)
def test_a_time_has_its_offset_and_is_no_number(value: Any) -> None:
    bundle, path = changed("air-1-from", "/at", value)
    assert refusal(bundle).path == path


SQUARE = [(400.0, 0.2), (400.0, 0.4), (600.0, 0.4), (600.0, 0.2)]
ENVELOPES = {
    "empty": ([], "there must be at least 3"),
    "two corners": (SQUARE[:2], "there must be at least 3"),
    "a line": ([(400.0, 0.2), (500.0, 0.3), (600.0, 0.4)], "enclose nothing"),
    "one point": ([(400.0, 0.2)] * 4, "enclose nothing"),
    "a bow tie": ([SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]], "crosses itself"),
    "a touching corner": ([*SQUARE[:3], (400.0, 0.3), SQUARE[3]], "crosses itself"),
    "a spike": ([*SQUARE[:2], (400.0, 0.5), *SQUARE[1:]], "crosses itself"),
}


@pytest.mark.parametrize("name", ENVELOPES)
def test_an_envelope_that_is_no_area_is_refused(name: str) -> None:
    corners, words = ENVELOPES[name]
    vertices = [{"mass": mass, "across": arm} for mass, arm in corners]
    bundle, path = changed("dabchick", "/envelopes/0/vertices", vertices)
    said = refusal(bundle)
    assert path.startswith(said.path)
    assert words in said.message


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("closed", [False, True])
def test_a_plain_envelope_is_accepted_either_way_round_closed_or_not(turned: bool, closed: bool) -> None:
    corners = SQUARE[::-1] if turned else SQUARE
    corners = [*corners, corners[0]] if closed else corners
    vertices = [{"mass": mass, "across": arm} for mass, arm in corners]
    read_bundle(changed("dabchick", "/envelopes/0/vertices", vertices)[0])


def test_fuel_above_the_usable_is_refused_and_to_the_brim_is_not() -> None:
    usable = 0.1
    bundle, path = changed("week", "/legs/0/fuel/0/volume/value", usable * 1.001)
    said = refusal(bundle)
    assert (said.code, said.path) == ("impossible", path.removesuffix(FIG))
    assert "100.1 L" in said.message
    read_bundle(changed("week", "/legs/0/fuel/0/volume/value", usable)[0])


@pytest.mark.parametrize(
    ("document", "pointer", "value"),
    [
        ("dabchick", "/performance/0/mass_axis/1", 360.0),
        ("dabchick", "/performance/0/altitude_axis/3", 0.0),
        ("dabchick", "/performance/0/temperature_axis/0", 400.0),
        ("dabchick", "/performance/0/temperature_axis/0", 10.0),  # below any air, above absolute zero
        ("dabchick", "/performance/0/temperature_axis", []),
        ("dabchick", "/performance/0/roll/0", []),
        ("dabchick", "/performance/0/roll/0/0", [100.0]),
        ("dabchick", "/performance/0/roll/0/0/0", 0.0),
        ("dabchick", "/performance/0/roll/0/0/0", -100.0),
        ("dabchick", "/owner/mass_caps/1/density_altitude", 1000.0),
        ("dabchick", "/flaps/0/correction/1/calibrated", 1.0),
        ("dabchick", "/flaps/0/correction/1/indicated", 1.0),
        ("saltpan", "/ground/segments/0/length", 300.0),
        ("air-1-from", "/day/minimum", 320.0),
        ("air-4-to", "/wind/gust", 1.0),
        ("air-1-from", "/wind/wind_from", ABSENT),
    ],
)
def test_figures_that_contradict_each_other_are_refused(document: str, pointer: str, value: Any) -> None:
    bundle, path = changed(document, pointer, value)
    said = refusal(bundle)
    assert said.path.startswith("/documents/")
    assert path.startswith(said.path) or said.path.startswith(path)


def test_a_known_distance_is_longer_over_50_ft_than_its_roll() -> None:
    known = next(
        i for i, s in enumerate(_document("dabchick")["performance"]) if s["source"] == "known_distance"
    )
    bundle, _ = changed("dabchick", f"/performance/{known}/over_50ft/value", 100.0)
    assert refusal(bundle).path.endswith(f"/performance/{known}")


def _document(name: str) -> dict[str, Any]:
    return next(d for d in WHOLE["documents"] if d["id"] == name)


def test_a_configuration_is_weighed_or_based_on_another_not_both() -> None:
    bundle, path = changed("dabchick", "/configurations/0/based_on", "shelf-out")
    assert refusal(bundle).path == path.removesuffix("/based_on")


# --- inconsistent ----------------------------------------------------------------------------------------

INCONSISTENT = [
    ("week", "/loads/0/placed/0/bay", "attic"),
    ("week", "/loads/0/placed/0/item", "piano"),
    ("week", "/loads/0/seats/0/seat", "roof"),
    ("week", "/loads/0/seats/0/person", "nobody"),
    ("week", "/legs/0/load", "no-load"),
    ("week", "/legs/0/from_strip", "nowhere"),
    ("week", "/legs/0/to_strip", "nowhere"),
    ("week", "/legs/0/alternate", "dabchick"),
    ("week", "/legs/0/takeoff_direction", "99"),
    ("week", "/legs/0/landing_direction", "06"),
    ("week", "/legs/0/takeoff_flap", "ten"),
    ("week", "/legs/0/landing_flap", "none"),
    ("week", "/legs/0/cruise", "fast"),
    ("week", "/legs/0/configuration", "bare"),
    ("week", "/legs/0/aeroplane", "albatross"),
    ("week", "/legs/0/fuel/0/tank", "drop-tank"),
    ("week", "/legs/0/air_from", "air-9"),
    ("week", "/legs/0/air_from", "air-2-from"),
    ("week", "/settings", "theirs"),
    ("week", "/people/0", "nobody"),
    ("week", "/kits/0", "wren"),
    ("dabchick", "/configurations/1/based_on", "gone"),
    ("dabchick", "/configurations/1/based_on", "shelf-out"),
    ("dabchick", "/configurations/0/category", "aerobatic"),
    ("dabchick", "/configurations/0/bays_out/0", "attic"),
    ("dabchick", "/joint_limits/0/stations/0", "attic"),
    ("dabchick", "/performance/0/flap", "half"),
    ("dabchick", "/performance/0/configurations", ["bare"]),
    ("dabchick", "/prefer/takeoff", "hearsay"),
    ("dabchick", "/quirks/0/flap", "half"),
    ("air-1-from", "/strip", "nowhere"),
    ("air-1-from", "/wind/against", "99"),
    ("air-1-from", "/strip", ABSENT),
    ("dabchick-notebook", "/aeroplane", "albatross"),
    ("dabchick-notebook", "/entries/0/configuration", "bare"),
    ("dabchick-notebook", "/entries/0/flap", "half"),
    ("hot-and-high", "/trip", "nowhere"),
    ("hot-and-high", "/leg", "nowhere"),
    ("hot-and-high", "/steps/0/moves/document", "nowhere"),
]


@pytest.mark.parametrize(("document", "pointer", "value"), INCONSISTENT)
def test_what_points_at_nothing_is_refused(document: str, pointer: str, value: Any) -> None:
    bundle, path = changed(document, pointer, value)
    said = all_of(refusal(bundle))
    assert {one.code for one in said} == {"inconsistent"}
    # the place itself, or one above or beside it in the same document
    assert any(path.startswith(one.path) or one.path.startswith(path.rsplit("/", 1)[0]) for one in said)


@pytest.mark.parametrize(("field", "value"), [("trip", "nowhere"), ("leg", "nowhere")])
def test_what_was_open_must_be_there(field: str, value: str) -> None:
    said = refusal(WHOLE | {"open": WHOLE["open"] | {field: value}})
    assert (said.code, said.path) == ("inconsistent", f"/open/{field}")


TWICE = [
    ("dabchick", "/tanks"),
    ("dabchick", "/bays"),
    ("dabchick", "/seats"),
    ("dabchick", "/flaps"),
    ("dabchick", "/configurations"),
    ("dabchick", "/envelopes"),
    ("dabchick", "/performance"),
    ("dabchick", "/cruises"),
    ("dabchick", "/quirks"),
    ("dabchick", "/joint_limits"),
    ("saltpan", "/directions"),
    ("camp", "/items"),
    ("week", "/loads"),
    ("week", "/legs"),
    ("week", "/loads/0/placed"),
    ("week", "/loads/0/seats"),
    ("week", "/legs/0/fuel"),
    ("dabchick-notebook", "/entries"),
    ("hot-and-high", "/steps"),
]


@pytest.mark.parametrize(("document", "pointer"), TWICE)
def test_an_id_that_stands_twice_is_refused(document: str, pointer: str) -> None:
    node: Any = _document(document)
    for part in pointer.split("/")[1:]:
        node = node[int(part)] if part.isdigit() else node[part]
    bundle, path = changed(document, f"{pointer}/{len(node)}", copy.deepcopy(node[0]))
    said = all_of(refusal(bundle))
    assert any(one.code == "duplicate" and one.path.startswith(path) for one in said)


def test_two_documents_of_one_id_are_refused() -> None:
    bundle = copy.deepcopy(WHOLE)
    bundle["documents"].append(copy.deepcopy(bundle["documents"][-1]))
    assert refusal(bundle).code == "duplicate"


def test_an_item_in_two_kits_and_a_seat_that_is_also_a_bay_are_refused() -> None:
    item = copy.deepcopy(_document("camp")["items"][0])
    number = len(_document("tools")["items"])
    assert refusal(changed("tools", f"/items/{number}", item)[0]).code == "duplicate"
    assert any(
        one.code == "duplicate" for one in all_of(refusal(changed("dabchick", "/bays/0/id", "left")[0]))
    )


def test_a_circle_of_configurations_is_refused() -> None:
    bundle, _ = changed("dabchick", "/configurations/0/weighing", ABSENT)
    plane = next(d for d in bundle["documents"] if d["id"] == "dabchick")
    plane["configurations"][0]["based_on"] = "bush"
    assert {one.code for one in all_of(refusal(bundle))} == {"inconsistent"}


# --- shape -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("document", "pointer", "value", "code"),
    [
        ("wren", "/weight", 70, "unknown_field"),
        ("wren", "/mass/unit", "kg", "unknown_field"),
        ("wren", "/name", "", "wrong_type"),
        ("wren", "/name", "x" * 121, "wrong_type"),
        ("wren", "/name", ABSENT, "missing"),
        ("wren", "/kind", "cat", "wrong_type"),
        ("wren", "/kind", ABSENT, "missing"),
        ("wren", "/id", "two words", "wrong_type"),
        ("wren", "/id", "../up", "wrong_type"),
        ("wren", "/mass/origin", "guess", "wrong_type"),
        ("wren", "/flies", "yes", "wrong_type"),
        ("wren", "/flies", 1, "wrong_type"),
        ("camp", "/items", {}, "wrong_type"),
        ("camp", "/items/0/worth", 11, "out_of_range"),
        ("camp", "/items/0/worth", 5.0, "not_a_number"),
        ("camp", "/items/0/size/shape", "round", "wrong_type"),
        ("saltpan", "/directions", [], "wrong_type"),
        ("saltpan", "/directions/0/designator", "37", "wrong_type"),
        ("saltpan", "/directions/0/designator", "0", "wrong_type"),
        ("week", "/legs", [], "wrong_type"),
    ],
)
def test_another_shape_is_refused(document: str, pointer: str, value: Any, code: str) -> None:
    bundle, path = changed(document, pointer, value)
    said = refusal(bundle)
    assert said.code == code
    assert said.path in (path, path.rsplit("/", 1)[0])


@pytest.mark.parametrize("value", [None, [], 3, "text", True])
def test_a_document_is_an_object(value: Any) -> None:
    with pytest.raises(Refused):
        read_document(value)
    assert refusal({"documents": [value]}).path.startswith("/documents/0")


@pytest.mark.parametrize(
    "source",
    [
        "",
        "{",
        "[]",
        "null",
        "3",
        '"text"',
        "{}",
        b"\xff\xfe",
        b"\x89PNG\r\n",
        '{"documents": {}}',
        '{"documents": null}',
        '{"documents": [], "format": "other"}',
        '{"documents": [], "more": 1}',
        '{"documents": [], "open": 3}',
        '{"documents": [], "open": null}',
        '{"documents": [], "removed": []}',
        '{"documents": [], "documents": []}',
        "{'documents': []}",
    ],
)
def test_another_file_is_refused(source: str | bytes) -> None:
    refusal(source)


def test_an_empty_file_of_ours_is_accepted_with_and_without_a_mark_of_byte_order() -> None:
    assert read_bundle('{"documents": []}').bundle.documents == []
    assert read_bundle(b'\xef\xbb\xbf{"documents": []}').bundle.documents == []


def test_every_reason_is_told_with_its_own_place() -> None:
    bundle = copy.deepcopy(WHOLE)
    people = [i for i, d in enumerate(bundle["documents"]) if d["kind"] == "person"]
    bundle["documents"][people[0]]["mass"]["value"] = -1.0
    bundle["documents"][people[0]]["height"]["value"] = 9.0
    said = refusal(bundle)
    paths = {one.path for one in all_of(said)}
    assert paths == {f"/documents/{people[0]}/mass", f"/documents/{people[0]}/height"}
    assert len(said.as_dict()["also"]) == 1
    # the same where the document comes as text of its own
    bundle["documents"][people[0]] = json.dumps(bundle["documents"][people[0]])
    assert {one.path for one in all_of(refusal(bundle))} == paths


# --- documents as texts of their own ---------------------------------------------------------------------


def test_documents_as_text_are_the_same_documents() -> None:
    texts = {**WHOLE, "documents": [json.dumps(document) for document in WHOLE["documents"]]}
    assert read_bundle(texts).bundle.documents == read_bundle(copy.deepcopy(WHOLE)).bundle.documents
    # and the second time, from memory
    assert read_bundle(texts).bundle.documents == read_bundle(copy.deepcopy(WHOLE)).bundle.documents


def test_a_text_that_was_refused_is_refused_again_in_its_own_place() -> None:
    broken = json.dumps({"kind": "person", "id": "x"})
    for index in (0, 1):
        said = refusal({"documents": [broken] * (index + 1) if index == 0 else [_text("wren"), broken]})
        assert said.path == f"/documents/{index}/name"


def _text(name: str) -> str:
    return json.dumps(_document(name))
