"""The browsers of the tests: Chromium, Firefox and WebKit as the system packages them.

WebKit comes as a library; the small window around it is the tests' own (tests/browser/engines).
"""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

from . import apt, chromium
from .console import Stop

Found = TypeVar("Found")

FIREFOX = ("firefox-esr", "firefox")

#: Debian's packages of each: the driver brings the library, the other two make it usable from Python.
FIREFOX_PACKAGES = ("firefox-esr",)
WEBKIT_PACKAGES = ("webkit2gtk-driver", "gir1.2-webkit2-4.1", "python3-gi", "xvfb")

#: Does this Python reach the library? Its window is not opened, so no display is needed.
_REACHES_WEBKIT = "import gi; gi.require_version('WebKit2', '4.1'); from gi.repository import WebKit2"


@dataclass(frozen=True)
class WebKit:
    """The programs it takes to drive WebKit, by their paths."""

    driver: str
    #: The system's Python, which has the binding that a virtual environment lacks.
    python: str
    display: str


def ensure_all() -> dict[str, str]:
    """Every browser that the tests drive, installed where missing: the variables that name them."""
    found = {"TUSSOCK_CHROMIUM": chromium.ensure(), "TUSSOCK_FIREFOX": firefox()}
    webkit()
    return found


def firefox() -> str:
    """Its path; installed by apt where that can be done without asking anybody."""
    return _find_firefox() or _installed(_find_firefox, FIREFOX_PACKAGES, "Firefox", "TUSSOCK_FIREFOX")


def _find_firefox() -> str | None:
    return os.environ.get("TUSSOCK_FIREFOX") or next(filter(None, map(shutil.which, FIREFOX)), None)


def webkit() -> WebKit:
    """Its programs; installed by apt where that can be done without asking anybody."""
    return _find_webkit() or _installed(_find_webkit, WEBKIT_PACKAGES, "WebKit and a display for it")


def _find_webkit() -> WebKit | None:
    driver, display = shutil.which("WebKitWebDriver"), shutil.which("Xvfb")
    if not driver or not display:
        return None
    python = next(filter(_has_webkit, _pythons()), None)
    return WebKit(driver, python, display) if python else None


def _pythons() -> list[str]:
    """The system's own first: `python3` may be that of a virtual environment, or one built by hand."""
    return ["/usr/bin/python3", *filter(None, [shutil.which("python3")]), sys.executable]


def _has_webkit(python: str) -> bool:
    if not shutil.which(python):
        return False
    return subprocess.run([python, "-c", _REACHES_WEBKIT], capture_output=True).returncode == 0


def _installed(
    find: Callable[[], Found | None], packages: Sequence[str], what: str, variable: str = ""
) -> Found:
    apt.install(packages, what)
    found = find()
    if found is None:
        named = f", or name it in {variable}" if variable else ""
        raise Stop(
            f"The browser tests need {what} and did not find it: install it (on Debian and Ubuntu, as root: "
            f"apt-get install {' '.join(packages)}){named}, or leave out what needs a browser with: "
            f"{sys.executable} build_scripts/test.py --quick"
        )
    return found
