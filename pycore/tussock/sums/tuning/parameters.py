"""What is fitted: fifteen numbers of an aeroplane and its pilot, and what is believed of them beforehand.

All are positive, so each is kept as its natural logarithm `u`; a spread of 0.1 is ten per cent. The choice
follows what a notebook can tell apart:

- Rated torque and the slope of the propeller polar enter only as their product, the thrust constant
  E0 = 2 pi m M0 / d of standard air: that product is the parameter.
- Thrust in the roll is fixed by two ends, the static thrust and that of flight at lift-off; its fall with
  speed squared is no parameter of its own.
- A roll alone cannot tell static thrust, lift-off speed and rolling friction apart. They stay three
  parameters because mass, density, slope and wind move them differently; what the runs leave open the
  priors close, and what they fix together stays fixed together, since the covariance is kept whole.
- Full-throttle figures see only propeller intercept and drag together (K = F - G); the glide parts them.
  Its own drag of a windmilling or stopped propeller is a factor with a narrow prior.
- Static thrust, thrust in flight and static rotation share the engine's torque and the propeller:
  beforehand the static thrust goes with both others (`THRUST_WITH`), so that a level run or a run-up tells
  something of a roll.

A constant-speed propeller has an efficiency curve in place of the polar. Two of the places mean something
else then (`GOVERNED`): power and the scale of the curve enter only as their product, the useful power; how
the curve leans, poor at low speed and good at high or the other way, is the second. The static rotation
tells nothing there, for the governor holds it.

The spread of the technique from run to run is fitted too, one logarithm for each kind of figure (`SCATTERS`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ..air import RHO0
from ..power import ideal_static_thrust

Array = NDArray[np.float64]

#: name: what it is, its unit, and the spread of its logarithm where nothing but the class is known
PARAMETERS: dict[str, tuple[str, str, float]] = {
    "static_thrust": ("static thrust, standard air at sea level", "N", 0.09),
    "thrust_constant": ("thrust constant E, standard air at sea level", "N", 0.12),
    "propeller_intercept": ("intercept of the propeller polar, less than nothing", "1", 0.30),
    "zero_lift_drag": ("drag coefficient without lift", "1", 0.15),
    "efficiency": ("efficiency of the wing", "1", 0.08),
    "stall": ("stall speed over that of the document", "1", 0.04),
    "lift_off": ("lift-off speed over that of the document", "1", 0.05),
    "rolling": ("rolling friction over that of the document", "1", 0.30),
    "climb_away": ("way from lift-off to 50 ft over that reckoned", "1", 0.15),
    "touchdown": ("touchdown speed over that of the document", "1", 0.06),
    "braking": ("braking friction over that of the document", "1", 0.25),
    "approach": ("gradient of the approach over that of the document", "1", 0.20),
    "gliding": ("drag without lift in the glide over that with power", "1", 0.08),
    "rotation": ("static rotation, standard air at sea level", "1/s", 0.05),
    "flow": ("fuel for each unit of drag work", "m³/J", 0.15),
}
NAMES = tuple(PARAMETERS)
INDEX = {name: i for i, name in enumerate(NAMES)}

#: change of the logarithm of the static thrust with those of others; its own spread above is what is left
THRUST_WITH = {"thrust_constant": 0.8, "rotation": 1.0}

#: with a governed propeller, what stands in the place of a parameter: name, what it is, unit, spread
GOVERNED: dict[str, tuple[str, str, str, float]] = {
    "thrust_constant": (
        "useful_power",
        "full-throttle power at sea level, as the curve makes thrust of it",
        "W",
        0.10,
    ),
    "propeller_intercept": ("curve_lean", "efficiency towards rest over that of the curve", "1", 0.10),
}
#: and its static thrust goes with power to two thirds (momentum theory)
GOVERNED_WITH = {"thrust_constant": 2.0 / 3.0}
#: places that mean nothing there
UNTOLD = ("rotation",)
#: efficiency of a light aeroplane's governed propeller by advance ratio where its own is not known: from
#: memory of published charts of such propellers, their envelope over blade angles
CLASS_CURVE = (
    (0.0, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.2, 1.4),
    (0.0, 0.36, 0.49, 0.60, 0.68, 0.74, 0.81, 0.84, 0.84, 0.82),
)

#: name: what scatters, median and spread of the logarithm beforehand. Rates in m/s, the rest as logarithms.
#: Of hand-flown runs, common practice, no source; those of take-off, away and arrival were then moved by 0.01
#: to 0.05 so that bands hold what they say on invented aeroplanes.
SCATTERS: dict[str, tuple[str, float, float]] = {
    "takeoff": ("take-off roll", 0.09, 0.35),
    "away": ("way from lift-off to 50 ft", 0.10, 0.35),
    "landing": ("landing roll", 0.12, 0.35),
    "arrival": ("way from 50 ft to touchdown", 0.20, 0.35),
    "climb": ("rate of climb or sink", 0.25, 0.35),
    "speed": ("speeds, rotation", 0.012, 0.35),
    "flow": ("fuel flow", 0.06, 0.35),
}
SCATTER_NAMES = tuple(SCATTERS)
#: with a governed propeller, moved likewise: more thrust, shorter rolls, and speed tells for more of them
GOVERNED_SCATTERS = {"takeoff": 0.10}
#: pilots' "my best" and "careless" against "my usual", as logarithms of distance: mean and spread beforehand
OFFSETS = {"best": (-0.10, 0.08), "careless": (0.15, 0.12)}
#: share of entries that are slips (a wrong unit, a figure of another day) where nobody says more
DOUBT = 0.05
#: and of those that their owner has marked
SUSPECTED = 0.5
#: in standard air; the static rotation falls to this share of the rated one with a fixed pitch for cruising
STATIC_SHARE = 0.86
#: brake-specific fuel consumption 0.30 kg/kWh over a propeller efficiency of 0.75 and 720 kg/m³
FLOW_PER_WORK = 0.30 / 3.6e6 / 0.75 / 720.0


@dataclass(frozen=True)
class Prior:
    """Belief beforehand: u = mean + root z with z standard normal; `mean` is (..., P), `root` (..., P, P)."""

    mean: Array
    root: Array
    scatter_mean: Array
    scatter_sd: Array

    @property
    def covariance(self) -> Array:
        return np.asarray(self.root @ np.swapaxes(self.root, -1, -2), dtype=float)


def names_of(governed: bool) -> tuple[str, ...]:
    """Names of the places, for a propeller of fixed pitch or a governed one."""
    return tuple(GOVERNED[name][0] if governed and name in GOVERNED else name for name in NAMES)


def told_of(governed: bool) -> dict[str, tuple[str, str, float]]:
    """What each place is, by the names of `names_of`: what, unit, spread."""
    own = {one[0]: one[1:] for one in GOVERNED.values()} if governed else {}
    return {name: own.get(name) or PARAMETERS[name] for name in names_of(governed)}


def prior_of(
    means: dict[str, Array | float],
    sds: dict[str, Array | float] | None = None,
    *,
    governed: bool = False,
) -> Prior:
    """The prior with these medians (not logarithms; factors that are not named are 1) and spreads of logs.

    Spreads that are not named are the class's.
    """
    sds, told = sds or {}, told_of(governed)
    mean = _stack([np.log(np.asarray(means.get(name, 1.0), dtype=float)) for name in told])
    sd = _stack([np.asarray(sds.get(name, one[2]), dtype=float) for name, one in told.items()])
    shape = np.broadcast_shapes(mean.shape, sd.shape)
    mean, sd = np.broadcast_to(mean, shape).copy(), np.broadcast_to(sd, shape)
    root = sd[..., None] * np.eye(len(NAMES))
    for name, share in (GOVERNED_WITH if governed else THRUST_WITH).items():
        root[..., INDEX["static_thrust"], INDEX[name]] = share * sd[..., INDEX[name]]
    own = GOVERNED_SCATTERS if governed else {}
    middle = np.log([own.get(name, SCATTERS[name][1]) for name in SCATTER_NAMES])
    spread = np.array([SCATTERS[name][2] for name in SCATTER_NAMES])
    return Prior(mean, root, middle, spread)


def class_means(
    power: Array | float,
    rotation: Array | float,
    diameter: Array | float,
    *,
    fixed_gear: bool = True,
) -> dict[str, Array | float]:
    """Medians of a light aeroplane of fixed pitch, from rated power [W], rotation [1/s], diameter [m].

    Static thrust 0.45 of the ideal one (a pitch for cruising), thrust constant 1.09 times that, propeller
    intercept -0.025, CD0 0.044 (0.030 with the gear up), e 0.75. Common practice, no source: the spreads
    are wide.
    """
    static = 0.45 * np.asarray(ideal_static_thrust(power, RHO0, diameter))
    return {
        "static_thrust": static,
        "thrust_constant": 1.09 * static,
        "propeller_intercept": 0.025,
        "zero_lift_drag": 0.044 if fixed_gear else 0.030,
        "efficiency": 0.75,
        "climb_away": 1.0,
        "gliding": 1.08,
        "rotation": STATIC_SHARE * np.asarray(rotation, dtype=float),
        "flow": FLOW_PER_WORK,
    }


def governed_means(
    power: Array | float, diameter: Array | float, *, fixed_gear: bool = True
) -> dict[str, Array | float]:
    """Medians of a light aeroplane with a governed propeller, from its power [W] at the governed rotation.

    Static thrust 0.60 of the ideal one, for the blades are set fine and the engine turns up: a figure of
    merit of 0.46, common practice, no source. Wing and drag as with a fixed propeller.
    """
    return class_means(power, 1.0, diameter, fixed_gear=fixed_gear) | {
        "static_thrust": 0.60 * np.asarray(ideal_static_thrust(power, RHO0, diameter)),
        "useful_power": power,
        "curve_lean": 1.0,
    }


def named(u: Array, governed: bool = False) -> dict[str, Array]:
    """Parameters by name, no longer logarithms, with a new last axis for the entries: u is (..., P)."""
    values = np.exp(u)
    return {name: values[..., i, None] for i, name in enumerate(names_of(governed))}


def _stack(parts: list[Array]) -> Array:
    return np.stack(np.broadcast_arrays(*parts), axis=-1)
