"""A load as a choice: which thing may go where, what must come, and every limit, as plain figures."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

import numpy as np

from ..documents import Accepted, Bundle, Trip
from ..documents.aeroplane import Bay
from ..documents.kit import Kit, Rigid
from ..documents.trip import Leg, Load, Placed
from ..errors import Refused
from ..questions.aboard import Aboard
from ..questions.answer import CANT_SAY, NO, RANK, message
from ..questions.bulk import bulk_in, exposed
from ..questions.edits import replaced
from ..questions.fits import alone
from ..questions.flight import Flight, flown_alike
from ..sums.packing.choice import LEFT, AtLeast, Choice, Never, Together
from ..sums.packing.pieces import guarded
from ..trip import chosen_leg, chosen_trip
from .limits import Limits, Probe, limits_of, middle

FREE = LEFT - 1
#: kept off the limits that are worked out [kg]: less than any scale shows, more than the sums round
ROUNDING = 1e-3
#: what a bay's restraint is called on an item
_HELD = {"net": "net", "strap": "straps", "ring": "rings", "locker": "locker"}


@dataclass(frozen=True)
class Cuts:
    """What showed only when a choice was answered: sets that do not go together, less mass, more guard."""

    never: tuple[tuple[str, tuple[str, ...]], ...] = ()
    total: float | None = None
    guard: float = 0.0
    #: nothing that must come goes in with the guard: the envelope as it is, then
    unguarded: bool = False
    #: not cut off but let in: all kit of the trip, not only what the load lists
    everything: bool = False

    @staticmethod
    def read(given: Any) -> Cuts:
        """As `as_dict` wrote it. Raises `Refused` for anything else."""
        given = given or {}
        try:
            never = tuple((str(one["bay"]), tuple(map(str, one["items"]))) for one in given.get("never", []))
            total = given.get("total")
            return Cuts(
                never,
                None if total is None else float(total),
                float(given.get("guard", 0.0)),
                bool(given.get("unguarded", False)),
                bool(given.get("everything", False)),
            )
        except (TypeError, ValueError, KeyError, AttributeError) as problem:
            raise Refused("wrong_type", "/cuts", "These are no cuts.", "what `take` gave") from problem

    def as_dict(self) -> dict[str, Any]:
        never = [{"bay": bay, "items": list(items)} for bay, items in self.never]
        return {
            "never": never,
            "total": self.total,
            "guard": self.guard,
            "unguarded": self.unguarded,
            "everything": self.everything,
        }


@dataclass(frozen=True)
class Figures:
    """Everything that a choice for one load rests on."""

    bundle: Bundle
    trip: Trip
    leg: Leg
    legs: list[Leg]
    load: Load
    now: datetime
    flight: Flight
    #: of the things that are in no other; what is inside them goes with them
    placed: list[Placed]
    things: list[Aboard]
    bays: list[Bay]
    choice: Choice
    limits: Limits
    #: by item: why each bay that takes it not does not, the nearest first
    refused: dict[str, list[dict[str, Any]]]
    #: items that the load does not list
    added: frozenset[str]

    def index(self, item: str) -> int:
        """Of a thing or of what it is inside. Raises `Refused` for one that is not on the load."""
        for index, thing in enumerate(self.things):
            if any(part.item.id == item for part in thing.parts):
                return index
        raise Refused("unknown_name", "/item", f"{item!r} is not on this load.", "the id of an item")


def read_load(
    accepted: Accepted, trip: str | None, leg: str | None, now: datetime, everything: bool = False
) -> Figures:
    """The choice for the load of a leg, on all legs flown with it; of `everything` in the trip's kits.

    Raises `Refused` where there is nothing to choose, or no such trip or leg.
    """
    bundle = accepted.bundle
    chosen = chosen_trip(bundle, trip)
    flown = chosen_leg(chosen, leg or bundle.open.leg or chosen.legs[0].id)
    load = next(one for one in chosen.loads if one.id == flown.load)
    added: frozenset[str] = frozenset()
    if everything:
        bundle, chosen, load, added = _with_all_kit(bundle, chosen, load)
    legs = flown_alike(chosen, flown)
    flights = [Flight(bundle, chosen, one, now) for one in legs]
    first = flights[legs.index(flown)]
    # a bay that some leg's configuration leaves out is none
    bays = [bay for bay in first.bays if all(bay in flight.bays for flight in flights)]
    things = first.things
    if not bays or not things:
        raise Refused("missing", "/load", f"Nothing is to be packed in {load.name}.", "things, and a bay")
    lines = {one.item: one for one in load.placed}
    placed = [lines[thing.item.id] for thing in things]
    choice, refused = _bare(first, placed, things, bays)
    spread = _spread(things, bays, choice)
    probe = Probe(bundle, chosen, legs, load, things[0].item.id, middle(bays), now)
    needed = choice.must | (choice.locked > LEFT)
    can_come = needed | (choice.open.any(axis=1))
    least = float(np.sum(choice.mass[needed]))
    most = float(np.sum(choice.mass[can_come]))
    limits = limits_of(probe, least, most, spread)
    total = np.inf if limits.by is None else limits.total - ROUNDING
    choice = replace(choice, total=total, moments=tuple(limits.moments))
    choice = _with_joints(first, choice, bays, limits)
    return Figures(
        bundle, chosen, flown, legs, load, now, first, placed, things, bays, choice, limits, refused, added
    )


def _with_all_kit(bundle: Bundle, trip: Trip, load: Load) -> tuple[Bundle, Trip, Load, frozenset[str]]:
    """A load that lists all of the trip's kits; what it did not list stays behind, until it is chosen."""
    listed = {one.item for one in load.placed}
    kits = [kit for kit in bundle.all(Kit) if not trip.kits or kit.id in trip.kits]
    more = [item.id for kit in kits for item in kit.items if item.id not in listed]
    load = load.model_copy(update={"placed": [*load.placed, *(Placed(item=name) for name in more)]})
    trip = trip.model_copy(update={"loads": [load if one.id == load.id else one for one in trip.loads]})
    return replaced(bundle, trip), trip, load, frozenset(more)


