"""The text catalogue against all who use it: ids exist and are used, slots are filled and can be shown."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest

from tussock import text, units
from tussock.api import handle
from tussock.demo import demo_bundle
from tussock.questions.answer import QUESTIONS, RANK

from .messages import (
    SLOT,
    Call,
    Pattern,
    Usage,
    lacking,
    python_calls,
    python_patterns,
    shell_calls,
    shell_patterns,
    slots,
)
from .test_layers import core_sources, shell_sources

NOW = "2026-11-25T08:00:00+00:00"
CATALOGUE = text.catalogue()

#: Figures that are rules of the trade or of this app, not data: they may stand in a text.
CONSTANTS = {
    "50 ft": "screen height of take-off and landing distances",
    "15 kt": "FAA AC 150/5345-27: a sock stands straight out at 15 kt or more",
    "20 cm": "UK CAA Safety Sense Leaflet 7c: no factor for grass above 20 cm",
    "15 °C": "reference temperature of the working densities of fuel",
    "70 %": "common practice, no source: 70 % of lift-off speed by half of the strip",
    "3000 ft": "common practice, no source: below it a normally aspirated engine is run full rich",
}
#: Numbers without a unit that are part of a name.
NAMES = {"Jet A-1", "1013", "of 5 bands"}

_MEASURED = re.compile(
    r"\d+(?:[.,]\d+)?\s?(?:kg|lb|g|mm|cm|m|km|in|ft/min|ft|NM|km/h|kt|mph|L/h|L|gal|°C|°F|°|%|hPa|min|h|s|kW|hp)(?![\w/])"
)


def patterns() -> list[Pattern]:
    core = [
        one
        for module, source in core_sources().items()
        if not module.startswith("demo")
        for one in python_patterns(source, module)
    ]
    shell = [one for place, source in shell_sources().items() for one in shell_patterns(source, place)]
    return core + shell


def calls() -> list[Call]:
    core = [one for module, source in core_sources().items() for one in python_calls(source, module)]
    shell = [one for place, source in shell_sources().items() for one in shell_calls(source, place)]
    return core + shell


USAGE = Usage(CATALOGUE, patterns())


def test_every_id_that_is_used_is_in_the_catalogue() -> None:
    assert len(USAGE.ids) > 300, "hardly any ids were found: the reader of the sources is broken"
    assert USAGE.unknown({"pictures/": "picture."}) == []


def test_every_id_of_the_catalogue_is_used() -> None:
    assert [key for key in USAGE.unused() if not key.startswith("form.")] == []


def test_every_id_of_the_forms_is_used() -> None:
    """Labels and words of forms are put together with what the schema names."""
    schema = [Pattern((word,), "schema") for word in schema_words()]
    own = {key: template for key, template in CATALOGUE.items() if key.startswith("form.")}
    assert len(own) > 300
    assert Usage(own, patterns() + schema).unused() == []


def schema_words() -> set[str]:
    """Names of classes and fields, and the values of choices."""
    found = set().union(*schema_choices().values())
    for name, definition in json.loads(handle("schema"))["result"]["$defs"].items():
        found |= {name, *definition.get("properties", ())}
    return found


def test_every_call_fills_the_slots_of_its_text() -> None:
    found = calls()
    assert sum(call.given is not None for call in found) > 250
    assert lacking(found, CATALOGUE) == []


@pytest.mark.parametrize(
    ("subject", "names"), [("question", QUESTIONS), ("verdict", tuple(RANK))], ids=["questions", "verdicts"]
)
def test_what_is_filled_in_from_a_list_is_all_there(subject: str, names: tuple[str, ...]) -> None:
    assert [name for name in names if f"{subject}.{name}" not in CATALOGUE] == []


def test_every_choice_of_the_schema_that_is_shown_has_its_words() -> None:
    choices = schema_choices()
    assert {"surface", "grade", "origin", "kind"} <= set(choices)
    for field, subject in (
        ("surface", "surface"),
        ("grade", "grade"),
        ("origin", "shell.origin"),
        ("kind", "shell.kind"),
    ):
        known = [one for one in choices[field] if f"{subject}.{one}" not in CATALOGUE]
        extra = {"read", "told", "forecast"} if field == "origin" else set()  # how an air was come by
        assert set(known) <= extra, f"{subject}: {known}"


def schema_choices() -> dict[str, set[str]]:
    """Values that a field of the documents may take, by the field's name."""
    schema = json.loads(handle("schema"))["result"]
    found: dict[str, set[str]] = {}
    for definition in schema["$defs"].values():
        for name, given in definition.get("properties", {}).items():
            one = given.get("items", given)
            for part in (one, *one.get("anyOf", ())):
                values = part.get("enum") or ([part["const"]] if "const" in part else [])
                found.setdefault(name, set()).update(v for v in values if isinstance(v, str))
    return found


