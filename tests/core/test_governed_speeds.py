"""Speeds of a governed propeller, searched on grids, against scipy piece by piece of the curve."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from tussock import relation
from tussock.sums import curve, governor, power
from tussock.sums.tuning.parameters import CLASS_CURVE

from .broadcasting import assert_broadcasts

TABLES = {"table_advance": CLASS_CURVE[0], "table_efficiency": CLASS_CURVE[1]}
AIR: dict[str, Any] = {"power": 110e3, "rotation": 45.0, "propeller_diameter": 1.9}
DRAG: dict[str, Any] = {"drag_square": 0.38, "drag_inverse": 6.0e5}
SPEEDS = {
    "angle": governor.governed_best_angle_speed,
    "rate": governor.governed_best_rate_speed,
    "level": governor.governed_level_speed,
}


def excess(speed: float, case: dict[str, Any], tables: dict[str, Any]) -> float:
    """Written out, one number at a time."""
    j = speed / (case["rotation"] * case["propeller_diameter"])
    eta = float(np.interp(j, tables["table_advance"], tables["table_efficiency"]))
    return eta * case["power"] / speed - case["drag_square"] * speed**2 - case["drag_inverse"] / speed**2


def pieces(case: dict[str, Any], tables: dict[str, Any], low: float) -> list[tuple[float, float]]:
    turned = case["rotation"] * case["propeller_diameter"]
    edges = [max(low, turned * j, 1e-3) for j in tables["table_advance"]]
    return [(a, b) for a, b in pairwise(edges) if b > a]


def brute(kind: str, case: dict[str, Any], tables: dict[str, Any], low: float) -> float:
    """By scipy in every piece, from `low` to the end of the curve; nan where that does not bracket it."""
    parts = pieces(case, tables, low)
    if not parts:
        return math.nan
    first, last = parts[0][0], parts[-1][1]
    if kind == "level":
        if excess(last, case, tables) > 0.0:
            return math.nan
        for a, b in reversed(parts):
            fine = np.linspace(a, b, 200)
            above = [excess(float(v), case, tables) > 0.0 for v in fine]
            if any(above):
                i = max(k for k, yes in enumerate(above) if yes)
                if i == len(fine) - 1:
                    return b
                return float(brentq(excess, fine[i], fine[i + 1], args=(case, tables), xtol=1e-12))
        return math.nan
    scale = (lambda v: v) if kind == "rate" else (lambda v: 1.0)

    def cost(v: float) -> float:
        return -scale(v) * excess(v, case, tables)

    found = []
    for a, b in parts:
        tried = minimize_scalar(cost, bounds=(a, b), method="bounded", options={"xatol": 1e-9})
        found += [(cost(a), a), (cost(b), b), (float(tried.fun), float(tried.x))]
    best = min(found)[1]
    if best >= last - 1e-4 * (last - first) or (best <= first + 1e-4 * (last - first) and first > low):
        return math.nan
    return best


@pytest.mark.parametrize("kind", SPEEDS)
@settings(max_examples=80, deadline=None)
@given(
    st.floats(40e3, 220e3), st.floats(0.2, 0.7), st.floats(2e5, 2.5e6), st.floats(1.6, 2.1),
    st.sampled_from([0.0, 22.0, 30.0]), st.sampled_from([0.0, 0.2, 0.3]), st.sampled_from([1.0, 1.2, 1.4]),
)  # fmt: skip
def test_as_scipy_finds_them(kind, shaft, square, inverse, diameter, slowest, begin, end):
    case = {"power": shaft, "rotation": 45.0, "propeller_diameter": diameter}
    case |= {"drag_square": square, "drag_inverse": inverse}
    kept = [(j, e) for j, e in zip(*CLASS_CURVE, strict=True) if begin <= j <= end]
    tables = {"table_advance": [j for j, _ in kept], "table_efficiency": [e for _, e in kept]}
    found = SPEEDS[kind](**case, **tables, slowest=slowest)
    wanted = brute(kind, case, tables, slowest)
    if kind != "level" and math.isnan(wanted) != math.isnan(found):
        # at the very edge the two may differ in whether it is one
        turned = 45.0 * diameter
        known = wanted if math.isnan(found) else found
        assert min(abs(known - turned * begin), abs(known - turned * end)) < 0.01
        return
    if kind == "level":
        assert found == pytest.approx(wanted, rel=1e-6, nan_ok=True)
    else:
        assert found == pytest.approx(wanted, abs=2e-3, nan_ok=True)


def test_what_they_mean():
    vx, vy, most = (found(**AIR, **DRAG, **TABLES) for found in SPEEDS.values())
    assert vx < vy < most
    thrust = governor.governed_thrust(most, **AIR, **TABLES)
    assert thrust == pytest.approx(DRAG["drag_square"] * most**2 + DRAG["drag_inverse"] / most**2, rel=1e-6)
    rates = [
        power.climb_rate_from_thrust(v, 900.0, governor.governed_thrust(v, **AIR, **TABLES), **DRAG)
        for v in (vy - 1.0, vy, vy + 1.0)
    ]
    assert rates[1] > max(rates[0], rates[2])


def test_thrust_is_efficiency_times_power_over_speed_inside_the_curve_alone():
    speeds = np.array([0.0, 10.0, 40.0, 119.0, 120.0])
    found = governor.governed_thrust(speeds, **AIR, **TABLES)
    by_hand = np.interp(speeds[1:4] / 85.5, *CLASS_CURVE) * AIR["power"] / speeds[1:4]
    assert found[1:4] == pytest.approx(by_hand)
    assert np.isnan(found[[0, 4]]).all()


def test_a_curve_that_ends_too_soon_says_nothing():
    """At its end the aeroplane still has thrust to spare, or the best is where the curve begins or ends."""
    short = {"table_advance": [0.0, 0.3, 0.5], "table_efficiency": [0.0, 0.5, 0.68]}
    assert math.isnan(governor.governed_level_speed(**AIR, **DRAG, **short))
    assert math.isnan(
        governor.governed_best_rate_speed(**AIR, **DRAG, **short | {"table_advance": [0, 0.1, 0.2]})
    )
    late = {"table_advance": [0.9, 1.1, 1.4], "table_efficiency": [0.83, 0.84, 0.82]}
    assert math.isnan(governor.governed_best_angle_speed(**AIR, **DRAG, **late))
    # where the owner says where to begin, that may be the best there is
    assert governor.governed_best_angle_speed(**AIR, **DRAG, **TABLES, slowest=60.0) == pytest.approx(60.0)


@pytest.mark.parametrize("function", SPEEDS.values())
def test_no_curve_or_no_drag_is_nan(function):
    for tables in ({"table_advance": [0.5], "table_efficiency": [0.6]},
                   {"table_advance": [0.5, 0.5], "table_efficiency": [0.6, 0.7]}):  # fmt: skip
        assert math.isnan(function(**AIR, **DRAG, **tables))
    assert math.isnan(function(**AIR, drag_square=0.38, drag_inverse=0.0, **TABLES))
    assert math.isnan(function(**AIR | {"power": math.nan}, **DRAG, **TABLES))
    given = AIR | DRAG | TABLES | {"power": -1.0}
    assert math.isnan(relation.evaluate(function.__name__, **given))


def test_a_window_of_level_flight_narrower_than_the_grid_is_found():
    """Just below the ceiling: thrust is above drag over less than a step of 0.46 m/s."""
    drag = DRAG | {"drag_inverse": 9.0e5}

    def margin(shaft: float) -> float:
        case = AIR | drag | {"power": shaft}
        return excess(governor.governed_best_angle_speed(**case, **TABLES), case, TABLES)

    barely = AIR | {"power": brentq(margin, 40e3, 110e3, xtol=1e-6) * 1.000005}
    vx = governor.governed_best_angle_speed(**barely, **drag, **TABLES)
    found = governor.governed_level_speed(**barely, **drag, **TABLES)
    assert vx < found < vx + 0.46
    assert math.isnan(
        governor.governed_level_speed(**barely | {"power": barely["power"] * 0.99}, **drag, **TABLES)
    )


def test_curves_of_many_at_once():
    points = np.array([0.0, 0.5, 1.0])
    values = np.array([[0.0, 0.5, 0.7], [0.0, 0.6, 0.8]])
    at = np.array([[0.25, 0.75], [0.25, 1.5]])
    found = curve.along(at, points, values[:, None, :])
    assert found[:, 0] == pytest.approx([0.25, 0.3])
    assert math.isnan(found[1, 1])
    assert curve.along(at, points, values[:, None, :], held=True)[1, 1] == pytest.approx(0.8)


@pytest.mark.parametrize("function", SPEEDS.values())
def test_broadcasting(function):
    assert_broadcasts(function, **AIR, **DRAG, **TABLES, slowest=25.0)


def test_broadcasting_of_the_thrust():
    assert_broadcasts(governor.governed_thrust, true_airspeed=40.0, **AIR, **TABLES)
