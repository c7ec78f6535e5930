"""It holds in every engine: one visit, then no server; the data; the policy; every screen."""

from __future__ import annotations

import contextlib
import math
import shutil
import time
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from urllib.request import urlopen

import pytest

from steps import policy

from .. import driving
from ..precached import change
from ..screens import PLACES, QUESTIONS, air_of, margin_said, natively
from . import app
from .conftest import Launch
from .engine import PATIENCE, Engine


def agree(engine: Engine) -> dict[str, Any]:
    """The lift-off answer of what is kept: the same here, in the worker, and on the first screen."""
    bundle = app.kept(engine)
    now = air_of(bundle)["at"]
    here = natively(bundle, now)
    assert app.differences(here, app.in_the_browser(engine, bundle, now)) == []
    (answer,) = (one for one in here["answers"] if one["question"] == "lifts_off")
    measure = answer["measures"][answer["governing"]]
    assert app.margin(engine, "lifts_off") == margin_said(answer["margin"], measure["dimension"])
    return dict(answer)


def temperature_is(engine: Engine, wanted: float) -> None:
    """Wait until the open leg's air is kept with that temperature [K], and the answers follow."""
    end = time.monotonic() + PATIENCE
    while not math.isclose(air_of(app.kept(engine))["temperature"], wanted, abs_tol=1e-9):
        assert time.monotonic() < end, "not kept"
        time.sleep(0.1)
    app.settled(engine)


def test_visit_once_stop_the_server_come_back_change_the_temperature(launch: Launch, dist: Path) -> None:
    site = driving.Site(dist)
    with launch() as engine:
        engine.open(site.address)
        app.settled(engine)
        app.ready_without_signal(engine)
        first = agree(engine)
    site.stop()

    with launch() as engine:
        engine.open(site.address)
        app.settled(engine)
        app.ready_without_signal(engine)
        assert agree(engine) == first
        was = air_of(app.kept(engine))["temperature"]
        engine.touch('.air-row a[href="#/air/temperature"]')
        for _ in range(5):
            engine.touch('button[aria-label="More: Temperature"]')
        temperature_is(engine, was + 5)
        app.go(engine, "")
        warmer = agree(engine)
        assert warmer["margin"] < first["margin"], "a warmer day leaves less"

        engine.touch('.air-row a[href="#/air/temperature"]')
        engine.touch("#air-temperature input[type=text]")
        engine.type("31")
        engine.press("Enter")
        temperature_is(engine, 31 + 273.15)
        app.go(engine, "")
        hottest = agree(engine)
        assert hottest["margin"] < warmer["margin"]
        kept = app.kept(engine)
        assert engine.complaints() == []

    with launch() as engine:
        engine.open(site.address)
        app.settled(engine)
        assert app.kept(engine) == kept, "what was kept survives the browser's end"
        assert app.text(engine, '.air-row a[href="#/air/temperature"] .air-figure').startswith("31 ")
        assert agree(engine) == hottest
        assert engine.complaints() == []


#: Put at the end of the worker's own script, so that it runs under whatever that is served with.
PROBE = b"""
self.addEventListener("message", async ({ data }) => {
  if (!data.elsewhere) return;
  let ran;
  try { ran = new Function("return 'ran'")(); } catch (problem) { ran = problem.name; }
  const asked = await fetch(data.elsewhere, { mode: "no-cors" }).then(() => "went out", () => "refused");
  self.postMessage({ probed: [ran, asked] });
});
"""

IN_WORKER = """(elsewhere) => new Promise((resolve, reject) => {
  const worker = new Worker("worker.js", { type: "module" });
  worker.onerror = ({ message }) => reject(new Error(message));
  worker.onmessage = ({ data }) => {
    if (!data.probed) return;
    worker.terminate();
    resolve(data.probed);
  };
  worker.postMessage({ elsewhere });
})"""

#: Outside of the evaluation itself, which a browser's own tooling may exempt from the policy.
IN_PAGE = """(elsewhere) => new Promise((resolve) => setTimeout(async () => {
  let ran;
  try { ran = new Function("return 'ran'")(); } catch (problem) { ran = problem.name; }
  const asked = await fetch(elsewhere, { mode: "no-cors" }).then(() => "went out", () => "refused");
  const script = document.createElement("script");
  script.textContent = "window.inlineRan = true";
  const probe = document.createElement("button");
  probe.setAttribute("onclick", "window.inlineRan = true");
  probe.setAttribute("style", "position: fixed");
  document.body.append(script, probe);
  probe.click();
  const { position } = getComputedStyle(probe);
  script.remove();
  probe.remove();
  resolve([ran, asked, window.inlineRan ?? "no inline script", position]);
}))"""


