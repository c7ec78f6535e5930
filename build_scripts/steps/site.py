"""The built site in `pwa/dist`: exports, engine, icons, bundle, licences, list of files to store."""

import json
import subprocess
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from . import engine, environment, icons, licences, policy
from .console import note, run, step
from .places import DIST, GENERATED, PWA, PYTHON, STEPS


def build() -> None:
    """Set up both environments and build everything; what has not changed is taken from the cache."""
    environment.set_up_python()
    environment.set_up_node()
    with step("Exports of the core: units, text, schema, demo"):
        export()
    # Built beside the one that may be served just now, and put in its place when it is whole.
    with tempfile.TemporaryDirectory(prefix=".dist-", dir=PWA) as scratch:
        new = Path(scratch) / "dist"
        with step("Engine: Pyodide, packages, core"):
            wheels = engine.build(new / "engine")
        with step("Shell: bundle, icons, licences"):
            icons.write(new / "icons")
            note(f"licences of {licences.write(new, bundle(new), wheels)} parts")
        with step("List of files for use without signal"):
            note(list_files(new))
        if DIST.exists():
            DIST.rename(Path(scratch) / "old")
        new.rename(DIST)


def bundle(folder: Path) -> list[str]:
    """The shell's own files into `folder`; returns the npm packages of which something is in there."""
    settings = json.dumps(
        {"dist": str(folder), "policy": policy.META, "header": policy.HEADER, "built": date_of_the_sources()}
    )
    shipped: list[str] = json.loads(
        run([environment.node(), STEPS / "bundle.mjs", settings], what="Bundling")
    )
    return shipped


def date_of_the_sources() -> str:
    """Day of the last commit: the same sources give the same files. Today where there is no history."""
    found = subprocess.run(
        ["git", "log", "-1", "--format=%cs"], cwd=PWA, capture_output=True, text=True, check=False
    )
    day = found.stdout.strip() if found.returncode == 0 else ""
    return day or datetime.now(UTC).date().isoformat()


def list_files(folder: Path) -> str:
    """Put the list of all that lies in `folder` into its service worker; returns a word on how much it is."""
    return run([environment.node(), STEPS / "precache.mjs", folder], what="Listing the files").strip()


def export() -> None:
    """What the shell needs before the engine is up, written by the core itself."""
    GENERATED.mkdir(parents=True, exist_ok=True)
    run([PYTHON, "-m", "tussock.export", GENERATED], what="Exporting")
