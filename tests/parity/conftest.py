"""`browser_api`: the core in the browser's worker, asked from Python like the one at home."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from ..browser import driving

if TYPE_CHECKING:
    from playwright.sync_api import Playwright


@pytest.fixture(scope="session")
def browser_api(
    playwright_driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Callable[[str, dict[str, Any]], dict[str, Any]]]:
    """`browser_api(method, params)` gives the parsed answer: `{"result": ...}` or `{"error": ...}`."""
    profile = tmp_path_factory.mktemp("parity-profile")
    with driving.served(dist) as site, driving.browser(playwright_driver, profile) as browser:
        page = browser.open(site.address)
        driving.core_is_up(page)
        yield lambda method, params: driving.ask(page, method, params)
