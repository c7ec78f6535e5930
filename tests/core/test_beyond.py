"""Beyond the masses and density altitudes of a notebook its bands still hold what they say."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tussock.selftest import synthetic
from tussock.sums.air import density_altitude, isa_density, isa_pressure
from tussock.sums.bands import ALTITUDE_UNIT, MASS_UNIT, beyond_seen, widening
from tussock.sums.tuning.fit import fit
from tussock.sums.tuning.predict import Draws, band, draws_of, runs

MIX = (14, 6, 12, 6, 6, 3, 2, 2, 0)
AEROPLANES, FRESH = 100, 3


def at(given: dict, mass: np.ndarray, height: np.ndarray) -> dict:
    """The same runs at these masses [kg] and density altitudes [m], a strip 300 m below the latter."""
    pressure = np.asarray(isa_pressure(height - 300.0))
    temperature = pressure / (287.05287 * np.asarray(isa_density(height)))
    return synthetic.aired(given | {"mass": mass, "pressure": pressure, "temperature": temperature})


def wider(draws: Draws, more: np.ndarray) -> Draws:
    """As `predict.widened`, with a spread of its own for each notebook (B, 1)."""
    return replace(draws, scatter=np.sqrt(draws.scatter**2 + more[:, :, None] ** 2))


@pytest.mark.parametrize("governed", [False, True])
def test_coverage_holds_beyond_what_was_seen(governed):
    """Notebooks of light runs at low strips, 40 entries; runs heavier and higher by up to a unit of each.

    300 runs at each distance beyond: the coverage is good to 2 points (one sigma), all together to 1.
    """
    rng = np.random.default_rng(21)
    made = synthetic.world(rng, AEROPLANES, governed=governed)
    series = synthetic.notebook(rng, made, MIX, heights=(300.0, 900.0), masses=(0.72, 0.85))
    draws = draws_of(fit(made.prior, series, made.believed), 600)
    seen = [one for one in series if one.kind in ("roll", "away")]
    masses = np.concatenate([one.given["mass"] for one in seen], axis=-1)
    heights = np.concatenate([np.asarray(density_altitude(one.given["density"])) for one in seen], axis=-1)
    heaviest, highest = masses.max(-1)[:, None], heights.max(-1)[:, None]
    inside, above, bare = [], [], []
    for units in (0.25, 0.5, 1.0):
        for _ in range(FRESH):
            part = rng.uniform(0.0, 1.0, heaviest.shape)
            given = synthetic.conditions(rng, made, 1, landing=False)
            given = at(given, heaviest * (1.0 + MASS_UNIT * units * part),
                       highest + ALTITUDE_UNIT * units * (1.0 - part))  # fmt: skip
            found = beyond_seen(
                given["mass"], masses.min(-1)[:, None], heaviest,
                np.asarray(density_altitude(given["density"])), heights.min(-1)[:, None], highest,
            )  # fmt: skip
            more = np.asarray(widening(found.adverse, found.mild))
            roll, _ = synthetic.flown(rng, made, given, landing=False)
            for into, drawn in ((inside, wider(draws, more)), (bare, draws)):
                edge = band(runs(drawn, made.believed, given)[0])
                into.append(np.mean((roll >= edge.low) & (roll <= edge.high)))
                if into is inside:
                    above.append(np.mean(roll > edge.high))
    assert np.mean(inside) >= 0.90
    assert min(np.mean(inside[i : i + FRESH]) for i in range(0, len(inside), FRESH)) >= 0.86
    assert np.mean(above) <= 0.05
    # and that is the widening's doing
    assert np.mean(inside) > np.mean(bare) + 0.01
