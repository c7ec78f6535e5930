"""Many legs: a trip's verdict is its worst leg's; the others stay visible."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from .documents import Accepted, Bundle, Trip
from .documents.trip import Leg
from .errors import Refused
from .questions.answer import message, worst
from .questions.asking import ask
from .questions.drivers import add_drivers


def chosen_trip(bundle: Bundle, name: str | None) -> Trip:
    """The trip of that id, else the open one, else the first. Raises `Refused` when there is none."""
    wanted = name or bundle.open.trip
    if wanted:
        found = bundle.of(Trip, wanted)
        if found is None:
            raise Refused("unknown_name", "/trip", f"There is no trip {wanted!r}.", "the id of a trip")
        return found
    trips = bundle.all(Trip)
    if not trips:
        raise Refused("missing", "/documents", "There is no trip in this file.", "a document of kind trip")
    return trips[0]


def chosen_leg(trip: Trip, name: str) -> Leg:
    """The leg of that id. Raises `Refused` when there is none."""
    for leg in trip.legs:
        if leg.id == name:
            return leg
    raise Refused(
        "unknown_name", "/leg", f"The trip has no leg {name!r}.", ", ".join(leg.id for leg in trip.legs)
    )


def moment(text: str | None) -> datetime:
    """The time to answer for: as told, with its offset, or the clock's. Raises `Refused` for other text."""
    if text is None:
        return datetime.now(UTC)
    try:
        told = datetime.fromisoformat(text.replace("Z", "+00:00"))
    except (ValueError, AttributeError) as problem:
        raise Refused(
            "wrong_type", "/now", f"{text!r} is not a time.", "ISO 8601 with its offset"
        ) from problem
    if told.tzinfo is None:
        raise Refused("wrong_type", "/now", f"{text!r} has no offset.", "ISO 8601 with its offset")
    return told


def answer(accepted: Accepted, trip: str | None, leg: str | None, now: datetime) -> dict[str, Any]:
    """The six answers of one leg or of all, the trip's verdict, the caution, and what was odd."""
    bundle = accepted.bundle
    chosen = chosen_trip(bundle, trip)
    legs = [chosen_leg(chosen, leg)] if leg else chosen.legs
    found = []
    for one in legs:
        asked = ask(bundle, chosen, one, now)
        add_drivers(asked)
        found.append(asked.as_dict())
    odd = [
        message(warned.text, **warned.values) | {"document": warned.document, "path": warned.path}
        for warned in accepted.warnings
    ]
    for told in found:
        told["warnings"] = [
            *told["warnings"],
            *(w for w in odd if _concerns(w["document"], bundle, chosen, told["id"])),
        ]
    return {
        "trip": chosen.id,
        "verdict": worst(told["verdict"] for told in found),
        "legs": found,
        "caution": message("caution"),
    }


def _concerns(document: str, bundle: Bundle, trip: Trip, leg_id: str) -> bool:
    """Whether an odd document has a part in this leg."""
    leg = chosen_leg(trip, leg_id)
    named = {leg.aeroplane or trip.aeroplane, leg.from_strip, leg.to_strip, leg.air_from, leg.air_to, trip.id}
    return document in named
