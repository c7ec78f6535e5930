"""The queue before the worker: newest edit wins, giving up works, a failure is told in words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from . import driving

if TYPE_CHECKING:
    from playwright.sync_api import Page, Playwright


#: A client and a worker of the test's own: the app's may be busy with questions of the screens.
OWN_CLIENT = """async () => {
  const { CoreClient } = window.tussock;
  window.client = new CoreClient(() => new Worker("worker.js", { type: "module" }));
  window.client.start();
  await window.client.ready;
}"""


@pytest.fixture(scope="module")
def page(
    playwright_driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Page]:
    profile = tmp_path_factory.mktemp("worker-profile")
    with driving.served(dist) as site, driving.browser(playwright_driver, profile) as browser:
        page = browser.open(site.address)
        driving.core_is_up(page)
        driving.wait(page, OWN_CLIENT)
        yield page


#: Short names, and a way to settle a list of promises into plain words.
SETUP = """const { CoreClient } = window.tussock;
const ask = client.ask.bind(client);
const settle = (asked) => Promise.all(
  asked.map((one) => one.then(() => "answered", ({ code }) => code)));"""


def outcome(page: Page, body: str) -> Any:
    return driving.wait(page, f"async () => {{ {SETUP} {body} }}")


def test_newest_of_a_channel_wins(page: Page) -> None:
    """The first is under way when the others come; of those that wait only the last is asked."""
    said = outcome(
        page,
        """const edit = () => ask("sums", {}, { channel: "remedies" });
        return settle([edit(), edit(), edit(), ask("sums"), edit()]);""",
    )
    assert said == ["answered", "superseded", "superseded", "answered", "answered"]


def test_an_edit_drops_other_channels_that_it_names(page: Page) -> None:
    said = outcome(
        page,
        """return settle([
          ask("sums"),
          ask("sums", {}, { channel: "remedies" }),
          ask("sums", {}, { channel: "answer", drops: ["remedies"] }),
        ]);""",
    )
    assert said == ["answered", "superseded", "answered"]


def test_giving_up_what_waits(page: Page) -> None:
    said = outcome(
        page,
        """const stop = new AbortController();
        const asked = [ask("sums"), ask("sums", {}, { signal: stop.signal }), ask("sums")];
        stop.abort();
        const late = ask("sums", {}, { signal: stop.signal });
        return settle([...asked, late]);""",
    )
    assert said == ["answered", "stopped", "answered", "stopped"]


def test_a_worker_that_does_not_come_back_is_replaced(page: Page) -> None:
    """A worker that answers nothing stands for a sum without end; what waits is answered by its successor."""
    said = outcome(
        page,
        """let made = 0;
        class Fake extends EventTarget {
          constructor() { super(); this.number = ++made; setTimeout(() => this.boot()); }
          boot() { this.say({ boot: { step: "ready", done: 3, of: 3, ms: 0 } }); }
          say(data) { this.dispatchEvent(new MessageEvent("message", { data })); }
          postMessage({ id }) {
            if (this.number > 1) this.say({ id, answer: '{"result":' + this.number + '}' });
          }
          terminate() { this.dead = true; }
        }
        const other = new CoreClient(() => new Fake());
        other.start();
        const stop = new AbortController();
        const endless = other.ask("sums", {}, { signal: stop.signal });
        const after = other.ask("sums");
        await other.ready;
        stop.abort();
        return [await endless.catch(({ code }) => code), await after];""",
    )
    assert said == ["stopped", 2]


def test_refusals_come_as_the_core_words_them(page: Page) -> None:
    said = driving.ask(page, "no such method", {})["error"]
    assert said["code"] == "unknown_method"
    assert said["message"]
    assert said["expected"]


def test_after_a_restart_the_core_answers(page: Page) -> None:
    said = outcome(
        page,
        """client.restart();
        const answered = await settle([ask("sums")]);
        await client.ready;
        return answered;""",
    )
    assert said == ["answered"]


def test_an_exception_of_the_core_is_told_in_one_line_and_survived(page: Page) -> None:
    """Past the client, which sends text only: parameters that are no text make the border itself raise."""
    said = driving.wait(
        page,
        """() => new Promise((resolve) => {
          const worker = new Worker("worker.js", { type: "module" });
          const heard = [];
          worker.addEventListener("message", ({ data }) => {
            if (data.boot?.step === "ready") {
              worker.postMessage({ id: 1, method: "sums", params: 5 });
              worker.postMessage({ id: 2, method: "sums", params: "{}" });
            }
            if ("answer" in data) heard.push(JSON.parse(data.answer));
            if (heard.length === 2) { worker.terminate(); resolve(heard); }
          });
        })""",
    )
    error = said[0]["error"]
    assert error["code"] == "internal"
    assert error["message"].startswith("TypeError")
    assert "\n" not in error["message"]
    assert said[1]["result"]
