"""Nothing stored is lost: two pages at once, no room, a dying page, a damaged record, a closed store."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import Error

from tussock.api import handle

from . import driving
from .screens import PHONE, Screens, air_of, document

if TYPE_CHECKING:
    from playwright.sync_api import Page, Playwright

_STORE = """async ([method, store, ...given]) => {
  const db = await new Promise((done, wrong) => {
    const asked = indexedDB.open("tussock");
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => wrong(asked.error);
  });
  const change = db.transaction(store, "readwrite");
  const asked = change.objectStore(store)[method](...given);
  await new Promise((done, wrong) => {
    change.oncomplete = done;
    change.onerror = () => wrong(change.error);
  });
  db.close();
  return JSON.stringify(asked.result ?? null);
}"""


def store(page: Page, method: str, name: str, *given: Any) -> Any:
    """Past the app, straight from or into the browser's store."""
    return json.loads(driving.wait(page, _STORE, [method, name, *given]))


@pytest.fixture
def address(dist: Path) -> Iterator[str]:
    with driving.served(dist) as site:
        yield site.address


@pytest.fixture
def browser(playwright_driver: Playwright, tmp_path: Path) -> Iterator[driving.Browser]:
    with driving.browser(playwright_driver, tmp_path, PHONE) as one:
        yield one


def opened(browser: driving.Browser, address: str) -> Screens:
    screens = Screens(browser.open(address))
    screens.settle()
    driving.wait_for_phase(screens.page, "ready")
    return screens


def warmer(screens: Screens) -> None:
    screens.page.get_by_role("button", name="More: Temperature").click()


