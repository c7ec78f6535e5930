"""Forms without a browser: texts are read as the core reads them, every field has a label."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path
from typing import Any

import pytest

from tussock import units
from tussock.api import handle
from tussock.text import catalogue

from .test_shell import bundled, node

#: what stands in front of the schema's names in the catalogue
ROOTS = ("Aeroplane", "Strip", "Kit", "Person", "Notebook")
HEAD = {"version", "id", "kind", "stamps", "removed", "typed"}
#: written by the core itself, never by hand
ELSEWHERE = {"Fitted", "Figure", "Stamp", "TrackRef"}


def texts() -> list[tuple[str, str]]:
    """Texts as people type them, good and bad, and the SI unit that is expected."""
    chance = random.Random(5)
    numbers = ["0", "12", "12.", ".5", ",5", "12,5", "-3.25", "+7", "1e3", "2.5E-2", "0.1", "1013.25", "007"]
    numbers += [
        f"{chance.uniform(-1, 1) * 10 ** chance.randint(-4, 6):.{chance.randint(0, 9)}f}" for _ in range(150)
    ]
    symbols = [*units.UNITS, *units.ALIASES, "furlong", "KG", "Kts", "°c", "DEGC", ""]
    wanted = sorted({*units.SI.values(), "dK"})
    found = [
        (f"{n}{chance.choice(['', ' ', '  '])}{s}", w)
        for n in numbers[:13]
        for s in symbols
        for w in ("m", "K")
    ]
    found += [
        (f"{chance.choice(numbers)} {chance.choice(symbols)}", chance.choice(wanted)) for _ in range(3000)
    ]
    found += [(f"{n} {u.symbol}", units.SI[u.dimension]) for n in numbers for u in units.UNITS.values()]
    odd = [
        "",
        " ",
        "abc",
        "1.2.3",
        "--1",
        "0x10",
        "NaN",
        "inf",
        "1 200",
        "1e",
        "12 kg kg",
        "5%",
        "5 %",
        "e5",
        "1,2,3",
    ]
    return found + [(one, si) for one in odd for si in ("kg", "1", "deg")]


def by_core(typed: str, si: str) -> float | None:
    try:
        return units.parse(typed, si)
    except ValueError:
        return None


def test_texts_are_read_to_the_last_bit_as_the_core_reads_them(tmp_path: Path) -> None:
    cases = texts()
    answer = json.loads(node(bundled("parse.mjs", tmp_path), given=json.dumps(cases)))
    expected = [by_core(*case) for case in cases]
    wrong = [(c, e, a) for c, e, a in zip(cases, expected, answer, strict=True) if e != a]
    assert wrong == []
    assert sum(one is None for one in expected) > 1000
    assert sum(one is not None for one in expected) > 3000


def test_forms(tmp_path: Path) -> None:
    out = node("--test", "--test-reporter=tap", bundled("forms.test.mjs", tmp_path))
    passed = re.search(r"^# pass (\d+)", out, re.MULTILINE)
    assert passed
    assert int(passed[1]) >= 15, out[-2000:]


# --- labels ----------------------------------------------------------------------------------------------


def classes() -> dict[str, Any]:
    """The classes that forms reach, by name."""
    schema = json.loads(handle("schema"))["result"]["$defs"]
    found: dict[str, Any] = {}

    def reach(name: str) -> None:
        if name in found or name in ELSEWHERE:
            return
        found[name] = schema[name]
        for ref in re.findall(r'"#/\$defs/(\w+)"', json.dumps(schema[name].get("properties", {}))):
            reach(ref)

    for root in ROOTS:
        reach(root)
    return found


CLASSES = classes()
TEXTS = catalogue()


@pytest.mark.parametrize("name", sorted(CLASSES))
def test_every_field_has_a_label(name: str) -> None:
    fields = [
        field
        for field, given in CLASSES[name].get("properties", {}).items()
        if field not in HEAD and "const" not in given
    ]
    shown = [field for field in fields if (name, field) != ("Constants", "fitted")]
    assert [f for f in shown if f"form.{name}.{f}" not in TEXTS and f"form.any.{f}" not in TEXTS] == []


@pytest.mark.parametrize("name", sorted(CLASSES))
def test_every_word_of_a_choice_is_there(name: str) -> None:
    lost = []
    for field, given in CLASSES[name].get("properties", {}).items():
        parts = [given, given.get("items", {}), *given.get("anyOf", ())]
        values = [value for part in parts for value in part.get("enum", ())]
        for value in values:
            ids = (f"form.is.{field}.{value}", f"form.{field}.{value}", f"surface.{value}", f"grade.{value}")
            if not any(one in TEXTS for one in (*ids, f"question.{value}", f"form.is.{value}")):
                lost.append(f"{field}: {value}")
    assert lost == []


def test_an_order_names_fields_that_are_there() -> None:
    orders = {key.removeprefix("form.order."): text for key, text in TEXTS.items() if "form.order." in key}
    assert len(orders) > 4
    for name, order in orders.items():
        assert set(order.split()) <= set(CLASSES[name]["properties"]), name
