"""Lint and types are tests like any other, so that one command says whether all is well."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from steps import environment, places

ROOT = Path(__file__).resolve().parents[2]


def assert_clean(command: list[str], folder: Path = ROOT) -> None:
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True)
    if done.returncode:
        pytest.fail(f"{' '.join(command)}\n{done.stdout[-6000:]}{done.stderr[-2000:]}", pytrace=False)


def test_lint() -> None:
    assert_clean([sys.executable, "-m", "ruff", "check", "."])


def test_format() -> None:
    assert_clean([sys.executable, "-m", "ruff", "format", "--check", "."])


@pytest.mark.parametrize("package", ["pycore/tussock", "build_scripts"])
def test_python_types(package: str) -> None:
    assert_clean([sys.executable, "-m", "mypy", package])


@pytest.mark.parametrize("project", ["tsconfig.json", "tsconfig.workers.json"])
def test_javascript_types(project: str) -> None:
    tsc = places.NODE_MODULES / "typescript" / "bin" / "tsc"
    assert_clean([environment.node(), str(tsc), "-p", project], places.PWA)


def test_every_javascript_file_is_type_checked() -> None:
    """A file that switches the checker off would slip through."""
    sources = list((places.PWA / "src").rglob("*.js"))
    assert sources
    assert [path.name for path in sources if "@ts-nocheck" in path.read_text(encoding="utf-8")] == []


def test_node_is_found() -> None:
    assert shutil.which(environment.node()) or Path(environment.node()).is_file()
