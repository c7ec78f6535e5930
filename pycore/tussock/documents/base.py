"""What every document shares: figures with their origin, numbers with unit and range, ids, edit stamps.

Everything is SI (kg, m, s, Pa, K, rad, m³); latitude and longitude in degrees are the one exception. A
bearing is true. A slope is a ratio, rise over run. An absent figure is allowed and leads to "can't say"; an
impossible one is refused here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import (
    AwareDatetime,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    Strict,
)
from pydantic_core import core_schema

VERSION: Final = 1


class Model(BaseModel):
    """Strict by default: unknown fields, NaN and infinities are refused."""

    #: the field that names an element of a list among its own
    key: ClassVar[str] = "id"

    model_config = ConfigDict(extra="forbid", allow_inf_nan=False, str_max_length=4000)


def _only_text(given: Any) -> Any:
    """A bare number is not taken for a time: nobody means seconds since 1970 by it."""
    if isinstance(given, (int, float)):
        raise ValueError("a time is written as in 2026-11-25T07:52+02:00")
    return given


#: A number, not a text that looks like one, nor yes or no.
Number = Annotated[float, Strict()]
YesNo = Annotated[bool, Strict()]
Id = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,63}$", title="id")]
Name = Annotated[str, Field(min_length=1, max_length=120)]
Text = Annotated[str, Field(max_length=2000)]
Time = Annotated[AwareDatetime, BeforeValidator(_only_text)]
Origin = Literal["book", "measured", "estimated"]


class Figure(Model):
    """A number that came from somewhere. `typed` keeps what was typed, with its unit, to the letter."""

    value: Number
    origin: Origin
    sd: Annotated[Number, Field(ge=0)] | None = None
    note: Text | None = None
    typed: Annotated[str, Field(max_length=40)] | None = None


@dataclass(frozen=True)
class In:
    """Dimension, SI unit and possible range of a `float` or `Figure`; outside it a document is refused.

    `above` refuses `low` itself too. The schema carries all of it, so that forms and messages need no copy.
    """

    dimension: str
    unit: str
    low: float | None = None
    high: float | None = None
    above: bool = False

    def check(self, given: Any) -> Any:
        value = given.value if isinstance(given, Figure) else given
        if self.low is not None and (value < self.low or (self.above and value == self.low)):
            word = "more than" if self.above else "at least"
            raise ValueError(f"{self.dimension} must be {word} {self.low:g} {self.unit}")
        if self.high is not None and value > self.high:
            raise ValueError(f"{self.dimension} must be at most {self.high:g} {self.unit}")
        return given

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        inner = (
            core_schema.float_schema(strict=True, allow_inf_nan=False) if source is float else handler(source)
        )
        return core_schema.no_info_after_validator_function(self.check, inner)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        declared: dict[str, Any] = {"dimension": self.dimension, "unit": self.unit}
        bounds = {"low": self.low, "high": self.high, "above": self.above or None}
        return handler(schema) | declared | {k: v for k, v in bounds.items() if v is not None}


Mass = Annotated[Figure, In("mass", "kg", 0, 20_000)]
SomeMass = Annotated[Figure, In("mass", "kg", 0, 20_000, above=True)]
MassChangeFigure = Annotated[Figure, In("mass", "kg", -2_000, 2_000)]
Arm = Annotated[Figure, In("length", "m", -50, 50)]
Length = Annotated[Figure, In("length", "m", 0, 10_000, above=True)]
Height = Annotated[Figure, In("height", "m", 0, 100)]
Volume = Annotated[Figure, In("volume", "m³", 0, 20)]
Bulk = Annotated[Figure, In("bulk", "m³", 0, 20, above=True)]
Speed = Annotated[Figure, In("speed", "m/s", 0, 350, above=True)]
LimitSpeed = Annotated[Figure, In("speed", "m/s", 0, 100)]
Flow = Annotated[Figure, In("flow", "m³/s", 0, 1e-3, above=True)]
Area = Annotated[Figure, In("area", "m²", 0, 500, above=True)]
Ratio = Annotated[Figure, In("ratio", "1", 0, 10)]
Plain = Annotated[Figure, In("number", "1")]
Rotation = Annotated[Figure, In("rotation", "1/s", 0, 200, above=True)]

Bearing = Annotated[float, In("angle", "rad", 0, 6.283185307179587)]
Temperature = Annotated[float, In("temperature", "K", 150, 340)]
Pressure = Annotated[float, In("pressure", "Pa", 10_000, 120_000)]
Altitude = Annotated[float, In("height", "m", -1_000, 12_000)]
Slope = Annotated[float, In("gradient", "1", -0.5, 0.5)]
Fraction = Annotated[float, In("ratio", "1", 0, 1)]
Distance = Annotated[float, In("length", "m", 0, 30_000_000)]


class Stamp(Model):
    """When a field was last edited, and on which phone. `count` orders edits of one instant.

    The later of two stamps, by (at, count, by), wins. `over` is the time of the edit that this one saw and
    replaced: two edits over the same one were made apart, which is a conflict to be shown. The rules by which
    a device stamps are in `stamping`.
    """

    at: Time
    count: Annotated[int, Field(ge=0, le=2**31 - 1, strict=True)] = 0
    by: Annotated[str, Field(min_length=1, max_length=64)]
    over: Time | None = None


Pointer = Annotated[str, Field(max_length=400, pattern=r"^(/[^/]*)*$")]


class Document(Model):
    """Common head of every document.

    `stamps` holds an edit stamp per field, keyed by a pointer in which elements of lists are named, not
    counted (`/tanks/left/usable`), so that reordering does not disturb it. An element's name is its `id`,
    or the field that its class gives as `key` (`/loads/out/placed/kettle/packed`). A list whose elements
    have neither is edited as one field; the stamp of a list with names (`/legs`) is that of its order.
    `removed` holds, by the same pointers, the elements that were deleted. Two phones merge by comparing
    stamps. `typed` keeps, by pointer, what was typed for a number that is no `Figure`; it counts for as
    long as it says the number that is stored.
    """

    version: Literal[1] = VERSION
    id: Id
    name: Name
    note: Text | None = None
    stamps: Annotated[dict[Pointer, Stamp], Field(max_length=5000)] = {}
    removed: Annotated[dict[Pointer, Stamp], Field(max_length=5000)] = {}
    typed: Annotated[dict[Pointer, Annotated[str, Field(max_length=40)]], Field(max_length=5000)] = {}


class Position(Model):
    """WGS 84, in degrees."""

    latitude: Annotated[float, In("latitude", "deg", -90, 90)]
    longitude: Annotated[float, In("longitude", "deg", -180, 180)]


Surface = Literal[
    "paved_dry",
    "paved_wet",
    "gravel_dry",
    "earth_dry",
    "grass_short_dry",
    "grass_long_dry",
    "grass_short_wet",
    "grass_long_wet",
    "soft",
    "snow",
]
Technique = Literal["best", "usual", "careless"]
Phase = Literal["takeoff", "landing"]
Question = Literal["fits", "balances", "lifts_off", "climbs_out", "reaches", "stops"]
Grade = Literal["avgas", "mogas", "jet_a1"]
