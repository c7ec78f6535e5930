"""The browser for tests, measurements and screenshots: the system's Chromium, never a download of its own."""

import os
import shutil
import sys

from . import apt
from .console import Stop

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")

#: Quiet, the same everywhere, and able to run as root in a container.
FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def find() -> str | None:
    return os.environ.get("TUSSOCK_CHROMIUM") or next(filter(None, map(shutil.which, NAMES)), None)


def ensure() -> str:
    """Its path; installed by apt where that can be done without asking anybody."""
    found = find()
    if found:
        return found
    apt.install(["chromium"], "Chromium")
    found = find()
    if not found:
        raise Stop(
            f"The browser tests need Chromium (looked for {', '.join(NAMES)}): install it, or name it in "
            f"TUSSOCK_CHROMIUM, or leave them out with: {sys.executable} build_scripts/test.py --quick"
        )
    return found
