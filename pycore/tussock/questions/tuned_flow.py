"""What the engine drinks in cruise, as the notebook of the aeroplane shows it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..documents.notebook import CruiseEntry, FillEntry
from ..documents.performance import CruiseSetting
from ..sums.tuning.predict import figures
from .answer import CANT_SAY, TIGHT, message
from .flight import Flight
from .tuning import LEAST_ENTRIES, Tuned, sound, tuned

Message = dict[str, Any]
#: entries that are not enough to reckon with, or can't be used, are told from this much above the document
MORE = 1.10


@dataclass(frozen=True)
class Drunk:
    """Flow [m³/s] to reckon with; what was taken for it, and the best that may be said."""

    flow: float
    assumed: Message | None = None
    limit: tuple[str, Message] | None = None


def flow_here(flight: Flight, cruise: CruiseSetting, given: dict[str, float]) -> Drunk:
    """The worse of the flow of a cruise setting and of the notebook's in these conditions.

    `given`: mass [kg], pressure [Pa], density, dry_density [kg/m³] and true airspeed, `speed` [m/s].
    """
    assert cruise.flow is not None
    told = cruise.flow.value
    made = tuned(flight.bundle, flight.plane, flight.configuration.id)
    if made is None:
        return Drunk(told)
    source = made.notebooks[0].name
    count, own, low, high = _by_fit(made, given) if made.usable else _as_noted(made)
    values = {"source": source, "noted": own, "told": told}
    if made.usable and count >= LEAST_ENTRIES and own > told:
        return Drunk(own, message("assumed.flow_noted", **values, low=low, high=high))
    if count and own > MORE * told:
        return Drunk(
            told, limit=(TIGHT if count < LEAST_ENTRIES else CANT_SAY, message("reason.flow_noted", **values))
        )
    return Drunk(told)


def _by_fit(made: Tuned, given: dict[str, float]) -> tuple[int, float, float, float]:
    """How many sound entries tell a flow, and what they make of it here: median and ends of the 90 % band."""
    noted = {one.entry.id for one in sound(made) if one.kind == "flow"}
    if not noted or made.draws is None or made.believed.frame is None:
        return 0, math.nan, math.nan, math.nan
    values = {name: np.array([value]) for name, value in (given | {"flap_drag": 0.0}).items()}
    band = figures(made.draws, "flow", made.believed.frame, values)
    low, middle, high = (float(edge.ravel()[0]) for edge in band)
    return len(noted), middle, low, high


def _as_noted(made: Tuned) -> tuple[int, float, float, float]:
    """The middle of what was noted, as it stands: of a notebook that can't be used."""
    flows = [
        flow
        for notebook in made.notebooks
        for entry in notebook.entries
        if entry.configuration == made.rig and entry.technique == "usual" and (flow := _noted(entry))
    ]
    return len(flows), float(np.median(flows)) if flows else math.nan, math.nan, math.nan


def _noted(entry: Any) -> float | None:
    if isinstance(entry, CruiseEntry) and entry.flow is not None:
        return float(entry.flow.value)
    if isinstance(entry, FillEntry) and entry.engine_time is not None:
        return float(entry.volume.value / entry.engine_time.value)
    return None
