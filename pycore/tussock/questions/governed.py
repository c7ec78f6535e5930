"""Thrust of a constant-speed propeller: its efficiency curve in place of the linear polar."""

from __future__ import annotations

from typing import Any

from ..documents import Aeroplane
from ..documents.base import Figure
from ..documents.performance import ConstantSpeed
from ..sums.air import RHO0
from ..sums.governor import governed_best_rate_speed
from ..sums.power import advance_ratio, constant_speed_thrust, governed_efficiency, torque_falloff
from .working import Working


def rotation_of(plane: Aeroplane, propeller: ConstantSpeed) -> Figure | None:
    """The rotation that it is governed at: the propeller's limit or the engine's rated one, the lower."""
    known = [f for f in (propeller.rotation_limit, plane.engine.rated_rotation) if f is not None]
    return min(known, key=lambda figure: figure.value) if known else None


def needed(plane: Aeroplane, propeller: ConstantSpeed) -> dict[str, Any]:
    """What its thrust rests on, by name; None for what is not there."""
    return {
        "rated_power": plane.engine.rated_power,
        "rated_rotation": plane.engine.rated_rotation,
        "propeller_efficiency_curve": propeller.efficiency if len(propeller.efficiency) > 1 else None,
    }


def thrust(
    plane: Aeroplane,
    propeller: ConstantSpeed,
    speed: float,
    dry_density: float,
    cutoff: float,
    work: Working,
) -> float:
    """Thrust [N] at a true airspeed [m/s]; nan where the curve does not reach it. Call when nothing lacks.

    The power falls off with the dry air as the torque does, for the rotation is held; held below the rated
    one, it is less by as much.
    """
    rotation = rotation_of(plane, propeller)
    assert rotation and propeller.diameter
    fall = float(work.step(torque_falloff, density_ratio=dry_density / RHO0, cutoff=cutoff))
    advance = float(
        work.step(
            advance_ratio,
            true_airspeed=speed,
            rotation=rotation.value,
            propeller_diameter=propeller.diameter.value,
        )
    )
    curve = sorted(propeller.efficiency, key=lambda point: point.advance_ratio)
    efficiency = work.step(
        governed_efficiency,
        advance_ratio=advance,
        table_advance=[point.advance_ratio for point in curve],
        table_efficiency=[point.efficiency for point in curve],
    )
    power = held_power(plane, propeller) * fall
    pull = work.step(constant_speed_thrust, true_airspeed=speed, power=power, efficiency=float(efficiency))
    return float(pull)


def held_power(plane: Aeroplane, propeller: ConstantSpeed) -> float:
    """Power [W] at the governed rotation in standard air: the torque is as rated. Call when nothing lacks."""
    rotation, rated = rotation_of(plane, propeller), plane.engine.rated_rotation
    assert plane.engine.rated_power and rotation and rated
    return plane.engine.rated_power.value * rotation.value / rated.value


def best_rate(
    plane: Aeroplane,
    propeller: ConstantSpeed,
    drag_square: float,
    drag_inverse: float,
    slowest: float,
    dry_density: float,
    cutoff: float,
    work: Working,
) -> float:
    """True airspeed [m/s] of the fastest climb, found along the curve; nan where it is not in there."""
    rotation = rotation_of(plane, propeller)
    assert rotation and propeller.diameter
    fall = float(work.step(torque_falloff, density_ratio=dry_density / RHO0, cutoff=cutoff))
    curve = sorted(propeller.efficiency, key=lambda point: point.advance_ratio)
    found = work.step(
        governed_best_rate_speed,
        power=held_power(plane, propeller) * fall,
        rotation=rotation.value,
        propeller_diameter=propeller.diameter.value,
        drag_square=drag_square,
        drag_inverse=drag_inverse,
        slowest=slowest,
        table_advance=[point.advance_ratio for point in curve],
        table_efficiency=[point.efficiency for point in curve],
    )
    return float(found)
