"""Propulsion and drag: every closed form against a search, published figures, signs, shapes.

The sample is an invented aeroplane of the usual kind: four seats, fixed pitch, fixed wheels.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize

from tussock.sums import air, power

from .broadcasting import assert_broadcasts

ENGINE = {"rated_torque": 400.0, "cutoff": 0.12}
PROPELLER = {"propeller_diameter": 1.88, "propeller_slope": 1.75, "propeller_intercept": -0.058}
WING = {"wing_area": 15.5, "aspect_ratio": 7.2, "zero_lift_drag": 0.036, "efficiency": 0.72}
MASS = 980.0
CONSTANTS = ENGINE | PROPELLER | WING
RATE_100 = 100.0 * 0.3048 / 60.0


def polynomials(density=1.1, mass=MASS):
    thrust = power.thrust_polynomial(density, density, **ENGINE, **PROPELLER)
    drag = power.drag_polynomial(density, mass, **WING)
    return *thrust, *drag


@st.composite
def aeroplanes(draw):
    """E, F, G, H of a flyable aeroplane, from random constants; with its mass."""
    density = draw(st.floats(0.6, 1.3))
    mass = draw(st.floats(300.0, 1600.0))
    area = mass / draw(st.floats(35.0, 90.0))
    drag = power.drag_polynomial(
        density,
        mass,
        area,
        draw(st.floats(5.0, 11.0)),
        draw(st.floats(0.02, 0.06)),
        draw(st.floats(0.55, 0.9)),
    )
    diameter = draw(st.floats(1.4, 2.2))
    square = density * diameter**2 * draw(st.floats(-0.09, -0.02))
    least = 2.0 * math.sqrt((drag.drag_square - square) * drag.drag_inverse)
    return least * draw(st.floats(1.1, 4.0)), square, *drag, mass


def finest(function, low, high):
    """Where `function` of speed is greatest: a fine array, then a bounded search between its neighbours."""
    speeds = np.linspace(low, high, 4001)
    best = np.argmax(function(speeds))
    assert 0 < best < speeds.size - 1
    found = optimize.minimize_scalar(
        lambda v: -function(v),
        bounds=(speeds[best - 1], speeds[best + 1]),
        method="bounded",
        options={"xatol": 1e-10},
    )
    return found.x


@given(aeroplanes())
def test_steepest_and_fastest_climb_against_a_search(aeroplane):
    *polynomial, mass = aeroplane
    steepest = power.best_angle_speed(*polynomial)
    fastest = power.best_rate_speed(*polynomial)
    top = power.level_maximum_speed(*polynomial)
    # The excess thrust is flat at its top: a search finds the place to about the root of the rounding.
    assert finest(lambda v: power.excess_thrust(v, *polynomial), 1.0, 300.0) == pytest.approx(
        steepest, rel=1e-6
    )
    assert finest(lambda v: power.climb_rate(v, mass, *polynomial), 1.0, 300.0) == pytest.approx(
        fastest, rel=1e-6
    )
    assert steepest < fastest < top


@given(aeroplanes())
def test_level_flight_is_where_thrust_is_drag(aeroplane):
    *polynomial, mass = aeroplane
    top = power.level_maximum_speed(*polynomial)
    weight = mass * 9.80665
    assert power.excess_thrust(top, *polynomial) == pytest.approx(0.0, abs=1e-9 * weight)
    assert power.excess_thrust(0.99 * top, *polynomial) > 0.0 > power.excess_thrust(1.01 * top, *polynomial)
    root = optimize.brentq(
        lambda v: power.excess_thrust(v, *polynomial),
        power.best_rate_speed(*polynomial),
        3.0 * top,
        xtol=1e-12,
    )
    assert top == pytest.approx(root, rel=1e-9)


@given(aeroplanes())
def test_glide_against_a_search(aeroplane):
    _, _, square, inverse, mass = aeroplane
    glide, least = power.best_glide_speed(square, inverse), power.minimum_sink_speed(square, inverse)
    sink = lambda v: power.climb_rate_from_thrust(v, mass, 0.0, square, inverse)  # noqa: E731
    assert finest(lambda v: sink(v) / v, 1.0, 300.0) == pytest.approx(glide, rel=1e-6)
    assert finest(sink, 1.0, 300.0) == pytest.approx(least, rel=1e-6)
    assert least == pytest.approx(glide / 3.0**0.25, rel=1e-12)
    assert sink(least) < 0.0


def test_best_glide_ratio_is_weight_over_least_drag():
    square, inverse = power.drag_polynomial(1.0, MASS, **WING)
    speed = power.best_glide_speed(square, inverse)
    ratio = MASS * 9.80665 / (square * speed**2 + inverse / speed**2)
    wing = {name: WING[name] for name in ("aspect_ratio", "zero_lift_drag", "efficiency")}
    assert power.best_glide_ratio(**wing) == pytest.approx(ratio, rel=1e-12)


def test_the_drag_polynomial_is_the_parabolic_polar():
    density, speed = 0.95, 47.0
    square, inverse = power.drag_polynomial(density, MASS, **WING)
    pressure = 0.5 * density * speed**2
    lift = MASS * 9.80665 / (pressure * WING["wing_area"])
    coefficient = WING["zero_lift_drag"] + lift**2 / (math.pi * WING["efficiency"] * WING["aspect_ratio"])
    assert square * speed**2 + inverse / speed**2 == pytest.approx(pressure * WING["wing_area"] * coefficient)
    near = power.drag_polynomial(density, MASS, **WING, induced_factor=0.6)
    assert near.drag_square == square
    assert near.drag_inverse == pytest.approx(0.6 * inverse)


def test_thrust_follows_dry_air_for_the_engine_and_all_of_it_for_the_propeller():
    dry = power.thrust_polynomial(1.1, 1.1, **ENGINE, **PROPELLER)
    humid = power.thrust_polynomial(1.1, 1.07, **ENGINE, **PROPELLER)
    assert humid.thrust_constant < dry.thrust_constant
    assert humid.thrust_square == dry.thrust_square < 0.0


@pytest.mark.parametrize("sum_of", [power.best_angle_speed, power.best_rate_speed, power.level_maximum_speed])
def test_unusable_polynomials_say_nothing(sum_of):
    thrust, square, drag, inverse = polynomials()
    assert sum_of(thrust, square, drag, inverse) > 0.0
    assert math.isnan(sum_of(thrust, drag + 0.01, drag, inverse))  # K > 0: thrust grows without end
    assert math.isnan(sum_of(thrust, drag, drag, inverse))  # K = 0
    assert math.isnan(sum_of(thrust, square, drag, 0.0))  # no weight
    assert math.isnan(sum_of(thrust, square, drag, -inverse))


def test_no_level_flight_without_thrust():
    _, square, drag, inverse = polynomials()
    least = 2.0 * math.sqrt((drag - square) * inverse)
    assert math.isnan(power.level_maximum_speed(0.99 * least, square, drag, inverse))
    assert power.level_maximum_speed(1.01 * least, square, drag, inverse) > 0.0
    assert math.isnan(power.best_glide_speed(0.0, inverse))
    assert math.isnan(power.minimum_sink_speed(drag, 0.0))
    assert math.isnan(power.excess_thrust(0.0, *polynomials()))
    assert math.isnan(power.constant_speed_thrust(0.0, 80e3, 0.8))
    assert math.isnan(power.climb_gradient_still(2.0, 3.0))


def test_gradient_is_the_tangent_of_the_path():
    angle = math.radians(7.0)
    assert power.climb_gradient_still(40.0, 40.0 * math.sin(angle)) == pytest.approx(
        math.tan(angle), rel=1e-12
    )
    assert power.climb_gradient_still(40.0, -40.0 * math.sin(angle)) == pytest.approx(
        -math.tan(angle), rel=1e-12
    )


def test_best_climb_is_its_parts_and_never_below_the_slowest():
    density = 1.02
    point = power.best_climb(MASS, density, density, **CONSTANTS)
    polynomial = polynomials(density)
    assert point.speed == pytest.approx(power.best_rate_speed(*polynomial))
    assert point.rate == pytest.approx(power.climb_rate(point.speed, MASS, *polynomial))
    faster = power.best_climb(MASS, density, density, **CONSTANTS, slowest=point.speed + 5.0)
    assert faster.speed == point.speed + 5.0
    assert faster.rate < point.rate
    assert power.best_climb(MASS, density, density, **CONSTANTS, slowest=point.speed - 5.0) == point


@given(st.floats(700.0, 1150.0), st.floats(0.0, 2.0), st.floats(0.0, 1.0))
def test_ceiling_is_where_the_rate_is_left(mass, rate, share):
    ceiling = power.ceiling(mass, rate, **CONSTANTS)
    at_sea_level = power.best_climb(mass, air.RHO0, air.RHO0, **CONSTANTS).rate
    if math.isnan(ceiling):
        assert at_sea_level <= rate
        return
    density = air.isa_density(ceiling)
    assert power.best_climb(mass, density, density, **CONSTANTS).rate == pytest.approx(rate, abs=1e-4)
    below = air.isa_density(ceiling * share)
    assert power.best_climb(mass, below, below, **CONSTANTS).rate >= rate - 1e-4


def test_ceiling_against_a_root_finder():
    def left(altitude):
        density = air.isa_density(altitude)
        return power.best_climb(MASS, density, density, **CONSTANTS).rate - RATE_100

    root = optimize.brentq(left, 0.0, 11000.0, xtol=1e-6)
    assert power.ceiling(MASS, RATE_100, **CONSTANTS) == pytest.approx(root, abs=0.01)
    assert power.ceiling(MASS, 0.0, **CONSTANTS) > root
    assert math.isnan(power.ceiling(2000.0, RATE_100, **CONSTANTS))  # cannot even at sea level
    assert math.isnan(power.ceiling(MASS, RATE_100, **CONSTANTS | {"rated_torque": 4000.0}))  # above 11 km
    assert math.isnan(power.ceiling(math.nan, RATE_100, **CONSTANTS))


def test_signs_of_the_climb():
    """Heavier, hotter or higher, draggier, weaker: never a better climb."""
    base = power.best_climb(MASS, 1.05, 1.05, **CONSTANTS)
    worse = [
        power.best_climb(MASS + 50.0, 1.05, 1.05, **CONSTANTS),
        power.best_climb(MASS, 0.98, 0.98, **CONSTANTS),
        power.best_climb(MASS, 1.05, 1.02, **CONSTANTS),
        power.best_climb(MASS, 1.05, 1.05, **CONSTANTS | {"zero_lift_drag": 0.040}),
        power.best_climb(MASS, 1.05, 1.05, **CONSTANTS | {"efficiency": 0.65}),
        power.best_climb(MASS, 1.05, 1.05, **CONSTANTS | {"rated_torque": 380.0}),
        power.best_climb(MASS, 1.05, 1.05, **CONSTANTS | {"aspect_ratio": 6.5}),
    ]
    for other in worse:
        assert other.rate < base.rate
        assert other.gradient < base.gradient


@given(st.floats(0.5, 1.2), st.floats(0.0, 0.1), st.floats(500.0, 1400.0), st.floats(0.0, 100.0))
def test_thinner_air_and_more_mass_never_climb_better(density, thinner, mass, more):
    base = power.best_climb(mass, density, density, **CONSTANTS).rate
    assert power.best_climb(mass, density - thinner, density - thinner, **CONSTANTS).rate <= base
    assert power.best_climb(mass + more, density, density, **CONSTANTS).rate <= base


def test_torque_and_power_fall_together():
    ratio = np.linspace(0.5, 1.0, 11)
    assert power.torque_falloff(1.0) == 1.0
    assert power.gagg_ferrar(1.0) == pytest.approx(1.0, abs=1e-15)
    np.testing.assert_allclose(power.torque_falloff(ratio, 0.117), power.gagg_ferrar(ratio), atol=6e-4)
    assert power.torque_falloff(0.12) == 0.0
    assert power.torque_falloff(0.10) == 0.0
    assert power.gagg_ferrar(0.11) == 0.0


def test_static_run_up():
    assert power.static_torque_fraction(40.0, 40.0, 1.0, 1.0) == 1.0
    assert power.static_torque_fraction(39.0, 40.0, 1.0, 1.0) == pytest.approx((39.0 / 40.0) ** 2)
    # As strong in thin air it turns slower, by the root of phi over sigma.
    ratio = air.isa_density(7000.0 * 0.3048) / air.RHO0
    slower = math.sqrt(power.torque_falloff(ratio) / ratio)
    assert slower == pytest.approx(1.0 - 0.016, abs=5e-4)
    assert power.static_torque_fraction(40.0 * slower, 40.0, ratio, 1.0) == pytest.approx(1.0, rel=1e-12)
    # Moist air holds less to burn: the same rotation then means more of what can be expected.
    moist = power.static_torque_fraction(
        40.0, 40.0, 0.9, 1.0, dry_density_ratio=0.88, baseline_dry_density_ratio=1.0
    )
    assert moist > power.static_torque_fraction(40.0, 40.0, 0.9, 1.0)
    assert math.isnan(power.static_torque_fraction(40.0, 40.0, 0.11, 1.0))


def test_momentum_theory_holds_together():
    shaft, density, diameter = 90e3, 1.1, 1.9
    thrust = power.ideal_static_thrust(shaft, density, diameter)
    disc = math.pi * diameter**2 / 4.0
    assert math.sqrt(thrust**3 / (2.0 * density * disc)) == pytest.approx(shaft, rel=1e-12)
    assert power.froude_efficiency(1000.0, 0.0, density, diameter) == 0.0
    # Power in is thrust times speed over efficiency: thrust times (speed + induced speed).
    speed, pull = 40.0, 1500.0
    induced = 0.5 * (-speed + math.sqrt(speed**2 + 2.0 * pull / (density * disc)))
    efficiency = power.froude_efficiency(pull, speed, density, diameter)
    assert efficiency == pytest.approx(speed / (speed + induced), rel=1e-12)


def test_ground_effect_rises_from_nothing_to_one():
    factor = power.ground_effect_factor(np.array([0.0, 0.5, 1.0, 2.0, 5.0, 100.0]), 10.0)
    assert factor[0] == 0.0
    assert np.all(np.diff(factor) > 0.0)
    assert factor[-1] == pytest.approx(1.0, abs=1e-4)


SPEED = {"true_airspeed": 42.0}
POLYNOMIAL = dict(
    zip(("thrust_constant", "thrust_square", "drag_square", "drag_inverse"), polynomials(), strict=True)
)
DRAG = {name: POLYNOMIAL[name] for name in ("drag_square", "drag_inverse")}


@pytest.mark.parametrize(
    ("function", "sample"),
    [
        (power.torque_falloff, {"density_ratio": 0.8, "cutoff": 0.12}),
        (power.gagg_ferrar, {"density_ratio": 0.8}),
        (power.thrust_polynomial, {"density": 1.1, "dry_density": 1.09} | ENGINE | PROPELLER),
        (power.drag_polynomial, {"density": 1.1, "mass": MASS} | WING | {"induced_factor": 0.7}),
        (power.best_angle_speed, POLYNOMIAL),
        (power.best_rate_speed, POLYNOMIAL),
        (power.level_maximum_speed, POLYNOMIAL),
        (power.best_glide_speed, DRAG),
        (power.minimum_sink_speed, DRAG),
        (power.best_glide_ratio, {"aspect_ratio": 7.0, "zero_lift_drag": 0.03, "efficiency": 0.8}),
        (power.excess_thrust, SPEED | POLYNOMIAL),
        (power.climb_rate, SPEED | {"mass": MASS} | POLYNOMIAL),
        (power.climb_rate_from_thrust, SPEED | {"mass": MASS, "thrust": 1800.0} | DRAG),
        (power.climb_gradient_still, SPEED | {"climb_rate": 3.0}),
        (
            power.best_climb,
            {"mass": MASS, "density": 1.1, "dry_density": 1.09} | CONSTANTS | {"slowest": 30.0},
        ),
        (power.ceiling, {"mass": MASS, "rate": 0.5} | CONSTANTS),
        (power.constant_speed_thrust, SPEED | {"power": 90e3, "efficiency": 0.8}),
        (power.advance_ratio, SPEED | {"rotation": 40.0, "propeller_diameter": 1.9}),
        (
            power.static_torque_fraction,
            {"static_rotation": 38.0, "baseline_rotation": 39.0, "density_ratio": 0.85}
            | {"baseline_density_ratio": 0.97, "cutoff": 0.12, "dry_density_ratio": 0.84}
            | {"baseline_dry_density_ratio": 0.96},
        ),
        (power.ideal_static_thrust, {"power": 90e3, "density": 1.1, "propeller_diameter": 1.9}),
        (
            power.froude_efficiency,
            {"thrust": 1200.0, "true_airspeed": 40.0, "density": 1.1, "propeller_diameter": 1.9},
        ),
        (power.ground_effect_factor, {"height": 1.2, "span": 10.0}),
    ],
    ids=lambda value: getattr(value, "__name__", ""),
)
def test_broadcasting(function, sample):
    assert_broadcasts(function, **sample)
