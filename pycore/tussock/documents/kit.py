"""Kit: what comes along. Items and people, with what they need to ride safely."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .base import (
    Bulk,
    Document,
    Figure,
    Fraction,
    Id,
    In,
    Length,
    LimitSpeed,
    Mass,
    Model,
    Name,
    SomeMass,
    Text,
    YesNo,
)


class Soft(Model):
    """A soft thing: litres as it lies, and the share of them that squashing takes away."""

    shape: Literal["soft"]
    volume: Bulk
    crush: Fraction = 0.0
    #: longest straight part inside, such as a pole
    longest: Length | None = None


class Rigid(Model):
    """A rigid thing: three edges, the upright one last."""

    shape: Literal["rigid"]
    length: Length
    width: Length
    height: Length


Size = Annotated[Soft | Rigid, Field(discriminator="shape")]

#: Roles that are never offered to be left behind are those other than "general".
Role = Literal[
    "general",
    "survival",
    "water",
    "tie_down",
    "beacon",
    "first_aid",
    "extinguisher",
    "oil",
    "child_restraint",
]


class Item(Model):
    id: Id
    name: Name
    mass: Mass | None = None
    size: Size | None = None
    upright: YesNo = False
    stays_accessible: YesNo = False
    danger: Literal["fuel", "gas", "battery"] | None = None
    role: Role = "general"
    #: a bag or a box that other things are packed into
    holds_things: YesNo = False
    #: bays (of any aeroplane) where it must ride, or must not
    must_bays: list[Id] = []
    not_bays: list[Id] = []
    held_by: Literal["net", "strap", "ring", "locker"] | None = None
    #: the mass that this restraint of its own is good for
    held_rating: SomeMass | None = None
    owner: Id | None = None
    worth: Annotated[int, Field(ge=0, le=10, strict=True)] = 5
    must_come: YesNo = False
    note: Text | None = None


class Kit(Document):
    """A list of things: camp, winter, fishing, tools, always aboard."""

    kind: Literal["kit"]
    items: Annotated[list[Item], Field(max_length=500)]


class PilotLimits(Model):
    """What this pilot will take; binds with the aeroplane's own."""

    crosswind: LimitSpeed | None = None
    tailwind: LimitSpeed | None = None
    gust_spread: LimitSpeed | None = None


class Person(Document):
    """Somebody aboard, weighed dressed: boots, pockets, headset. Also an infant, or a dog in its crate."""

    kind: Literal["person"]
    is_a: Literal["adult", "child", "infant", "dog"] = "adult"
    mass: SomeMass | None = None
    height: Annotated[Figure, In("height", "m", 0.3, 2.5)] | None = None
    width: Annotated[Figure, In("length", "m", 0.1, 1.2)] | None = None
    flies: YesNo = False
    limits: PilotLimits | None = None
    #: shown to others only when the person chooses so
    mass_is_private: YesNo = True
