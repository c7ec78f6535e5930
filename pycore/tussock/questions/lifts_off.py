"""Lifts off? Distance to 50 ft and roll against the strip, wind against limits, and the abort point."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..documents.base import Figure
from ..documents.performance import Conditions, Constants, DistanceTable, KnownDistance
from ..sums.factors import counted_wind, landing_surface_factor
from ..sums.ground import ground_height
from ..sums.roll import G0
from ..sums.takeoff import ground_roll, half_strip_ground_speed, speed_at_distance, stopping_distance
from . import physics
from .airs import AirState
from .answer import CANT_SAY, Answer, message, plain
from .distances import Case, speed_then
from .flight import Flight
from .lowered import add_lowered
from .runway import (
    Runway,
    case_at,
    closed,
    common,
    distances,
    judge_distance,
    longest_roll,
    verdict_of,
    wind_picture,
    winds,
    worst_of,
)
from .speeds import Setting
from .working import Working


@dataclass(frozen=True)
class Abort:
    """Where to stop trying [m], and the speed to see there (indicated [m/s]) or another sign."""

    distance: float = math.nan
    indicated: float = math.nan
    rule: str = "unknown"
    reason: dict[str, Any] | None = None


def lifts_off(flight: Flight, air: AirState, mass: float, work: Working) -> tuple[Answer, Runway]:
    """The answer, and what was found of the runway, for *climbs out* to go on from."""
    answer = Answer("lifts_off")
    runway, moist = look(flight, air, mass, work)
    judge_distance(answer, runway, flight.settings.takeoff_safety, flight.settings.tight.distance)
    add_lowered(answer, flight, air)
    winds(answer, flight, "from", air, work)
    closed(answer, flight, "from")
    common(answer, flight, "from", air, moist)
    air_here = flight.air("from")
    if air_here is not None and air_here.wing_wet:
        answer.limit(CANT_SAY, message("reason.wing_wet", strip=flight.strip("from").name))
    abort = Abort()
    if runway.case is not None and runway.deciding is not None and not work.silent:
        abort = abort_point(runway.case, longest_roll(runway.found), work)
        if abort.reason is not None:
            answer.notes.append(abort.reason)
        else:
            _half_strip(answer, runway.case, work)
        _low_lift_off(answer, runway.case)
    answer.notes += [message("text", text=text) for text in flight.quirks("lifts_off", "from")]
    answer.working = work.steps
    if not work.silent:
        answer.picture = _picture(flight, air, runway, abort)
    return answer, runway


def look(flight: Flight, air: AirState, mass: float, work: Working) -> tuple[Runway, tuple[str, ...]]:
    """The runway case and its distances, dry and (with no dew point) saturated; the verdicts of each.

    The dry case is shown. When the two verdicts differ the dew point is asked for (`common` does).
    """
    runway = Runway()
    verdicts: list[str] = []
    moistures = air.moistures(Working(silent=True)) if air.known else [0.0]
    for vapour in moistures:
        shown = not verdicts
        pen = work if shown else Working(silent=True)
        case = case_at(flight, "from", air, mass, vapour, pen)
        if isinstance(case, list):
            runway.missing = case
            break
        found = distances(case, math.nan, pen)
        settings = flight.settings
        deciding = worst_of(found, settings.takeoff_safety)
        if shown:
            runway.case, runway.found, runway.deciding = case, found, deciding
        runway.lengthen(deciding, settings.takeoff_safety, first=shown)
        verdicts.append(verdict_of(found, case, settings.takeoff_safety, settings.tight.distance))
    return runway, tuple(verdicts)


def _low_lift_off(answer: Answer, case: Case) -> None:
    """The lift-off speed as the dial shows it, true second."""
    setting = case.setting
    calibrated = setting.lift_off
    if math.isnan(calibrated):
        return
    shown = setting.indicated(calibrated)
    true = setting.true(calibrated)
    if math.isnan(shown):
        answer.notes.append(message("note.lift_off_no_dial", true=true))
    else:
        answer.notes.append(message("note.lift_off", indicated=shown, true=true))


# --- abort point -----------------------------------------------------------------------------------------


def abort_point(case: Case, roll: float, work: Working) -> Abort:
    """The earlier of the last point from which stopping fits and half of `roll`, the longest modelled [m]."""
    flight = case.flight
    if not math.isfinite(roll):
        return Abort(reason=message("abort.no_roll"))
    stop = _known_stop(case)
    if stop is None:
        return Abort(reason=message("abort.no_stop"))
    reference_roll, reference_speed, surface_ratio = stop
    terms = _terms(case)
    if terms is None:
        return Abort(reason=message("abort.no_model"))
    # along the roll: a grid of airspeeds gives the distance to each and the distance to stop from it
    head = case.headwind
    speeds = np.linspace(max(head, 0.0) + 0.5, terms["lift_off_speed"], 160)
    slope = case.slope(case.length / 2, Working(silent=True))
    there = np.asarray(
        ground_roll(**(terms | {"lift_off_speed": speeds}), headwind=head, slope=slope).distance
    )
    # the model is stretched to the roll that decides
    modelled = there[-1]
    if not math.isfinite(modelled) or modelled <= 0:
        return Abort(reason=message("abort.no_roll"))
    there = there * (roll / modelled)
    # the dial shows the wind as it is; stopping counts it as every distance does
    counted = float(counted_wind(headwind=head))
    _, slopes = case.segments
    steepest_down = min([0.0, *slopes])
    needed = np.asarray(
        stopping_distance(
            speed_ground=np.maximum(speeds - counted, 0.0),
            reaction_time=flight.settings.reaction_time,
            reference_roll=reference_roll,
            reference_ground_speed=reference_speed,
            slope=steepest_down,
            surface_ratio=surface_ratio,
        )
    )
    fits = there + needed <= case.length
    last = float(there[fits][-1]) if np.any(fits) else 0.0
    distance = min(last, roll / 2)
    if distance <= 0.0:
        return Abort(reason=message("abort.never_fits"))
    speed = float(np.interp(distance, there, speeds))
    calibrated = case.setting.calibrated(speed)
    shown = case.setting.indicated(calibrated)
    first = flight.plane.dial_first_mark
    if math.isnan(shown) or (first is not None and shown < first.value):
        tail = flight.undercarriage is not None and flight.undercarriage.layout == "tailwheel"
        return Abort(distance, math.nan, "tail_up" if tail else "airborne_by")
    knot = 1852 / 3600
    return Abort(distance, math.ceil(shown / knot - 1e-9) * knot, "speed")


def _half_strip(answer: Answer, case: Case, work: Working) -> None:
    """The trade's 70 % of lift-off speed by half the strip, in ground speed, held against the model."""
    terms = _terms(case)
    if terms is None:
        return
    due = float(
        work.step(half_strip_ground_speed, lift_off_speed=terms["lift_off_speed"], headwind=case.headwind)
    )
    slope = case.slope(case.length / 2, Working(silent=True))
    own = terms | {"headwind": case.headwind, "slope": slope}
    there = float(work.step(speed_at_distance, distance=case.length / 2, **own)) - case.headwind
    if math.isnan(there):
        return  # it has lifted off by then
    text = "note.half_strip_met" if there >= due else "note.half_strip_missed"
    answer.notes.append(message(text, due=due, there=there))


