"""The built site: everything listed, checked, compiled and licensed; nothing from elsewhere."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest

from steps import licences, policy, wheels
from steps.console import Stop
from steps.places import NODE_MODULES, STEPS

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def lock(dist: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((dist / "engine" / "pyodide-lock.json").read_text(encoding="utf-8"))
    return found


def stored(dist: Path) -> dict[str, tuple[int, str]]:
    """What the service worker stores: bytes and integrity by address."""
    text = (dist / "sw.js").read_text(encoding="utf-8")
    entries = re.findall(r'\{"bytes":(\d+),"integrity":"([^"]+)","url":"([^"]+)"\}', text)
    return {url: (int(size), integrity) for size, integrity, url in entries}


def test_every_file_is_stored_for_use_without_signal(dist: Path) -> None:
    on_disk = {str(path.relative_to(dist).as_posix()) for path in dist.rglob("*") if path.is_file()}
    assert set(stored(dist)) == on_disk - {"sw.js"}
    assert "engine/pyodide.asm.wasm" in on_disk, "large files are not left out"


def test_listed_sizes_and_hashes_are_those_of_the_files(dist: Path) -> None:
    for url, (size, integrity) in stored(dist).items():
        content = (dist / url).read_bytes()
        assert len(content) == size, url
        assert integrity == "sha256-" + base64.b64encode(hashlib.sha256(content).digest()).decode(), url


def test_lock_names_what_is_shipped_and_no_more(dist: Path, lock: dict[str, Any]) -> None:
    shipped = {path.name for path in (dist / "engine").glob("*.whl")}
    assert {entry["file_name"] for entry in lock["packages"].values()} == shipped
    for name, entry in lock["packages"].items():
        content = (dist / "engine" / entry["file_name"]).read_bytes()
        assert entry["sha256"] == hashlib.sha256(content).hexdigest(), name
        assert set(entry["depends"]) <= set(lock["packages"]), name
    assert "tussock" in lock["packages"]


def test_lock_keeps_versions_of_the_pyodide_release(lock: dict[str, Any]) -> None:
    original = wheels.pyodide_lock()
    assert lock["info"] == original["info"]
    both = set(lock["packages"]) & set(original["packages"])
    assert {"numpy", "pydantic", "pydantic-core"} <= both
    for name in both:
        assert lock["packages"][name]["version"] == original["packages"][name]["version"]


def test_runtime_is_npms_own(dist: Path) -> None:
    """npm held these against their published integrity when it installed them."""
    for name in ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm"):
        assert (dist / "engine" / name).read_bytes() == (NODE_MODULES / "pyodide" / name).read_bytes()


def test_modules_are_shipped_compiled(dist: Path) -> None:
    for path in [*(dist / "engine").glob("*.whl"), dist / "engine" / "python_stdlib.zip"]:
        names = zipfile.ZipFile(path).namelist()
        assert [name for name in names if name.endswith(".py")] == [], path.name
        assert [name for name in names if name.endswith(".pyc")], path.name


def test_core_is_shipped_whole(dist: Path) -> None:
    """Every module and data file of the package, none forgotten by the packaging."""
    (wheel,) = (dist / "engine").glob("tussock-*.whl")
    shipped = {name for name in zipfile.ZipFile(wheel).namelist() if name.startswith("tussock/")}
    source = ROOT / "pycore"
    files = [path for path in (source / "tussock").rglob("*") if path.is_file() and path.suffix != ".pyc"]
    wanted = {path.relative_to(source).as_posix() for path in files if path.name != "__main__.py"}
    assert {re.sub(r"\.py$", ".pyc", name) for name in wanted} == shipped


def test_addresses_are_relative(dist: Path) -> None:
    """So that the site works in a folder of a host, and asks nobody else."""
    html = (dist / "index.html").read_text(encoding="utf-8")
    assert re.findall(r'(?:href|src)="(/|https?:)', html) == []
    style = (dist / "app.css").read_text(encoding="utf-8")
    assert re.findall(r"url\(\s*[\"']?(/|https?:)", style) == []
    manifest = json.loads((dist / "manifest.webmanifest").read_text(encoding="utf-8"))
    for icon in manifest["icons"]:
        assert (dist / icon["src"]).is_file(), icon
    assert manifest["start_url"] == manifest["scope"] == "./"


def test_policy_stands_in_the_page_too(dist: Path) -> None:
    html = (dist / "index.html").read_text(encoding="utf-8")
    assert f'content="{policy.META}"' in html
    assert "unsafe-inline" not in policy.HEADER
    assert "'unsafe-eval'" not in policy.HEADER


def test_licences_of_all_that_is_shipped(dist: Path, lock: dict[str, Any]) -> None:
    text = (dist / "licences.txt").read_text(encoding="utf-8")
    for name, entry in lock["packages"].items():
        assert f"\n{name} {entry['version']}\n" in text
    for title in ("Pyodide", "CPython", "Emscripten", "@fontsource-variable/public-sans"):
        assert re.search(rf"^{title}", text, re.MULTILINE), title
    assert "SIL OPEN FONT LICENSE" in text


def test_a_part_without_licence_stops_the_build(tmp_path: Path) -> None:
    bare = tmp_path / "bare-1.0-py3-none-any.whl"
    with zipfile.ZipFile(bare, "w") as archive:
        archive.writestr("bare-1.0.dist-info/METADATA", "Name: bare\nVersion: 1.0\n")
    wheel = wheels.Wheel("bare", {"version": "1.0"}, bare)
    with pytest.raises(Stop, match=r"bare 1\.0"):
        licences.write(tmp_path, [], [wheel])


def test_a_file_that_is_not_the_one_in_the_lock_is_thrown_away(tmp_path: Path) -> None:
    entry = {"file_name": "numpy.whl", "sha256": hashlib.sha256(b"right").hexdigest()}
    with pytest.raises(Stop, match=r"numpy\.whl"):
        wheels._keep(b"wrong", entry, tmp_path)
    assert list(tmp_path.iterdir()) == []
    wheels._keep(b"right", entry, tmp_path)
    assert wheels._is_whole(tmp_path / "numpy.whl", entry["sha256"])


@pytest.mark.parametrize(
    ("requirement", "met"),
    [
        ("numpy>=2.3", True),
        ("numpy>=99", False),
        ("absent", False),
        ('absent; sys_platform == "win32"', True),
        ('absent; python_version < "3.9"', True),
        ('absent; extra == "test"', True),
    ],
)
def test_requirements_are_held_against_each_other(requirement: str, met: bool) -> None:
    asked = {"installed": {"numpy": "2.4.3"}, "requires": {"core": [requirement]}}
    command = [sys.executable, str(STEPS / "requirements.py"), json.dumps(asked)]
    assert (subprocess.run(command, capture_output=True).returncode == 0) is met


def test_npm_lock_names_no_host() -> None:
    """Packages are held against their integrity, wherever they come from."""
    lock_file = json.loads((ROOT / "pwa" / "package-lock.json").read_text(encoding="utf-8"))
    packages = {name: entry for name, entry in lock_file["packages"].items() if name}
    assert [name for name, entry in packages.items() if "resolved" in entry] == []
    assert [name for name, entry in packages.items() if "integrity" not in entry] == []
