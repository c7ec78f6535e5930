"""Climb of the aeroplane at a mass, in an air, by every source that can tell it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ..documents.aeroplane import FlapSetting
from ..documents.performance import ClimbTable, Constants, ConstantSpeed, DistanceTable, Grid
from ..sums.air import EPSILON, RHO0, T0, air_density, density_altitude, dry_air_density, isa_temperature
from ..sums.book import interpolate, outside_by
from ..sums.power import (
    best_rate_speed,
    climb_rate,
    drag_polynomial,
    froude_efficiency,
    ideal_static_thrust,
    thrust_polynomial,
    torque_falloff,
)
from . import governed, tuned_climb
from .answer import message
from .banding import Band
from .flight import Flight
from .speeds import LEAST_MULTIPLE, Setting
from .working import Working

#: reasons of sources that by their nature never decide: their silence takes nothing away
NEVER_DECIDES = ("reason.best_technique", "reason.roll_only", "reason.from_lower", "reason.too_few_noted")

#: a notebook that can't be read for want of a figure of the aeroplane
LACKING = ("tune.lacking",)
#: reasons of a source that would answer in milder conditions
LEFT_BEHIND = (
    "reason.outside_table",
    "reason.outside_factors",
    "reason.outside_constants",
    "reason.outside_seen",
    *LACKING,
)

Table = ClimbTable | DistanceTable


@dataclass(frozen=True)
class Climb:
    """Rate [m/s] at a true airspeed [m/s] by one source; nan with the reason when it can't say."""

    source: str
    name: str
    rate: float
    speed: float
    reason: dict[str, Any] | None = None
    estimated: bool = False
    #: by a table for the standard day alone
    standard_day: bool = False
    #: 90 % band of the rate, where the source has one
    band: Band | None = None


@dataclass(frozen=True)
class Polynomials:
    """Thrust E + F V² and drag G V² + H / V² of the constants, in one air at one mass."""

    E: float
    F: float
    G: float
    H: float

    @property
    def as_arguments(self) -> dict[str, Any]:
        return {
            "thrust_constant": self.E,
            "thrust_square": self.F,
            "drag_square": self.G,
            "drag_inverse": self.H,
        }


def virtual_temperature(temperature: float, pressure: float, vapour: float) -> float:
    """Temperature of dry air of the same density: how a book for dry air is entered on a humid day."""
    return temperature / (1.0 - (1.0 - EPSILON) * vapour / pressure)


def missing_constants(source: Constants, flight: Flight) -> list[str]:
    """Names of the constants that are needed for this kind of propeller and that are not there."""
    wing, propeller = flight.plane.wing, flight.plane.propeller
    needed: dict[str, Any] = {}
    if isinstance(propeller, ConstantSpeed):
        needed |= governed.needed(flight.plane, propeller)
    else:
        needed |= {
            "rated_torque": source.rated_torque,
            "propeller_slope": source.propeller_slope,
            "propeller_intercept": source.propeller_intercept,
        }
    needed |= {
        "zero_lift_drag": source.zero_lift_drag,
        "efficiency": source.efficiency,
        "wing_area": wing.area,
        "wing_span": wing.span,
        "propeller_diameter": propeller.diameter if propeller else None,
    }
    return [name for name, figure in needed.items() if figure is None]


