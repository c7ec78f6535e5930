"""Performance of an aeroplane, from one of three sources: a book table, one known distance, constants."""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated, ClassVar, Literal, Self

from pydantic import Field, model_validator

from .base import (
    Altitude,
    Figure,
    Id,
    In,
    Length,
    Model,
    Name,
    Number,
    Origin,
    Phase,
    Plain,
    Ratio,
    Slope,
    SomeMass,
    Speed,
    Surface,
    Technique,
    Temperature,
    Text,
    Time,
)

Effect = Literal["mass", "pressure_altitude", "temperature", "wind", "surface", "slope"]
MassOfAxis = Annotated[float, In("mass", "kg", 0, 20_000, above=True)]
MassAxis = Annotated[list[MassOfAxis], Field(min_length=1, max_length=40)]
AltitudeAxis = Annotated[list[Altitude], Field(min_length=1, max_length=40)]
TemperatureAxis = Annotated[list[Number], Field(min_length=1, max_length=40)]
Grid = list[list[list[Annotated[float, In("length", "m", 0, 20_000, above=True)] | None]]]
RateGrid = list[list[list[Annotated[float, In("vertical speed", "m/s", -30, 50)] | None]]]


class WindRule(Model):
    """A book's own rule: the distance changes by `factor` per `step` of wind, up to `limit`."""

    step: Annotated[float, In("speed", "m/s", 0, 50, above=True)]
    factor: Annotated[float, In("ratio", "1", 0.5, 2)]
    limit: Annotated[float, In("speed", "m/s", 0, 50)]


class _Table(Model):
    id: Id
    name: Name
    origin: Origin = "book"
    configurations: list[Id] | None = None
    mass_axis: MassAxis
    altitude_axis: AltitudeAxis
    #: outside air [K], or degrees above standard at that altitude
    temperature_axis: TemperatureAxis
    temperature_is: Literal["outside_air", "above_standard"] = "outside_air"
    note: Text | None = None

    def grids(self) -> dict[str, Grid | None]:
        raise NotImplementedError

    @model_validator(mode="after")
    def _shapes(self) -> Self:
        for name, axis in (("mass", self.mass_axis), ("altitude", self.altitude_axis)):
            _rising(name, axis)
        _rising("temperature", self.temperature_axis)
        low, high = (150.0, 340.0) if self.temperature_is == "outside_air" else (-80.0, 80.0)
        if self.temperature_axis[0] < low or self.temperature_axis[-1] > high:
            raise ValueError(f"the temperature axis must lie between {low:g} and {high:g} K")
        wanted = (len(self.mass_axis), len(self.altitude_axis), len(self.temperature_axis))
        for name, grid in self.grids().items():
            if grid is not None and _shape(grid) != wanted:
                raise ValueError(f"{name} is not a grid of {wanted[0]} x {wanted[1]} x {wanted[2]} figures")
        return self


def _rising(name: str, axis: list[float]) -> None:
    if any(b <= a for a, b in pairwise(axis)):
        raise ValueError(f"the {name} axis must rise from figure to figure")


def _shape(grid: Grid) -> tuple[int, int, int] | None:
    rows = {len(plane) for plane in grid}
    columns = {len(row) for plane in grid for row in plane}
    if len(rows) != 1 or len(columns) != 1:
        return None
    return len(grid), rows.pop(), columns.pop()


class DistanceTable(_Table):
    """Take-off or landing distances of the book, by mass [kg], pressure altitude [m] and temperature [K]."""

    source: Literal["book_distance"]
    phase: Phase
    flap: Id | None = None
    #: the book's own; the safety factor stands for what its pilot did better
    technique: Technique = "usual"
    roll: Grid | None = None
    over_50ft: Grid | None = None
    surface: Surface = "paved_dry"
    holds: list[Effect] = ["mass", "pressure_altitude", "temperature"]
    headwind_rule: WindRule | None = None
    tailwind_rule: WindRule | None = None

    def grids(self) -> dict[str, Grid | None]:
        return {"roll": self.roll, "over_50ft": self.over_50ft}

    @model_validator(mode="after")
    def _something(self) -> Self:
        if self.roll is None and self.over_50ft is None:
            raise ValueError("a distance table needs the roll, the distance over 50 ft, or both")
        return self


