"""What all tests share: hypothesis without chance in CI, the built site, one browser driver."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "build_scripts"))

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True, print_blob=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")


@pytest.hookimpl(trylast=True)  # after the folders have marked theirs
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """What needs no browser first: it is quick, and most mistakes show there."""
    items.sort(key=lambda item: item.get_closest_marker("browser") is not None)


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built site; test.py builds it."""
    built = ROOT / "pwa" / "dist"
    if not (built / "sw.js").is_file():
        pytest.fail("The site is not built: python3 build_scripts/start.py --build-only")
    return built


@pytest.fixture(scope="session")
def playwright_driver() -> Iterator[Playwright]:
    """Only one may run in a process."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        yield driver
