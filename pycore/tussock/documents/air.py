"""Air: what was read or told, where, when and by what."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from .base import Altitude, Bearing, Document, Fraction, Id, In, Model, Pressure, Temperature, Time, YesNo


class AltimeterReading(Model):
    """The altimeter, set to 1013.25 hPa, read on the ground."""

    by: Literal["altimeter"]
    pressure_altitude: Altitude


class Qnh(Model):
    by: Literal["qnh"]
    qnh: Pressure


PressureReading = Annotated[AltimeterReading | Qnh, Field(discriminator="by")]

WindSpeed = Annotated[float, In("speed", "m/s", 0, 100)]


class Sock(Model):
    """A windsock: how full (1 is straight out), and where the wind comes from.

    `wind_from` is the angle from true north, or from the bearing of the direction `against` of the strip, so
    that what was seen is kept as it was seen.
    """

    by: Literal["sock"]
    fullness: Fraction
    wind_from: Bearing | None = None
    against: Id | None = None

    @model_validator(mode="after")
    def _from(self) -> Self:
        if self.fullness > 0 and self.wind_from is None:
            raise ValueError("a sock that is not empty needs where the wind comes from")
        return self


class MeasuredWind(Model):
    by: Literal["measured"]
    speed: WindSpeed
    gust: WindSpeed | None = None
    wind_from: Bearing
    against: Id | None = None

    @model_validator(mode="after")
    def _gust(self) -> Self:
        if self.gust is not None and self.gust < self.speed:
            raise ValueError("the gust is less than the steady wind")
        return self


class Calm(Model):
    """Somebody looked, and there is no wind."""

    by: Literal["calm"]


Wind = Annotated[Sock | MeasuredWind | Calm, Field(discriminator="by")]


class DayRange(Model):
    """Least and greatest temperature of the day."""

    minimum: Temperature
    maximum: Temperature

    @model_validator(mode="after")
    def _order(self) -> Self:
        if self.minimum > self.maximum:
            raise ValueError("the minimum is above the maximum")
        return self


class Air(Document):
    kind: Literal["air"]
    strip: Id | None = None
    at: Time
    origin: Literal["read", "forecast", "told"]
    pressure: PressureReading | None = None
    temperature: Temperature | None = None
    dew_point: Temperature | None = None
    wind: Wind | None = None
    day: DayRange | None = None
    #: dew or frost on the wing
    wing_wet: YesNo | None = None
