"""Air for each end of each leg: read where the trip starts, forecast for what comes later."""

from __future__ import annotations

import math
from datetime import datetime
from typing import Any

from ..units import si
from .figures import iso


def air(
    name: str,
    strip: str,
    at: datetime,
    *,
    origin: str = "forecast",
    reading: str | None = None,
    qnh: str | None = None,
    temperature: str | None = None,
    dew_point: str | None = None,
    wind: dict[str, Any] | None = None,
    day: tuple[str, str] | None = None,
) -> dict[str, Any]:
    """One air document; what is not given was not read."""
    document: dict[str, Any] = {
        "version": 1,
        "kind": "air",
        "id": name,
        "name": f"Air at {strip.replace('-', ' ').title()}",
        "strip": strip,
        "at": iso(at),
        "origin": origin,
    }
    typed: dict[str, str] = {}
    if reading is not None:
        document["pressure"] = {"by": "altimeter", "pressure_altitude": si(reading)}
        typed["/pressure/pressure_altitude"] = reading
    if qnh is not None:
        document["pressure"] = {"by": "qnh", "qnh": si(qnh)}
        typed["/pressure/qnh"] = qnh
    for field, text in (("temperature", temperature), ("dew_point", dew_point)):
        if text is not None:
            document[field] = si(text)
            typed[f"/{field}"] = text
    if wind is not None:
        document["wind"] = wind
    if day is not None:
        document["day"] = {"minimum": si(day[0]), "maximum": si(day[1])}
        typed |= {"/day/minimum": day[0], "/day/maximum": day[1]}
    return document | {"typed": typed}


def sock(fullness: float, degrees: float, against: str) -> dict[str, Any]:
    """A windsock as seen from a direction of the strip: `degrees` clockwise from its bearing."""
    angle = math.radians(degrees % 360.0)
    return {"by": "sock", "fullness": fullness, "wind_from": angle, "against": against}


def wind(speed: str, degrees: float, gust: str | None = None) -> dict[str, Any]:
    """A wind with its direction from true north."""
    told: dict[str, Any] = {"by": "measured", "speed": si(speed), "wind_from": math.radians(degrees % 360.0)}
    if gust is not None:
        told["gust"] = si(gust)
    return told


CALM = {"by": "calm"}
