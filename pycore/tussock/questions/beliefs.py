"""What is believed of an aeroplane before its notebook is read: the frame and the prior of its fit.

Medians come from the constants in its document, where it has some for this configuration, else from the
class: rated power and rotation, propeller diameter. A constant-speed propeller has its curve of efficiency in
the document, or is taken for one of its class, which is a guess. How wide a constant's prior is goes by its
origin, and by its own spread where one was noted. Constants that were fitted to this very notebook are left
aside: it would count twice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..documents import Aeroplane
from ..documents.base import Figure
from ..documents.performance import Constants, ConstantSpeed
from ..sums.air import RHO0, air_density, isa_pressure
from ..sums.curve import rising
from ..sums.power import ground_effect_factor, static_torque_fraction
from ..sums.tuning.governor import Governor
from ..sums.tuning.model import Frame
from ..sums.tuning.parameters import CLASS_CURVE, Prior, class_means, governed_means, prior_of, told_of
from . import governed
from .answer import message

Message = dict[str, Any]
#: part of the class's spread that is left for a constant by its origin; none is believed closer than 3 %
BY_ORIGIN = {"measured": 0.5, "book": 1.0, "estimated": 1.5}
CLOSEST = 0.03
#: spread of a static rotation that was measured as a baseline, where the tachometer's error was not noted
TACHOMETER = 0.015
#: spread of the useful power for not knowing the propeller's own curve
CURVE_SPREAD = 0.06


@dataclass
class Belief:
    """Frame and prior of one configuration; with `lacking` there are none."""

    frame: Frame | None = None
    prior: Prior | None = None
    source: Constants | None = None
    lacking: list[Message] = field(default_factory=list)
    assumed: list[Message] = field(default_factory=list)
    torque: float = math.nan
    #: something that no document tells was taken from the class, in place of the propeller's own curve
    guessed: bool = False

    @property
    def governor(self) -> Governor | None:
        """Of a constant-speed propeller."""
        return self.frame.governor if self.frame is not None else None


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
    turned = None
    if isinstance(propeller, ConstantSpeed):
        turned = _governor(plane, propeller, found)
        if turned is None:
            found.lacking.append(message("reason.curve_unusable"))
            return found
    found.frame = _frame(plane, found, turned)
    found.prior = _prior(plane, found)
    return found


def _governor(plane: Aeroplane, propeller: ConstantSpeed, found: Belief) -> Governor | None:
    """Governed rotation and curve of efficiency; None where the curve given is none."""
    rotation = governed.rotation_of(plane, propeller)
    assert rotation is not None
    points, values = (np.array(part) for part in CLASS_CURVE)
    if propeller.efficiency:
        curve = sorted(propeller.efficiency, key=lambda point: point.advance_ratio)
        points = np.array([point.advance_ratio for point in curve])
        values = np.array([point.efficiency for point in curve])
        if not rising(points, values) or not np.any(values[points > 0.0] > 0.0):
            return None
    else:
        found.guessed = True
        found.assumed.append(message("tune.assumed.curve"))
    found.assumed.append(message("tune.assumed.governed", rotation=rotation.value))
    return Governor(rotation.value, points, values)


def _frame(plane: Aeroplane, found: Belief, governor: Governor | None) -> Frame:
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
        governor=governor,
        **own,
    )


def _prior(plane: Aeroplane, found: Belief) -> Prior:
    engine, propeller, source = plane.engine, plane.propeller, found.source
    assert engine.rated_power and engine.rated_rotation and propeller and propeller.diameter
    diameter = propeller.diameter.value
    turned = found.governor
    means: dict[str, Any]
    sds: dict[str, Any] = {}
    if turned is None:
        means = class_means(engine.rated_power.value, engine.rated_rotation.value, diameter)
    else:
        assert isinstance(propeller, ConstantSpeed)
        means = governed_means(governed.held_power(plane, propeller), diameter)
        own = _spread("useful_power", [engine.rated_power], governed=True)
        sds["useful_power"] = math.hypot(own, CURVE_SPREAD if found.guessed else 0.0)
    if source is not None:
        for name in ("static_thrust", "zero_lift_drag", "efficiency", "propeller_intercept"):
            figure = getattr(source, name)
            if turned is not None and name == "propeller_intercept":
                continue
            if figure is not None and figure.value != 0.0:
                means[name], sds[name] = abs(figure.value), _spread(name, [figure])
        torque, slope = source.rated_torque, source.propeller_slope
        if turned is None and torque is not None and slope is not None and slope.value > 0.0:
            means["thrust_constant"] = 2.0 * math.pi * slope.value * torque.value / diameter
            sds["thrust_constant"] = _spread("thrust_constant", [torque, slope])
    baseline = plane.run_up
    if baseline is not None and turned is None:
        pressure = float(isa_pressure(baseline.pressure_altitude))
        ratio = float(air_density(pressure, baseline.temperature, 0.0)) / RHO0
        cutoff = found.frame.torque_cutoff if found.frame else 0.12
        same = baseline.rotation.value
        means["rotation"] = same * math.sqrt(float(static_torque_fraction(same, same, ratio, 1.0, cutoff)))
        error = baseline.tachometer_error
        sds["rotation"] = max(error.value if error else TACHOMETER, 0.005)
    return prior_of(means, sds, governed=turned is not None)


def _spread(name: str, figures: list[Figure], *, governed: bool = False) -> float:
    """Spread of the logarithm: of a product, all its parts'."""
    whole = told_of(governed)[name][2]
    parts = [
        f.sd / abs(f.value) if f.sd else whole * BY_ORIGIN[f.origin] / math.sqrt(len(figures))
        for f in figures
    ]
    return max(math.hypot(*parts), CLOSEST)