def with_cuts(figures: Figures, cuts: Cuts) -> Choice:
    """The choice less what has shown not to hold."""
    choice = figures.choice
    by_item = {thing.item.id: index for index, thing in enumerate(figures.things)}
    by_bay = {bay.id: index for index, bay in enumerate(figures.bays)}
    never = []
    for bay, names in cuts.never:
        flags = np.zeros(choice.items, dtype=bool)
        flags[[by_item[name] for name in names if name in by_item]] = True
        if bay in by_bay and flags.any():
            never.append(Never(flags, by_bay[bay]))
    moments = tuple(
        replace(one, pieces=tuple(guarded(piece, cuts.guard) for piece in one.pieces))
        for one in (figures.limits.unguarded if cuts.unguarded else choice.moments)
    )
    total = choice.total if cuts.total is None else min(choice.total, cuts.total)
    return replace(choice, never=tuple(never), moments=moments, total=total)


def _bare(
    flight: Flight, placed: list[Placed], things: list[Aboard], bays: list[Bay]
) -> tuple[Choice, dict[str, list[dict[str, Any]]]]:
    """Items and bays alone, and why a thing goes into none of them."""
    count, spots = len(things), len(bays)
    may = np.zeros((count, spots), dtype=bool)
    bulk = np.zeros((count, spots))
    refused: dict[str, list[dict[str, Any]]] = {}
    for i, thing in enumerate(things):
        for b, bay in enumerate(bays):
            litres = bulk_in(thing, bay)
            why = _why_not(flight, bay, thing)
            may[i, b], bulk[i, b] = why is None, litres or 0.0
            if why is not None:
                refused.setdefault(thing.item.id, []).append(why)
    index = {bay.id: b for b, bay in enumerate(bays)}
    gone = _locked_where_no_bay_is(flight, placed, index)
    for i, why in gone.items():
        may[i], refused[things[i].item.id] = False, [why]
    locked = [
        FREE if not one.locked else LEFT if one.bay is None else index.get(one.bay, FREE) for one in placed
    ]
    worth = np.array([thing.worth for thing in things], dtype=np.int64)
    mass = np.array([thing.mass or 0.0 for thing in things])
    must, at_least = _must(flight, things, mass)
    must[list(gone)] = True
    choice = Choice(
        worth=worth,
        mass=mass,
        bulk=bulk,
        may=may,
        must=must & (np.array(locked) != LEFT),
        locked=np.array(locked, dtype=np.int64),
        arm=np.array([bay.arm.value if bay.arm else 0.0 for bay in bays]),
        bay_mass=np.array([bears(bay) or 0.0 for bay in bays]),
        bay_bulk=np.array([bay.volume.value if bay.volume else 0.0 for bay in bays]),
        at_least=at_least,
        unwelcome=_unwelcome(things, bays),
    )
    return choice, refused


def _locked_where_no_bay_is(
    flight: Flight, placed: list[Placed], index: dict[str, int]
) -> dict[int, dict[str, Any]]:
    """Things, by their place, that are locked in a bay which some leg's configuration leaves out, and why."""
    names = {bay.id: bay.name for bay in flight.plane.bays}
    return {
        i: message("pack.locked_where_no_bay", bay=names.get(one.bay, one.bay))
        for i, one in enumerate(placed)
        if one.locked and one.bay is not None and one.bay not in index
    }


def _why_not(flight: Flight, bay: Bay, thing: Aboard) -> dict[str, Any] | None:
    """The first thing that keeps a thing out of a bay that is empty; None where it may go in."""
    if thing.mass is None:
        return message("missing.item_mass", item=thing.lacking[0] if thing.lacking else thing.item.name)
    if bay.arm is None:
        return message("missing.arm", station=bay.name)
    if bay.mass_limit is None:
        return message("missing.bay_limit", bay=bay.name)
    parts = [part for part in alone(flight, bay, thing) if part.verdict in (NO, CANT_SAY)]
    if not parts:
        return None
    worst = min(parts, key=lambda part: RANK[part.verdict])
    if worst.reason is not None:
        return worst.reason
    label = message(f"measure.{worst.name}", **worst.values)
    return message("pack.too_much", what=label)


