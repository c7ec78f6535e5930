"""Bands by a notebook: the draws that hold for the mass and air of a case, and how a band is told."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from ..sums.air import density_altitude
from ..sums.bands import beyond_seen, widening
from .answer import CANT_SAY, TIGHT, Answer, message
from .flight import Flight
from .tuning import LEAST_ENTRIES, Seen, Tuned, too_few, tuned
from .working import Working

#: noted stalls this much over the document's leave no yes: a fifth of the margin of 1.2 and more
FASTER = 1.04
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


def add_doubts(answer: Answer, flight: Flight, phase: str) -> None:
    """What entries do to an answer that is not made from them: that of a notebook which can't be used too.

    The old constants stay, but what was noted is not unknown by that: where it tells of this phase nothing is
    better than tight, and where it was worse than the documents say, nobody can say.
    """
    made = tuned(flight.bundle, flight.plane, flight.configuration.id)
    worse = gone_worse(made, phase)
    if worse is not None:
        answer.limit(*worse)
    if made is None:
        return
    few = too_few(made, phase)
    if few is not None and made.noted.get(phase):
        # one entry alone may be wrong; that it may be right leaves no bare yes
        answer.limit(TIGHT, few)
    _add_stall(answer, made)
    why = unused(flight)
    if why is None:
        return
    if phase in made.noted:
        answer.limit(CANT_SAY if made.noted[phase] else TIGHT, why)
    elif why not in answer.notes:
        answer.notes.append(why)


def _add_stall(answer: Answer, made: Tuned) -> None:
    """Speeds on the dial are multiples of the document's stall: where it stalls faster they are too slow."""
    over, count = made.stall
    if count == 0 or over <= FASTER:
        return
    why = message("reason.stall_noted", source=made.notebooks[0].name, over=over - 1.0)
    answer.limit(TIGHT if count < LEAST_ENTRIES else CANT_SAY, why)


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
