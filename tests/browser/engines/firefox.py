"""Firefox by WebDriver BiDi, through firefox.mjs."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any

from steps import browsers, environment, places

from .engine import PATIENCE, SMALL, Engine

_DRIVER = Path(__file__).with_suffix(".mjs")


class Firefox(Engine):
    name = "firefox"

    def __init__(self, profile: Path, size: tuple[int, int] = SMALL) -> None:
        profile.mkdir(parents=True, exist_ok=True)
        words = [places.PWA / "package.json", browsers.firefox(), profile, *size, 2 * PATIENCE * 1000]
        command = [environment.node(), _DRIVER, *words]
        self._process = subprocess.Popen(
            [str(word) for word in command],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            encoding="utf-8",
        )

    def _do(self, command: str, *given: Any) -> Any:
        assert self._process.stdin
        assert self._process.stdout
        self._process.stdin.write(json.dumps({"command": command, "with": given}) + "\n")
        self._process.stdin.flush()
        line = self._process.stdout.readline()
        assert line, "Firefox, or what drives it, has ended; what it said is on standard error"
        answer = json.loads(line)
        if "problem" in answer:
            raise AssertionError(f"Firefox, {command}: {answer['problem']}")
        return answer["result"]

    def open(self, address: str) -> None:
        self._do("open", address)

    def evaluate_text(self, source: str, argument: Any) -> str:
        return str(self._do("evaluate", source, argument))

    def click(self, x: float, y: float) -> None:
        self._do("click", x, y)

    def type(self, text: str) -> None:
        self._do("type", text)

    def press(self, key: str) -> None:
        self._do("press", key)

    def asked(self) -> list[str]:
        return list(self._do("asked"))

    def complaints(self) -> list[str]:
        return list(self._do("complaints"))

    def screenshot(self, path: Path) -> None:
        self._do("screenshot", str(path))

    def close(self) -> None:
        try:
            self._do("close")
        finally:
            assert self._process.stdin
            self._process.stdin.close()  # the driver ends with it, and the browser with the driver
            self._process.wait(PATIENCE)
