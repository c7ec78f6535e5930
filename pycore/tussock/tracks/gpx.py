"""GPX 1.0 and 1.1 (Topografix), read as a stream; a document type or an entity of its own is refused at once.

Speed is that of GPX 1.0's `speed`, or of an element of that name in 1.1's extensions, in m/s.
"""

from __future__ import annotations

import math
from xml.parsers import expat

from .fixes import Read, moment
from .refusing import message, refused

_DEEPEST = 30
_PIECE = 200_000
#: Elements of a track point whose text is a figure.
_FIGURES = {"ele": 3, "speed": 4, "accuracy": 5}


def read_gpx(text: str) -> Read:
    """Track points of all segments, in order. Raises `Refused` with the line."""
    reader = _Reader()
    parser = expat.ParserCreate("utf-8")
    parser.buffer_text = True
    reader.parser = parser
    parser.StartDoctypeDeclHandler = reader.doctype
    parser.EntityDeclHandler = reader.doctype
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.said
    data = text.lstrip("\ufeff \t\r\n").encode("utf-8", "replace")
    try:
        for start in range(0, len(data), _PIECE):
            parser.Parse(data[start : start + _PIECE], start + _PIECE >= len(data))
    except expat.ExpatError as problem:
        why = message("track.bad.xml", line=problem.lineno, why=expat.ErrorString(problem.code))
        raise refused("not_supported", why, f"/line/{problem.lineno}") from problem
    if not reader.read.rows and reader.seen_route:
        raise refused("missing", message("track.bad.route"))
    return reader.read


class _Reader:
    parser: expat.XMLParserType

    def __init__(self) -> None:
        self.read = Read("gpx", "point")
        self.path: list[str] = []
        self.row: list[float] | None = None
        self.text: list[str] = []
        self.points = 0
        self.seen_route = False

    @property
    def line(self) -> int:
        return self.parser.CurrentLineNumber

    def doctype(self, *_: object) -> None:
        raise refused("not_supported", message("track.bad.doctype", line=self.line), f"/line/{self.line}")

    def start(self, name: str, attributes: dict[str, str]) -> None:
        name = name.rsplit(":", 1)[-1]
        if not self.path and name != "gpx":
            raise refused("not_supported", message("track.bad.not_gpx", name=name[:40]), "/line/1")
        self.path.append(name)
        if len(self.path) > _DEEPEST:
            raise refused("too_deep", message("track.bad.deep", line=self.line), f"/line/{self.line}")
        self.text = []
        if name == "trkpt":
            self.points += 1
            nan = math.nan
            self.row = [nan, _number(attributes.get("lat")), _number(attributes.get("lon")), nan, nan, nan]
        elif name in ("rtept", "wpt"):
            self.seen_route = True

    def said(self, text: str) -> None:
        if self.row is not None and sum(map(len, self.text)) < 200:
            self.text.append(text)

    def end(self, name: str) -> None:
        name = self.path.pop()
        if self.row is None:
            return
        if name == "trkpt":
            row = self.row
            self.read.add(self.points, (row[0], row[1], row[2], row[3], row[4], row[5]))
            self.row = None
        elif name == "time" and self.path[-1] == "trkpt":
            at = moment("".join(self.text))
            self.row[0] = math.nan if at is None else at
        elif name in _FIGURES:
            self.row[_FIGURES[name]] = _number("".join(self.text))
        self.text = []


def _number(text: str | None) -> float:
    """The number, or nan for what is none."""
    try:
        found = float((text or "").strip())
    except ValueError:
        return math.nan
    return found if math.isfinite(found) else math.nan
