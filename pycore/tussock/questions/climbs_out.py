"""Climbs out? The net gradient along the way out against obstacles and ridges, and room to turn round."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from ..documents.strip import Direction, ListedObstacles, NoObstacles, Obstacle, Obstacles
from ..sums.air import LAPSE, isa_pressure, vapour_pressure
from ..sums.climb import gradient_to_clear, net_gradient, turning_room
from ..sums.factors import counted_wind
from ..sums.ground import ground_height
from .airs import AirState
from .answer import CANT_SAY, NO, TIGHT, YES, Answer, Measure, cant_say, measure, message, plain
from .banding import add_doubts
from .climbing import Climb, climbs, deciding, unsaid
from .distances import Case
from .flight import Flight
from .lowered import add_lowered
from .runway import Runway, common
from .speeds import LEAST_MULTIPLE
from .working import Working

SCREEN = 15.24
BANK = math.radians(30.0)
#: wind across [m/s] that a turn is reckoned with at most: of a full sock it is not known
_MOST_ACROSS = 40.0


@dataclass(frozen=True)
class Path:
    """Where the climb starts: 50 ft, `start` [m] from the beginning of the strip, `height` [m] above it."""

    start: float
    height: float
    length: float
    end_height: float


def climbs_out(flight: Flight, air: AirState, runway: Runway, mass: float, work: Working) -> Answer:
    answer = Answer("climbs_out")
    direction, strip = flight.direction("from"), flight.strip("from")
    if direction is None or not air.known or math.isnan(mass):
        reasons = [*air.missing] or [message("missing.mass")]
        if direction is None:
            reasons = [message("missing.direction_from", strip=strip.name), *air.missing]
        answer.measures += [cant_say("gradient", "1", "gradient", reason) for reason in reasons]
        answer.working = work.steps
        return answer
    found = _climbs(flight, air, mass, work)
    best = deciding(found)
    _speak_of_sources(answer, flight, found)
    if math.isnan(best.rate):
        answer.measures.append(
            cant_say("gradient", "1", "gradient", best.reason or message("missing.climb_source"))
        )
    else:
        gradient = _net(flight, air, best, direction.bearing, work)
        case = runway.case
        over = runway.longest
        path = None
        if case is not None and math.isfinite(over):
            assert runway.deciding is not None
            path = _path(case, runway.deciding.roll, over * flight.settings.takeoff_safety, work)
        speed = ground_speed(flight, air, best, direction.bearing)
        _least(answer, flight, direction.departure, gradient, speed)
        add_band(answer, flight, air, found, direction.bearing, work)
        _obstacles(answer, flight, direction.departure, path, gradient, speed, work)
        _ridges(answer, flight, air, mass, path, work)
        _valley(answer, flight, air, best, case, work)
        for one in found:
            if one.standard_day and not math.isnan(one.rate):
                answer.assume("assumed.standard_day_table", table=one.name)
        if best.estimated:
            answer.limit(TIGHT, message("reason.estimated_source", source=best.name))
        started = runway.deciding
        if path is not None and started is not None and started.estimated and _beyond(direction):
            # where the climb begins is where the take-off ends
            answer.limit(TIGHT, message("reason.estimated_source", source=started.name))
        if not work.silent:
            shown = path if not math.isnan(gradient) else None
            answer.picture = _picture(answer, flight, best, gradient, shown)
            answer.picture["speed_indicated"] = plain(_on_the_dial(case, best.speed))
    add_lowered(answer, flight, air)
    answer.assume("assumed.sinking_air", sink=flight.settings.sinking_air)
    common(answer, flight, "from", air, ())
    answer.notes += [message("text", text=text) for text in flight.quirks("climbs_out", "from")]
    answer.working = work.steps
    return answer


def _beyond(direction: Direction) -> bool:
    """Whether something stands in the way out, to be cleared from where the climb begins."""
    ridges = direction.way_out.ridges if direction.way_out is not None else []
    return bool(ridges or getattr(direction.departure, "obstacles", []))


def ground_speed(flight: Flight, air: AirState, climb: Climb, bearing: float) -> float:
    """Ground speed in the climb with the wind that counts [m/s]; nan where a sock can't tell a tailwind."""
    head = 0.0
    if air.wind is not None:
        head, _ = air.wind.along(bearing, Working(silent=True))
    return math.nan if math.isnan(head) else climb.speed - float(counted_wind(headwind=head))


def _climbs(flight: Flight, air: AirState, mass: float, work: Working) -> list[Climb]:
    """The climb by every source; saturated air where no dew point was read: the worse is taken."""
    vapour = max(air.moistures(Working(silent=True)))
    altitude = air.pressure_altitude(work)
    return climbs(flight, flight.flap("from"), mass, air.pressure, altitude, air.temperature, vapour, work)


def _speak_of_sources(answer: Answer, flight: Flight, found: list[Climb]) -> None:
    said = sorted((c for c in found if not math.isnan(c.rate)), key=lambda c: c.rate)
    if len(said) > 1:
        answer.notes.append(
            message(
                "note.climbs_apart",
                low=said[0].rate,
                high=said[-1].rate,
                worse=said[0].name,
                better=said[-1].name,
            )
        )
    if said:
        answer.notes.append(message("note.climb_rate", rate=said[0].rate, source=said[0].name))
    silent = unsaid(flight, found, left=True)
    if said and silent is not None:
        answer.limit(CANT_SAY, silent)


