"""Stops? Landing distance against the far strip, wind limits there, the approach and the go-around."""

from __future__ import annotations

import math
from typing import Any

from ..documents.performance import Constants
from ..documents.strip import ListedObstacles, NoObstacles
from ..sums.climb import gradient_to_clear
from ..sums.ground import ground_height
from ..sums.landing import approach_speed
from .airs import AirState
from .answer import CANT_SAY, TIGHT, Answer, cant_say, measure, message, plain
from .climbing import climbs, deciding, unsaid
from .climbs_out import SCREEN, _gradient, _net, add_band, ground_speed
from .flight import Flight
from .lowered import add_lowered
from .runway import (
    Runway,
    case_at,
    closed,
    common,
    distances,
    judge_distance,
    verdict_of,
    wind_picture,
    winds,
    worst_of,
)
from .working import Working


def stops(flight: Flight, air: AirState, mass: float, work: Working) -> Answer:
    answer = Answer("stops")
    runway, approach, moist = _look(flight, air, mass, work)
    judge_distance(answer, runway, flight.settings.landing_safety, flight.settings.tight.distance)
    winds(answer, flight, "to", air, work)
    closed(answer, flight, "to")
    shown = math.nan
    if runway.case is not None and not math.isnan(approach):
        shown = runway.case.setting.indicated(approach)
        true = runway.case.setting.true(approach)
        text = "note.approach" if not math.isnan(shown) else "note.approach_no_dial"
        answer.notes.append(message(text, indicated=shown, true=true))
    _approach_obstacles(answer, flight, work)
    go_around = _go_around(answer, flight, air, mass, work)
    common(answer, flight, "to", air, moist)
    add_lowered(answer, flight, air)
    answer.notes += [message("text", text=text) for text in flight.quirks("stops", "to")]
    answer.working = work.steps
    if not work.silent:
        answer.picture = _picture(flight, air, runway, shown, go_around)
    return answer


def _look(flight: Flight, air: AirState, mass: float, work: Working) -> tuple[Runway, float, tuple[str, ...]]:
    runway, speed = Runway(), math.nan
    verdicts: list[str] = []
    moistures = air.moistures(Working(silent=True)) if air.known else [0.0]
    for vapour in moistures:
        shown = not verdicts
        pen = work if shown else Working(silent=True)
        case = case_at(flight, "to", air, mass, vapour, pen)
        if isinstance(case, list):
            runway.missing = case
            break
        spread = air.wind.spread if air.wind else 0.0
        stall = case.setting.stall
        approach = math.nan
        if not math.isnan(stall):
            approach = float(pen.step(approach_speed, stall_speed=stall, gust_spread=spread))
        found = distances(case, approach, pen)
        settings = flight.settings
        deciding_one = worst_of(found, settings.landing_safety)
        if shown:
            runway.case, runway.found, runway.deciding, speed = case, found, deciding_one, approach
        runway.lengthen(deciding_one, settings.landing_safety, first=shown)
        verdicts.append(verdict_of(found, case, settings.landing_safety, settings.tight.distance))
    return runway, speed, tuple(verdicts)


def _approach_obstacles(answer: Answer, flight: Flight, work: Working) -> None:
    """Things before the threshold must stand below the approach that the distance is reckoned with."""
    direction = flight.direction("to")
    if direction is None:
        return
    stated = direction.approach
    if isinstance(stated, NoObstacles):
        return
    if not isinstance(stated, ListedObstacles):
        strip = flight.strip("to").name
        answer.measures.append(
            cant_say("approach", "1", "gradient", message("missing.approach", strip=strip))
        )
        return
    stated_paths = [flight.plane.approach_gradient] + [
        s.approach_gradient for s in flight.sources(("constants",)) if isinstance(s, Constants)
    ]
    gradients = [path.value for path in stated_paths if path is not None]
    for obstacle in stated.obstacles:
        values = {"obstacle": obstacle.name}
        height = obstacle.height.value + flight.settings.obstacle_clearance - SCREEN
        needed = float(work.step(gradient_to_clear, height=height, distance=obstacle.distance.value))
        if not gradients:
            reason = message("missing.approach_gradient", **values)
            answer.measures.append(cant_say("approach", "1", "gradient", reason, **values))
        else:
            answer.measures.append(
                measure("approach", needed, min(gradients), "1", "gradient", values=values)
            )


