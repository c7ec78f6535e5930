"""Fits? Bulk, length and place in the bays, people against seats, and whether what rides is held."""

from __future__ import annotations

from typing import Any

from ..documents.aeroplane import Bay, Seat
from ..documents.kit import Item, Person, Rigid, Soft
from ..sums.bulk import fits_box, fits_door, floor_load, head_room, usable_volume
from .aboard import Aboard, error
from .answer import CANT_SAY, NO, TIGHT, YES, Answer, Measure, at_most, cant_say, measure, message
from .bulk import box_of, bulk_in, doubt, exposed, lies, too_full, unsized
from .dangers import danger_in
from .flight import Flight
from .holding import held
from .needed import not_aboard
from .stowing import judge_stowing
from .working import Working

#: what a guess of somebody's height may be off [m]: common practice, no source
GUESSED_HEIGHT = 0.05


def fits(flight: Flight, work: Working) -> Answer:
    answer = Answer("fits")
    _seats(flight, answer, work)
    _bays(flight, answer, work)
    answer.notes += not_aboard(flight)
    answer.notes += [message("text", text=text) for text in flight.quirks("fits")]
    answer.working = work.steps
    if not work.silent:
        answer.picture = _picture(flight, answer)
    return answer


# --- people ----------------------------------------------------------------------------------------------


def _seats(flight: Flight, answer: Answer, work: Working) -> None:
    seats = {seat.id: seat for seat in flight.seats}
    known = {seat.id: seat for seat in flight.plane.seats}
    people = [(known[name], person) for name, person in flight.seated]
    riders = [p for p in people if "lap_infant" not in p[0].takes or p[1].is_a != "infant"]
    answer.measures.append(measure("seats", len(riders), len(flight.seats), "1", "count"))
    for seat, person in people:
        if seat.id not in seats:
            answer.measures.append(_never("seat_out", seat=seat.name, person=person.name))
            continue
        answer.measures.append(_height(seat, person, work))
        wants = {
            "infant": ("lap_infant", "child_seat"),
            "child": ("child_seat", "adult"),
            "dog": ("dog_crate",),
        }
        if not set(wants.get(person.is_a, ("adult",))) & set(seat.takes):
            answer.measures.append(_never("seat_takes", seat=seat.name, person=person.name))
    for name in {seat.id for seat, _ in riders}:
        sharing = [person.name for seat, person in riders if seat.id == name]
        if len(sharing) > 1:
            answer.measures.append(_never("seat_shared", seat=known[name].name, person=" + ".join(sharing)))
    _laps(people, answer)
    if not _fliers(people):
        answer.measures.append(_never("nobody_flies"))
    _benches(people, answer)


def _fliers(people: list[tuple[Seat, Person]]) -> list[Person]:
    """Who flies and sits at the controls: grown up, whatever is ticked for anybody else."""
    return [p for seat, p in people if seat.controls and p.flies and p.is_a == "adult"]


def _laps(people: list[tuple[Seat, Person]], answer: Answer) -> None:
    """One infant on a lap, and where no child seat is there must be one; a lone pilot has no lap to spare."""
    fliers = _fliers(people)
    for seat in {seat.id: seat for seat, person in people if person.is_a == "infant"}.values():
        infants = [person.name for other, person in people if other.id == seat.id and person.is_a == "infant"]
        laps = [person for other, person in people if other.id == seat.id and person.is_a == "adult"]
        values = {"seat": seat.name, "person": infants[0]}
        if len(infants) > 1:
            answer.measures.append(_never("seat_shared", seat=seat.name, person=" + ".join(infants)))
        elif "child_seat" not in seat.takes and not laps:
            answer.measures.append(_never("no_lap", **values))
        elif laps and fliers == laps:
            reason = message("reason.lap_flies", **values)
            answer.measures.append(Measure("lap_flies", None, None, "1", "count", TIGHT, values, reason))


