"""What *lifts off* and *stops* share: the case at one end, all sources, and the measure of distance."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..documents.performance import Constants, DistanceTable, KnownDistance
from ..sums.factors import LOWER_BOUND_ONLY
from . import physics, tuned_runs
from .airs import AirState, stale_said
from .answer import CANT_SAY, NO, TIGHT, Answer, Measure, at_most, cant_say, measure, message
from .banding import add_doubts
from .climbing import LEFT_BEHIND, NEVER_DECIDES
from .distances import Case, Distance, book, known
from .flight import Flight
from .speeds import AT_50FT, LIFT_OFF, TOUCHDOWN, Setting
from .working import Working


@dataclass
class Runway:
    """All that was found for one end: the deciding case and distance, and every source."""

    case: Case | None = None
    found: list[Distance] = field(default_factory=list)
    deciding: Distance | None = None
    #: the longest over all moistures of the air, for the climb to start from [m]
    longest: float = math.nan
    missing: list[dict[str, Any]] = field(default_factory=list)

    def lengthen(self, found: Distance | None, safety: float, first: bool) -> None:
        """Take note of the distance in another moisture; silence in one of them is silence."""
        over = found.counted(safety) / safety if found is not None else math.nan
        self.longest = over if first else float(np.maximum(self.longest, over))


def case_at(
    flight: Flight, end: str, air: AirState, mass: float, vapour: float, work: Working
) -> Case | list[dict[str, Any]]:
    """The case at one end, or the list of reasons why there is none."""
    strip, direction = flight.strip(end), flight.direction(end)
    missing: list[dict[str, Any]] = []
    if direction is None:
        missing.append(message(f"missing.direction_{end}", strip=strip.name))
    flap = flight.flap(end)
    if flap is None:
        missing.append(message("missing.takeoff_flap" if end == "from" else "missing.landing_flap"))
    if strip.ground.state is None:
        missing.append(message("missing.surface", strip=strip.name))
    elif strip.ground.state.surface.startswith("grass_long") and strip.ground.state.grass_height is None:
        missing.append(message("missing.grass_height", strip=strip.name))
    if not strip.ground.segments:
        missing.append(message("missing.slope", strip=strip.name))
    if math.isnan(mass):
        missing.append(message("missing.mass"))
    missing += list(air.missing)
    if missing or direction is None or flap is None or strip.ground.state is None or air.wind is None:
        return missing
    density, dry = air.densities(vapour, work)
    headwind, _ = air.wind.along(direction.bearing, work)
    if math.isnan(headwind):
        return [message("reason.full_sock_behind", strip=strip.name)]
    state = strip.ground.state
    return Case(
        flight,
        end,
        direction,
        Setting(flap, flight.plane, mass, air.pressure, density, work),
        mass,
        air.pressure,
        air.pressure_altitude(work),
        air.temperature,
        vapour,
        density,
        dry,
        headwind,
        state.surface,
        state.grass_height.value if state.grass_height else None,
        air.wind.spread,
    )


def distances(case: Case, approach: float, work: Working) -> list[Distance]:
    """Every source's distance for this case; `approach` only for a landing."""
    flight = case.flight
    phase = "takeoff" if case.takeoff else "landing"
    factor = flight.configuration.takeoff_factor if case.takeoff else flight.configuration.landing_factor
    found = []
    for source in flight.sources(("book_distance", "known_distance", "constants"), phase):
        flap = getattr(source, "flap", None)
        if flap is not None and flap != case.setting.flap.id:
            continue
        if isinstance(source, DistanceTable):
            one = book(case, source, work)
        elif isinstance(source, KnownDistance):
            one = known(case, source, work)
        else:
            assert isinstance(source, Constants)
            one = (
                physics.takeoff(case, source, work)
                if case.takeoff
                else physics.landing(case, source, approach, work)
            )
        if factor is not None and source.configurations is None:
            one = Distance(
                one.source,
                one.name,
                one.kind,
                one.roll * factor.value,
                one.over_50ft * factor.value,
                one.reason,
                one.estimated,
            )
        found.append(one)
    own = tuned_runs.distance(case, approach, work)
    if own is not None:
        # its runs were flown in this configuration: no factor on top
        found.append(own)
    return found


