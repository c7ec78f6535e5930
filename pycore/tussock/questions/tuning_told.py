"""What came of tuning, as plain data: constants, entry by entry, suspects, what to measure next."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..documents import Aeroplane, Bundle
from ..sums.tuning.model import KINDS
from ..sums.tuning.parameters import (
    INDEX,
    SCATTER_NAMES,
    UNTOLD,
    Array,
    named,
    names_of,
    told_of,
)
from .answer import message, plain
from .next_entry import next_entries
from .tuning import Tuned, counts, most_noted, notebooks_of, offsets, tuned

#: unit and dimension of a figure by its kind
UNITS = {
    "climb": ("m/s", "vertical speed"), "glide": ("m/s", "vertical speed"), "level": ("m/s", "speed"),
    "stall": ("m/s", "speed"), "static": ("1/s", "rotation"), "flow": ("m³/s", "flow"),
}  # fmt: skip
#: so much of what was not known the notebook must have told for a constant to be measured by it
TOLD = 0.3
#: one-sided 95 % of a normal deviate
TAIL = 1.6449


def tuning(bundle: Bundle, plane: Aeroplane, rig: str | None) -> dict[str, Any]:
    """The tuned aeroplane as told over the border; `usable` is false, with `reasons`, where it is not."""
    notebooks = notebooks_of(bundle, plane)
    rig = rig or most_noted(notebooks, plane)
    made = tuned(bundle, plane, rig)
    told: dict[str, Any] = {
        "aeroplane": plane.id,
        "configuration": rig,
        "notebooks": [notebook.id for notebook in notebooks],
        "usable": made is not None and made.usable,
        "reasons": [message("tune.no_entries")] if made is None else made.reasons,
    }
    if made is None:
        return told | _nothing()
    found = made.found
    return (
        told
        | _nothing()
        | {
            "left_out": made.read.left_out,
            "assumed": [*made.read.assumed, *made.believed.assumed],
            "seen": {phase: vars(seen) for phase, seen in made.seen.items()},
        }
        | ({} if found is None else _fitted(made))
    )


def _nothing() -> dict[str, Any]:
    return {
        "converged": False, "evaluations": 0, "figures": 0, "constants": [], "scatter": [], "technique": [],
        "residuals": [], "suspects": [], "left_out": [], "assumed": [], "next": [], "seen": {},
        "source": None,
    }  # fmt: skip


def _fitted(made: Tuned) -> dict[str, Any]:
    assert made.found is not None
    residuals = _residuals(made)
    return {
        "converged": bool(made.found.converged[0]),
        "evaluations": made.found.evaluations,
        "figures": int(np.sum(counts(made) > 0.0)),
        "constants": _constants(made),
        "scatter": _scatter(made),
        "technique": offsets(made),
        "residuals": residuals,
        "suspects": [
            {name: one[name] for name in ("entry", "what", "figure", "slip", "spreads")}
            | {"said": message("tune.suspect", probability=one["slip"])}
            for one in residuals
            if one["counts"] and one["slip"] > 0.5
        ],
        "next": next_entries(made) if made.usable else [],
        # constants cannot carry what was learned of a governed propeller: that belongs to its curve
        "source": document_of(made) if made.usable and made.believed.governor is None else None,
    }


def _constants(made: Tuned) -> list[dict[str, Any]]:
    assert made.found is not None and made.believed.prior is not None
    prior = made.believed.prior
    before, spread_before = prior.mean, np.sqrt(np.diagonal(prior.covariance))
    after, spread = made.found.mean[0], np.sqrt(np.diagonal(made.found.covariance[0]))
    told = []
    governed = made.believed.governor is not None
    for i, (name, (_, unit, _)) in enumerate(told_of(governed).items()):
        if governed and name in UNTOLD:
            continue
        value = math.exp(after[i])
        told.append(
            {
                "name": name,
                "label": message(f"tune.constant.{name}"),
                "unit": unit,
                "value": value,
                "sd": value * float(spread[i]),
                "prior": math.exp(before[i]),
                "prior_sd": math.exp(before[i]) * float(spread_before[i]),
                # how much of what was not known the notebook has told
                "told": 1.0 - float(spread[i] / spread_before[i]),
            }
        )
    return told


def _scatter(made: Tuned) -> list[dict[str, Any]]:
    assert made.found is not None and made.believed.prior is not None
    return [
        {
            "name": name,
            "label": message(f"tune.scatter.{name}"),
            "value": math.exp(made.found.scatter[0, i]),
            "sd_of_log": float(made.found.scatter_sd[0, i]),
            "unit": "m/s" if name == "climb" else "1",
            "prior": math.exp(made.believed.prior.scatter_mean[i]),
        }
        for i, name in enumerate(SCATTER_NAMES)
    ]


def _residuals(made: Tuned) -> list[dict[str, Any]]:
    """Entry by entry in the notebook's order: measured, predicted, and the band that it should lie in."""
    assert made.found is not None
    found, rows = made.found, []
    for i, (place, counted) in enumerate(zip(made.place, counts(made), strict=True)):
        one = made.read.figures[place]
        unit, dimension = UNITS.get(one.kind, ("m", "length"))
        middle, half = float(found.predicted[0, i]), TAIL * float(found.sigma[0, i])
        values = np.array([middle, middle - half, middle + half])
        if KINDS[one.kind].logarithm:
            values = np.exp(values)
        rows.append(
            (
                place,
                {
                    "entry": one.entry.id,
                    "at": one.entry.at.isoformat(),
                    "what": one.entry.what,
                    "figure": one.kind,
                    "label": message(f"tune.figure.{one.kind}"),
                    "technique": one.entry.technique,
                    "counts": bool(counted > 0.0),
                    "measured": one.measured,
                    "predicted": plain(values[0]),
                    "low": plain(values[1]),
                    "high": plain(values[2]),
                    "unit": unit,
                    "dimension": dimension,
                    "spreads": float(found.left_out[0, i]),
                    "slip": float(found.slip[0, i]),
                },
            )
        )
    return [row for _, row in sorted(rows, key=lambda pair: pair[0])]