def polynomials(
    flight: Flight,
    source: Constants,
    flap: FlapSetting,
    mass: float,
    density: float,
    dry_density: float,
    work: Working,
    induced: float = 1.0,
    *,
    speed: float,
) -> Polynomials:
    """The four polynomials' constants. Call only when `missing_constants` is empty.

    A governed propeller's thrust is no polynomial: E is then all of its thrust at `speed` (true [m/s]) and
    holds there alone.
    """
    wing, propeller = flight.plane.wing, flight.plane.propeller
    assert wing.area and wing.span and propeller and propeller.diameter
    assert source.zero_lift_drag and source.efficiency
    cutoff = source.torque_cutoff.value if source.torque_cutoff else 0.12
    thrust: Any
    if isinstance(propeller, ConstantSpeed):
        thrust = governed.thrust(flight.plane, propeller, speed, dry_density, cutoff, work), 0.0
    else:
        assert source.rated_torque and source.propeller_slope and source.propeller_intercept
        thrust = work.step(
            thrust_polynomial,
            density=density,
            dry_density=dry_density,
            rated_torque=source.rated_torque.value,
            cutoff=cutoff,
            propeller_diameter=propeller.diameter.value,
            propeller_slope=source.propeller_slope.value,
            propeller_intercept=source.propeller_intercept.value,
        )
    more = sum(f.drag_increment.value for f in source.flap_drag if f.flap == flap.id)
    drag = work.step(
        drag_polynomial,
        density=density,
        mass=mass,
        wing_area=wing.area.value,
        aspect_ratio=wing.span.value**2 / wing.area.value,
        zero_lift_drag=source.zero_lift_drag.value + more,
        efficiency=source.efficiency.value,
        induced_factor=induced,
    )
    return Polynomials(float(thrust[0]), float(thrust[1]), float(drag[0]), float(drag[1]))


def unusable(flight: Flight, source: Constants, flap: FlapSetting) -> dict[str, Any] | None:
    """Why these constants cannot answer with this flap; None when they can."""
    if flight.plane.engine.aspiration == "supercharged":
        return message("reason.supercharged")
    lacking = missing_constants(source, flight)
    # a flap is without drag only where it is up: one whose drag was forgotten would climb too well
    if flap.angle != 0.0 and all(drag.flap != flap.id for drag in source.flap_drag):
        lacking.append("flap_drag")
    if lacking:
        return message(
            "missing.constants", source=source.name, names=", ".join(n.replace("_", " ") for n in lacking)
        )
    if source.technique == "best":
        return message("reason.best_technique", source=source.name)
    return None


def too_strong(
    flight: Flight, source: Constants, thrust: float, speed: float, density: float, dry_density: float
) -> dict[str, Any] | None:
    """Why a thrust [N] at a true airspeed [m/s] cannot be: no propeller makes more of the power there is.

    By momentum theory, with the engine's rated power less what the air takes; None where that is not known.
    A slip in a constant or in a curve of efficiency would otherwise lift anything.
    """
    propeller, rated = flight.plane.propeller, flight.plane.engine.rated_power
    if propeller is None or propeller.diameter is None or rated is None or not math.isfinite(thrust):
        return None
    cutoff = source.torque_cutoff.value if source.torque_cutoff else 0.12
    power = rated.value * float(torque_falloff(dry_density / RHO0, cutoff))
    size = propeller.diameter.value
    if speed > 0.0:
        most = power * float(froude_efficiency(max(thrust, 0.0), speed, density, size))
        possible = thrust * speed <= most
    else:
        possible = thrust <= float(ideal_static_thrust(power, density, size))
    return None if possible else message("reason.too_strong", source=source.name)


def climbs(
    flight: Flight,
    flap: FlapSetting | None,
    mass: float,
    pressure: float,
    pressure_altitude: float,
    temperature: float,
    vapour: float,
    work: Working,
) -> list[Climb]:
    """The climb by every source of this configuration."""
    found: list[Climb] = []
    only_landing = flap is not None and set(flap.used_for) == {"landing"}
    if flap is None:
        return [Climb("none", "", math.nan, math.nan, message("missing.takeoff_flap"))]
    density = float(air_density(pressure, temperature, vapour))
    dry = float(dry_air_density(pressure, temperature, vapour))
    setting = Setting(flap, flight.plane, mass, pressure, density, work)
    loss = flight.configuration.climb_loss
    for source in flight.sources(("book_climb", "constants")):
        if isinstance(source, ClimbTable):
            # a table that names no flap is not taken for one with the flap of a landing
            if source.flap != flap.id and (source.flap is not None or only_landing):
                continue
            climb = _book(source, setting, pressure_altitude, temperature, vapour, work)
        else:
            assert isinstance(source, Constants)
            climb = _constants(flight, source, setting, dry, work)
        if loss and source.configurations is None:
            climb = replace(climb, rate=climb.rate - loss.value)
        found.append(climb)
    own = tuned_climb.climb(flight, setting, dry, _speed_for_notebook(setting, found), work)
    if own is not None:
        rate = own.counted(flight.settings.sinking_air)
        found.append(Climb(own.source, own.name, rate, own.speed, own.reason, own.estimated, band=own.rates))
    if not found:
        # whoever gave a table for every flap is told that this one wants its own
        lacks = (
            message("missing.climb_source_flap", flap=flap.name)
            if only_landing and flight.sources(("book_climb",))
            else message("missing.climb_source")
        )
        return [Climb("none", "", math.nan, math.nan, lacks)]
    return found


