"""Take-off and landing distances of one case by every source, each effect entering once.

A source declares which effects it already holds. A book table holds mass, pressure altitude and temperature
(and wind, surface or slope when it says so); one known distance is carried from its own conditions by
factors; the constants hold all. Of a wind that is put in, half a headwind and one and a half times a
tailwind count, whatever the source.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from ..documents.performance import Conditions, DistanceTable, KnownDistance, WindRule
from ..documents.strip import Direction
from ..sums import factors as f
from ..sums.air import air_density, density_altitude, isa_density, isa_pressure, isa_temperature
from ..sums.bands import counted_distance
from ..sums.book import book_wind_factor
from ..sums.ground import mean_slope
from ..sums.landing import REFERENCE
from .answer import message
from .banding import Band
from .climbing import table_figure, table_reason, table_temperature, virtual_temperature
from .flight import Flight
from .speeds import Setting
from .working import Working


@dataclass(frozen=True)
class Distance:
    """Roll and distance over 50 ft [m] by one source; inf is impossible, nan (with its reason) not known."""

    source: str
    name: str
    kind: str
    roll: float = math.nan
    over_50ft: float = math.nan
    reason: dict[str, Any] | None = None
    estimated: bool = False
    #: 90 % bands of the distance over 50 ft and of the roll, where the source has them
    band: Band | None = None
    roll_band: Band | None = None

    def counted(self, safety: float) -> float:
        """What counts [m]: the distance with the safety factor, or the upper end of its band if longer."""
        if self.band is None:
            return self.over_50ft * safety
        return float(counted_distance(self.over_50ft, safety, self.band.high))


@dataclass(frozen=True)
class Case:
    """The conditions of one take-off ("from") or landing ("to"), in one air, at one mass."""

    flight: Flight
    end: str
    direction: Direction
    setting: Setting
    mass: float
    pressure: float
    pressure_altitude: float
    temperature: float
    vapour: float
    density: float
    dry_density: float
    headwind: float
    surface: str
    grass: float | None
    #: gust less steady wind [m/s]
    spread: float = 0.0

    @property
    def takeoff(self) -> bool:
        return self.end == "from"

    @property
    def length(self) -> float:
        """Length that may be used in this direction [m]."""
        ground = self.flight.strip(self.end).ground
        own = self.direction.takeoff_length if self.takeoff else self.direction.landing_length
        return min(own.value, ground.length.value) if own else ground.length.value

    @cached_property
    def segments(self) -> tuple[list[float], list[float]]:
        """Lengths [m] and slopes of the ground in the direction of motion."""
        ground = self.flight.strip(self.end).ground
        if not ground.segments:
            return [], []
        found = [(s.length, s.slope) for s in ground.segments]
        if self.direction.along == "reverse":
            found = [(length, -slope) for length, slope in reversed(found)]
        lengths, slopes = zip(*found, strict=True)
        return list(lengths), list(slopes)

    def slope(self, run: float, work: Working) -> float:
        """The slope to reckon with [1], the worst mean that a run of so many metres can meet.

        For a take-off that of any beginning of the run, so that a steep start is not averaged away, and of
        the whole; for a landing that of any window as long as the run, wherever it touches down.
        """
        lengths, slopes = self.segments
        whole = sum(lengths)
        run = min(max(run, 1.0), whole)
        ends = [float(end) for end in np.cumsum(lengths)]
        if self.takeoff:
            windows = [(0.0, end) for end in {*(e for e in ends if e < run), run, whole}]
        else:
            starts = {0.0, whole - run, *(min(end, whole - run) for end in ends[:-1])}
            windows = [(start, run) for start in starts] + [(0.0, whole)]
        means = [
            float(work.step(mean_slope, start=start, distance=length, lengths=lengths, slopes=slopes))
            for start, length in sorted(windows)
        ]
        return max(means) if self.takeoff else min(means)

    @cached_property
    def speed(self) -> float:
        """True airspeed at lift-off or touchdown [m/s]: the speed that wind and slope are held against."""
        quiet = Setting(
            self.setting.flap,
            self.setting.plane,
            self.mass,
            self.pressure,
            self.density,
            Working(silent=True),
        )
        return quiet.true(quiet.lift_off if self.takeoff else quiet.touchdown)


def book(case: Case, table: DistanceTable, work: Working) -> Distance:
    """Distances of a book table: interpolated inside it, what it does not hold by factors."""
    estimated = table.origin == "estimated"
    if table.technique == "best":
        best = message("reason.best_technique", source=table.name)
        return Distance(table.id, table.name, "book", reason=best, estimated=estimated)
    dry_equivalent = virtual_temperature(case.temperature, case.pressure, case.vapour)
    entered = table_temperature(table, dry_equivalent, case.pressure_altitude)
    figures: dict[str, float] = {}
    reason: dict[str, Any] | None
    for name, grid in table.grids().items():
        if grid is None:
            figures[name] = math.nan
            continue
        figures[name] = table_figure(table, grid, case.mass, case.pressure_altitude, entered, work)
    lacking = table.over_50ft is None
    if lacking or math.isnan(figures["over_50ft"]):
        reason = (
            message("reason.roll_only", source=table.name)
            if lacking
            else table_reason(table, case.mass, case.pressure_altitude, entered)
        )
        return Distance(table.id, table.name, "book", figures["roll"], math.nan, reason, estimated)
    # no axis of a table tells a surface or a slope: what it holds of them is its own surface, level ground
    rest = [_surface(case, table.surface, work), _slope(case, figures["over_50ft"], work)]
    rest += [_book_wind(case, table, work), *_gust(case, work)]
    reason = _factor_reason(case, rest)
    return Distance(
        table.id,
        table.name,
        "book",
        _times(figures["roll"], rest, work),
        _times(figures["over_50ft"], rest, work),
        reason,
        estimated,
    )


def _book_wind(case: Case, table: DistanceTable, work: Working) -> float:
    """By the book's own rule where it has one for this side, else by the factor method."""
    rule: WindRule | None = table.headwind_rule if case.headwind >= 0 else table.tailwind_rule
    if rule is None:
        return _wind(case, work)
    counted = abs(float(work.step(f.counted_wind, headwind=case.headwind)))
    if case.headwind >= 0:
        # beyond the rule's limit more headwind is no worse: the credit ends there
        counted = min(counted, rule.limit)
    factor = float(
        work.step(book_wind_factor, wind=counted, step=rule.step, factor=rule.factor, limit=rule.limit)
    )
    # a tailwind that shortens the way is a slip of the pen
    return factor if case.headwind >= 0 or math.isnan(factor) else max(factor, 1.0)


