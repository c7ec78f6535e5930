"""Where things are. One home for every path that more than one step needs."""

import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
PYCORE = ROOT / "pycore"
PWA = ROOT / "pwa"
NODE_MODULES = PWA / "node_modules"
GENERATED = PWA / "generated"
DIST = PWA / "dist"
STEPS = ROOT / "build_scripts" / "steps"

#: Downloads and compiled packages, kept outside the tree so that a fresh clone does not fetch 100 MB again.
CACHE = Path(
    os.environ.get("TUSSOCK_CACHE")
    or Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache") / "tussock"
)
