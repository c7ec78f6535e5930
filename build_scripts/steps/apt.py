"""What only the system's package manager can bring: asked for once, refused in words."""

import os
import shutil
from collections.abc import Sequence

from .console import Stop, run, step

QUIET = {"DEBIAN_FRONTEND": "noninteractive"}


def can_install() -> bool:
    """Is there an apt that would do it without asking anybody?"""
    return shutil.which("apt-get") is not None and hasattr(os, "geteuid") and os.geteuid() == 0


def install(packages: Sequence[str], what: str) -> None:
    """Install them where that can be done without asking, else do nothing. Stops when apt refuses."""
    if not can_install():
        return
    with step(f"Installing {what}"):
        try:
            run(["apt-get", "update", "-qq"], env=QUIET, what="apt-get update")
        except Stop:
            # One source out of reach is no reason yet: the packages may come from another.
            print("  apt-get update failed; trying with the lists that are here", flush=True)
        command = ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages]
        run(command, env=QUIET, what=f"Installing {what} (apt-get install {' '.join(packages)})")
