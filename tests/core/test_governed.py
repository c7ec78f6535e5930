"""Constant-speed propellers: the efficiency curve in place of the polar, in the sums and in the answers."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import interp1d

from tussock import relation
from tussock.sums import power
from tussock.sums.air import G0, RHO0

from . import case

CURVE = ([0.0, 0.3, 0.5, 0.7, 0.9, 1.1], [0.0, 0.52, 0.68, 0.78, 0.82, 0.80])


@given(st.floats(0.0, 1.1))
def test_the_curve_is_straight_between_its_points(advance):
    found = power.governed_efficiency(advance, *CURVE)
    assert found == pytest.approx(float(interp1d(*CURVE)(advance)), rel=1e-12)


@pytest.mark.parametrize("advance", [-0.01, 1.11, math.nan])
def test_beyond_the_curve_nothing_is_said(advance):
    assert math.isnan(power.governed_efficiency(advance, *CURVE))


@pytest.mark.parametrize("curve", [([0.1], [0.5]), ([0.1, 0.1], [0.5, 0.6]), ([0.1, 0.2], [0.5]), ([], [])])
def test_a_curve_that_is_none_says_nothing(curve):
    assert math.isnan(power.governed_efficiency(0.1, *curve))


def test_arrays_of_advance_ratios():
    advance = power.advance_ratio(np.array([20.0, 40.0]), 40.0, 1.9)
    assert advance == pytest.approx([20.0 / 76.0, 40.0 / 76.0])
    assert power.governed_efficiency(advance, *CURVE).shape == (2,)
    given = {"rotation": 40.0, "propeller_diameter": 1.9}
    assert math.isnan(relation.evaluate("advance_ratio", true_airspeed=-1.0, **given))


# --- answers ---------------------------------------------------------------------------------------------


def governed(curve: Any = CURVE, **engine: float) -> case.Documents:
    documents = case.base("constants")
    plane = documents["plover"]
    plane["engine"] |= {"rated_power": case.fig(75e3), "rated_rotation": case.fig(45.0)}
    plane["engine"] |= {name: case.fig(value) for name, value in engine.items()}
    plane["propeller"] = {
        "pitch_is": "constant_speed",
        "diameter": case.fig(1.9),
        "efficiency": [{"advance_ratio": j, "efficiency": e} for j, e in zip(*curve, strict=True)],
    }
    return documents


def gradient(documents: case.Documents) -> dict[str, Any]:
    found = case.answers(documents)["climbs_out"]
    return next(m for m in found["measures"] if m["name"] == "gradient")


def test_it_climbs_by_its_power_and_efficiency():
    documents = governed()
    told = case.answers(documents)["climbs_out"]
    steps = {step["relation"]: step for step in told["working"]}
    thrust = steps["constant_speed_thrust"]
    speed, shaft, share = (one["value"] for one in thrust["inputs"])
    fall = steps["torque_falloff"]["outputs"][0]["value"]
    assert shaft == pytest.approx(75e3 * fall)
    assert share == pytest.approx(np.interp(speed / (45.0 * 1.9), *CURVE))
    climb = steps["climb_rate"]
    given = {one["name"]: one["value"] for one in climb["inputs"]}
    drag = given["drag per airspeed squared G"] * speed**2 + given["drag times airspeed squared H"] / speed**2
    by_hand = speed * (share * shaft / speed - drag) / (given["mass of the aeroplane"] * G0)
    assert climb["outputs"][0]["value"] == pytest.approx(by_hand, rel=1e-9)
    assert RHO0 > 0


def test_more_power_climbs_better_and_lifts_off_sooner():
    weak, strong = governed(rated_power=70e3), governed(rated_power=90e3)
    assert gradient(strong)["available"] > gradient(weak)["available"]
    over = [
        next(m for m in case.answers(one)["lifts_off"]["measures"] if m["name"] == "takeoff_distance")[
            "needed"
        ]
        for one in (weak, strong)
    ]
    assert over[1] < over[0]


@pytest.mark.parametrize("lacking", ["rated_power", "rated_rotation", "diameter", "efficiency"])
def test_what_lacks_is_named_and_is_no_yes(lacking):
    documents = governed()
    plane = documents["plover"]
    part = plane["engine"] if lacking.startswith("rated") else plane["propeller"]
    del part[lacking]
    for question in ("lifts_off", "climbs_out"):
        told = case.answers(documents)[question]
        assert told["verdict"] == "can't say"
        assert "missing.constants" in str(told["reasons"])


def test_a_curve_that_does_not_reach_the_climb_is_no_yes():
    documents = governed(([0.0, 0.2], [0.0, 0.4]))
    assert case.answers(documents)["climbs_out"]["verdict"] == "can't say"


def test_an_estimated_power_takes_the_bare_yes_away():
    documents = governed()
    documents["plover"]["engine"]["rated_power"] = case.fig(75e3, "estimated")
    told = case.answers(documents)
    assert all(told[q]["verdict"] != "yes" for q in ("lifts_off", "climbs_out"))


# --- more than there can be ------------------------------------------------------------------------------


def test_a_curve_that_no_propeller_can_have_is_no_yes():
    """All of the power at every speed: at 27 m/s momentum theory leaves some 0.8 of it."""
    points = [0.0, 0.3, 0.5, 0.7, 0.9, 1.1]
    found = case.answers(governed((points, [1.0] * 6)))
    for question in ("lifts_off", "climbs_out"):
        assert found[question]["verdict"] == "can't say"
        assert "reason.too_strong" in case.reasons(found[question])


@pytest.mark.parametrize(
    ("place", "value", "questions"),
    [
        ("static_thrust", 4000.0, ("lifts_off",)),
        ("rated_torque", 900.0, ("lifts_off", "climbs_out")),
    ],
)
def test_a_slip_in_a_constant_is_no_yes(place, value, questions):
    documents = case.base("constants")
    assert set(case.verdicts(documents).values()) == {"yes"}
    case.put(documents, f"/plover/performance/constants/{place}", case.fig(value))
    found = case.answers(documents)
    for question in questions:
        assert found[question]["verdict"] == "can't say"
        assert "reason.too_strong" in case.reasons(found[question])
