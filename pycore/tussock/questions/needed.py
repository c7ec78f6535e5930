"""What keeps people alive and the trip's kits hold, and is not aboard: told, whoever took it out."""

from __future__ import annotations

from typing import Any

from ..documents.kit import Kit
from .answer import message
from .flight import Flight

Message = dict[str, Any]
#: water [kg] short of by less than this is not told
A_CUP = 0.25


def not_aboard(flight: Flight) -> list[Message]:
    """A message for what must come and doesn't, and one for water short of a day's for everybody."""
    aboard = {part.item.id: part for thing in flight.aboard for part in thing.parts}
    kits = [kit for kit in flight.bundle.all(Kit) if not flight.trip.kits or kit.id in flight.trip.kits]
    listed = {one.item for one in flight.load.placed}
    items = {item.id: item for kit in kits for item in kit.items if flight.trip.kits or item.id in listed}
    left = [item for item in items.values() if item.id not in aboard]
    needed = [
        item.name for item in left if item.role != "water" and (item.must_come or item.role != "general")
    ]
    found = [message("note.not_aboard", items=", ".join(needed))] if needed else []
    return [*found, *(_water(flight) if any(item.role == "water" for item in items.values()) else [])]


def _water(flight: Flight) -> list[Message]:
    masses = [
        part.mass
        for thing in flight.aboard
        for part in thing.parts
        if part.item.role == "water" and part.mass
    ]
    persons = sum(person.is_a != "dog" for _, person in flight.seated)
    wanted = persons * flight.trip.water_per_day
    if sum(masses) >= wanted - A_CUP:
        return []
    return [message("note.little_water", aboard=sum(masses), wanted=wanted)]
