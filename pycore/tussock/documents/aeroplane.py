"""The aeroplane: what it weighs, what it holds, what it may, and how it flies."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from .base import (
    Altitude,
    Area,
    Arm,
    Bulk,
    Document,
    Figure,
    Grade,
    Id,
    In,
    Length,
    LimitSpeed,
    Mass,
    MassChangeFigure,
    Model,
    Name,
    Number,
    Position,
    Question,
    SomeMass,
    Speed,
    Text,
    Volume,
    YesNo,
)
from .performance import (
    CruiseSetting,
    FuelFigures,
    PerformanceSource,
    Preferred,
    Propeller,
    RunUpBaseline,
)


class Undercarriage(Model):
    """Wheels by their arms, so that a load can be seen to tip it while it is put in."""

    layout: Literal["tailwheel", "nosewheel", "floats", "skis"]
    main_arm: Arm | None = None
    other_arm: Arm | None = None
    note: Text | None = None


class Wing(Model):
    area: Area | None = None
    span: Length | None = None
    #: of the wing above the ground, standing
    height: Annotated[Figure, In("height", "m", 0, 10, above=True)] | None = None


class Oil(Model):
    mass: Mass
    arm: Arm


class Engine(Model):
    name: Name | None = None
    aspiration: Literal["natural", "supercharged"] = "natural"
    critical_altitude: Altitude | None = None
    rated_power: Annotated[Figure, In("power", "W", 0, 2e6, above=True)] | None = None
    rated_rotation: Annotated[Figure, In("rotation", "1/s", 0, 200, above=True)] | None = None
    grades: list[Grade] = []
    oil: Oil | None = None
    note: Text | None = None


class ScaleReading(Model):
    """One scale of a weighing: what it showed, its tare (none: it is net), and the arm of that wheel."""

    name: Name
    arm: Arm
    reading: Mass
    tare: Mass | None = None
    #: two where both main wheels stand on it
    wheels: Annotated[int, Field(ge=1, le=2, strict=True)] = 1


class Weighed(Model):
    """A weighing record. Says whether oil and unusable fuel are in it; not said leads to "can't say"."""

    date: Annotated[str, Field(pattern=r"^\d{4}-\d{2}-\d{2}$")] | None = None
    includes_oil: YesNo | None = None
    includes_unusable_fuel: YesNo | None = None
    note: Text | None = None


class WeighedOnScales(Weighed):
    by: Literal["scales"]
    scales: Annotated[list[ScaleReading], Field(min_length=2, max_length=6)]

    @model_validator(mode="after")
    def _all_wheels(self) -> Self:
        if sum(scale.wheels for scale in self.scales) < 3:
            raise ValueError("a weighing needs every wheel: three scales, or one under both main wheels")
        return self


class WeighedAsMassAndArm(Weighed):
    by: Literal["mass_and_arm"]
    mass: SomeMass
    arm: Arm


WeighingRecord = Annotated[WeighedOnScales | WeighedAsMassAndArm, Field(discriminator="by")]


class MassChange(Model):
    """What a configuration puts in (positive) or takes out (negative), and where."""

    id: Id
    name: Name
    mass: MassChangeFigure
    arm: Arm


class Configuration(Model):
    """A way in which the aeroplane is rigged: seat out, skis on, doors off. Changes what it weighs and holds.

    It was weighed itself, or it is based on another; `changes` come on top of either. `category` names its
    envelope (none: the only one there is).
    """

    id: Id
    name: Name
    weighing: WeighingRecord | None = None
    based_on: Id | None = None
    changes: list[MassChange] = []
    seats_out: list[Id] = []
    bays_out: list[Id] = []
    tanks_out: list[Id] = []
    undercarriage: Undercarriage | None = None
    category: Name | None = None
    #: measured or stated effect on performance, as a factor on distances and a loss of climb
    takeoff_factor: Annotated[Figure, In("ratio", "1", 0.8, 2)] | None = None
    landing_factor: Annotated[Figure, In("ratio", "1", 0.8, 2)] | None = None
    climb_loss: Annotated[Figure, In("vertical speed", "m/s", -2, 5)] | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _one_record(self) -> Self:
        if self.weighing is not None and self.based_on is not None:
            raise ValueError("a configuration is weighed itself or based on another, not both")
        return self


class Seat(Model):
    """A seat, with two heights of occupant: the tallest that sits well and the tallest that fits."""

    id: Id
    name: Name
    arm: Arm | None = None
    mass_limit: SomeMass | None = None
    height_sits_well: Annotated[Figure, In("height", "m", 0.5, 2.5)] | None = None
    height_fits: Annotated[Figure, In("height", "m", 0.5, 2.5)] | None = None
    width: Annotated[Figure, In("length", "m", 0.2, 2)] | None = None
    #: this seat shares `width` with those of the same bench
    bench: Name | None = None
    controls: YesNo = False
    takes: list[Literal["adult", "child_seat", "lap_infant", "dog_crate"]] = ["adult"]


class Door(Model):
    """The opening that things come in by; in the top its width runs across the bay, its height along it."""

    width: Length
    height: Length
    #: the side of the bay that it is in
    face: Literal["front", "rear", "left", "right", "top"] | None = None
    #: its lower edge above the floor of the bay
    sill: Annotated[Figure, In("length", "m", 0, 3)] | None = None


class Restraint(Model):
    """What keeps things where they are, and the mass that it is rated to hold."""

    by: Literal["net", "rings", "straps", "locker", "none"]
    rating: SomeMass | None = None
    rings: Annotated[int, Field(ge=0, le=40)] | None = None
    note: Text | None = None


class MayCarry(Model):
    """Whether dangerous things may ride in a bay, kind by kind; None: nobody has said."""

    fuel: YesNo | None = None
    gas: YesNo | None = None
    battery: YesNo | None = None


class Bay(Model):
    id: Id
    name: Name
    arm: Arm | None = None
    volume: Bulk | None = None
    length: Length | None = None
    width: Length | None = None
    height: Length | None = None
    #: of its floor above the lowest floor of the cabin: the difference of their waterlines
    floor_height: Annotated[Figure, In("height", "m", 0, 2.5)] | None = None
    #: longest straight thing that goes in
    longest: Length | None = None
    door: Door | None = None
    mass_limit: SomeMass | None = None
    floor_limit: Annotated[Figure, In("mass area density", "kg/m²", 0, 5000, above=True)] | None = None
    restraint: Restraint | None = None
    #: share of the volume that soft bags really fill
    packing_fraction: Annotated[Figure, In("ratio", "1", 0.2, 1)] | None = None
    accessible_in_flight: YesNo = False
    near_controls: YesNo = False
    near_exit: YesNo = False
    may_carry: MayCarry | None = None
    note: Text | None = None


class JointLimit(Model):
    """One limit of mass for several stations together ("both bays 40 kg")."""

    id: Id
    name: Name
    stations: Annotated[list[Id], Field(min_length=2, max_length=20)]
    mass_limit: SomeMass


class Tank(Model):
    id: Id
    name: Name
    arm: Arm | None = None
    usable: Annotated[Figure, In("volume", "m³", 0, 2, above=True)] | None = None
    unusable: Volume | None = None
    #: the lower burns first; tanks with the same number burn together
    burn_order: Annotated[int, Field(ge=1, le=20)] = 1
    note: Text | None = None


Point = tuple[float, float]


class Vertex(Model):
    mass: Annotated[float, In("mass", "kg", 0, 20_000)]
    #: arm [m], or moment [kg m] when the envelope's axes say so
    across: Annotated[Number, Field(ge=-1e6, le=1e6)]


class Envelope(Model):
    """Limits of mass against arm. Edges are straight in these axes."""

    id: Id
    category: Name
    axes: Literal["mass_arm", "mass_moment"] = "mass_arm"
    origin: Literal["book", "measured", "estimated"] = "book"
    vertices: Annotated[list[Vertex], Field(min_length=3, max_length=60)]

    @model_validator(mode="after")
    def _simple(self) -> Self:
        points = [(v.across, v.mass) for v in self.vertices]
        if points[0] == points[-1]:
            points.pop()
        if _in_line(points):
            raise ValueError("the envelope is empty: its corners enclose nothing")
        if _crosses_itself(points):
            raise ValueError("the envelope crosses itself: give its corners in order round the edge")
        return self


def _in_line(points: list[Point]) -> bool:
    """Whether all corners lie on one line, or are one point: no triangle of them has an area."""
    first = points[0]
    rest = [(x - first[0], y - first[1]) for x, y in points[1:]]
    return all(abs(a[0] * b[1] - b[0] * a[1]) < 1e-9 for a, b in combinations(rest, 2))


def _crosses_itself(points: list[Point]) -> bool:
    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    def on(a: Point, b: Point, c: Point) -> bool:
        return min(a[0], b[0]) <= c[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= c[1] <= max(a[1], b[1])

    def meet(a: Point, b: Point, c: Point, d: Point) -> bool:
        abc, abd, cda, cdb = side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
        if abc * abd < 0 and cda * cdb < 0:
            return True
        touching = ((abc, a, b, c), (abd, a, b, d), (cda, c, d, a), (cdb, c, d, b))
        return any(s == 0 and on(p, q, r) for s, p, q, r in touching)

    n = len(points)
    edges = [(points[i], points[(i + 1) % n]) for i in range(n)]
    return any(
        meet(*edges[i], *edges[j]) for i in range(n) for j in range(i + 2, n) if not (i == 0 and j == n - 1)
    )


class MassLimits(Model):
    ramp: SomeMass | None = None
    takeoff: SomeMass | None = None
    landing: SomeMass | None = None
    zero_fuel: SomeMass | None = None


class MassCap(Model):
    """The owner's own lower limit of take-off mass at one density altitude.

    Straight from cap to cap; below the first it is that of the first, above the last it is not known.
    """

    density_altitude: Altitude
    mass: Annotated[float, In("mass", "kg", 0, 20_000, above=True)]


class OwnerLimits(Model):
    """Limits that the owner has set; they bind like any other. Winds are components, gust the spread."""

    mass_caps: list[MassCap] = []
    crosswind: LimitSpeed | None = None
    tailwind: LimitSpeed | None = None
    gust_spread: LimitSpeed | None = None
    wind: LimitSpeed | None = None

    @model_validator(mode="after")
    def _rising(self) -> Self:
        heights = [cap.density_altitude for cap in self.mass_caps]
        if any(b <= a for a, b in pairwise(heights)):
            raise ValueError("mass caps must rise in density altitude")
        return self


class DialPoint(Model):
    """One point of the airspeed correction: what the dial shows and the calibrated airspeed."""

    indicated: Annotated[float, In("speed", "m/s", 0, 200)]
    calibrated: Annotated[float, In("speed", "m/s", 0, 200)]


class FlapSetting(Model):
    """A flap setting with its stall (calibrated, power off) and the dial's correction in it."""

    id: Id
    name: Name
    angle: Annotated[float, In("angle", "rad", -0.3, 1.6)] | None = None
    stall: Speed | None = None
    stall_mass: SomeMass | None = None
    limit_speed: Speed | None = None
    correction: Annotated[list[DialPoint], Field(max_length=40)] = []
    used_for: list[Literal["takeoff", "landing", "cruise"]] = []
    #: lift-off and 50 ft speeds as multiples of the stall
    lift_off_factor: Annotated[Figure, In("ratio", "1", 1.0, 1.6)] | None = None
    at_50ft_factor: Annotated[Figure, In("ratio", "1", 1.0, 1.8)] | None = None
    #: touchdown speed likewise
    touchdown_factor: Annotated[Figure, In("ratio", "1", 0.9, 1.5)] | None = None
    #: climb speed, calibrated
    climb_speed: Speed | None = None
    note: Text | None = None

    @model_validator(mode="after")
    def _rising(self) -> Self:
        for name in ("indicated", "calibrated"):
            values = [getattr(point, name) for point in self.correction]
            if any(b <= a for a, b in pairwise(values)):
                raise ValueError("the airspeed correction must rise from point to point, in both speeds")
        return self


