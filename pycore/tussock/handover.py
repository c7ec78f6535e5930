"""The list to pack by, for the passenger's phone: what the plan of a load asks for, what is still free."""

from __future__ import annotations

from datetime import datetime
from typing import Any, get_args

from .documents import Accepted, Aeroplane, Bundle, Person, Trip
from .documents.aeroplane import Bay
from .documents.base import Figure
from .documents.handover import About, ListBay, ListItem, ListPerson, PackingList
from .documents.trip import Load, Placed
from .errors import Refused
from .packing import Probe, bears, middle, room_by_answers
from .questions.aboard import Aboard, alone
from .questions.asking import ask
from .questions.balances import MASS_MEASURES
from .questions.bulk import soft_in
from .questions.dangers import banned
from .questions.flight import Flight, flown_alike
from .trip import chosen_leg, chosen_trip


def packing_list(accepted: Accepted, trip: str | None, leg: str | None, now: datetime) -> PackingList:
    """The list of the leg's load. What is free is the least of all legs that fly with that load.

    Raises `Refused` when there is no such trip or leg, or nothing is to be packed.
    """
    bundle = accepted.bundle
    chosen = chosen_trip(bundle, trip)
    flown = chosen_leg(chosen, leg or bundle.open.leg or chosen.legs[0].id)
    load = next(one for one in chosen.loads if one.id == flown.load)
    plane = bundle.of(Aeroplane, flown.aeroplane or chosen.aeroplane)
    lines = {placed.item: placed for placed in load.placed}
    flight = Flight(bundle, chosen, flown, now)
    things = flight.aboard
    items = [_item(chosen, load, lines[part.item.id], part) for thing in things for part in thing.parts]
    if plane is None or not items:
        raise Refused("missing", "/load", f"Nothing is to be packed in {load.name}.", "things with a bay")
    legs = flown_alike(chosen, flown)
    answers = [ask(bundle, chosen, one, now).as_dict()["answers"] for one in legs]
    used_ids = {item.bay for item in items}
    bays = _bays(answers, [bay for bay in plane.bays if bay.id in used_ids])
    spare = _least([*_margins(answers, MASS_MEASURES), *_within_envelope(answers, bays)])
    used = [bay for bay in flight.bays if bay.id in {one.id for one in bays}]
    by_strips = False
    if spare is not None and used and all(thing.mass is not None for thing in things):
        kit = sum(thing.mass or 0.0 for thing in things)
        probe = Probe(bundle, chosen, legs, load, things[0].item.id, middle(used), now)
        room = room_by_answers(probe, kit, spare)
        spare, by_strips = min(spare, room.mass), room.whole
    return PackingList(
        format="tussock-list",
        trip=chosen.id,
        load=load.id,
        name=load.name,
        aeroplane=plane.name,
        at=now,
        people=[_person(bundle, seated.person) for seated in load.seats],
        bays=bays,
        items=items,
        spare_mass=spare,
        by_strips=by_strips,
    )


def _item(trip: Trip, load: Load, placed: Placed, thing: Aboard) -> ListItem:
    item = thing.item
    at = f"/loads/{load.id}/placed/{placed.item}"
    stamps = {field: trip.stamps.get(f"{at}/{field}") for field in get_args(About)}
    bag = trip.stamps.get(f"{at}/inside")
    if bag is not None and (stamps["bay"] is None or bag.at > stamps["bay"].at):
        stamps["bay"] = bag  # where it rides is told by both
    return ListItem(
        id=item.id,
        name=item.name,
        bay=thing.bay,
        inside=placed.inside,
        mass=_mass(placed, thing),
        packed=placed.packed,
        is_weighed=placed.weighed is not None and bool(placed.weighed.holding) == bool(thing.inside),
        upright=item.upright,
        stays_accessible=item.stays_accessible,
        danger=item.danger,
        must_come=thing.must_come,
        note=item.note,
        seen={field: stamp.at for field, stamp in stamps.items() if stamp is not None},
    )


def _mass(placed: Placed, thing: Aboard) -> Figure | None:
    """What a thing weighs with all that is in it; a sum is no better known than the worst of its parts."""
    if not thing.inside:
        return _bare(alone(placed, thing.item))
    if thing.mass is None:
        return None
    told = set(placed.weighed.holding or []) if placed.weighed is not None else set()
    # with the scale's word for some of it, what went in since is left
    masses = [part.item.mass for part in thing.parts[bool(told) :] if part.item.id not in told]
    known = all(mass is not None and mass.origin == "measured" for mass in masses)
    return Figure(value=thing.mass, origin="measured" if known else "estimated")


def _bare(figure: Figure | None) -> Figure | None:
    """A figure without what was typed or noted for it, which stays on its phone."""
    return None if figure is None else Figure(value=figure.value, origin=figure.origin)


def _person(bundle: Bundle, name: str) -> ListPerson:
    person = bundle.of(Person, name)
    assert person is not None  # the gate has seen to the links
    shown = None if person.mass_is_private else _bare(person.mass)
    return ListPerson(name=person.name, mass=shown)


def _margins(answers: list[list[dict[str, Any]]], names: tuple[str, ...]) -> list[float | None]:
    """Margins of those measures of *balances*, on every leg; None where one can't be said."""
    return [one["margin"] for answer in answers for one in answer[1]["measures"] if one["name"] in names]


def _within_envelope(answers: list[list[dict[str, Any]]], bays: list[ListBay]) -> list[float | None]:
    """What each of these bays may still take before the envelope is left, on every leg; None where unknown.

    The envelope is convex nearly always: so much of the least of them may be spread over all.
    """
    rooms = [
        {one["station"]: one["mass"] for one in (answer[1].get("picture") or {}).get("addable", [])}
        for answer in answers
    ]
    return [room.get(bay.name) for room in rooms for bay in bays]


def _least(margins: list[float | None]) -> float | None:
    """The least margin; None when one can't be said, or there is none."""
    known = [margin for margin in margins if margin is not None]
    return min(known) if known and len(known) == len(margins) else None


def _bays(answers: list[list[dict[str, Any]]], used: list[Bay]) -> list[ListBay]:
    found: dict[str, ListBay] = {}
    by_id = {bay.id: bay for bay in used}
    together = _margins(answers, ("joint_mass",))
    for answer in answers:
        for shown in (answer[0].get("picture") or {}).get("bays", []):
            bay = by_id.get(shown["id"])
            if bay is None:
                continue
            mass = _left(shown["mass"], bears(bay))
            here = ListBay(
                id=bay.id,
                name=bay.name,
                # a limit that bays share may be the nearer one
                spare_mass=_least([mass, *together]),
                spare_bulk=soft_in(bay, _left(shown["volume_used"], shown["volume"])),
                bans=banned(bay),
            )
            before = found.get(here.id)
            found[here.id] = _narrower(before, here) if before else here
    return list(found.values())


def _narrower(one: ListBay, other: ListBay) -> ListBay:
    return ListBay(
        id=one.id,
        name=one.name,
        spare_mass=_least([one.spare_mass, other.spare_mass]),
        spare_bulk=_least([one.spare_bulk, other.spare_bulk]),
        bans=one.bans,
    )


def _left(used: float | None, limit: float | None) -> float | None:
    return None if used is None or limit is None else limit - used
