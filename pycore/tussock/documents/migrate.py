"""Brings documents of older versions up to the present one, step by step. One frozen function per version.

A new version gets a step from the one before it, in a file of its own (`step_0.py` is the pattern): it works
on plain JSON, knows nothing of the present classes and is never changed again. A file and its documents each
have their own version, so that one file may mix them. Frozen examples of every version stay in the tests.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ..errors import Refused
from .base import VERSION
from .step_0 import step_0

#: from version n to n + 1, on plain JSON
STEPS: dict[int, Callable[[dict[str, Any], str], dict[str, Any]]] = {0: step_0}


def migrate(data: dict[str, Any], path: str) -> dict[str, Any]:
    """Return `data` in the present version. Raises `Refused` for one that is newer, or not known."""
    version = data.get("version", VERSION)
    if isinstance(version, bool) or not isinstance(version, int):
        raise Refused("wrong_type", f"{path}/version", "The version is not a whole number.", f"{VERSION}")
    if version > VERSION:
        raise Refused(
            "newer_version",
            f"{path}/version",
            f"This was written by a newer Tussock (version {version}); this one reads up to {VERSION}.",
            f"a document of version {VERSION}, or an update",
        )
    while version < VERSION:
        if version not in STEPS:
            raise Refused(
                "not_supported", f"{path}/version", f"Version {version} is not known.", f"{VERSION}"
            )
        data = STEPS[version](dict(data), path)
        version += 1
    return data
