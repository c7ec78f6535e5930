"""Facts of the trade: which sets of constants meet all that owners tell of one aeroplane, together.

Two invented aeroplanes. The facts are common practice, no source; "about" is within 20 %, limits are as they
are. Sets are drawn from what is believed of the class beforehand; the share that meets all facts says how
narrow they are, and so does the spread that is left of each constant.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..sums.air import RHO0, isa_density, isa_pressure
from ..sums.power import excess_thrust, torque_falloff
from ..sums.tuning.model import Frame, Values, drag, predict, thrust
from ..sums.tuning.parameters import INDEX, NAMES, PARAMETERS, Array, class_means, named, prior_of

FOOT, KNOT, HORSE, TURN = 0.3048, 1852.0 / 3600.0, 745.7, 1.0 / 60.0
DRAWS, SEED, ABOUT = 100_000, 11, 0.20
FRICTION = 0.045
#: efficiency of a fixed propeller in the cruise: from memory of propeller charts
BLADES = (0.60, 0.87)


@dataclass(frozen=True)
class Told:
    """What an owner tells, with what has to be known to hold it against: masses [kg], braking friction.

    Stall speeds [m/s] are calibrated, for taking off and landing, at the largest mass.
    """

    name: str
    power: float
    rotation: float
    frame: Frame
    largest: float
    one: float
    two: float
    stalls: tuple[float, float]
    climb_speed: float
    roll: float
    landing: float
    cruise: float
    braking: float
    #: full-throttle rotation on the ground and rotation in that cruise [1/s], where they are told
    turns: tuple[float, float] | None = None


LIGHT = Told(
    "light two-seater", 100 * HORSE, 2750 * TURN, Frame(13.4, 10.3**2 / 13.4, 1.90, 0.12, 0.90, 0.50, 0.075,
    0.35, 0.11, 60.0), 600.0, 424.0, 505.0, (39 * KNOT, 36 * KNOT), 56 * KNOT, 120.0, 100.0, 85 * KNOT, 0.19,
)  # fmt: skip
HEAVY = Told(
    "four-seater", 145 * HORSE, 2700 * TURN, Frame(16.9, 11.2**2 / 16.9, 2.03, 0.12, 0.90, 0.45, 0.076,
    0.30, 0.115, 90.0), 1000.0, 800.0, 905.0, (44 * KNOT, 42 * KNOT), 65 * KNOT,
    200.0, 150.0, 98 * KNOT, 0.22, (2300 * TURN, 2400 * TURN),
)  # fmt: skip


def figures(told: Told, u: Array) -> dict[str, Array]:
    """What each set of constants (D, P) makes of the facts: rates [m/s], lengths [m], speed [m/s]."""

    def at(height: float, mass: float, **more: float) -> Values:
        density = float(isa_density(height * FOOT))
        given: dict[str, float] = {
            "mass": mass, "density": density, "dry_density": density, "slope": 0.0, "slope_away": 0.0,
            "pressure": float(isa_pressure(height * FOOT)), "headwind": 0.0, "friction": FRICTION,
            "braking": told.braking, "stall_mass": told.largest, "lift_off_factor": 1.1, "gust": 0.0,
            "touchdown_factor": 1.1, "flap_drag": 0.0, "stall": told.stalls[0], **more,
        }  # fmt: skip
        return {name: np.array([value]) for name, value in given.items()}

    def seen(kind: str, given: Values) -> Array:
        return predict(kind, u, told.frame, given)[:, 0]

    cruise = at(7500, told.two, speed=told.cruise)
    climb = {"speed": told.climb_speed * (1.225 / float(isa_density(6500 * FOOT))) ** 0.5}
    return {
        "climb_one": seen("climb", at(6500, told.one, **climb)),
        "climb_two": seen("climb", at(6500, told.two, **climb)),
        "roll": np.exp(seen("roll", at(6000, told.one, headwind=5 * KNOT, flap_drag=0.003))),
        "landing": np.exp(seen("landing", at(6000, told.one, stall=told.stalls[1]))),
        "level": np.exp(seen("level", at(7500, told.two))),
        **({} if told.turns is None else _turning(told, u, cruise, at(6000, told.one))),
    }


def _turning(told: Told, u: Array, cruise: Values, ground: Values) -> dict[str, Array]:
    """What the two rotations make of the propeller: efficiency in the cruise, and CP there over that at rest.

    Thrust is E f + F V^2 with the share f of the torque, so that the drag of the cruise tells f; power is
    2 pi n times torque, and CP goes with torque over density and rotation squared.
    """
    assert told.turns is not None
    p, v, frame = named(u[:, None, :]), told.cruise, told.frame
    parts = thrust(p, frame, cruise["density"], cruise["dry_density"])
    pull = -np.asarray(excess_thrust(v, 0.0, 0.0, *drag(p, frame, cruise)))
    share = (pull - parts.thrust_square * v**2) / parts.thrust_constant
    here, there = (
        float(torque_falloff(g["dry_density"][0] / RHO0, frame.torque_cutoff)) for g in (cruise, ground)
    )
    torque = share * here * told.power / (2.0 * np.pi * told.rotation)
    still, turning = told.turns
    ratio = share * here / there * still**2 * ground["density"] / (turning**2 * cruise["density"])
    return {
        "efficiency_then": (pull * v / (2.0 * np.pi * turning * torque)).reshape(len(u)),
        "power_coefficient_ratio": ratio.reshape(len(u)),
    }


def met(told: Told, found: dict[str, Array]) -> dict[str, NDArray[np.bool_]]:
    """Which sets meet each fact."""
    minute = FOOT / 60.0
    return {
        "climbs 500 to 600 ft/min with one": (found["climb_one"] >= 500 * minute)
        & (found["climb_one"] <= 600 * minute),
        "climbs about 350 ft/min with two": np.abs(found["climb_two"] / (350 * minute) - 1.0) <= ABOUT,
        "rolls about as far as told": np.abs(found["roll"] / told.roll - 1.0) <= ABOUT,
        "lands in less than told": found["landing"] < told.landing,
        "cruises below full power": found["level"] > 1.02 * told.cruise,
        **(
            {}
            if told.turns is None
            else {
                # a propeller takes less torque the faster it flies, and none turns all its power into thrust
                "turns as told on the ground and in the cruise": (found["power_coefficient_ratio"] < 1.0)
                & (found["power_coefficient_ratio"] > 0.5)
                & (found["efficiency_then"] > BLADES[0])
                & (found["efficiency_then"] < BLADES[1])
            }
        ),
    }


def search(told: Told, draws: int = DRAWS, seed: int = SEED) -> dict[str, Any]:
    """The share of sets that meets each fact and all, and what is left of each constant's spread.

    `middle` is the mean of the sets that meet all (of logarithms), a set of its own that may be tried.
    """
    means = class_means(told.power, told.rotation, np.asarray(told.frame.propeller_diameter))
    prior = prior_of(means)
    rng = np.random.default_rng(seed)
    u = prior.mean + rng.standard_normal((draws, len(NAMES))) @ prior.root.T
    each = met(told, figures(told, u))
    good = np.all(list(each.values()), axis=0)
    kept = u[good]
    before = np.sqrt(np.diagonal(prior.covariance))
    return {
        "name": told.name,
        "facts": {fact: float(np.mean(holds)) for fact, holds in each.items()},
        "all": float(np.mean(good)),
        "found": int(np.sum(good)),
        "constants": {
            name: {
                "low": float(np.exp(np.quantile(kept[:, i], 0.05))),
                "middle": float(np.exp(np.mean(kept[:, i]))),
                "high": float(np.exp(np.quantile(kept[:, i], 0.95))),
                "left": float(np.std(kept[:, i]) / before[i]),
                "unit": PARAMETERS[name][1],
            }
            for name, i in INDEX.items()
        }
        if len(kept)
        else {},
    }


def table(found: dict[str, Any]) -> str:
    """A search in words."""
    lines = [f"{found['name']}: {100 * found['all']:.2f} % of the sets believable beforehand meet all facts"]
    lines += [f"  {100 * share:6.1f} %  {fact}" for fact, share in found["facts"].items()]
    lines.append("  of those that meet all: 5 %, middle, 95 %, and the part of the spread that is left")
    lines += [
        f"    {name:20}{c['low']:12.5g}{c['middle']:12.5g}{c['high']:12.5g} {c['unit']:6}{c['left']:6.2f}"
        for name, c in found["constants"].items()
    ]
    return "\n".join(lines)
