"""The pictures: their geometry and what they draw (tests in JavaScript, run by node), and their texts."""

import json
import os
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PWA = ROOT / "pwa"
TEXTS = json.loads((ROOT / "pycore/tussock/text/en/pictures.json").read_text(encoding="utf-8"))
SOURCES = {path.name: path.read_text(encoding="utf-8") for path in (PWA / "src/pictures").glob("*.js")}


@pytest.mark.parametrize("file", ["pictures.geometry.test.mjs", "pictures.drawn.test.mjs"])
def test_in_node(file: str) -> None:
    from steps import environment

    for needed in ("node_modules/lit", "generated/text.json"):
        assert (PWA / needed).exists(), f"pwa/{needed} is missing: run build_scripts/start.py --build-only"
    run = subprocess.run(
        [environment.node(), "--test", "--test-reporter=tap", f"test/{file}"],
        cwd=PWA,
        env={**os.environ, **environment.node_environment()},
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout[-4000:] + run.stderr[-2000:]
    passed = re.search(r"^# pass (\d+)", run.stdout, re.MULTILINE)
    assert passed, run.stdout[-2000:]
    assert int(passed[1]) >= 10, "hardly a test ran:\n" + run.stdout[-2000:]


def test_every_figure_says_its_unit() -> None:
    """A figure in a text has a dimension, which brings its unit; bare are names, counts and other texts."""
    bare = {name: re.findall(r"\{(\w+)\}", text) for name, text in TEXTS.items()}
    allowed = {
        "available", "count", "designator", "has", "how", "mass", "name", "needed", "over", "person",
        "seat", "space", "state", "subject", "thing", "time", "times", "unit", "used", "verdict", "where",
    }  # fmt: skip
    assert not {name: slots for name, slots in bare.items() if set(slots) - allowed}


def test_no_inline_style() -> None:
    """The policy `style-src 'self'` refuses style attributes and elements."""
    for name, source in SOURCES.items():
        assert not re.search(r"\bstyle=|<style|styleMap", source), name