def verdict_of(found: list[Distance], case: Case, safety: float, tight_part: float) -> str:
    """The verdict on the distance alone; a source that falls silent in this air takes it away."""
    longest = worst_of(found, safety)
    if longest is None:
        return CANT_SAY
    tight = tight_part * case.length
    verdict = measure("", longest.counted(safety), case.length, "m", "length", tight_below=tight).verdict
    silent = any(one.reason and one.reason["text"] in LEFT_BEHIND for one in found)
    return at_most(verdict, CANT_SAY) if silent else verdict


def worst_of(found: list[Distance], safety: float) -> Distance | None:
    """The one by which most counts, of those that can answer; None when none can."""
    said = [one for one in found if not math.isnan(one.over_50ft)]
    return max(said, key=lambda one: (one.counted(safety), one.over_50ft)) if said else None


def longest_roll(found: list[Distance]) -> float:
    """The longest roll any source says [m]; the longest way to 50 ft need not hold it. nan when none can.

    Of a source with a band its upper end.
    """
    rolls = [one.roll_band.high if one.roll_band else one.roll for one in found]
    return max((roll for roll in rolls if not math.isnan(roll)), default=math.nan)


def judge_distance(answer: Answer, runway: Runway, safety: float, tight_part: float) -> None:
    """Add the measure of distance, how far the sources are apart, and the caps that the method asks for."""
    name = "takeoff_distance" if answer.question == "lifts_off" else "landing_distance"
    case, deciding = runway.case, runway.deciding
    if case is None or deciding is None:
        reasons = runway.missing or [one.reason for one in runway.found if one.reason]
        phase = "takeoff" if answer.question == "lifts_off" else "landing"
        reasons = reasons or [message(f"missing.{phase}_source")]
        length = case.length if case is not None else None
        for reason in reasons:
            answer.measures.append(cant_say(name, "m", "length", reason, available=length, factor=safety))
        return
    flight = case.flight
    values = {"strip": flight.strip(case.end).name, "designator": case.direction.designator, "factor": safety}
    factored = deciding.counted(safety)
    part = measure(
        name, factored, case.length, "m", "length", tight_below=tight_part * case.length, values=values
    )
    if math.isinf(factored):
        part.verdict, part.reason = NO, deciding.reason or message("reason.band_without_end")
    answer.measures.append(part)
    roll = deciding.roll if deciding.roll_band is None else deciding.roll_band.high
    rolling = None
    if math.isfinite(roll) and case.takeoff:
        rolling = measure("roll", roll, case.length, "m", "length", values=values)
        answer.measures.append(rolling)
    _bands(answer, runway, part, rolling, safety)
    _sources(answer, runway)
    if case.surface in LOWER_BOUND_ONLY:
        surface = message(f"surface.{case.surface}")
        answer.limit(CANT_SAY, message("reason.surface_lower_bound", surface=surface))
    if deciding.estimated:
        answer.limit(TIGHT, message("reason.estimated_source", source=deciding.name))


def _bands(answer: Answer, runway: Runway, part: Measure, rolling: Measure | None, safety: float) -> None:
    """Show the bands of own runs with the figures that they are of, and what they do to the verdict."""
    if runway.case is not None:
        add_doubts(answer, runway.case.flight, "takeoff" if runway.case.takeoff else "landing")
    own = next((one for one in runway.found if one.band is not None), None)
    if own is None or own.band is None:
        return
    part.band = own.band.as_dict() | {"source": own.name}
    if rolling is not None and own.roll_band is not None:
        rolling.band = own.roll_band.as_dict() | {"source": own.name}
    answer.notes.append(
        message("note.band", source=own.name, low=own.band.low, high=own.band.high, median=own.band.median)
    )
    if own is runway.deciding and own.band.high > own.over_50ft * safety:
        answer.notes.append(message("note.band_decides", high=own.band.high, factor=safety))


