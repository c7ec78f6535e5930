"""Take-off and landing by the performance constants: the roll in closed form, the air part by energy."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..documents.performance import Constants
from ..sums.air import RHO0
from ..sums.factors import counted_wind
from ..sums.landing import air_distance, landing_roll
from ..sums.power import excess_thrust, ground_effect_factor, torque_falloff
from ..sums.takeoff import climb_out_distance, ground_roll, speed_at_distance
from .answer import message
from .climbing import Polynomials, polynomials, too_strong, unusable
from .distances import Case, Distance
from .working import Working

SCREEN = 15.24
LANDING_CONSTANTS = (
    "approach_gradient",
    "float_factor",
    "landing_roll_lift",
    "landing_roll_drag",
    "idle_thrust",
)


def rolling_terms(case: Case, source: Constants, work: Working) -> dict[str, Any]:
    """Arguments of the ground roll, in the air and on the ground of the case; or `{"reason": ...}`."""
    flight, flap = case.flight, case.setting.flap
    reason = unusable(flight, source, flap)
    if reason is None and math.isnan(case.setting.stall):
        reason = message("missing.stall", flap=flap.name)
    names = ("static_thrust", "roll_lift", "roll_drag")
    lacking = [name for name in names if getattr(source, name) is None]
    friction = next((s.rolling for s in source.friction if s.surface == case.surface and s.rolling), None)
    if reason is None and lacking:
        text = ", ".join(name.replace("_", " ") for name in lacking)
        reason = message("missing.constants", source=source.name, names=text)
    if reason is None and friction is None:
        reason = message("missing.rolling_friction", surface=message(f"surface.{case.surface}"))
    if reason is None and case.grass is not None and case.grass > 0.2:
        reason = message("reason.long_grass")
    if reason is not None:
        return {"reason": reason}
    assert source.static_thrust and source.roll_lift and source.roll_drag and friction
    wing = flight.plane.wing
    assert wing.area
    lift_off = case.setting.true(case.setting.lift_off)
    cutoff = source.torque_cutoff.value if source.torque_cutoff else 0.12
    fall = float(work.step(torque_falloff, density_ratio=case.dry_density / RHO0, cutoff=cutoff))
    static = source.static_thrust.value * fall
    parts = _poly(case, source, 1.0, work, lift_off)
    # thrust in the roll falls from the static figure to that of flight at lift-off speed
    at_lift_off = parts.E + parts.F * lift_off**2
    thrust_fall = min((at_lift_off - static) / lift_off**2, 0.0)
    for thrust, speed in ((static, 0.0), (at_lift_off, lift_off)):
        strong = too_strong(flight, source, thrust, speed, case.density, case.dry_density)
        if strong is not None:
            return {"reason": strong}
    return {
        "mass": case.mass,
        "lift_off_speed": lift_off,
        "friction": friction.value,
        "static_thrust": static,
        "thrust_fall": thrust_fall,
        "density": case.density,
        "wing_area": wing.area.value,
        "lift_coefficient": source.roll_lift.value,
        "drag_coefficient": source.roll_drag.value,
    }


def takeoff(case: Case, source: Constants, work: Working) -> Distance:
    """Roll and distance over 50 ft by the constants. All effects are in it."""
    estimated = _estimated(source, case)
    terms = rolling_terms(case, source, work)
    if "reason" in terms:
        return Distance(source.id, source.name, "constants", reason=terms["reason"], estimated=estimated)
    wind = float(work.step(counted_wind, headwind=case.headwind))
    roll, _ = rolled(case, terms, wind, work)
    over = math.inf
    if math.isfinite(roll):
        # the steepest of the strip is climbed over, before or beyond lift-off: a longer roll must not pay
        slope = max([0.0, *case.segments[1]])
        over = roll + _to_screen(case, source, terms, wind, slope, work)
    if math.isnan(roll) or math.isnan(over):
        outside = message("reason.outside_constants", source=source.name)
        return Distance(source.id, source.name, "constants", roll, math.nan, outside, estimated)
    reason = message("reason.no_acceleration") if math.isinf(roll) else None
    if reason is None and math.isinf(over):
        reason = message("reason.no_climb")
    return Distance(source.id, source.name, "constants", roll, over, reason, estimated)


def rolled(
    case: Case, terms: dict[str, Any], wind: float, work: Working, *, credit: bool = False
) -> tuple[float, float]:
    """Roll to lift-off [m] over the segments of the ground one after the other, and the slope where it ends.

    Downhill gives no credit (`credit`: it does, for telling it apart). inf where some stretch stops it.
    """
    lengths, slopes = case.segments
    slopes = [slope if credit else max(slope, 0.0) for slope in slopes]
    speed, gone = wind, 0.0
    merged = _merged(lengths, slopes)
    for index, (length, slope) in enumerate(merged):
        own = terms | {"headwind": wind, "slope": slope}
        whole = float(work.step(ground_roll, **own).distance)
        if not math.isfinite(whole):
            return whole, slope
        before = 0.0
        if speed > max(wind, 0.0):
            before = float(ground_roll(**(own | {"lift_off_speed": speed})).distance)
        if whole - before <= length or index == len(merged) - 1:
            return gone + whole - before, slope
        speed = float(work.step(speed_at_distance, distance=before + length, **own))
        gone += length
    return math.nan, 0.0


def _merged(lengths: list[float], slopes: list[float]) -> list[tuple[float, float]]:
    """Stretches of one slope, joined where the slope goes on."""
    found: list[tuple[float, float]] = []
    for length, slope in zip(lengths, slopes, strict=True):
        if found and found[-1][1] == slope:
            found[-1] = (found[-1][0] + length, slope)
        else:
            found.append((length, slope))
    return found


def _to_screen(
    case: Case, source: Constants, terms: dict[str, Any], wind: float, slope: float, work: Working
) -> float:
    """From lift-off to 50 ft; the induced drag in ground effect is no credit beyond lift-off itself."""
    at_height = max(case.setting.true(case.setting.at_50ft), terms["lift_off_speed"])
    wing = case.flight.plane.wing
    near = 1.0
    if wing.height and wing.span:
        near = float(work.step(ground_effect_factor, height=wing.height.value, span=wing.span.value))
    low = _poly(case, source, near, work, terms["lift_off_speed"])
    high = _poly(case, source, 1.0, work, at_height)
    rise = work.step(
        climb_out_distance,
        mass=case.mass,
        lift_off_speed=terms["lift_off_speed"],
        speed_at_height=at_height,
        headwind=wind,
        slope=max(slope, 0.0),
        excess_thrust_lift_off=float(
            work.step(excess_thrust, true_airspeed=terms["lift_off_speed"], **low.as_arguments)
        ),
        excess_thrust_at_height=float(work.step(excess_thrust, true_airspeed=at_height, **high.as_arguments)),
    )
    return float(rise.distance)


def _poly(case: Case, source: Constants, induced: float, work: Working, speed: float) -> Polynomials:
    flap = case.setting.flap
    air = (case.mass, case.density, case.dry_density)
    return polynomials(case.flight, source, flap, *air, work, induced, speed=speed)


def landing(case: Case, source: Constants, approach: float, work: Working) -> Distance:
    """Distance from 50 ft to a stop by the constants; `approach` is the calibrated approach speed [m/s]."""
    estimated = _estimated(source, case)
    reason = _landing_lacks(case, source)
    if reason is not None:
        return Distance(source.id, source.name, "constants", reason=reason, estimated=estimated)
    braked = next(s.braked for s in source.friction if s.surface == case.surface and s.braked)
    lift, drag = source.landing_roll_lift, source.landing_roll_drag
    wing = case.flight.plane.wing
    assert braked and lift and drag and wing.area and source.approach_gradient and source.float_factor
    wind = float(work.step(counted_wind, headwind=case.headwind))
    touchdown = case.setting.true(case.setting.touchdown)
    # a gust carried on the approach is still there at touchdown
    touchdown += case.setting.true(approach) - case.setting.true(1.3 * case.setting.stall)
    air = work.step(
        air_distance,
        approach_speed=case.setting.true(approach),
        touchdown_speed=touchdown,
        approach_gradient=source.approach_gradient.value,
        headwind=wind,
    )
    before = float(air.distance) * source.float_factor.value
    # uphill gives no credit; the steepest downhill that is still ahead at touchdown counts throughout
    lengths, slopes = case.segments
    ahead = [s for s, end in zip(slopes, np.cumsum(lengths), strict=True) if end > before]
    slope = min([0.0, *(ahead or slopes)])
    roll = work.step(
        landing_roll,
        mass=case.mass,
        touchdown_speed=touchdown,
        headwind=wind,
        slope=slope,
        braking_friction=braked.value,
        idle_thrust=source.idle_thrust.value if source.idle_thrust else 0.0,
        density=case.density,
        wing_area=wing.area.value,
        lift_coefficient=lift.value,
        drag_coefficient=drag.value,
    )
    run = float(roll.distance)
    over = before + run
    reason = message("reason.no_stop") if math.isinf(over) else None
    if math.isnan(over):
        reason = message("reason.outside_constants", source=source.name)
    return Distance(source.id, source.name, "constants", run, over, reason, estimated)


def _landing_lacks(case: Case, source: Constants) -> dict[str, Any] | None:
    flap = case.setting.flap
    if source.technique == "best":
        return message("reason.best_technique", source=source.name)
    if math.isnan(case.setting.stall):
        return message("missing.stall", flap=flap.name)
    needed = {
        "approach_gradient": source.approach_gradient,
        "float_factor": source.float_factor,
        "landing_roll_lift": source.landing_roll_lift,
        "landing_roll_drag": source.landing_roll_drag,
        "idle_thrust": source.idle_thrust,
        "wing_area": case.flight.plane.wing.area,
    }
    lacking = [name.replace("_", " ") for name, figure in needed.items() if figure is None]
    if lacking:
        return message("missing.constants", source=source.name, names=", ".join(lacking))
    if not any(s.surface == case.surface and s.braked for s in source.friction):
        return message("missing.braking_friction", surface=message(f"surface.{case.surface}"))
    if case.grass is not None and case.grass > 0.2:
        return message("reason.long_grass")
    return None


def _estimated(source: Constants, case: Case) -> bool:
    """Whether any constant that this phase rests on is a guess, friction of the wheels with the rest."""
    takeoff, surface, flap = case.takeoff, case.surface, case.setting.flap
    taking_off = ("rated_torque", "torque_cutoff", "propeller_slope", "propeller_intercept", "zero_lift_drag")
    names = (
        (*taking_off, "efficiency", "static_thrust", "roll_lift", "roll_drag")
        if takeoff
        else LANDING_CONSTANTS
    )
    figures = [getattr(source, name) for name in names]
    figures += [s.rolling if takeoff else s.braked for s in source.friction if s.surface == surface]
    # the way to 50 ft is climbed against it; a landing's drag on the ground is a figure of its own
    figures += [drag.drag_increment for drag in source.flap_drag if takeoff and drag.flap == flap.id]
    return any(figure is not None and figure.origin == "estimated" for figure in figures)