def test_every_measure_has_its_name_and_its_way_to_be_said() -> None:
    """Names of measures stand in the source as first arguments of these functions."""
    named: dict[str, str] = {}
    for module, source in core_sources().items():
        for function in ("measure", "cant_say", "Measure"):
            for call in python_calls(source, module, function):
                if call.id:
                    named[call.id] = call.where
    assert len(named) > 25
    assert {name: where for name, where in named.items() if f"measure.{name}" not in CATALOGUE} == {}


# --- what is really said ---------------------------------------------------------------------------------


def messages(node: Any) -> Iterator[dict[str, Any]]:
    """Every message in an answer, at any depth."""
    if isinstance(node, dict):
        if isinstance(node.get("text"), str) and isinstance(node.get("values"), dict):
            yield node
        for child in node.values():
            yield from messages(child)
    elif isinstance(node, list):
        for child in node:
            yield from messages(child)


def unsaid(answer: Any) -> list[str]:
    """Messages without a text, or with a slot for which there is no value; names of measures likewise."""
    found = set()
    for one in messages(answer):
        template = CATALOGUE.get(one["text"])
        if template is None:
            found.add(f"{one['text']}: no such text")
        else:
            found |= {f"{one['text']}: no {slot}" for slot in slots(template) if slot not in one["values"]}
    for leg in answer["result"]["legs"]:
        for answered in leg["answers"]:
            for measure in answered["measures"]:
                template = CATALOGUE.get(f"measure.{measure['name']}")
                if template is None:
                    found.add(f"measure.{measure['name']}: no such text")
                else:
                    lost = set(slots(template)) - set(measure["values"])
                    found |= {f"measure.{measure['name']}: no {slot}" for slot in lost}
                if measure["dimension"] not in text.DEFAULT_UNITS:
                    found.add(f"measure.{measure['name']}: dimension {measure['dimension']}")
    return sorted(found)


def answered(bundle: dict[str, Any], leg: str | None = None) -> dict[str, Any]:
    params = {"bundle": bundle, "now": NOW} | ({"leg": leg} if leg else {})
    return json.loads(handle("answer", json.dumps(params)))


def test_all_that_is_said_of_the_demo_has_text_and_values() -> None:
    answer = answered(demo_bundle(NOW))
    assert sum(1 for _ in messages(answer)) > 100
    assert unsaid(answer) == []


def test_all_that_is_said_when_something_is_missing_has_text_and_values() -> None:
    """Every field of the documents of the first leg is left out in turn, where the gate allows it."""
    bundle = demo_bundle(NOW)
    trip = next(one for one in bundle["documents"] if one["kind"] == "trip")
    leg = trip["legs"][0]
    in_it = {leg.get("aeroplane") or trip["aeroplane"], leg["from_strip"], leg["to_strip"], leg["air_from"]}
    heard, accepted = set(), 0
    for place, document in enumerate(bundle["documents"]):
        parts = [leg] if document is trip else [document] if document["id"] in in_it else []
        for part in parts:
            for field in list(part):
                if field in ("id", "kind"):
                    continue
                value = part.pop(field)
                answer = answered(bundle, leg["id"])
                part[field] = value
                if "error" in answer:
                    continue
                accepted += 1
                heard |= {one["text"] for one in messages(answer) if one["text"].startswith("missing.")}
                assert unsaid(answer) == [], f"without {field} of document {place}"
    assert accepted > 20
    assert len(heard) > 10


# --- the texts themselves --------------------------------------------------------------------------------


@pytest.mark.parametrize("key", sorted(CATALOGUE))
def test_a_text_is_well_made(key: str) -> None:
    template = CATALOGUE[key]
    assert template == template.strip() != ""
    assert "{" not in SLOT.sub("", template)
    assert "}" not in SLOT.sub("", template)
    for slot, dimension in slots(template).items():
        if dimension is not None:
            assert dimension in text.DEFAULT_UNITS, f"{slot} is shown as {dimension!r}: no such dimension"
    assert stray_figures(template) == []