def _sources(answer: Answer, runway: Runway) -> None:
    """Two sources for one figure: both shown, the disagreement told; a silent favourite leaves no "yes"."""
    assert runway.case is not None and runway.deciding is not None
    _speeds_taken(answer, runway.case)
    if runway.case.takeoff and any(o.kind == "constants" and o.reason is None for o in runway.found):
        answer.assume("assumed.leaning")
    said = sorted(
        (one for one in runway.found if math.isfinite(one.over_50ft)), key=lambda one: one.over_50ft
    )
    if len(said) > 1:
        apart = said[-1].over_50ft / said[0].over_50ft - 1.0
        answer.notes.append(
            message(
                "note.sources_apart",
                longer=said[-1].name,
                shorter=said[0].name,
                long=said[-1].over_50ft,
                short=said[0].over_50ft,
                apart=apart,
            )
        )
    prefer = runway.case.flight.plane.prefer
    wanted = prefer.takeoff if runway.case.takeoff else prefer.landing
    for one in runway.found:
        if one.reason is not None and math.isnan(one.over_50ft):
            answer.notes.append(message("note.source_silent", source=one.name, why=one.reason))
            if one.reason["text"] in LEFT_BEHIND:
                # the longer one may fall silent just because it got hotter: its silence is no good news
                answer.limit(CANT_SAY, message("reason.left_table", source=one.name, why=one.reason))
            elif one.source == wanted:
                answer.limit(CANT_SAY, message("reason.preferred_silent", source=one.name, why=one.reason))
            elif wanted is None and one.reason["text"] not in NEVER_DECIDES:
                # it may be the one that the owner would trust
                answer.limit(CANT_SAY, message("reason.no_favourite", source=one.name, why=one.reason))
    if wanted is not None and wanted not in {one.source for one in runway.found}:
        answer.limit(CANT_SAY, message("reason.preferred_absent"))


def _speeds_taken(answer: Answer, case: Case) -> None:
    """Multiples of the stall that nobody gave, and the ground's help that was not reckoned with."""
    flap = case.setting.flap
    taken = [("touchdown", flap.touchdown_factor, TOUCHDOWN)]
    if case.takeoff:
        taken = [("lift_off", flap.lift_off_factor, LIFT_OFF), ("at_50ft", flap.at_50ft_factor, AT_50FT)]
        if case.flight.plane.wing.height is None and case.flight.sources(("constants",)):
            answer.assume("assumed.no_ground_effect")
    for name, given, factor in taken:
        if given is None:
            answer.assume("assumed.speed_factor", what=message(f"speed.{name}"), factor=factor)


def winds(answer: Answer, flight: Flight, end: str, air: AirState, work: Working) -> None:
    """Crosswind, tailwind and gust against the limits of the aeroplane's owner and of whoever flies."""
    direction = flight.direction(end)
    if direction is None or air.wind is None:
        return
    head, cross = air.wind.along(direction.bearing, work)
    tail = math.inf if math.isnan(head) else max(-head, 0.0)
    for name, value in (("crosswind", cross), ("tailwind", tail), ("gust_spread", air.wind.spread)):
        limit = _limit(flight, name)
        if value <= 1e-9:
            continue
        values = {"strip": flight.strip(end).name}
        if math.isinf(value):
            reason = message(f"reason.full_sock_{name}", **values)
            sure = _at_least(air, direction.bearing, name)
            part = cant_say(name, "m/s", "speed", reason, available=limit, **values)
            if limit is not None and sure > limit:
                part = measure(name, sure, limit, "m/s", "speed", values=values)
            answer.measures.append(part)
        elif limit is None:
            reason = message(f"missing.{name}_limit", wind=value)
            answer.measures.append(cant_say(name, "m/s", "speed", reason, **values))
        else:
            tight = flight.settings.tight.wind * limit
            answer.measures.append(
                measure(name, value, limit, "m/s", "speed", tight_below=tight, values=values)
            )
    most = flight.plane.owner.wind
    strongest = air.wind.high
    if most is not None and strongest > 0.0:
        values = {"strip": flight.strip(end).name}
        if math.isinf(strongest):
            reason = message("reason.full_sock_wind", **values)
            answer.measures.append(cant_say("wind", "m/s", "speed", reason, available=most.value, **values))
        else:
            answer.measures.append(measure("wind", strongest, most.value, "m/s", "speed", values=values))