def _speed_for_notebook(setting: Setting, found: list[Climb]) -> float:
    """Calibrated speed [m/s] to ask the notebook about: the flap's, else that of a source which has one."""
    quiet = replace(setting, work=Working(silent=True))
    others = (quiet.calibrated(climb.speed) for climb in found if not math.isnan(climb.rate))
    return next(iter([speed for speed in (quiet.climb, *others) if not math.isnan(speed)]), math.nan)


def table_temperature(source: Table, temperature: float, pressure_altitude: float) -> float:
    """The temperature with which a table is entered: outside air, or the excess over standard."""
    if source.temperature_is == "above_standard":
        return temperature - float(isa_temperature(pressure_altitude))
    return temperature


def table_reason(source: Table, mass: float, pressure_altitude: float, entered: float) -> dict[str, Any]:
    """Why a table has no figure: outside which axis, or an empty cell."""
    beyond = outside_by(
        mass, pressure_altitude, entered, source.mass_axis, source.altitude_axis, source.temperature_axis
    )
    names = [
        message(f"axis.{name}")
        for name, by in zip(("mass", "pressure_altitude", "temperature"), beyond, strict=True)
        if by != 0
    ]
    if not names:
        return message("reason.table_empty", table=source.name)
    return message("reason.outside_table", table=source.name, axis=names[0])


def _book(
    source: ClimbTable, setting: Setting, altitude: float, temperature: float, vapour: float, work: Working
) -> Climb:
    standard_day = source.temperature_is == "above_standard" and list(source.temperature_axis) == [0.0]
    if standard_day:
        # Climb goes by density (FAA-H-8083-25, chapter 11). In air colder than standard an engine gets less
        # from the same density: there the pressure altitude counts, which is higher.
        thin = float(work.step(density_altitude, density=setting.density))
        altitude = float(np.maximum(altitude, thin))  # nan stays nan
        entered = 0.0
    else:
        dry = virtual_temperature(temperature, setting.pressure, vapour)
        entered = table_temperature(source, dry, altitude)
    rate = table_figure(source, source.rate, setting.mass, altitude, entered, work)
    if math.isnan(setting.stall):
        calibrated = math.nan
    elif source.speed is not None:
        calibrated = max(source.speed.value, LEAST_MULTIPLE * setting.stall)
    else:
        calibrated = setting.climb
    figures = (source.speed,) if source.speed is not None else (setting.flap.climb_speed,)
    estimated = source.origin == "estimated" or any(f and f.origin == "estimated" for f in figures)
    reason = None
    if math.isnan(rate):
        reason = table_reason(source, setting.mass, altitude, entered)
    elif math.isnan(calibrated):
        lacks = "missing.stall" if math.isnan(setting.stall) else "missing.climb_speed"
        reason = message(lacks, flap=setting.flap.name)
        rate = math.nan
    elif standard_day and setting.plane.engine.aspiration != "natural":
        reason = message("reason.standard_day_supercharged", table=source.name)
        rate = math.nan
    return Climb(source.id, source.name, rate, setting.true(calibrated), reason, estimated, standard_day)


def table_figure(
    source: Table, grid: Grid, mass: float, altitude: float, entered: float, work: Working
) -> float:
    """The figure of one grid of a table; nan outside it."""
    values = np.array([[[np.nan if v is None else v for v in row] for row in plane] for plane in grid])
    # the relation's range is that of an outside air temperature; a table by excess over standard is shifted
    shift = T0 if source.temperature_is == "above_standard" else 0.0
    figure = work.step(
        interpolate,
        mass=mass,
        pressure_altitude=altitude,
        temperature=entered + shift,
        mass_axis=source.mass_axis,
        altitude_axis=source.altitude_axis,
        temperature_axis=[t + shift for t in source.temperature_axis],
        values=values,
        label=message("label.source", source=source.name),
    )
    return float(figure)


