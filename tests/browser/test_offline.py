"""Use without signal: one visit, then no server."""

from __future__ import annotations

import itertools
import json
import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tussock.api import handle

from . import driving
from .precached import change, listed

if TYPE_CHECKING:
    from playwright.sync_api import Page, Playwright

#: Any sum will do here; this one broadcasts, so NumPy has to be there.
SUM: dict[str, Any] = {
    "name": "air_density",
    "args": {"pressure": [70e3, 85e3, 101325.0], "temperature": 300.0, "vapour_pressure": 1500.0},
}

PROGRESS = """() => new Promise((resolve) => {
  const { events, state } = window.tussock.offline;
  const seen = [];
  const look = () => {
    seen.push(state());
    if (["ready", "failed", "incomplete", "impossible"].includes(state().phase)) resolve(seen);
  };
  events.addEventListener("change", look);
  look();
})"""


def test_first_visit_tells_honestly_how_far_it_is(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    with driving.served(dist) as site, driving.browser(playwright_driver, tmp_path) as browser:
        seen = driving.wait(browser.open(site.address), PROGRESS)
    assert seen[-1]["phase"] == "ready"
    installing = [state for state in seen if state["phase"] == "installing"]
    on_disk = listed(dist)
    assert {state["ofFiles"] for state in installing} == {len(on_disk)}
    assert {state["ofBytes"] for state in installing} == {sum(entry["bytes"] for entry in on_disk.values())}
    for earlier, later in itertools.pairwise(installing):
        assert later["files"] >= earlier["files"]
        assert later["bytes"] >= earlier["bytes"]
    assert len({state["bytes"] for state in installing}) > len(on_disk), (
        "large files move the figure on their way"
    )
    assert (seen[-1]["files"], seen[-1]["bytes"]) == (installing[-1]["ofFiles"], installing[-1]["ofBytes"])


def test_first_visit_downloads_the_engine_once(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    with driving.served(dist) as site, driving.browser(playwright_driver, tmp_path) as browser:
        page = browser.open(site.address)
        driving.core_is_up(page)
        driving.wait_for_phase(page, "ready")
        engine = sorted(path for path in site.requested if path.startswith("/engine/"))
    assert engine == sorted(f"/{url}" for url in listed(dist) if url.startswith("engine/"))


def test_computes_with_the_server_stopped(playwright_driver: Playwright, dist: Path, tmp_path: Path) -> None:
    site = driving.Site(dist)
    with driving.browser(playwright_driver, tmp_path) as browser:
        driving.wait_for_phase(browser.open(site.address), "ready")
        site.stop()
        page = browser.open(site.address)
        assert_computes(page)
        assert driving.wait_for_phase(page, "ready")["ofFiles"] == len(listed(dist))
        assert browser.complaints == []
    with driving.browser(playwright_driver, tmp_path) as restarted:
        assert_computes(restarted.open(site.address))
        assert restarted.complaints == []


def assert_computes(page: Page) -> None:
    here = json.loads(handle("sum", json.dumps(SUM)))["result"]["outputs"]["air_density"]
    there = driving.ask(page, "sum", SUM)["result"]["outputs"]["air_density"]
    assert len(here) == 3
    assert there == pytest.approx(here, rel=1e-9)


def test_a_file_thrown_away_is_noticed_and_fetched_again(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    throw_away = """async () => {
      for (const name of await caches.keys()) {
        await (await caches.open(name)).delete("./engine/pyodide-lock.json");
      }
    }"""
    site = driving.Site(dist)
    with driving.browser(playwright_driver, tmp_path) as browser:
        page = browser.open(site.address)
        driving.wait_for_phase(page, "ready")
        site.stop()
        page.evaluate(throw_away)
        page.evaluate("() => window.tussock.offline.check()")
        state = driving.wait_for_phase(page, "incomplete")
        assert state["files"] == state["ofFiles"] - 1
        with driving.served(dist, site.port) as again:
            page.evaluate("() => window.tussock.offline.check()")
            driving.wait_for_phase(page, "ready")
            assert "/engine/pyodide-lock.json" in again.requested


def test_a_new_version_waits_for_consent(playwright_driver: Playwright, dist: Path, tmp_path: Path) -> None:
    newer = tmp_path / "newer"
    shutil.copytree(dist, newer)
    change(newer, "licences.txt", b"One more line.\n")
    site = driving.Site(dist)
    with driving.browser(playwright_driver, tmp_path / "profile") as browser:
        page = browser.open(site.address)
        old = driving.wait_for_phase(page, "ready")["version"]
        site.stop()
        with driving.served(newer, site.port) as site_now:
            page = browser.open(site_now.address)
            driving.wait(page, UPDATE_WAITS)
            assert driving.offline_state(page)["version"] == old
            assert "One more line." not in driving.wait(page, LICENCES)
            with page.expect_navigation():
                page.evaluate("() => window.tussock.offline.takeUpdate()")
            assert driving.wait_for_phase(page, "ready")["version"] != old
            assert "One more line." in driving.wait(page, LICENCES)
            assert_computes(page)
            fetched = [path for path in site_now.requested if path != "/sw.js"]
            assert fetched == ["/licences.txt"], (
                "what has not changed is copied from the earlier version's cache"
            )
            assert len(page.evaluate("() => caches.keys()")) == 1


UPDATE_WAITS = """() => new Promise((resolve) => {
  const { events, state } = window.tussock.offline;
  const look = () => state().update && resolve();
  events.addEventListener("change", look);
  look();
})"""

LICENCES = "() => fetch('licences.txt').then((response) => response.text())"


def test_a_file_that_does_not_arrive_whole_is_not_stored(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    broken = tmp_path / "broken"
    shutil.copytree(dist, broken)
    (broken / "engine" / "pyodide-lock.json").write_text("{}", encoding="utf-8")
    with driving.served(broken) as site, driving.browser(playwright_driver, tmp_path / "profile") as browser:
        page = browser.open(site.address)
        assert driving.wait_for_phase(page, "failed")["reason"]
        problem = driving.wait(
            page, "() => window.tussock.core.ready.then(() => null, ({ code, message }) => [code, message])"
        )
    assert problem is not None
    assert problem[0] == "not_started"
    assert problem[1]
