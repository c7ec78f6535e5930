"""Driving the built app in Chromium: a profile on disk that outlives the browser, a site that can be stopped.

The server is stopped for real instead of telling the browser to be offline: that switch does not hold for all
that a service worker and a worker fetch.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from steps import chromium
from steps.server import Site

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page, Playwright, Worker

#: A phone of usual size.
PHONE = {"width": 412, "height": 915}

#: Long enough for a slow machine's first visit; only ever waited out by a failure. [ms]
PATIENCE = 120_000

_ASK = """async ([method, params]) => {
  try {
    return JSON.stringify({ result: await window.tussock.ask(method, JSON.parse(params)) });
  } catch ({ code, path, message, expected }) {
    return JSON.stringify({ error: { code, path, message, expected } });
  }
}"""


class Browser:
    """One Chromium with a profile. `open()` gives a page with the app; `complaints` says what went wrong."""

    def __init__(
        self,
        driver: Playwright,
        profile: Path,
        viewport: dict[str, int] = PHONE,
        *,
        touch: bool = False,
        flags: tuple[str, ...] = (),
    ) -> None:
        self.complaints: list[str] = []
        self.context: BrowserContext = driver.chromium.launch_persistent_context(
            str(profile),
            executable_path=chromium.ensure(),
            args=[*chromium.FLAGS, *flags],
            viewport=viewport,  # type: ignore[arg-type]
            has_touch=touch,
        )
        self.context.set_default_timeout(PATIENCE)

    def page(self) -> Page:
        """An empty page whose complaints are heard."""
        page = self.context.new_page()
        page.on("pageerror", lambda error: self.complaints.append(f"error: {error}"))
        page.on(
            "console", lambda said: said.type == "error" and self.complaints.append(f"console: {said.text}")
        )
        return page

    def open(self, address: str) -> Page:
        page = self.page()
        page.goto(address)
        return page

    def close(self) -> None:
        self.context.close()


@contextmanager
def browser(
    driver: Playwright,
    profile: Path,
    viewport: dict[str, int] = PHONE,
    *,
    touch: bool = False,
    flags: tuple[str, ...] = (),
) -> Iterator[Browser]:
    one = Browser(driver, profile, viewport, touch=touch, flags=flags)
    try:
        yield one
    finally:
        one.close()


@contextmanager
def served(folder: Path, port: int = 0) -> Iterator[Site]:
    site = Site(folder, port)
    try:
        yield site
    finally:
        site.stop()


def wait(place: Page | Worker, source: str, argument: Any = None) -> Any:
    """Evaluate a function that gives a promise, and fail when it stays open.

    Playwright puts no limit on an evaluation, and its own ways of waiting build functions from text, which
    the policy forbids.
    """
    limited = f"""(argument) => Promise.race([
      ({source})(argument),
      new Promise((_, reject) => setTimeout(reject, {PATIENCE}, new Error("waited in vain"))),
    ])"""
    return place.evaluate(limited, argument)


def ask(page: Page, method: str, params: dict[str, Any]) -> dict[str, Any]:
    """Ask the core in the page's worker: `{"result": ...}` or `{"error": ...}`, as the core words it."""
    answer: dict[str, Any] = json.loads(wait(page, _ASK, [method, json.dumps(params)]))
    return answer


def core_is_up(page: Page) -> None:
    wait(page, "() => window.tussock.core.ready")


def offline_state(page: Page) -> dict[str, Any]:
    state: dict[str, Any] = page.evaluate("() => window.tussock.offline.state()")
    return state


def wait_for_phase(page: Page, *phases: str) -> dict[str, Any]:
    """Wait until the state of use without signal is one of `phases`."""
    wait(
        page,
        """(phases) => new Promise((resolve) => {
          const { events, state } = window.tussock.offline;
          const look = () => phases.includes(state().phase) && resolve();
          events.addEventListener("change", look);
          look();
        })""",
        list(phases),
    )
    return offline_state(page)
