#!/usr/bin/env python3
"""Take pictures of the built app with its server stopped: `python3 build_scripts/screenshots.py FOLDER`.

Every screen at every size in every look. `--readme` takes the one picture that README shows instead.
"""

import argparse
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

if sys.version_info < (3, 11):  # noqa: UP036
    sys.exit("Tussock needs Python 3.11 or newer; this is {}.{}.".format(*sys.version_info))

from steps import chromium, site
from steps.console import Stop
from steps.places import DIST, PWA, PYTHON, ROOT
from steps.server import Site

SIZES = ((360, 640), (412, 915), (1280, 720), (1920, 1080))
LOOKS = ("paper", "night", "sun")
PLACES = {
    "answers": "",
    "fits": "answer/fits",
    "balances": "answer/balances",
    "lifts-off": "answer/lifts_off",
    "climbs-out": "answer/climbs_out",
    "reaches": "answer/reaches",
    "stops": "answer/stops",
    "air": "air",
    "load": "load",
    "trip": "trip",
    "aeroplane": "aeroplane",
    "settings": "settings",
}
#: Answers that rest on what the documents say now.
CURRENT = ".pane-answers .answers:not(.stale)"
README_PICTURE = PWA / "screenshot.png"


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path, help="where the pictures go")
    parser.add_argument("--readme", action="store_true", help=f"take {README_PICTURE.name} for README only")
    parser.add_argument("--look", choices=LOOKS, action="append", help="only this look (may be repeated)")
    parser.add_argument("--place", choices=PLACES, action="append", help="only this screen (may be repeated)")
    options = parser.parse_args()
    if not options.readme and not options.folder:
        parser.error("a folder for the pictures is needed")
    try:
        if Path(sys.executable).parent != PYTHON.parent:
            site.build()
            chromium.ensure()
            script = ROOT / "build_scripts" / "screenshots.py"
            return subprocess.run([str(PYTHON), str(script), *sys.argv[1:]]).returncode
        with Pictures() as pictures:
            if options.readme:
                pictures.take(PLACES["answers"], "paper", (412, 915), README_PICTURE)
            else:
                take_all(pictures, options.folder, options.look or LOOKS, options.place or list(PLACES))
    except Stop as stop:
        print(stop, file=sys.stderr)
        return 1
    return 0


def take_all(pictures: "Pictures", folder: Path, looks: Sequence[str], places: Sequence[str]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for look in looks:
        for size in SIZES:
            for name in places:
                target = folder / f"{name}-{look}-{size[0]}x{size[1]}.png"
                pictures.take(PLACES[name], look, size, target)


class Pictures:
    """The app in a browser that has been there once; its server is stopped before any picture is taken."""

    def __enter__(self) -> "Pictures":
        from playwright.sync_api import sync_playwright

        self._profile = tempfile.TemporaryDirectory()
        self._driver = sync_playwright().start()
        self._context = self._driver.chromium.launch_persistent_context(
            self._profile.name,
            executable_path=chromium.ensure(),
            args=[*chromium.FLAGS, "--hide-scrollbars"],
            reduced_motion="reduce",
        )
        served = Site(DIST)
        first = self._context.new_page()
        first.goto(served.address)
        first.evaluate(READY)
        first.locator(CURRENT).wait_for(state="attached")
        served.stop()
        self.page = self._context.new_page()
        self.page.goto(served.address)
        first.close()
        return self

    def __exit__(self, *_: Any) -> None:
        self._context.close()
        self._driver.stop()
        self._profile.cleanup()

    def take(self, place: str, look: str, size: tuple[int, int], target: Path) -> None:
        page = self.page
        page.set_viewport_size({"width": size[0], "height": size[1]})
        self._go("settings")
        page.locator(f'input[name="look"][value="{look}"]').check()
        self._go(place)
        page.screenshot(path=str(target))
        print(target, flush=True)

    def _go(self, place: str) -> None:
        self.page.evaluate("(place) => { location.hash = `#/${place}`; }", place)
        screen, _, part = (place or "answers").partition("/")
        self.page.locator(f'.pane-open[data-place="{screen}/{part}"]').wait_for(state="attached")
        self.page.locator(CURRENT).wait_for(state="attached")
        self.page.evaluate("() => document.fonts.ready.then(() => true)")


#: Stored whole, seen in the cache.
READY = """() => new Promise((resolve, reject) => {
  const { events, state } = window.tussock.offline;
  const look = () => {
    if (state().phase === "ready") resolve();
    if (["failed", "incomplete", "impossible"].includes(state().phase)) reject(new Error(state().reason));
  };
  events.addEventListener("change", look);
  look();
})"""


if __name__ == "__main__":
    sys.exit(main())
