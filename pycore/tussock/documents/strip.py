"""The strip: one piece of ground, with directions along it."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from .base import (
    Bearing,
    Document,
    Figure,
    Grade,
    Id,
    In,
    Length,
    Model,
    Name,
    Position,
    Slope,
    SomeMass,
    Surface,
    Text,
    Time,
    YesNo,
)

ObstacleHeight = Annotated[Figure, In("height", "m", -500, 4000)]
ObstacleDistance = Annotated[Figure, In("length", "m", 0, 50_000)]


class Segment(Model):
    """A stretch of ground with one slope, in the order met going *forward*; uphill that way is positive."""

    length: Annotated[float, In("length", "m", 0, 10_000, above=True)]
    slope: Slope


class SurfaceState(Model):
    """What the ground is like, and when that was seen. A surface changes: it has a date."""

    surface: Surface
    seen: Time
    grass_height: Annotated[Figure, In("length", "m", 0, 2)] | None = None
    note: Text | None = None


class Ground(Model):
    length: Length
    width: Length | None = None
    segments: Annotated[list[Segment], Field(max_length=30)] = []
    state: SurfaceState | None = None

    @model_validator(mode="after")
    def _segments_cover(self) -> Self:
        if self.segments:
            total = sum(segment.length for segment in self.segments)
            if abs(total - self.length.value) > 0.02 * self.length.value + 1.0:
                raise ValueError(
                    f"the segments add up to {total:g} m, the strip is {self.length.value:g} m long"
                )
        return self


class Obstacle(Model):
    """Something beyond the end: distance from the end of the strip and height above that end."""

    id: Id
    name: Name
    distance: ObstacleDistance
    height: ObstacleHeight


class NoObstacles(Model):
    """A statement that somebody makes, with a date; an empty list is not one."""

    state: Literal["none"]
    said_by: Name
    at: Time


class ListedObstacles(Model):
    state: Literal["listed"]
    obstacles: Annotated[list[Obstacle], Field(min_length=1, max_length=60)]


class UnknownObstacles(Model):
    state: Literal["unknown"]


Obstacles = Annotated[NoObstacles | ListedObstacles | UnknownObstacles, Field(discriminator="state")]


class WayOut(Model):
    """The stated way out: its ridges further off, and the narrowest place where one would have to turn."""

    ridges: Annotated[list[Obstacle], Field(max_length=30)] = []
    valley_width: Length | None = None
    note: Text | None = None


class Direction(Model):
    """One way to use the ground. `forward` meets the segments in order; `reverse` the other way."""

    id: Id
    designator: Annotated[str, Field(pattern=r"^(0[1-9]|[12]\d|3[0-6])[LRC]?$")]
    bearing: Bearing
    along: Literal["forward", "reverse"]
    use: Literal["takeoff", "landing", "both", "closed"]
    takeoff_length: Length | None = None
    landing_length: Length | None = None
    #: beyond the end and before the threshold
    departure: Obstacles = UnknownObstacles(state="unknown")
    approach: Obstacles = UnknownObstacles(state="unknown")
    way_out: WayOut | None = None
    go_around: Literal["possible", "none", "unknown"] = "unknown"
    #: ground to climb over after a go-around, seen from the far end
    go_around_way: Obstacles = UnknownObstacles(state="unknown")
    committed_at: Name | None = None
    note: Text | None = None


class FuelOnSale(Model):
    key: ClassVar[str] = "grade"

    grade: Grade
    seen: Time | None = None
    hours: Text | None = None
    note: Text | None = None


class RidgeShadow(Model):
    """Minutes by which a ridge takes the sun before it sets, or gives it after it rises."""

    before_sunset: Annotated[Figure, In("time", "s", 0, 6 * 3600)] | None = None
    after_sunrise: Annotated[Figure, In("time", "s", 0, 6 * 3600)] | None = None


class Strip(Document):
    kind: Literal["strip"]
    code: Annotated[str, Field(max_length=8)] | None = None
    position: Position | None = None
    #: of the highest usable point of the ground
    elevation: Annotated[Figure, In("height", "m", -500, 6000)] | None = None
    ground: Ground
    directions: Annotated[list[Direction], Field(min_length=1, max_length=8)]
    mass_limit: SomeMass | None = None
    ridge_shadow: RidgeShadow | None = None
    fuel: list[FuelOnSale] = []
    has_sock: YesNo | None = None
    has_water: YesNo | None = None
