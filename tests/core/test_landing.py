"""Landing: the braked roll against numerical integration, its inverse, the air distance, signs, shapes."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tussock import relation
from tussock.sums import landing

from .integrals import area
from .shapes import check_broadcast

G0 = 9.80665
BASE = {
    "mass": 600.0,
    "touchdown_speed": 20.0,
    "headwind": 2.0,
    "slope": -0.01,
    "braking_friction": 0.25,
    "idle_thrust": 80.0,
    "density": 1.0,
    "wing_area": 14.0,
    "lift_coefficient": 0.5,
    "drag_coefficient": 0.1,
}
PLAUSIBLE = st.fixed_dictionaries(
    {
        "mass": st.floats(250, 2000),
        "touchdown_speed": st.floats(10, 40),
        "headwind": st.floats(-12, 9),
        "slope": st.floats(-0.15, 0.15),
        "braking_friction": st.floats(0, 0.8),
        "idle_thrust": st.floats(-200, 400),
        "density": st.floats(0.6, 1.4),
        "wing_area": st.floats(8, 30),
        "lift_coefficient": st.floats(-0.2, 1.8),
        "drag_coefficient": st.floats(0.02, 0.25),
    }
)


def deceleration(speed, mass, slope, braking_friction, idle_thrust, **wing):
    pressure = 0.5 * wing["density"] * speed**2 * wing["wing_area"]
    on_wheels = max(mass * G0 - pressure * wing["lift_coefficient"], 0.0)
    along = mass * G0 * math.sin(math.atan(slope))
    return (pressure * wing["drag_coefficient"] + braking_friction * on_wheels + along - idle_thrust) / mass


def split(case):
    rest = {k: v for k, v in case.items() if k not in ("touchdown_speed", "headwind")}
    start, end = case["headwind"], case["touchdown_speed"]
    lifting = 0.5 * case["density"] * case["wing_area"] * case["lift_coefficient"]
    unload = math.sqrt(case["mass"] * G0 / lifting) if lifting > 0 else math.inf
    return [start, *(v for v in (0.0, unload) if start < v < end), end], rest


def least(case):
    stops, rest = split(case)
    values = [deceleration(v, **rest) for v in np.unique([*np.linspace(stops[0], stops[-1], 400), *stops])]
    return min(values), max(values)


@settings(max_examples=400, deadline=None)
@given(PLAUSIBLE)
def test_roll_is_the_integral(case):
    low, high = least(case)
    assume(low > 1e-3 * high)
    stops, rest = split(case)
    # no wing is carried by a wind from behind
    lifting = 0.5 * rest["density"] * rest["wing_area"] * rest["lift_coefficient"]
    assume(lifting * min(case["headwind"], 0.0) ** 2 < case["mass"] * G0)
    distance = time = 0.0
    for start, end in pairwise(stops):
        distance += area(lambda v: (v - case["headwind"]) / deceleration(v, **rest), start, end)
        time += area(lambda v: 1.0 / deceleration(v, **rest), start, end)
    got = landing.landing_roll(**case)
    assert got.distance == pytest.approx(distance, rel=1e-8)
    assert got.time == pytest.approx(time, rel=1e-8)


@settings(max_examples=400, deadline=None)
@given(PLAUSIBLE)
def test_no_deceleration_is_impossible_never_nan(case):
    low, _ = least(case)
    assume(abs(low) > 1e-8)
    # a tailwind that carries the whole aeroplane from behind is "impossible" whatever the brakes
    _, rest = split(case)
    lifting = 0.5 * rest["density"] * rest["wing_area"] * rest["lift_coefficient"]
    assume(lifting * min(case["headwind"], 0.0) ** 2 < case["mass"] * G0)
    got = landing.landing_roll(**case)
    assert math.isinf(got.distance) == math.isinf(got.time) == (low <= 0)
    assert got.distance >= 0


@pytest.mark.parametrize(
    "change", [{}, {"headwind": -4.0}, {"lift_coefficient": 2.4}, {"drag_coefficient": 0.3}]
)
def test_roll_against_time_stepping(change):
    case = BASE | change
    _, rest = split(case)
    wind = case["headwind"]

    def step(_, state):
        return [state[1] - wind, -deceleration(state[1], **rest)]

    def stops(_, state):
        return state[1] - wind

    stops.terminal = True
    run = solve_ivp(
        step, (0, 200), [0.0, case["touchdown_speed"]], events=stops, rtol=1e-10, atol=1e-10, max_step=0.02
    )
    assert landing.landing_roll(**case) == pytest.approx((run.y[0, -1], run.t[-1]), rel=1e-6)


def test_brakes_alone_are_uniform():
    bare = BASE | {"slope": 0.0, "idle_thrust": 0.0, "lift_coefficient": 0.0, "drag_coefficient": 0.0}
    got = landing.landing_roll(**bare | {"headwind": 0.0})
    assert got.distance == pytest.approx(20.0**2 / (2 * 0.25 * G0), rel=1e-13)
    assert got.time == pytest.approx(20.0 / (0.25 * G0), rel=1e-13)


def test_downhill_without_enough_brake_never_stops():
    assert math.isinf(landing.landing_roll(**BASE | {"slope": -0.1, "braking_friction": 0.05}).distance)


@pytest.mark.parametrize("headwind", [20.0, 25.0])
def test_standing_in_the_wind(headwind):
    assert landing.landing_roll(**BASE | {"headwind": headwind}) == (0.0, 0.0)


@pytest.mark.parametrize(
    "harder",
    [{"slope": -0.03}, {"headwind": -1.0}, {"braking_friction": 0.15}, {"idle_thrust": 200.0},
     {"lift_coefficient": 0.9}, {"drag_coefficient": 0.05}, {"touchdown_speed": 22.0}],
    ids=lambda change: next(iter(change)),
)  # fmt: skip
def test_each_effect_lengthens_the_roll(harder):
    assert landing.landing_roll(**BASE | harder).distance > 1.005 * landing.landing_roll(**BASE).distance


@pytest.mark.parametrize("thrust", [0.0, 80.0])
def test_heavier_lengthens_the_roll(thrust):
    """Mass acts through the speed of the same lift coefficient."""

    def at(ratio):
        case = BASE | {"mass": 600.0 * ratio, "touchdown_speed": 20.0 * math.sqrt(ratio)}
        return landing.landing_roll(**case | {"idle_thrust": thrust}).distance

    assert at(1.0) < at(1.1) < at(1.2)


def test_thin_air_lengthens_the_roll():
    def at(ratio):
        case = BASE | {"density": 1.225 * ratio, "touchdown_speed": 20.0 / math.sqrt(ratio)}
        return landing.landing_roll(**case).distance

    assert at(1.0) < at(0.9) < at(0.8)


HARDER = st.sampled_from(
    [("slope", -0.03), ("headwind", -2.0), ("braking_friction", -0.05), ("idle_thrust", 50.0),
     ("drag_coefficient", -0.02), ("touchdown_speed", 2.0)]
)  # fmt: skip


@settings(max_examples=600, deadline=None)
@given(PLAUSIBLE, HARDER)
def test_harder_never_shortens(case, harder):
    key, change = harder
    assume(case[key] + change >= 0 or key in ("slope", "headwind", "idle_thrust"))
    before = landing.landing_roll(**case).distance
    assert landing.landing_roll(**case | {key: case[key] + change}).distance >= before * (1 - 1e-9)


# --- friction from a known roll ----------------------------------------


@settings(max_examples=200, deadline=None)
@given(PLAUSIBLE, st.floats(0.01, 0.99))
def test_friction_is_the_inverse(case, friction):
    case = case | {"braking_friction": friction}
    known = landing.landing_roll(**case).distance
    assume(1.0 < known < 1e4)
    # brakes must have something to act on
    assume(landing.landing_roll(**case | {"braking_friction": 1.0}).distance < 0.999 * known)
    rest = {k: v for k, v in case.items() if k != "braking_friction"}
    found = landing.friction_from_roll(known, **rest)
    # where the brakes hardly beat the thrust a roll turns on the last digits of the friction
    assert landing.landing_roll(**rest, braking_friction=found).distance == pytest.approx(known, rel=1e-6)


def test_friction_that_cannot_be_is_not_said():
    rest = {k: v for k, v in BASE.items() if k != "braking_friction"}
    rest |= {"slope": 0.0, "idle_thrust": 0.0}
    free = landing.landing_roll(**rest, braking_friction=0.0).distance
    full = landing.landing_roll(**rest, braking_friction=1.0).distance
    rolls = np.array([0.99 * full, 1.01 * full, 0.99 * free, 1.01 * free, math.nan])
    found = landing.friction_from_roll(rolls, **rest)
    assert list(np.isnan(found)) == [True, False, False, True, True]
    assert math.isnan(landing.friction_from_roll(50.0, **rest | {"headwind": 25.0}))


# --- from 50 ft ----------------------------------------

AIR = {"approach_speed": 26.0, "touchdown_speed": 22.0, "approach_gradient": 0.1, "headwind": 2.0}


def test_approach_speed():
    assert landing.approach_speed(20.0) == pytest.approx(26.0)
    assert landing.approach_speed(20.0, 5.0) == pytest.approx(28.5)


def test_air_distance_is_descent_and_float():
    still = landing.air_distance(**AIR | {"headwind": 0.0})
    assert still.distance == pytest.approx(152.4 + (26.0**2 - 22.0**2) / (2 * G0 * 0.1), rel=1e-12)
    assert still.time == pytest.approx(math.hypot(15.24, 152.4) / 26.0 + 4.0 / (0.1 * G0), rel=1e-12)
    windy = landing.air_distance(**AIR)
    assert windy.time == pytest.approx(still.time)
    assert windy.distance == pytest.approx(still.distance - 2.0 * still.time)


def test_the_float_by_stepping():
    """Held off at a constant part of g: the speed falls, the ground goes by."""
    whole = landing.air_distance(**AIR, deceleration_gradient=0.06, float_time=1.5).distance
    descent = landing.air_distance(**AIR | {"touchdown_speed": 26.0}).distance
    run = solve_ivp(lambda t, s: [s[1] - 2.0, -0.06 * G0], (0, 4.0 / (0.06 * G0)), [0.0, 26.0], rtol=1e-10)
    assert whole - descent == pytest.approx(run.y[0, -1] + 1.5 * (22.0 - 2.0), rel=1e-8)


@pytest.mark.parametrize(
    "harder",
    [{"approach_speed": 28.0}, {"touchdown_speed": 20.0}, {"approach_gradient": 0.07}, {"headwind": -2.0},
     {"height": 20.0}, {"deceleration_gradient": 0.05}, {"float_time": 2.0}],
    ids=lambda change: next(iter(change)),
)  # fmt: skip
def test_each_effect_lengthens_the_air_distance(harder):
    assert landing.air_distance(**AIR | harder).distance > landing.air_distance(**AIR).distance


def test_air_distance_at_its_limits():
    assert landing.air_distance(**AIR | {"approach_gradient": 0.0}) == (math.inf, math.inf)
    assert math.isinf(landing.air_distance(**AIR, deceleration_gradient=0.0).distance)
    same = landing.air_distance(**AIR | {"touchdown_speed": 26.0}, deceleration_gradient=0.0)
    assert landing.air_distance(**AIR | {"touchdown_speed": 30.0}).distance == pytest.approx(same.distance)
    assert landing.air_distance(**AIR | {"headwind": 40.0}).distance == 0.0
    assert math.isnan(landing.air_distance(**AIR | {"approach_gradient": math.nan}).distance)


# --- shapes ----------------------------------------

WING = {
    "idle_thrust": (-50.0, 150.0),
    "density": (0.9, 1.2),
    "wing_area": (12.0, 15.0),
    "lift_coefficient": (0.3, 2.2),
    "drag_coefficient": (0.05, 0.12),
}
WHEELS = {
    "mass": (500.0, 600.0),
    "touchdown_speed": (18.0, 22.0),
    "headwind": (-3.0, 3.0),
    "slope": (-0.1, 0.02),
}
SHAPES = {
    "approach_speed": {"stall_speed": (17.0, 20.0), "gust_spread": (0.0, 5.0)},
    "air_distance": {
        "approach_speed": (25.0, 27.0),
        "touchdown_speed": (20.0, 26.0),
        "approach_gradient": (0.0, 0.12),
        "headwind": (-3.0, 5.0),
        "height": (10.0, 15.24),
        "deceleration_gradient": (0.05, 0.1),
        "float_time": (0.0, 3.0),
    },
    "landing_roll": WHEELS | {"braking_friction": (0.05, 0.4)} | WING,
    "friction_from_roll": {"roll": (40.0, 300.0)} | WHEELS | WING,
}


@pytest.mark.parametrize("name", SHAPES)
def test_broadcasts(name):
    check_broadcast(name, SHAPES[name])


def test_every_relation_is_tried_for_shape():
    mine = {name for name, r in relation.REGISTER.items() if r.module == landing.__name__}
    assert mine == set(SHAPES)
