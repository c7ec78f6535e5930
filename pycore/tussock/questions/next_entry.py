"""Which new entry would narrow the band of the take-off most."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..documents.aeroplane import FlapSetting
from ..sums.air import air_density, density_altitude, isa_density, isa_pressure, isa_temperature
from ..sums.airspeed import true_airspeed
from ..sums.tuning.model import Series
from ..sums.tuning.worth import narrowing
from .answer import message
from .entries import flap_drag, speed_factors
from .tuning import Tuned

#: height above the ground at which a level run or a climb is safely measured [m]: 2,000 ft
UP = 609.6
#: what can be measured with a watch, a dial and paces: text, kind, accuracy (of the logarithm, or m/s)
CANDIDATES = (
    ("takeoff", "roll", 0.04),
    ("takeoff_50ft", "over", 0.06),
    ("level", "level", 0.012),
    ("climb", "climb", 0.15),
    ("glide", "glide", 0.15),
    ("static", "static", 0.006),
    ("stall", "stall", 0.03),
)


def next_entries(made: Tuned) -> list[dict[str, Any]]:
    """`[{"what": message, "kind", "narrows"}]`, the part by which each would narrow the band, most first.

    For a take-off as those noted: their mean mass and density altitude, level, calm. Empty where no flap for
    taking off has a stall.
    """
    flap = _flap(made, "takeoff")
    frame, found = made.believed.frame, made.found
    if flap is None or flap.stall is None or flap.stall_mass is None or frame is None or found is None:
        return []
    mass, height = _usual(made)
    ground = _given(made, flap, mass, height)
    up = _given(made, _flap(made, "cruise") or flap, mass, height + UP)
    # a governor holds the rotation whatever the torque
    candidates = [one for one in CANDIDATES if frame.governor is None or one[1] != "static"]
    series = [
        _one(kind, ground if kind in ("roll", "over", "static") else up, sd) for _, kind, sd in candidates
    ]
    gains = narrowing(found, frame, _one("over", ground, 0.0), series)
    told = [
        {"what": message(f"tune.next.{text}", above=UP), "kind": text, "narrows": float(gain)}
        for (text, _, _), gain in zip(candidates, gains, strict=True)
        if math.isfinite(gain)
    ]
    return sorted(told, key=lambda one: -float(str(one["narrows"])))


def _usual(made: Tuned) -> tuple[float, float]:
    """Mean mass [kg] and density altitude [m] of what was noted; of take-offs, where there are some."""
    figures = [f for f in made.read.figures if f.kind in ("roll", "over")] or [
        f for f in made.read.figures if "mass" in f.given
    ]
    masses = [f.given["mass"] for f in figures]
    heights = [float(density_altitude(f.given["density"])) for f in figures]
    if not masses:
        limit = made.plane.limits.takeoff
        return (limit.value if limit else 600.0), 0.0
    return float(np.mean(masses)), float(np.mean(heights))


def _flap(made: Tuned, use: str) -> FlapSetting | None:
    fit = [f for f in made.plane.flaps if use in f.used_for]
    if use == "cruise":
        fit = [f for f in made.plane.flaps if f.angle == 0.0] or fit
    return fit[0] if fit else None


def _given(made: Tuned, flap: FlapSetting, mass: float, height: float) -> dict[str, float]:
    pressure, temperature = float(isa_pressure(height)), float(isa_temperature(height))
    density = float(air_density(pressure, temperature, 0.0))
    stall = flap.stall.value if flap.stall else 20.0
    stall_mass = flap.stall_mass.value if flap.stall_mass else mass
    climbing = flap.climb_speed.value if flap.climb_speed else 1.35 * stall * math.sqrt(mass / stall_mass)
    return {
        "mass": mass,
        "pressure": pressure,
        "density": density,
        "dry_density": density * float(isa_density(height)) / density,
        "headwind": 0.0,
        "slope": 0.0,
        "slope_away": 0.0,
        "friction": _friction(made),
        "stall": stall,
        "stall_mass": stall_mass,
        "flap_drag": flap_drag(flap, made.believed.source)[0],
        "speed": float(true_airspeed(climbing, pressure, density)),
        **speed_factors(flap),
    }


def _friction(made: Tuned) -> float:
    known = [f.given["friction"] for f in made.read.figures if f.kind in ("roll", "over")]
    return known[0] if known else 0.05


def _one(kind: str, given: dict[str, float], sd: float) -> Series:
    return Series(
        kind,
        {name: np.array([value]) for name, value in given.items()},
        np.zeros(1),
        np.array([sd]),
        np.array([0.05]),
        np.ones(1),
        (0,),
    )
