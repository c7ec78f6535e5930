"""Units and their factors to SI. Sums and documents hold SI only; units live at the edges.

Factors are exact by definition where the definition is exact (International yard and pound agreement 1959;
NIST SP 811, Appendix B; ISO 80000). `inHg` is the conventional inch of mercury at 0 degC.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Unit:
    """One unit: `si = value * factor + offset`."""

    symbol: str
    dimension: str
    factor: float
    offset: float = 0.0


#: SI unit by dimension, in the order in which settings list them.
SI = {
    "number": "1",
    "ratio": "1",
    "mass": "kg",
    "length": "m",
    "height": "m",
    "distance": "m",
    "speed": "m/s",
    "vertical speed": "m/s",
    "temperature": "K",
    "temperature difference": "dK",
    "pressure": "Pa",
    "density": "kg/m³",
    "volume": "m³",
    "bulk": "m³",
    "flow": "m³/s",
    "angle": "rad",
    "gradient": "1",
    "time": "s",
    "area": "m²",
    "force": "N",
    "torque": "N m",
    "power": "W",
    "moment": "kg m",
    "rotation": "1/s",
    "turning": "rad/s",
    "acceleration": "m/s²",
    "energy": "J",
    "mass area density": "kg/m²",
    "force per speed squared": "N s²/m²",
    "force times speed squared": "N m²/s²",
    "latitude": "deg",
}

_FT = 0.3048
_NM = 1852.0
_LB = 0.45359237
_GAL = 3.785411784e-3
_G0 = 9.80665

_TABLE: tuple[Unit, ...] = (
    Unit("1", "number", 1.0),
    Unit("%", "number", 0.01),
    Unit("kg", "mass", 1.0),
    Unit("lb", "mass", _LB),
    Unit("g", "mass", 1e-3),
    Unit("m", "length", 1.0),
    Unit("mm", "length", 1e-3),
    Unit("cm", "length", 1e-2),
    Unit("km", "length", 1e3),
    Unit("in", "length", 0.0254),
    Unit("ft", "length", _FT),
    Unit("NM", "length", _NM),
    Unit("SM", "length", 1609.344),
    Unit("m/s", "speed", 1.0),
    Unit("kt", "speed", _NM / 3600.0),
    Unit("km/h", "speed", 1.0 / 3.6),
    Unit("mph", "speed", 1609.344 / 3600.0),
    Unit("ft/min", "speed", _FT / 60.0),
    Unit("K", "temperature", 1.0),
    Unit("degC", "temperature", 1.0, 273.15),
    Unit("degF", "temperature", 5.0 / 9.0, 273.15 - 32.0 * 5.0 / 9.0),
    Unit("dK", "temperature difference", 1.0),
    Unit("ddegC", "temperature difference", 1.0),
    Unit("ddegF", "temperature difference", 5.0 / 9.0),
    Unit("Pa", "pressure", 1.0),
    Unit("hPa", "pressure", 100.0),
    Unit("inHg", "pressure", 3386.38864034),
    Unit("kg/m³", "density", 1.0),
    Unit("kg/L", "density", 1e3),
    Unit("lb/gal", "density", _LB / _GAL),
    Unit("m³", "volume", 1.0),
    Unit("L", "volume", 1e-3),
    Unit("gal", "volume", _GAL),
    Unit("ft³", "volume", _FT**3),
    Unit("m³/s", "flow", 1.0),
    Unit("L/h", "flow", 1e-3 / 3600.0),
    Unit("gal/h", "flow", _GAL / 3600.0),
    Unit("rad", "angle", 1.0),
    Unit("deg", "angle", math.pi / 180.0),
    Unit("s", "time", 1.0),
    Unit("min", "time", 60.0),
    Unit("h", "time", 3600.0),
    Unit("m²", "area", 1.0),
    Unit("ft²", "area", _FT**2),
    Unit("N", "force", 1.0),
    Unit("kgf", "force", _G0),
    Unit("lbf", "force", _LB * _G0),
    Unit("N m", "torque", 1.0),
    Unit("W", "power", 1.0),
    Unit("kW", "power", 1e3),
    Unit("hp", "power", _FT * _LB * _G0 * 550.0),
    Unit("kg m", "moment", 1.0),
    Unit("lb in", "moment", _LB * 0.0254),
    Unit("1/s", "rotation", 1.0),
    Unit("rpm", "rotation", 1.0 / 60.0),
    Unit("m/s²", "acceleration", 1.0),
    Unit("J", "energy", 1.0),
    Unit("kg/m²", "mass area density", 1.0),
    Unit("lb/ft²", "mass area density", _LB / _FT**2),
    Unit("rad/s", "turning", 1.0),
    Unit("N s²/m²", "force per speed squared", 1.0),
    Unit("N m²/s²", "force times speed squared", 1.0),
)

UNITS: dict[str, Unit] = {unit.symbol: unit for unit in _TABLE}

#: Spellings that a keyboard produces, for `parse`.
ALIASES = {
    "°C": "degC", "C": "degC", "°F": "degF", "F": "degF", "°": "deg", "l": "L", "l/h": "L/h", "nm": "NM",
    "usgal": "gal", "us gal": "gal", "us gal/h": "gal/h",
    "fpm": "ft/min", "mb": "hPa", "mbar": "hPa", "m3": "m³", "m2": "m²", "kg/m3": "kg/m³",
    "kts": "kt", "kph": "km/h", "lbs": "lb", "m3/s": "m³/s", "m/s2": "m/s²", "kg/m2": "kg/m²", "": "1",
    "lb/ft2": "lb/ft²", "lb/sq ft": "lb/ft²", "ft2": "ft²", "sq ft": "ft²", "ft3": "ft³", "cu ft": "ft³",
}  # fmt: skip

_NUMBER = re.compile(r"^\s*([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?)\s*(.*?)\s*$")


def unit(symbol: str) -> Unit:
    """Return the unit of that symbol or common spelling. Raises `ValueError` for one that is not known."""
    found = UNITS.get(symbol) or UNITS.get(ALIASES.get(symbol, ""))
    if found is None and symbol.lower() in ALIASES:
        found = UNITS[ALIASES[symbol.lower()]]
    if found is None:
        raise ValueError(f"unknown unit {symbol!r}")
    return found


def to_si(value: Any, symbol: str) -> Any:
    """Convert `value` (float or array) in `symbol` to SI."""
    u = unit(symbol)
    return value * u.factor + u.offset


def from_si(value: Any, symbol: str) -> Any:
    """Convert `value` (float or array) in SI to `symbol`."""
    u = unit(symbol)
    return (value - u.offset) / u.factor


def parse(text: str, si: str) -> float:
    """Read "5000 ft" or "24 degC" as SI; a bare number is taken as `si` itself.

    `si` is the SI unit that is expected [e.g. "m"]. Raises `ValueError` in words when the text is no number,
    the unit is unknown, or it measures something else.
    """
    match = _NUMBER.match(text)
    if not match:
        raise ValueError(f"{text!r} is not a number with a unit")
    number, symbol = float(match[1].replace(",", ".")), match[2]
    if not symbol:
        return number
    given, wanted = unit(symbol), unit(si)
    difference = wanted.symbol == "dK" and given.dimension == "temperature"
    if given.dimension != wanted.dimension and not difference:
        raise ValueError(f"{symbol!r} is a unit of {given.dimension}, expected {wanted.dimension} [{si}]")
    if si == "deg":  # latitude and longitude, the exception to SI
        return number if given.symbol == "deg" else number * given.factor / wanted.factor
    return number * given.factor + (0.0 if difference else given.offset)


def si(text: str) -> float:
    """ "300 kg" or "24 degC" in the SI unit of what it measures; a bare number stays as it is.

    Raises `ValueError` for anything that is not a number with a unit.
    """
    symbol = text.split(" ", 1)[1] if " " in text else "1"
    return parse(text, SI[unit(symbol).dimension])
