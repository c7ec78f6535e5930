#!/usr/bin/env python3
"""Measure the built app in the browser: `python3 build_scripts/bench.py startup|answer|pack [--json]`.

`startup`: from a new worker to the six answers of the demo's open leg ("ours"), against a bare start of
Pyodide as published, with NumPy and pydantic imported ("bare"); both from the cache, in turns, medians.
`answer`: 500 edits of the demo, each answered in the browser's worker; remedies asked after every 25th.
`pack`: 20 invented choices of 60 items and 4 bays. `first_ms`: until a choice is proven within 1 %,
`first_gap`: the worst gap at that moment; `proof_ms`: until it is proven best, `native_proof_ms`: the same
natively; `gap`: the worst at the end, after 60 s at most. Medians.

Figures of this machine say little about a phone; the ratio of two of them, taken in turns, says more. It is
what `bench_baseline.json` keeps, and `--baseline` writes.
"""

import argparse
import json
import os
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

if sys.version_info < (3, 11):  # noqa: UP036
    sys.exit("Tussock needs Python 3.11 or newer; this is {}.{}.".format(*sys.version_info))

from steps import chromium, engine, site, wheels
from steps.console import Stop
from steps.places import DIST, GENERATED, NODE_MODULES, PYTHON, ROOT
from steps.server import Site

MEASURING = ROOT / "build_scripts" / "measuring"
BASELINE = ROOT / "build_scripts" / "bench_baseline.json"
EDITS, REMEDIES_EVERY, ROUNDS = 500, 25, 7
CHOICES, ITEMS, BAYS, LONGEST = 20, 60, 4, 60.0


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("what", choices=["startup", "answer", "pack"])
    parser.add_argument("--json", action="store_true", help="print the figures only, as JSON")
    parser.add_argument("--edits", type=int, default=EDITS, help=f"of `answer` (default {EDITS})")
    parser.add_argument("--rounds", type=int, default=ROUNDS, help=f"of `startup` (default {ROUNDS})")
    parser.add_argument("--baseline", action="store_true", help=f"keep the figures in {BASELINE.name}")
    options = parser.parse_args()
    try:
        if Path(sys.executable).parent != PYTHON.parent:
            return in_environment(options.json)
        figures = measure(options.what, options.edits, options.rounds)
    except Stop as stop:
        print(stop, file=sys.stderr)
        return 1
    if options.baseline:
        keep(options.what, figures)
    print(json.dumps(figures) if options.json else told(options.what, figures))
    return 0


def in_environment(quiet: bool) -> int:
    """Build, then go on in `.venv`, which has the browser's driver."""
    target = sys.stdout
    if quiet:
        sys.stdout = sys.stderr  # so that the figures stand alone
    site.build()
    chromium.ensure()
    sys.stdout = target
    command = [str(PYTHON), str(ROOT / "build_scripts" / "bench.py"), *sys.argv[1:]]
    return subprocess.run(command).returncode


def measure(what: str, edits: int, rounds: int) -> dict[str, float]:
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch) / "site"
        shutil.copytree(DIST, folder)
        if what == "startup":
            add_bare(folder)
        served = Site(folder)
        with sync_playwright() as driver:
            context = driver.chromium.launch_persistent_context(
                str(Path(scratch) / "profile"),
                executable_path=chromium.ensure(),
                args=list(chromium.FLAGS),
            )
            page = context.new_page()
            page.goto(served.address)
            page.evaluate("() => window.tussock.core.ready")
            if what == "pack":
                figures = pack_figures(page)
                context.close()
                served.stop()
                return figures
            settings = {
                "params": demo_params(),
                "edits": edits,
                "remediesEvery": REMEDIES_EVERY,
                "rounds": rounds,
            }
            taken = page.evaluate(function_in("measure.js"), [what, settings])
            context.close()
        served.stop()
    return startup_figures(taken) if what == "startup" else answer_figures(taken)


def function_in(name: str) -> str:
    """The one function that a file for the page holds."""
    source = (MEASURING / name).read_text(encoding="utf-8")
    return source[source.index("async (") :].rstrip().rstrip(";")


