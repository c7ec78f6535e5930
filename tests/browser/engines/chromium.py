"""Chromium by Playwright."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from .. import driving
from .engine import SMALL, Engine

if TYPE_CHECKING:
    from playwright.sync_api import Playwright


class Chromium(Engine):
    name = "chromium"

    def __init__(self, driver: Playwright, profile: Path, size: tuple[int, int] = SMALL) -> None:
        width, height = size
        self.browser = driving.Browser(driver, profile, {"width": width, "height": height})
        self._page = self.browser.page()
        self._asked: list[str] = []
        self.browser.context.on("request", lambda request: self._asked.append(request.url))

    def open(self, address: str) -> None:
        self._page.goto(address)

    def evaluate_text(self, source: str, argument: Any) -> str:
        return str(self._page.evaluate(source, argument))

    def click(self, x: float, y: float) -> None:
        self._page.mouse.click(x, y)

    def type(self, text: str) -> None:
        self._page.keyboard.type(text)

    def press(self, key: str) -> None:
        self._page.keyboard.press(key)

    def asked(self) -> list[str]:
        return self._asked

    def complaints(self) -> list[str]:
        return self.browser.complaints

    def screenshot(self, path: Path) -> None:
        self._page.screenshot(path=path)

    def close(self) -> None:
        self.browser.close()
