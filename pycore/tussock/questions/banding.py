"""Bands by a notebook: the draws that hold for the mass and air of a case, and how a band is told."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from ..sums.air import density_altitude
from ..sums.bands import beyond_seen, widening
from .answer import CANT_SAY, TIGHT, message
from .flight import Flight
from .tuning import Seen, Tuned, tuned
from .working import Working

#: id of the notebook among the sources of an answer
SOURCE = "notebook"


@dataclass(frozen=True)
class Band:
    """90 % band of a figure, and its median; `high` is also the one-sided upper 95 %, `low` the lower."""

    low: float
    median: float
    high: float

    def as_dict(self) -> dict[str, Any]:
        """For JSON: an end that is infinite is None."""
        ends = {"low": self.low, "median": self.median, "high": self.high, "upper95": self.high}
        return {name: value if math.isfinite(value) else None for name, value in ends.items()}


def tuned_for(flight: Flight) -> Tuned | None:
    """The tuned aeroplane of this leg, where it may be used."""
    made = tuned(flight.bundle, flight.plane, flight.configuration.id)
    return made if made is not None and made.usable else None


def lacking(flight: Flight, phase: str) -> tuple[str, dict[str, Any]] | None:
    """Name of a notebook that would tell of a phase, and which figures of the aeroplane lack to read it."""
    made = tuned(flight.bundle, flight.plane, flight.configuration.id)
    why = next((one for one in made.reasons if one["text"] == "tune.lacking"), None) if made else None
    if made is None or why is None:
        return None
    noted = [
        entry
        for notebook in made.notebooks
        for entry in notebook.entries
        if entry.configuration == made.rig and entry.what == phase and entry.technique == "usual"
    ]
    return (made.notebooks[0].name, why) if noted else None


def gone_worse(made: Tuned | None, phase: str) -> tuple[str, dict[str, Any]] | None:
    """The best that may be said where entries went too badly to belong to the rest, and why."""
    if made is None or phase not in made.worse:
        return None
    count, latest = made.worse[phase]
    name = made.notebooks[0].name
    if count > 1:
        return CANT_SAY, message("reason.gone_worse", source=name, count=count)
    return (TIGHT, message("reason.latest_worse", source=name)) if latest else None


def guessed(made: Tuned) -> bool:
    """Whether what the notebook did not tell is the class's or an estimate: then no bare yes."""
    source = made.believed.source
    return source is None or made.believed.guessed or '"estimated"' in source.model_dump_json()


def unused(flight: Flight) -> dict[str, Any] | None:
    """Why a notebook that is there was fitted and is not used; None where there is nothing to say."""
    made = tuned(flight.bundle, flight.plane, flight.configuration.id)
    if made is None or made.usable or made.found is None:
        return None
    return message("note.notebook_unused", source=made.notebooks[0].name, why=made.reasons[0])


def spread_here(seen: Seen, mass: float, density: float, work: Working) -> float:
    """Spread to add to the logarithm beyond what was seen; 0 inside, nan where that is too far."""
    beyond = work.step(
        beyond_seen,
        mass=mass,
        mass_low=seen.mass_low,
        mass_high=seen.mass_high,
        density_altitude=float(density_altitude(density)),
        density_altitude_low=seen.density_altitude_low,
        density_altitude_high=seen.density_altitude_high,
    )
    if float(beyond.adverse) == 0.0 and float(beyond.mild) == 0.0:
        return 0.0
    return float(work.step(widening, adverse=float(beyond.adverse), mild=float(beyond.mild)))
