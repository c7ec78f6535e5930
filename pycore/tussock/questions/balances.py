"""Balances? Mass and arm against every limit, in every state from loading to landing."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..documents.aeroplane import Bay, Envelope, Seat
from ..sums.loading import addable_mass, envelope_margins, main_wheel_load
from .aboard import GUARD, error
from .answer import CANT_SAY, NO, TIGHT, YES, Answer, Measure, cant_say, measure, message, plain
from .burn import Burn
from .flight import Flight
from .masses import Masses, State
from .working import Working

#: measures that a kilogram more anywhere aboard uses up one by one
MASS_MEASURES = (
    "mass_ramp",
    "mass_takeoff",
    "mass_zero_fuel",
    "mass_landing",
    "mass_cap",
    "strip_mass_from",
    "strip_mass_to",
)


def balances(flight: Flight, masses: Masses, burn: Burn, density_altitude: float, work: Working) -> Answer:
    """`burn` tells what has been burnt at take-off, waypoints and landing; nan there means not known."""
    answer = Answer("balances")
    answer.assumptions += masses.assumed
    answer.notes += [message("text", text=text) for text in flight.quirks("balances")]
    masses.tanks  # noqa: B018 - looks the tanks up, so that what is missing in them is named
    if masses.missing:
        for reason in masses.missing:
            answer.measures.append(cant_say("mass_takeoff", "kg", "mass", reason))
        answer.working = work.steps
        return answer
    states = judged_states(flight, masses, burn)
    if burn.missing:
        answer.limit(CANT_SAY, burn.missing[0])
    _masses(flight, masses, states, density_altitude, answer)
    _stations(flight, masses, answer)
    arrived = masses.fuel if math.isnan(burn.landing) else min(burn.landing, masses.fuel)
    _envelope(flight, masses, states, arrived, answer, work)
    _tipping(flight, masses, answer, work)
    answer.working = work.steps
    return answer


def judged_states(flight: Flight, masses: Masses, burn: Burn) -> dict[str, State]:
    """Judged states in the order in which the day meets them."""
    found = {"ramp": masses.state("ramp", 0.0)}
    total = masses.fuel
    start = burn.takeoff
    if not math.isnan(start):
        found["takeoff"] = masses.state("takeoff", start)
    end = burn.landing
    moments = [(name, at) for name, at in masses.moments_of_emptying() if start < at < min(end, total)]
    for index, (name, at) in enumerate(moments):
        found[f"tank{index}"] = masses.state("tank_empty", at, tank=name)
    for index, (name, at) in enumerate(burn.waypoints):
        found[f"waypoint{index}"] = masses.state("waypoint", min(at, total), waypoint=name)
    if not math.isnan(end):
        found["landing"] = masses.state("landing", min(end, total))
        if burn.landing_least < end:
            found["landing_heavy"] = masses.state("landing", min(burn.landing_least, total))
    found["zero_fuel"] = masses.state("zero_fuel", total)
    return found


# --- masses ----------------------------------------------------------------------------------------------


def _masses(
    flight: Flight, masses: Masses, states: dict[str, State], density_altitude: float, answer: Answer
) -> None:
    limits, plane = flight.plane.limits, flight.plane
    error = GUARD * masses.mass_sd
    bounds = {
        "mass_ramp": ("ramp", limits.ramp or limits.takeoff),
        "mass_takeoff": ("takeoff", limits.takeoff),
        "mass_zero_fuel": ("zero_fuel", limits.zero_fuel),
        "mass_landing": ("landing", limits.landing or limits.takeoff),
    }
    for name, (state, limit) in bounds.items():
        if getattr(limits, state) is None and limit is not None:
            answer.assume("assumed.mass_limit", what=message(f"measure.{name}"), limit=limit.value)
        if name == "mass_takeoff" and limit is None:
            answer.measures.append(cant_say(name, "kg", "mass", message("missing.takeoff_limit")))
        elif limit is not None and state in states:
            heavy = states.get(f"{state}_heavy", states[state])
            answer.measures.append(_mass(flight, name, heavy.mass, limit.value, error))
        elif limit is not None:
            answer.measures.append(
                cant_say(name, "kg", "mass", message("missing.burn"), available=limit.value)
            )
    ends = (("from", "takeoff", "strip_mass_from"), ("to", "landing", "strip_mass_to"))
    for end, state, name in ends:
        strip = flight.strip(end)
        if strip.mass_limit is not None and state in states:
            values = {"strip": strip.name}
            heavy = states.get(f"{state}_heavy", states[state])
            limit = strip.mass_limit
            off = error
            if limit.origin == "estimated":
                # what somebody thinks of the ground there: it binds from as far off as it may be wrong
                off = math.hypot(error, GUARD * flight.spread(limit))
            answer.measures.append(_mass(flight, name, heavy.mass, limit.value, off, values))
    if limits.zero_fuel is None:
        answer.assume("assumed.no_zero_fuel_limit")
    caps = plane.owner.mass_caps
    if caps and "takeoff" in states:
        if math.isnan(density_altitude):
            reason = message("missing.density_altitude")
            answer.measures.append(cant_say("mass_cap", "kg", "mass", reason, density_altitude=None))
            return
        _cap(flight, states["takeoff"].mass, density_altitude, error, answer)


def _cap(flight: Flight, mass: float, density_altitude: float, error: float, answer: Answer) -> None:
    """The owner's cap: straight from cap to cap, below the first that of it, above the last not known."""
    caps = flight.plane.owner.mass_caps
    values = {"density_altitude": density_altitude}
    heights, masses = [cap.density_altitude for cap in caps], [cap.mass for cap in caps]
    part = _mass(flight, "mass_cap", mass, float(np.interp(density_altitude, heights, masses)), error, values)
    if density_altitude > heights[-1] and part.verdict != NO:
        # more than the last cap is too much up there in any case; less may be
        reason = message("missing.mass_cap", highest=heights[-1], **values)
        part = cant_say("mass_cap", "kg", "mass", reason, available=masses[-1], **values)
    answer.measures.append(part)


