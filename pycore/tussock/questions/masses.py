"""Masses and arms of a leg: what is aboard, where, and how it changes as fuel burns."""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import numpy as np

from ..documents.aeroplane import Configuration, WeighedOnScales
from ..sums.loading import Loaded, arm_spread, centre_of_gravity, fuel_density
from .answer import message
from .flight import Flight
from .working import Working

#: reference densities of fuel [kg/m³] at 15 degC by grade: the trade's working figures
FUEL_DENSITY = {"avgas": 720.0, "mogas": 730.0, "jet_a1": 800.0}
STANDARD_DAY = 288.15


@dataclass(frozen=True)
class Part:
    """One mass at one arm, with its standard deviation."""

    name: str
    group: str
    mass: float
    arm: float
    sd: float


@dataclass(frozen=True)
class State:
    """The aeroplane at one moment: total mass [kg], arm [m], and the spread of the arm [m]."""

    name: str
    loaded: Loaded
    spread: float
    values: dict[str, Any] = field(default_factory=dict)

    @property
    def mass(self) -> float:
        return float(self.loaded.mass)

    @property
    def arm(self) -> float:
        return float(self.loaded.arm)


class Masses:
    """All masses of a flight. `missing` names the figures without which nothing can be said."""

    def __init__(self, flight: Flight, temperature: float, work: Working) -> None:
        self.flight, self.work = flight, work
        self.missing: list[dict[str, Any]] = []
        self.assumed: list[dict[str, Any]] = []
        self.warnings: list[dict[str, Any]] = []
        self.dry: list[Part] = [*self._empty(), *self._people(), *self._kit()]
        self.density = self._density(temperature)

    @property
    def known(self) -> bool:
        return not self.missing

    # --- parts ---------------------------------------------------------------------------------------------

    def _empty(self) -> list[Part]:
        flight, plane = self.flight, self.flight.plane
        chain = [flight.configuration]
        by_id = {c.id: c for c in plane.configurations}
        while chain[-1].weighing is None and chain[-1].based_on:
            chain.append(by_id[chain[-1].based_on])
        record = chain[-1].weighing
        if record is None:
            self.missing.append(message("missing.weighing", configuration=flight.configuration.name))
            return []
        if isinstance(record, WeighedOnScales):
            masses = [s.reading.value - (s.tare.value if s.tare else 0.0) for s in record.scales]
            arms = [s.arm.value for s in record.scales]
            sd = math.sqrt(sum(flight.spread(s.reading) ** 2 for s in record.scales))
        else:
            masses, arms = [record.mass.value], [record.arm.value]
            sd = flight.spread(record.mass)
        weighed = self.work.step(
            centre_of_gravity, masses=masses, arms=arms, label=message("label.empty", name=chain[-1].name)
        )
        parts = [Part("empty", "empty", float(weighed.mass), float(weighed.arm), sd)]
        parts += self._changes(chain)  # those since the weighing too
        if record.includes_oil is None:
            self.missing.append(message("missing.record_oil"))
        elif not record.includes_oil:
            oil = plane.engine.oil
            if oil is None:
                self.missing.append(message("missing.oil"))
            else:
                parts.append(Part("oil", "empty", oil.mass.value, oil.arm.value, flight.spread(oil.mass)))
        if record.includes_unusable_fuel is None:
            self.missing.append(message("missing.record_unusable"))
        elif not record.includes_unusable_fuel:
            for tank in flight.tanks:
                if tank.unusable is None or tank.arm is None:
                    self.missing.append(message("missing.unusable", tank=tank.name))
                else:
                    mass = tank.unusable.value * FUEL_DENSITY[self.grade]
                    parts.append(Part("unusable", "empty", mass, tank.arm.value, 0.0))
        return parts

    def _changes(self, chain: list[Configuration]) -> list[Part]:
        return [
            Part(change.name, "empty", change.mass.value, change.arm.value, self.flight.spread(change.mass))
            for configuration in chain
            for change in configuration.changes
        ]

    def _people(self) -> list[Part]:
        parts = []
        arms = {seat.id: seat for seat in self.flight.plane.seats}
        for name, person in self.flight.seated:
            seat = arms[name]
            if person.mass is None:
                self.missing.append(message("missing.person_mass", person=person.name))
            elif seat.arm is None:
                self.missing.append(message("missing.arm", station=seat.name))
            else:
                parts.append(
                    Part(
                        person.name, name, person.mass.value, seat.arm.value, self.flight.spread(person.mass)
                    )
                )
        return parts

    def _kit(self) -> list[Part]:
        parts = []
        bays = {bay.id: bay for bay in self.flight.plane.bays}
        for placed in self.flight.bagless:
            self.missing.append(message("missing.bag", item=self.flight.bundle.items[placed.item].name))
        for thing in self.flight.aboard:
            bay = bays[thing.bay]
            if thing.mass is None:
                self.missing += [message("missing.item_mass", item=name) for name in thing.lacking]
            elif bay.arm is None:
                self.missing.append(message("missing.arm", station=bay.name))
            else:
                parts.append(Part(thing.item.name, bay.id, thing.mass, bay.arm.value, thing.sd))
        return parts

    # --- fuel ----------------------------------------------------------------------------------------------

    @cached_property
    def grade(self) -> str:
        """Grade of the fuel aboard: as the leg says, else the heaviest of those that it may be."""
        told = self.flight.leg.fuel_grade
        if told is not None:
            return told
        heaviest = max(self.flight.plane.engine.grades or FUEL_DENSITY, key=FUEL_DENSITY.__getitem__)
        self.assumed.append(message("assumed.fuel_grade", grade=message(f"grade.{heaviest}")))
        return heaviest

    def _density(self, temperature: float) -> float:
        if math.isnan(temperature):
            temperature = STANDARD_DAY
            self.assumed.append(message("assumed.fuel_temperature"))
        density = self.work.step(
            fuel_density, reference_density=FUEL_DENSITY[self.grade], temperature=temperature
        )
        if math.isnan(density):
            self.missing.append(message("reason.fuel_density", temperature=temperature))
        return float(density)

    @cached_property
    def tanks(self) -> dict[str, float]:
        """Usable fuel aboard by tank [m³]. A tank without a line is missing, not empty."""
        inside = {tank.id for tank in self.flight.tanks}
        given = {f.tank: f.volume.value for f in self.flight.leg.fuel if f.tank in inside}
        for tank in self.flight.tanks:
            if tank.id not in given:
                self.missing.append(message("missing.fuel", tank=tank.name))
            elif tank.arm is None:
                self.missing.append(message("missing.arm", station=tank.name))
        if not self.flight.tanks:
            self.missing.append(message("missing.tanks"))
        return given

    @property
    def fuel(self) -> float:
        """Usable fuel aboard [m³]."""
        return sum(self.tanks.values())

    def after(self, burnt: float) -> dict[str, float]:
        """Fuel by tank [m³] after `burnt` [m³], in burn order; tanks of one order empty in step."""
        left = dict(self.tanks)
        orders = sorted({tank.burn_order for tank in self.flight.tanks})
        for order in orders:
            group = [t.id for t in self.flight.tanks if t.burn_order == order and t.id in left]
            held = sum(left[t] for t in group)
            taken = min(burnt, held)
            for tank in group:
                left[tank] -= taken * (left[tank] / held if held > 0 else 0.0)
            burnt -= taken
        return left

    def by_station(self) -> list[dict[str, Any]]:
        """What stands at each station that is not empty: its id, mass [kg] and arm [m], fuel last."""
        found: dict[str, dict[str, Any]] = {}
        for part in self.dry:
            if part.group != "empty":
                here = found.setdefault(part.group, {"id": part.group, "mass": 0.0, "arm": part.arm})
                here["mass"] += part.mass
        for tank in self.flight.tanks:
            if tank.id in self.tanks and tank.arm is not None:
                mass = self.tanks[tank.id] * self.density
                found[tank.id] = {"id": tank.id, "mass": mass, "arm": tank.arm.value}
        return list(found.values())

    def moments_of_emptying(self) -> list[tuple[str, float]]:
        """(tank names, fuel burnt [m³]) at which the tanks of one burn order run empty."""
        found, burnt = [], 0.0
        for order in sorted({tank.burn_order for tank in self.flight.tanks}):
            group = [t for t in self.flight.tanks if t.burn_order == order]
            burnt += sum(self.tanks.get(t.id, 0.0) for t in group)
            found.append((", ".join(t.name for t in group), burnt))
        return found

    # --- states --------------------------------------------------------------------------------------------

    def state(
        self,
        name: str,
        burnt: float,
        *,
        without: str | None = None,
        only: Collection[str] | None = None,
        **values: Any,
    ) -> State:
        """The aeroplane after `burnt` [m³] of fuel; `without` an occupant, or with `only` some groups."""
        parts = [p for p in self.dry if p.group != without and (only is None or p.group in only)]
        fuel = self.after(burnt)
        arms = {tank.id: tank.arm.value for tank in self.flight.tanks if tank.arm is not None}
        masses = [p.mass for p in parts] + [fuel[t] * self.density for t in fuel if t in arms]
        places = [p.arm for p in parts] + [arms[t] for t in fuel if t in arms]
        sds = [p.sd for p in parts] + [0.0] * (len(masses) - len(parts))
        label = message("label.state", state=message(f"state.{name}", **values))
        loaded = self.work.step(centre_of_gravity, masses=masses, arms=places, label=label)
        spread = float(arm_spread(np.array(masses), np.array(places), np.array(sds)))
        return State(name, loaded, spread, values)

    @property
    def mass_sd(self) -> float:
        """Standard deviation of the total mass [kg]."""
        return math.sqrt(sum(part.sd**2 for part in self.dry))
