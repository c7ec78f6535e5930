"""The content security policy holds on the page and in the worker, from the server and from the cache."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from steps import policy

from . import driving

if TYPE_CHECKING:
    from playwright.sync_api import Page, Playwright, Worker

#: Outside of the evaluation itself, which the browser's own tooling exempts from the policy.
EVALUATES = """() => new Promise((resolve) => setTimeout(() => {
  try { resolve(new Function("return 'ran'")()); } catch (problem) { resolve(problem.name); }
}))"""

#: A server of ours, but of another origin.
LEAVES = """(address) => new Promise((resolve) => setTimeout(async () => {
  self.addEventListener("securitypolicyviolation", ({ effectiveDirective }) => resolve(effectiveDirective));
  try { await fetch(address, { mode: "no-cors" }); resolve("went out"); }
  catch { setTimeout(resolve, 1000, "failed for another reason"); }
}))"""

STYLE = """() => new Promise((resolve) => setTimeout(() => {
  const probe = document.createElement("div");
  document.body.append(probe);
  probe.setAttribute("style", "position: fixed");
  resolve(getComputedStyle(probe).position);
  probe.remove();
}))"""


@pytest.mark.parametrize("stopped", [False, True], ids=["from the server", "from the cache"])
def test_policy_holds(playwright_driver: Playwright, dist: Path, tmp_path: Path, stopped: bool) -> None:
    site = driving.Site(dist)
    with driving.served(dist) as elsewhere, driving.browser(playwright_driver, tmp_path) as browser:
        page = browser.open(site.address)
        driving.core_is_up(page)
        if stopped:
            driving.wait_for_phase(page, "ready")
            site.stop()
            page = browser.open(site.address)
            driving.core_is_up(page)
        (worker,) = page.workers
        for place in (page, worker):
            assert_strict(place, elsewhere.address)
        assert driving.wait(page, STYLE) == "static"
        sent = driving.wait(
            page, "() => fetch('.').then(({ headers }) => headers.get('content-security-policy'))"
        )
        assert sent == policy.HEADER
        assert elsewhere.requested == []
    if not stopped:
        site.stop()


def assert_strict(place: Page | Worker, elsewhere: str) -> None:
    assert driving.wait(place, EVALUATES) == "EvalError"
    assert driving.wait(place, LEAVES, elsewhere) == "connect-src"


def test_a_host_without_the_header_gets_it_from_the_service_worker(
    playwright_driver: Playwright, dist: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from steps import server

    monkeypatch.delitem(server.HEADERS, "Content-Security-Policy")
    with (
        driving.served(dist) as elsewhere,
        driving.served(dist) as site,
        driving.browser(playwright_driver, tmp_path) as browser,
    ):
        driving.wait_for_phase(browser.open(site.address), "ready")
        page = browser.open(site.address)
        driving.core_is_up(page)
        assert_strict(page.workers[0], elsewhere.address)
        assert elsewhere.requested == []


def test_nothing_but_our_own_origin_is_asked(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    asked: list[str] = []
    with driving.served(dist) as site, driving.browser(playwright_driver, tmp_path) as browser:
        browser.context.on("request", lambda request: asked.append(request.url))
        page = browser.open(site.address)
        driving.core_is_up(page)
        driving.wait_for_phase(page, "ready")
        again = browser.open(site.address)
        driving.core_is_up(again)
        origin = site.address
    assert any(url.endswith(".wasm") for url in asked), "the worker's requests are seen too"
    assert [url for url in asked if not url.startswith((origin, "data:", "blob:"))] == []