def _mass(
    flight: Flight, name: str, mass: float, limit: float, error: float, values: dict[str, Any] | None = None
) -> Measure:
    tight = max(error, flight.settings.tight.mass * limit)
    return measure(name, mass, limit, "kg", "mass", tight_below=tight, values=values)


def _stations(flight: Flight, masses: Masses, answer: Answer) -> None:
    taken = {seat for seat, _ in flight.seated}
    free = [seat.name for seat in flight.seats if seat.id in taken and seat.mass_limit is None]
    if free:
        answer.assume("assumed.no_station_limit", stations=", ".join(free))
    for seat in flight.seats:
        # a seat bears an infant too that is on somebody's lap
        riders = [(p.name, p.mass) for name, p in flight.seated if name == seat.id and p.mass]
        if riders and seat.mass_limit:
            values = {"seat": seat.name, "person": " + ".join(name for name, _ in riders)}
            off = error(flight.spread(mass) for _, mass in riders)
            limit, mass = seat.mass_limit.value, sum(mass.value for _, mass in riders)
            answer.measures.append(
                measure("seat_mass", mass, limit, "kg", "mass", tight_below=off, values=values)
            )
    for bay in flight.bays:
        here = [thing for thing in flight.aboard if thing.bay == bay.id]
        mass = sum(thing.mass or 0.0 for thing in here)
        if mass == 0.0:
            continue
        values = {"bay": bay.name}
        if bay.mass_limit is None:
            answer.measures.append(
                cant_say("bay_mass", "kg", "mass", message("missing.bay_limit", **values), **values)
            )
        else:
            limit = bay.mass_limit.value
            tight = max(0.02 * limit, error(thing.sd for thing in here))
            answer.measures.append(
                measure("bay_mass", mass, limit, "kg", "mass", tight_below=tight, values=values)
            )
    for joint in flight.plane.joint_limits:
        people = [p.mass for seat, p in flight.seated if seat in joint.stations and p.mass]
        there = [thing for thing in flight.aboard if thing.bay in joint.stations]
        off = error([*(flight.spread(mass) for mass in people), *(thing.sd for thing in there)])
        mass = sum(rider.value for rider in people) + sum(thing.mass or 0.0 for thing in there)
        mass += masses.density * sum(v for tank, v in masses.tanks.items() if tank in joint.stations)
        limit, values = joint.mass_limit.value, {"limit": joint.name}
        answer.measures.append(
            measure("joint_mass", mass, limit, "kg", "mass", tight_below=off, values=values)
        )


# --- envelope --------------------------------------------------------------------------------------------


