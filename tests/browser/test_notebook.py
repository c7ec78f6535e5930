"""The notebook by thumb: an entry after shutting down, a track by a file, a strip walked without signal."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from tests.core.made_tracks import Phone, Plane, circuit, watch
from tests.core.track_files import BEGAN, gpx, places

from .screens import SMALL, Screens, document, opened

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

BOOK = "dabchick-notebook"
AXE = Path(__file__).resolve().parents[2] / "pwa/node_modules/axe-core/axe.min.js"


def entries(screens: Screens) -> list[dict[str, Any]]:
    return list(document(screens.bundle(), BOOK)["entries"])


def save(screens: Screens) -> None:
    screens.page.locator(".nb-save button").click()
    screens.page.locator(".nb-list").wait_for()


def test_a_landing_in_few_touches_knows_what_the_flight_knows(screens: Screens) -> None:
    page = screens.page
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    before = entries(screens)
    screens.go("")
    # five touches from the answers
    page.get_by_role("link", name="Note this flight down").click()
    page.get_by_role("radio", name="landing", exact=True).check()
    page.get_by_role("button", name="More: Ground roll").click()
    page.get_by_role("button", name="Less: Ground roll").click()
    page.locator(".nb-known").get_by_text("Ridge Camp 31").wait_for()
    save(screens)
    (made,) = [one for one in entries(screens) if one not in before]
    assert made["what"] == "landing"
    assert made["technique"] == "usual"
    assert made["roll"]["value"] == 145
    assert made["roll"]["sd"] > 0
    assert (made["strip"], made["direction"], made["flap"]) == ("ridge-camp", "31", "full")
    assert made["mass"]["value"] == pytest.approx(514.5, abs=0.1)
    assert made["configuration"] == "shelf-out"
    screens.go("notebook")
    assert "roll 145\u00a0m" in (page.locator(".nb-entry").first.text_content() or "")
    page.get_by_role("button", name="Undo: note: landing").click()
    screens.settle()
    assert entries(screens) == before


def test_a_half_typed_figure_is_not_pushed_away_and_has_a_way_back(screens: Screens) -> None:
    page = screens.page
    screens.go("notebook/new")
    page.locator("#entry-notebook-noting-roll").press_sequentially("18")
    assert page.locator(".pane-open .notice").count() == 0, "while it is typed"
    screens.refresh()
    screens.go("")
    notice = page.locator(".pane-answers .notice", has_text="18")
    notice.get_by_role("link", name="Go on with it").click()
    field = page.locator("#entry-notebook-noting-roll")
    field.fill("180")
    field.press("Enter")
    screens.go("")
    assert notice.count() == 0


def test_markers_and_paces_are_ways_to_say_a_distance(screens: Screens) -> None:
    page = screens.page
    before = entries(screens)
    length = document(screens.bundle(), "saltpan")["ground"]["length"]["value"]
    screens.go("notebook/new")
    page.locator(".nb-known").get_by_text("Saltpan 06").wait_for()
    screens.choose("Roll, told by", "markers")
    page.get_by_role("button", name="More: Markers passed").click()
    screens.choose("Flown as", "my best")
    save(screens)
    screens.go("notebook/new")
    screens.choose("Roll, told by", "paces")
    page.get_by_role("button", name="More: Paces").click()
    save(screens)
    markers, paces = (one for one in entries(screens) if one not in before)
    assert markers["roll"]["value"] == pytest.approx(length * 2 / 5, abs=0.1)
    assert markers["roll"]["sd"] >= 0.28 * length / 5
    assert markers["technique"] == "best"
    assert paces["roll"]["value"] == pytest.approx(200 * 0.75)
    assert paces["technique"] == "best", "the slip stays as it was left"


def test_a_figure_that_is_not_put_in_yet_outlives_the_page(screens: Screens) -> None:
    page = screens.page
    screens.go("notebook/new")
    screens.choose("Roll, told by", "a length")
    roll = page.get_by_role("textbox", name="Ground roll")
    roll.fill("190")
    roll.press("Enter")
    page.locator(".nb-save").get_by_text("190").wait_for()
    screens.refresh()
    page.locator(".nb-save").get_by_text("190").wait_for()
    assert roll.input_value() == "190"
    save(screens)
    screens.go("notebook/new")
    assert roll.input_value() == "", "it is in"
    screens.go("")
    page.get_by_role("button", name="Undo: note: take-off").click()
    screens.settle()


def test_an_entry_is_mended_in_its_form(screens: Screens) -> None:
    page = screens.page
    screens.go("notebook")
    page.locator(".nb-entry").filter(has_text="88 m").click()
    field = page.locator("input[data-main]").nth(1)
    field.fill("93")
    field.press("Enter")
    screens.go("notebook")
    page.locator(".nb-entry").filter(has_text="93 m").wait_for()
    (changed,) = [one for one in entries(screens) if one["id"] == "n6"]
    assert changed["roll"]["value"] == 93


FLIGHT = watch(circuit(Plane(lift_off=27.0, climb=33.0, touch=26.0, thrust=2.95), 2.0), Phone(), 4)


def test_a_track_is_shown_on_the_strip_and_becomes_entries(screens: Screens, tmp_path: Path) -> None:
    page = screens.page
    before = entries(screens)
    file = tmp_path / "flight.gpx"
    file.write_text(gpx(FLIGHT), encoding="utf-8")
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    screens.go("notebook/track")
    page.locator(".nb-file input").set_input_files(file)
    # the landing is told to a tenth; the take-off is not, and is taken by hand only
    page.get_by_role("button", name="Put in: 1").wait_for()
    assert page.get_by_text("the track can't tell it to a tenth").count() == 1
    page.evaluate(AXE.read_text(encoding="utf-8"))
    assert page.evaluate("async () => (await axe.run(document)).violations.map((one) => one.id)") == []
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
    page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
    page.get_by_role("checkbox", name="Note this: take-off").check()
    assert page.locator("svg.picture-narrow .pic-track-error").count() >= 2
    assert "Roll to the lift-off" in (
        page.locator("svg.picture-narrow").first.get_attribute("aria-label") or ""
    )
    page.get_by_role("button", name="Put in: 2").click()
    page.get_by_text("Put in: 2.").wait_for()
    made = [one for one in entries(screens) if one not in before]
    assert [one["what"] for one in made] == ["takeoff", "landing"]
    assert all(one["roll"]["sd"] > 0 and len(one["track"]["digest"]) == 64 for one in made)
    assert not any("mass" in one for one in made), "an old track is not the open leg's flight"
    # the track lies on the device, in no file that goes out, and can be deleted
    assert "trkpt" not in str(screens.bundle())
    screens.go("notebook/track")
    page.get_by_role("button", name="Delete flight.gpx").click()
    page.get_by_role("button", name="Delete flight.gpx").wait_for(state="detached")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('<!DOCTYPE gpx [<!ENTITY a "aaaa">]><gpx>&a;</gpx>', "declares a document type"),
        ("latitude,longitude\n1,2\n", "names no time"),
        ("x" * 20_000_001, "larger than 20 MB"),
    ],
    ids=["bomb", "no time", "large"],
)
def test_a_track_that_is_none_is_refused_in_words(
    screens: Screens, tmp_path: Path, text: str, words: str
) -> None:
    file = tmp_path / "odd.gpx"
    file.write_text(text, encoding="utf-8")
    screens.go("notebook/track")
    screens.page.locator(".nb-file input").set_input_files(file)
    screens.page.locator(".pane-open .notice").get_by_text(words).wait_for()
    assert screens.page.locator(".nb-save").count() == 0


def test_a_strip_is_walked_without_signal_and_the_recording_outlives_the_page(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    with opened(playwright_driver, dist, tmp_path, SMALL) as (screens, browser, site):
        page = screens.page
        browser.context.grant_permissions(["geolocation"])
        here = {"latitude": 12.0, "longitude": -40.0, "accuracy": 4}
        browser.context.set_geolocation(here)  # type: ignore[arg-type]
        screens.go("notebook/walk")
        site.stop()
        page.get_by_role("button", name="Start recording").click()
        page.get_by_text("The receiver says").wait_for()
        for step in range(1, 31):
            moved = here | {"latitude": 12.0 + step * 2e-5}
            browser.context.set_geolocation(moved)  # type: ignore[arg-type]
            page.get_by_text(f": {step + 1} fixes").wait_for()
            page.wait_for_timeout(60)
        # what was recorded outlives the page, without signal
        page.reload()
        screens.settle()
        screens.go("notebook/walk")
        page.get_by_text("Recorded: 3").wait_for()
        page.get_by_role("button", name="Use it").click()
        page.get_by_text("What the walk tells").first.wait_for()
        assert " ± " in (page.locator(".nb-result").text_content() or "")
        page.get_by_role("button", name="Make it the length of Saltpan").click()
        page.get_by_text("Saltpan is ").wait_for()
        screens.settle()
        ground = document(screens.bundle(), "saltpan")["ground"]
        assert 40 < ground["length"]["value"] < 100
        assert ground["length"]["origin"] == "measured"
        assert browser.complaints == []


#: A phone's receiver and its screen, driven by hand: no sky in here.
DRIVEN = """() => {
  Object.assign(window, { told: [], locks: [] });
  Geolocation.prototype.watchPosition = (heard) => ((window.heard = heard), told.push("watch"), 7);
  Geolocation.prototype.clearWatch = (id) => { told.push(`clear ${id}`); };
  WakeLock.prototype.request = async (what) => {
    const lock = new EventTarget();
    lock.release = async () => { told.push("released"); lock.dispatchEvent(new Event("release")); };
    told.push(what);
    locks.push(lock);
    return lock;
  };
}"""
HEARD = """(fixes) => {
  for (const { timestamp, ...coords } of fixes) window.heard({ timestamp, coords });
}"""


def as_heard(fixes: dict[str, Any]) -> list[dict[str, float | None]]:
    """Fixes as the browser tells them."""
    latitude, longitude = places(fixes)

    def cell(value: float) -> float | None:
        return None if math.isnan(value) else float(value)

    return [
        {
            "timestamp": round((BEGAN + float(fixes["times"][k])) * 1000),
            "latitude": float(latitude[k]),
            "longitude": float(longitude[k]),
            "altitude": cell(fixes["height"][k]),
            "speed": cell(fixes["speed"][k]),
            "accuracy": 4.0,
        }
        for k in range(len(fixes["times"]))
    ]


def test_a_flight_is_recorded_to_its_end_with_the_screen_awake(screens: Screens) -> None:
    page = screens.page
    before = entries(screens)
    truth = circuit(Plane(lift_off=27.0, climb=33.0, touch=26.0, thrust=2.95), 2.0)
    fixes = as_heard(watch(truth, Phone(), 4))
    screens.go("notebook/record")
    page.evaluate(DRIVEN)
    page.get_by_role("button", name="Start recording").click()
    page.get_by_text("The screen is kept awake.").wait_for()
    half = len(fixes) // 2
    page.evaluate(HEARD, fixes[:half])
    page.get_by_text(f": {half} fixes").wait_for()
    # the phone takes the lock away, as when another app was in front; back here it is asked for anew
    page.evaluate("() => window.locks[0].dispatchEvent(new Event('release'))")
    page.get_by_text("keep it lit").wait_for()
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    page.get_by_text("The screen is kept awake.").wait_for()
    # a thumb that goes elsewhere and comes back stops nothing
    screens.go("")
    page.evaluate(HEARD, fixes[half:])
    screens.go("notebook/record")
    page.get_by_text(f": {len(fixes)} fixes").wait_for()
    page.get_by_role("button", name="Stop", exact=True).click()
    page.get_by_role("button", name="Put in: 1").wait_for()
    assert page.evaluate("() => window.told") == ["watch", "screen", "screen", "clear 7", "released"]
    page.get_by_role("button", name="Put in: 1").click()
    page.get_by_text("Put in: 1.").wait_for()
    (made,) = [one for one in entries(screens) if one not in before]
    assert made["what"] == "landing"
    (landing,) = [one["roll"] for one in truth.runs if one["what"] == 1]
    assert made["roll"]["value"] == pytest.approx(landing, rel=0.1)
    # it was used: nothing waits, and the next begins anew
    screens.go("notebook/record")
    page.get_by_role("button", name="Start recording").wait_for()
    screens.refresh()  # the page's own receiver again


def test_a_refused_permission_is_said(screens: Screens) -> None:
    screens.page.context.clear_permissions()
    screens.go("notebook/record")
    screens.page.get_by_role("button", name="Start recording").click()
    screens.page.get_by_text("not allowed to tell the position").wait_for()
