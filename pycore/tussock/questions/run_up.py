"""The run-up check: static rotation at the strip against this aeroplane's own baseline in this air.

What the torque lacks, with a band from the tachometer, and what that does to the take-off roll of a leg. It
holds in calm or crosswind, leaned for best power, with the carburettor's heat cold.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..documents.performance import Constants
from ..sums.air import RHO0, air_density, dry_air_density, isa_pressure
from ..sums.factors import counted_wind
from ..sums.power import static_torque_fraction
from ..sums.tuning.model import predict
from ..sums.tuning.parameters import INDEX
from . import physics
from .airs import AirState
from .answer import CANT_SAY, NO, YES, message, plain
from .banding import tuned_for
from .distances import Case
from .flight import Flight
from .runway import case_at
from .tuned_runs import conditions
from .working import Working

Message = dict[str, Any]
#: reading error of a tachometer, as a part, where its own is not noted: common practice, no source
TACHOMETER = 0.01
#: one-sided 95 % of a normal deviate
TAIL = 1.6449
#: a band that reaches below this share of the torque tells no health: common practice, no source
SURELY_THERE = 0.92
#: along-wind above which a static rotation says nothing [m/s]: 5 kt, common practice, no source
STILL_WIND = 5 * 1852 / 3600


def run_up(
    flight: Flight, air: AirState, mass: float, rotation: float, *, across: bool = False
) -> dict[str, Any]:
    """The check at the strip of departure for a static `rotation` [1/s].

    `across`: whoever read it stood across the wind, or in a calm. Otherwise it was read along the runway.

    `verdict`: "yes" inside the band, "no" where the torque is surely short, "can't say" where something is
    missing, the wind blows along, or it turns faster than it can.
    """
    work = Working()
    told: dict[str, Any] = {
        "verdict": CANT_SAY, "rotation": rotation, "expected": None, "fraction": None, "low": None,
        "high": None, "missing": None, "error": None, "roll": None, "reasons": [], "notes": [],
        "assumptions": [message("assumed.run_up")],
    }  # fmt: skip
    reasons = _lacking(flight, air)
    if reasons:
        return told | {"reasons": reasons, "working": work.steps}
    fraction = _fraction(flight, air, rotation, work)
    if not fraction > 0.0:
        return told | {"reasons": [message("reason.run_up_outside")], "working": work.steps}
    baseline = flight.plane.run_up
    assert baseline is not None
    error = baseline.tachometer_error.value if baseline.tachometer_error else TACHOMETER
    if baseline.tachometer_error is None:
        told["assumptions"].append(message("assumed.tachometer", error=TACHOMETER))
    # both readings are off by themselves, and the torque goes with the square
    half = 2.0 * TAIL * math.hypot(error, error)
    low, high = fraction * (1.0 - half), fraction * (1.0 + half)
    expected = rotation / math.sqrt(fraction)
    told |= {
        "expected": expected, "fraction": fraction, "low": low, "high": high, "missing": 1.0 - fraction,
        "error": error, "roll": _roll(flight, air, mass, min(fraction, 1.0)),
    }  # fmt: skip
    told["notes"] = [*([] if across else _notes(flight, air)), *_doubts(flight, air)]
    if high < 1.0:
        told["verdict"] = NO
        told["reasons"] = [message("reason.run_up_short", missing=1.0 - fraction, expected=expected)]
    elif low > 1.0:
        told["reasons"] = [message("reason.run_up_above", more=fraction - 1.0)]
    elif low < SURELY_THERE:
        told["reasons"] = [message("reason.run_up_dial", low=low, high=high)]
    else:
        # a wind along the nose lets the propeller turn faster than its torque deserves
        text = "reason.run_up_doubtful" if told["notes"] else "reason.run_up_inside"
        told["verdict"] = CANT_SAY if told["notes"] else YES
        told["reasons"] = [message(text, fraction=fraction, low=low, high=high)]
    return told | {"working": work.steps}


def _lacking(flight: Flight, air: AirState) -> list[Message]:
    found = []
    if flight.plane.run_up is None:
        found.append(message("tune.no_baseline"))
    if flight.plane.engine.aspiration == "supercharged":
        found.append(message("reason.supercharged"))
    if flight.plane.propeller is None:
        found.append(message("tune.lacking", names="propeller"))
    elif flight.plane.propeller.pitch_is == "constant_speed":
        found.append(message("reason.run_up_governed"))
    if math.isnan(air.pressure) or math.isnan(air.temperature):
        found += [*air.missing] or [message("tune.left.no_air")]
    return found


def _fraction(flight: Flight, air: AirState, rotation: float, work: Working) -> float:
    """Share of the torque that the baseline promises in this air; the baseline's air is taken as dry."""
    baseline = flight.plane.run_up
    assert baseline is not None
    then = float(air_density(float(isa_pressure(baseline.pressure_altitude)), baseline.temperature, 0.0))
    vapour = air.vapour or 0.0
    return float(
        work.step(
            static_torque_fraction,
            static_rotation=rotation,
            baseline_rotation=baseline.rotation.value,
            density_ratio=float(air_density(air.pressure, air.temperature, vapour)) / RHO0,
            baseline_density_ratio=then / RHO0,
            cutoff=_cutoff(flight),
            dry_density_ratio=float(dry_air_density(air.pressure, air.temperature, vapour)) / RHO0,
            baseline_dry_density_ratio=then / RHO0,
        )
    )


