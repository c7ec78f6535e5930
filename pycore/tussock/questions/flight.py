"""One leg, with everything it names looked up: the case that the six questions are asked of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from ..documents import Aeroplane, Air, Bundle, Person, Settings, Strip, Trip
from ..documents.aeroplane import Bay, Configuration, Envelope, FlapSetting, Seat, Tank, Undercarriage
from ..documents.base import Figure
from ..documents.performance import PerformanceSource
from ..documents.strip import Direction
from ..documents.trip import Leg, Load, Placed
from .aboard import Aboard, things_of


@dataclass(frozen=True)
class Flight:
    """A leg of a trip at a moment. Documents are taken as accepted by the gate."""

    bundle: Bundle
    trip: Trip
    leg: Leg
    now: datetime

    @cached_property
    def settings(self) -> Settings:
        return self.bundle.settings_of(self.trip)

    @cached_property
    def plane(self) -> Aeroplane:
        found = self.bundle.of(Aeroplane, self.leg.aeroplane or self.trip.aeroplane)
        assert found is not None, "the gate checks this link"
        return found

    @cached_property
    def configuration(self) -> Configuration:
        name = self.leg.configuration or self.trip.configuration
        return next(c for c in self.plane.configurations if c.id == name)

    @cached_property
    def load(self) -> Load:
        return next(load for load in self.trip.loads if load.id == self.leg.load)

    def strip(self, end: str) -> Strip:
        """The strip at "from" or "to"."""
        found = self.bundle.of(Strip, self.leg.from_strip if end == "from" else self.leg.to_strip)
        assert found is not None, "the gate checks this link"
        return found

    def direction(self, end: str) -> Direction | None:
        """The direction that the leg takes off or lands in; None when none was chosen."""
        name = self.leg.takeoff_direction if end == "from" else self.leg.landing_direction
        return next((d for d in self.strip(end).directions if d.id == name), None)

    def air(self, end: str) -> Air | None:
        return self.bundle.of(Air, self.leg.air_from if end == "from" else self.leg.air_to)

    @cached_property
    def departure(self) -> datetime:
        """When the leg starts: its departure, or now when that has passed or none was given."""
        return max(self.leg.departure, self.now) if self.leg.departure else self.now

    @cached_property
    def seats(self) -> list[Seat]:
        return [seat for seat in self.plane.seats if seat.id not in self.configuration.seats_out]

    @cached_property
    def bays(self) -> list[Bay]:
        return [bay for bay in self.plane.bays if bay.id not in self.configuration.bays_out]

    @cached_property
    def tanks(self) -> list[Tank]:
        return [tank for tank in self.plane.tanks if tank.id not in self.configuration.tanks_out]

    @cached_property
    def undercarriage(self) -> Undercarriage | None:
        return self.configuration.undercarriage or self.plane.undercarriage

    @cached_property
    def seated(self) -> list[tuple[str, Person]]:
        """Seat id and person, for all who are aboard."""
        found = ((s.seat, self.bundle.of(Person, s.person)) for s in self.load.seats)
        return [(seat, person) for seat, person in found if person is not None]

    @cached_property
    def _things(self) -> tuple[list[Aboard], list[Placed]]:
        return things_of(self.load, self.bundle.items, self.spread)

    @property
    def things(self) -> list[Aboard]:
        """The things of the load that are in no other, also those that stay behind."""
        return self._things[0]

    @property
    def bagless(self) -> list[Placed]:
        """Lines of the load inside something that is not on it, or inside each other."""
        return self._things[1]

    @cached_property
    def aboard(self) -> list[Aboard]:
        """The things that ride in a bay, with what is inside them."""
        return [thing for thing in self.things if thing.bay]

    def spread(self, figure: Figure) -> float:
        """Standard deviation [kg] of a mass: its own, or by where it came from."""
        if figure.sd is not None:
            return figure.sd
        by_origin = {"measured": 0.5, "book": 1.0, "estimated": 5.0}
        return by_origin[figure.origin] * self.settings.weight_sd * abs(figure.value)

    @cached_property
    def envelope(self) -> Envelope | None:
        """The envelope of the configuration's category; the only one when it names none."""
        category = self.configuration.category
        if category is None:
            return self.plane.envelopes[0] if len(self.plane.envelopes) == 1 else None
        return next((e for e in self.plane.envelopes if e.category == category), None)

    def flap(self, end: str) -> FlapSetting | None:
        """The flap setting chosen for take-off ("from") or landing ("to"), or the only one for that use."""
        name = self.leg.takeoff_flap if end == "from" else self.leg.landing_flap
        if name is not None:
            return next((f for f in self.plane.flaps if f.id == name), None)
        use = "takeoff" if end == "from" else "landing"
        fit = [f for f in self.plane.flaps if use in f.used_for]
        return fit[0] if len(fit) == 1 else None

    def quirks(self, question: str, end: str | None = None) -> list[str]:
        """The owner's notes at a question as it is rigged, with the flap at an `end` ("from" or "to")."""
        flap = self.flap(end) if end else None
        return [
            quirk.text
            for quirk in self.plane.quirks
            if question in quirk.at
            and quirk.configuration in (None, self.configuration.id)
            and (quirk.flap is None or end is None or (flap is not None and quirk.flap == flap.id))
        ]

    def sources(self, kinds: Iterable[str], phase: str | None = None) -> list[PerformanceSource]:
        """Performance sources of those kinds that hold for this configuration (and phase)."""
        return [
            source
            for source in self.plane.performance
            if source.source in kinds
            and (source.configurations is None or self.configuration.id in source.configurations)
            and (phase is None or getattr(source, "phase", phase) == phase)
        ]


def flown_alike(trip: Trip, flown: Leg) -> list[Leg]:
    """The legs that fly with the load of this one, in the same aeroplane."""
    same = (flown.load, flown.aeroplane or trip.aeroplane)
    return [one for one in trip.legs if (one.load, one.aeroplane or trip.aeroplane) == same]
