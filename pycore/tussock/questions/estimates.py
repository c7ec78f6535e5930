"""Estimated figures of aeroplane and strip that an answer rests on: they take the bare "yes" away.

Sources of distance and climb are looked at where they decide (`runway`, `climbs_out`); here is all the rest.
The widening of an answer by the spread of masses is in `masses`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from ..documents.aeroplane import Bay, FlapSetting, WeighedOnScales
from ..documents.base import Figure
from ..documents.kit import Rigid, Soft
from ..documents.performance import ClimbTable, Constants, ConstantSpeed, DistanceTable, KnownDistance
from ..documents.strip import ListedObstacles
from .aboard import Aboard, alone
from .answer import TIGHT, Answer, message
from .bulk import exposed
from .flight import Flight

Estimate = dict[str, Any]
Found = Iterator[tuple[Figure | None, str, str, str]]

LIMITS = ("ramp", "takeoff", "landing", "zero_fuel")
AT_STRIP = ("lifts_off", "climbs_out", "stops")
WINDS = ("crosswind", "tailwind", "gust_spread", "wind")


def cap(flight: Flight, answers: list[Answer]) -> None:
    """Let no answer be better than tight that rests on an estimate, and say on which."""
    for answer in answers:
        found = estimates(flight, answer) + strip_estimates(flight, answer.question)
        found += load_estimates(flight, answer.question)
        if len(found) == 1:
            answer.limit(TIGHT, message("reason.estimated_figure", figure=found[0]))
        elif found:
            answer.limit(TIGHT, message("reason.estimated_figures", figure=found[0], count=len(found)))


def estimates(flight: Flight, answer: Answer, *, sources: bool = False) -> list[Estimate]:
    """Messages, each with the `pointer` of its figure in the aeroplane.

    With `sources` the envelope and performance too, whose caps are set where they are judged.
    """
    found: dict[str, Estimate] = {}
    for figure, pointer, text, name in _of(flight, answer):
        if figure is not None and figure.origin == "estimated" and pointer not in found:
            found[pointer] = message(f"figure.{text}", name=name) | {"pointer": pointer}
    if (
        answer.question == "balances"
        and flight.envelope
        and flight.envelope.origin == "estimated"
        and sources
    ):
        pointer = f"/envelopes/{flight.envelope.id}"
        found[pointer] = message("figure.envelope", name=flight.envelope.category) | {"pointer": pointer}
    if sources:
        for source in _sources(flight, answer.question):
            pointer = f"/performance/{source.id}"
            found[pointer] = message("figure.source", name=source.name) | {"pointer": pointer}
    return list(found.values())


def strip_estimates(flight: Flight, question: str) -> list[Estimate]:
    """Messages on the estimated figures of the strip that this question rests on."""
    return [
        message(f"figure.{text}", name=name)
        for figure, text, name in _ground(flight, question)
        if figure is not None and figure.origin == "estimated"
    ]


def load_estimates(flight: Flight, question: str) -> list[Estimate]:
    """Messages on guesses of the leg: edges and lengths of things, fuel, wind aloft.

    The reach rests on the fuel and the wind aloft, all else but the bays on the fuel through its mass; the
    ways on the ground and the climb on what people weigh, and kit where much of it is guessed. In the balance
    and the bays guessed masses and litres widen what is tight instead (`masses`, `bulk`).
    """
    if question == "fits":
        return _guessed_edges(flight)
    names = {tank.id: tank.name for tank in flight.tanks}
    found = [
        message("figure.fuel_aboard", name=names[one.tank])
        for one in flight.leg.fuel
        if one.tank in names and one.volume.origin == "estimated"
    ]
    aloft = flight.leg.wind_aloft
    if question == "reaches" and aloft is not None and aloft.origin == "estimated":
        found.append(message("figure.wind_aloft"))
    if question in ("lifts_off", "climbs_out", "stops"):
        found += _guessed_masses(flight)
    return found


def _guessed_masses(flight: Flight) -> list[Estimate]:
    """People whose mass is a guess, and kit where the guesses are more than what is tight of the mass."""
    found = [
        message("figure.person_mass", name=person.name)
        for _, person in flight.seated
        if person.mass is not None and person.mass.origin == "estimated"
    ]
    lines = {placed.item: placed for placed in flight.load.placed}

    def guesses(thing: Aboard) -> float:
        placed = lines[thing.item.id]
        if placed.weighed is not None and placed.weighed.holding:
            return 0.0  # the scale told all of it
        figure = alone(placed, thing.item)
        own = figure.value if figure is not None and figure.origin == "estimated" else 0.0
        return own + sum(guesses(part) for part in thing.inside)

    guessed = sum(guesses(thing) for thing in flight.aboard)
    most = flight.plane.limits.takeoff
    if guessed > (flight.settings.tight.mass * most.value if most else 0.0):
        found.append(message("figure.kit_mass", mass=guessed))
    return found


def _guessed_edges(flight: Flight) -> list[Estimate]:
    found = []
    for part in (part for thing in flight.aboard for part in thing.parts):
        item, size = part.item, part.item.size
        if size is None and part.inside:
            # taken for a bag of cloth, as large as what is in it: a trunk would take more
            found.append(message("figure.item_size", name=item.name))
        edges = [size.length, size.width, size.height] if isinstance(size, Rigid) else []
        if isinstance(size, Soft) and size.longest is not None:
            edges = [size.longest]
        if any(edge.origin == "estimated" for edge in edges):
            found.append(message("figure.item_size", name=item.name))
    return found


def _ground(flight: Flight, question: str) -> Iterator[tuple[Figure | None, str, str]]:
    if question not in AT_STRIP:
        return
    end = "to" if question == "stops" else "from"
    direction = flight.direction(end)
    if direction is None:
        return
    strip = flight.strip(end)
    # climbing out, the end of the strip is where the obstacles are counted from
    declared = direction.landing_length if end == "to" else direction.takeoff_length
    lengths = [one for one in (declared, strip.ground.length) if one is not None]
    yield min(lengths, key=lambda figure: figure.value), "strip_length", strip.name
    yield strip.elevation, "strip_elevation", strip.name
    stated = direction.approach if end == "to" else direction.departure
    if isinstance(stated, ListedObstacles):
        for obstacle in stated.obstacles:
            yield obstacle.height, "obstacle", obstacle.name
            yield obstacle.distance, "obstacle", obstacle.name
    if question == "climbs_out" and direction.way_out is not None:
        yield direction.way_out.valley_width, "valley_width", strip.name
        for ridge in direction.way_out.ridges:
            yield ridge.height, "obstacle", ridge.name
            yield ridge.distance, "obstacle", ridge.name


def _of(flight: Flight, answer: Answer) -> Found:
    question = answer.question
    if question == "fits":
        yield from _places(flight)
        return
    yield from _weighing(flight)
    if question == "balances":
        yield from _limits(flight)
    if question in ("balances", "reaches", "stops"):
        yield from _burn(flight)
    else:
        yield flight.plane.fuel.taxi_and_run_up, "/fuel/taxi_and_run_up", "taxi_and_run_up", ""
    if question in ("lifts_off", "climbs_out", "reaches"):
        yield from _flap(flight, flight.flap("from"))
    if question == "stops":
        yield from _flap(flight, flight.flap("to"))
        yield from _approach(flight)
    yield from _rig(flight, question)
    yield from _physics(flight)
    yield from _winds(flight, answer)


# --- what fits -------------------------------------------------------------------------------------------


def _places(flight: Flight) -> Found:
    taken = {seat for seat, _ in flight.seated}
    for seat in flight.seats:
        if seat.id in taken:
            place = f"/seats/{seat.id}"
            yield seat.height_fits, f"{place}/height_fits", "seat_height", seat.name
            yield seat.height_sits_well, f"{place}/height_sits_well", "seat_height", seat.name
            yield seat.width, f"{place}/width", "seat_width", seat.name
    for bay in _loaded(flight):
        place = f"/bays/{bay.id}"
        shapes = [part.item.size for thing in flight.aboard if thing.bay == bay.id for part in exposed(thing)]
        yield bay.volume, f"{place}/volume", "bay_volume", bay.name
        yield bay.packing_fraction, f"{place}/packing_fraction", "packing_fraction", bay.name
        yield bay.longest, f"{place}/longest", "bay_longest", bay.name
        if any(isinstance(shape, Rigid) for shape in shapes):
            for edge in ("length", "width", "height"):
                yield getattr(bay, edge), f"{place}/{edge}", "bay_size", bay.name
            yield bay.floor_limit, f"{place}/floor_limit", "floor_limit", bay.name
            if bay.door is not None:
                yield bay.door.width, f"{place}/door/width", "bay_door", bay.name
                yield bay.door.height, f"{place}/door/height", "bay_door", bay.name
                yield bay.door.sill, f"{place}/door/sill", "bay_door", bay.name
        if bay.restraint is not None:
            yield bay.restraint.rating, f"{place}/restraint/rating", "restraint", bay.name


def _loaded(flight: Flight) -> list[Bay]:
    used = {thing.bay for thing in flight.aboard}
    return [bay for bay in flight.bays if bay.id in used]


# --- what it weighs --------------------------------------------------------------------------------------


def _weighing(flight: Flight) -> Found:
    """The empty aeroplane as it is rigged: every distance and climb rests on its mass."""
    by_id = {c.id: c for c in flight.plane.configurations}
    here = flight.configuration
    while True:
        for change in here.changes:
            yield change.mass, f"/configurations/{here.id}/changes/{change.id}/mass", "change", change.name
        if here.weighing is not None or here.based_on is None:
            break
        here = by_id[here.based_on]
    record, place = here.weighing, f"/configurations/{here.id}/weighing"
    if record is None:
        return
    if isinstance(record, WeighedOnScales):
        for scale in record.scales:
            for figure in (scale.reading, scale.tare):
                yield figure, place, "weighing", here.name
    else:
        yield record.mass, f"{place}/mass", "weighing", here.name
    oil = flight.plane.engine.oil
    if not record.includes_oil and oil is not None:
        yield oil.mass, "/engine/oil/mass", "oil", ""
    if not record.includes_unusable_fuel:
        for tank in flight.tanks:
            yield tank.unusable, f"/tanks/{tank.id}/unusable", "unusable", tank.name


def _limits(flight: Flight) -> Found:
    """Arms and limits of what is aboard, and the wheels on which it may tip."""
    plane = flight.plane
    for name in LIMITS:
        yield getattr(plane.limits, name), f"/limits/{name}", f"limit_{name}", ""
    taken = {seat for seat, _ in flight.seated}
    for seat in flight.seats:
        if seat.id in taken:
            yield seat.arm, f"/seats/{seat.id}/arm", "arm", seat.name
            yield seat.mass_limit, f"/seats/{seat.id}/mass_limit", "mass_limit", seat.name
    for bay in _loaded(flight):
        yield bay.arm, f"/bays/{bay.id}/arm", "arm", bay.name
        yield bay.mass_limit, f"/bays/{bay.id}/mass_limit", "mass_limit", bay.name
    for tank in flight.tanks:
        yield tank.arm, f"/tanks/{tank.id}/arm", "arm", tank.name
    for joint in plane.joint_limits:
        yield joint.mass_limit, f"/joint_limits/{joint.id}/mass_limit", "mass_limit", joint.name
    yield from _arms_of_weighing(flight)
    legs = flight.undercarriage
    if legs is not None and legs.layout == "nosewheel":
        rig = flight.configuration
        owner = "" if rig.undercarriage is None else f"/configurations/{rig.id}"
        yield legs.main_arm, f"{owner}/undercarriage/main_arm", "wheel_arm", ""
        yield legs.other_arm, f"{owner}/undercarriage/other_arm", "wheel_arm", ""


def _arms_of_weighing(flight: Flight) -> Found:
    by_id = {c.id: c for c in flight.plane.configurations}
    here = flight.configuration
    while True:
        for change in here.changes:
            yield change.arm, f"/configurations/{here.id}/changes/{change.id}/arm", "arm", change.name
        if here.weighing is not None or here.based_on is None:
            break
        here = by_id[here.based_on]
    record, place = here.weighing, f"/configurations/{here.id}/weighing"
    if isinstance(record, WeighedOnScales):
        for scale in record.scales:
            yield scale.arm, place, "weighing", here.name
    elif record is not None:
        yield record.arm, f"{place}/arm", "empty_arm", here.name
    oil = flight.plane.engine.oil
    if record is not None and not record.includes_oil and oil is not None:
        yield oil.arm, "/engine/oil/arm", "oil", ""


# --- what it burns and how it flies ----------------------------------------------------------------------


def _burn(flight: Flight) -> Found:
    fuel = flight.plane.fuel
    for name in ("taxi_and_run_up", "climb_flow", "descent_flow", "descent_rate", "dip_error"):
        yield getattr(fuel, name), f"/fuel/{name}", name, ""
    for tank in flight.tanks:
        yield tank.usable, f"/tanks/{tank.id}/usable", "usable", tank.name
    cruise = next((c for c in flight.plane.cruises if c.id == flight.leg.cruise), None)
    if cruise is not None:
        yield cruise.speed, f"/cruises/{cruise.id}/speed", "cruise_speed", cruise.name
        yield cruise.flow, f"/cruises/{cruise.id}/flow", "cruise_flow", cruise.name


def _flap(flight: Flight, flap: FlapSetting | None) -> Found:
    if flap is None:
        return
    names = ("stall", "stall_mass", "climb_speed", "lift_off_factor", "at_50ft_factor", "touchdown_factor")
    for name in names:
        yield getattr(flap, name), f"/flaps/{flap.id}/{name}", f"flap_{name}", flap.name
    if flap.stall_mass is None:
        yield flight.plane.limits.takeoff, "/limits/takeoff", "limit_takeoff", ""


def _approach(flight: Flight) -> Found:
    direction = flight.direction("to")
    if direction is None or not isinstance(direction.approach, ListedObstacles):
        return
    if (own := flight.plane.approach_gradient) is not None:
        yield own, "/approach_gradient", "own_approach_gradient", ""
    for source in flight.sources(("constants",)):
        figure = getattr(source, "approach_gradient", None)
        yield figure, f"/performance/{source.id}/approach_gradient", "approach_gradient", source.name


def _rig(flight: Flight, question: str) -> Found:
    rig = flight.configuration
    names = {
        "lifts_off": ("takeoff_factor",),
        "climbs_out": ("climb_loss", "takeoff_factor"),
        "reaches": ("climb_loss",),
        "stops": ("landing_factor", "climb_loss"),
    }
    for name in names.get(question, ()):
        yield getattr(rig, name), f"/configurations/{rig.id}/{name}", name, rig.name


def _physics(flight: Flight) -> Found:
    """The wing and the propeller, where constants of performance rest on them."""
    if not flight.sources(("constants",)):
        return
    wing, propeller = flight.plane.wing, flight.plane.propeller
    for name in ("area", "span", "height"):
        yield getattr(wing, name), f"/wing/{name}", f"wing_{name}", ""
    if propeller is not None:
        yield propeller.diameter, "/propeller/diameter", "propeller_diameter", ""
    if isinstance(propeller, ConstantSpeed):
        # its thrust rests on the engine's power, not on a torque among the constants
        yield flight.plane.engine.rated_power, "/engine/rated_power", "rated_power", ""
        yield flight.plane.engine.rated_rotation, "/engine/rated_rotation", "rated_rotation", ""
        yield propeller.rotation_limit, "/propeller/rotation_limit", "rotation_limit", ""


def _winds(flight: Flight, answer: Answer) -> Found:
    """The owner's limits of wind, where there is such a wind."""
    judged = {part.name for part in answer.measures}
    for name in WINDS:
        if name in judged:
            yield getattr(flight.plane.owner, name), f"/owner/{name}", f"wind_{name}", ""


# --- sources ---------------------------------------------------------------------------------------------


def _sources(flight: Flight, question: str) -> list[Any]:
    """Sources that this question asks and that are estimates, in whole or in part."""
    phase = {"lifts_off": "takeoff", "stops": "landing"}.get(question)
    kinds = {
        "lifts_off": ("book_distance", "known_distance", "constants"),
        "climbs_out": ("book_climb", "constants"),
        "reaches": ("book_climb", "constants"),
        "stops": ("book_distance", "known_distance", "constants", "book_climb"),
    }.get(question, ())
    return [source for source in flight.sources(kinds, phase) if is_estimated(source)]


def is_estimated(source: DistanceTable | ClimbTable | KnownDistance | Constants) -> bool:
    """Whether a source, or a figure in it, is an estimate."""
    if getattr(source, "origin", None) == "estimated":
        return True
    figures = [getattr(source, name) for name in type(source).model_fields]
    if isinstance(source, KnownDistance):
        figures.append(source.conditions.mass)
    return any(isinstance(figure, Figure) and figure.origin == "estimated" for figure in figures)
