"""Classes of aeroplane to start from. Every figure is an estimate until its owner replaces it."""

from __future__ import annotations

from typing import Any

from .build import aeroplane
from .typical import CLASSES


def classes() -> list[dict[str, Any]]:
    """`{"id", "label", "document"}` for every class; the label is a message of the catalogue."""
    return [
        {"id": one.id, "label": {"text": f"class.{one.id}", "values": {}}, "document": aeroplane(one)}
        for one in CLASSES
    ]
