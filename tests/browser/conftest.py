"""Everything in this folder drives a browser."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from .screens import PHONE, Screens, opened

if TYPE_CHECKING:
    from playwright.sync_api import Playwright


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="module")
def one_page(
    playwright_driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Screens]:
    """One page for all tests of a file, since an engine takes seconds to start."""
    with opened(playwright_driver, dist, tmp_path_factory.mktemp("profile")) as (screens, browser, _):
        yield screens
        assert browser.complaints == []


@pytest.fixture
def screens(one_page: Screens) -> Screens:
    """The app on its first screen with the demo trip as on the first day, on a phone of usual size."""
    one_page.page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    one_page.start_again()
    return one_page