def _never(name: str, **values: Any) -> Measure:
    """A rule that is broken: nothing to measure, a plain "no" with its reason."""
    return Measure(name, None, None, "1", "count", NO, values, message(f"reason.{name}", **values))


def _height(seat: Seat, person: Person, work: Working) -> Measure:
    values = {"seat": seat.name, "person": person.name}
    if person.is_a in ("infant", "dog"):
        return Measure("height", None, None, "m", "short", YES, values)
    if person.height is None:
        return cant_say("height", "m", "short", message("missing.person_height", **values), **values)
    if seat.height_fits is None or seat.height_sits_well is None:
        return cant_say("height", "m", "short", message("missing.seat_height", **values), **values)
    tall, fit = person.height.value, seat.height_fits.value
    room = work.step(head_room, height=tall, tallest_well=seat.height_sits_well.value, tallest_fits=fit)
    hair = -1e-9
    doubt = GUESSED_HEIGHT if person.height.origin == "estimated" else 0.0
    verdict = NO if room[1] < hair else TIGHT if room[0] - doubt < hair else YES
    reason = message(f"reason.height.{verdict}", **values) if verdict != YES else None
    return Measure("height", tall, fit, "m", "short", verdict, values, reason)


def _benches(people: list[tuple[Seat, Person]], answer: Answer) -> None:
    """Widths side by side, where both the bench and the people were measured."""
    for bench in {seat.bench for seat, _ in people if seat.bench}:
        on_it = [(seat, person) for seat, person in people if seat.bench == bench]
        width = next((seat.width for seat, _ in on_it if seat.width), None)
        if len(on_it) < 2:
            continue
        if width is None or any(person.width is None for _, person in on_it):
            answer.assume("assumed.bench_not_measured", bench=bench)
            continue
        needed = sum(person.width.value for _, person in on_it if person.width)
        tight = 0.02 * width.value
        answer.measures.append(
            measure("bench", needed, width.value, "m", "short", tight_below=tight, values={"bench": bench})
        )


# --- kit -------------------------------------------------------------------------------------------------


def _bays(flight: Flight, answer: Answer, work: Working) -> None:
    inside = {bay.id for bay in flight.bays}
    for placed in flight.bagless:
        item = flight.bundle.items[placed.item].name
        reason = message("missing.bag", item=item)
        answer.measures.append(cant_say("inside", "m³", "bulk", reason, item=item))
    for bay in flight.plane.bays:
        things = [thing for thing in flight.aboard if thing.bay == bay.id]
        if bay.id not in inside:
            for thing in things:
                answer.measures.append(_never("bay_out", bay=bay.name, item=thing.item.name))
            continue
        answer.measures.append(_volume(flight, bay, things, answer, work))
        alone = [measure for thing in things for measure in _one(bay, thing, work)]
        answer.measures += alone
        # what goes in one by one may still not go in together
        if not any(found.name in ("door", "box") and found.verdict == NO for found in alone):
            together = judge_stowing(bay, things, answer)
            answer.measures += [together] if together else []
        if bay.floor_limit is None and any(
            isinstance(one.item.size, Rigid) for thing in things for one in exposed(thing)
        ):
            answer.assume("assumed.no_floor_limit", bay=bay.name)
        answer.measures += _floor(bay, things, work)
        answer.measures += held(bay, things)


