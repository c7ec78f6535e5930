"""A hand that does nothing but press keys, and a look at each frame for where the focus is.

Whoever goes by keys or by ear stands somewhere at every moment.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from playwright.sync_api import expect

from . import driving
from .forms_driver import Filler
from .screens import Screens
from .trips_driver import place

if TYPE_CHECKING:
    from playwright.sync_api import Locator

#: Where the focus was when it fell out of the page and was not back within a few frames.
WATCH = """() => {
  window.fell = [];
  let [last, gone] = ["", 0];
  const look = () => {
    const here = document.activeElement;
    gone = here === document.body || here === null ? gone + 1 : 0;
    if (gone === 3) window.fell.push(`${location.hash} after ${last}`);
    const name = () => here.getAttribute("aria-label") ?? here.textContent.trim().slice(0, 40);
    if (!gone) last = `${here.tagName} ${here.id} ${name()}`;
    requestAnimationFrame(look);
  };
  look();
}"""


class Keys(Filler):
    """Goes by Tab, arrows, Enter and Space, and finds things on the open screen by what they are called."""

    def __init__(self, screens: Screens) -> None:
        super().__init__(screens, touch=False)
        self.page.keyboard.press("Tab")
        self.page.evaluate(WATCH)

    @property
    def pane(self) -> Locator:
        return self.page.locator(".pane-open")

    def button(self, name: str) -> None:
        self.press(self.pane.get_by_role("button", name=name, exact=True))
        self.screens.settle()

    def link(self, name: str, there: str) -> None:
        self.press(self.pane.get_by_role("link", name=re.compile(rf"^\s*{re.escape(name)}")).first)
        place(self.screens, there)

    def tab(self, name: str, there: str) -> None:
        self.press(self.page.get_by_role("navigation").get_by_role("link", name=name, exact=True))
        place(self.screens, there)

    def figure(self, label: str, typed: str) -> None:
        self.type(self.pane.get_by_role("textbox", name=label, exact=True), typed)
        self.screens.settle()

    def pick(self, label: str, value: str) -> None:
        """One of a list that the device draws, by as many arrows as it takes."""
        listed = self.pane.get_by_label(label, exact=True)
        listed.locator(f'option[value="{value}"]').wait_for(state="attached")
        self.get_to(listed)
        steps = listed.evaluate(
            "(one, value) => [...one.options].findIndex((o) => o.value === value) - one.selectedIndex", value
        )
        for _ in range(abs(steps)):
            self.page.keyboard.press("ArrowDown" if steps > 0 else "ArrowUp")
        expect(listed).to_have_value(value, timeout=driving.PATIENCE)
        self.screens.settle()

    def slip(self, name: str, value: str) -> None:
        """One of a few. A choice of one alone goes when it is made."""
        radios = self.pane.locator(f'input[type=radio][name="{name}"]')
        radios.first.wait_for(state="attached")
        if radios.count() > 1:
            self.choose(self.pane, name, value)
        else:
            self.get_to(radios)
            assert radios.get_attribute("value") == value
            self.page.keyboard.press("Space")
        self.screens.settle()

    def tick(self, name: str) -> None:
        named = self.page.locator(".item-name", has_text=re.compile(rf"^{re.escape(name)}$"))
        self.get_to(self.pane.locator(".tick").filter(has=named).locator("input"))
        self.page.keyboard.press("Space")

    def fell(self) -> list[str]:
        found: list[str] = self.page.evaluate("() => window.fell")
        return found

    def here(self) -> str:
        """What stands where the focus is."""
        return str(self.page.evaluate("() => document.activeElement.textContent.trim()"))