def _net(flight: Flight, air: AirState, climb: Climb, bearing: float, work: Working) -> float:
    """Net gradient over the ground, with the wind that counts; nan with a tailwind that a sock can't tell."""
    speed = ground_speed(flight, air, climb, bearing)
    if math.isnan(speed):
        return math.nan
    return float(
        work.step(
            net_gradient,
            climb_rate=climb.rate,
            sink_allowance=flight.settings.sinking_air,
            ground_speed=speed,
        )
    )


def _path(case: Case, roll: float, factored: float, work: Working) -> Path:
    """The 50 ft count from where it lifts off: ground that rises after that is no height gained."""
    lengths, slopes = case.segments
    start = float(work.step(ground_height, distance=factored, lengths=lengths, slopes=slopes))
    lift_off = 0.0 if math.isnan(roll) else float(ground_height(roll, lengths, slopes))
    start = min(start, lift_off)
    end = float(work.step(ground_height, distance=case.length, lengths=lengths, slopes=slopes))
    return Path(factored, start + SCREEN, case.length, end)


def add_band(
    answer: Answer, flight: Flight, air: AirState, found: list[Climb], bearing: float, work: Working
) -> None:
    """Show the band of the climb by own flights with the last gradient that was judged."""
    add_doubts(answer, flight, "climb")
    own = next((climb for climb in found if climb.band is not None), None)
    if own is None or own.band is None or not answer.measures:
        return
    ends = {
        name: plain(_net(flight, air, replace(own, rate=getattr(own.band, name)), bearing, work))
        for name in ("low", "median", "high")
    }
    answer.measures[-1].band = ends | {"lower95": ends["low"], "source": own.name}
    answer.notes.append(message("note.climb_band", source=own.name, low=own.band.low, high=own.band.high))


def _least(answer: Answer, flight: Flight, stated: Obstacles, gradient: float, speed: float) -> None:
    """The usual departure gradient; also where obstacles are listed, for they may not be all."""
    if not isinstance(stated, (NoObstacles, ListedObstacles)):
        strip = flight.strip("from").name
        answer.measures.append(
            cant_say("obstacles", "1", "gradient", message("missing.obstacles", strip=strip))
        )
    answer.measures.append(_gradient("gradient", flight.settings.least_gradient, gradient, flight, {}, speed))


def _gradient(
    name: str, needed: float, available: float, flight: Flight, values: dict[str, Any], speed: float
) -> Measure:
    """A gradient that is needed against the one flown; what is tight is a rate, at this ground speed."""
    if math.isnan(available):
        strip = values.get("strip", flight.strip("from").name)
        return cant_say(name, "1", "gradient", message("reason.full_sock_behind", strip=strip), **values)
    if math.isinf(needed):
        reason = message("reason.obstacle_too_near", **values)
        return Measure(name, None, plain(available), "1", "gradient", NO, values, reason)
    tight = flight.settings.tight.climb_rate / speed
    return measure(name, needed, available, "1", "gradient", tight_below=tight, values=values)


def _needed(obstacle: Obstacle, clearance: float, path: Path, work: Working) -> float:
    """Gradient from 50 ft to `clearance` above the obstacle's top."""
    height = obstacle.height.value + path.end_height + clearance - path.height
    distance = path.length + obstacle.distance.value - path.start
    return float(
        work.step(
            gradient_to_clear,
            height=height,
            distance=max(distance, 0.0),
            label=message("label.obstacle", obstacle=obstacle.name),
        )
    )


def _obstacles(
    answer: Answer,
    flight: Flight,
    stated: Obstacles,
    path: Path | None,
    gradient: float,
    speed: float,
    work: Working,
) -> None:
    if not isinstance(stated, ListedObstacles):
        return
    for obstacle in stated.obstacles:
        values = {"obstacle": obstacle.name}
        if path is None:
            answer.measures.append(
                cant_say("obstacle", "1", "gradient", message("reason.no_path"), available=gradient, **values)
            )
            continue
        needed = _needed(obstacle, flight.settings.obstacle_clearance, path, work)
        answer.measures.append(_gradient("obstacle", needed, gradient, flight, values, speed))


