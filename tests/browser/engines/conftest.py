"""Each test of this folder runs in every engine."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from .chromium import Chromium
from .engine import Engine
from .firefox import Firefox
from .webkit import WebKit

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

Launch = Callable[[], Engine]


@pytest.fixture(params=["chromium", "firefox", "webkit"])
def launch(request: pytest.FixtureRequest, tmp_path: Path, playwright_driver: Playwright) -> Launch:
    """Starts the browser: a new process each time, with the same profile."""
    profile = tmp_path / "profile"
    engines: dict[str, Launch] = {
        "chromium": lambda: Chromium(playwright_driver, profile),
        "firefox": lambda: Firefox(profile),
        "webkit": lambda: WebKit(profile),
    }
    return engines[request.param]
