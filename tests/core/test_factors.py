"""Distance factors: whole steps, no undue credit, the way out of a measured distance, surfaces, shapes."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock import relation, single
from tussock.sums import factors, takeoff

from .shapes import check_broadcast

FT = 0.3048


@pytest.mark.parametrize(
    ("name", "given", "whole"),
    [
        ("takeoff_mass_factor", (660.0, 600.0), 1.2),
        ("takeoff_mass_factor", (540.0, 600.0), 1 / 1.2),
        ("takeoff_elevation_factor", (2000 * FT, 1000 * FT), 1.1),
        ("takeoff_temperature_factor", (15.0, 5.0), 1.1),
        ("takeoff_slope_factor", (0.02,), 1.1),
        ("takeoff_slope_factor", (0.04,), 1.21),
        ("landing_mass_factor", (660.0, 600.0), 1.1),
        ("landing_elevation_factor", (2000 * FT, 1000 * FT), 1.05),
        ("landing_temperature_factor", (15.0, 5.0), 1.05),
        ("landing_slope_factor", (-0.02,), 1.1),
        ("tailwind_factor", (2.0, 20.0), 1.2),
        ("tailwind_factor", (4.0, 20.0), 1.44),
        ("wind_ratio_full", (2.0, 20.0), 0.81),
        ("wind_ratio_full", (-2.0, 20.0), 1.21),
    ],
)
def test_whole_steps(name, given, whole):
    assert relation.find(name).function(*given) == pytest.approx(whole, rel=1e-12)


def test_part_steps_are_geometric():
    half = factors.takeoff_mass_factor(630.0, 600.0)
    assert half == pytest.approx(math.sqrt(1.2), rel=1e-12)
    assert half < 1.10  # what a straight line would give
    assert factors.takeoff_slope_factor(0.01) ** 2 == pytest.approx(1.1)


def test_mass_far_from_the_reference_is_not_said():
    found = factors.takeoff_mass_factor(np.array([290.0, 310.0, 890.0, 910.0]), 600.0)
    assert list(np.isnan(found)) == [True, False, False, True]
    assert math.isnan(factors.landing_mass_factor(910.0, 600.0))


@settings(max_examples=200, deadline=None)
@given(st.floats(-0.3, 0.3), st.floats(-25, 18), st.floats(19, 60))
def test_no_credit_where_none_is_due(slope, headwind, speed):
    for phase in ("takeoff", "landing"):
        sign = 1.0 if phase == "takeoff" else -1.0
        hill = getattr(factors, f"{phase}_slope_factor")(slope)
        assert hill >= 1.0
        assert (hill == 1.0) == (sign * slope <= 0.0) or abs(slope) < 1e-9
        wind = getattr(factors, f"{phase}_wind_factor")(headwind, speed)
        full = factors.wind_ratio_full(headwind, speed)
        # a headwind helps less than it does in truth, a tailwind is never a help
        assert wind >= full if headwind > 0 else wind >= 1.0


def test_wind_is_counted_once():
    assert factors.counted_wind(8.0) == 4.0
    assert factors.counted_wind(-8.0) == -12.0
    assert factors.counted_wind(0.0) == 0.0
    for phase in ("takeoff", "landing"):
        factor = getattr(factors, f"{phase}_wind_factor")
        assert factor(4.0, 20.0) == pytest.approx((1 - 2.0 / 20.0) ** 2)
        assert factor(-2.0, 20.0) == pytest.approx(1.2**1.5)
        assert factor(0.0, 20.0) == 1.0
        assert math.isnan(factor(20.0, 20.0))
    assert math.isnan(factors.wind_ratio_full(20.0, 20.0))


# --- surfaces ----------------------------------------


def test_surfaces():
    for name, (lift_off, touch_down, source) in factors.SURFACES.items():
        assert factors.takeoff_surface_factor(name) == lift_off >= 1.0
        assert factors.landing_surface_factor(name) == touch_down >= 1.0
        assert len(source) > 10
    assert set(factors.SURFACES) >= factors.LOWER_BOUND_ONLY
    assert all("or more" in factors.SURFACES[name][2] for name in factors.LOWER_BOUND_ONLY)
    assert not any(
        "or more" in s[2] for n, s in factors.SURFACES.items() if n not in factors.LOWER_BOUND_ONLY
    )


def test_every_surface_of_the_documents_has_a_factor():
    base = pytest.importorskip("tussock.documents.base")
    assert set(base.Surface.__args__) == set(factors.SURFACES)


def test_wet_never_better_than_dry():
    for dry in [name for name in factors.SURFACES if name.endswith("_dry")]:
        wet = dry.replace("_dry", "_wet")
        if wet in factors.SURFACES:
            assert factors.takeoff_surface_factor(wet) >= factors.takeoff_surface_factor(dry)
            assert factors.landing_surface_factor(wet) >= factors.landing_surface_factor(dry)


def test_no_published_factor_no_answer():
    for factor in (factors.takeoff_surface_factor, factors.landing_surface_factor):
        assert math.isnan(factor("ploughed"))
        assert math.isnan(factor(""))
        assert list(np.isnan(factor("grass_long_dry", np.array([0.1, 0.2, 0.21])))) == [False, False, True]
        assert math.isnan(factor("grass_long_dry", math.nan))
        assert factor("paved_dry", 0.5) == 1.0
    answer = single.call("takeoff_surface_factor", {"surface": "ploughed"})
    assert answer["outputs"] == {"takeoff_surface_factor": None}


# --- out of a measured distance ----------------------------------------


def test_a_headwind_comes_out_whole():
    for remove in (factors.remove_takeoff_wind, factors.remove_landing_wind):
        assert remove(4.0, 20.0) == pytest.approx(1 / 0.8**2)
        assert remove(-2.0, 20.0) == pytest.approx(1 / 1.2)
        assert remove(0.0, 20.0) == 1.0


@pytest.mark.parametrize("slope", [-0.02, -0.05])
def test_a_downhill_take_off_comes_out_by_physics(slope):
    """A roll with nothing but thrust and slope: the level roll is known exactly."""
    case = {"mass": 600.0, "lift_off_speed": 22.0, "headwind": 0.0, "friction": 0.0, "static_thrust": 1500.0,
            "thrust_fall": 0.0, "density": 1.0, "wing_area": 14.0, "lift_coefficient": 0.0,
            "drag_coefficient": 0.0}  # fmt: skip
    level = takeoff.ground_roll(**case, slope=0.0).distance
    measured = takeoff.ground_roll(**case, slope=slope).distance
    assert measured < level
    assert measured * factors.remove_takeoff_slope(slope, 22.0, measured) == pytest.approx(level, rel=1e-12)
    # an uphill landing likewise: the same sum read backwards
    assert factors.remove_landing_slope(-slope, 22.0, measured) == factors.remove_takeoff_slope(
        slope, 22.0, measured
    )


def test_what_is_taken_out_is_more_than_what_is_put_in():
    """From a helped distance to the same help again must not come out shorter than it was measured."""
    for headwind in (-6.0, -2.0, 0.0, 3.0, 9.0):
        there_and_back = factors.remove_takeoff_wind(headwind, 20.0) * factors.takeoff_wind_factor(
            headwind, 20.0
        )
        assert there_and_back >= 1.0
    for slope in (-0.04, -0.01, 0.0, 0.02):
        out = factors.remove_takeoff_slope(slope, 22.0, 200.0)
        assert out * factors.takeoff_slope_factor(slope) >= 1.0 - 1e-12
        assert (
            factors.remove_landing_slope(-slope, 22.0, 200.0) * factors.landing_slope_factor(-slope)
            >= 1 - 1e-12
        )


def test_burdens_come_out_by_the_leaflet():
    assert factors.remove_takeoff_slope(0.02, 22.0, 200.0) == pytest.approx(1 / 1.1)
    assert factors.remove_landing_slope(-0.02, 22.0, 200.0) == pytest.approx(1 / 1.1)


def test_a_slope_that_did_all_the_work():
    assert math.isinf(factors.remove_takeoff_slope(-0.2, 15.0, 150.0))
    assert math.isinf(factors.remove_landing_slope(0.2, 15.0, 150.0))


# --- together ----------------------------------------


def test_factors_multiply():
    assert factors.factored_distance(400.0, [1.2, 1.21, 1.1, 1.2, 1.33]) == pytest.approx(1019.65, abs=0.01)
    assert factors.factored_distance(400.0, []) == 400.0
    assert math.isnan(factors.factored_distance(400.0, [1.2, math.nan]))
    many = factors.factored_distance(np.array([100.0, 200.0]), np.array([[1.1, 1.2], [1.0, 2.0]]))
    assert many == pytest.approx([132.0, 400.0])


def test_koch_is_density_altitude():
    assert factors.koch_takeoff_factor(0.0, 288.15) == pytest.approx(1.0, abs=1e-9)
    assert factors.koch_takeoff_factor(1000 * FT, 288.15 - 6.5 * 0.3048) == pytest.approx(1.126, rel=1e-6)
    assert factors.koch_takeoff_factor(1500.0, 303.0) > factors.koch_takeoff_factor(1500.0, 293.0)
    # hotter and higher than the chart: nothing is said
    assert math.isnan(factors.koch_takeoff_factor(3000.0, 315.0))
    assert math.isnan(relation.evaluate("takeoff_density_altitude_factor", density_altitude=13000 * FT))


@pytest.mark.parametrize("feet", [2000, 5000, 8000])
def test_koch_is_worse_than_the_leaflet_and_the_rules(feet):
    """Why the cross-check decides on a hot day: more than elevation and temperature by the leaflet."""
    leaflet = factors.takeoff_elevation_factor(feet * FT) * factors.takeoff_temperature_factor(15.0)
    hot = factors.koch_takeoff_factor(feet * FT, 288.15 - 0.0065 * feet * FT + 15.0)
    assert 1.0 < leaflet < hot < 1.6 * leaflet


def test_rule_has_a_knee():
    rule = factors.takeoff_density_altitude_rule
    assert rule(8000 * FT) == pytest.approx(1.96)
    assert rule(9000 * FT) == pytest.approx(2.16)
    assert rule(9000 * FT, 0.10, 0.15) == pytest.approx(1.95)


def test_safety_factors():
    assert (factors.TAKEOFF_SAFETY, factors.LANDING_SAFETY) == (1.33, 1.43)
    assert factors.safety_factor_by_mass(np.array([900.0, 2750.0, 5000.0])) == pytest.approx(
        [1.15, 1.2, 1.25]
    )


# --- shapes ----------------------------------------

PAIR = {
    "mass": ({"mass": (500.0, 650.0), "reference_mass": (550.0, 600.0)}),
    "elevation": ({"elevation": (0.0, 2000.0), "reference_elevation": (0.0, 500.0)}),
    "temperature": ({"temperature_above_standard": (-5.0, 25.0), "reference_above_standard": (0.0, 10.0)}),
}
SPEEDS = {"headwind": (-4.0, 6.0), "lift_off_speed": (18.0, 24.0)}
TOUCHES = {"headwind": (-4.0, 6.0), "touchdown_speed": (18.0, 24.0)}
PLAIN = {"factors": [1.2, 1.1], "surface": "grass_short_wet"}
SHAPES = {
    "counted_wind": {"headwind": (-4.0, 6.0)},
    "wind_ratio_full": {"headwind": (-4.0, 20.0), "speed": (18.0, 24.0)},
    "tailwind_factor": {"tailwind": (0.0, 6.0), "speed": (18.0, 24.0)},
    **{f"{phase}_{what}_factor": PAIR[what] for phase in ("takeoff", "landing") for what in PAIR},
    "takeoff_slope_factor": {"slope": (-0.03, 0.05)},
    "landing_slope_factor": {"slope": (-0.03, 0.05)},
    "takeoff_wind_factor": SPEEDS,
    "landing_wind_factor": TOUCHES,
    "takeoff_surface_factor": {"grass_length": (0.0, 0.3)},
    "landing_surface_factor": {"grass_length": (0.0, 0.3)},
    "remove_takeoff_wind": SPEEDS,
    "remove_landing_wind": TOUCHES,
    "remove_takeoff_slope": {"slope": (-0.2, 0.05), "lift_off_speed": (18.0, 24.0), "roll": (100.0, 300.0)},
    "remove_landing_slope": {"slope": (-0.05, 0.2), "touchdown_speed": (18.0, 24.0), "roll": (100.0, 300.0)},
    "factored_distance": {"distance": (100.0, 400.0)},
    "takeoff_density_altitude_factor": {"density_altitude": (-500.0, 3000.0)},
    "takeoff_density_altitude_rule": {
        "density_altitude": (0.0, 3000.0),
        "below": (0.1, 0.15),
        "above": (0.15, 0.2),
    },
    "koch_takeoff_factor": {"pressure_altitude": (0.0, 3000.0), "temperature": (270.0, 315.0)},
    "takeoff_mass_rule": PAIR["mass"],
    "safety_factor_by_mass": {
        "mass": (1500.0, 4000.0),
        "light_mass": (1900.0, 2100.0),
        "heavy_mass": (3000.0, 3500.0),
        "light_factor": (1.1, 1.2),
        "heavy_factor": (1.2, 1.3),
    },
}


@pytest.mark.parametrize("name", SHAPES)
def test_broadcasts(name):
    plain = {key: PLAIN[key] for key in relation.find(name).plain}
    check_broadcast(name, SHAPES[name], plain)


def test_every_relation_is_tried_for_shape():
    mine = {name for name, r in relation.REGISTER.items() if r.module == factors.__name__}
    assert mine == set(SHAPES)