def _volume(flight: Flight, bay: Bay, things: list[Aboard], answer: Answer, work: Working) -> Measure:
    values = {"bay": bay.name}
    if bay.volume is None:
        if not things:
            return Measure("bay_volume", 0.0, None, "m³", "bulk", YES, values)
        return cant_say("bay_volume", "m³", "bulk", message("missing.bay_volume", **values), **values)
    rigid = soft = 0.0
    for thing in things:
        found = lies(thing, work)
        if found is None:
            reason = message("missing.item_size", item=unsized(thing))
            return cant_say("bay_volume", "m³", "bulk", reason, available=bay.volume.value, **values)
        rigid += sum(box_of(box, work) for box in found.rigid)
        soft += found.soft
    if soft > 0 and bay.packing_fraction is None:
        reason = message("missing.packing_fraction", **values)
        return cant_say("bay_volume", "m³", "bulk", reason, available=bay.volume.value, **values)
    fraction = bay.packing_fraction.value if bay.packing_fraction else 1.0
    if any(f is not None and f.origin == "estimated" for f in (bay.volume, bay.packing_fraction)):
        answer.assume("assumed.bay_estimated", bay=bay.name)
    # between soft bags there is air: they need the litres of the bay that hold theirs
    bags = float(work.step(usable_volume, volume=1.0, packing_fraction=fraction))
    needed = rigid + soft / bags
    tight = flight.settings.tight.bulk * bay.volume.value if things else 0.0
    tight = max(tight, error(doubt(thing) for thing in things) / bags)
    return measure("bay_volume", needed, bay.volume.value, "m³", "bulk", tight_below=tight, values=values)


def _one(bay: Bay, thing: Aboard, work: Working) -> list[Measure]:
    """What one thing, with all in it, asks of its bay. Only what is broken or cannot be said, and lengths."""
    found = [part for one in thing.parts for part in _rules(bay, one.item)]
    found += too_full(thing, bay.name, work)
    for one in exposed(thing):
        found += _shape(bay, one, work)
    return found


def _rules(bay: Bay, item: Item) -> list[Measure]:
    found = []
    values = {"bay": bay.name, "item": item.name}
    if item.must_bays and bay.id not in item.must_bays:
        found.append(_never("must_bay", **values))
    if bay.id in item.not_bays:
        found.append(_never("not_bay", **values))
    if item.stays_accessible and not bay.accessible_in_flight:
        found.append(_never("not_accessible", **values))
    found += danger_in(bay, item)
    return found


def _shape(bay: Bay, thing: Aboard, work: Working) -> list[Measure]:
    """Whether what is long or rigid goes in, and the floor bears it."""
    found: list[Measure] = []
    size = thing.item.size
    if size is None:
        return found
    values = {"bay": bay.name, "item": thing.item.name}
    longest = size.longest.value if isinstance(size, Soft) and size.longest else None
    if isinstance(size, Rigid):
        edges = (size.length.value, size.width.value, size.height.value)
        longest = max(edges)
        found += _rigid(bay, thing.upright, edges, values, work)
    if longest is not None:
        if bay.longest is None:
            found.append(
                cant_say("longest", "m", "short", message("missing.bay_longest", **values), **values)
            )
        else:
            found.append(measure("longest", longest, bay.longest.value, "m", "short", values=values))
    if bay.floor_limit is not None and isinstance(size, Rigid):
        if thing.mass is None:
            reason = message("missing.item_mass", item=", ".join(thing.lacking) or thing.item.name)
            return [*found, cant_say("floor", "kg/m²", "mass area density", reason, **values)]
        # unless it must stand upright it may lie on any face, the smallest too
        face = edges[:2] if thing.upright else tuple(sorted(edges))[:2]
        load, off = (
            float(work.step(floor_load, mass=mass, length=face[0], width=face[1]))
            for mass in (thing.mass, error((thing.sd,)))
        )
        limit = bay.floor_limit.value
        found.append(
            measure("floor", load, limit, "kg/m²", "mass area density", tight_below=off, values=values)
        )
    return found