def bears(bay: Bay) -> float | None:
    """Mass [kg] that a bay takes, its whole floor bears and its restraint holds.

    None where nobody has said what it takes. A floor whose edges are not known is the answer's to tell.
    """
    if bay.mass_limit is None:
        return None
    restraint = bay.restraint
    found = bay.mass_limit.value
    if bay.floor_limit is not None and bay.length is not None and bay.width is not None:
        found = min(found, bay.floor_limit.value * bay.length.value * bay.width.value)
    if restraint is not None and restraint.by != "none" and restraint.rating is not None:
        found = min(found, restraint.rating.value)
    return found


def _must(flight: Flight, things: list[Aboard], mass: np.ndarray) -> tuple[np.ndarray, tuple[AtLeast, ...]]:
    """What comes in any case. Of water so much as the people aboard need, all where there is less."""
    water = np.array([all(part.item.role == "water" for part in thing.parts) for thing in things])
    must = np.array([thing.must_come for thing in things])
    # of water alone there may be more than is needed
    must &= ~(water & ~np.array([any(part.item.must_come for part in thing.parts) for thing in things]))
    persons = sum(person.is_a != "dog" for _, person in flight.seated)
    wanted = persons * flight.trip.water_per_day * max(1, flight.trip.nights)
    if float(np.sum(mass[water])) <= wanted:
        return must | water, ()
    return must, (AtLeast(water, wanted),)


def _unwelcome(things: list[Aboard], bays: list[Bay]) -> np.ndarray:
    """Heavy things forward, low, and where what holds them is: 0 to 1 by item and bay.

    The balance counts most, as it does in the air: 0.55 from the foremost bay to the aftmost, 0.2 from the
    lowest floor to the highest, 0.25 for what is not held. A floor of unknown height lies in the middle.
    """
    aft = _graded([bay.arm.value if bay.arm else 0.0 for bay in bays])
    heights = [bay.floor_height.value for bay in bays if bay.floor_height]
    middle = (min(heights) + max(heights)) / 2 if heights else 0.0
    high = _graded([bay.floor_height.value if bay.floor_height else middle for bay in bays])
    found = np.zeros((len(things), len(bays)))
    for i, thing in enumerate(things):
        for b, bay in enumerate(bays):
            found[i, b] = 0.55 * aft[b] + 0.2 * high[b] + 0.25 * _ill_held(thing, bay)
    return found


def _graded(values: list[float]) -> np.ndarray:
    """0 for the least, 1 for the greatest; all 0 where they are alike."""
    known = np.array(values)
    found: np.ndarray = (known - np.min(known)) / max(float(np.ptp(known)), 1e-9)
    return found


def _ill_held(thing: Aboard, bay: Bay) -> float:
    """1 where nothing holds a thing, 0.5 where the bay has not what it wants, 0 where it is held."""
    if thing.item.held_by and thing.item.held_rating:
        return 0.0
    by = bay.restraint.by if bay.restraint else "none"
    wanted = _HELD.get(thing.item.held_by or "")
    return 1.0 if by == "none" else 0.5 if wanted is not None and wanted != by else 0.0


def _spread(things: list[Aboard], bays: list[Bay], choice: Choice) -> Any:
    """Variance of the moment about an arm that the kit can bring at most, each thing where it counts most."""
    sd = np.array([thing.sd for thing in things])
    can = choice.open

    def at(arm: float) -> float:
        lever = np.where(can, (choice.arm[None, :] - arm) ** 2, 0.0)
        return float(np.sum(sd**2 * np.max(lever, axis=1)))

    return at


def _with_joints(flight: Flight, choice: Choice, bays: list[Bay], limits: Limits) -> Choice:
    """Limits that bays share, less what people and fuel at the same stations take of them."""
    found = []
    ids = [bay.id for bay in bays]
    fuel = {line.tank: line.volume.value for line in flight.leg.fuel}
    for joint in flight.plane.joint_limits:
        flags = np.array([name in joint.stations for name in ids])
        if not flags.any():
            continue
        riders = sum(p.mass.value for seat, p in flight.seated if seat in joint.stations and p.mass)
        # the heaviest of grades: what is left for the kit is rather too little
        riders += 800.0 * sum(volume for tank, volume in fuel.items() if tank in joint.stations)
        plane = flight.plane
        named = [(one.id, one.name) for group in (plane.seats, plane.bays, plane.tanks) for one in group]
        names = " + ".join(name for station, name in named if station in joint.stations)
        found.append(Together(flags, joint.mass_limit.value - riders, names))
    return replace(choice, together=tuple(found))


def is_rigid(thing: Aboard) -> bool:
    """Whether it comes to a box somewhere."""
    return any(isinstance(part.item.size, Rigid) for part in exposed(thing))