def _cutoff(flight: Flight) -> float:
    for source in flight.sources(("constants",)):
        if isinstance(source, Constants) and source.torque_cutoff is not None:
            return source.torque_cutoff.value
    return 0.12


def _notes(flight: Flight, air: AirState) -> list[Message]:
    """The wind along the nose, where there is too much of it or nobody told how much."""
    direction = flight.direction("from")
    if direction is None or air.wind is None:
        return [message("note.run_up_wind")]
    head, _ = air.wind.along(direction.bearing, Working(silent=True))
    # what is surely along the nose, and what may be: a gust counts either way
    told = not air.wind.astray and air.wind.by != "assumed"
    most = air.wind.high * (math.cos(air.wind.wind_from - direction.bearing) if told else 1.0)
    along = (head, most)
    return [message("note.run_up_wind")] if not all(abs(one) <= STILL_WIND for one in along) else []


def _doubts(flight: Flight, air: AirState) -> list[Message]:
    """What the check would rest on and nobody read: old or forecast air, a baseline that is a guess."""
    found = []
    if air.stale is not None or air.origin != "read":
        found.append(message("note.run_up_air"))
    baseline = flight.plane.run_up
    if baseline is not None and baseline.rotation.origin == "estimated":
        found.append(message("note.run_up_baseline"))
    return found


def _roll(flight: Flight, air: AirState, mass: float, fraction: float) -> dict[str, Any] | None:
    """Take-off roll [m] with all of the torque and with this share of it; None where no model tells it."""
    if math.isnan(mass) or not air.known:
        return None
    vapour = air.moistures(Working(silent=True))[0]
    case = case_at(flight, "from", air, mass, vapour, Working(silent=True))
    if isinstance(case, list):
        return None
    rolls = _by_notebook(case, fraction) or _by_constants(case, fraction)
    if rolls is None:
        return None
    before, after, source = rolls
    return {"before": plain(before), "after": plain(after), "more": plain(after - before), "source": source}


def _by_notebook(case: Case, fraction: float) -> tuple[float, float, str] | None:
    made = tuned_for(case.flight)
    if made is None or "takeoff" not in made.seen or made.draws is None or made.believed.frame is None:
        return None
    given = conditions(made, case, math.nan, Working(silent=True))
    if given is None:
        return None
    u = np.stack([made.draws.mean[0]] * 2)
    for name in ("static_thrust", "thrust_constant"):
        u[1, INDEX[name]] += math.log(fraction)
    rolls = np.exp(predict("roll", u, made.believed.frame, given)).reshape(-1)
    return float(rolls[0]), float(rolls[1]), made.notebooks[0].name


def _by_constants(case: Case, fraction: float) -> tuple[float, float, str] | None:
    """By the constants: static thrust and that of flight fall alike."""
    quiet = Working(silent=True)
    wind = float(counted_wind(headwind=case.headwind))
    for source in case.flight.sources(("constants",)):
        assert isinstance(source, Constants)
        terms = physics.rolling_terms(case, source, quiet)
        if "reason" in terms:
            continue
        before, _ = physics.rolled(case, terms, wind, quiet)
        less = {name: terms[name] * fraction for name in ("static_thrust", "thrust_fall")}
        after, _ = physics.rolled(case, terms | less, wind, quiet)
        return before, after, source.name
    return None