def _go_around(
    answer: Answer, flight: Flight, air: AirState, mass: float, work: Working
) -> dict[str, Any] | None:
    """The go-around at landing mass and density altitude; where terrain forbids it the answer says so."""
    direction, strip = flight.direction("to"), flight.strip("to")
    if direction is None or not air.known or math.isnan(mass):
        return None
    if direction.go_around == "none":
        place = direction.committed_at or strip.name
        answer.notes.insert(0, message("note.committed", place=place))
        return None
    if direction.go_around == "unknown":
        answer.measures.append(
            cant_say("go_around", "1", "gradient", message("missing.go_around", strip=strip.name))
        )
        return None
    vapour = max(air.moistures(Working(silent=True)))
    own = _flap_climbs(flight)
    found = climbs(
        flight,
        flight.flap("to" if own else "from"),
        mass,
        air.pressure,
        air.pressure_altitude(work),
        air.temperature,
        vapour,
        work,
    )
    climb = deciding(found)
    silent = unsaid(flight, found, absent=False, left=True)
    if silent is not None:
        answer.limit(CANT_SAY, silent)
    if climb.estimated:
        answer.limit(TIGHT, message("reason.estimated_source", source=climb.name))
    if math.isnan(climb.rate):
        reason = climb.reason or message("missing.climb_source")
        answer.measures.append(cant_say("go_around", "1", "gradient", reason))
        return None
    gradient = _net(flight, air, climb, direction.bearing, work)
    speed = ground_speed(flight, air, climb, direction.bearing)
    needed = flight.settings.least_gradient
    way = direction.go_around_way
    if isinstance(way, ListedObstacles):
        # from 50 ft over the threshold, along the strip and beyond its end
        length, end_height = _far_end(flight)
        for obstacle in way.obstacles:
            height = end_height + obstacle.height.value + flight.settings.obstacle_clearance - SCREEN
            distance = length + obstacle.distance.value
            steep = float(work.step(gradient_to_clear, height=height, distance=distance))
            needed = max(needed, steep)
    elif not isinstance(way, NoObstacles):
        answer.limit(CANT_SAY, message("missing.go_around_way", strip=strip.name))
    if own:
        answer.assume("assumed.go_around_rig")
    else:
        answer.assume("assumed.go_around_takeoff_flap")
    answer.measures.append(_gradient("go_around", needed, gradient, flight, {"strip": strip.name}, speed))
    add_band(answer, flight, air, found, direction.bearing, work)
    return {"gradient": plain(gradient), "needed": plain(needed)}


def _far_end(flight: Flight) -> tuple[float, float]:
    """Length of the far strip [m], and the height of its far end above the threshold [m]."""
    ground, direction = flight.strip("to").ground, flight.direction("to")
    length = ground.length.value
    rise = sum(segment.length * segment.slope for segment in ground.segments)
    return length, -rise if direction is not None and direction.along == "reverse" else rise


def _flap_climbs(flight: Flight) -> bool:
    """Whether the landing flap has a climb speed of its own; else the go-around is flown in take-off flap."""
    flap = flight.flap("to")
    return flap is not None and flap.climb_speed is not None


def _picture(
    flight: Flight, air: AirState, runway: Runway, shown: float, go_around: dict[str, Any] | None
) -> dict[str, Any] | None:
    direction = flight.direction("to")
    if direction is None:
        return None
    strip = flight.strip("to")
    case, found = runway.case, runway.deciding
    safety = flight.settings.landing_safety
    length = case.length if case else strip.ground.length.value
    lengths, slopes = case.segments if case else ([], [])
    over = found.over_50ft if found else math.nan
    roll = found.roll if found else math.nan
    return {
        "designator": direction.designator,
        "bearing": direction.bearing,
        "length": length,
        "roll": plain(roll),
        "air_distance": plain(over - roll),
        "over_50ft": plain(over),
        "factor": safety,
        "factored": plain(found.counted(safety) if found else math.nan),
        "obstacles": [
            {"name": o.name, "distance": o.distance.value, "height": o.height.value}
            for o in getattr(direction.approach, "obstacles", [])
        ],
        "obstacles_stated": direction.approach.state,
        "segments": [{"length": a, "slope": b} for a, b in zip(lengths, slopes, strict=True)],
        "end_height": float(ground_height(length, lengths, slopes)) if lengths else 0.0,
        "surface": strip.ground.state.surface if strip.ground.state else None,
        "wind": wind_picture(air, direction.bearing),
        "approach_indicated": plain(shown),
        "go_around": go_around,
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