def _terms(case: Case) -> dict[str, Any] | None:
    """Ground-roll arguments from the first set of constants that can give them."""
    for source in case.flight.sources(("constants",)):
        assert isinstance(source, Constants)
        terms = physics.rolling_terms(case, source, Working(silent=True))
        if "reason" not in terms:
            return terms
    return None


def _known_stop(case: Case) -> tuple[float, float, float] | None:
    """(level roll, ground speed at touchdown, surface factor here over there) of a known landing; or None.

    The speed is that of the known landing in its own mass and air; what an uphill slope did is taken out.
    """
    flight, flap = case.flight, case.flight.flap("to")
    if flap is None:
        return None
    here = float(landing_surface_factor(case.surface, case.grass))
    for source in flight.sources(("known_distance", "book_distance"), "landing"):
        assert isinstance(source, (KnownDistance, DistanceTable))
        if source.flap not in (None, flap.id) or source.roll is None or source.technique == "best":
            continue
        if isinstance(source, KnownDistance):
            then, roll, surface = source.conditions, source.roll.value, source.conditions.surface
        else:
            corner = _heaviest_corner(source)
            if corner is None:
                continue
            then, roll = corner
            surface = source.surface
        ratio = here / float(landing_surface_factor(surface))
        setting = Setting(flap, flight.plane, then.mass.value, 0.0, 0.0, Working(silent=True))
        speed = speed_then(setting, then, takeoff=False) - then.headwind
        if math.isnan(ratio) or math.isnan(speed) or speed <= 0:
            continue
        helped = G0 * max(then.slope, 0.0)
        slowing = speed**2 / (2 * roll) - helped
        if slowing > 0:
            return speed**2 / (2 * slowing), speed, max(ratio, 1.0)
    return None