def _limit(flight: Flight, name: str) -> float | None:
    """The lower of the owner's limit and that of the people who fly; None when nobody has set one."""
    limits = [getattr(flight.plane.owner, name)]
    limits += [getattr(person.limits, name) for _, person in flight.seated if person.flies and person.limits]
    values = [limit.value for limit in limits if limit is not None]
    return min(values) if values else None


def _at_least(air: AirState, bearing: float, name: str) -> float:
    """What a full sock surely blows, as that component [m/s]."""
    assert air.wind is not None
    angle = air.wind.wind_from - bearing
    part = abs(math.sin(angle)) if name == "crosswind" else max(-math.cos(angle), 0.0)
    return air.wind.low * part if name != "gust_spread" else 0.0


def common(answer: Answer, flight: Flight, end: str, air: AirState, moist: tuple[str, ...]) -> None:
    """What holds for every answer that rests on the air and the ground at one end."""
    strip = flight.strip(end)
    for said in air.assumed:
        if said not in answer.assumptions:
            answer.assumptions.append(said)
    if air.vapour is None and air.known:
        if len(set(moist)) > 1:
            answer.limit(CANT_SAY, message("reason.dew_point_decides", strip=strip.name))
        elif answer.question == "climbs_out":
            answer.assume("assumed.saturated", strip=strip.name)
        else:
            answer.assume("assumed.dry", strip=strip.name)
    if air.stale is not None:
        answer.limit(CANT_SAY, stale_said(flight, strip.name, air))
    if any(isinstance(s, Constants) and s.torque_cutoff is None for s in flight.sources(("constants",))):
        answer.assume("assumed.torque_cutoff")
    state = strip.ground.state
    if state is not None and answer.question != "climbs_out":
        age = abs((flight.departure - state.seen).total_seconds())
        if age > flight.settings.surface_age:
            answer.limit(CANT_SAY, message("reason.stale_surface", strip=strip.name, age=age))


def closed(answer: Answer, flight: Flight, end: str) -> None:
    """A direction that may not be used this way is a plain "no"."""
    direction, strip = flight.direction(end), flight.strip(end)
    if direction is None:
        return
    wanted = "takeoff" if end == "from" else "landing"
    if direction.use not in ("both", wanted):
        values = {"strip": strip.name, "designator": direction.designator}
        reason = message(f"reason.not_for_{wanted}", **values)
        answer.measures.insert(0, Measure("direction", None, None, "1", "count", NO, values, reason))


def wind_picture(air: AirState, bearing: float) -> dict[str, Any] | None:
    """The wind for the drawing of the strip."""
    if air.wind is None:
        return None
    head, cross = air.wind.along(bearing, Working(silent=True))
    side = math.sin(air.wind.wind_from - bearing)
    return {
        "by": air.wind.by,
        "low": air.wind.low,
        "high": air.wind.high if math.isfinite(air.wind.high) else None,
        "from": None if air.wind.by in ("calm", "assumed") else air.wind.wind_from,
        "headwind": None if math.isnan(head) else head,
        "crosswind": None if math.isinf(cross) else math.copysign(cross, side) if cross else 0.0,
        "fullness": air.wind.fullness,
    }
