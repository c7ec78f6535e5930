"""What is believed of an aeroplane before its notebook is read: the frame and the prior of its fit.

Medians come from the constants in its document, where it has some for this configuration, else from the
class: rated power and rotation, propeller diameter. How wide a constant's prior is goes by its origin, and by
its own spread where one was noted. Constants that were fitted to this very notebook are left aside: it would
count twice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

from ..documents import Aeroplane
from ..documents.base import Figure
from ..documents.performance import Constants, ConstantSpeed
from ..sums.air import RHO0, air_density, isa_pressure
from ..sums.power import ground_effect_factor, static_torque_fraction
from ..sums.tuning.model import Frame
from ..sums.tuning.parameters import PARAMETERS, Prior, class_means, prior_of
from .answer import message

Message = dict[str, Any]
#: part of the class's spread that is left for a constant by its origin; none is believed closer than 3 %
BY_ORIGIN = {"measured": 0.5, "book": 1.0, "estimated": 1.5}
CLOSEST = 0.03
#: spread of a static rotation that was measured as a baseline, where the tachometer's error was not noted
TACHOMETER = 0.015


@dataclass
class Belief:
    """Frame and prior of one configuration; with `lacking` there are none."""

    frame: Frame | None = None
    prior: Prior | None = None
    source: Constants | None = None
    lacking: list[Message] = field(default_factory=list)
    assumed: list[Message] = field(default_factory=list)
    torque: float = math.nan


def source_of(plane: Aeroplane, rig: str, notebooks: set[str]) -> Constants | None:
    """The first constants that hold for this configuration and were not fitted to these notebooks."""
    for source in plane.performance:
        if not isinstance(source, Constants) or source.technique != "usual":
            continue
        if source.fitted is not None and source.fitted.notebook in notebooks:
            continue
        if source.configurations is None or rig in source.configurations:
            return source
    return None


def belief(plane: Aeroplane, rig: str, notebooks: set[str]) -> Belief:
    """What is believed of the aeroplane in one configuration, or what lacks to believe anything."""
    found = Belief(source=source_of(plane, rig, notebooks))
    wing, engine, propeller = plane.wing, plane.engine, plane.propeller
    if engine.aspiration == "supercharged":
        found.lacking.append(message("reason.supercharged"))
    if isinstance(propeller, ConstantSpeed):
        found.lacking.append(message("reason.constant_speed"))
    needed = {
        "wing_area": wing.area,
        "wing_span": wing.span,
        "propeller_diameter": propeller.diameter if propeller else None,
        "rated_power": engine.rated_power,
        "rated_rotation": engine.rated_rotation,
    }
    names = [name.replace("_", " ") for name, figure in needed.items() if figure is None]
    if names:
        found.lacking.append(message("tune.lacking", names=", ".join(names)))
    if found.lacking:
        return found
    assert wing.area and wing.span and propeller and propeller.diameter
    assert engine.rated_power and engine.rated_rotation
    found.torque = engine.rated_power.value / (2.0 * math.pi * engine.rated_rotation.value)
    found.frame = _frame(plane, found)
    found.prior = _prior(plane, found)
    return found


def _frame(plane: Aeroplane, found: Belief) -> Frame:
    source, wing, propeller = found.source, plane.wing, plane.propeller
    assert wing.area and wing.span and propeller and propeller.diameter
    usual = Frame(1.0, 1.0, 1.0)
    names = (
        "torque_cutoff", "roll_lift", "roll_drag", "landing_roll_lift", "landing_roll_drag", "idle_thrust",
        "approach_gradient", "float_factor",
    )  # fmt: skip
    own: dict[str, float] = {}
    for name in names:
        figure: Figure | None = getattr(source, name) if source else None
        own[name] = figure.value if figure else float(getattr(usual, name))
        if figure is None:
            value = own[name]
            found.assumed.append(message("tune.assumed.usual", name=name.replace("_", " "), value=value))
    near = 1.0
    if wing.height is not None:
        near = float(ground_effect_factor(wing.height.value, wing.span.value))
    return Frame(
        wing.area.value,
        wing.span.value**2 / wing.area.value,
        propeller.diameter.value,
        induced_at_lift_off=near,
        **own,
    )


def _prior(plane: Aeroplane, found: Belief) -> Prior:
    engine, propeller, source = plane.engine, plane.propeller, found.source
    assert engine.rated_power and engine.rated_rotation and propeller and propeller.diameter
    diameter = propeller.diameter.value
    means: dict[str, Any] = class_means(engine.rated_power.value, engine.rated_rotation.value, diameter)
    sds: dict[str, Any] = {}
    if source is not None:
        for name in ("static_thrust", "zero_lift_drag", "efficiency", "propeller_intercept"):
            figure = getattr(source, name)
            if figure is not None and figure.value != 0.0:
                means[name], sds[name] = abs(figure.value), _spread(name, [figure])
        torque, slope = source.rated_torque, source.propeller_slope
        if torque is not None and slope is not None and slope.value > 0.0:
            means["thrust_constant"] = 2.0 * math.pi * slope.value * torque.value / diameter
            sds["thrust_constant"] = _spread("thrust_constant", [torque, slope])
    baseline = plane.run_up
    if baseline is not None:
        pressure = float(isa_pressure(baseline.pressure_altitude))
        ratio = float(air_density(pressure, baseline.temperature, 0.0)) / RHO0
        cutoff = found.frame.torque_cutoff if found.frame else 0.12
        same = baseline.rotation.value
        means["rotation"] = same * math.sqrt(float(static_torque_fraction(same, same, ratio, 1.0, cutoff)))
        error = baseline.tachometer_error
        sds["rotation"] = max(error.value if error else TACHOMETER, 0.005)
    return prior_of(means, sds)


def _spread(name: str, figures: list[Figure]) -> float:
    """Spread of the logarithm: of a product, all its parts'."""
    whole = PARAMETERS[name][2]
    parts = [
        f.sd / abs(f.value) if f.sd else whole * BY_ORIGIN[f.origin] / math.sqrt(len(figures))
        for f in figures
    ]
    return max(math.hypot(*parts), CLOSEST)
