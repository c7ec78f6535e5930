"""The Python wheels that run in the browser, each held against a hash before it is used.

Compiled ones belong to one Pyodide release; npm's package has its lock file but not the wheels. They come
from the distribution's own address, or, where that can't be reached, out of a package on the Python package
index that carries the identical files. Nothing is trusted for where it came from: the SHA-256 in npm's lock
file decides.

Which packages are needed is walked from the lock file's own dependency lists, and `with_requirements` holds
every wheel's declared requirements against what was picked. The lock pins one version of each package, so
there is nothing for a resolver to choose, and these few lines stand in for starting micropip at build time.
"""

import json
import shutil
import tempfile
import urllib.request
import zipfile
from dataclasses import dataclass, replace
from email.parser import HeaderParser
from pathlib import Path
from typing import Any

from .console import Stop, note, run, step
from .environment import pip
from .places import CACHE, NODE_MODULES, PYTHON, STEPS
from .stamps import sha256

#: What the core imports from the Pyodide distribution.
FROM_PYODIDE = ("numpy", "pydantic")

#: What it imports from the Python package index: file name and SHA-256.
FROM_INDEX = {
    "astral": (
        "astral-3.2-py3-none-any.whl",
        "cb7b49a3f0d4c64ae666be131276d2a3226134c598db10e672028cf8ff855f83",
    ),
    "geographiclib": (
        "geographiclib-2.1-py3-none-any.whl",
        "e2a873b9b9e7fc38721ad73d5f4e6c9ed140d428a339970f505c07056997d40b",
    ),
}

#: Carries the files of Pyodide 314.0.3 in `open_webui/frontend/pyodide/`.
CARRIER = "open-webui==0.12.4 --hash=sha256:02e9caba96234db3fa17a92e56163b3f7f2b8ca8227fa886b85c178d696483f6"
CARRIER_FOLDER = "open_webui/frontend/pyodide/"

SECONDS_TO_WAIT = 20


@dataclass(frozen=True)
class Wheel:
    """One package for the browser: its entry in Pyodide's lock file, and the checked file."""

    name: str
    entry: dict[str, Any]
    path: Path


def pyodide_version() -> str:
    package = json.loads((NODE_MODULES / "pyodide" / "package.json").read_text(encoding="utf-8"))
    return str(package["version"])


def pyodide_lock() -> dict[str, Any]:
    lock: dict[str, Any] = json.loads(
        (NODE_MODULES / "pyodide" / "pyodide-lock.json").read_text(encoding="utf-8")
    )
    return lock


def needed(lock: dict[str, Any], names: tuple[str, ...]) -> dict[str, dict[str, Any]]:
    """The named packages and all that they depend on, by normalised name."""
    found: dict[str, dict[str, Any]] = {}
    waiting = list(names)
    while waiting:
        name = normalise(waiting.pop())
        if name not in found:
            found[name] = lock["packages"][name]
            waiting += found[name]["depends"]
    return dict(sorted(found.items()))


def normalise(name: str) -> str:
    return name.lower().replace("_", "-").replace(".", "-")


def fetch() -> list[Wheel]:
    """All wheels but our own, from the cache where they are there and whole."""
    entries = needed(pyodide_lock(), FROM_PYODIDE)
    folder = CACHE / f"pyodide-{pyodide_version()}"
    folder.mkdir(parents=True, exist_ok=True)
    missing = [one for one in entries.values() if not _is_whole(folder / one["file_name"], one["sha256"])]
    if missing:
        with step(f"{len(missing)} Python packages for the browser"):
            left = _from_distribution(missing, folder)
            if left:
                _from_carrier(left, folder)
    wheels = [Wheel(name, entry, folder / entry["file_name"]) for name, entry in entries.items()]
    return wheels + [_from_index(name, folder) for name in FROM_INDEX]


def _is_whole(path: Path, expected: str) -> bool:
    return path.is_file() and sha256(path.read_bytes()) == expected