def pack_figures(page: Any) -> dict[str, float]:
    """The same programs here and there; each must come to the same worth."""
    from tussock.selftest.packing import invented
    from tussock.solver import solve
    from tussock.sums.packing.model import model_text

    programs = [model_text(invented(number, ITEMS, BAYS, plain=True)) for number in range(CHOICES)]
    taken = page.evaluate(function_in("pack.js"), programs)
    native = [solve(text, seconds=LONGEST) for text in programs]
    for number, (here, there) in enumerate(zip(native, taken, strict=True)):
        if here.status == "optimal" and there["gap"] == 0 and round(here.objective) != there["worth"]:
            raise Stop(f"Choice {number}: {there['worth']} in the browser, {here.objective} natively.")
    return {
        "first_ms": round(statistics.median(one["first"]["ms"] for one in taken)),
        "first_gap": round(max(one["first"]["gap"] for one in taken), 4),
        "proof_ms": round(statistics.median(one["proof"] for one in taken)),
        "native_proof_ms": round(1000 * statistics.median(one.seconds for one in native)),
        "gap": round(max(one["gap"] for one in taken), 4),
    }


def add_bare(folder: Path) -> None:
    """Pyodide, NumPy and pydantic as they are published, in the same cache as our own files."""
    bare = folder / "bare"
    bare.mkdir()
    for name in (*engine.CORE_FILES, engine.STANDARD_LIBRARY):
        shutil.copyfile(NODE_MODULES / "pyodide" / name, bare / name)
    packages = {}
    for wheel in wheels.fetch():
        shutil.copyfile(wheel.path, bare / wheel.path.name)
        packages[wheel.name] = wheel.entry
    lock = {"info": wheels.pyodide_lock()["info"], "packages": packages}
    (bare / "pyodide-lock.json").write_text(json.dumps(lock), encoding="utf-8")
    shutil.copyfile(MEASURING / "bare.js", folder / "bare.js")
    site.bundle(folder)
    site.list_files(folder)


def demo_params() -> dict[str, Any]:
    """What the screens would ask: the demo's documents as texts, its open leg, when its air was read."""
    demo = json.loads((GENERATED / "demo.json").read_text(encoding="utf-8"))
    leg_open, trip_open = demo["open"]["leg"], demo["open"]["trip"]
    (trip,) = [one for one in demo["documents"] if one["kind"] == "trip" and one["id"] == trip_open]
    (leg,) = [one for one in trip["legs"] if one["id"] == leg_open]
    (air,) = [one for one in demo["documents"] if one["kind"] == "air" and one["id"] == leg["air_from"]]
    texts = [json.dumps(one) for one in demo["documents"]]
    return {"documents": texts, "trip": trip_open, "leg": leg_open, "now": air["at"]}


def startup_figures(taken: dict[str, list[float]]) -> dict[str, float]:
    bare, ours = statistics.median(taken["bare"]), statistics.median(taken["ours"])
    return {"bare_ms": round(bare), "ours_ms": round(ours), "ratio": round(ours / bare, 3)}


def answer_figures(taken: dict[str, list[float]]) -> dict[str, float]:
    return {
        "p50_ms": round(percentile(taken["answer"], 50), 1),
        "p95_ms": round(percentile(taken["answer"], 95), 1),
        "remedies_p95_ms": round(percentile(taken["remedies"], 95), 1),
    }


def percentile(values: list[float], percent: int) -> float:
    return statistics.quantiles(values, n=100, method="inclusive")[percent - 1]


def keep(what: str, figures: dict[str, float]) -> None:
    """Figures into the baseline file, with what they were taken on."""
    kept = json.loads(BASELINE.read_text(encoding="utf-8")) if BASELINE.is_file() else {}
    machine = {"processors": os.cpu_count(), "machine": platform.machine()}
    kept[what] = {**figures, "on": {**machine, "browser": version_of(chromium.ensure())}}
    BASELINE.write_text(json.dumps(kept, indent=2, sort_keys=True) + "\n", encoding="utf-8")


def version_of(browser: str) -> str:
    said = subprocess.run([browser, "--version"], capture_output=True, text=True).stdout
    return " ".join(said.split()[:2])


def told(what: str, figures: dict[str, float]) -> str:
    kept = json.loads(BASELINE.read_text(encoding="utf-8")).get(what, {}) if BASELINE.is_file() else {}
    lines = [f"{name}: {value} (baseline {kept.get(name, 'none')})" for name, value in figures.items()]
    return "\n".join(lines)


if __name__ == "__main__":
    sys.exit(main())
