"""`licences.txt` of the site: the notice of all that is shipped. A part without a text stops the build."""

import json
import re
import zipfile
from pathlib import Path

from .console import Stop
from .places import NODE_MODULES, PWA, ROOT
from .wheels import Wheel

#: Texts for parts whose packages come without one; see its README.
KEPT = ROOT / "build_scripts" / "licences"

#: What is inside Pyodide's compiled module, and its licence file in `KEPT`.
INSIDE_PYODIDE = {
    "Pyodide": "mpl-2.0.txt",
    "CPython (interpreter and standard library)": "cpython.txt",
    "Emscripten runtime and musl": "emscripten.txt",
}

LICENCE_FILE = re.compile(r"(^|/)(licen[cs]e|copying|notice)[^/]*$", re.IGNORECASE)


def write(folder: Path, npm_packages: list[str], wheels: list[Wheel]) -> int:
    """Write the file into `folder`; returns the number of parts."""
    parts: dict[str, list[str]] = {}
    for package in npm_packages:
        name, texts = _npm(PWA / package)
        parts[name] = texts
    version = json.loads((NODE_MODULES / "pyodide" / "package.json").read_text(encoding="utf-8"))["version"]
    for title, file_name in INSIDE_PYODIDE.items():
        parts[f"{title}, as built for Pyodide {version}"] = [(KEPT / file_name).read_text(encoding="utf-8")]
    for wheel in wheels:
        parts[f"{wheel.name} {wheel.entry['version']}"] = _wheel(wheel.path)
    bare = [name for name, texts in parts.items() if not any(text.strip() for text in texts)]
    if bare:
        raise Stop(f"No licence text found for: {', '.join(bare)}.")
    blocks = ["Tussock is made with the parts below, each under its own licence.\n"]
    for name, texts in sorted(parts.items(), key=lambda item: item[0].lower()):
        head = f"{'=' * 78}\n{name}\n{'=' * 78}"
        blocks.append("\n\n".join([head, *(text.strip() for text in texts)]) + "\n")
    (folder / "licences.txt").write_text("\n".join(blocks), encoding="utf-8")
    return len(parts)


def _npm(folder: Path) -> tuple[str, list[str]]:
    package = json.loads((folder / "package.json").read_text(encoding="utf-8"))
    files = sorted(path for path in folder.iterdir() if path.is_file() and LICENCE_FILE.search(path.name))
    return f"{package['name']} {package['version']}", [path.read_text(encoding="utf-8") for path in files]


def _wheel(path: Path) -> list[str]:
    with zipfile.ZipFile(path) as archive:
        names = [name for name in archive.namelist() if ".dist-info/" in name and LICENCE_FILE.search(name)]
        return [archive.read(name).decode("utf-8", "replace") for name in sorted(names)]
