"""Driving the screens as a finger would: by what can be seen and touched, never by what is behind it."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import unquote

from tussock.api import handle
from tussock.text import DECIMALS, DEFAULT_UNITS, shown
from tussock.units import to_si

from . import driving

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page, Playwright

SMALL = {"width": 360, "height": 640}
PHONE = {"width": 412, "height": 915}
QUESTIONS = ("fits", "balances", "lifts_off", "climbs_out", "reaches", "stops")

#: Every screen, by its address.
PLACES = (
    "",
    *(f"answer/{question}" for question in QUESTIONS),
    "air",
    "load",
    "stow/hold",
    "trip",
    "trip/new",
    "trip/add",
    "trip/leg",
    "trip/whole",
    "trip/rules",
    "aeroplane",
    "settings",
    "print",
    "print/leg",
    "sums",
    "sums/density_altitude",
    "history",
    "history/air-1-from",
    "device",
    "doors",
    "hand",
    "pack",
    "bring",
    "got/AAAAAAAA.1.2.AAAA",
    "notebook",
    "notebook/new",
    "notebook/track",
    "notebook/record",
    "notebook/walk",
)


_STORED = """() => new Promise((resolve, reject) => {
  const opening = indexedDB.open("tussock");
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const db = opening.result;
    const names = ["documents", "history"];
    const reading = db.transaction(names);
    const all = names.map((name) => reading.objectStore(name).getAll());
    reading.oncomplete = () => {
      db.close();
      resolve(JSON.stringify(all.map(({ result }) => result)));
    };
    reading.onerror = () => reject(reading.error);
  };
})"""


class Screens:
    """One open page of the app."""

    def __init__(self, page: Page) -> None:
        self.page = page
        #: what was stored when the demo trip was put here last
        self._first_day = ""

    def go(self, place: str) -> None:
        """Open a screen, and wait for its answers."""
        self.page.evaluate("(place) => { location.hash = `#/${place}`; }", place)
        screen, _, part = (place or "answers").partition("/")
        self.page.locator(f'.pane-open[data-place="{screen}/{unquote(part)}"]').wait_for(state="attached")
        self.settle()

    def settle(self) -> None:
        """Wait until what is shown rests on what the documents say, be something typed left out or not."""
        shown = self.page.locator(".pane-answers .answers:not(.stale), .pane-answers .answers.unread")
        shown.wait_for(state="attached")

    def start_again(self) -> None:
        """The demo trip, as on the first day; where nothing was written since, it is here still."""
        if self._first_day and self._first_day == self._stored():
            self.go("")
            return
        self.go("settings")
        self.page.get_by_role("button", name="Start again with the demo trip").click()
        self.page.get_by_text("The demo trip is here.").wait_for()
        self.settle()
        self._first_day = self._stored()
        self.go("")

    def _stored(self) -> str:
        """Everything in the stores of documents and of their history, as a text."""
        found: str = driving.wait(self.page, _STORED)
        return found

    def take(self, bundle: dict[str, Any], folder: Path) -> None:
        """Put a bundle in the place of everything, by a file."""
        file = folder / "taken.json"
        file.write_text(json.dumps(bundle), encoding="utf-8")
        self.go("settings")
        self.page.locator("input[type=file]").set_input_files(file)
        self.page.get_by_role("button", name="Put it in the place of everything here").click()
        self.page.get_by_text("What was here before is kept aside.").wait_for()
        self.settle()

    def choose(self, label: str, option: str) -> None:
        """One of a few slips of paper. The page may be set anew by it, so the outcome is looked up again."""
        self.page.get_by_role("group", name=label, exact=True).get_by_role("radio", name=option).check()

    def row(self, question: str) -> Locator:
        return self.page.locator(f'a.question[href="#/answer/{question}"]')

    def verdict(self, question: str) -> str:
        return self.row(question).locator(".verdict").text_content().strip()  # type: ignore[union-attr]

    def margin(self, question: str) -> str:
        return self.row(question).locator(".margin-figure").text_content().strip()  # type: ignore[union-attr]

    def refresh(self) -> None:
        """The screen as it is after a restart of the page alone."""
        self.page.reload()
        self.settle()

    def bundle(self) -> dict[str, Any]:
        """Everything, as the settings page saves it."""
        back = self.page.evaluate("() => location.hash")
        self.go("settings")
        with self.page.expect_download() as download:
            self.page.get_by_role("button", name="Save a file").click()
        bundle: dict[str, Any] = json.loads(Path(download.value.path()).read_text(encoding="utf-8"))
        self.go(back.removeprefix("#/"))
        return bundle

    def open_leg(self, number: int) -> None:
        self.go("trip")
        self.page.locator(".leg-row").nth(number - 1).click()
        self.settle()


def document(bundle: dict[str, Any], name: str) -> dict[str, Any]:
    """The document of that id, without its stamps."""
    (found,) = (one for one in bundle["documents"] if one["id"] == name)
    return {key: value for key, value in found.items() if key != "stamps"}


def open_leg_of(bundle: dict[str, Any]) -> dict[str, Any]:
    trip = document(bundle, bundle["open"]["trip"])
    (leg,) = (leg for leg in trip["legs"] if leg["id"] == bundle["open"]["leg"])
    return dict(leg)


def air_of(bundle: dict[str, Any]) -> dict[str, Any]:
    return document(bundle, open_leg_of(bundle)["air_from"])


def natively(bundle: dict[str, Any], now: str) -> dict[str, Any]:
    """The open leg's answer by the core that runs here, without a browser."""
    params = {"documents": bundle["documents"], **bundle["open"], "now": now}
    answer = json.loads(handle("answer", json.dumps(params)))
    (leg,) = answer["result"]["legs"]
    return dict(leg)


def margin_said(margin: float, dimension: str, units: dict[str, str] | None = None) -> str:
    """A margin without its sign: what is left is rounded down, what is short up, and neither to nought."""
    symbol, decimals = DEFAULT_UNITS[dimension]
    symbol = (units or {}).get(dimension, symbol)
    step = (to_si(1.0, symbol) - to_si(0.0, symbol)) / 10 ** DECIMALS.get(symbol, decimals)
    size = abs(margin)
    if 0.0 < size < step:
        return f"less than {shown(step, dimension, units)}"
    half = 0.499999 * step
    return shown(size + half if margin < 0.0 else max(size - half, 0.0), dimension, units)


def shows_what_the_core_says(screens: Screens, units: dict[str, str] | None = None) -> dict[str, Any]:
    """Every margin on the first screen is the native core's for the same documents; gives its answer."""
    bundle = screens.bundle()
    leg = natively(bundle, air_of(bundle)["at"])
    screens.go("")
    for answer in leg["answers"]:
        verdict = screens.verdict(answer["question"])
        assert verdict == answer["verdict"], answer["question"]
        if answer["margin"] is not None:
            measure = answer["measures"][answer["governing"]]
            said = screens.margin(answer["question"]).replace("\u00a0", " ")
            assert said == margin_said(answer["margin"], measure["dimension"], units), answer["question"]
    return leg


@contextmanager
def opened(
    driver: Playwright, dist: Path, profile: Path, viewport: dict[str, int] = PHONE
) -> Iterator[tuple[Screens, driving.Browser, driving.Site]]:
    """The app in a profile of its own, answering; the site is stopped at the end if it still runs."""
    with driving.served(dist) as site, driving.browser(driver, profile, viewport) as browser:
        page = browser.open(site.address)
        screens = Screens(page)
        screens.settle()
        yield screens, browser, site
