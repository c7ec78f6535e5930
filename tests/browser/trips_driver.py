"""Making trips by touch: what is tapped is found by what it is called, on the screen that is open."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .screens import Screens

if TYPE_CHECKING:
    from playwright.sync_api import Locator


def place(phone: Screens, where: str) -> None:
    phone.page.locator(f'.pane-open[data-place="{where}"]').wait_for(state="attached")


def link(phone: Screens, name: str) -> Locator:
    return phone.page.locator(".pane-open").get_by_role("link", name=name, exact=True)


def button(phone: Screens, name: str) -> Locator:
    return phone.page.locator(".pane-open").get_by_role("button", name=name, exact=True)


def pick(phone: Screens, label: str, value: str) -> None:
    """One of a list that the device draws, and wait until it shows."""
    listed = phone.page.locator(".pane-open").get_by_label(label, exact=True)
    listed.tap()
    listed.select_option(value)
    driven = phone.page.locator(".pane-answers .answers")
    if driven.count():
        phone.settle()  # it is in, and answered


def slip(phone: Screens, group: str, option: str) -> None:
    pane = phone.page.locator(".pane-open")
    slips = pane.get_by_role("group", name=group, exact=True).locator("label.slip")
    slips.filter(has_text=option).first.tap()
    phone.settle()


def figure(phone: Screens, label: str, typed: str) -> None:
    field = phone.page.locator(".pane-open").get_by_role("textbox", name=label, exact=True)
    field.tap()
    field.fill(typed)
    field.press("Enter")
    phone.settle()


def new_trip(phone: Screens, name: str, plane: str, configuration: str, start: str, end: str) -> None:
    phone.go("trip")
    link(phone, "New trip").tap()
    place(phone, "trip/new")
    assert button(phone, "Make the trip").is_disabled()
    phone.page.get_by_label("Name of the trip").tap()
    phone.page.get_by_label("Name of the trip").fill(name)
    pick(phone, "Aeroplane", plane)
    assert "its configuration" in (phone.page.locator(".trip-form [role=status]").text_content() or "")
    pick(phone, "Configuration", configuration)
    pick(phone, "From strip", start)
    pick(phone, "To strip", end)
    button(phone, "Make the trip").tap()
    phone.page.locator(".pane-answers .leg-button").wait_for()
    phone.page.get_by_text("Leg 1 of 1").wait_for()
    phone.settle()


def without_ids(leg: dict[str, Any]) -> dict[str, Any]:
    """What an answer says, but not of which leg."""
    return {key: leg[key] for key in ("verdict", "worst", "answers", "figures")}
