"""One small way to drive any engine as a person would: look for a thing, touch its middle, type.

Nothing is waited for by the drivers' own helpers: some build functions from text, which the policy forbids.
"""

from __future__ import annotations

import json
import time
from abc import ABC, abstractmethod
from pathlib import Path
from typing import Any

#: Long enough for a slow machine's first visit; only ever waited out by a failure. [s]
PATIENCE = 240

#: The usual small phone.
SMALL = (360, 640)

#: Where to touch the first thing seen that fits the selector and holds the text; null while there is none.
#: A thing that is covered by another, or out of sight, can't be touched.
_WHERE = """([selector, text]) => {
  for (const one of document.querySelectorAll(selector)) {
    if (!one.checkVisibility() || !one.textContent.includes(text)) continue;
    one.scrollIntoView({ block: "center", behavior: "instant" });
    const { left, top, width, height } = one.getBoundingClientRect();
    const middle = [left + width / 2, top + height / 2];
    const hit = document.elementFromPoint(...middle);
    if (hit && (one.contains(hit) || hit.control === one)) return middle;
  }
  return null;
}"""

#: A result crosses as JSON text, so that every engine hands over the same figures.
_LIMITED = """async (argument) => {{
  const late = new Promise((_, refuse) => setTimeout(refuse, {patience}, new Error("waited in vain")));
  return JSON.stringify((await Promise.race([({source})(argument), late])) ?? null);
}}"""


class Engine(ABC):
    """A browser with a profile on disk, showing one page. Ends with `close()`, in a `with` by itself."""

    name: str

    @abstractmethod
    def open(self, address: str) -> None:
        """Go there, as if it were typed into the address bar."""

    @abstractmethod
    def evaluate_text(self, source: str, argument: Any) -> str:
        """Call a function of one argument that promises a text."""

    @abstractmethod
    def click(self, x: float, y: float) -> None:
        """Touch the page [px from its upper left corner, as seen]."""

    @abstractmethod
    def type(self, text: str) -> None:
        """Type where the keyboard is."""

    @abstractmethod
    def press(self, key: str) -> None:
        """Press "Enter" or "Tab"."""

    @abstractmethod
    def asked(self) -> list[str]:
        """The addresses asked for so far, of those that this driver can see."""

    def complaints(self) -> list[str]:
        """Errors on the console, where the driver tells of them."""
        return []

    @abstractmethod
    def screenshot(self, path: Path) -> None: ...

    @abstractmethod
    def close(self) -> None:
        """End the browser's processes; the profile stays."""

    def __enter__(self) -> Engine:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def evaluate(self, source: str, argument: Any = None) -> Any:
        """Call a function of one argument in the page, and await what it promises."""
        text = _LIMITED.format(source=source, patience=PATIENCE * 1000)
        return json.loads(self.evaluate_text(text, argument))

    def until(self, source: str, argument: Any = None) -> Any:
        """Ask again and again until the function gives something."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            found = self.evaluate(source, argument)
            if found:
                return found
            time.sleep(0.1)
        raise AssertionError(f"{self.name} waited in vain for {source} with {argument!r}")

    def touch(self, selector: str, text: str = "") -> None:
        """Touch the first thing that fits the CSS selector and holds the text."""
        self.click(*self.until(_WHERE, [selector, text]))
