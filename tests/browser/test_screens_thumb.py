"""A thumb that scrolls, and fingers that type: nothing is changed that was not meant."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from . import driving
from .screens import PHONE, Screens, air_of

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page, Playwright


@pytest.fixture(scope="module")
def phone(
    playwright_driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Screens]:
    """A phone with a screen that is touched."""
    site = driving.Site(dist)
    with driving.browser(playwright_driver, tmp_path_factory.mktemp("touch"), PHONE, touch=True) as browser:
        page = browser.open(site.address)
        screens = Screens(page)
        screens.settle()
        driving.wait_for_phase(page, "ready")
        yield screens
    site.stop()


def swipe(page: Page, start: tuple[float, float], by: tuple[float, float]) -> None:
    """One finger down, along and up, as the screen tells the browser."""
    session = page.context.new_cdp_session(page)

    def tell(kind: str, points: list[dict[str, float]]) -> None:
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    tell("touchStart", [{"x": start[0], "y": start[1]}])
    for part in range(1, 13):
        tell("touchMove", [{"x": start[0] + by[0] * part / 12, "y": start[1] + by[1] * part / 12}])
        page.wait_for_timeout(16)
    tell("touchEnd", [])
    page.wait_for_timeout(200)
    session.detach()


def knob_of(slider: Locator) -> tuple[float, float]:
    box = slider.bounding_box()
    assert box
    low, high, here = (float(slider.evaluate(f"one => one.{name}")) for name in ("min", "max", "value"))
    return box["x"] + 17 + (here - low) / (high - low) * (box["width"] - 34), box["y"] + box["height"] / 2


def in_the_middle(page: Page, thing: Locator) -> None:
    """Between the header and the bar at the bottom."""
    thing.evaluate("one => one.scrollIntoView({block: 'center'})")
    page.wait_for_timeout(100)


@pytest.mark.parametrize("name", ["It reads", "Temperature"])
@pytest.mark.parametrize("from_knob", [True, False])
def test_a_swipe_that_scrolls_moves_no_slider(phone: Screens, name: str, from_knob: bool) -> None:
    phone.start_again()
    phone.go("air")
    before = air_of(phone.bundle())
    slider = phone.page.get_by_role("slider", name=name)
    in_the_middle(phone.page, slider)
    x, y = knob_of(slider)
    swipe(phone.page, (x if from_knob else x + 70, y), (12, -180))
    phone.settle()
    assert air_of(phone.bundle()) == before


def test_a_tap_on_the_rail_moves_no_slider(phone: Screens) -> None:
    phone.start_again()
    phone.go("air")
    before = air_of(phone.bundle())
    slider = phone.page.get_by_role("slider", name="Temperature")
    in_the_middle(phone.page, slider)
    x, y = knob_of(slider)
    phone.page.touchscreen.tap(x + 80, y)
    phone.settle()
    assert air_of(phone.bundle()) == before


def test_a_knob_drawn_sideways_moves(phone: Screens) -> None:
    phone.start_again()
    phone.go("air")
    before = air_of(phone.bundle())["temperature"]
    slider = phone.page.get_by_role("slider", name="Temperature")
    in_the_middle(phone.page, slider)
    swipe(phone.page, knob_of(slider), (60, 2))
    phone.settle()
    assert air_of(phone.bundle())["temperature"] > before + 3


def test_a_swipe_over_the_dial_turns_no_wind(phone: Screens) -> None:
    phone.start_again()
    phone.go("air")
    dial = phone.page.locator("wind-dial svg")
    in_the_middle(phone.page, dial)
    before = air_of(phone.bundle())["wind"]
    box = dial.bounding_box()
    assert box
    swipe(phone.page, (box["x"] + box["width"] / 2, box["y"] + box["height"] * 0.9), (4, -200))
    phone.settle()
    assert air_of(phone.bundle())["wind"] == before


def test_the_arrow_is_turned_by_a_step(phone: Screens) -> None:
    phone.start_again()
    phone.go("air")
    before = air_of(phone.bundle())["wind"]["wind_from"]
    phone.page.get_by_role("button", name="Turn it right").click()
    phone.settle()
    after = air_of(phone.bundle())["wind"]["wind_from"]
    assert math.degrees(after - before) % 360 == pytest.approx(10, abs=1)


@pytest.mark.parametrize("typed", ["4,600", "4.600", "4 600", "4600"])
def test_thousands_of_feet_are_thousands(phone: Screens, typed: str) -> None:
    phone.start_again()
    phone.go("air")
    field = phone.page.get_by_role("textbox", name="It reads")
    field.fill(typed)
    field.press("Enter")
    phone.settle()
    assert air_of(phone.bundle())["pressure"]["pressure_altitude"] == pytest.approx(4600 * 0.3048)


def test_while_something_is_typed_no_answer_looks_current(phone: Screens) -> None:
    phone.start_again()
    phone.go("air")
    follow = phone.page.locator(".follow")
    assert "stale" not in (follow.get_attribute("class") or "")
    field = phone.page.get_by_role("textbox", name="Temperature")
    field.focus()
    field.fill("27")
    assert "stale" in (follow.get_attribute("class") or "")
    field.press("Enter")
    phone.settle()
    assert "stale" not in (follow.get_attribute("class") or "")
    assert air_of(phone.bundle())["temperature"] == pytest.approx(300.15)


def test_the_same_figure_typed_once_more_counts(phone: Screens) -> None:
    phone.start_again()
    phone.go("air")
    field = phone.page.get_by_role("textbox", name="Temperature")
    shown = field.input_value()
    field.focus()
    for key in ("Control+A", *shown):
        field.press(key if len(key) > 1 else ("Minus" if key in "-−" else key))
    field.press("Enter")
    phone.settle()
    assert phone.page.get_by_text("not counted").count() == 0


def test_a_slip_of_the_finger_is_told_in_the_units_on_the_screen(phone: Screens) -> None:
    phone.start_again()
    phone.go("air")
    before = air_of(phone.bundle())["temperature"]
    field = phone.page.get_by_role("textbox", name="Temperature")
    field.fill("270")
    field.press("Enter")
    phone.page.get_by_text("“270” is not counted: between −50 °C and 55 °C").first.wait_for()
    assert air_of(phone.bundle())["temperature"] == before
    # The pilot believes it is 270: no answer looks as if it rested on that, here or on paper.
    assert phone.page.locator(".follow.stale").count() == 1
    phone.go("")
    words = phone.page.locator(".pane-answers .answers.stale .headline").text_content() or ""
    assert "Without what is typed and not counted:" in words
    phone.go("print/leg")
    assert phone.page.locator(".sheet-stale .sheet-older").count() == 1
    phone.open_leg(2)
    assert phone.page.locator(".pane-answers .answers:not(.stale)").count() == 1, "another leg's air"