def until(page: Page, met: Any) -> None:
    for _ in range(driving.PATIENCE // 100):
        if met():
            return
        page.wait_for_timeout(100)
    raise AssertionError("waited in vain")


def test_two_pages_that_do_not_hear_of_each_other_lose_no_edit_of_one_aeroplane(
    browser: driving.Browser, address: str
) -> None:
    first = opened(browser, address)
    # Messages between pages come late or never where the browser is busy.
    browser.context.add_init_script(
        """{ const post = BroadcastChannel.prototype.postMessage;
        BroadcastChannel.prototype.postMessage = function (...given) {
          if (this.name !== "tussock-documents") post.apply(this, given);
        };
        window.BroadcastChannel = class extends window.BroadcastChannel {
          addEventListener(...given) {
            if (this.name !== "tussock-documents") super.addEventListener(...given);
          }
        }; }"""
    )
    second = opened(browser, address)
    place = "#/edit/dabchick%2Fbays%2Fhold"
    for screens, field, typed in (
        (first, "/bays/hold/mass_limit", "61 kg"),
        (second, "/bays/hold/longest", "1.23 m"),
        (first, "/bays/hold/name", "Hold, first"),
    ):
        screens.page.evaluate("(place) => { location.hash = place; }", place)
        box = screens.page.locator(f'[data-at="{field}"] [data-main]').first
        box.fill(typed)
        box.press("Enter")
        screens.page.locator(".f-waiting").wait_for(state="detached")
        screens.settle()
        screens.page.wait_for_timeout(700)  # it is written down by then

    kept = store(first.page, "get", "documents", "dabchick")
    hold = next(bay for bay in kept["bays"] if bay["id"] == "hold")
    assert (hold["mass_limit"]["value"], hold["longest"]["value"]) == (61.0, 1.23)
    assert hold["name"] == "Hold, first"
    told = second.page.locator(".pane-open .notice", has_text="Edited in another window")
    assert "Dabchick" in (told.text_content() or "")
    told.get_by_role("button", name="Seen").click()
    told.wait_for(state="detached")
    # What was joined is what is seen and worked with.
    shown = document(first.bundle(), "dabchick")
    assert {key: value for key, value in kept.items() if key != "stamps"} == shown


def test_no_room_is_told_and_what_was_typed_is_kept_once_there_is(
    browser: driving.Browser, address: str
) -> None:
    browser.context.add_init_script(
        """{ const put = IDBObjectStore.prototype.put;
        IDBObjectStore.prototype.put = function (...given) {
          if (window.noRoom) throw new DOMException("no room", "QuotaExceededError");
          return put.apply(this, given);
        }; }"""
    )
    screens = opened(browser, address)
    page = screens.page
    screens.go("air")
    was = air_of(screens.bundle())["temperature"]
    before = store(page, "get", "documents", "air-1-from")
    page.evaluate("() => { window.noRoom = true; }")
    screens.go("air")
    warmer(screens)
    page.locator(".pane-open .notice", has_text="no room left").wait_for()
    screens.settle()
    assert air_of(screens.bundle())["temperature"] == was + 1, "it works on all the same"
    assert store(page, "get", "documents", "air-1-from") == before, "nothing stored was harmed"
    page.evaluate("() => { window.noRoom = false; }")
    page.locator(".notice", has_text="no room left").first.wait_for(state="detached")
    assert store(page, "get", "documents", "air-1-from")["temperature"] == was + 1


def test_a_page_that_goes_at_once_takes_no_edit_with_it(browser: driving.Browser, address: str) -> None:
    """The store may still be writing when the page goes: here it never gets round to it."""
    screens = opened(browser, address)
    page = screens.page
    screens.go("air")
    was = air_of(screens.bundle())["temperature"]
    screens.go("air")
    page.evaluate("() => { IDBDatabase.prototype.transaction = () => { throw new Error('too late'); }; }")
    warmer(screens)
    page.reload()
    screens.settle()
    assert air_of(screens.bundle())["temperature"] == was + 1
    page.get_by_role("button", name="Undo: temperature").first.wait_for(state="attached")
    until(page, lambda: store(page, "get", "documents", "air-1-from")["temperature"] == was + 1)
    assert page.evaluate("() => localStorage.length") == 0, "what was taken up is not kept twice"


def test_a_page_killed_in_the_middle_of_typing(
    playwright_driver: Playwright, dist: Path, tmp_path: Path
) -> None:
    site = driving.Site(dist)
    with driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        screens = opened(browser, site.address)
        page = screens.page
        screens.go("air")
        warmer(screens)
        screens.settle()
        was = air_of(screens.bundle())["temperature"]
        screens.go("air")
        page.get_by_role("textbox", name="Temperature").fill("2")
        until(page, lambda: "2" in store(page, "get", "kept", "drafts").values())
        with contextlib.suppress(Error):  # the answer dies with the page
            page.goto("chrome://crash")
    with driving.browser(playwright_driver, tmp_path, PHONE) as browser:
        again = opened(browser, site.address)
        again.go("air")
        assert again.page.get_by_role("textbox", name="Temperature").input_value() == "2"
        again.page.locator(".pane-open .notice", has_text="“2”").wait_for()
        assert air_of(again.bundle())["temperature"] == was
    site.stop()


def test_damaged_records_stop_nothing_and_stay_where_they_are(browser: driving.Browser, address: str) -> None:
    screens = opened(browser, address)
    page = screens.page
    harm: dict[str, Any] = {
        "spare-1": None,
        "spare-2": "half a docum",
        "spare-3": {"kind": "kit"},
        "wren": 7,
    }
    for key, record in harm.items():
        store(page, "put", "documents", record, key)
    page.reload()
    page.locator(".pane-answers .notice", has_text="no longer readable").wait_for()
    said = page.locator(".pane-answers .notice", has_text="no longer readable").text_content() or ""
    assert all(key in said for key in harm)
    # The trip names somebody who can't be read: refused, and nothing looks current.
    page.locator(".pane-answers .notice", has_text="wren").first.wait_for()
    assert page.locator(".pane-answers .answers:not(.stale)").count() == 0
    for key, record in harm.items():
        assert store(page, "get", "documents", key) == record


def test_a_store_that_the_browser_closed_is_opened_again(browser: driving.Browser, address: str) -> None:
    browser.context.add_init_script(
        """{ const transaction = IDBDatabase.prototype.transaction;
        IDBDatabase.prototype.transaction = function (...given) {
          window.held = this;
          return transaction.apply(this, given);
        }; }"""
    )
    screens = opened(browser, address)
    page = screens.page
    screens.go("air")
    was = air_of(screens.bundle())["temperature"]
    screens.go("air")
    page.wait_for_timeout(700)
    page.evaluate("() => window.held.close()")
    warmer(screens)
    screens.settle()
    until(page, lambda: store(page, "get", "documents", "air-1-from")["temperature"] == was + 1)
    assert page.locator(".notice").count() == 0


_FIRST_STORE = """async (documents) => {
  const db = await new Promise((done, wrong) => {
    const asked = indexedDB.open("tussock", 1);
    asked.onupgradeneeded = () => {
      for (const name of ["documents", "kept"]) asked.result.createObjectStore(name);
    };
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => wrong(asked.error);
  });
  const change = db.transaction("documents", "readwrite");
  for (const one of documents) change.objectStore("documents").put(one, one.id);
  await new Promise((done, wrong) => {
    change.oncomplete = done;
    change.onerror = () => wrong(change.error);
  });
  db.close();
}"""


def test_a_store_as_the_first_version_made_it_is_opened_and_nothing_lost(
    browser: driving.Browser, address: str
) -> None:
    """The first version of the store had no history."""
    documents = json.loads(handle("demo", json.dumps({"now": "2026-11-25T09:00:00+00:00"})))["result"][
        "documents"
    ]
    for one in documents:
        one["note"] = f"Mine: {one['id']}"
    page = browser.page()
    page.goto(f"{address}licences.txt")  # of the same origin, without the app
    driving.wait(page, _FIRST_STORE, documents)
    page.close()
    screens = opened(browser, address)
    assert {one["id"]: one for one in screens.bundle()["documents"]} == {one["id"]: one for one in documents}
    screens.go("air")
    warmer(screens)
    screens.settle()
    until(screens.page, lambda: store(screens.page, "count", "history") > 0)