class ClimbTable(_Table):
    """Rates of climb of the book [m/s], by mass [kg], pressure altitude [m] and temperature [K]."""

    source: Literal["book_climb"]
    flap: Id | None = None
    speed: Speed | None = None
    rate: RateGrid

    def grids(self) -> dict[str, Grid | None]:
        return {"rate": self.rate}


class Conditions(Model):
    """The conditions of one known distance. All of them: a calm that nobody noted is none."""

    mass: SomeMass
    pressure_altitude: Altitude
    temperature: Temperature
    headwind: Annotated[float, In("speed", "m/s", -30, 30)]
    surface: Surface
    slope: Slope


class KnownDistance(Model):
    """One known take-off or landing, carried to other conditions by factors."""

    source: Literal["known_distance"]
    id: Id
    name: Name
    phase: Phase
    configurations: list[Id] | None = None
    flap: Id | None = None
    technique: Technique = "usual"
    roll: Length | None = None
    over_50ft: Length | None = None
    #: for a landing: the height from which `over_50ft` was really measured
    from_height: Annotated[Figure, In("height", "m", 0, 100)] | None = None
    conditions: Conditions
    note: Text | None = None

    @model_validator(mode="after")
    def _something(self) -> Self:
        if self.roll is None and self.over_50ft is None:
            raise ValueError("a known distance needs the roll, the distance over 50 ft, or both")
        if self.roll and self.over_50ft and self.over_50ft.value <= self.roll.value:
            raise ValueError("the distance over 50 ft must be longer than the roll")
        return self


class SurfaceFriction(Model):
    """Friction of this aeroplane's wheels on one surface: rolling free, and braked as its landings show."""

    key: ClassVar[str] = "surface"

    surface: Surface
    rolling: Ratio | None = None
    braked: Ratio | None = None


class FlapDrag(Model):
    key: ClassVar[str] = "flap"

    flap: Id
    drag_increment: Annotated[Figure, In("number", "1", 0, 0.3)]


class Fitted(Model):
    """How constants were fitted: the notebook, when, their names in order and the covariance."""

    notebook: Id
    at: Time
    names: list[str]
    covariance: list[list[Number]]
    entries: Annotated[int, Field(ge=0)]


class SeenRange(Model):
    """Mass and density altitude that the notebook has seen; outside them the band widens."""

    mass_low: Annotated[float, In("mass", "kg", 0)]
    mass_high: Annotated[float, In("mass", "kg", 0)]
    density_altitude_low: Altitude
    density_altitude_high: Altitude


class Constants(Model):
    """Performance constants of the bootstrap approach, with static thrust and technique (method of E + F V²).

    `static_thrust` is that of standard air at sea level; like the torque it falls off with density. The lift
    and drag coefficients of the roll are the whole aeroplane's near the ground, held as in `technique`.
    """

    source: Literal["constants"]
    id: Id
    name: Name
    configurations: list[Id] | None = None
    rated_torque: Annotated[Figure, In("torque", "N m", 0, 5000, above=True)] | None = None
    torque_cutoff: Annotated[Figure, In("number", "1", 0, 0.5)] | None = None
    propeller_slope: Plain | None = None
    propeller_intercept: Annotated[Figure, In("number", "1", None, 0)] | None = None
    zero_lift_drag: Annotated[Figure, In("number", "1", 0, 0.5, above=True)] | None = None
    efficiency: Annotated[Figure, In("number", "1", 0, 1.2, above=True)] | None = None
    flap_drag: list[FlapDrag] = []
    static_thrust: Annotated[Figure, In("force", "N", 0, 50_000, above=True)] | None = None
    roll_lift: Annotated[Figure, In("number", "1", -0.5, 3)] | None = None
    roll_drag: Annotated[Figure, In("number", "1", 0, 0.5)] | None = None
    landing_roll_lift: Annotated[Figure, In("number", "1", -0.5, 3)] | None = None
    landing_roll_drag: Annotated[Figure, In("number", "1", 0, 0.5)] | None = None
    idle_thrust: Annotated[Figure, In("force", "N", -2000, 2000)] | None = None
    approach_gradient: Annotated[Figure, In("gradient", "1", 0, 0.4, above=True)] | None = None
    float_factor: Annotated[Figure, In("ratio", "1", 1, 1.3)] | None = None
    friction: list[SurfaceFriction] = []
    technique: Technique = "usual"
    fitted: Fitted | None = None
    seen: SeenRange | None = None
    note: Text | None = None


