"""The app in any engine: what it shows, what it keeps, what its core says."""

from __future__ import annotations

import math
from typing import Any
from urllib.parse import quote

from .engine import Engine

#: What is kept on the device, read behind the app's back.
_KEPT = """() => new Promise((resolve, reject) => {
  const asked = indexedDB.open("tussock");
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const look = asked.result.transaction(["documents", "kept"]);
    const documents = look.objectStore("documents").getAll();
    const open = look.objectStore("kept").get("open");
    look.oncomplete = () => {
      asked.result.close();
      resolve({ documents: documents.result, open: open.result });
    };
  };
})"""

_TEXT = """(selector) => document.querySelector(selector)?.textContent.trim().replaceAll("\\u00a0", " ")"""

_SETTLED = """() => {
  const { state } = window.tussock?.offline ?? {};
  return state && document.querySelector(".pane-answers .answers:not(.stale)") !== null;
}"""

_AT = """([screen, part]) => {
  const { place } = document.querySelector(".pane-open").dataset;
  return place === `${screen}/${part}`;
}"""


def settled(engine: Engine) -> None:
    """What is shown rests on what the documents say."""
    engine.until(_SETTLED)


def ready_without_signal(engine: Engine) -> None:
    phase = engine.until(
        """() => {
          const { phase } = window.tussock.offline.state();
          return ["ready", "failed", "incomplete", "impossible"].includes(phase) && phase;
        }"""
    )
    assert phase == "ready"


def go(engine: Engine, place: str) -> None:
    """Open a screen by its address."""
    engine.evaluate("(place) => { location.hash = `#/${place}`; }", place)
    screen, _, part = (place or "answers").partition("/")
    engine.until(_AT, [screen, part])
    settled(engine)


def text(engine: Engine, selector: str) -> str:
    return str(engine.evaluate(_TEXT, selector))


def margin(engine: Engine, question: str) -> str:
    """As the first screen shows it."""
    return text(engine, f'a.question[href="#/answer/{question}"] .margin-figure')


def kept(engine: Engine) -> dict[str, Any]:
    """Every document on the device, and which leg is open."""
    bundle: dict[str, Any] = engine.evaluate(_KEPT)
    return bundle


def in_the_browser(engine: Engine, bundle: dict[str, Any], now: str) -> dict[str, Any]:
    """The open leg's answer by the core in the page's worker."""
    params = {"documents": bundle["documents"], **bundle["open"], "now": now}
    (leg,) = engine.evaluate("(params) => window.tussock.ask('answer', params)", params)["legs"]
    return dict(leg)


def edit_places(bundle: dict[str, Any]) -> list[str]:
    """The editors' addresses: their list, and one of each kind of document that has one."""
    kinds = {one["kind"]: one["id"] for one in bundle["documents"]}
    editors = ("aeroplane", "strip", "kit", "person")
    assert set(editors) <= set(kinds)
    return ["edit", *(f"edit/{quote(kinds[kind], safe='')}" for kind in editors)]


def differences(here: Any, there: Any, place: str = "") -> list[str]:
    """Where two answers differ: figures by more than 1e-9 of themselves, all else at all."""
    if isinstance(here, dict) and isinstance(there, dict) and here.keys() == there.keys():
        return [one for key in here for one in differences(here[key], there[key], f"{place}/{key}")]
    if isinstance(here, list) and isinstance(there, list) and len(here) == len(there):
        pairs = enumerate(zip(here, there, strict=True))
        return [one for index, (a, b) in pairs for one in differences(a, b, f"{place}/{index}")]
    if _is_figure(here) and _is_figure(there) and math.isclose(here, there, rel_tol=1e-9, abs_tol=1e-12):
        return []
    return [] if here == there and type(here) is type(there) else [f"{place}: {here!r}, {there!r}"]


def _is_figure(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
