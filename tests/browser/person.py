"""Somebody with a description in one hand, the phone in the other: fields are found by their labels alone."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from .screens import Screens

if TYPE_CHECKING:
    from playwright.sync_api import Locator

#: The first field that can be seen and whose label begins so, brought to where a finger reaches: its id, and
#: where to touch it, if nothing lies over it.
FIELD = """(area, label) => {
  const id = [...area.querySelectorAll("label.f-label")]
    .find((one) => one.checkVisibility() && one.textContent.trim().startsWith(label))?.htmlFor;
  const field = id && document.getElementById(id);
  if (!field) return null;
  field.scrollIntoView({ block: "center" });
  const { left, top, width, height } = field.getBoundingClientRect();
  const [x, y] = [left + width / 2, top + height / 2];
  return [id, document.elementFromPoint(x, y) === field ? [x, y] : null];
}"""

#: The focus follows the finger when the page gets to it: did it, within some frames?
FOCUSED = """async (id) => {
  for (let frames = 0; frames < 20 && document.activeElement?.id !== id; frames++)
    await new Promise(requestAnimationFrame);
  return document.activeElement?.id === id;
}"""


class Person:
    """Taps what can be seen on the open screen, and types the figures as they stand in the description."""

    def __init__(self, screens: Screens) -> None:
        self.screens, self.page = screens, screens.page

    @property
    def pane(self) -> Locator:
        return self.page.locator(".pane-open")

    def seen(self, found: Locator) -> Locator:
        return found.filter(visible=True).first

    def tap(self, button: str, within: Locator | None = None) -> None:
        self.seen((within or self.pane).get_by_role("button", name=button, exact=True)).tap()

    def open(self, link: str, title: str | None = None) -> None:
        name = re.compile(rf"^\s*{re.escape(link)}")
        self.seen(self.page.get_by_role("link", name=name)).tap()
        title = title or link.removeprefix("Back to ").removeprefix("Next: ")
        self.page.locator("h1", has_text=title).filter(visible=True).wait_for()

    def next(self, title: str) -> None:
        self.open(f"Next: {title}")

    def group(self, name: str) -> Locator:
        found = self.pane.get_by_role("group", name=name, exact=True)
        found.wait_for()
        return found

    def add(self, what: str, *names: str) -> None:
        for name in names:
            self.type(f"Add to {what}", name)
            self.seen(self.page.get_by_role("link", name=name)).wait_for()

    def give(self, what: str) -> Locator:
        """Something that is not known yet, and now is: its fields."""
        self.tap(f"Give: {what}")
        return self.group(what)

    def field(self, label: str, area: Locator) -> tuple[str, list[float] | None]:
        """Id and place of the first field that can be seen and whose label begins so."""
        found: tuple[str, list[float] | None] | None = area.evaluate(FIELD, label)
        if found is None:  # it is not drawn yet
            labels = area.locator("label.f-label").filter(visible=True)
            labels.filter(has_text=re.compile(rf"^\s*{re.escape(label)}")).first.wait_for()
            found = area.evaluate(FIELD, label)
        assert found is not None, label
        return found

    def type(self, label: str, typed: str, within: Locator | None = None) -> None:
        """Into the field whose label begins so."""
        name, place = self.field(label, within or self.pane)
        if place:
            self.page.touchscreen.tap(*place)
        # where the page has moved under the finger, with all the care that a browser driver takes
        if not place or not self.page.evaluate(FOCUSED, name):
            self.page.locator(f'[id="{name}"]').tap()
        self.page.keyboard.press("Control+A")
        self.page.keyboard.insert_text(typed)
        self.page.keyboard.press("Enter")

    def fill(self, within: Locator | None = None, **fields: str) -> None:
        """Several, by labels in which `_` is a space."""
        for label, typed in fields.items():
            self.type(label.replace("_", " "), typed, within)

    def rows(self, what: str, labels: Iterable[str], rows: Iterable[tuple[Any, ...]]) -> None:
        for number, row in enumerate(rows, 1):
            self.tap(f"Add a row: {what}")
            place = self.group(f"{what}, row {number}")
            for label, one in zip(labels, row, strict=True):
                self.type(label, str(one), place)

    def paste(self, heading: str, text: str) -> str:
        """Into the box under that heading; what the app says of it."""
        part = self.pane.get_by_role("region", name=re.compile(rf"^\s*{re.escape(heading)}"))
        if not part.locator("textarea.f-paste").is_visible():
            part.get_by_text("Paste from a spreadsheet").tap()
        box = part.locator("textarea.f-paste")
        box.tap()
        self.page.keyboard.press("Control+A")
        self.page.keyboard.insert_text(text)
        part.get_by_role("button", name="Take it").tap()
        said = part.locator(".f-aid").get_by_role("status")
        said.wait_for()
        return said.text_content() or ""

    def choose(self, what: str, answer: str, within: Locator | None = None) -> None:
        """One of a few slips, or of a list that the device draws."""
        area = within or self.pane
        slips = area.get_by_role("group", name=what, exact=True)
        lists = area.get_by_role("combobox", name=re.compile(rf"^\s*{re.escape(what)}"))
        found = self.seen(slips.or_(lists))
        if found.evaluate("(one) => one.tagName") == "SELECT":
            found.select_option(label=answer)
            return
        label = found.locator("label").filter(has=self.page.get_by_role("radio", name=answer, exact=True))
        label.tap()
        assert label.get_by_role("radio").is_checked(), (what, answer)

    def tick(self, group: str, *answers: str) -> None:
        for answer in answers:
            label = self.group(group).locator("label").filter(has_text=answer)
            label.tap()
            assert label.get_by_role("checkbox").is_checked(), (group, answer)
