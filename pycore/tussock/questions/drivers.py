"""What drives an answer most: the change of its margin for one realistic step of each input."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from ..documents.trip import WindAloft
from .airs import AirState, WindState, hotter
from .answer import Answer, message, plain
from .asking import LegAnswer
from .burn import burn
from .climbs_out import climbs_out
from .flight import Flight
from .lifts_off import lifts_off
from .masses import Masses
from .reaches import reaches
from .stops import stops
from .working import Working

KNOT = 1852 / 3600
HOTTER, HEAVIER, WINDIER, ALOFT = 5.0, 20.0, 5 * KNOT, 10 * KNOT


def add_drivers(found: LegAnswer) -> None:
    """Fill `drivers` of the answers that rest on air, mass and wind; largest effect first."""
    flight, mass = found.flight, found.takeoff_mass
    if math.isnan(mass):
        return
    quiet = Working(silent=True)

    def lift(air: AirState, mass: float) -> Answer:
        return lifts_off(flight, air, mass, quiet)[0]

    def climb(air: AirState, mass: float) -> Answer:
        _, runway = lifts_off(flight, air, mass, quiet)
        return climbs_out(flight, air, runway, mass, quiet)

    def stop(air: AirState, mass: float) -> Answer:
        return stops(flight, air, mass, quiet)

    for question, ask_again, air, own, end in (
        ("lifts_off", lift, found.first, mass, "from"),
        ("climbs_out", climb, found.first, mass, "from"),
        ("stops", stop, found.far, found.landing_mass, "to"),
    ):
        _drive(found.answer(question), ask_again, flight, air, own, end)
    _drive_reach(found, quiet)


def _drive(
    answer: Answer,
    ask_again: Callable[[AirState, float], Answer],
    flight: Flight,
    air: AirState,
    mass: float,
    end: str,
) -> None:
    index = answer.governing
    if index is None or answer.measures[index].margin is None or not air.known:
        return
    steps = [
        (message("driver.hotter", step=HOTTER), hotter(air, HOTTER), mass),
        (message("driver.heavier", step=HEAVIER), air, mass + HEAVIER),
    ]
    less_wind = _windier(flight, air, end)
    if less_wind is not None:
        steps.append((message("driver.less_headwind", step=WINDIER), less_wind, mass))
    found = []
    for change, other_air, other_mass in steps:
        delta = _delta(answer, ask_again(other_air, other_mass))
        if delta is not None:
            part = answer.measures[index]
            found.append({"change": change, "delta": delta, "unit": part.unit, "dimension": part.dimension})
    answer.drivers = sorted(found, key=lambda one: abs(one["delta"]), reverse=True)


def _delta(before: Answer, after: Answer) -> float | None:
    """Change of the margin of what governs now; None when it cannot be said any more."""
    index = before.governing
    assert index is not None
    part = before.measures[index]
    if part.margin is None:
        return None
    same = [
        m
        for m in after.measures
        if m.name == part.name and m.values.get("obstacle") == part.values.get("obstacle")
    ]
    margin = same[0].margin if same else None
    return None if margin is None else margin - part.margin


def _windier(flight: Flight, air: AirState, end: str) -> AirState | None:
    """The same air with 5 kt less headwind (or more tailwind) along the chosen direction."""
    direction = flight.direction(end)
    if direction is None or air.wind is None:
        return None
    head, _ = air.wind.along(direction.bearing, Working(silent=True))
    if math.isnan(head):
        return None
    return replace(air, wind=WindState("assumed", high=-(head - WINDIER)))


def _drive_reach(found: LegAnswer, quiet: Working) -> None:
    """Ten knots more headwind aloft, and five litres less."""
    answer, flight = found.answer("reaches"), found.flight
    index = answer.governing
    if index is None or answer.measures[index].margin is None or found.burnt.missing:
        return
    wind = found.burnt.wind
    bearing = found.burnt.bearing
    speed, origin = wind if wind else (flight.settings.headwind_aloft, bearing)
    # the wind as a vector, and ten knots on top from ahead
    north = speed * math.cos(origin) + ALOFT * math.cos(bearing)
    east = speed * math.sin(origin) + ALOFT * math.sin(bearing)
    aloft = WindAloft(speed=math.hypot(north, east), wind_from=math.atan2(east, north) % (2 * math.pi))
    leg = flight.leg.model_copy(update={"wind_aloft": aloft})
    other = Flight(flight.bundle, flight.trip, leg, flight.now)
    masses = Masses(other, found.first.temperature, quiet)
    again = reaches(other, masses, burn(other, masses, found.first, quiet), found.first, quiet)
    delta = _delta(answer, again)
    drivers: list[dict[str, Any]] = []
    part = answer.measures[index]
    unit = {"unit": part.unit, "dimension": part.dimension}
    if delta is not None:
        drivers.append(
            {"change": message("driver.headwind_aloft", step=ALOFT), "delta": plain(delta), **unit}
        )
    if part.name == "fuel":
        drivers.append({"change": message("driver.less_fuel", step=0.005), "delta": -0.005, **unit})
    answer.drivers = sorted(drivers, key=lambda one: abs(one["delta"]), reverse=True)