def _ridges(
    answer: Answer, flight: Flight, air: AirState, mass: float, path: Path | None, work: Working
) -> None:
    """Ridges further out, with the climb at their own height."""
    direction = flight.direction("from")
    ridges = direction.way_out.ridges if direction is not None and direction.way_out is not None else []
    if direction is None or not ridges:
        answer.assume("assumed.no_ridges", strip=flight.strip("from").name)
        return
    for ridge in ridges:
        values = {"obstacle": ridge.name}
        if path is None:
            answer.measures.append(cant_say("ridge", "1", "gradient", message("reason.no_path"), **values))
            continue
        clearance = flight.settings.ridge_clearance
        altitude = air.pressure_altitude(Working(silent=True)) + ridge.height.value + clearance
        temperature = air.temperature - LAPSE * (ridge.height.value + clearance)
        found = climbs(
            flight,
            flight.flap("from"),
            mass,
            float(isa_pressure(altitude)),
            altitude,
            temperature,
            _moisture_up_there(air, temperature),
            work,
        )
        up_there = deciding(found)
        silent = unsaid(flight, found)
        if silent is not None:
            answer.limit(CANT_SAY, silent)
        if math.isnan(up_there.rate):
            reason = up_there.reason or message("missing.climb_source")
            answer.measures.append(cant_say("ridge", "1", "gradient", reason, **values))
            continue
        gradient = _net(flight, air, up_there, direction.bearing, work)
        needed = _needed(ridge, clearance, path, work)
        speed = ground_speed(flight, air, up_there, direction.bearing)
        answer.measures.append(_gradient("ridge", needed, gradient, flight, values, speed))


def _moisture_up_there(air: AirState, temperature: float) -> float:
    """Vapour pressure at a ridge [Pa]: that of the strip, or saturation where colder air holds no more."""
    return min(max(air.moistures(Working(silent=True))), float(vapour_pressure(temperature)))


def _valley(
    answer: Answer, flight: Flight, air: AirState, climb: Climb, case: Case | None, work: Working
) -> None:
    """Room to turn round in the narrowest place, at a speed that the bank's stall allows."""
    direction = flight.direction("from")
    way = direction.way_out if direction else None
    if way is None or way.valley_width is None:
        answer.assume("assumed.no_narrows", strip=flight.strip("from").name)
        return
    bank = flight.plane.turn_bank or BANK
    if flight.plane.turn_bank is None:
        answer.assume("assumed.bank", bank=bank)
    # no turn is slower than 1.2 times the stall that its bank makes
    slowest = math.nan
    if case is not None and not math.isnan(case.setting.stall):
        slowest = case.setting.true(LEAST_MULTIPLE * case.setting.stall / math.sqrt(math.cos(bank)))
    if math.isnan(slowest):
        answer.measures.append(cant_say("valley", "m", "length", message("reason.no_path")))
        return
    speed = max(climb.speed, slowest)
    room = float(work.step(turning_room, true_airspeed=speed, bank=bank))
    width = way.valley_width.value
    part = measure("valley", room, width, "m", "length", tight_below=0.1 * width)
    across = air.wind.along(direction.bearing, Working(silent=True))[1] if direction and air.wind else 0.0
    drifting = float(turning_room(speed, bank, min(across, _MOST_ACROSS)))
    if part.verdict == YES and drifting > width:
        # turned into the wind it goes in, and nobody says that there is the choice
        part.verdict, part.reason = TIGHT, message("reason.valley_wind", room=drifting)
    answer.measures.append(part)


def _on_the_dial(case: Case | None, true: float) -> float:
    """What the dial shows [m/s] in the climb with the flap of the take-off; nan where it can't be told."""
    if case is None or math.isnan(true):
        return math.nan
    setting = replace(case.setting, work=Working(silent=True))
    return setting.indicated(setting.calibrated(true))


def _picture(
    answer: Answer, flight: Flight, climb: Climb, gradient: float, path: Path | None
) -> dict[str, Any]:
    direction = flight.direction("from")
    assert direction is not None
    stated = direction.departure
    listed = stated.obstacles if isinstance(stated, ListedObstacles) else []
    ridges = direction.way_out.ridges if direction.way_out else []
    things: list[dict[str, Any]] = []
    needs = {m.values.get("obstacle"): m for m in answer.measures if m.name in ("obstacle", "ridge")}
    for thing, clearance in [
        *((o, flight.settings.obstacle_clearance) for o in listed),
        *((r, flight.settings.ridge_clearance) for r in ridges),
    ]:
        height = thing.height.value + (path.end_height if path else 0.0)
        flown = None
        if path is not None and not math.isnan(gradient):
            own = needs[thing.name].available if thing.name in needs else gradient
            along = path.length + thing.distance.value - path.start
            flown = path.height + (own if own is not None else gradient) * max(along, 0.0)
        things.append(
            {
                "name": thing.name,
                "distance": thing.distance.value,
                "height": height,
                "needed_height": height + clearance,
                "clearance": None if flown is None else flown - height,
            }
        )
    far = max([1000.0, *(t["distance"] for t in things)])
    points = []
    if path is not None:
        points = [
            {"distance": 0.0, "height": 0.0},
            {"distance": path.start, "height": path.height},
            {
                "distance": path.length + far,
                "height": path.height + gradient * (path.length + far - path.start),
            },
        ]
    valley = next((m for m in answer.measures if m.name == "valley"), None)
    return {
        "gradient": plain(gradient),
        "needed": flight.settings.least_gradient,
        "strip_length": path.length if path else None,
        "points": points,
        "obstacles": things,
        "obstacles_stated": stated.state,
        "valley": {"width": valley.available, "needed": valley.needed} if valley else None,
        "speed_true": plain(climb.speed),
        "rate": plain(climb.rate),
    }
