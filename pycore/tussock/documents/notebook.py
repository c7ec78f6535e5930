"""The notebook: the owner's own measured take-offs, landings, climbs, glides, stalls, cruises, fills."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from .base import (
    Altitude,
    Document,
    Figure,
    Id,
    In,
    Length,
    Model,
    Rotation,
    Slope,
    SomeMass,
    Speed,
    Surface,
    Technique,
    Temperature,
    Text,
    Time,
    Volume,
    YesNo,
)

Rate = Annotated[Figure, In("vertical speed", "m/s", -20, 30)]


class TrackRef(Model):
    """A recorded track that stays on the device, by the digest of its file."""

    digest: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    start: Time | None = None
    end: Time | None = None


class Entry(Model):
    """What every entry carries: when, where, in which rig and air, how heavy, flown how."""

    id: Id
    at: Time
    configuration: Id
    strip: Id | None = None
    direction: Id | None = None
    mass: SomeMass | None = None
    load: Id | None = None
    pressure_altitude: Altitude | None = None
    temperature: Temperature | None = None
    headwind: Annotated[float, In("speed", "m/s", -30, 30)] | None = None
    technique: Technique = "usual"
    track: TrackRef | None = None
    suspect: YesNo = False
    note: Text | None = None


class _RunwayEntry(Entry):
    flap: Id | None = None
    roll: Length | None = None
    over_50ft: Length | None = None
    surface: Surface | None = None
    slope: Slope | None = None

    @model_validator(mode="after")
    def _something(self) -> Self:
        if self.roll is None and self.over_50ft is None:
            raise ValueError("an entry needs the roll, the distance over 50 ft, or both")
        return self


class TakeoffEntry(_RunwayEntry):
    what: Literal["takeoff"]


class LandingEntry(_RunwayEntry):
    """`over_50ft` counts from `from_height` where that is given."""

    what: Literal["landing"]
    from_height: Annotated[Figure, In("height", "m", 0, 100)] | None = None


class ClimbEntry(Entry):
    what: Literal["climb"]
    flap: Id | None = None
    indicated: Speed
    rate: Rate


class LevelEntry(Entry):
    """Level at full throttle."""

    what: Literal["level"]
    indicated: Speed
    rotation: Rotation | None = None


class GlideEntry(Entry):
    what: Literal["glide"]
    flap: Id | None = None
    indicated: Speed
    sink: Rate


class StallEntry(Entry):
    what: Literal["stall"]
    flap: Id | None = None
    indicated: Speed


class CruiseEntry(Entry):
    what: Literal["cruise"]
    indicated: Speed
    rotation: Rotation | None = None
    flow: Annotated[Figure, In("flow", "m³/s", 0, 1e-3, above=True)] | None = None


class FillEntry(Entry):
    """Volume filled since the last full tanks, and the engine time between."""

    what: Literal["fill"]
    volume: Volume
    engine_time: Annotated[Figure, In("time", "s", 0, 360_000, above=True)] | None = None


class StaticEntry(Entry):
    what: Literal["static"]
    rotation: Rotation


NotebookEntry = Annotated[
    TakeoffEntry
    | LandingEntry
    | ClimbEntry
    | LevelEntry
    | GlideEntry
    | StallEntry
    | CruiseEntry
    | FillEntry
    | StaticEntry,
    Field(discriminator="what"),
]


class Notebook(Document):
    kind: Literal["notebook"]
    aeroplane: Id
    entries: Annotated[list[NotebookEntry], Field(max_length=2000)] = []
