"""Imports go down only: in the core by layers, in the shell by folders. Read from the source."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from . import javascript
from .imports import Read, circles, faults, may, of_python

ROOT = Path(__file__).resolve().parents[2]
CORE = ROOT / "pycore" / "tussock"
SHELL = ROOT / "pwa" / "src"

LOWER_SUMS = ("air", "airspeed", "wind", "sun", "daycurve", "places")

#: What each group may import. Sums know neither documents, pydantic nor text; questions write ids of texts.
CORE_MAY = {
    "units": may(),
    "errors": may(),
    "relation": may("", "numpy"),
    "shapes": may("relation", "numpy"),
    "lower_sums": may("relation shapes lower_sums", "numpy"),
    "sun": may("relation shapes lower_sums places", "numpy astral"),
    "places": may("relation shapes lower_sums", "numpy geographiclib"),
    "upper_sums": may("relation shapes lower_sums sun places upper_sums", "numpy"),
    "sums": may(),
    "documents": may("errors documents", "pydantic pydantic_core"),
    "questions": may("documents relation lower_sums sun places upper_sums questions", "numpy"),
    "trips": may("errors documents questions trips"),
    "handover": may("errors documents questions trips packing"),
    "packing": may("errors documents questions trips packing upper_sums", "numpy"),
    "solver": may("", "highspy"),
    "packed": may("solver"),
    "single": may("errors relation units sums", "numpy"),
    "text": may("units"),
    "tracks": may("errors units text documents places upper_sums tracks", "numpy"),
    "demo": may("units lower_sums demo"),
    "classes": may("units classes"),
    "api": may("errors documents questions trips handover packing tracks single demo classes"),
    "selftest": may("lower_sums upper_sums selftest", "numpy"),
    "report": may("text"),
    "cli": may("version errors units api packed report selftest"),
    "main": may("cli"),
    "export": may("units documents text single demo"),
    "version": may(),
}

OF_CORE = {
    "": "version",
    "__main__": "main",
    "trip": "trips",
    "sums": "sums",
    "sums.shapes": "shapes",
    "sums.sun": "sun",
    "sums.places": "places",
}

SHELL_MAY = {
    "text": may("generated"),
    "pictures": may("pictures text", "lit"),
    "parts": may("parts text", "lit lit/directives/live.js qr qr/decode.js"),
    "state": may("state text", "idb"),
    "worker": may("worker", "…pyodide.mjs …highs.mjs"),
    "worker/client": may("worker"),
    "offline": may("offline"),
    "service_worker": may("worker offline"),
    "forms": may("forms state parts pictures generated text", "lit lit/directives/live.js"),
    "screens": may(
        "screens forms state parts pictures worker/client offline text", "lit lit/directives/live.js"
    ),
    "app": may("forms generated offline parts state screens worker/client text hook", "lit"),
    "hook": may("offline worker/client"),
}

OF_SHELL = {
    "text.js": "text",
    "app.js": "app",
    "sw.js": "service_worker",
    "test_hook.js": "hook",
    "worker/client.js": "worker/client",
    "worker/solver_client.js": "worker/client",
}


def core_group(module: str) -> str | None:
    """The group of a module of the core; None for one that nobody has thought of."""
    if module in OF_CORE:
        return OF_CORE[module]
    top, _, rest = module.partition(".")
    if top == "sums":
        return "lower_sums" if rest in LOWER_SUMS else "upper_sums"
    return top if top in CORE_MAY else None


def shell_group(place: str) -> str | None:
    """The group of a file of the shell, by its place below `src`."""
    if place in OF_SHELL:
        return OF_SHELL[place]
    top = place.split("/")[0]
    if place.startswith("../generated/"):
        return "generated"
    return top if "/" in place and top in SHELL_MAY else None


def core_faults(sources: Mapping[str, str]) -> list[str]:
    """Faults of a core given as module to source; "" is the package itself."""
    reads = {module: of_python(text, module, sources, "tussock") for module, text in sources.items()}
    groups = {module: group for module in sources if (group := core_group(module))}
    rings = circles({module: read.own for module, read in reads.items()})
    return faults(reads, groups, CORE_MAY) + [f"circle: {ring}" for ring in rings]


def shell_faults(sources: Mapping[str, str]) -> list[str]:
    """Faults of a shell given as place below `src` to source."""
    reads = {place: Read(*javascript.imports(text, place)) for place, text in sources.items()}
    every = {*sources, *(other for read in reads.values() for other in read.own)}
    groups = {place: group for place in every if (group := shell_group(place))}
    lost = [
        f"{place} imports {other}, which is not there"
        for place, read in reads.items()
        for other in sorted(read.own)
        if other not in sources and not other.startswith("../generated/")
    ]
    rings = circles({place: read.own for place, read in reads.items()})
    return faults(reads, groups, SHELL_MAY) + lost + [f"circle: {ring}" for ring in rings]


def core_sources() -> dict[str, str]:
    found = {}
    for file in sorted(CORE.rglob("*.py")):
        parts = file.relative_to(CORE).with_suffix("").parts
        module = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        found[module] = file.read_text(encoding="utf-8")
    return found


def shell_sources() -> dict[str, str]:
    return {
        file.relative_to(SHELL).as_posix(): file.read_text(encoding="utf-8")
        for file in sorted(SHELL.rglob("*.js"))
    }


def test_the_core_imports_downwards_only() -> None:
    sources = core_sources()
    assert {"units", "relation", "sums.air", "documents.gate", "questions.asking", "api"} <= set(sources)
    assert set(OF_CORE) <= set(sources), "a module that is gone keeps its place among the layers"
    assert core_faults(sources) == []


def test_the_shell_imports_downwards_only() -> None:
    sources = shell_sources()
    assert {"app.js", "text.js", "worker/worker.js", "screens/answers.js"} <= set(sources)
    assert set(OF_SHELL) <= set(sources), "a file that is gone keeps its place among the layers"
    assert shell_faults(sources) == []


GOOD_CORE = {
    "": "",
    "units": "import math\n",
    "errors": "",
    "relation": "import numpy as np\n",
    "sums": "",
    "sums.air": "from ..relation import relation\n",
    "sums.power": "from .air import G0\nfrom . import air\n",
    "documents": "from .base import Model\n",
    "documents.base": "from pydantic import BaseModel\n",
    "questions": "",
    "questions.burn": "from ..documents import Model\nfrom ..sums import power\nfrom .. import relation\n",
    "text": "from .. import units\n",
    "trip": "from .questions.burn import burn\n",
    "single": "",
    "api": "from . import single, trip\n",
    "report": "from .text import say\n",
    "cli": "from . import __version__, api, report\n",
}

PLANTED = [
    ("units", "from . import relation", "units (units) imports relation (relation)"),
    ("sums.air", "from .power import ceiling", "sums.air (lower_sums) imports sums.power (upper_sums)"),
    ("sums.power", "import pydantic", "sums.power (upper_sums) imports pydantic"),
    ("sums.power", "from ..text import say", "sums.power (upper_sums) imports text (text)"),
    ("sums.power", "import tussock.documents.base", "imports documents.base (documents)"),
    ("sums.power", "import astral", "sums.power (upper_sums) imports astral"),
    ("documents.base", "from ..sums import air", "documents.base (documents) imports sums.air (lower_sums)"),
    ("documents.base", "from ..questions.burn import x", "imports questions.burn (questions)"),
    ("documents.base", "import numpy", "documents.base (documents) imports numpy"),
    ("questions.burn", "from .. import text", "questions.burn (questions) imports text (text)"),
    ("questions.burn", "from tussock.api import handle", "questions.burn (questions) imports api (api)"),
    ("questions.burn", "def f():\n    from ..trip import answer", "imports trip (trips)"),
    ("api", "from . import cli", "api (api) imports cli (cli)"),
    ("api", "import requests", "api (api) imports requests"),
    ("relation", "from .sums import air", "circle: relation > sums.air > relation"),
]


def test_a_good_core_has_no_faults() -> None:
    assert core_faults(GOOD_CORE) == []


@pytest.mark.parametrize(("module", "line", "fault"), PLANTED)
def test_a_planted_import_is_found(module: str, line: str, fault: str) -> None:
    found = core_faults(GOOD_CORE | {module: f"{GOOD_CORE[module]}\n{line}\n"})
    assert any(fault in one for one in found), found


def test_a_module_of_no_layer_is_found() -> None:
    assert core_faults(GOOD_CORE | {"weather": ""}) == ["weather belongs to no layer"]


GOOD_SHELL = {
    "text.js": 'import catalogue from "../generated/text.json";',
    "parts/words.js": 'import { html } from "lit";\nimport { say } from "../text.js";',
    "pictures/strip.js": 'import { svg } from "lit";',
    "state/store.js": 'import { openDB } from "idb";',
    "worker/client.js": 'import { steps } from "./protocol.js";',
    "worker/protocol.js": "export const steps = [];",
    "worker/worker.js": "const { x } = await import(`${engine}pyodide.mjs`);",
    "screens/air.js": 'import { a } from "../state/store.js";\nimport { core } from "../worker/client.js";',
}

PLANTED_SHELL = [
    (
        "parts/words.js",
        'import { store } from "../state/store.js";',
        "(parts) imports state/store.js (state)",
    ),
    (
        "pictures/strip.js",
        'export { a } from "../state/store.js";',
        "(pictures) imports state/store.js (state)",
    ),
    ("pictures/strip.js", 'import "../screens/air.js";', "(pictures) imports screens/air.js (screens)"),
    (
        "worker/worker.js",
        'import { a } from "../screens/air.js";',
        "(worker) imports screens/air.js (screens)",
    ),
    ("screens/air.js", 'import "../worker/worker.js";', "(screens) imports worker/worker.js (worker)"),
    ("screens/air.js", 'const a = () => import("../worker/worker.js");', "imports worker/worker.js (worker)"),
    ("state/store.js", 'import { html } from "lit";', "state/store.js (state) imports lit"),
    (
        "state/store.js",
        'import { a } from "./gone.js";',
        "state/store.js imports state/gone.js, which is not there",
    ),
    ("worker/protocol.js", 'import "./client.js";', "circle: worker/client.js > worker/protocol.js"),
]


def test_a_good_shell_has_no_faults() -> None:
    assert shell_faults(GOOD_SHELL) == []


@pytest.mark.parametrize(("place", "line", "fault"), PLANTED_SHELL)
def test_a_planted_import_of_the_shell_is_found(place: str, line: str, fault: str) -> None:
    found = shell_faults(GOOD_SHELL | {place: f"{GOOD_SHELL[place]}\n{line}\n"})
    assert any(fault in one for one in found), found


def test_imports_in_comments_and_texts_do_not_count() -> None:
    source = """// import "../state/store.js"
    /** @typedef {import("../state/store.js").Store} Store */
    const a = 'import "../state/store.js"', b = /import "x"/.test(`from "${a}"`);
    """
    assert javascript.imports(source, "parts/words.js") == (set(), set())
