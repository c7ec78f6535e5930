"""Before the doors close: what to look at with the load that is aboard, in the order of walking round.

No answer: nothing here is reckoned. Each line stands only where what it speaks of is aboard; that the
controls are free is always among them. From common practice, no source.
"""

from __future__ import annotations

from typing import Any

from ..documents.kit import Item
from .answer import message
from .flight import Flight
from .needed import not_aboard

Message = dict[str, Any]


def before_doors(flight: Flight) -> list[Message]:
    """The lines: what is packed uncounted, what is missing, bays, people, the owner's notes, the controls."""
    return [
        *_uncounted(flight),
        *not_aboard(flight),
        *_bays(flight),
        *_things(flight),
        *_people(flight),
        *_own_notes(flight),
        message("doors.shut"),
        message("doors.controls"),
    ]


def _uncounted(flight: Flight) -> list[Message]:
    """What somebody packed and the plan leaves behind: it may lie in the aeroplane, uncounted."""
    aboard = {part.item.id for thing in flight.aboard for part in thing.parts}
    items = flight.bundle.items
    return [
        message("doors.uncounted", item=items[placed.item].name)
        for placed in flight.load.placed
        if placed.packed and placed.item not in aboard
    ]


def _bays(flight: Flight) -> list[Message]:
    lines = []
    for bay in flight.bays:
        inside = [one for one in flight.aboard if one.bay == bay.id]
        if not inside:
            continue
        held = bay.restraint
        if held is None or held.by == "none":
            lines.append(message("doors.unheld", bay=bay.name))
        elif held.rating is None:
            lines.append(message(f"doors.{held.by}", bay=bay.name))
        else:
            lines.append(message(f"doors.{held.by}_rated", bay=bay.name, rating=held.rating.value))
        if bay.near_controls:
            lines.append(message("doors.near_controls", bay=bay.name))
        if bay.near_exit:
            lines.append(message("doors.near_exit", bay=bay.name))
    return lines


def _things(flight: Flight) -> list[Message]:
    names = {bay.id: bay.name for bay in flight.bays}
    lines = []
    for one in (part for thing in flight.aboard for part in thing.parts):
        if one.item.held_by is not None:
            lines.append(_own_restraint(one.item))
        if one.item.danger is not None:
            bay = names.get(one.bay, one.bay)
            lines.append(message(f"doors.{one.item.danger}", item=one.item.name, bay=bay))
        if one.item.upright:
            lines.append(message("doors.upright", item=one.item.name))
        if one.item.stays_accessible:
            lines.append(message("doors.within_reach", item=one.item.name))
    return lines


def _own_restraint(item: Item) -> Message:
    by, rating = message(f"doors.item_{item.held_by}", item=item.name), item.held_rating
    return by if rating is None else message("doors.item_rated", held=by, rating=rating.value)


def _people(flight: Flight) -> list[Message]:
    controls = {seat.id for seat in flight.seats if seat.controls}
    lines = []
    for seat, person in flight.seated:
        if person.is_a != "adult":
            lines.append(message(f"doors.{person.is_a}", person=person.name))
        if seat in controls and not person.flies:
            lines.append(message("doors.stick_clear", person=person.name))
    taken = {seat for seat, _ in flight.seated}
    lines += [
        message("doors.empty_seat", seat=seat.name)
        for seat in flight.seats
        if seat.controls and seat.id not in taken
    ]
    return lines


def _own_notes(flight: Flight) -> list[Message]:
    """The owner's notes for this leg's rig and flaps, without those of a later part of the flight alone."""
    now = {"fits", "balances", "lifts_off"}
    flaps = (None, flight.leg.takeoff_flap, flight.leg.landing_flap)
    return [
        message("text", text=quirk.text)
        for quirk in flight.plane.quirks
        if quirk.configuration in (None, flight.configuration.id)
        and quirk.flap in flaps
        and (not quirk.at or now & set(quirk.at))
    ]
