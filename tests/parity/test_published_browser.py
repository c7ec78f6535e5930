"""The published values again, in the browser: against the figures themselves and against the native core."""

from __future__ import annotations

import math
from typing import Any

import pytest

from ..published.rows import Api, Row, ask, load, misses, native

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("row", load(), ids=lambda row: row.id)
def test_row_in_the_browser(row: Row, browser_api: Api) -> None:
    here, there = ask(row, native), ask(row, browser_api)
    assert misses(row, there) == [], row.source
    assert there["state"] == here["state"]
    assert there["units"] == here["units"]
    for name, value in here["outputs"].items():
        assert same(value, there["outputs"][name]), f"{name}: {value} here, {there['outputs'][name]} there"


def same(here: Any, there: Any) -> bool:
    """Equal to 1e-12, or to 1e-9 in SI where a small figure is the difference of large ones."""
    if isinstance(here, list):
        return isinstance(there, list) and len(here) == len(there) and all(map(same, here, there))
    if here is None or there is None:
        return here is there
    return math.isclose(here, there, rel_tol=1e-12, abs_tol=1e-9)
