"""Changes of documents that a remedy tries, as edits that a person can apply: document, pointer, value.

In a pointer the elements of lists are named as edit stamps name them (`/loads/out/placed/kettle/bay`).
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from typing import Any

from ..documents import Air, Bundle, Trip
from ..documents.trip import Leg, Load

Edit = dict[str, Any]


def replaced(bundle: Bundle, *changed: Any) -> Bundle:
    """The bundle with documents of the same ids replaced. They were accepted before: no second reading."""
    new = {document.id: document for document in changed}
    documents = [new.get(document.id, document) for document in bundle.documents]
    return Bundle.model_construct(
        format=bundle.format,
        version=bundle.version,
        documents=documents,
        open=bundle.open,
        removed=bundle.removed,
    )


def _with_leg(trip: Trip, leg: Leg) -> Trip:
    return trip.model_copy(update={"legs": [leg if one.id == leg.id else one for one in trip.legs]})


def _with_load(trip: Trip, load: Load) -> Trip:
    return trip.model_copy(update={"loads": [load if one.id == load.id else one for one in trip.loads]})


def place(
    bundle: Bundle, trip: Trip, leg: Leg, items: Collection[str], bay: str | None
) -> tuple[Bundle, list[Edit]]:
    """Let some items ride in another bay, out of what they were inside; None: leave them behind."""
    load = next(one for one in trip.loads if one.id == leg.load)
    placed = [
        p.model_copy(update={"bay": bay, "inside": None}) if p.item in items else p for p in load.placed
    ]
    changed = _with_load(trip, load.model_copy(update={"placed": placed}))
    bagged = {p.item for p in load.placed if p.inside is not None}
    edits = []
    for item in items:
        place = f"/loads/{load.id}/placed/{item}"
        edits.append({"document": trip.id, "pointer": f"{place}/bay", "value": bay})
        if item in bagged:
            edits.append({"document": trip.id, "pointer": f"{place}/inside", "value": None})
    return replaced(bundle, changed), edits


def refuel(bundle: Bundle, trip: Trip, leg: Leg, volumes: dict[str, float]) -> tuple[Bundle, list[Edit]]:
    """Other fuel in the tanks [m³]."""
    fuel, edits = [], []
    for line in leg.fuel:
        figure = line.volume.model_copy(
            update={"value": volumes.get(line.tank, line.volume.value), "typed": None, "sd": None}
        )
        fuel.append(line.model_copy(update={"volume": figure}))
        if figure.value != line.volume.value:
            pointer = f"/legs/{leg.id}/fuel/{line.tank}/volume"
            value = {"value": figure.value, "origin": figure.origin}
            edits.append({"document": trip.id, "pointer": pointer, "value": value})
    return replaced(bundle, _with_leg(trip, leg.model_copy(update={"fuel": fuel}))), edits


def turn(bundle: Bundle, trip: Trip, leg: Leg, field: str, direction: str) -> tuple[Bundle, list[Edit]]:
    """Another direction of the strip for take-off or landing."""
    changed = leg.model_copy(update={field: direction})
    edits = [{"document": trip.id, "pointer": f"/legs/{leg.id}/{field}", "value": direction}]
    return replaced(bundle, _with_leg(trip, changed)), edits


def depart(
    bundle: Bundle, trip: Trip, leg: Leg, air: Air, at: datetime, temperature: float, wind: Any
) -> tuple[Bundle, list[Edit]]:
    """Another hour of departure, with the day's temperature and the wind that is reckoned with then."""
    then = air.model_copy(
        update={"at": at, "temperature": temperature, "origin": "forecast", "wind": wind, "dew_point": None}
    )
    changed = leg.model_copy(update={"departure": at})
    when = at.isoformat(timespec="minutes")
    edits: list[Edit] = [
        {"document": trip.id, "pointer": f"/legs/{leg.id}/departure", "value": when},
        {"document": air.id, "pointer": "/at", "value": when},
        {"document": air.id, "pointer": "/temperature", "value": temperature},
        {"document": air.id, "pointer": "/origin", "value": "forecast"},
        {"document": air.id, "pointer": "/dew_point", "value": None},
    ]
    if wind is not air.wind:
        value = wind.model_dump(mode="json", exclude_none=True) if wind is not None else None
        edits.append({"document": air.id, "pointer": "/wind", "value": value})
    return replaced(bundle, _with_leg(trip, changed), then), edits


def blow(bundle: Bundle, air: Air, wind: Any) -> Bundle:
    """Another wind at one strip. Nobody can choose it: there is no edit."""
    return replaced(bundle, air.model_copy(update={"wind": wind}))
