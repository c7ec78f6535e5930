"""CSV with a header: time, latitude, longitude, height and speed if any. Units stand in the header."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterator

from .. import units
from .fixes import Read, moment
from .refusing import message, refused

#: Words of headers, freed of units and signs, by what they mean.
_NAMES = {
    "time": "time timestamp datetime date_time utc utc_time time_utc gps_time iso_time zeit when",
    "date": "date day datum",
    "latitude": "lat latitude lat_deg latitude_deg breite",
    "longitude": "lon lng long longitude lon_deg longitude_deg laenge",
    "height": "height elevation ele alt altitude gps_altitude altitude_msl hoehe",
    "speed": "speed gs ground_speed groundspeed velocity gps_speed speed_over_ground",
    "accuracy": "accuracy horizontal_accuracy hacc acc",
}
_MEANING = {name: meaning for meaning, names in _NAMES.items() for name in names.split()}
_UNIT = {
    "m/s": "m/s", "mps": "m/s", "ms": "m/s", "m_s": "m/s", "km/h": "km/h", "kmh": "km/h", "kph": "km/h",
    "km_h": "km/h", "kt": "kt", "kts": "kt", "knots": "kt", "knot": "kt", "kn": "kt", "mph": "mph",
    "m": "m", "metres": "m", "meters": "m", "ft": "ft", "feet": "ft", "deg": "deg", "s": "s", "utc": "utc",
    "msl": "m", "degrees": "deg",
}  # fmt: skip
_LONGEST_LINE = 20_000
_EPOCH = re.compile(r"^\d{9,10}(?:[.,]\d+)?$|^\d{12,13}$")


def read_table(text: str) -> Read:
    """Fixes by line. Raises `Refused` with the line, and for a header that does not say enough."""
    lines = text.lstrip("\ufeff").splitlines()
    first = next((k for k, line in enumerate(lines) if line.strip() and not line.startswith("#")), None)
    if first is None:
        raise refused("missing", message("track.bad.empty"))
    sign = max(";\t|,", key=lines[first].count)
    columns = _columns(next(csv.reader([lines[first][:_LONGEST_LINE]], delimiter=sign)), first + 1)
    read = Read("csv", "line")
    bare = False
    for number, cells in _rows(lines, first + 1, sign):
        row, had_offset = _row(cells, columns, number)
        bare = bare or not had_offset
        read.add(number, row)
    if bare:
        read.cautions.append(message("track.caution.utc"))
    return read


def _rows(lines: list[str], start: int, sign: str) -> Iterator[tuple[int, list[str]]]:
    for number, line in enumerate(lines[start:], start + 1):
        if len(line) > _LONGEST_LINE:
            raise refused("too_large", message("track.bad.long_line", line=number), f"/line/{number}")
        if line.strip() and not line.startswith("#"):
            yield number, next(csv.reader([line], delimiter=sign))


def _columns(header: list[str], line: int) -> dict[str, tuple[int, str]]:
    """Place and unit by meaning."""
    found: dict[str, tuple[int, str]] = {}
    for place, title in enumerate(header):
        name, unit = _read_title(title)
        if name and name not in found:
            found[name] = (place, unit)
    lost = [name for name in ("time", "latitude", "longitude") if name not in found]
    if lost:
        raise refused(
            "missing",
            message("track.bad.header", what=message(f"track.column.{lost[0]}"), line=line),
            f"/line/{line}",
            "track.expected.header",
        )
    if "speed" in found and found["speed"][1] not in ("m/s", "km/h", "kt", "mph"):
        raise refused(
            "wrong_unit", message("track.bad.speed_unit", line=line), f"/line/{line}", "track.expected.header"
        )
    return found


def _read_title(title: str) -> tuple[str, str]:
    """Meaning and unit of a header: "Speed (km/h)", "alt_ft", "ground speed kts"; ("", "") for others."""
    plain = title.strip().strip('"').lower().replace("ö", "oe").replace("ä", "ae")
    inside = re.search(r"[(\[{]\s*([^)\]}]+?)\s*[)\]}]", plain)
    unit = _UNIT.get(inside[1].replace(" ", ""), inside[1]) if inside else ""
    words = re.sub(r"[(\[{].*", "", plain).strip()
    name = re.sub(r"[\s\-.]+", "_", words).strip("_")
    if name in _MEANING:
        return _MEANING[name], unit
    for end in sorted(_UNIT, key=len, reverse=True):
        for joint in ("_", " "):
            if not unit and words.endswith(joint + end):
                rest = re.sub(r"[\s\-.]+", "_", words[: -len(end) - 1]).strip("_")
                if rest in _MEANING:
                    return _MEANING[rest], _UNIT[end]
    return "", ""


def _row(
    cells: list[str], columns: dict[str, tuple[int, str]], line: int
) -> tuple[tuple[float, float, float, float, float, float], bool]:
    def cell(name: str) -> str:
        place = columns[name][0] if name in columns else -1
        return cells[place].strip() if 0 <= place < len(cells) else ""

    def number(name: str, needed: bool = False) -> float:
        text = cell(name)
        if not text and not needed:
            return math.nan
        try:
            found = float(text.replace(",", ".").replace("−", "-").rstrip("°"))
        except ValueError:
            found = math.nan
        if needed and not math.isfinite(found):
            why = message(
                "track.bad.number", line=line, what=message(f"track.column.{name}"), given=text[:30]
            )
            raise refused("not_a_number", why, f"/line/{line}")
        return found if math.isfinite(found) else math.nan

    def measured(name: str) -> float:
        unit = columns[name][1] if name in columns else ""
        return float(units.to_si(number(name), unit)) if unit in units.UNITS else number(name)

    at, had_offset = _when(cell("date"), cell("time"))
    if at is None:
        why = message(
            "track.bad.number", line=line, what=message("track.column.time"), given=cell("time")[:30]
        )
        raise refused("not_a_number", why, f"/line/{line}", "track.expected.time")
    row = (
        at,
        number("latitude", True),
        number("longitude", True),
        measured("height"),
        measured("speed"),
        measured("accuracy"),
    )
    return row, had_offset


def _when(date: str, time: str) -> tuple[float | None, bool]:
    """Seconds since 1970 UTC, and whether the offset was told."""
    if not date and _EPOCH.match(time):
        found = float(time.replace(",", "."))
        return (found / 1000.0 if found > 1e11 else found), True
    text = f"{date}T{time}" if date else time.replace(",", ".")
    offset = bool(re.search(r"(Z|[+-]\d\d:?\d\d)$", text.strip(), re.IGNORECASE))
    return moment(text.strip().upper().replace("UTC", "").replace(" ", "T", 1).strip("T")), offset
