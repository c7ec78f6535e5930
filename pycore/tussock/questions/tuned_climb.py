"""The climb with its band, as the notebook of the aeroplane shows it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from ..sums.tuning.governor import reaches
from ..sums.tuning.predict import figures
from .answer import message
from .banding import SOURCE, Band, guessed, lacking, spread_here, tuned_for
from .entries import flap_drag
from .flight import Flight
from .speeds import Setting
from .tuning import too_few
from .working import Working

Message = dict[str, Any]
#: spread of a rate of climb [m/s] for a spread of 1 of a distance's logarithm: 40 ft/min for 0.10
RATE_SPREAD = 2.0
_TAIL = 1.645


@dataclass(frozen=True)
class RateBand:
    """Rate of climb [m/s] at a true airspeed by the notebook, in still air; or why it can't say."""

    source: str
    name: str
    speed: float
    rates: Band | None = None
    reason: Message | None = None
    estimated: bool = False

    def counted(self, sinking_air: float) -> float:
        """The rate that counts [m/s], of which an allowance for sinking air is still to be taken.

        The median, or the lower end of the band where that is less than the median less the allowance: as
        with distances, the margin and the one-sided 95 % do not add up, the worse of them counts.
        """
        if self.rates is None:
            return math.nan
        return min(self.rates.median, self.rates.low + sinking_air)


def climb(flight: Flight, setting: Setting, dry: float, calibrated: float, work: Working) -> RateBand | None:
    """The climb at a calibrated speed; None without a notebook that tells of climbing.

    The band is that of single climbs as flown, with what the air did on the day.
    """
    made = tuned_for(flight)
    if made is None:
        lacks = lacking(flight, "climb")
        return RateBand(SOURCE, lacks[0], math.nan, reason=lacks[1]) if lacks else None
    if math.isnan(calibrated):
        return None
    name, speed = made.notebooks[0].name, setting.true(calibrated)
    few = too_few(made, "climb")
    if few is not None:
        return RateBand(SOURCE, name, speed, reason=few)
    if "climb" not in made.seen or made.draws is None:
        return None
    more = spread_here(made.seen["climb"], setting.mass, setting.density, work)
    if math.isnan(more):
        return RateBand(SOURCE, name, speed, reason=message("reason.outside_seen", source=name))
    frame = made.believed.frame
    assert frame is not None
    if frame.governor is not None and not reaches(frame.governor, frame.propeller_diameter, speed):
        return RateBand(SOURCE, name, speed, reason=message("reason.outside_curve", source=name))
    given = {
        "mass": setting.mass,
        "density": setting.density,
        "dry_density": dry,
        "speed": speed,
        "flap_drag": flap_drag(setting.flap, made.believed.source)[0],
    }
    edges = figures(made.draws, "climb", frame, {k: np.array([v]) for k, v in given.items()})
    low, middle, high = (float(edge.ravel()[0]) for edge in edges)
    wider = _TAIL * RATE_SPREAD * more
    ends = Band(middle - math.hypot(middle - low, wider), middle, middle + math.hypot(high - middle, wider))
    return RateBand(SOURCE, name, speed, ends, estimated=guessed(made))
