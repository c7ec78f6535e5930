"""What the device says of itself: its files against the build, its last error; copied, and sent nowhere."""

from __future__ import annotations

import hashlib
from pathlib import Path

from .driving import wait, wait_for_phase
from .screens import Screens

ALTER = """async ([name, body]) => {
  for (const key of await caches.keys()) {
    const cache = await caches.open(key);
    for (const request of await cache.keys()) {
      if (!new URL(request.url).pathname.endsWith(name)) continue;
      if (body === null) await cache.delete(request);
      else await cache.put(request, new Response(body));
    }
  }
}"""


def looked(screens: Screens) -> str:
    page = screens.page
    screens.go("")
    screens.go("device")
    again = page.get_by_role("button", name="Look again")
    page.locator("button:not([disabled])", has_text="Look again").wait_for()
    again.click()
    page.get_by_text("files are looked at").or_(page.get_by_text("files are")).first.wait_for()
    page.locator("button:not([disabled])", has_text="Look again").wait_for()
    return page.locator(".pane-open").inner_text()


def test_each_stored_file_with_its_hash(screens: Screens, dist: Path) -> None:
    wait_for_phase(screens.page, "ready")
    said = looked(screens)
    rows = screens.page.locator(".stored > li")
    assert rows.count() > 20
    for row in rows.all():
        name = row.locator(".stored-name").text_content() or ""
        file = dist / (name or "index.html")
        assert row.locator("code").text_content() == hashlib.sha256(file.read_bytes()).hexdigest(), name
        assert "as built" in row.inner_text()
    assert f"All {rows.count()} files are as they were built." in said


def test_a_file_altered_or_gone_is_told(screens: Screens, dist: Path) -> None:
    wait_for_phase(screens.page, "ready")
    whole = (dist / "licences.txt").read_text(encoding="utf-8")
    try:
        wait(screens.page, ALTER, ["licences.txt", "something else"])
        assert "1 are missing or not as they were built." in looked(screens)
        row = screens.page.locator(".stored > li", has_text="licences.txt")
        assert "not as built" in row.inner_text()
        wait(screens.page, ALTER, ["licences.txt", None])
        looked(screens)
        assert "missing" in row.inner_text()
        assert row.locator("code").count() == 0
    finally:
        # Put back by hand: nothing else here looks for it.
        screens.page.evaluate(
            """async (body) => {
              for (const key of await caches.keys()) {
                const cache = await caches.open(key);
                const all = await cache.keys();
                if (all.some(({ url }) => url.endsWith("worker.js"))) {
                  await cache.put(new URL("licences.txt", document.baseURI).href, new Response(body));
                }
              }
            }""",
            whole,
        )
    assert "files are as they were built." in looked(screens)


def test_the_last_error_is_kept_and_copied_and_nothing_is_sent(screens: Screens) -> None:
    page = screens.page
    # Heard by our listener alone: an event, so that the browser itself has nothing to complain of.
    page.evaluate(
        """() => dispatchEvent(new ErrorEvent("error", { message: "<b>made up</b> " + "x".repeat(5000) }))"""
    )
    page.wait_for_timeout(300)  # a moment to be written down
    screens.refresh()
    sent: list[str] = []

    def heard(request: object) -> None:
        sent.append(str(request))

    page.on("request", heard)
    said = looked(screens)
    assert "<b>made up</b>" in said
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Copy all of it").click()
    page.get_by_text("Copied.").wait_for()
    copied = page.evaluate("() => navigator.clipboard.readText()")
    page.remove_listener("request", heard)
    assert "<b>made up</b>" in copied
    assert len(copied) < 10_000
    for word in ("Build", "Pyodide", "Browser", "worker.js", "Promised to keep documents"):
        assert word in copied
    assert sent == []


def test_where_nothing_can_be_copied_by_a_touch_the_text_is_there_to_mark(screens: Screens) -> None:
    page = screens.page
    looked(screens)
    page.evaluate("() => { navigator.clipboard.writeText = () => Promise.reject(new Error('no')); }")
    page.get_by_role("button", name="Copy all of it").click()
    text = page.locator("textarea.by-hand")
    text.wait_for()
    assert "Pyodide" in text.input_value()
    screens.refresh()
