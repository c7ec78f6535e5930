"""The shell without a browser: it renders texts as the core does, its state is sound, its markup is plain."""

import json
import os
import random
import re
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tussock.text import DEFAULT_UNITS, catalogue, say, shown

ROOT = Path(__file__).resolve().parents[2]
PWA = ROOT / "pwa"
OURS = [
    path for path in (PWA / "src").rglob("*.js") if path.parent.name not in ("pictures", "worker", "offline")
]
CHOSEN: list[dict[str, str]] = [
    {},
    {
        "height": "m",
        "length": "ft",
        "mass": "lb",
        "temperature": "degF",
        "temperature difference": "ddegF",
        "pressure": "inHg",
        "speed": "km/h",
        "volume": "gal",
        "flow": "gal/h",
    },
]


def node(*arguments: str | Path, given: str = "") -> str:
    from steps import environment

    run = subprocess.run(
        [environment.node(), *map(str, arguments)],
        cwd=PWA,
        env={**os.environ, **environment.node_environment()},
        input=given,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout[-4000:] + run.stderr[-2000:]
    return run.stdout


def bundled(name: str, folder: Path) -> Path:
    """A module and all that it imports, JSON too, as one that node takes."""
    for needed in ("node_modules/esbuild", "generated/text.json"):
        assert (PWA / needed).exists(), f"pwa/{needed} is missing: run build_scripts/start.py --build-only"
    target = folder / name
    options = ("--bundle", "--platform=node", "--format=esm", "--log-level=error", f"--outfile={target}")
    node("node_modules/esbuild/bin/esbuild", f"test/{name}", *options)
    return target


def figures() -> list[tuple[float, str, dict[str, str]]]:
    chance = random.Random(7)
    draws = (
        lambda: chance.uniform(-1e4, 1e4),
        lambda: chance.uniform(-1, 1),
        lambda: chance.uniform(0, 1) * 10 ** chance.randint(-9, 9),
        lambda: chance.randint(-99, 99) * 0.5,  # ties, which go to the even digit
        lambda: chance.randint(-9_999_999, 9_999_999) / 8,
        lambda: 0.0,
    )
    cases = [
        (chance.choice(draws)(), dimension, chosen)
        for chosen in CHOSEN
        for dimension in DEFAULT_UNITS
        for _ in range(60)
    ]
    ties = [(value, "mass", {}) for value in (0.25, 0.35, 0.05, 2.45, -0.25, -0.05, 1e15 + 0.5)]
    return [*cases, *ties, (12_345.0, "no such dimension", {})]


def messages() -> list[tuple[dict[str, Any], dict[str, str]]]:
    """Every text of the catalogue with figures, words, other texts, and nothing in its places."""
    chance = random.Random(11)
    kinds: tuple[Any, ...] = (
        lambda: chance.uniform(-3000, 3000),
        lambda: chance.choice([0.5, 2.5, 1e6, 1.5e-7, 123456.5, 1234565.0, -0.0, 99999.95]),
        lambda: "<b>Saltpan</b> & {mass}",
        lambda: "verdict.no",
        lambda: {"text": "verdict.tight"},
        lambda: None,
    )
    found = []
    for text, template in catalogue().items():
        slots = re.findall(r"\{(\w+)", template)
        for kind in kinds if slots else kinds[:1]:
            found.append(({"text": text, "values": {slot: kind() for slot in slots}}, chance.choice(CHOSEN)))
    return [*found, ({"text": "no such text"}, {})]


def test_text_is_rendered_as_the_core_does(tmp_path: Path) -> None:
    numbers, said = figures(), messages()
    given = json.dumps({"figures": numbers, "messages": said})
    answer = json.loads(node(bundled("say.mjs", tmp_path), given=given))
    expected = [shown(*one) for one in numbers]
    wrong = [(c, e, a) for c, e, a in zip(numbers, expected, answer["figures"], strict=True) if e != a]
    assert not wrong, wrong[:5]
    told = [say(*one) for one in said]
    different = [(c, e, a) for c, e, a in zip(said, told, answer["messages"], strict=True) if e != a]
    assert not different, different[:5]
    assert len(numbers) > 3000
    assert len(said) > 500


@pytest.mark.parametrize(
    ("file", "least"),
    [("state.test.mjs", 19), ("writing.test.mjs", 4), ("where.test.mjs", 2), ("room.test.mjs", 5)],
)
def test_state(tmp_path: Path, file: str, least: int) -> None:
    out = node("--test", "--test-reporter=tap", bundled(file, tmp_path))
    passed = re.search(r"^# pass (\d+)", out, re.MULTILINE)
    assert passed
    assert int(passed[1]) >= least, out[-2000:]


def test_every_test_in_javascript_is_run() -> None:
    """By a test of this folder that names its file."""
    ran = "".join(path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("test_*.py"))
    files = [path.name for path in (PWA / "test").glob("*.test.mjs")]
    assert len(files) > 5
    assert [name for name in files if f'"{name}"' not in ran] == []


@pytest.mark.parametrize("path", OURS, ids=lambda path: path.relative_to(PWA / "src").as_posix())
def test_no_style_that_the_policy_refuses_and_no_markup_from_text(path: Path) -> None:
    source = path.read_text(encoding="utf-8")
    assert not re.search(r"\sstyle=|<style|styleMap|innerHTML|unsafeHTML|outerHTML|document\.write", source)
