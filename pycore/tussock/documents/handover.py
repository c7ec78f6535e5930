"""What goes from the pilot's phone to the passenger's and back: a list to pack by, and the ticks and weights.

The list holds what a passenger needs and nothing else: no document leaves the phone, and nobody's weight does
unless they chose to show it. What comes back are edits with their stamps, each over the edit that it saw, so
that they join the trip like any other phone's: in whatever order, twice or once, and no edit of either side
is lost without being told.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import Field, TypeAdapter, model_validator

from ..errors import Refused
from .base import VERSION, Figure, Id, In, Model, Name, Stamp, Text, Time, YesNo
from .bundle import Bundle
from .gate import parse, read_apart, read_as
from .merge import Merged, merge
from .parts import plain
from .stamping import StampData, moment
from .trip import Trip, Weighing

Kilograms = Annotated[float, In("mass", "kg", -20_000, 20_000)]
Litres = Annotated[float, In("bulk", "m³", -20, 20)]
Weighed = Annotated[Figure, In("mass", "kg", 0, 1000)]
OnScale = Annotated[Weighing, In("mass", "kg", 0, 1000)]


#: what a deed may be about: fields of what is placed on a load
About = Literal["packed", "weighed", "bay"]


class ListBay(Model):
    """A bay as far as the plan fills it; what is left of it by mass and bulk, None where nobody can say."""

    id: Id
    name: Name
    spare_mass: Kilograms | None = None
    spare_bulk: Litres | None = None
    #: dangerous things that must not ride here
    bans: list[Literal["fuel", "gas", "battery"]] = []


class ListItem(Model):
    """A thing to bring. `seen`: the time of the last edit here of what a deed is about, which it is over."""

    id: Id
    name: Name
    bay: Id
    inside: Id | None = None
    mass: Weighed | None = None
    packed: YesNo = False
    is_weighed: YesNo = False
    upright: YesNo = False
    stays_accessible: YesNo = False
    danger: Literal["fuel", "gas", "battery"] | None = None
    #: never offered to be left at home
    must_come: YesNo = False
    note: Text | None = None
    seen: dict[About, Time] = {}


class ListPerson(Model):
    """Who comes along; with a mass where they chose to show it."""

    name: Name
    mass: Weighed | None = None


class PackingList(Model):
    """The plan of one load, for somebody who helps to pack."""

    format: Literal["tussock-list"]
    version: Literal[1] = VERSION
    trip: Id
    load: Id
    name: Name
    aeroplane: Name
    at: Time
    people: Annotated[list[ListPerson], Field(max_length=20)] = []
    bays: Annotated[list[ListBay], Field(max_length=50)] = []
    items: Annotated[list[ListItem], Field(max_length=500)] = []
    #: what may still come with all this in, in whichever of these bays: by mass, balance and the answers on
    #: every leg
    spare_mass: Kilograms | None = None
    #: no answer about strips and reach had to be left out of that
    by_strips: YesNo = False


class Deed(Model):
    """One thing that the passenger did to one item: ticked it, said what the scale said, or left it at home.

    `bay` is where it rides: None at home, or the bay of the list again.
    """

    item: Id
    field: About
    packed: YesNo | None = None
    weighed: OnScale | None = None
    bay: Id | None = None
    stamp: Stamp

    @model_validator(mode="after")
    def _one_value(self) -> Deed:
        for other in get_args(About):
            if other != self.field and getattr(self, other) is not None:
                raise ValueError(f"this is about {self.field}, and says {other}")
        if self.field == "packed" and self.packed is None:
            raise ValueError("a tick is yes or no")
        return self


class Brought(Model):
    """What came of a list: the passenger's deeds."""

    format: Literal["tussock-brought"]
    version: Literal[1] = VERSION
    trip: Id
    load: Id
    name: Name
    deeds: Annotated[list[Deed], Field(max_length=1000)] = []


Message = Annotated[PackingList | Brought, Field(discriminator="format")]
_ADAPTER: TypeAdapter[Any] = TypeAdapter(Message)


def read_message(text: str) -> PackingList | Brought:
    """A message from another phone. Raises `Refused` for what is none, with the place."""
    data = parse(text)
    if not isinstance(data, dict) or not str(data.get("format", "")).startswith("tussock-"):
        raise Refused("wrong_type", "/format", "This is no list to pack by.", "what another phone showed")
    if isinstance(data.get("version"), int) and data["version"] > VERSION:
        raise Refused("newer_version", "/version", "This comes from a newer Tussock.", f"version {VERSION}")
    found: PackingList | Brought = read_as(_ADAPTER, data)
    return found


def take_back(mine: Any, brought: Brought) -> Merged:
    """What a device holds with the passenger's deeds: as `merge` with the trip in which only they were done.

    Raises `Refused` when the trip or its load is not here.
    """
    own: Bundle = read_apart(mine)
    trip = own.of(Trip, brought.trip)
    if trip is None or all(load.id != brought.load for load in trip.loads):
        raise Refused(
            "unknown_name", "/trip", f"The trip of this list ({brought.name}) is not here.", "its own trip"
        )
    theirs = plain(trip)
    for deed in brought.deeds:
        _do(theirs, brought.load, deed)
    return merge(mine, {"format": "tussock", "version": VERSION, "documents": [theirs]})


def _do(trip: dict[str, Any], load_id: str, deed: Deed) -> None:
    """Put one deed into the trip as its own phone would have it."""
    load = next(load for load in trip["loads"] if load["id"] == load_id)
    placed = load.setdefault("placed", [])
    found = next((one for one in placed if one["item"] == deed.item), None)
    whole = f"/loads/{load_id}/placed/{deed.item}"
    stamps = trip.setdefault("stamps", {})
    stamp = plain(deed.stamp)
    if found is None:  # it was taken out of the plan meanwhile, or is not known here: let the join say so
        found = {"item": deed.item}
        placed.append(found)
        trip.get("removed", {}).pop(whole, None)
    if deed.field == "bay" and found.pop("inside", None):  # out of the bag it was in
        stamps[f"{whole}/inside"] = _over(stamp, stamps.get(f"{whole}/inside"))
    value = plain(getattr(deed, deed.field))
    if value is None:
        found.pop(deed.field, None)
    else:
        found[deed.field] = value
    here = f"{whole}/{deed.field}"
    stamps[here] = _over(stamp, stamps.get(here)) if deed.field == "bay" else stamp


def _over(stamp: StampData, here: StampData | None) -> StampData:
    """Over the edit that stands here, where the list was made after it: it tells one time for bay and bag."""
    seen = here is not None and "over" in stamp and moment(here["at"]) <= moment(stamp["over"])
    return stamp | {"over": here["at"]} if here is not None and seen else stamp
