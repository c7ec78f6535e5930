"""The folder `engine` of the site: Pyodide, the packages, our own core, and a lock file of just these."""

import json
import shutil
import tempfile
from pathlib import Path

from . import stamps, wheels
from .console import note, run, step
from .environment import node, pip
from .places import CACHE, NODE_MODULES, PYCORE, ROOT, STEPS
from .wheels import Wheel

#: Files of npm's package that the browser loads as they are (npm has held them against their hashes).
CORE_FILES = ("pyodide.mjs", "pyodide.asm.mjs", "pyodide.asm.wasm")
STANDARD_LIBRARY = "python_stdlib.zip"


def core_wheel() -> Wheel:
    """A pure wheel of pycore, built anew when a file of it has changed."""
    folder = CACHE / "core" / _core_hash()
    if not list(folder.glob("*.whl")):
        with step("Wheel of the core"), tempfile.TemporaryDirectory() as scratch:
            pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", scratch, ROOT)
            (built,) = Path(scratch).glob("*.whl")
            folder = (
                CACHE / "core" / _core_hash()
            )  # of what it was built from, should a file have been edited
            folder.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(built, folder / "part")
            (folder / "part").replace(folder / built.name)
        _forget_old("core/*/*.whl")
        _forget_old("compiled/*/tussock-*.whl")
    (path,) = folder.glob("*.whl")
    return Wheel("tussock", wheels.entry_for("tussock", path), path)


def _core_hash() -> str:
    sources = [path for path in PYCORE.rglob("*") if path.is_file() and "__pycache__" not in path.parts]
    return stamps.hash_of(ROOT / "pyproject.toml", sources)[:16]


def _forget_old(pattern: str, keep: int = 12) -> None:
    """Every edit of the core leaves a wheel in the cache: throw away all but the newest."""
    folders = sorted({path.parent for path in CACHE.glob(pattern)}, key=lambda folder: folder.stat().st_mtime)
    for folder in folders[:-keep]:
        shutil.rmtree(folder, ignore_errors=True)


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


def build(folder: Path) -> list[Wheel]:
    """Fill `folder`; returns the wheels as they came, for their licences."""
    everything = wheels.with_requirements([*wheels.fetch(), core_wheel()])
    library = NODE_MODULES / "pyodide" / STANDARD_LIBRARY
    compiled = compile_all([library, *(wheel.path for wheel in everything)])
    folder.mkdir(parents=True, exist_ok=True)
    for name in CORE_FILES:
        _copy(NODE_MODULES / "pyodide" / name, folder / name)
    _copy(compiled[library], folder / STANDARD_LIBRARY)
    shipped = []
    for wheel in everything:
        target = folder / wheel.path.name
        _copy(compiled[wheel.path], target)
        shipped.append((wheel, target))
    (folder / "pyodide-lock.json").write_text(trimmed_lock(shipped), encoding="utf-8")
    size = sum(path.stat().st_size for path in folder.iterdir())
    note(f"engine: {len(list(folder.iterdir()))} files, {size / 1e6:.1f} MB")
    return everything


def _copy(source: Path, target: Path) -> None:
    shutil.copyfile(source, target)
    target.chmod(0o644)