def corners(envelope: Envelope) -> tuple[np.ndarray, np.ndarray, str]:
    """Corner masses [kg], arms [m], and the diagram in which the edges are straight."""
    mass = np.array([v.mass for v in envelope.vertices])
    across = np.array([v.across for v in envelope.vertices])
    if envelope.axes == "mass_moment":
        return mass, across / mass, "moment"
    return mass, across, "arm"


def _envelope(
    flight: Flight,
    masses: Masses,
    states: dict[str, State],
    arrived: float,
    answer: Answer,
    work: Working,
) -> None:
    envelope = flight.envelope
    if envelope is None:
        which = "missing.envelope" if not flight.plane.envelopes else "missing.category"
        answer.measures.append(cant_say("aft", "m", "arm", message(which)))
        return
    if envelope.origin == "estimated":
        answer.limit(TIGHT, message("reason.envelope_estimated"))
    vertex_mass, vertex_arm, edges = corners(envelope)
    judged: dict[str, list[Measure]] = {}
    verdicts: dict[str, str] = {}
    named = list(states)
    # one call for all states: the sum broadcasts, and a call costs more than a state
    margins = work.step(
        envelope_margins,
        mass=np.array([states[key].mass for key in named]),
        arm=np.array([states[key].arm for key in named]),
        vertex_mass=vertex_mass,
        vertex_arm=vertex_arm,
        edges=edges,
        label=message("label.states", states=", ".join(states[key].name.replace("_", " ") for key in named)),
    )
    for index, key in enumerate(named):
        judged[key] = _edges(
            flight,
            states[key],
            [float(np.ravel(part)[index]) for part in margins[:3]],
            float(np.ravel(margins.width)[index]),
        )
        verdicts[key] = min((m.verdict for m in judged[key]), key=_rank)
    answer.measures += _worst_of(judged)
    _first_outside(judged, answer)
    answer.measures += _passenger_out(flight, masses, arrived, vertex_mass, vertex_arm, edges, work)
    if work.silent:
        return
    answer.picture = {
        "vertices": [
            {"mass": float(m), "arm": float(a)} for m, a in zip(vertex_mass, vertex_arm, strict=True)
        ],
        "category": envelope.category,
        "states": [
            {
                "state": state.name,
                "values": state.values,
                "mass": state.mass,
                "arm": state.arm,
                "spread": GUARD * state.spread,
                "verdict": verdicts[key],
            }
            for key, state in states.items()
        ],
        "empty": _empty(masses),
        "stations": masses.by_station(),
        "cap": next((m.available for m in answer.measures if m.name == "mass_cap"), None),
        "takeoff_limit": flight.plane.limits.takeoff.value if flight.plane.limits.takeoff else None,
        "addable": _addable(flight, states, vertex_mass, vertex_arm, edges),
    }


def _rank(verdict: str) -> int:
    return (NO, CANT_SAY, TIGHT, YES).index(verdict)


def _edges(flight: Flight, state: State, sides: list[float], width: float) -> list[Measure]:
    """Forward and aft limits in one state. The aft limit is guarded by the uncertainty of the weights.

    `sides` are inside (1 or 0), the room forward and the room aft [m] at this mass.
    """
    inside, forward, aft = sides
    values = {"state": message(f"state.{state.name}", **state.values)}
    if math.isnan(width):
        too_light = message("reason.outside_envelope_mass", mass=state.mass, **values)
        return [Measure("aft", None, None, "m", "arm", NO, values, too_light)]
    guard = GUARD * state.spread
    found = []
    for name, room in (("forward", forward), ("aft", aft)):
        tight = max(flight.settings.tight.envelope * width, guard)
        part = measure(name, width - room, width, "m", "arm", tight_below=tight, values=values)
        if part.verdict == NO:
            part.reason = message(f"reason.beyond_{name}", by=-room, **values)
        elif part.verdict == TIGHT:
            part.reason = message(f"reason.near_{name}", room=room, error=guard, **values)
        found.append(part)
    if not inside and all(m.verdict != NO for m in found):
        reason = message("reason.outside_envelope", **values)
        found.append(Measure("envelope", None, None, "m", "arm", NO, values, reason))
    return found


def _first_outside(judged: dict[str, list[Measure]], answer: Answer) -> None:
    """The moment at which it walks out, told too where a later state is further out."""
    outside = [part for found in judged.values() for part in found if part.verdict == NO]
    if outside and outside[0].reason is not None:
        answer.reasons.append(outside[0].reason)


