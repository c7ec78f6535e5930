"""Recovery: does the fit find known aeroplanes again, and are its bands as wide as they say?"""

from __future__ import annotations

from typing import Any

import numpy as np

from ..sums.tuning.fit import Fit, fit
from ..sums.tuning.model import Frame, Values, predict
from ..sums.tuning.parameters import Array
from ..sums.tuning.predict import band, draws_of, runs
from .synthetic import MIXES, aired, conditions, flown, notebook, spoiled, world

SIZES = (6, 12, 40)
SEED = 4
AEROPLANES = 500
#: fresh runs of each aeroplane, and draws of each band
FRESH, DRAWS = 8, 600


def recovery(
    aeroplanes: int = AEROPLANES, seed: int = SEED, *, governed: bool = False, sizes: tuple[int, ...] = SIZES
) -> dict[str, Any]:
    """Coverage of 90 % bands, bias of medians, and the shift by one gross outlier, for each size of notebook.

    `coverage90`: fresh true runs of the same aeroplanes and pilots, at masses, strips and in airs of their
    own, that lie in the band of the roll. `bias`: mean of the logarithm of the band's median over the roll
    that the pilot's steady hand gives. `outlier_shift`: how far the predicted roll moves by one entry in
    feet for metres (or the other way) among them, against the same notebook without that entry; the mean
    over notebooks of the size where that is worst. `details` has the same for other figures, and what the
    means hide. `governed`: aeroplanes with constant-speed propellers, with no static rotation noted.
    """
    details = {str(size): _one_size(size, aeroplanes, seed, governed) for size in sizes}
    return {
        "coverage90": {size: part.pop("roll") for size, part in details.items()},
        "bias": {size: part.pop("bias") for size, part in details.items()},
        "outlier_shift": max(part["outlier_shift"] for part in details.values()),
        "aeroplanes": max(aeroplanes // len(MIXES[6]), 1) * len(MIXES[6]),
        "details": details,
    }


def meets(found: dict[str, Any]) -> bool:
    """Whether coverage is 87 to 93 % and the bias within 2 % at each size, and the mean shift under 5 %."""
    covered = all(0.87 <= one <= 0.93 for one in found["coverage90"].values())
    return (
        covered and all(abs(one) <= 0.02 for one in found["bias"].values()) and found["outlier_shift"] < 0.05
    )


def _one_size(size: int, aeroplanes: int, seed: int, governed: bool) -> dict[str, float]:
    mixes = MIXES[size]
    parts = [
        _one_mix(mix, max(aeroplanes // len(mixes), 1), seed + 100 * size + index, governed)
        for index, mix in enumerate(mixes)
    ]
    return {name: float(np.mean(np.concatenate([part[name] for part in parts]))) for name in parts[0]}


def _one_mix(mix: tuple[int, ...], size: int, seed: int, governed: bool) -> dict[str, Array]:
    """Results of `size` aeroplanes with notebooks of one composition, each a 1-D array."""
    rng = np.random.default_rng(seed)
    made = world(rng, size, governed=governed)
    mix = (*mix[:-1], 0) if governed else mix
    series = notebook(rng, made, mix)
    tuned = fit(made.prior, series, made.believed)
    result: dict[str, Array] = {
        "converged": tuned.converged.astype(float),
        "evaluations": np.array([float(tuned.evaluations)]),
    }
    draws = draws_of(tuned, DRAWS)
    for landing, (roll_name, over_name) in ((False, ("roll", "over_50ft")), (True, ("landing", "from_50ft"))):
        given = aired(conditions(rng, made, FRESH, landing=landing))
        true_roll, true_air = flown(rng, made, given, landing=landing)
        rolls, overs = runs(draws, made.believed, given, landing=landing)
        for name, truth, found in ((roll_name, true_roll, rolls), (over_name, true_roll + true_air, overs)):
            edge = band(found)
            result[name] = ((truth >= edge.low) & (truth <= edge.high)).ravel().astype(float)
            result[f"{name}_above"] = (truth > edge.high).ravel().astype(float)
            result[f"{name}_half_width"] = 0.5 * np.log(edge.high / edge.low).ravel()
        if not landing:
            steady = predict("roll", made.truth[:, None, :], made.frame, given)[:, 0]
            result["bias"] = (np.log(band(rolls).median) - steady).ravel()
    wrong, without = spoiled(rng, series)
    with_it, left_out = (fit(made.prior, one, made.believed) for one in (wrong, without))
    given = aired(conditions(rng, made, FRESH, landing=False))
    moved = _middle(with_it, made.believed, given) - _middle(left_out, made.believed, given)
    shift = np.mean(np.abs(np.expm1(moved)), axis=-1)
    result |= {
        "outlier_shift": shift,
        "outlier_beyond_5_percent": (shift > 0.05).astype(float),
        "outlier_named": (with_it.slip[:, 0] > 0.5).astype(float),
    }
    return result


def _middle(found: Fit, frame: Frame, given: Values) -> Array:
    return predict("roll", found.mean[:, None, :], frame, given)[:, 0]


def table(found: dict[str, Any]) -> str:
    """The result as a table in words."""
    lines = [
        f"{found['aeroplanes']} invented aeroplanes, notebooks of {', '.join(found['coverage90'])} entries"
    ]
    lines.append(f"{'':38}" + "".join(f"{size:>9}" for size in found["coverage90"]))
    rows: list[tuple[str, dict[str, float]]] = [
        ("roll: fresh runs inside the 90 % band", found["coverage90"]),
        ("roll: bias of the median", found["bias"]),
    ]
    names = list(found["details"]["6"])
    rows += [(name.replace("_", " "), {k: v[name] for k, v in found["details"].items()}) for name in names]
    for label, values in rows:
        numbers = "".join(f"{v:9.0f}" if abs(v) > 50 else f"{v:9.4f}" for v in values.values())
        lines.append(f"{label:38}{numbers}")
    lines.append(f"one gross outlier moves the roll by {found['outlier_shift']:.4f} (mean, worst size)")
    return "\n".join(lines)