def _heaviest_corner(table: DistanceTable) -> tuple[Conditions, float] | None:
    """One landing of a book's table, as a known one: heaviest, lowest, coldest, if it has a figure there."""
    if table.temperature_is != "outside_air" or table.roll is None or table.roll[-1][0][0] is None:
        return None
    mass = Figure(value=table.mass_axis[-1], origin="book")
    then = Conditions(
        mass=mass,
        pressure_altitude=table.altitude_axis[0],
        temperature=table.temperature_axis[0],
        headwind=0.0,
        surface=table.surface,
        slope=0.0,
    )
    return then, table.roll[-1][0][0]


# --- picture ---------------------------------------------------------------------------------------------


def _picture(flight: Flight, air: AirState, runway: Runway, abort: Abort) -> dict[str, Any] | None:
    direction = flight.direction("from")
    if direction is None:
        return None
    strip = flight.strip("from")
    case, deciding = runway.case, runway.deciding
    length = case.length if case else strip.ground.length.value
    safety = flight.settings.takeoff_safety
    lengths, slopes = case.segments if case else ([], [])
    end_height = float(ground_height(length, lengths, slopes)) if lengths else 0.0
    obstacles = [
        {
            "name": o.name,
            "distance": o.distance.value,
            "height": o.height.value,
            "above_start": o.height.value + end_height,
        }
        for o in getattr(direction.departure, "obstacles", [])
    ]
    over = deciding.over_50ft if deciding else math.nan
    indicated = math.nan
    if case is not None and not math.isnan(case.setting.lift_off):
        indicated = case.setting.indicated(case.setting.lift_off)
    return {
        "designator": direction.designator,
        "bearing": direction.bearing,
        "length": length,
        "roll": plain(longest_roll(runway.found)),
        "over_50ft": plain(over),
        "factor": safety,
        "factored": plain(deciding.counted(safety) if deciding else math.nan),
        "abort": None
        if math.isnan(abort.distance)
        else {"distance": abort.distance, "indicated": plain(abort.indicated), "rule": abort.rule},
        "obstacles": obstacles,
        "obstacles_stated": direction.departure.state,
        "segments": [{"length": a, "slope": b} for a, b in zip(lengths, slopes, strict=True)],
        "surface": strip.ground.state.surface if strip.ground.state else None,
        "wind": wind_picture(air, direction.bearing),
        "lift_off_indicated": plain(indicated),
        "sources": [
            {
                "name": one.name,
                "kind": one.kind,
                "roll": plain(one.roll),
                "over_50ft": plain(one.over_50ft),
                "factored": plain(one.counted(safety)),
            }
            | ({"band": one.band.as_dict()} if one.band else {})
            for one in runway.found
        ],
    }
