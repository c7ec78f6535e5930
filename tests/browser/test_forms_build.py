"""An aeroplane and a strip from nothing, by touch alone and by keyboard alone, without a signal.

The answers are the demo's to the last digit, since every figure is.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tussock.api import handle
from tussock.documents.gate import read_document

from . import driving
from .forms_driver import REFERENCES, Filler
from .screens import SMALL, Screens

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

NOW = "2026-11-25T12:00:00+00:00"

#: what an edit leaves in a document besides its figures
TRACES = ("stamps", "removed", "typed")


def renamed(value: Any, ids: dict[str, str], field: str = "") -> Any:
    """With the ids of another document, and without figures' texts."""
    if isinstance(value, dict):
        return {
            key: renamed(one, ids, key) for key, one in value.items() if key != "typed" and one is not None
        }
    if isinstance(value, list):
        return [renamed(one, ids, field) for one in value]
    return ids.get(value, value) if isinstance(value, str) and field in REFERENCES else value


def bare(document: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in document.items() if key not in TRACES}


def whole(document: dict[str, Any]) -> dict[str, Any]:
    """With all that is taken for said where nothing was said."""
    read: dict[str, Any] = read_document(document).model_dump(mode="json", exclude_none=True)
    return read


def answers(documents: list[dict[str, Any]], opened: dict[str, str]) -> Any:
    params = {"documents": documents, **opened, "now": NOW}
    answer = json.loads(handle("answer", json.dumps(params)))
    return answer["result"]["legs"]


@pytest.mark.parametrize("touch", [True, False], ids=["touch", "keyboard"])
def test_the_demo_built_from_nothing_answers_as_the_demo(
    playwright_driver: Playwright, dist: Path, tmp_path: Path, touch: bool
) -> None:
    with (
        driving.served(dist) as site,
        driving.browser(playwright_driver, tmp_path / "profile", SMALL, touch=touch) as browser,
    ):
        screens = Screens(browser.open(site.address))
        screens.settle()
        driving.wait_for_phase(screens.page, "ready")
        site.stop()
        before = screens.bundle()
        demo = {one["id"]: one for one in before["documents"]}
        filler = Filler(screens, touch=touch)
        built = {}
        for name in ("ridge-camp", "dabchick"):
            new = filler.build(read_document(bare(demo[name])))
            built[name] = new, dict(filler.ids)
        # Nothing waits any more.
        screens.page.locator(".f-waiting").wait_for(state="detached")
        after = {one["id"]: one for one in screens.bundle()["documents"]}
        assert browser.complaints == []

    ours = dict(demo)
    for name, (new, ids) in built.items():
        made = renamed(bare(after[new]), ids) | {"id": name}
        assert whole(made) == whole(renamed(bare(demo[name]), {})), name
        ours[name] = made
    expected = answers(list(demo.values()), before["open"])
    assert {leg["verdict"] for leg in expected} > {"can't say"} or len(expected) == 1
    assert answers(list(ours.values()), before["open"]) == expected
