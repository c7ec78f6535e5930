"""Lint, layout and types: the core, the scripts and the tests are clean by the rules of `pyproject.toml`."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EVERYTHING = ["pycore", "build_scripts", "tests"]


@pytest.mark.parametrize(
    "command",
    [["ruff", "check", *EVERYTHING], ["ruff", "format", "--check", "pycore"], ["mypy"]],
    ids=["lint", "layout", "types"],
)
def test_clean(command: list[str]) -> None:
    assert importlib.util.find_spec(command[0]), (
        f"{command[0]} is not installed: build_scripts/test.py does it"
    )
    run = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True)
    assert run.returncode == 0, run.stdout[-4000:] + run.stderr[-2000:]