def _constants(flight: Flight, source: Constants, setting: Setting, dry: float, work: Working) -> Climb:
    reason = unusable(flight, source, setting.flap)
    if reason is None and math.isnan(setting.stall):
        reason = message("missing.stall", flap=setting.flap.name)
    if reason is not None:
        return Climb(source.id, source.name, math.nan, math.nan, reason)
    speed = setting.true(setting.climb) if setting.flap.climb_speed is not None else math.nan
    propeller = flight.plane.propeller
    if math.isnan(speed) and isinstance(propeller, ConstantSpeed):
        # no closed form for the fastest climb of a governed propeller: it is searched for along its curve
        slowest = setting.true(LEAST_MULTIPLE * setting.stall)
        quiet = Working(silent=True)
        parts = polynomials(
            flight, source, setting.flap, setting.mass, setting.density, dry, quiet, speed=slowest
        )
        cutoff = source.torque_cutoff.value if source.torque_cutoff else 0.12
        speed = governed.best_rate(flight.plane, propeller, parts.G, parts.H, slowest, dry, cutoff, work)
        if math.isnan(speed):
            reason = message("reason.outside_curve", source=source.name)
            return Climb(source.id, source.name, math.nan, math.nan, reason)
    parts = polynomials(flight, source, setting.flap, setting.mass, setting.density, dry, work, speed=speed)
    if math.isnan(speed):
        best = float(work.step(best_rate_speed, **parts.as_arguments))
        speed = max(best, setting.true(LEAST_MULTIPLE * setting.stall))
    rate = float(work.step(climb_rate, true_airspeed=speed, mass=setting.mass, **parts.as_arguments))
    reason = None if not math.isnan(rate) else message("reason.outside_constants", source=source.name)
    strong = too_strong(flight, source, parts.E + parts.F * speed**2, speed, setting.density, dry)
    if strong is not None:
        rate, reason = math.nan, strong
    figures = [
        source.rated_torque,
        source.torque_cutoff,
        source.propeller_slope,
        source.propeller_intercept,
        source.zero_lift_drag,
        source.efficiency,
        *(drag.drag_increment for drag in source.flap_drag if drag.flap == setting.flap.id),
    ]
    estimated = any(figure is not None and figure.origin == "estimated" for figure in figures)
    return Climb(source.id, source.name, rate, speed, reason, estimated)


def deciding(found: list[Climb]) -> Climb:
    """The worse of those that can answer; the first one's silence when none can."""
    said = [climb for climb in found if not math.isnan(climb.rate)]
    return min(said, key=lambda climb: climb.rate) if said else found[0]


def unsaid(
    flight: Flight, found: list[Climb], absent: bool = True, left: bool = False
) -> dict[str, Any] | None:
    """Why there is no "yes" although some source answers: one that the owner trusts, or may trust, can't say.

    `absent` counts it too when the trusted one does not hold here at all. `left` counts any that may have
    fallen silent just because it got hotter or heavier: at the strip, not at a cruise far above it.
    """
    wanted = flight.plane.prefer.climb
    counted = LEFT_BEHIND if left else LACKING
    for climb in found:
        if math.isnan(climb.rate) and climb.reason is not None and climb.reason["text"] in counted:
            return message("reason.left_table", source=climb.name, why=climb.reason)
    for climb in found:
        if not math.isnan(climb.rate) or climb.reason is None:
            continue
        if climb.source == wanted:
            return message("reason.preferred_silent", source=climb.name, why=climb.reason)
        if wanted is None and climb.reason["text"] not in NEVER_DECIDES:
            return message("reason.no_favourite", source=climb.name, why=climb.reason)
    if absent and wanted is not None and wanted not in {climb.source for climb in found}:
        return message("reason.preferred_absent")
    return None
