"""Pack for me without a signal: from a load that does not go in to one that does, stopped, taken, undone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from . import driving
from .screens import SMALL, Screens, open_leg_of, opened
from .test_screens_load import bays_of

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

#: on to Windgate with clothes for the week: bulk is a no, the rest is not
LEG = 3


#: both touches between two frames: a fast machine would be done before the second by a driver's hand
STOPPED_AT_ONCE = """async () => {
  const all = () => [...document.querySelectorAll(".pane-open button")];
  const button = (word) => all().find((one) => one.textContent.trim() === word);
  button("Pack").click();
  await document.querySelector("tussock-app").updateComplete;
  button("Stop").click();
}"""


@pytest.fixture
def without_signal(playwright_driver: Playwright, dist: Path, tmp_path: Path) -> Iterator[Screens]:
    with opened(playwright_driver, dist, tmp_path / "profile") as (screens, browser, served):
        driving.wait_for_phase(screens.page, "ready")
        served.stop()
        yield screens
        assert browser.complaints == []


def test_a_load_that_does_not_fit_is_packed_so_that_it_does(without_signal: Screens) -> None:
    screens, page = without_signal, without_signal.page
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    screens.open_leg(LEG)
    screens.go("")
    assert (screens.verdict("fits"), screens.verdict("balances")) == ("no", "yes")
    before = bays_of(screens.bundle())
    screens.go("load")
    page.get_by_role("link", name="Pack for me").click()
    page.get_by_role("button", name="Pack", exact=True).wait_for()
    page.evaluate(STOPPED_AT_ONCE)
    page.get_by_text("Stopped.").wait_for()
    assert bays_of(screens.bundle()) == before, "nothing is changed by looking"
    page.get_by_role("button", name="Try again").click()
    page.get_by_text("Packed.").wait_for()
    page.get_by_text("No other choice is worth more.").wait_for()
    assert page.locator(".pack-six .verdict").count() == 6
    page.get_by_role("button", name="Why not").first.click()
    page.locator(".pack-why", has_text="comes if this stays").wait_for()
    assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
    page.get_by_role("button", name="Take it").click()
    screens.settle()
    screens.go("")
    assert {
        screens.verdict(q) for q in ("fits", "balances", "lifts_off", "climbs_out", "reaches", "stops")
    } <= {
        "tight",
        "yes",
    }
    bundle = screens.bundle()
    assert open_leg_of(bundle)["load"] == "dabchick-week"
    assert bays_of(bundle) != before
    screens.go("load")
    page.get_by_role("button", name="Undo: Packed for me").click()
    screens.settle()
    assert bays_of(screens.bundle()) == before
