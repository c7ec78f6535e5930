"""Take-off and landing distances with their band, as the notebook of the aeroplane shows them.

One source more beside book, known distances and constants, so that nothing gets better by it: the worse of
all that can answer decides, and of this one the upper end of the band counts where that is longer than the
distance with the safety factor.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..sums.factors import counted_wind
from ..sums.landing import REFERENCE
from ..sums.tuning.governor import reaches
from ..sums.tuning.model import Values, lift_off_speed, screen_speed
from ..sums.tuning.parameters import named
from ..sums.tuning.predict import band, runs, widened
from .answer import message
from .banding import SOURCE, Band, guessed, lacking, spread_here, tuned_for
from .distances import Case, Distance
from .entries import flap_drag, speed_factors
from .tuning import Tuned, too_few
from .working import Working

Message = dict[str, Any]
SCREEN = 15.24


def distance(case: Case, approach: float, work: Working) -> Distance | None:
    """Distance with its band by the notebook; None without one that tells of this phase."""
    made = tuned_for(case.flight)
    phase = "takeoff" if case.takeoff else "landing"
    if made is None:
        lacks = lacking(case.flight, phase)
        return Distance(SOURCE, lacks[0], "notebook", reason=lacks[1]) if lacks else None
    name = made.notebooks[0].name

    def silent(reason: Message) -> Distance:
        return Distance(SOURCE, name, "notebook", reason=reason)

    few = too_few(made, phase)
    if few is not None:
        return silent(few)
    if phase not in made.seen or made.draws is None:
        return None
    if phase not in made.through_air and guessed(made):
        return silent(message("reason.roll_only", source=name))
    if math.isnan(case.setting.stall):
        return silent(message("missing.stall", flap=case.setting.flap.name))
    if case.grass is not None and case.grass > 0.2:
        return silent(message("reason.long_grass"))
    given = conditions(made, case, approach, work)
    if given is None:
        text = "missing.rolling_friction" if case.takeoff else "missing.braking_friction"
        return silent(message(text, surface=message(f"surface.{case.surface}")))
    if case.takeoff and not _reached(made, given):
        return silent(message("reason.outside_curve", source=name))
    more = spread_here(made.seen[phase], case.mass, case.density, work)
    if math.isnan(more):
        return silent(message("reason.outside_seen", source=name))
    draws = widened(made.draws, more) if more > 0.0 else made.draws
    assert made.believed.frame is not None
    rolls, overs = runs(draws, made.believed.frame, given, landing=not case.takeoff)
    roll, over = (Band(*(float(edge.ravel()[0]) for edge in band(lengths))) for lengths in (rolls, overs))
    reason = None
    if math.isinf(over.median):
        reason = message("reason.no_acceleration" if case.takeoff else "reason.no_stop")
    return Distance(SOURCE, name, "notebook", roll.median, over.median, reason, guessed(made), over, roll)


def _reached(made: Tuned, given: Values) -> bool:
    """Whether a governed propeller's curve reaches the speeds of a take-off as it is flown."""
    frame = made.believed.frame
    assert frame is not None and made.draws is not None
    if frame.governor is None:
        return True
    p = named(made.draws.mean, governed=True)
    speeds = np.concatenate([lift_off_speed(p, given).ravel(), screen_speed(p, given).ravel()])
    return bool(np.all(reaches(frame.governor, frame.propeller_diameter, speeds)))


def _friction(made: Tuned, case: Case, phase: str) -> float | None:
    """The friction that the fit's factor is on: the document's, or that of a surface which was rolled on."""
    source = made.believed.source
    own = next((s for s in source.friction if s.surface == case.surface), None) if source else None
    figure = (own.rolling if case.takeoff else own.braked) if own else None
    if figure is not None:
        return figure.value
    if case.surface not in made.surfaces.get(phase, set()):
        return None
    kinds = ("friction", "roll") if case.takeoff else ("braking", "landing")
    for one in made.read.figures:
        if getattr(one.entry, "surface", None) == case.surface and kinds[0] in one.given:
            return one.given[kinds[0]]
    return None


def conditions(made: Tuned, case: Case, approach: float, work: Working) -> Values | None:
    """The conditions of a case as the model takes them; of wind and slope what every source counts.

    None where the surface's friction is not known, or the flap has no stall.
    """
    flap, setting = case.setting.flap, case.setting
    friction = _friction(made, case, "takeoff" if case.takeoff else "landing")
    if friction is None or math.isnan(setting.stall):
        return None
    assert flap.stall is not None and flap.stall_mass is not None
    slopes = case.segments[1]
    quiet = Working(silent=True)
    gust = 0.0
    if case.takeoff:
        # the worst mean slope of any beginning as long as half the strip; downhill gives no credit
        slope = max(case.slope(0.5 * case.length, quiet), 0.0)
        away = max([0.0, *slopes])
    else:
        slope = min([0.0, *slopes])
        away = 0.0
        gust = setting.true(approach) - setting.true(REFERENCE * setting.stall)
    given = {
        "mass": case.mass,
        "pressure": case.pressure,
        "density": case.density,
        "dry_density": case.dry_density,
        "headwind": float(work.step(counted_wind, headwind=case.headwind)),
        "slope": slope,
        "slope_away": away,
        "friction": friction,
        "braking": friction,
        "stall": flap.stall.value,
        "stall_mass": flap.stall_mass.value,
        "flap_drag": flap_drag(flap, made.believed.source)[0],
        "gust": gust,
        "from_height": SCREEN,
        **speed_factors(flap),
    }
    return {name: np.array([value]) for name, value in given.items()}
