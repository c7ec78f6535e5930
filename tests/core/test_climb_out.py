"""To 50 ft and to a stop: the energy integral, limits, what earns no credit."""

import math

import pytest
from scipy.integrate import solve_ivp

from tussock.sums import takeoff

from . import case

G0 = 9.80665

AIR = {
    "mass": 600.0,
    "lift_off_speed": 22.0,
    "speed_at_height": 25.0,
    "headwind": 2.0,
    "slope": 0.0,
    "excess_thrust_lift_off": 900.0,
    "excess_thrust_at_height": 700.0,
}


def test_climb_out_is_the_energy_integral():
    """Excess thrust linear in energy height, stepped along the path."""
    weight = 600 * G0
    energy = weight * 15.24 + 300.0 * (25.0**2 - 22.0**2)

    def step(_, state):
        return [900.0 + (700.0 - 900.0) * state[0] / energy]

    def there(_, state):
        return state[0] - energy

    there.terminal = True
    run = solve_ivp(step, (0, 2000), [0.0], events=there, rtol=1e-11, atol=1e-6)
    still = takeoff.climb_out_distance(**AIR | {"headwind": 0.0})
    assert still.distance == pytest.approx(run.t[-1], rel=1e-8)
    windy = takeoff.climb_out_distance(**AIR)
    assert windy.time == pytest.approx(still.time)
    assert windy.distance == pytest.approx(still.distance - 2.0 * still.time)


def test_climb_out_with_equal_ends_is_height_over_gradient():
    case = AIR | {"speed_at_height": 22.0, "excess_thrust_at_height": 900.0, "headwind": 0.0}
    assert takeoff.climb_out_distance(**case).distance == pytest.approx(
        15.24 / (900.0 / (600 * G0)), rel=1e-12
    )


@pytest.mark.parametrize(
    "harder",
    [{"mass": 650.0}, {"speed_at_height": 27.0}, {"headwind": -2.0}, {"slope": 0.03},
     {"excess_thrust_lift_off": 800.0}, {"excess_thrust_at_height": 600.0}, {"height": 20.0}],
    ids=lambda change: next(iter(change)),
)  # fmt: skip
def test_each_effect_lengthens_the_climb_out(harder):
    assert takeoff.climb_out_distance(**AIR | harder).distance > takeoff.climb_out_distance(**AIR).distance


def test_no_credit_for_falling_ground_or_spent_speed():
    base = takeoff.climb_out_distance(**AIR)
    assert takeoff.climb_out_distance(**AIR | {"slope": -0.05}) == base
    level = takeoff.climb_out_distance(**AIR | {"speed_at_height": 22.0}).distance
    assert takeoff.climb_out_distance(**AIR | {"speed_at_height": 20.0}).distance == pytest.approx(
        level, rel=1e-12
    )


def test_rising_ground_is_climbed_too():
    still = AIR | {"headwind": 0.0, "speed_at_height": 22.0, "excess_thrust_at_height": 900.0}
    distance = takeoff.climb_out_distance(**still | {"slope": 0.05}).distance
    gradient = 900.0 / (600 * G0)
    assert gradient * distance == pytest.approx(15.24 + 0.05 * distance, rel=1e-12)


@pytest.mark.parametrize(
    "stuck", [{"excess_thrust_lift_off": 0.0}, {"excess_thrust_at_height": -10.0}, {"slope": 0.16}]
)
def test_no_excess_never_gets_there(stuck):
    assert takeoff.climb_out_distance(**AIR | stuck) == (math.inf, math.inf)


def test_climb_height():
    assert takeoff.climb_height(500.0, 0.04) == pytest.approx(35.24)
    assert takeoff.climb_height(500.0, 0.04, 0.0) == pytest.approx(20.0)


# --- stopping ----------------------------------------


def test_stopping_is_reaction_and_the_scaled_roll():
    assert takeoff.stopping_distance(15.0, 3.0, 150.0, 20.0) == pytest.approx(45.0 + 150.0 * (15 / 20) ** 2)
    assert takeoff.stopping_distance(0.0, 3.0, 150.0, 20.0) == 0.0


def test_stopping_downhill_by_physics_uphill_without_credit():
    level = takeoff.stopping_distance(15.0, 0.0, 150.0, 20.0)
    down = takeoff.stopping_distance(15.0, 0.0, 150.0, 20.0, slope=-0.04)
    deceleration = 20.0**2 / 300.0 - G0 * math.sin(math.atan(0.04))
    assert down == pytest.approx(15.0**2 / (2 * deceleration))
    assert down > level == takeoff.stopping_distance(15.0, 0.0, 150.0, 20.0, slope=0.04)
    assert math.isinf(takeoff.stopping_distance(15.0, 0.0, 150.0, 20.0, slope=-0.15))
    assert takeoff.stopping_distance(15.0, 0.0, 150.0, 20.0, surface_ratio=1.35) == pytest.approx(
        1.35 * level
    )


def test_a_turn_that_drifts_over_the_side_of_the_valley_is_no_bare_yes():
    room = case.measure(case.answers(case.base("constants"))["climbs_out"], "valley")["needed"]
    for speed, verdict in ((0.0, "yes"), (6.9, "tight")):
        documents = case.base("constants")
        documents["heath"]["directions"][0]["way_out"]["valley_width"] = case.fig(1.15 * room)
        across = {"by": "measured", "speed": speed, "gust": speed, "wind_from": 1.222 + 1.5708}
        documents["air-heath"]["wind"] = across
        assert case.measure(case.answers(documents)["climbs_out"], "valley")["verdict"] == verdict
