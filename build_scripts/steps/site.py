"""The built site in `pwa/dist`: exports, engine, icons, bundle, licences, list of files to store."""

import json
import shutil

from . import engine, environment, icons, licences, policy
from .console import note, run, step
from .places import DIST, GENERATED, PYCORE, PYTHON, STEPS


def build() -> None:
    """Set up both environments and build everything; what has not changed is taken from the cache."""
    environment.set_up_python()
    environment.set_up_node()
    with step("Exports of the core: units, text, schema, demo"):
        export()
    with step("Engine: Pyodide, packages, core"):
        shutil.rmtree(DIST, ignore_errors=True)
        wheels = engine.build()
    with step("Shell: bundle, icons, licences"):
        icons.write(DIST / "icons")
        settings = json.dumps({"dist": str(DIST), "policy": policy.META})
        shipped = json.loads(run([environment.node(), STEPS / "bundle.mjs", settings], what="Bundling"))
        note(f"licences of {licences.write(shipped, wheels)} parts")
    with step("List of files for use without signal"):
        note(run([environment.node(), STEPS / "precache.mjs", DIST], what="Listing the files").strip())


def export() -> None:
    """What the shell needs before the engine is up, written by the core itself."""
    if not (PYCORE / "tussock" / "export.py").exists():
        note("the core has nothing to export")
        return
    GENERATED.mkdir(parents=True, exist_ok=True)
    run([PYTHON, "-m", "tussock.export", GENERATED], what="Exporting")
