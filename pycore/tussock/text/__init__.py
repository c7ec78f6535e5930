"""Text for people: one catalogue by id, and the rendering of messages in the user's units."""

from __future__ import annotations

import json
import math
import re
from functools import lru_cache
from importlib import resources
from typing import Any

from .. import units

#: display unit and decimals by dimension: (unit, decimals)
DEFAULT_UNITS: dict[str, tuple[str, int]] = {
    "number": ("1", 2),
    "count": ("1", 0),
    "markers": ("1", 1),
    "ratio": ("%", 0),
    "factor": ("1", 2),
    "mass": ("kg", 1),
    "length": ("m", 0),
    "short": ("cm", 0),
    "arm": ("mm", 0),
    "height": ("ft", 0),
    "low height": ("m", 0),
    "distance": ("NM", 0),
    "speed": ("kt", 0),
    "vertical speed": ("ft/min", 0),
    "temperature": ("degC", 0),
    "temperature difference": ("ddegC", 0),
    "pressure": ("hPa", 0),
    "density": ("kg/m³", 3),
    "volume": ("L", 0),
    "bulk": ("L", 0),
    "flow": ("L/h", 1),
    "angle": ("deg", 0),
    "gradient": ("%", 1),
    "time": ("min", 0),
    "duration": ("h", 1),
    "area": ("m²", 2),
    "force": ("N", 0),
    "torque": ("N m", 0),
    "power": ("kW", 1),
    "moment": ("kg m", 1),
    "rotation": ("rpm", 0),
    "acceleration": ("m/s²", 2),
    "mass area density": ("kg/m²", 0),
    "energy": ("J", 0),
}

#: decimals of a unit that is larger than the usual one of its dimension, so that no step is lost in it
DECIMALS = {"inHg": 2, "gal": 1}

#: how a unit is written on paper and screen
SHOWN = {"degC": "°C", "degF": "°F", "ddegC": "°C", "ddegF": "°F", "deg": "°", "1": "", "dK": "K"}

_SLOT = re.compile(r"\{(\w+)(?:\|([^}]+))?\}")


@lru_cache(maxsize=1)
def catalogue() -> dict[str, str]:
    """The whole catalogue, merged from its files. Raises `ValueError` when an id stands twice."""
    merged: dict[str, str] = {}
    for file in sorted(resources.files(__name__).joinpath("en").iterdir(), key=lambda f: f.name):
        if file.name.endswith(".json"):
            for key, value in json.loads(file.read_text(encoding="utf-8")).items():
                if key in merged:
                    raise ValueError(f"text {key!r} stands twice in the catalogue")
                merged[key] = value
    return merged


def say(message: dict[str, Any], chosen: dict[str, str] | None = None) -> str:
    """Render `{"text": id, "values": {...}}` in the chosen units (by dimension)."""
    template = catalogue().get(message["text"], message["text"])
    values = message.get("values") or {}

    def fill(match: re.Match[str]) -> str:
        name, dimension = match[1], match[2]
        value = values.get(name)
        if value is None:
            return "–"
        if isinstance(value, dict) and "text" in value:
            return say(value, chosen)
        if dimension is None or isinstance(value, str):
            return str(catalogue().get(value, value)) if isinstance(value, str) else f"{value:g}"
        return shown(float(value), dimension, chosen)

    return _SLOT.sub(fill, template)


def shown(value: float, dimension: str, chosen: dict[str, str] | None = None) -> str:
    """A number in SI as text with its unit, in the chosen unit of `dimension`."""
    if not math.isfinite(value):
        return "–"
    symbol, decimals = DEFAULT_UNITS.get(dimension, ("1", 3))
    symbol = (chosen or {}).get(dimension, symbol)
    decimals = DECIMALS.get(symbol, decimals)
    number = units.from_si(value, symbol)
    text = f"{number:.{decimals}f}"
    if float(text) == 0:
        text = text.removeprefix("-")
    whole, dot, part = text.partition(".")
    sign, whole = ("-", whole[1:]) if whole.startswith("-") else ("", whole)
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", " ")
    unit = SHOWN.get(symbol, symbol)
    gap = "" if unit in ("", "°") else " "
    return f"{sign.replace('-', '−')}{whole}{dot}{part}{gap}{unit}"