class EfficiencyPoint(Model):
    advance_ratio: Annotated[float, In("number", "1", 0, 5)]
    efficiency: Annotated[float, In("ratio", "1", 0, 1)]


class BladePoint(Model):
    advance_ratio: Annotated[float, In("number", "1", 0, 5)]
    thrust_coefficient: Number
    power_coefficient: Number


class FixedPitch(Model):
    pitch_is: Literal["fixed"]
    diameter: Annotated[Figure, In("length", "m", 0.5, 5)] | None = None
    pitch: Length | None = None
    rotation_limit: Annotated[Figure, In("rotation", "1/s", 0, 200, above=True)] | None = None
    blades: list[BladePoint] = []
    name: Name | None = None


class ConstantSpeed(Model):
    pitch_is: Literal["constant_speed"]
    diameter: Annotated[Figure, In("length", "m", 0.5, 5)] | None = None
    rotation_limit: Annotated[Figure, In("rotation", "1/s", 0, 200, above=True)] | None = None
    efficiency: list[EfficiencyPoint] = []
    name: Name | None = None


Propeller = Annotated[FixedPitch | ConstantSpeed, Field(discriminator="pitch_is")]
PerformanceSource = Annotated[
    DistanceTable | ClimbTable | KnownDistance | Constants, Field(discriminator="source")
]


class Preferred(Model):
    """Which source the owner trusts, by phase. The worse of those that can answer decides all the same."""

    takeoff: Id | None = None
    climb: Id | None = None
    landing: Id | None = None


class CruiseSetting(Model):
    """A way to cruise: what it burns and how fast it goes, and where that was seen to hold."""

    id: Id
    name: Name
    rotation: Annotated[Figure, In("rotation", "1/s", 0, 200, above=True)] | None = None
    speed: Speed | None = None
    speed_is: Literal["true", "indicated"] = "true"
    flow: Annotated[Figure, In("flow", "m³/s", 0, 1e-3, above=True)] | None = None
    altitude_low: Altitude | None = None
    altitude_high: Altitude | None = None


class FuelFigures(Model):
    """What is burnt besides the cruise. None of these is zero by default: absent leads to "can't say"."""

    taxi_and_run_up: Annotated[Figure, In("volume", "m³", 0, 0.1)] | None = None
    climb_flow: Annotated[Figure, In("flow", "m³/s", 0, 1e-3, above=True)] | None = None
    climb_speed: Speed | None = None
    descent_flow: Annotated[Figure, In("flow", "m³/s", 0, 1e-3, above=True)] | None = None
    descent_rate: Annotated[Figure, In("vertical speed", "m/s", 0, 20, above=True)] | None = None
    dip_error: Annotated[Figure, In("volume", "m³", 0, 0.05)] | None = None


class RunUpBaseline(Model):
    """Static rotation of this aeroplane when healthy, and the air of that day."""

    rotation: Annotated[Figure, In("rotation", "1/s", 0, 200, above=True)]
    pressure_altitude: Altitude
    temperature: Temperature
    tachometer_error: Ratio | None = None