class SpeedLimits(Model):
    """Indicated, as on the placard."""

    manoeuvring: Speed | None = None
    normal: Speed | None = None
    never_exceed: Speed | None = None


class Quirk(Model):
    """A note of the owner that shows where it matters ("no slip with full flap")."""

    id: Id
    text: Annotated[str, Field(min_length=1, max_length=300)]
    at: list[Question] = []
    flap: Id | None = None
    configuration: Id | None = None


class Aeroplane(Document):
    kind: Literal["aeroplane"]
    registration: Name | None = None
    class_of: Name | None = None
    datum: Text | None = None
    base: Position | None = None
    undercarriage: Undercarriage | None = None
    wing: Wing = Wing()
    engine: Engine = Engine()
    propeller: Propeller | None = None
    seats: list[Seat] = []
    bays: list[Bay] = []
    joint_limits: list[JointLimit] = []
    tanks: list[Tank] = []
    configurations: Annotated[list[Configuration], Field(min_length=1, max_length=30)]
    envelopes: list[Envelope] = []
    limits: MassLimits = MassLimits()
    owner: OwnerLimits = OwnerLimits()
    flaps: list[FlapSetting] = []
    speeds: SpeedLimits = SpeedLimits()
    #: the first mark of the airspeed dial, indicated
    dial_first_mark: Speed | None = None
    performance: list[PerformanceSource] = []
    prefer: Preferred = Preferred()
    cruises: list[CruiseSetting] = []
    fuel: FuelFigures = FuelFigures()
    run_up: RunUpBaseline | None = None
    #: bank of the steepest turn that the owner will make in a valley
    turn_bank: Annotated[float, In("angle", "rad", 0.1, 1.05)] | None = None
    #: height lost for the way through the air on the owner's usual final, for things before a threshold
    approach_gradient: Annotated[Figure, In("gradient", "1", 0, 0.4, above=True)] | None = None
    variant_of: Id | None = None
    quirks: list[Quirk] = []
