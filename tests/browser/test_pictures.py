"""The pictures as a browser draws them: letters as wide as reckoned, nothing overlaps, nothing is small.

The page is bundled here from the pictures, the styles and made-up answers; it is no part of the site.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from steps import environment

from . import driving

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

PWA = Path(__file__).resolve().parents[2] / "pwa"

BUNDLE = """
import { build } from "esbuild";
const outdir = process.argv[1];
await build({
  entryPoints: [
    { in: "test/pictures.page.js", out: "page" },
    { in: "src/styles/app.css", out: "page" },
  ],
  outdir, bundle: true, format: "esm", charset: "utf8", target: "es2022", logLevel: "error",
  loader: { ".woff2": "file" },
});
"""

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Pictures</title>
<meta name="viewport" content="width=device-width"><link rel="stylesheet" href="page.css">
<link rel="icon" href="icon.svg"></head>
<body><script type="module" src="page.js"></script></body></html>"""

#: The script sets `pictures` when it has drawn. (Playwright's own waiting needs what the policy forbids.)
READY = """() => new Promise((resolve) => {
  const look = () => (window.pictures ? resolve() : setTimeout(look, 20));
  look();
})"""

FONT = """() => [...document.fonts].some(
  ({ family, status }) => family.includes("Public Sans") && status === "loaded")"""


@pytest.fixture(scope="module")
def gallery(dist: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("gallery")
    command = [environment.node(), "--input-type=module", "--eval", BUNDLE, str(folder)]
    run = subprocess.run(command, cwd=PWA, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    (folder / "index.html").write_text(PAGE, encoding="utf-8")
    (folder / "icon.svg").write_text('<svg xmlns="http://www.w3.org/2000/svg"/>', encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def browser(
    playwright_driver: Playwright, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[driving.Browser]:
    with driving.browser(playwright_driver, tmp_path_factory.mktemp("profile")) as one:
        yield one


@pytest.mark.parametrize(
    ("width", "look"),
    [(360, "paper"), (360, "night"), (360, "sun"), (412, "paper"), (800, "night"), (1400, "sun")],
)
def test_pictures(browser: driving.Browser, gallery: Path, width: int, look: str) -> None:
    browser.complaints.clear()
    with driving.served(gallery) as site:
        page = browser.open(f"{site.address}?look={look}")
        page.set_viewport_size({"width": width, "height": 640})
        page.evaluate(READY)
        assert page.evaluate(FONT), "these are not the letters that the widths were measured from"
        # of the two drawings of each picture one is seen
        assert page.evaluate("() => pictures.shownNow()") == page.evaluate("() => pictures.cases")
        faults = page.evaluate("() => pictures.faults()")
        assert not faults, json.dumps(faults, indent=1, ensure_ascii=False)
        assert page.evaluate("() => document.documentElement.scrollWidth") <= width
        violations = page.evaluate("() => pictures.accessibility()")
        assert not violations, "\n".join(violations)
        page.close()
    assert browser.complaints == []