def _worst_of(judged: dict[str, list[Measure]]) -> list[Measure]:
    """One measure per limit: that of its worst state; the first worst names the moment."""
    by_name: dict[str, Measure] = {}
    for found in judged.values():
        for part in found:
            held = by_name.get(part.name)
            if held is None or (_rank(part.verdict), part.part) < (_rank(held.verdict), held.part):
                by_name[part.name] = part
    return list(by_name.values())


def _passenger_out(
    flight: Flight,
    masses: Masses,
    arrived: float,
    vertex_mass: np.ndarray,
    vertex_arm: np.ndarray,
    edges: str,
    work: Working,
) -> list[Measure]:
    """What if somebody gets out at the far strip and the rest stays as it is: a warning, not this flight."""
    found = []
    controls = {seat.id for seat in flight.plane.seats if seat.controls}
    pilots = [name for name, person in flight.seated if name in controls and person.flies]
    for seat, person in flight.seated:
        if seat in pilots[:1]:
            continue
        ends = [
            masses.state("without", burnt, without=seat, person=person.name)
            for burnt in (arrived, masses.fuel)
        ]
        margins = work.step(
            envelope_margins,
            mass=np.array([state.mass for state in ends]),
            arm=np.array([state.arm for state in ends]),
            vertex_mass=vertex_mass,
            vertex_arm=vertex_arm,
            edges=edges,
            label=message("label.state", state=message("state.without", person=person.name)),
        )
        if not np.all(margins.inside):
            values = {"person": person.name}
            reason = message("reason.passenger_out", **values)
            found.append(Measure("passenger_out", None, None, "m", "arm", TIGHT, values, reason))
    return found


def _empty(masses: Masses) -> dict[str, float]:
    """The empty record, reported and never judged: it often lies outside."""
    parts = [part for part in masses.dry if part.group == "empty"]
    mass = sum(part.mass for part in parts)
    return {"mass": mass, "arm": sum(part.mass * part.arm for part in parts) / mass}


def _addable(
    flight: Flight, states: dict[str, State], vertex_mass: np.ndarray, vertex_arm: np.ndarray, edges: str
) -> list[dict[str, Any]]:
    """Mass that could still be added at each station, in the worst of all states."""
    both: list[Bay | Seat] = [*flight.bays, *flight.seats]
    stations = [(s.name, s.arm.value) for s in both if s.arm is not None]
    if not stations:
        return []
    room = addable_mass(
        mass=np.array([[state.mass] for state in states.values()]),
        arm=np.array([[state.arm] for state in states.values()]),
        station_arm=np.array([arm for _, arm in stations]),
        vertex_mass=vertex_mass,
        vertex_arm=vertex_arm,
        edges=edges,
    )
    least = np.min(np.asarray(room), axis=0)
    return [{"station": name, "mass": plain(least[i])} for i, (name, _) in enumerate(stations)]


# --- tipping while it is loaded --------------------------------------------------------------------------


def _tipping(flight: Flight, masses: Masses, answer: Answer, work: Working) -> None:
    """A nosewheel aeroplane can sit on its tail while the back is filled and the front seats are empty."""
    legs = flight.undercarriage
    if legs is None:
        answer.measures.append(cant_say("tipping", "kg", "mass", message("missing.undercarriage")))
        return
    if legs.layout != "nosewheel":
        return
    if legs.main_arm is None or legs.other_arm is None:
        answer.measures.append(cant_say("tipping", "kg", "mass", message("missing.wheel_arms")))
        return
    main = legs.main_arm.value
    groups = {part.group for part in masses.dry if part.group == "empty" or part.arm > main}
    state = masses.state("loading", 0.0, only=groups)
    if any(t.arm and t.arm.value < main for t in flight.tanks):
        dry = masses.state("loading", masses.fuel, only=groups)
        state = max(state, dry, key=lambda s: s.arm)
    loads = work.step(
        main_wheel_load, mass=state.mass, arm=state.arm, main_arm=main, other_arm=legs.other_arm.value
    )
    nose = float(loads.other)
    part = measure("tipping", 0.0, nose, "kg", "mass", tight_below=0.02 * state.mass)
    if part.verdict == NO:
        part.reason = message("reason.tips", load=-nose)
        part.verdict = TIGHT  # a tail stand or another order of loading makes it safe: a warning, not a stop
    answer.measures.append(part)