def known(case: Case, source: KnownDistance, work: Working) -> Distance:
    """One known distance carried from its own conditions to these by the factor method."""
    figures = (source.roll, source.over_50ft, source.from_height, source.conditions.mass)
    estimated = any(figure is not None and figure.origin == "estimated" for figure in figures)
    roll = source.roll.value if source.roll else math.nan
    over = source.over_50ft.value if source.over_50ft else math.nan
    reason = None
    if source.technique == "best":
        reason = message("reason.best_technique", source=source.name)
    elif source.over_50ft is None:
        reason = message("reason.roll_only", source=source.name)
    elif not case.takeoff and source.from_height is not None and source.from_height.value < 15.24 - 0.01:
        reason = message("reason.from_lower", source=source.name, height=source.from_height.value)
    if reason is not None:
        return Distance(source.id, source.name, "known", roll, math.nan, reason, estimated)
    then = source.conditions
    # what a wind or slope took from it is held against its own speed that day, not today's
    speed = speed_then(case.setting, then, takeoff=case.takeoff)
    now_high, then_high = (
        case.temperature - float(isa_temperature(case.pressure_altitude)),
        then.temperature - float(isa_temperature(then.pressure_altitude)),
    )
    no_wind: Callable[..., Any]
    no_slope: Callable[..., Any]
    if case.takeoff:
        mass, height, heat = f.takeoff_mass_factor, f.takeoff_elevation_factor, f.takeoff_temperature_factor
        no_wind, no_slope = f.remove_takeoff_wind, f.remove_takeoff_slope
        speed_name = "lift_off_speed"
    else:
        mass, height, heat = f.landing_mass_factor, f.landing_elevation_factor, f.landing_temperature_factor
        no_wind, no_slope = f.remove_landing_wind, f.remove_landing_slope
        speed_name = "touchdown_speed"
    virtual = virtual_temperature(case.temperature, case.pressure, case.vapour) - case.temperature
    by_leaflet = float(
        work.step(height, elevation=case.pressure_altitude, reference_elevation=then.pressure_altitude)
    ) * float(
        work.step(heat, temperature_above_standard=now_high + virtual, reference_above_standard=then_high)
    )
    parts = [
        float(work.step(mass, mass=case.mass, reference_mass=then.mass.value)),
        _worse_of_koch(case, then, by_leaflet, work) if case.takeoff else by_leaflet,
        _surface(case, then.surface, work),
        _slope(case, over, work),
        _wind(case, work),
        *_gust(case, work),
    ]
    if then.headwind != 0.0:
        given: dict[str, Any] = {speed_name: speed}
        parts.append(float(work.step(no_wind, headwind=then.headwind, **given)))
    if then.slope != 0.0:
        given = {speed_name: speed - then.headwind}
        run = roll if not math.isnan(roll) else over
        parts.append(float(work.step(no_slope, slope=then.slope, roll=run, **given)))
    reason = _factor_reason(case, parts)
    return Distance(
        source.id,
        source.name,
        "known",
        _times(roll, parts, work),
        _times(over, parts, work),
        reason,
        estimated,
    )


