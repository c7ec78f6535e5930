"""From version 0 to 1. What version 0 was is frozen here: this file knows nothing of the present documents.

Version 0 had no origins: a figure was a plain number. It becomes an estimate, for nobody said where it came
from. An air was written in the units of the radio, one field each: `qnh_hpa`, `altimeter_ft` (on 1013.25),
`temperature_c`, `dew_point_c`, `wind_kt`, `wind_from_deg`. Ids, names, links and edit stamps are the same.
"""

from __future__ import annotations

import math
from typing import Any

from ..errors import Refused
from .stamping import later

Data = dict[str, Any]

#: where version 0 had plain numbers that are figures now; a star is every element, or every field
FIGURES = {
    "aeroplane": (
        "undercarriage/main_arm undercarriage/other_arm wing/area wing/span wing/height "
        "seats/*/arm seats/*/mass_limit seats/*/height_sits_well seats/*/height_fits "
        "bays/*/arm bays/*/volume bays/*/longest bays/*/mass_limit bays/*/packing_fraction "
        "tanks/*/arm tanks/*/usable tanks/*/unusable limits/* "
        "configurations/*/weighing/mass configurations/*/weighing/arm "
        "flaps/*/stall flaps/*/stall_mass flaps/*/climb_speed cruises/*/speed cruises/*/flow fuel/*"
    ),
    "strip": (
        "elevation ground/length ground/width ground/state/grass_height mass_limit "
        "directions/*/departure/obstacles/*/distance directions/*/departure/obstacles/*/height "
        "directions/*/approach/obstacles/*/distance directions/*/approach/obstacles/*/height"
    ),
    "kit": "items/*/mass items/*/size/volume items/*/size/length items/*/size/width items/*/size/height",
    "person": "mass height width",
    "trip": "legs/*/fuel/*/volume loads/*/placed/*/weighed",
}

KNOT, FOOT, DEGREE = 1852.0 / 3600.0, 0.3048, math.pi / 180.0

#: field of version 0: the field that holds it now, for its edit stamp
MOVED = {
    "qnh_hpa": "pressure",
    "altimeter_ft": "pressure",
    "temperature_c": "temperature",
    "dew_point_c": "dew_point",
    "wind_kt": "wind",
    "wind_from_deg": "wind",
}


def step_0(data: Data, path: str) -> Data:
    """A document or a file of version 0 as one of version 1. Raises `Refused` for what can't be read so."""
    data = data | {"version": 1}
    kind = data.get("kind")
    if kind == "air":
        return _air(data, path)
    for pattern in FIGURES.get(kind, "").split() if isinstance(kind, str) else ():
        data = _with_figures(data, pattern.split("/"))
    return data


def _with_figures(node: Any, way: list[str]) -> Any:
    """The same with plain numbers at `way` as estimates; what is no number there is left for the gate."""
    if not way:
        try:
            number = isinstance(node, (int, float)) and not isinstance(node, bool)
            return {"value": float(node), "origin": "estimated"} if number else node
        except OverflowError:
            return node
    part, rest = way[0], way[1:]
    if isinstance(node, list):
        return [_with_figures(one, rest) for one in node] if part == "*" else node
    if not isinstance(node, dict):
        return node
    names = list(node) if part == "*" else [part] if part in node else []
    return node | {name: _with_figures(node[name], rest) for name in names}


def _air(data: Data, path: str) -> Data:
    typed: dict[str, str] = {}
    now = {name: value for name, value in data.items() if name not in MOVED}

    def number(name: str) -> float | None:
        value = data.get(name)
        if value is None:
            return None
        try:
            if isinstance(value, (int, float)) and not isinstance(value, bool):
                return float(value)
        except OverflowError:
            pass
        raise Refused("not_a_number", f"{path}/{name}", f"{name} is not a number.", "a number")

    def says(pointer: str, name: str, unit: str) -> None:
        typed[pointer] = f"{data[name]} {unit}"

    for name, there in MOVED.items():
        if name in data and there in now:
            both = f"{name} and {there} are both given."
            raise Refused("inconsistent", f"{path}/{name}", both, "one of them")
    qnh, altimeter = number("qnh_hpa"), number("altimeter_ft")
    left: list[str] = []  # what has no place now is kept in the note
    if altimeter is not None:  # the reading at hand is preferred, as ever
        now["pressure"] = {"by": "altimeter", "pressure_altitude": altimeter * FOOT}
        says("/pressure/pressure_altitude", "altimeter_ft", "ft")
        left += ["qnh_hpa"] if qnh is not None else []
    elif qnh is not None:
        now["pressure"] = {"by": "qnh", "qnh": qnh * 100.0}
        says("/pressure/qnh", "qnh_hpa", "hPa")
    for name in ("temperature", "dew_point"):
        celsius = number(f"{name}_c")
        if celsius is not None:
            now[name] = celsius + 273.15
            says(f"/{name}", f"{name}_c", "degC")
    speed, bearing = number("wind_kt"), number("wind_from_deg")
    if speed == 0.0:
        now["wind"] = {"by": "calm"}
    elif speed is not None and bearing is not None:
        now["wind"] = {"by": "measured", "speed": speed * KNOT, "wind_from": bearing % 360.0 * DEGREE}
        says("/wind/speed", "wind_kt", "kt")
    else:
        left += [name for name in ("wind_kt", "wind_from_deg") if data.get(name) is not None]
    if left and isinstance(now.get("note", ""), str):
        kept = ", ".join(f"{name} {data[name]}" for name in left)
        now["note"] = f"{now.get('note', '')} [{kept}]".strip()
    if typed:
        now["typed"] = typed
    if isinstance(data.get("stamps"), dict):
        now["stamps"] = _moved_stamps(data["stamps"])
    return now


def _moved_stamps(stamps: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for pointer, stamp in stamps.items():
        place = f"/{MOVED.get(pointer[1:], pointer[1:])}"
        try:
            found[place] = later(stamp, found.get(place)) if place in found else stamp
        except (AttributeError, KeyError, TypeError, ValueError):
            found[place] = stamp  # no stamp at all: the gate will say so
    return found