def stray_figures(template: str) -> list[str]:
    """Figures with units that stand in a text though they are no constant of the trade."""
    bare = SLOT.sub("", template)
    for name in NAMES:
        bare = bare.replace(name, "")
    return [match[0] for match in _MEASURED.finditer(bare) if match[0] not in CONSTANTS]


@pytest.mark.parametrize("dimension", sorted(text.DEFAULT_UNITS))
def test_every_dimension_is_shown_in_a_unit_that_is_known(dimension: str) -> None:
    symbol, decimals = text.DEFAULT_UNITS[dimension]
    assert symbol in units.UNITS
    assert 0 <= decimals <= 3


@pytest.mark.parametrize("constant", sorted(CONSTANTS))
def test_no_constant_is_allowed_for_nothing(constant: str) -> None:
    assert any(constant in template for template in CATALOGUE.values())


# --- the check itself ------------------------------------------------------------------------------------

SMALL = {"missing.air": "No air at {strip}", "measure.roll": "Roll", "note.spare": "{left|mass} left"}


def usage(python: str = "", shell: str = "") -> Usage:
    return Usage(SMALL, [*python_patterns(python, "q"), *shell_patterns(shell, "pictures/a.js")])


def test_an_unknown_id_is_found() -> None:
    assert usage('message("missing.wind")').unknown() == ["missing.wind (q:1)"]
    assert usage('message(f"missing.{x}.y")').unknown() == ["missing.{}.y (q:1)"]
    assert usage('message(f"missing.{x}")').unknown() == []
    assert usage('"""Like missing.wind."""').unknown() == []
    assert usage(shell="t(`note.${x}_too`); // t('note.gone')").unknown() == ["note.{}_too (pictures/a.js:1)"]


def test_what_a_place_puts_in_front_of_its_ids_counts() -> None:
    found = Usage(
        {"picture.note.far": "", "note.near": ""}, shell_patterns("tell('note.far')", "pictures/a.js")
    )
    assert found.unknown({"pictures/": "picture."}) == []
    assert found.unknown({"screens/": "picture."}) == ["note.far (pictures/a.js:1)"]


def test_an_unused_id_is_found() -> None:
    assert usage('message("missing.air")').unused() == ["measure.roll", "note.spare"]
    assert usage('message(f"measure.{name}")').unused() == ["measure.roll", "missing.air", "note.spare"]
    assert usage('f"measure.{name}"; names = ("roll",)').unused() == ["missing.air", "note.spare"]
    assert usage(shell="t(`note.${x}`, { spare: 1 })").unused() == ["measure.roll", "missing.air"]
    assert usage(shell="t(`no${x}`); html`<b>${t(`missing.${'air'}`)}</b>`").unused() == [
        "measure.roll",
        "note.spare",
    ]


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ('message("missing.air", strip=1)', []),
        ('message("missing.air", other=1)', ["missing.air (q:1): strip"]),
        ('message("missing.air" if a else "note.spare", strip=1)', ["note.spare (q:1): left"]),
        ('def f():\n values = {"strip": 1}\n message("missing.air", **values)', []),
        ('def f():\n values = {"leg": 1}\n message("missing.air", **values)', ["missing.air (q:3): strip"]),
        ('def f(values):\n message("missing.air", **values)', []),
    ],
)
def test_an_empty_slot_is_found(source: str, found: list[str]) -> None:
    assert lacking(python_calls(source, "q"), SMALL) == found


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ('t("missing.air", { strip })', []),
        ('t("missing.air", { strip: { a: 1 }, more: f({ x: 2 }) })', []),
        ('html`${t("missing.air", { place: `${strip}` })}`', ["missing.air (a.js:1): strip"]),
        ('t("missing.air")', ["missing.air (a.js:1): strip"]),
        ('t("missing.air", values)', []),
        ('t("missing.air", { ...values })', []),
    ],
)
def test_an_empty_slot_of_the_shell_is_found(source: str, found: list[str]) -> None:
    assert lacking(shell_calls(source, "a.js"), SMALL) == found


@pytest.mark.parametrize(
    ("template", "found"),
    [("Wait 20 min", ["20 min"]), ("Over 50 ft", []), ("{x|mass} of 12.5 kg", ["12.5 kg"]), ("5 bags", [])],
)
def test_a_stray_figure_is_found(template: str, found: list[str]) -> None:
    assert stray_figures(template) == found
