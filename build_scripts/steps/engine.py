"""`dist/engine`: Pyodide, the packages and our own core, with a lock file that names just these."""

import json
import shutil
import tempfile
from pathlib import Path

from . import stamps, wheels
from .console import note, run, step
from .environment import node, pip
from .places import CACHE, ENGINE, NODE_MODULES, PYCORE, ROOT, STEPS
from .wheels import Wheel

#: Files of npm's package that the browser loads as they are (npm has held them against their hashes).
CORE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
STANDARD_LIBRARY = "python_stdlib.zip"


def core_wheel() -> Wheel:
    """A pure wheel of pycore, built anew when a file of it has changed."""
    sources = [path for path in PYCORE.rglob("*") if path.is_file() and "__pycache__" not in path.parts]
    folder = CACHE / "core" / stamps.hash_of(ROOT / "pyproject.toml", sources)[:16]
    if not list(folder.glob("*.whl")):
        with step("Wheel of the core"), tempfile.TemporaryDirectory() as scratch:
            pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", scratch, ROOT)
            (built,) = Path(scratch).glob("*.whl")
            folder.mkdir(parents=True, exist_ok=True)
            shutil.move(built, folder / built.name)
    (path,) = folder.glob("*.whl")
    return Wheel("tussock", wheels.entry_for("tussock", path), path)


def compile_all(paths: list[Path]) -> dict[Path, Path]:
    """Archives with compiled modules, from the cache where source and way of repacking are the same."""
    way = stamps.hash_of(STEPS / "repack.py", wheels.pyodide_version())
    targets = {path: CACHE / "compiled" / stamps.hash_of(way, path)[:16] / path.name for path in paths}
    jobs = [[str(path), str(target)] for path, target in targets.items() if not target.is_file()]
    if jobs:
        with step(f"Compiling the modules of {len(jobs)} archives, with the browser's own interpreter"):
            run([node(), STEPS / "repack.mjs", json.dumps(jobs)], what="Compiling")
    return targets


def trimmed_lock(shipped: list[tuple[Wheel, Path]]) -> str:
    """Pyodide's lock file with our packages only, base names, and the hashes of what is really shipped."""
    packages = {}
    for wheel, path in shipped:
        packages[wheels.normalise(wheel.name)] = {
            **wheel.entry,
            "file_name": path.name,
            "sha256": stamps.sha256(path.read_bytes()),
        }
    lock = {"info": wheels.pyodide_lock()["info"], "packages": dict(sorted(packages.items()))}
    return json.dumps(lock, indent=1, sort_keys=True)


def build() -> list[Wheel]:
    """Fill `dist/engine`; returns the wheels as they came, for their licences."""
    everything = wheels.with_requirements([*wheels.fetch(), core_wheel()])
    library = NODE_MODULES / "pyodide" / STANDARD_LIBRARY
    compiled = compile_all([library, *(wheel.path for wheel in everything)])
    ENGINE.mkdir(parents=True, exist_ok=True)
    for name in CORE_FILES:
        _copy(NODE_MODULES / "pyodide" / name, ENGINE / name)
    _copy(compiled[library], ENGINE / STANDARD_LIBRARY)
    shipped = []
    for wheel in everything:
        target = ENGINE / wheel.path.name
        _copy(compiled[wheel.path], target)
        shipped.append((wheel, target))
    (ENGINE / "pyodide-lock.json").write_text(trimmed_lock(shipped), encoding="utf-8")
    size = sum(path.stat().st_size for path in ENGINE.iterdir())
    note(f"engine: {len(list(ENGINE.iterdir()))} files, {size / 1e6:.1f} MB")
    return everything


def _copy(source: Path, target: Path) -> None:
    shutil.copyfile(source, target)
    target.chmod(0o644)