def curve_of(made: Tuned) -> list[dict[str, float]]:
    """A governed propeller's curve of efficiency as fitted; `document_of` has the rest."""
    assert made.found is not None and made.believed.governor is not None
    governor = made.believed.governor
    p = named(made.found.mean[0], governed=True)
    power = made.believed.torque * 2.0 * math.pi * float(np.asarray(governor.rotation))
    share = governor.efficiency(governor.points, p["curve_lean"]) * p["useful_power"] / power
    return [
        {"advance_ratio": float(j), "efficiency": float(e)}
        for j, e in zip(governor.points, np.minimum(share, 1.0), strict=True)
    ]


def document_of(made: Tuned) -> dict[str, Any]:
    """The constants as a source that may be kept in the aeroplane; `fitted` says that the notebook is in it.

    The rated torque is the engine's; the thrust constant is in the slope of the propeller. With a governed
    propeller the thrust in flight is in `curve_of`.
    """
    assert made.found is not None and made.believed.frame is not None
    u, spread = made.found.mean[0], np.sqrt(np.diagonal(made.found.covariance[0]))
    frame, torque = made.believed.frame, made.believed.torque
    diameter = float(np.asarray(frame.propeller_diameter))

    assert made.believed.prior is not None
    before = np.sqrt(np.diagonal(made.believed.prior.covariance))
    old = made.believed.source

    def figure(name: str, factor: float = 1.0, field: str = "") -> dict[str, Any]:
        i = INDEX[name]
        value = math.exp(u[i]) * factor
        # what the notebook has hardly told is no better known than it was
        was = getattr(old, field or name, None)
        told = 1.0 - spread[i] / before[i] >= TOLD
        origin = "measured" if told else was.origin if was is not None else "estimated"
        return {"value": value, "origin": origin, "sd": abs(value) * float(spread[i])}

    polar = {}
    if frame.governor is None:
        polar = {
            "propeller_slope": figure(
                "thrust_constant", diameter / (2.0 * math.pi * torque), "propeller_slope"
            ),
            "propeller_intercept": figure("propeller_intercept", -1.0),
        }
    kept = old.model_dump(mode="json", exclude_none=True) if old is not None else {}
    seen = [made.seen[p] for p in ("takeoff", "landing") if p in made.seen]
    return (
        kept
        | {
            "source": "constants",
            "id": "tuned",
            "name": made.notebooks[0].name,
            "configurations": [made.rig],
            "rated_torque": {"value": torque, "origin": "book"},
            "torque_cutoff": {"value": float(np.asarray(frame.torque_cutoff)), "origin": "book"},
            **polar,
            "zero_lift_drag": figure("zero_lift_drag"),
            "efficiency": figure("efficiency"),
            "static_thrust": figure("static_thrust"),
            "technique": "usual",
            "fitted": _fit_record(made, u),
        }
        | (
            {
                "seen": {
                    "mass_low": min(s.mass_low for s in seen),
                    "mass_high": max(s.mass_high for s in seen),
                    "density_altitude_low": min(s.density_altitude_low for s in seen),
                    "density_altitude_high": max(s.density_altitude_high for s in seen),
                }
            }
            if seen
            else {}
        )
    )


def _fit_record(made: Tuned, u: Array) -> dict[str, Any]:
    assert made.found is not None
    entries = {made.read.figures[place].entry.id for place in made.place}
    latest = max(e.at for n in made.notebooks for e in n.entries)
    return {
        "notebook": made.notebooks[0].id,
        "at": latest.isoformat(),
        "names": list(names_of(made.believed.governor is not None)),
        "covariance": [[float(x) for x in row] for row in made.found.covariance[0]],
        "entries": len(entries),
    }
