"""Asks all six questions of one leg, in the order in which the day meets them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from ..documents import Bundle, Trip
from ..documents.trip import Leg
from ..sums import air as sums_air
from . import estimates
from .airs import AirState, here, there
from .answer import RANK, TIGHT, Answer, message, plain, worst
from .balances import balances
from .burn import Burn, burn
from .climbs_out import climbs_out
from .doors import before_doors
from .fits import fits
from .flight import Flight
from .lifts_off import lifts_off
from .masses import Masses
from .reaches import reaches
from .runway import Runway
from .stops import stops
from .working import Working


@dataclass
class LegAnswer:
    """The six answers of a leg, with what they were made from."""

    flight: Flight
    answers: list[Answer]
    first: AirState
    far: AirState
    masses: Masses
    burnt: Burn
    runway: Runway
    takeoff_mass: float
    landing_mass: float

    @property
    def verdict(self) -> str:
        return worst(answer.verdict for answer in self.answers)

    @property
    def verdicts(self) -> dict[str, str]:
        return {answer.question: answer.verdict for answer in self.answers}

    def answer(self, question: str) -> Answer:
        return next(answer for answer in self.answers if answer.question == question)

    def margin(self, question: str) -> float:
        """Margin of the governing measure; nan when it cannot be said."""
        found = self.answer(question)
        index = found.governing
        margin = found.measures[index].margin if index is not None else None
        return math.nan if margin is None else margin

    def as_dict(self) -> dict[str, Any]:
        leg = self.flight.leg
        # of several that can't say, one that names what is missing, not what only follows from that
        first = min(self.answers, key=lambda answer: (RANK[answer.verdict], answer.only_follows))
        return {
            "id": leg.id,
            "verdict": self.verdict,
            "worst": first.question,
            "from": self.flight.strip("from").name,
            "to": self.flight.strip("to").name,
            "aeroplane": self.flight.plane.name,
            "configuration": self.flight.configuration.name,
            "answers": [answer.as_dict() for answer in self.answers],
            "warnings": _unique([*self.first.warnings, *self.far.warnings, *self.masses.warnings]),
            "figures": self._figures(),
            "before_doors": before_doors(self.flight),
        }

    def _figures(self) -> dict[str, Any]:
        quiet = Working(silent=True)
        case = self.runway.case
        head, cross = math.nan, math.nan
        direction = self.flight.direction("from")
        if direction is not None and self.first.wind is not None:
            head, cross = self.first.wind.along(direction.bearing, quiet)
        return {
            "takeoff_mass": plain(self.takeoff_mass),
            "landing_mass": plain(self.landing_mass),
            "fuel": plain(self.masses.fuel),
            "persons": len(self.flight.seated),
            "pressure_altitude": plain(self._altitude(self.first)),
            "density_altitude": plain(_density_altitude(self.first)),
            "far_density_altitude": plain(_density_altitude(self.far)),
            "temperature": plain(self.first.temperature),
            "air_at": self.first.at.isoformat() if self.first.at else None,
            "headwind": plain(head),
            "crosswind": plain(cross),
            "distance": plain(self.burnt.distance),
            "bearing": plain(self.burnt.bearing),
            "flight_time": plain(self.burnt.time),
            "departure": self.flight.departure.isoformat(),
            "arrival": self.burnt.arrival.isoformat() if self.burnt.arrival else None,
            "slope": case.slope(case.length, quiet) if case else None,
        }

    def _altitude(self, state: AirState) -> float:
        return math.nan if math.isnan(state.pressure) else state.pressure_altitude(Working(silent=True))


def _density_altitude(state: AirState, *, adverse: bool = False) -> float:
    """Density altitude [m]; without a dew point that of dry air, or (`adverse`) that of saturated air."""
    if math.isnan(state.pressure) or math.isnan(state.temperature):
        return math.nan
    vapour = max(state.moistures(Working(silent=True))) if adverse else state.vapour or 0.0
    density = sums_air.air_density(state.pressure, state.temperature, vapour)
    return float(sums_air.density_altitude(density))


def _unique(found: list[dict[str, Any]]) -> list[dict[str, Any]]:
    kept: list[dict[str, Any]] = []
    for one in found:
        if one not in kept:
            kept.append(one)
    return kept


def ask(bundle: Bundle, trip: Trip, leg: Leg, now: datetime, *, silent: bool = False) -> LegAnswer:
    """All six answers of one leg. `silent` leaves out the working: the figures are the same."""
    flight = Flight(bundle, trip, leg, now)

    def pen() -> Working:
        return Working(silent=silent)

    reading = pen()
    first = here(flight, reading)
    weighing = pen()
    masses = Masses(flight, first.temperature, weighing)
    masses.tanks  # noqa: B018 - looks the tanks up, so that what is missing in them is named
    burning = pen()
    burnt = burn(flight, masses, first, burning)
    takeoff_mass = landing_mass = math.nan
    quiet_masses = masses if silent else Masses(flight, first.temperature, Working(silent=True))
    if masses.known and not math.isnan(burnt.takeoff):
        takeoff_mass = quiet_masses.state("takeoff", burnt.takeoff).mass
        # unknown burn: heavy is the adverse side for landing
        end = burnt.landing_least if not math.isnan(burnt.landing) else burnt.takeoff
        landing_mass = quiet_masses.state("landing", min(end, masses.fuel)).mass
    elif masses.known:
        takeoff_mass = landing_mass = quiet_masses.state("ramp", 0.0).mass
    far = there(flight, first, burnt.arrival, reading)
    density_altitude = _density_altitude(first, adverse=True)
    lifting = pen()
    lifted, runway = lifts_off(flight, first, takeoff_mass, lifting)
    answers = [
        fits(flight, pen()),
        balances(flight, masses, burnt, density_altitude, weighing),
        lifted,
        climbs_out(flight, first, runway, takeoff_mass, pen()),
        reaches(flight, masses, burnt, first, burning),
        stops(flight, far, landing_mass, pen()),
    ]
    for question in ("lifts_off", "climbs_out", "balances"):
        found = next(a for a in answers if a.question == question)
        found.working = [*reading.steps, *found.working]
    if burnt.missing or math.isnan(burnt.spared):
        for question in ("stops", "balances"):
            found = next(a for a in answers if a.question == question)
            found.assumptions.append(message("assumed.landing_as_takeoff"))
    _density_altitude_step(answers[2], first)
    if burnt.climb is not None and burnt.climb.estimated:
        answers[4].limit(TIGHT, message("reason.estimated_source", source=burnt.climb.name))
    estimates.cap(flight, answers)
    return LegAnswer(flight, answers, first, far, masses, burnt, runway, takeoff_mass, landing_mass)


def _density_altitude_step(answer: Answer, air: AirState) -> None:
    """The density altitude leads the working of *lifts off*: it is what a pilot asks first."""
    if math.isnan(air.pressure) or math.isnan(air.temperature):
        return
    work = Working()
    density = work.step(
        sums_air.air_density,
        pressure=air.pressure,
        temperature=air.temperature,
        vapour_pressure=air.vapour or 0.0,
    )
    work.step(sums_air.density_altitude, density=density)
    if answer.working:
        answer.working = [*work.steps, *answer.working]
