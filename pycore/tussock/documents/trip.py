"""The trip: legs in order, what is loaded on each, and the settings by which answers are judged."""

from __future__ import annotations

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from .base import (
    Altitude,
    Bearing,
    Document,
    Figure,
    Grade,
    Id,
    In,
    Model,
    Name,
    Position,
    Technique,
    Text,
    Time,
    YesNo,
)


class Seated(Model):
    key: ClassVar[str] = "person"

    seat: Id
    person: Id


class Weighing(Figure):
    """What the scale said. `holding`: what was inside the thing then, however deep; none: it alone."""

    holding: Annotated[list[Id], Field(max_length=500)] | None = None


class Placed(Model):
    """One item and the bay it rides in; none: it stays behind for now.

    `inside` another thing of this load it goes wherever that goes, and its own bay counts no more.
    """

    key: ClassVar[str] = "item"

    item: Id
    bay: Id | None = None
    inside: Id | None = None
    locked: YesNo = False
    packed: YesNo = False
    weighed: Annotated[Weighing, In("mass", "kg", 0, 1000)] | None = None


class Load(Model):
    id: Id
    name: Name
    seats: Annotated[list[Seated], Field(max_length=20)] = []
    placed: Annotated[list[Placed], Field(max_length=500)] = []


class TankFuel(Model):
    """Usable fuel in one tank before start-up."""

    key: ClassVar[str] = "tank"

    tank: Id
    volume: Annotated[Figure, In("volume", "m³", 0, 2)]


class WindAloft(Model):
    speed: Annotated[float, In("speed", "m/s", 0, 100)]
    wind_from: Bearing
    origin: Literal["forecast", "told", "estimated"] = "forecast"


class Waypoint(Model):
    id: Id
    name: Name
    position: Position


class Leg(Model):
    id: Id
    name: Name | None = None
    from_strip: Id
    takeoff_direction: Id | None = None
    to_strip: Id
    landing_direction: Id | None = None
    alternate: Id | None = None
    departure: Time | None = None
    aeroplane: Id | None = None
    configuration: Id | None = None
    load: Id
    fuel: Annotated[list[TankFuel], Field(max_length=20)] = []
    fuel_grade: Grade | None = None
    takeoff_flap: Id | None = None
    landing_flap: Id | None = None
    cruise: Id | None = None
    cruise_altitude: Altitude | None = None
    wind_aloft: WindAloft | None = None
    waypoints: Annotated[list[Waypoint], Field(max_length=60)] = []
    air_from: Id | None = None
    air_to: Id | None = None
    technique: Technique = "usual"
    note: Text | None = None


class Trip(Document):
    kind: Literal["trip"]
    aeroplane: Id
    configuration: Id
    people: list[Id] = []
    kits: list[Id] = []
    loads: Annotated[list[Load], Field(min_length=1, max_length=60)]
    legs: Annotated[list[Leg], Field(min_length=1, max_length=60)]
    settings: Id | None = None
    nights: Annotated[int, Field(ge=0, le=365, strict=True)] = 0
    #: water that each person needs a day [kg]
    water_per_day: Annotated[float, In("mass", "kg", 0, 20)] = 3.0


Minutes = Annotated[float, In("time", "s", 0, 6 * 3600)]
Part = Annotated[float, In("ratio", "1", 0, 1)]


class Reserve(Model):
    """The final reserve, named by its rule. No default fits every state: somebody chooses."""

    rule: Name
    time: Minutes


class TightBounds(Model):
    """Below these a "yes" becomes "tight"."""

    distance: Part = 0.1
    climb_rate: Annotated[float, In("vertical speed", "m/s", 0, 5)] = 0.508
    envelope: Part = 0.1
    fuel_time: Minutes = 900.0
    bulk: Part = 0.1
    mass: Part = 0.02
    daylight: Minutes = 1800.0
    wind: Part = 0.1


class UnitChoice(Model):
    """Display units, by kind of figure. Storage is SI whatever is chosen."""

    mass: Literal["kg", "lb"] = "kg"
    length: Literal["m", "ft"] = "m"
    height: Literal["m", "ft"] = "ft"
    distance: Literal["km", "NM", "SM"] = "NM"
    speed: Literal["kt", "km/h", "mph"] = "kt"
    temperature: Literal["degC", "degF"] = "degC"
    pressure: Literal["hPa", "inHg"] = "hPa"
    volume: Literal["L", "gal"] = "L"


class Settings(Document):
    kind: Literal["settings"]
    reserve: Reserve | None = None
    contingency: Part = 0.05
    takeoff_safety: Annotated[float, In("ratio", "1", 1.0, 3)] = 1.33
    landing_safety: Annotated[float, In("ratio", "1", 1.0, 3)] = 1.43
    obstacle_clearance: Annotated[float, In("height", "m", 0, 300)] = 15.0
    ridge_clearance: Annotated[float, In("height", "m", 0, 1000)] = 150.0
    sinking_air: Annotated[float, In("vertical speed", "m/s", 0, 10)] = 1.524
    least_gradient: Annotated[float, In("gradient", "1", 0, 0.5)] = 0.0329
    air_age: Annotated[float, In("time", "s", 300, 24 * 3600)] = 3600.0
    surface_age: Annotated[float, In("time", "s", 3600, 90 * 86400)] = 7 * 86400.0
    before_sunset: Annotated[float, In("time", "s", 0, 3 * 3600)] = 1800.0
    far_hotter: Annotated[float, In("temperature difference", "dK", 0, 30)] = 5.0
    far_tailwind: Annotated[float, In("speed", "m/s", 0, 20)] = 5 * 1852 / 3600
    #: headwind aloft that is reckoned with where none was forecast
    headwind_aloft: Annotated[float, In("speed", "m/s", 0, 40)] = 20 * 1852 / 3600
    reaction_time: Annotated[float, In("time", "s", 0, 20)] = 3.0
    weight_sd: Part = 0.02
    tight: TightBounds = TightBounds()
    #: the choice of one device; a merge leaves them as they are
    units: UnitChoice = UnitChoice()
    look: Literal["paper", "night", "sun"] = "paper"
