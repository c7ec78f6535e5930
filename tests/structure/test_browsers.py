"""The browsers of the tests: asked of apt where that may be done, else an error that says what to do."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from steps import apt, browsers, chromium
from steps.console import Stop

ENSURING: dict[str, tuple[Callable[[], object], tuple[str, ...]]] = {
    "chromium": (chromium.ensure, ("chromium",)),
    "firefox": (browsers.firefox, browsers.FIREFOX_PACKAGES),
    "webkit": (browsers.webkit, browsers.WEBKIT_PACKAGES),
}


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine with no browser, and no apt."""
    monkeypatch.setattr("shutil.which", lambda _: None)
    for name in ("CHROMIUM", "FIREFOX"):
        monkeypatch.delenv(f"TUSSOCK_{name}", raising=False)


@pytest.mark.usefixtures("bare")
@pytest.mark.parametrize("name", ENSURING)
def test_a_missing_browser_stops_with_what_to_do(name: str) -> None:
    ensure, packages = ENSURING[name]
    with pytest.raises(Stop) as stopped:
        ensure()
    assert "--quick" in str(stopped.value)
    assert all(package in str(stopped.value).lower() for package in packages)


@pytest.mark.usefixtures("bare")
@pytest.mark.parametrize("name", ENSURING)
def test_apt_is_asked_for_the_packages(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[list[str]] = []

    def run(command: list[str], **_: object) -> str:
        asked.append(command)
        if command[1] == "update":
            raise Stop("no line")
        return ""

    monkeypatch.setattr(apt, "can_install", lambda: True)
    monkeypatch.setattr(apt, "run", run)
    ensure, packages = ENSURING[name]
    with pytest.raises(Stop):
        ensure()  # nothing came of it
    (install,) = [command for command in asked if command[1] == "install"]
    assert install[-len(packages) :] == list(packages)
