"""Links between documents: what is named must be there, once, and fit where it is put."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from ..errors import Refused
from .aeroplane import Aeroplane
from .air import Air
from .bundle import Bundle
from .kit import Kit, Person
from .lesson import Lesson
from .notebook import Notebook
from .strip import Strip
from .trip import Leg, Load, Settings, Trip


def broken_links(bundle: Bundle) -> list[Refused]:
    """Every inconsistency of the bundle, in the order of its documents; empty when there is none."""
    return list(_broken(bundle))


def _broken(bundle: Bundle) -> Iterator[Refused]:
    seen: set[str] = set()
    items: set[str] = set()
    for index, document in enumerate(bundle.documents):
        path = f"/documents/{index}"
        if document.id in seen:
            yield Refused(
                "duplicate", f"{path}/id", f"Two documents are called {document.id!r}.", "one id each"
            )
        seen.add(document.id)
        if isinstance(document, Aeroplane):
            yield from _aeroplane(document, path)
        elif isinstance(document, Strip):
            yield from _twice(document.directions, f"{path}/directions")
        elif isinstance(document, Kit):
            yield from _twice(document.items, f"{path}/items")
            for place, item in enumerate(document.items):
                if item.id in items:
                    where = f"{path}/items/{place}/id"
                    yield Refused("duplicate", where, f"Two kits hold an item {item.id!r}.", "one id each")
            items |= {item.id for item in document.items}
        elif isinstance(document, Air):
            yield from _air(bundle, document, path)
        elif isinstance(document, Trip):
            yield from _trip(bundle, document, path)
        elif isinstance(document, Notebook):
            yield from _notebook(bundle, document, path)
        elif isinstance(document, Lesson):
            yield from _lesson(bundle, document, path)
    opened = bundle.open
    if opened.trip is not None:
        trip = bundle.of(Trip, opened.trip)
        if trip is None:
            yield _absent("/open/trip", "trip", opened.trip)
        elif opened.leg is not None and opened.leg not in _ids(trip.legs):
            yield _absent("/open/leg", "leg", opened.leg)


def _ids(things: Iterable[Any]) -> set[str]:
    return {thing.id for thing in things}


def _absent(path: str, what: str, name: str | None) -> Refused:
    return Refused("inconsistent", path, f"There is no {what} {name!r}.", f"the id of a {what} that is there")


def _twice(things: Sequence[Any], path: str) -> Iterator[Refused]:
    seen: set[str] = set()
    for index, thing in enumerate(things):
        if thing.id in seen:
            yield Refused(
                "duplicate", f"{path}/{index}/id", f"{thing.id!r} stands there twice.", "one id each"
            )
        seen.add(thing.id)


def _check(path: str, what: str, name: str | None, there: set[str]) -> Iterator[Refused]:
    if name is not None and name not in there:
        yield _absent(path, what, name)


#: the lists of an aeroplane whose elements have ids
_LISTS = (
    "seats",
    "bays",
    "joint_limits",
    "tanks",
    "configurations",
    "envelopes",
    "flaps",
    "performance",
    "cruises",
    "quirks",
)


def _aeroplane(plane: Aeroplane, path: str) -> Iterator[Refused]:
    for name in _LISTS:
        yield from _twice(getattr(plane, name), f"{path}/{name}")
    stations = [*plane.seats, *plane.bays, *plane.tanks]
    yield from _twice(stations, f"{path}/stations")
    for index, limit in enumerate(plane.joint_limits):
        for station in limit.stations:
            yield from _check(f"{path}/joint_limits/{index}/stations", "station", station, _ids(stations))
    flaps, configurations = _ids(plane.flaps), _ids(plane.configurations)
    for index, quirk in enumerate(plane.quirks):
        yield from _check(f"{path}/quirks/{index}/flap", "flap setting", quirk.flap, flaps)
        yield from _check(
            f"{path}/quirks/{index}/configuration", "configuration", quirk.configuration, configurations
        )
    for index, configuration in enumerate(plane.configurations):
        place = f"{path}/configurations/{index}"
        yield from _check(f"{place}/based_on", "configuration", configuration.based_on, configurations)
        for seat in configuration.seats_out:
            yield from _check(f"{place}/seats_out", "seat", seat, _ids(plane.seats))
        for bay in configuration.bays_out:
            yield from _check(f"{place}/bays_out", "bay", bay, _ids(plane.bays))
        for tank in configuration.tanks_out:
            yield from _check(f"{place}/tanks_out", "tank", tank, _ids(plane.tanks))
        categories = {envelope.category for envelope in plane.envelopes}
        yield from _check(f"{place}/category", "envelope of category", configuration.category, categories)
        if _circular(plane, configuration.id):
            yield Refused(
                "inconsistent", f"{place}/based_on", "It is based on itself.", "another configuration"
            )
    for index, source in enumerate(plane.performance):
        place = f"{path}/performance/{index}"
        yield from _check(f"{place}/flap", "flap setting", getattr(source, "flap", None), flaps)
        for drag in getattr(source, "flap_drag", ()):
            yield from _check(f"{place}/flap_drag", "flap setting", drag.flap, flaps)
        for name in source.configurations or []:
            yield from _check(f"{place}/configurations", "configuration", name, configurations)
    sources = _ids(plane.performance)
    for phase in ("takeoff", "climb", "landing"):
        yield from _check(
            f"{path}/prefer/{phase}", "performance source", getattr(plane.prefer, phase), sources
        )


def _notebook(bundle: Bundle, notebook: Notebook, path: str) -> Iterator[Refused]:
    yield from _twice(notebook.entries, f"{path}/entries")
    plane = bundle.of(Aeroplane, notebook.aeroplane)
    if plane is None:
        yield _absent(f"{path}/aeroplane", "aeroplane", notebook.aeroplane)
        return
    configurations, flaps = _ids(plane.configurations), _ids(plane.flaps)
    for index, entry in enumerate(notebook.entries):
        place = f"{path}/entries/{index}"
        yield from _check(f"{place}/configuration", "configuration", entry.configuration, configurations)
        yield from _check(f"{place}/flap", "flap setting", getattr(entry, "flap", None), flaps)


def _lesson(bundle: Bundle, lesson: Lesson, path: str) -> Iterator[Refused]:
    yield from _twice(lesson.steps, f"{path}/steps")
    trip = bundle.of(Trip, lesson.trip)
    if trip is None:
        yield _absent(f"{path}/trip", "trip", lesson.trip)
    elif lesson.leg not in _ids(trip.legs):
        yield _absent(f"{path}/leg", "leg of that trip", lesson.leg)
    for index, step in enumerate(lesson.steps):
        moved = step.moves.document
        yield from _check(f"{path}/steps/{index}/moves/document", "document", moved, set(bundle.by_id))


def _circular(plane: Aeroplane, start: str) -> bool:
    by_id = {c.id: c for c in plane.configurations}
    seen, here = set(), start
    while here in by_id:
        if here in seen:
            return True
        seen.add(here)
        here = by_id[here].based_on or ""
    return False


def _air(bundle: Bundle, air: Air, path: str) -> Iterator[Refused]:
    if air.strip is None:
        if air.wind is not None and getattr(air.wind, "against", None):
            message = "The wind is told against a direction, but the air has no strip."
            yield Refused(
                "inconsistent", f"{path}/wind/against", message, "a strip, or the wind from true north"
            )
        return
    strip = bundle.of(Strip, air.strip)
    if strip is None:
        yield _absent(f"{path}/strip", "strip", air.strip)
    else:
        yield from _check(
            f"{path}/wind/against", "direction", getattr(air.wind, "against", None), _ids(strip.directions)
        )


def _trip(bundle: Bundle, trip: Trip, path: str) -> Iterator[Refused]:
    yield from _twice(trip.loads, f"{path}/loads")
    yield from _twice(trip.legs, f"{path}/legs")
    if trip.aeroplane is not None and bundle.of(Aeroplane, trip.aeroplane) is None:
        yield _absent(f"{path}/aeroplane", "aeroplane", trip.aeroplane)
    if trip.settings is not None and bundle.of(Settings, trip.settings) is None:
        yield _absent(f"{path}/settings", "settings", trip.settings)
    for index, name in enumerate(trip.people):
        if bundle.of(Person, name) is None:
            yield _absent(f"{path}/people/{index}", "person", name)
    for index, name in enumerate(trip.kits):
        if bundle.of(Kit, name) is None:
            yield _absent(f"{path}/kits/{index}", "kit", name)
    loads = {load.id: (i, load) for i, load in enumerate(trip.loads)}
    for index, leg in enumerate(trip.legs):
        yield from _leg(bundle, trip, leg, f"{path}/legs/{index}")
        if leg.load not in loads:
            yield _absent(f"{path}/legs/{index}/load", "load", leg.load)
            continue
        place, load = loads[leg.load]
        plane = bundle.of(Aeroplane, leg.aeroplane or trip.aeroplane)
        if plane is not None:
            yield from _load(bundle, load, plane, f"{path}/loads/{place}")


def _leg(bundle: Bundle, trip: Trip, leg: Leg, path: str) -> Iterator[Refused]:
    for end, direction in (("from_strip", "takeoff_direction"), ("to_strip", "landing_direction")):
        strip = bundle.of(Strip, getattr(leg, end))
        if strip is None:
            yield _absent(f"{path}/{end}", "strip", getattr(leg, end))
        else:
            named = getattr(leg, direction)
            yield from _check(
                f"{path}/{direction}", f"direction of {strip.name}", named, _ids(strip.directions)
            )
    if leg.alternate is not None and bundle.of(Strip, leg.alternate) is None:
        yield _absent(f"{path}/alternate", "strip", leg.alternate)
    for field, end in (("air_from", leg.from_strip), ("air_to", leg.to_strip)):
        name = getattr(leg, field)
        if name is None:
            continue
        air = bundle.of(Air, name)
        if air is None:
            yield _absent(f"{path}/{field}", "air", name)
        elif air.strip is not None and air.strip != end:
            message = f"That air was read at {air.strip!r}, not at {end!r}."
            yield Refused("inconsistent", f"{path}/{field}", message, f"air of {end!r}")
    plane = bundle.of(Aeroplane, leg.aeroplane or trip.aeroplane)
    if plane is None:
        yield _absent(f"{path}/aeroplane", "aeroplane", leg.aeroplane or trip.aeroplane)
        return
    configuration = leg.configuration or trip.configuration
    yield from _check(f"{path}/configuration", "configuration", configuration, _ids(plane.configurations))
    yield from _check(f"{path}/takeoff_flap", "flap setting", leg.takeoff_flap, _ids(plane.flaps))
    yield from _check(f"{path}/landing_flap", "flap setting", leg.landing_flap, _ids(plane.flaps))
    yield from _check(f"{path}/cruise", "cruise setting", leg.cruise, _ids(plane.cruises))
    tanks = {tank.id: tank for tank in plane.tanks}
    filled: set[str] = set()
    for index, fuel in enumerate(leg.fuel):
        place = f"{path}/fuel/{index}"
        if fuel.tank in filled:
            yield Refused(
                "duplicate", f"{place}/tank", f"Tank {fuel.tank!r} is filled twice.", "one line a tank"
            )
        filled.add(fuel.tank)
        tank = tanks.get(fuel.tank)
        if tank is None:
            yield _absent(f"{place}/tank", "tank", fuel.tank)
        elif tank.usable is not None and fuel.volume.value > tank.usable.value * (1 + 1e-9):
            given, most = fuel.volume.value * 1000, tank.usable.value * 1000
            message = f"{given:.1f} L is more than the {most:.1f} L usable of {tank.name}."
            yield Refused("impossible", f"{place}/volume", message, f"at most {most:.1f} L")


def _load(bundle: Bundle, load: Load, plane: Aeroplane, path: str) -> Iterator[Refused]:
    seats, bays = _ids(plane.seats), _ids(plane.bays)
    taken: set[str] = set()
    for index, seated in enumerate(load.seats):
        yield from _check(f"{path}/seats/{index}/seat", f"seat of {plane.name}", seated.seat, seats)
        if bundle.of(Person, seated.person) is None:
            yield _absent(f"{path}/seats/{index}/person", "person", seated.person)
        if seated.person in taken:
            yield Refused(
                "duplicate", f"{path}/seats/{index}/person", f"{seated.person!r} sits twice.", "one seat"
            )
        taken.add(seated.person)
    placed: set[str] = set()
    for index, item in enumerate(load.placed):
        if item.item not in bundle.items:
            yield _absent(f"{path}/placed/{index}/item", "item", item.item)
        yield from _check(f"{path}/placed/{index}/bay", f"bay of {plane.name}", item.bay, bays)
        if item.item in placed:
            yield Refused(
                "duplicate", f"{path}/placed/{index}/item", f"{item.item!r} is placed twice.", "one bay"
            )
        placed.add(item.item)