def speed_then(setting: Setting, then: Conditions, *, takeoff: bool) -> float:
    """True airspeed at lift-off or touchdown [m/s] in the conditions of a known distance."""
    pressure = float(isa_pressure(then.pressure_altitude))
    density = float(air_density(pressure, then.temperature))
    own = Setting(setting.flap, setting.plane, then.mass.value, pressure, density, Working(silent=True))
    return own.true(own.lift_off if takeoff else own.touchdown)


def _worse_of_koch(case: Case, then: Conditions, by_leaflet: float, work: Working) -> float:
    """The leaflet's factor for height and heat, or the Koch chart's where that is worse."""
    here = float(work.step(density_altitude, density=case.density))
    there = float(
        density_altitude(
            float(isa_density(then.pressure_altitude))
            * float(isa_temperature(then.pressure_altitude))
            / then.temperature
        )
    )
    chart = [
        float(work.step(f.takeoff_density_altitude_factor, density_altitude=height))
        for height in (here, there)
    ]
    ratio = chart[0] / chart[1]
    if math.isnan(ratio):
        # beyond the chart the worse of the two is not known; going down, the leaflet gives the lesser credit
        return by_leaflet if here <= there else math.nan
    return max(by_leaflet, ratio)


# --- factors shared by the sources -----------------------------------------------------------------------


def _surface(case: Case, reference: str, work: Working) -> float:
    function = f.takeoff_surface_factor if case.takeoff else f.landing_surface_factor
    here = float(work.step(function, surface=case.surface, grass_length=case.grass))
    there = float(work.step(function, surface=reference, grass_length=None))
    # a better surface than that of the source gives no credit: it was flown as it was
    return max(here / there, 1.0) if not math.isnan(here / there) else math.nan


def _slope(case: Case, run: float, work: Working) -> float:
    slope = case.slope(run, work)
    return float(work.step(f.takeoff_slope_factor if case.takeoff else f.landing_slope_factor, slope=slope))


def _gust(case: Case, work: Working) -> list[float]:
    """Half the gust spread is carried on the approach and rolled out: as ground speed squared."""
    if case.takeoff or case.spread <= 0.0:
        return []
    approach = case.setting.true(REFERENCE * case.setting.stall)
    return [float(work.step(f.wind_ratio_full, headwind=-0.5 * case.spread, speed=approach))]


def _wind(case: Case, work: Working) -> float:
    if case.takeoff:
        factor = work.step(f.takeoff_wind_factor, headwind=case.headwind, lift_off_speed=case.speed)
    else:
        factor = work.step(f.landing_wind_factor, headwind=case.headwind, touchdown_speed=case.speed)
    return float(factor)


def _times(distance: float, parts: list[float], work: Working) -> float:
    if math.isnan(distance):
        return math.nan
    return float(work.step(f.factored_distance, distance=distance, factors=parts))


def _factor_reason(case: Case, parts: list[float]) -> dict[str, Any] | None:
    if any(math.isnan(part) for part in parts):
        if math.isnan(case.speed):
            return message("missing.stall", flap=case.setting.flap.name)
        return message("reason.outside_factors")
    return None