def _keep(data: bytes, entry: dict[str, Any], folder: Path) -> None:
    if sha256(data) != entry["sha256"]:
        raise Stop(f"{entry['file_name']} is not the file that Pyodide's lock file names: thrown away.")
    whole = folder / entry["file_name"]
    part = whole.with_suffix(".part")
    part.write_bytes(data)
    part.replace(whole)


def _from_distribution(entries: list[dict[str, Any]], folder: Path) -> list[dict[str, Any]]:
    """Fetch what can be fetched; returns what could not."""
    base = f"https://cdn.jsdelivr.net/pyodide/v{pyodide_version()}/full/"
    for position, entry in enumerate(entries):
        try:
            with urllib.request.urlopen(base + entry["file_name"], timeout=SECONDS_TO_WAIT) as response:
                data = response.read()
        except OSError as problem:
            note(f"the distribution's own address can't be reached ({problem}); trying the package index")
            return entries[position:]
        _keep(data, entry, folder)
        note(entry["file_name"])
    return []


def _from_carrier(entries: list[dict[str, Any]], folder: Path) -> None:
    note("from the package index this takes a download of 106 MB, once")
    with tempfile.TemporaryDirectory() as scratch:
        wanted = Path(scratch) / "carrier.txt"
        wanted.write_text(CARRIER, encoding="utf-8")
        # It is unpacked, not installed, so it does not matter which Python it was made for.
        flags = ("--no-deps", "--require-hashes", "--ignore-requires-python")
        pip("download", *flags, "--dest", scratch, "--requirement", wanted)
        (carrier,) = Path(scratch).glob("*.whl")
        with zipfile.ZipFile(carrier) as archive:
            for entry in entries:
                _keep(archive.read(CARRIER_FOLDER + entry["file_name"]), entry, folder)
                note(entry["file_name"])


def _from_index(name: str, folder: Path) -> Wheel:
    file_name, expected = FROM_INDEX[name]
    path = folder / file_name
    if not _is_whole(path, expected):
        version = file_name.split("-")[1]
        with step(f"{name} {version}"), tempfile.TemporaryDirectory() as scratch:
            wanted = Path(scratch) / "wanted.txt"
            wanted.write_text(f"{name}=={version} --hash=sha256:{expected}", encoding="utf-8")
            pip("download", "--no-deps", "--require-hashes", "--dest", scratch, "--requirement", wanted)
            shutil.move(Path(scratch) / file_name, path)
    return Wheel(name, entry_for(name, path), path)


def entry_for(name: str, path: Path) -> dict[str, Any]:
    """A lock file entry for a pure wheel that Pyodide's own lock file does not know."""
    return {
        "name": name,
        "version": metadata(path)["Version"],
        "file_name": path.name,
        "sha256": sha256(path.read_bytes()),
        "install_dir": "site",
        "package_type": "package",
        "imports": [name],
        "depends": [],  # filled in by `with_requirements`
        "unvendored_tests": False,
    }


def metadata(path: Path) -> Any:
    with zipfile.ZipFile(path) as archive:
        (name,) = [name for name in archive.namelist() if name.endswith(".dist-info/METADATA")]
        return HeaderParser().parsestr(archive.read(name).decode())


def with_requirements(wheels: list[Wheel]) -> list[Wheel]:
    """The same with `depends` as each wheel declares it; stops when the wheels at hand do not meet one."""
    asked = {
        "installed": {normalise(wheel.name): wheel.entry["version"] for wheel in wheels},
        "requires": {wheel.name: metadata(wheel.path).get_all("Requires-Dist") or [] for wheel in wheels},
    }
    command = [str(PYTHON), str(STEPS / "requirements.py"), json.dumps(asked)]
    depends = json.loads(run(command, what="Meeting the requirements of the browser's packages"))
    return [replace(wheel, entry={**wheel.entry, "depends": depends[wheel.name]}) for wheel in wheels]