def _floor(bay: Bay, things: list[Aboard], work: Working) -> list[Measure]:
    """Whether the whole floor bears all that is in the bay: soft things, which have no face, count here."""
    if bay.floor_limit is None or not things:
        return []
    values, density = {"bay": bay.name}, "mass area density"
    if bay.length is None or bay.width is None:
        return [cant_say("floor_whole", "kg/m²", density, message("missing.bay_size", **values), **values)]
    lacking = [name for thing in things if thing.mass is None for name in thing.lacking or (thing.item.name,)]
    if lacking:
        reason = message("missing.item_mass", item=", ".join(lacking))
        return [cant_say("floor_whole", "kg/m²", density, reason, **values)]
    edges: dict[str, Any] = {"length": bay.length.value, "width": bay.width.value}
    mass, off = sum(thing.mass or 0.0 for thing in things), error(thing.sd for thing in things)
    load, spread = (float(work.step(floor_load, mass=one, **edges)) for one in (mass, off))
    limit = bay.floor_limit.value
    return [measure("floor_whole", load, limit, "kg/m²", density, tight_below=spread, values=values)]


def _rigid(
    bay: Bay, upright: bool, edges: tuple[float, float, float], values: dict[str, Any], work: Working
) -> list[Measure]:
    found = []
    hatch = upright and bay.door is not None and bay.door.face == "top"
    if bay.door is None:
        found.append(cant_say("door", "m", "short", message("missing.bay_door", **values), **values))
    elif not work.step(
        fits_door,
        length=edges[0],
        width=edges[1],
        # let down through the top it is its floor that must pass, whatever its height
        height=max(edges) if hatch else edges[2],
        door_width=bay.door.width.value,
        door_height=bay.door.height.value,
        upright=float(upright and not hatch),
    ):
        found.append(_never("door", **values))
    if bay.length is None or bay.width is None or bay.height is None:
        found.append(cant_say("box", "m", "short", message("missing.bay_size", **values), **values))
    elif not work.step(
        fits_box,
        length=edges[0],
        width=edges[1],
        height=edges[2],
        bay_length=bay.length.value,
        bay_width=bay.width.value,
        bay_height=bay.height.value,
        upright=float(upright),
    ):
        found.append(_never("box", **values))
    return found


def _picture(flight: Flight, answer: Answer) -> dict[str, Any]:
    by_bay = {m.values.get("bay"): m for m in answer.measures if m.name == "bay_volume"}
    bays = []
    for bay in flight.bays:
        things = [thing for thing in flight.aboard if thing.bay == bay.id]
        volume = by_bay.get(bay.name)
        masses = [thing.mass for thing in things]
        bays.append(
            {
                "id": bay.id,
                "name": bay.name,
                "volume_used": volume.needed if volume else None,
                "volume": bay.volume.value if bay.volume else None,
                "mass": None if None in masses else sum(m for m in masses if m is not None),
                "mass_limit": bay.mass_limit.value if bay.mass_limit else None,
                "longest": bay.longest.value if bay.longest else None,
                "items": [
                    {
                        "id": thing.item.id,
                        "name": thing.item.name,
                        "mass": thing.mass,
                        "volume": bulk_in(thing, bay),
                    }
                    | ({"with": [one.item.name for one in thing.parts[1:]]} if thing.inside else {})
                    for thing in things
                ],
                "verdict": volume.verdict if volume else CANT_SAY,
            }
        )
    heights = {(m.values.get("seat"), m.values.get("person")): m.verdict for m in answer.measures}
    names = {seat.id: seat.name for seat in flight.plane.seats}
    people = {seat: person.name for seat, person in flight.seated}
    seats = [
        {
            "id": seat.id,
            "name": seat.name,
            "person": people.get(seat.id),
            "verdict": at_most(heights.get((names[seat.id], people.get(seat.id)), YES), YES),
        }
        for seat in flight.seats
    ]
    return {"bays": bays, "seats": seats}


def alone(flight: Flight, bay: Bay, thing: Aboard) -> list[Measure]:
    """What one thing asks of a bay that holds nothing else: what is "no" here stays so in company."""
    quiet = Working(silent=True)
    volume = _volume(flight, bay, [thing], Answer("fits"), quiet)
    return [volume, *_one(bay, thing, quiet), *_floor(bay, [thing], quiet), *held(bay, [thing])]
