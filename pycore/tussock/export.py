"""Writes what the shell needs of the core at build time, so that the screen is up before the engine is."""

from __future__ import annotations

import json
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from . import single, text, units
from .demo import demo_bundle
from .documents import Bundle


def exports() -> dict[str, Any]:
    """File name to content: units, texts with their display defaults, schema, relations, the demo trip."""
    return {
        "units.json": {
            "units": {
                u.symbol: {"dimension": u.dimension, "factor": u.factor, "offset": u.offset}
                for u in units.UNITS.values()
            },
            "si": units.SI,
            "aliases": units.ALIASES,
            "display": {name: {"unit": u, "decimals": d} for name, (u, d) in text.DEFAULT_UNITS.items()},
            "decimals": text.DECIMALS,
            "shown": text.SHOWN,
        },
        "text.json": text.catalogue(),
        "schema.json": Bundle.model_json_schema(),
        "relations.json": [single.describe(r) for r in single.load_all().values()],
        "demo.json": demo_bundle(datetime(2026, 11, 25, 8, 0, tzinfo=UTC).isoformat()),
    }


def main(arguments: list[str] | None = None) -> int:
    """`python -m tussock.export FOLDER`"""
    folder = Path((arguments or sys.argv[1:])[0])
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in exports().items():
        (folder / name).write_text(json.dumps(content, ensure_ascii=False, allow_nan=False), encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main())
