"""What is kept: documents, drafts, undo and the last answers, over restarts and without a server."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tussock.api import handle
from tussock.demo import demo_bundle

from . import driving
from .screens import PHONE, Screens, air_of, margin_said

if TYPE_CHECKING:
    from playwright.sync_api import Playwright


def by_id(bundle: dict[str, Any]) -> dict[str, Any]:
    return {document["id"]: document for document in bundle["documents"]}


def numbers(thing: Any, path: str = "") -> dict[str, float]:
    """Every number in it, by its place."""
    if isinstance(thing, dict):
        return {k: v for key, value in thing.items() for k, v in numbers(value, f"{path}/{key}").items()}
    if isinstance(thing, list):
        return {k: v for i, value in enumerate(thing) for k, v in numbers(value, f"{path}/{i}").items()}
    return {path: float(thing)} if isinstance(thing, (int, float)) and not isinstance(thing, bool) else {}


def test_restarted_without_a_server_all_is_there_and_computes(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    site = driving.Site(dist)
    address = site.address
    with driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        page = browser.open(address)
        screens = Screens(page)
        screens.settle()
        driving.wait_for_phase(page, "ready")
        screens.go("air")
        page.get_by_role("button", name="More: Temperature").click()
        screens.settle()
        kept = screens.bundle()
        screens.go("")
        said = page.locator(".pane-answers .six").text_content()
        field = "Temperature"
        screens.go("air")
        page.get_by_role("textbox", name=field).fill("3")
        page.wait_for_timeout(500)  # what is typed is written down a moment later
    site.stop()

    with driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        page = browser.open(address + "#/")
        screens = Screens(page)
        # What was known last time stands there at once, and says so.
        last = page.locator(".pane-answers .answers")
        last.wait_for()
        if page.locator(".pane-answers .answers.stale").count():
            assert "From last time" in (last.text_content() or "")
        screens.settle()
        assert by_id(screens.bundle()) == by_id(kept)
        screens.go("")
        assert page.locator(".pane-answers .six").text_content() == said
        # What was typed then is not counted, so nothing looks as if it were.
        words = page.locator(".pane-answers .answers.stale .headline").text_content() or ""
        assert "Without what is typed and not counted:" in words
        screens.go("air")
        assert page.get_by_role("textbox", name=field).input_value() == "3", "a draft survives"
        page.get_by_role("button", name="Undo: temperature").click()
        screens.settle()
        before = screens.margin("lifts_off")
        for _ in range(6):
            page.get_by_role("button", name="More: Temperature").click()
        screens.settle()
        screens.go("")
        assert screens.margin("lifts_off") != before, "the answer follows without a server"

        bundle = screens.bundle()
        screens.go("")
        params = {"documents": bundle["documents"], **bundle["open"], "now": air_of(bundle)["at"]}
        here = driving.ask(page, "answer", params)["result"]
        native = json.loads(handle("answer", json.dumps(params)))["result"]
        ours, theirs = numbers(here), numbers(native)
        assert ours.keys() == theirs.keys()
        assert len(ours) > 200
        for place, value in theirs.items():
            assert ours[place] == pytest.approx(value, rel=1e-9, abs=1e-9), place
        (lifts,) = (a for a in native["legs"][0]["answers"] if a["question"] == "lifts_off")
        assert screens.margin("lifts_off").replace("\u00a0", " ") == margin_said(lifts["margin"], "length")


def test_a_window_that_goes_in_the_midst_of_typing_takes_nothing(screens: Screens) -> None:
    """Browsers tell a field of a change when its window goes, though nobody has finished."""
    screens.go("air")
    field = screens.page.get_by_role("textbox", name="Temperature")
    field.fill("3")
    field.evaluate(
        "(field) => { for (const type of ['change', 'blur']) field.dispatchEvent(new Event(type)); }"
    )
    assert field.input_value() == "3"
    assert screens.page.locator("button.undo").count() == 0, "nothing was edited"
    field.press("Enter")
    screens.page.locator(".pane-answers button.undo").wait_for(state="attached")


def test_the_last_answers_never_look_current_before_the_core_is_up(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    with driving.served(dist) as site, driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        first = browser.open(site.address)
        Screens(first).settle()
        driving.wait_for_phase(first, "ready")
        first.wait_for_timeout(500)
        first.close()
        # A worker that never starts: what stays on the screen is what was known.
        browser.context.add_init_script(
            "window.Worker = class { addEventListener() {} postMessage() {} terminate() {} };"
        )
        page = browser.open(site.address)
        page.locator(".pane-answers .answers.stale").wait_for()
        text = page.locator(".pane-answers .answers").text_content() or ""
        assert "From last time" in text
        fills = page.locator(".pane-answers .answers .verdict").evaluate_all(
            "(all) => all.map((one) => getComputedStyle(one).borderStyle)"
        )
        assert set(fills) == {"dashed"}, "no verdict has the look of a current one"
        assert page.get_by_role("status").first.text_content()


def test_undo_survives_a_restart_of_the_page(screens: Screens) -> None:
    before = air_of(screens.bundle())
    screens.go("air")
    screens.page.get_by_role("button", name="Less: Temperature").click()
    screens.settle()
    assert air_of(screens.bundle())["temperature"] == pytest.approx(before["temperature"] - 1)
    screens.go("air")
    screens.refresh()
    screens.page.get_by_role("button", name="Undo: temperature").click()
    screens.settle()
    assert air_of(screens.bundle())["temperature"] == before["temperature"]


def test_two_pages_of_one_person_agree(playwright_driver: Playwright, dist: Path, tmp_path: Path) -> None:
    with driving.served(dist) as site, driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        one = Screens(browser.open(site.address))
        one.settle()
        other = Screens(browser.open(site.address + "#/air"))
        other.settle()
        field = other.page.get_by_role("textbox", name="Temperature")
        was = field.input_value()
        one.go("air")
        one.page.get_by_role("button", name="More: Temperature").click()
        one.settle()
        for _ in range(100):
            if field.input_value() != was:
                break
            other.page.wait_for_timeout(50)
        assert field.input_value() == str(int(was) + 1)


def test_every_field_that_was_edited_has_a_stamp(screens: Screens) -> None:
    screens.go("air")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    screens.go("load")
    name = screens.page.locator(".item-in .item-name").first.text_content() or ""
    screens.page.get_by_role("checkbox", name=name).uncheck()
    screens.settle()
    bundle = screens.bundle()
    stamps = {
        place: stamp for one in bundle["documents"] for place, stamp in (one.get("stamps") or {}).items()
    }
    assert "/temperature" in stamps
    screens.go("load")
    seat = screens.page.locator(".seat select").last
    seat.select_option("")
    screens.settle()
    bundle = screens.bundle()
    removed = {place for one in bundle["documents"] for place in one.get("removed") or {}}
    assert any("/seats/" in place for place in removed), "who got out is among the removed"
    placed = [place for place in stamps if "/placed/" in place and place.endswith("/bay")]
    assert placed, "named by the item, not by its number"
    assert not any(part.isdigit() for place in placed for part in place.split("/"))
    assert {stamp["by"] for stamp in stamps.values() if stamp["by"].startswith("d-")}
    checked = json.loads(handle("check", json.dumps(bundle)))
    assert checked["result"]["ok"] is True


def test_a_first_visit_that_ended_early_still_gets_the_demo_of_today(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    """The demo that stands in until the core is up has the air of the day of the build."""
    site = driving.Site(dist)
    with driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        never = "window.Worker = class extends EventTarget { postMessage() {} terminate() {} }"
        browser.context.add_init_script(never)
        page = browser.open(site.address)
        page.locator(".pane-answers").wait_for()
        page.wait_for_timeout(1500)  # what stands in is written down a moment later
    with driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        page = browser.open(site.address)
        screens = Screens(page)
        driving.wait_for_phase(page, "ready")
        screens.settle()
        # read just now, or a forecast for the next morning where the day is over up there
        now = page.evaluate("() => Date.now()") / 1000
        wanted = demo_bundle(datetime.fromtimestamp(now, UTC).isoformat())
        there, here = (datetime.fromisoformat(air_of(one)["at"]) for one in (wanted, screens.bundle()))
        assert abs((there - here).total_seconds()) < 3600
    site.stop()