def test_policy_holds_on_page_and_worker(launch: Launch, dist: Path, tmp_path: Path) -> None:
    probed = tmp_path / "probed"
    shutil.copytree(dist, probed)
    change(probed, "worker.js", PROBE)
    site = driving.Site(probed)
    with driving.served(dist) as elsewhere, launch() as engine:
        engine.open(site.address)
        app.settled(engine)
        app.ready_without_signal(engine)
        strict(engine, elsewhere.address)
        site.stop()
        engine.open(site.address)
        app.settled(engine)
        strict(engine, elsewhere.address)
        assert elsewhere.requested == []
        urlopen(elsewhere.address).close()
        assert elsewhere.requested == ["/"], "it was there to be asked"


def strict(engine: Engine, elsewhere: str) -> None:
    assert engine.evaluate(IN_PAGE, elsewhere) == ["EvalError", "refused", "no inline script", "static"]
    assert engine.evaluate(IN_WORKER, elsewhere) == ["EvalError", "refused"]
    sent = "() => fetch('.').then(({ headers }) => headers.get('content-security-policy'))"
    assert engine.evaluate(sent) == policy.HEADER


def test_the_probes_can_tell(
    launch: Launch, dist: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without a policy everything that they try succeeds."""
    from steps import server

    monkeypatch.delitem(server.HEADERS, "Content-Security-Policy")
    bare = tmp_path / "bare"
    bare.mkdir()
    (bare / "index.html").write_text("<!doctype html><title>bare</title><body>", encoding="utf-8")
    (bare / "worker.js").write_bytes(PROBE)
    with driving.served(dist) as elsewhere, driving.served(bare) as site, launch() as engine:
        engine.open(site.address)
        assert engine.evaluate(IN_PAGE, elsewhere.address) == ["ran", "went out", True, "fixed"]
        assert engine.evaluate(IN_WORKER, elsewhere.address) == ["ran", "went out"]
        assert elsewhere.requested


#: Part of the first view on a small phone, and above the tabs.
SEEN = """(parts) => {
  const end = document.querySelector(".tabs").getBoundingClientRect().top;
  return parts.filter((part) => {
    const box = document.querySelector(`.pane-answers ${part}`)?.getBoundingClientRect();
    return !box || box.top < 0 || box.left < 0 || box.bottom > end + 0.5 || box.right > innerWidth + 0.5;
  });
}"""

#: What reaches out of the screen sideways.
TOO_WIDE = """() => {
  const wide = document.documentElement.scrollWidth > innerWidth;
  return wide ? [document.documentElement.scrollWidth, innerWidth] : null;
}"""


def packs(engine: Engine) -> None:
    """Pack for me on the leg that is too bulky: the solver runs here, and finds the proven best."""
    app.go(engine, "trip")
    engine.touch(".leg-row", "Windgate")
    app.settled(engine)
    assert app.text(engine, 'a.question[href="#/answer/fits"] .verdict') == "no"
    app.go(engine, "pack")
    engine.touch(".pane-open button", "Pack")
    engine.until("() => document.querySelector('.pane-open').textContent.includes('Packed.')")
    assert "No other choice is worth more." in app.text(engine, ".pane-open")
    six = "() => [...document.querySelectorAll('.pack-six .verdict')].map((one) => one.textContent.trim())"
    verdicts = engine.evaluate(six)
    assert len(verdicts) == 6
    assert set(verdicts) <= {"yes", "tight"}


def test_no_request_leaves_the_origin_on_any_screen(launch: Launch, dist: Path) -> None:
    with driving.served(dist) as site, launch() as engine:
        engine.open(site.address)
        app.settled(engine)
        app.ready_without_signal(engine)
        rows = [f'a.question[href="#/answer/{question}"]' for question in QUESTIONS]
        assert engine.evaluate(SEEN, [".verdict-block", *rows, ".air-row"]) == []
        for place in (*PLACES, *app.edit_places(app.kept(engine))):
            app.go(engine, place)
            assert engine.evaluate(TOO_WIDE) is None, place
        packs(engine)
        app.go(engine, "settings")
        engine.touch("button", "Licences")
        engine.until("() => document.querySelector('.licences') !== null")
        assert engine.complaints() == []
        own = urlsplit(site.address).netloc
        # what an engine draws its own controls with is written in the address itself, and goes nowhere
        asked = [urlsplit(one) for one in engine.asked()]
        assert [one for one in asked if one.scheme != "data" and one.netloc != own] == []
        # Nothing was overlooked: an address of another host would have been noted.
        # (Some drivers refuse a page that can't be had, each in its own way; some show it.)
        with contextlib.suppress(Exception):
            engine.open("http://elsewhere.invalid/")
        assert any("elsewhere.invalid" in asked for asked in engine.asked())
