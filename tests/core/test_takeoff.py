"""Take-off: the closed form against numerical integration, its inverse, signs, limits, shapes."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad, solve_ivp

from tussock import relation
from tussock.sums import roll, takeoff

from .integrals import area
from .shapes import check_broadcast

G0 = 9.80665
BASE = {
    "mass": 600.0,
    "lift_off_speed": 22.0,
    "headwind": 2.0,
    "slope": 0.01,
    "friction": 0.06,
    "static_thrust": 1900.0,
    "thrust_fall": -0.8,
    "density": 1.0,
    "wing_area": 14.0,
    "lift_coefficient": 0.6,
    "drag_coefficient": 0.07,
}
PLAUSIBLE = st.fixed_dictionaries(
    {
        "mass": st.floats(250, 2000),
        "lift_off_speed": st.floats(12, 45),
        "headwind": st.floats(-12, 10),
        "slope": st.floats(-0.15, 0.15),
        "friction": st.floats(0, 0.3),
        "static_thrust": st.floats(500, 8000),
        "thrust_fall": st.floats(-3, 1),
        "density": st.floats(0.6, 1.4),
        "wing_area": st.floats(8, 30),
        "lift_coefficient": st.floats(-0.2, 1.8),
        "drag_coefficient": st.floats(0.02, 0.2),
    }
)


def acceleration(speed, mass, friction, slope, static_thrust, thrust_fall, **wing):
    """Newton's second law written out, with wheels that can't push."""
    pressure = 0.5 * wing["density"] * speed**2 * wing["wing_area"]
    on_wheels = max(mass * G0 - pressure * wing["lift_coefficient"], 0.0)
    along = mass * G0 * math.sin(math.atan(slope))
    thrust = static_thrust + thrust_fall * speed**2
    return (thrust - pressure * wing["drag_coefficient"] - friction * on_wheels - along) / mass


def split(case):
    """(start, end, rest) of a case, and the airspeeds between which its acceleration is smooth."""
    rest = {k: v for k, v in case.items() if k not in ("lift_off_speed", "headwind")}
    start, end = case["headwind"], case["lift_off_speed"]
    lifting = 0.5 * case["density"] * case["wing_area"] * case["lift_coefficient"]
    unload = math.sqrt(case["mass"] * G0 / lifting) if lifting > 0 else math.inf
    stops = [start, *(v for v in (0.0, unload) if start < v < end), end]
    return start, stops, rest


def integrated(case):
    """Distance and time by adaptive quadrature over the airspeed."""
    wind, stops, rest = split(case)
    distance = time = 0.0
    for low, high in pairwise(stops):
        distance += area(lambda v: (v - wind) / acceleration(v, **rest), low, high)
        time += area(lambda v: 1.0 / acceleration(v, **rest), low, high)
    return distance, time


def least(case):
    """Least and greatest acceleration on a fine grid of airspeeds."""
    _, stops, rest = split(case)
    speeds = np.unique([*np.linspace(stops[0], stops[-1], 400), *stops])
    values = [acceleration(v, **rest) for v in speeds]
    return min(values), max(values)


def coefficients(case):
    loaded, _, _ = takeoff._acceleration(
        **{k: v for k, v in case.items() if k not in ("lift_off_speed", "headwind")}
    )
    return loaded


@settings(max_examples=400, deadline=None)
@given(PLAUSIBLE)
def test_roll_is_the_integral(case):
    low, high = least(case)
    assume(low > 1e-3 * high)
    distance, time = integrated(case)
    got = takeoff.ground_roll(**case)
    assert got.distance == pytest.approx(distance, rel=1e-8)
    assert got.time == pytest.approx(time, rel=1e-8)


@settings(max_examples=400, deadline=None)
@given(PLAUSIBLE)
def test_no_acceleration_is_impossible_never_nan(case):
    low, _ = least(case)
    assume(abs(low) > 1e-8)
    got = takeoff.ground_roll(**case)
    assert math.isinf(got.distance) == math.isinf(got.time) == (low <= 0)
    assert got.distance >= 0
    assert got.time >= 0


@pytest.mark.parametrize(
    ("change", "sign"),
    [
        ({}, -1),
        ({"headwind": -6.0}, -1),
        ({"thrust_fall": 0.6, "lift_coefficient": 1.2, "friction": 0.15}, 1),
        ({"thrust_fall": 0.6, "lift_coefficient": 1.2, "friction": 0.15, "headwind": -9.0}, 1),
        # it can't move off in calm, but does so in a wind: both signs turn round
        ({"static_thrust": 200.0, "slope": -0.01, "thrust_fall": 2.0, "headwind": 16.0}, -1),
    ],
)
def test_each_regime_of_signs(change, sign):
    case = BASE | change
    constant, square = coefficients(case)
    assert np.sign(constant * square) == sign
    distance, time = integrated(case)
    assert takeoff.ground_roll(**case) == pytest.approx((distance, time), rel=1e-10)


def test_the_turned_regime_is_the_one_with_negative_a0():
    constant, square = coefficients(
        BASE | {"static_thrust": 200.0, "slope": -0.01, "thrust_fall": 2.0, "headwind": 16.0}
    )
    assert constant < 0 < square


@pytest.mark.parametrize("change", [{}, {"headwind": -5.0, "slope": -0.03}, {"lift_coefficient": 1.9}])
def test_roll_against_time_stepping(change):
    """Another formulation: ground position and airspeed stepped in time until lift-off."""
    case = BASE | change
    wind, stops, rest = split(case)

    def step(_, state):
        return [state[1] - wind, acceleration(state[1], **rest)]

    def lifts(_, state):
        return state[1] - case["lift_off_speed"]

    lifts.terminal = True
    run = solve_ivp(step, (0, 200), [0.0, wind], events=lifts, rtol=1e-10, atol=1e-10, max_step=0.05)
    assert len(stops) == (3 if change else 2)
    assert takeoff.ground_roll(**case) == pytest.approx((run.y[0, -1], run.t[-1]), rel=1e-7)


@pytest.mark.parametrize("sign", [-1.0, 1.0])
@pytest.mark.parametrize("wind", [-5.0, 0.0, 4.0])
def test_series_meets_its_neighbours(sign, wind):
    """Where the series takes over from the closed form there is no step, and both are the integral."""
    start, end, constant = wind, 24.0, 1.5

    def at(z):
        # square such that constant * square * (gain / middle)² = z: found by fixed point, z being small
        square = 0.0
        for _ in range(60):
            square = z / constant * ((constant + square * start * end) / (end - start)) ** 2
        exact = [
            quad(lambda v, n=n: (v - wind) ** n / (constant + square * v * v), start, end, epsrel=1e-13)[0]
            for n in (1, 0)
        ]
        return roll.run(constant, square, start, end, wind), exact

    edge = sign * roll.SERIES
    for z in (edge * (1 - 1e-9), edge * (1 + 1e-9), edge * 1e-3, edge * 1e-9, 0.0):
        got, exact = at(z)
        assert got == pytest.approx(exact, rel=1e-12)
    (inside, _), (outside, _) = at(edge * (1 - 1e-13)), at(edge * (1 + 1e-13))
    assert inside == pytest.approx(outside, rel=1e-12)


def test_without_speed_terms_it_is_uniform_acceleration():
    got = roll.run(2.0, 0.0, 3.0, 23.0, 3.0)
    assert got.distance == pytest.approx(20.0**2 / 4.0, rel=1e-14)
    assert got.time == pytest.approx(10.0, rel=1e-14)
    near = roll.run(2.0, 1e-15, 3.0, 23.0, 3.0)
    assert near == pytest.approx(got, rel=1e-9)


def test_a_tailwind_is_looked_at_where_the_airspeed_is_zero():
    """It accelerates at both ends but not in the middle: the ends alone would say yes."""
    case = BASE | {"headwind": -12.0, "static_thrust": 330.0, "slope": 0.0, "thrust_fall": 3.0}
    case |= {"lift_off_speed": 25.0}
    rest = split(case)[2]
    assert acceleration(-12.0, **rest) > 0 > acceleration(0.0, **rest)
    assert acceleration(25.0, **rest) > 0
    assert math.isinf(takeoff.ground_roll(**case).distance)


def test_thrust_that_ends_before_lift_off_is_impossible():
    assert math.isinf(takeoff.ground_roll(**BASE | {"static_thrust": 900.0}).distance)
    assert math.isinf(takeoff.ground_roll(**BASE | {"static_thrust": 300.0}).distance)
    assert math.isfinite(takeoff.ground_roll(**BASE).distance)


@pytest.mark.parametrize("headwind", [22.0, 30.0])
def test_flying_in_the_wind_needs_no_roll(headwind):
    assert takeoff.ground_roll(**BASE | {"headwind": headwind}) == (0.0, 0.0)


def test_next_to_nothing_is_nothing_not_an_overflow():
    """Thrust a hair above what holds it back, with and without air: never a NaN on the way to inf."""
    for excess in (1e-300, 1e-310, 1e-12, 0.0, -1e-310):
        for square in (0.0, 1e-310, -1e-310, 1e-3, -1e-3):
            for wind in (0.0, -3.0, 3.0):
                got = roll.run(excess, square, wind, 20.0, wind)
                assert not math.isnan(got.distance)
                assert not math.isnan(got.time)
                assert got.distance > 0
                assert math.isfinite(got.distance) == math.isfinite(got.time)


def test_nan_stays_nan():
    for key in BASE:
        assert math.isnan(takeoff.ground_roll(**BASE | {key: math.nan}).distance), key


@pytest.mark.parametrize("key", list(BASE))
def test_a_nought_is_no_exception(key):
    """Plain floats divide by zero with an exception; the sums must not."""
    for low in (0, 0.0):
        got = takeoff.ground_roll(**BASE | {key: low})
        assert not got.distance < 0


# --- each effect taken out in turn ----------------------------------------

# everything that hinders: uphill, tailwind, soft ground, thin air, heavy
HARD = BASE | {"headwind": -2.0, "slope": 0.02, "friction": 0.1, "static_thrust": 2300.0}


@pytest.mark.parametrize(
    "without",
    [
        {"slope": 0.0},
        {"headwind": 0.0},
        {"friction": 0.03},
        {"drag_coefficient": 0.04},
        {"thrust_fall": 0.0},
        {"mass": 500.0},
        {"static_thrust": 2500.0},
        {"lift_off_speed": 20.0},
    ],
    ids=lambda change: next(iter(change)),
)
def test_removing_a_hindrance_shortens_the_roll(without):
    assert takeoff.ground_roll(**HARD | without).distance < 0.99 * takeoff.ground_roll(**HARD).distance


@pytest.mark.parametrize(
    "effect", [{"slope": -0.02}, {"headwind": 3.0}], ids=lambda change: next(iter(change))
)
def test_removing_a_help_lengthens_the_roll(effect):
    helped = takeoff.ground_roll(**BASE | {"headwind": 0.0, "slope": 0.0} | effect).distance
    assert takeoff.ground_roll(**BASE | {"headwind": 0.0, "slope": 0.0}).distance > 1.01 * helped


@pytest.mark.parametrize("drag", [0.03, 0.12])
def test_thin_air_lengthens_the_roll(drag):
    """Density acts through the true airspeed of the same dial reading, and through the engine."""

    def at(ratio):
        case = BASE | {"density": 1.225 * ratio, "lift_off_speed": 22.0 / math.sqrt(ratio)}
        return takeoff.ground_roll(**case | {"drag_coefficient": drag}).distance

    assert at(1.0) < at(0.9) < at(0.8)


HARDER = st.sampled_from(
    [("slope", 0.03), ("headwind", -2.0), ("friction", 0.05), ("static_thrust", -200.0),
     ("thrust_fall", -0.3),
     ("drag_coefficient", 0.03), ("lift_off_speed", 2.0)]
)  # fmt: skip


@settings(max_examples=600, deadline=None)
@given(PLAUSIBLE, HARDER)
def test_harder_never_shortens(case, harder):
    key, change = harder
    before = takeoff.ground_roll(**case).distance
    after = takeoff.ground_roll(**case | {key: case[key] + change}).distance
    assert after >= before * (1 - 1e-9)


@settings(max_examples=300, deadline=None)
@given(PLAUSIBLE, st.floats(1.01, 1.3))
def test_heavier_never_shortens(case, ratio):
    """Mass acts through the speed of the same lift coefficient too; level, for downhill mass pulls."""
    case = case | {"slope": 0.0, "headwind": min(case["headwind"], 0.0)}
    heavy = case | {"mass": case["mass"] * ratio, "lift_off_speed": case["lift_off_speed"] * math.sqrt(ratio)}
    assert takeoff.ground_roll(**heavy).distance >= takeoff.ground_roll(**case).distance * (1 - 1e-9)


def test_friction_does_not_push_once_the_wing_carries_all():
    """Without that, soft ground would help an aeroplane whose wing lifts early."""
    case = BASE | {"lift_coefficient": 2.4}
    assert 600 * G0 < 0.5 * 1.0 * 14.0 * 2.4 * 22.0**2
    hard, soft = (takeoff.ground_roll(**case | {"friction": f}).distance for f in (0.05, 0.2))
    assert soft > hard


# --- along the roll ----------------------------------------


@settings(max_examples=200, deadline=None)
@given(PLAUSIBLE, st.floats(1e-4, 1.0))
def test_speed_at_distance_is_the_inverse(case, part):
    full = takeoff.ground_roll(**case).distance
    assume(0.1 < full < 5000)
    speed = takeoff.speed_at_distance(part * full, **case)
    back = takeoff.ground_roll(**case | {"lift_off_speed": speed}).distance
    assert back == pytest.approx(part * full, rel=1e-7, abs=1e-9 * full)


def test_speed_at_distance_at_its_ends():
    full = takeoff.ground_roll(**BASE).distance
    assert takeoff.speed_at_distance(0.0, **BASE) == BASE["headwind"]
    assert takeoff.speed_at_distance(full, **BASE) == pytest.approx(BASE["lift_off_speed"], rel=1e-12)
    assert math.isnan(takeoff.speed_at_distance(full * 1.0001, **BASE))
    stuck = BASE | {"static_thrust": 300.0}
    assert math.isnan(takeoff.speed_at_distance(50.0, **stuck))
    assert math.isnan(takeoff.speed_at_distance(math.nan, **BASE))


def test_speed_where_lift_off_is_never_reached():
    """It tends to the speed at which thrust and drag balance, and the answer says how far it gets."""
    weak = BASE | {"static_thrust": 900.0}
    constant, square = coefficients(weak)
    terminal = math.sqrt(-constant / square)
    assert terminal < weak["lift_off_speed"]
    speeds = takeoff.speed_at_distance(np.array([20.0, 100.0, 400.0]), **weak)
    assert np.all(np.diff(speeds) > 0)
    assert np.all(speeds < terminal)
    for distance, speed in zip((20.0, 100.0, 400.0), speeds, strict=True):
        part = weak | {"lift_off_speed": speed}
        assert takeoff.ground_roll(**part).distance == pytest.approx(distance, rel=1e-9)


def test_half_strip_rule_is_ground_speed_under_uniform_acceleration():
    even = BASE | {"friction": 0.0, "thrust_fall": 0.0, "drag_coefficient": 0.0, "lift_coefficient": 0.0}
    even |= {"headwind": 4.0}
    full = takeoff.ground_roll(**even).distance
    ground = takeoff.speed_at_distance(full / 2, **even) - 4.0
    assert ground / (22.0 - 4.0) == pytest.approx(math.sqrt(0.5), rel=1e-10)
    due = takeoff.half_strip_ground_speed(22.0, 4.0)
    assert due == pytest.approx(12.6)
    # a strip just as long as the roll: the rule is met with little to spare
    assert due < ground < 1.02 * due
    # and read as airspeed it would let through what it should not
    assert takeoff.speed_at_distance(full / 4, **even) > 0.7 * 18.0


# --- shapes ----------------------------------------

RANGES = {
    "mass": (500.0, 600.0),
    "lift_off_speed": (21.0, 23.0),
    "headwind": (-3.0, 3.0),
    "slope": (-0.02, 0.02),
    "friction": (0.03, 0.1),
    "static_thrust": (1500.0, 2000.0),
    "thrust_fall": (-1.0, -0.3),
    "density": (0.9, 1.2),
    "wing_area": (12.0, 15.0),
    "lift_coefficient": (0.3, 1.9),
    "drag_coefficient": (0.04, 0.08),
}
SHAPES = {
    "ground_roll": RANGES,
    "speed_at_distance": {"distance": (1.0, 500.0)} | RANGES,
    "climb_out_distance": {
        "mass": (500.0, 600.0),
        "lift_off_speed": (21.0, 23.0),
        "speed_at_height": (22.0, 26.0),
        "headwind": (-3.0, 3.0),
        "slope": (-0.02, 0.02),
        "excess_thrust_lift_off": (0.0, 900.0),
        "excess_thrust_at_height": (-50.0, 900.0),
        "height": (10.0, 15.24),
    },
    "climb_height": {"distance_beyond": (0.0, 500.0), "gradient": (-0.01, 0.1), "height": (10.0, 20.0)},
    "stopping_distance": {
        "speed_ground": (0.0, 20.0),
        "reaction_time": (0.0, 3.0),
        "reference_roll": (100.0, 200.0),
        "reference_ground_speed": (15.0, 20.0),
        "slope": (-0.1, 0.05),
        "surface_ratio": (1.0, 1.5),
    },
    "half_strip_ground_speed": {"lift_off_speed": (20.0, 25.0), "headwind": (-3.0, 30.0)},
}


@pytest.mark.parametrize("name", SHAPES)
def test_broadcasts(name):
    check_broadcast(name, SHAPES[name])


def test_every_relation_is_tried_for_shape():
    mine = {name for name, r in relation.REGISTER.items() if r.module == takeoff.__name__}
    assert mine == set(SHAPES)


def test_outside_its_range_it_says_nothing():
    result = relation.evaluate("ground_roll", **BASE | {"slope": np.array([0.0, 0.5])})
    assert math.isfinite(result.distance[0])
    assert math.isnan(result.distance[1])
