"""Mass and balance: handbook identities, the envelope against independent geometry, shapes and signs."""

import math

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from tussock.sums import loading, polygon

# An invented two-seat envelope: convex, with a sloping forward edge.
MASSES = np.array([350.0, 350.0, 600.0, 600.0, 480.0])
ARMS = np.array([0.20, 0.52, 0.52, 0.34, 0.20])
# Non-convex ones: a notch in the forward edge, a gap open at the top, a step.
NOTCH = (np.array([300.0, 300.0, 700.0, 700.0, 500.0]), np.array([0.0, 1.0, 1.0, 0.0, 0.5]))
GAP = (
    np.array([300.0, 300.0, 700.0, 700.0, 450.0, 450.0, 700.0, 700.0]),
    np.array([0.0, 1.0, 1.0, 0.7, 0.6, 0.4, 0.3, 0.0]),
)
STEP = (np.array([300.0, 300.0, 500.0, 500.0, 700.0, 700.0]), np.array([0.0, 0.6, 0.6, 1.0, 1.0, 0.4]))
POLYGONS = {"convex": (MASSES, ARMS), "notch": NOTCH, "gap": GAP, "step": STEP}


def turns_round(across, up, vertex_across, vertex_up):
    """Inside by the sum of the angles under which the edges are seen (an independent method)."""
    total = 0.0
    n = len(vertex_across)
    for i in range(n):
        j = (i + 1) % n
        x1, y1 = (vertex_across[i] - across) / np.ptp(vertex_across), (vertex_up[i] - up) / np.ptp(vertex_up)
        x2, y2 = (vertex_across[j] - across) / np.ptp(vertex_across), (vertex_up[j] - up) / np.ptp(vertex_up)
        total += math.atan2(x1 * y2 - x2 * y1, x1 * x2 + y1 * y2)
    return abs(total) > math.pi


def walk(mass, arm, station, corners, edges="arm", steps=600):
    """Mass added before the point first leaves, by walking in small steps and halving the last one."""
    up, across = corners
    if edges == "moment":
        across = up * across

    def inside(added):
        total = mass + added
        moment = mass * arm + added * station
        return turns_round(moment if edges == "moment" else moment / total, total, across, up)

    if not inside(0.0):
        return 0.0
    step = (up.max() - mass) / steps + 1e-6
    low = 0.0
    while inside(low + step):
        low += step
    high = low + step
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if inside(middle) else (low, middle)
    return low


def test_total_moment_and_arm():
    loaded = loading.centre_of_gravity([800.0, 160.0, 72.0], [2.30, 2.10, 2.60])
    assert loaded.mass == 1032.0
    assert loaded.moment == pytest.approx(2363.2, abs=1e-9)
    assert loaded.arm == pytest.approx(2363.2 / 1032.0, abs=1e-12)


def test_no_mass_has_no_arm():
    assert math.isnan(loading.centre_of_gravity([100.0, -100.0], [1.0, 2.0]).arm)
    assert math.isnan(loading.arm_after_change(100.0, 1.0, -100.0, 2.0))
    assert math.isnan(loading.arm_from_two_scales(0.0, 0.0, 1.0, 2.0))


@given(st.lists(st.tuples(st.floats(0.1, 500.0), st.floats(-3.0, 3.0)), min_size=2, max_size=9))
def test_mass_and_moment_are_conserved_in_any_grouping(items):
    masses, arms = (np.array(x) for x in zip(*items, strict=True))
    whole = loading.centre_of_gravity(masses, arms)
    first = loading.centre_of_gravity(masses[:1], arms[:1])
    rest = loading.centre_of_gravity(masses[1:], arms[1:])
    again = loading.centre_of_gravity([first.mass, rest.mass], [first.arm, rest.arm])
    assert again.mass == pytest.approx(whole.mass, rel=1e-12)
    assert again.moment == pytest.approx(whole.moment, rel=1e-9, abs=1e-9)
    assert arms.min() - 1e-9 <= whole.arm <= arms.max() + 1e-9


def test_two_scales_agree_with_the_handbooks_two_forms():
    nose, main, main_arm, base = 340.0, 1666.0, 128.0, 78.0
    assert loading.arm_from_two_scales(main, nose, main_arm, main_arm - base) == pytest.approx(
        main_arm - nose * base / (main + nose), rel=1e-14
    )
    tail, main, main_arm, base = 67.0, 1151.0, 7.5, 222.0
    assert loading.arm_from_two_scales(main, tail, main_arm, main_arm + base) == pytest.approx(
        main_arm + tail * base / (main + tail), rel=1e-14
    )


@given(st.floats(300.0, 3000.0), st.floats(-1.0, 3.0), st.floats(-2.0, 4.0), st.floats(-2.0, 4.0))
@example(300.0, 1.0, -2.225073858507203e-309, 0.0)
def test_mass_to_add_brings_the_arm_to_the_limit(mass, arm, station, limit):
    added = loading.mass_to_add_for_limit(mass, arm, station, limit)
    if math.isinf(added):
        # a station less than a hair beyond the limit asks for more mass than a float holds
        assert math.isclose(limit, station, abs_tol=1e-300) or (limit - arm) * (station - limit) <= 0.0
    else:
        assert added >= 0.0
        assume(added < 1e6)
        assert loading.arm_after_change(mass, arm, added, station) == pytest.approx(limit, abs=1e-6)


def test_mass_to_shift_signs():
    assert loading.mass_to_shift(1000.0, -0.05, -1.0) == 50.0
    assert loading.mass_to_shift(1000.0, 0.05, -1.0) == math.inf
    assert loading.mass_to_shift(1000.0, 0.05, 0.0) == math.inf
    assert loading.mass_to_shift(1000.0, 0.0, 0.0) == 0.0


def test_shifting_that_mass_gives_that_change():
    moved = loading.mass_to_shift(1200.0, 0.03, 1.5)
    before = loading.centre_of_gravity([1200.0 - moved, moved], [1.0, 1.0])
    after = loading.centre_of_gravity([1200.0 - moved, moved], [1.0, 2.5])
    assert after.arm - before.arm == pytest.approx(0.03, abs=1e-12)


def test_wheel_loads_balance_and_tip():
    main, nose = loading.main_wheel_load(600.0, 1.0, 1.2, -0.3)
    assert main + nose == pytest.approx(600.0)
    assert main * 1.2 + nose * -0.3 == pytest.approx(600.0)
    assert nose > 0.0
    assert loading.main_wheel_load(600.0, 1.25, 1.2, -0.3).other < 0.0  # sits on its tail
    assert loading.main_wheel_load(600.0, 0.1, 0.2, 4.5).other < 0.0  # tailwheel: over on its nose
    assert math.isnan(loading.main_wheel_load(600.0, 1.0, 1.2, 1.2).main)


def test_spread_of_the_arm_against_random_draws():
    rng = np.random.default_rng(4)
    masses, arms = np.array([320.0, 80.0, 75.0, 60.0]), np.array([0.31, 0.40, 0.45, 1.10])
    sds, arm_sds = np.array([1.0, 2.0, 3.0, 4.0]), np.array([0.002, 0.01, 0.01, 0.02])
    drawn = loading.centre_of_gravity(
        rng.normal(masses, sds, (200_000, 4)), rng.normal(arms, arm_sds, (200_000, 4))
    )
    assert loading.arm_spread(masses, arms, sds, arm_sds) == pytest.approx(np.std(drawn.arm), rel=0.01)
    assert loading.arm_spread(masses, arms, 0.0) == 0.0


@pytest.mark.parametrize("name", POLYGONS)
@pytest.mark.parametrize("edges", ["arm", "moment"])
def test_inside_agrees_with_the_sum_of_angles(name, edges):
    up, across = POLYGONS[name]
    rng = np.random.default_rng(1)
    mass = rng.uniform(up.min() - 40.0, up.max() + 40.0, 400)
    arm = rng.uniform(across.min() - 0.1, across.max() + 0.1, 400)
    inside = loading.envelope_margins(mass, arm, up, across, edges).inside
    if edges == "moment":
        expected = [turns_round(m * a, m, up * across, up) for m, a in zip(mass, arm, strict=True)]
    else:
        expected = [turns_round(a, m, across, up) for m, a in zip(mass, arm, strict=True)]
    assert 50 < sum(expected) < 350
    np.testing.assert_array_equal(inside, np.array(expected, dtype=float))


@pytest.mark.parametrize("name", POLYGONS)
@pytest.mark.parametrize("edges", ["arm", "moment"])
def test_room_ends_exactly_at_the_edge(name, edges):
    """Moving by the room stays inside; a little farther is outside; everything on the way is inside."""
    up, across = POLYGONS[name]
    rng = np.random.default_rng(2)
    mass = rng.uniform(up.min(), up.max(), 300)
    arm = rng.uniform(across.min(), across.max(), 300)
    margins = loading.envelope_margins(mass, arm, up, across, edges)
    keep = margins.inside == 1.0
    mass, arm = mass[keep][:, None], arm[keep][:, None]
    forward, aft, above, width = (part[keep] for part in margins[1:])
    assert np.all(forward >= 0.0)
    assert np.all(aft >= 0.0)
    assert np.all(above >= 0.0)
    np.testing.assert_allclose(width, forward + aft, atol=1e-12)
    share = np.array([0.0, 0.1, 0.33, 0.5, 0.77, 0.99, 1.0])
    for room, to_mass, to_arm in ((forward, 0.0, -1.0), (aft, 0.0, 1.0), (above, 1.0, 0.0)):
        step = room[:, None] * share
        on_the_way = loading.envelope_margins(mass + to_mass * step, arm + to_arm * step, up, across, edges)
        assert np.all(on_the_way.inside == 1.0)
        past = room[:, None] + (1e-3 if to_mass else 1e-6)
        beyond = loading.envelope_margins(mass + to_mass * past, arm + to_arm * past, up, across, edges)
        assert np.all(beyond.inside == 0.0)


@pytest.mark.parametrize("name", POLYGONS)
def test_every_corner_and_point_on_an_edge_is_inside(name):
    up, across = POLYGONS[name]
    for share in (0.0, 1.0 / 3.0, 0.5, 0.7):
        mass = up + share * (np.roll(up, -1) - up)
        arm = across + share * (np.roll(across, -1) - across)
        margins = loading.envelope_margins(mass, arm, up, across)
        assert np.all(margins.inside == 1.0)
        for room in margins[1:]:
            assert np.all(room >= 0.0)


def test_the_top_and_bottom_edges_have_their_whole_width():
    for mass, width in ((350.0, 0.32), (600.0, 0.18)):
        margins = loading.envelope_margins(mass, 0.40, MASSES, ARMS)
        assert margins.inside == 1.0
        assert margins.width == pytest.approx(width, abs=1e-12)
    # A total that only rounding puts above the limit is at it.
    assert loading.envelope_margins(600.0 + 1e-10, 0.40, MASSES, ARMS).mass_above == 0.0
    assert loading.envelope_margins(600.0 + 1e-6, 0.40, MASSES, ARMS).inside == 0.0


def test_outside_signs():
    front = loading.envelope_margins(400.0, 0.15, MASSES, ARMS)
    assert (front.inside, front.forward, front.aft) == (0.0, pytest.approx(-0.05), pytest.approx(0.37))
    assert math.isnan(front.mass_above)  # no envelope above this arm
    behind = loading.envelope_margins(400.0, 0.60, MASSES, ARMS)
    assert (behind.inside, behind.aft) == (0.0, pytest.approx(-0.08))
    heavy = loading.envelope_margins(650.0, 0.40, MASSES, ARMS)
    assert (heavy.inside, heavy.mass_above) == (0.0, pytest.approx(-50.0))
    assert math.isnan(heavy.forward)
    assert math.isnan(heavy.aft)
    assert math.isnan(heavy.width)
    light = loading.envelope_margins(300.0, 0.40, MASSES, ARMS)
    assert light.inside == 0.0
    assert math.isnan(light.mass_above)
    corner = loading.envelope_margins(560.0, 0.25, MASSES, ARMS)
    assert corner.inside == 0.0
    assert corner.forward < 0.0
    assert corner.mass_above < 0.0


def test_in_a_gap_the_nearest_piece_counts():
    left = loading.envelope_margins(600.0, 0.40, *GAP)
    assert left.inside == 0.0
    assert left.aft < 0.0
    assert left.forward > 0.0
    right = loading.envelope_margins(600.0, 0.62, *GAP)
    assert right.inside == 0.0
    assert right.forward < 0.0
    assert right.aft > 0.0
    # At the height of the gap's floor the envelope is whole again.
    assert loading.envelope_margins(450.0, 0.5, *GAP).width == pytest.approx(1.0)


def test_missing_figures_are_never_inside():
    for mass, arm in ((math.nan, 0.4), (500.0, math.nan)):
        assert math.isnan(loading.envelope_margins(mass, arm, MASSES, ARMS).inside)
        assert math.isnan(loading.addable_mass(mass, arm, 0.4, MASSES, ARMS))
    bad = MASSES.copy()
    bad[2] = math.nan
    assert all(math.isnan(part) for part in loading.envelope_margins(500.0, 0.4, bad, ARMS))
    assert math.isnan(loading.addable_mass(500.0, 0.4, 0.4, bad, ARMS))


def test_an_envelope_needs_three_corners():
    with pytest.raises(ValueError, match="three corners"):
        loading.envelope_margins(500.0, 0.4, MASSES[:2], ARMS[:2])
    with pytest.raises(ValueError, match="edges"):
        loading.addable_mass(500.0, 0.4, 0.4, MASSES, ARMS, "moments")


@pytest.mark.parametrize("name", POLYGONS)
@pytest.mark.parametrize("edges", ["arm", "moment"])
def test_addable_mass_against_walking(name, edges):
    up, across = POLYGONS[name]
    rng = np.random.default_rng(3)
    mass = rng.uniform(up.min() - 20.0, up.max() + 20.0, 25)
    arm = rng.uniform(across.min() - 0.05, across.max() + 0.05, 25)
    station = rng.uniform(-1.0, 2.5, 25)
    found = loading.addable_mass(mass, arm, station, up, across, edges)
    walked = [walk(*point, (up, across), edges) for point in zip(mass, arm, station, strict=True)]
    assert np.count_nonzero(walked) > 8
    np.testing.assert_allclose(found, walked, atol=2e-6)


def test_addable_mass_from_the_boundary():
    # On the aft limit: nothing behind it, up to the top in front of it.
    assert loading.addable_mass(500.0, 0.52, 1.5, MASSES, ARMS) == 0.0
    assert loading.addable_mass(500.0, 0.52, 0.40, MASSES, ARMS) == pytest.approx(100.0)
    # Straight up along the aft edge itself.
    assert loading.addable_mass(400.0, 0.52, 0.52, MASSES, ARMS) == pytest.approx(200.0)
    # At the top nothing goes in anywhere; outside nothing counts.
    assert loading.addable_mass(600.0, 0.40, 0.40, MASSES, ARMS) == 0.0
    assert loading.addable_mass(610.0, 0.40, 0.40, MASSES, ARMS) == 0.0
    assert loading.addable_mass(400.0, 0.10, 0.60, MASSES, ARMS) == 0.0
    # Touching the tip of the notch from inside is not leaving.
    assert loading.addable_mass(400.0, 0.5, 0.5, *NOTCH) == pytest.approx(300.0)
    # Over the notch: the first exit counts, not the return.
    assert loading.addable_mass(350.0, 0.2, 0.2, *NOTCH) == pytest.approx(30.0)
    assert loading.envelope_margins(650.0, 0.2, *NOTCH).inside == 1.0


@st.composite
def convex_polygons(draw):
    """Corners on an ellipse, in order, far enough apart not to be one point."""
    steps = draw(st.lists(st.floats(0.2, 1.0), min_size=3, max_size=9))
    angles = np.cumsum(steps) / sum(steps) * 2.0 * math.pi + draw(st.floats(0.0, 6.0))
    up = draw(st.floats(300.0, 2000.0)) + draw(st.floats(20.0, 250.0)) * np.sin(angles)
    across = draw(st.floats(-1.0, 2.5)) + draw(st.floats(0.05, 0.6)) * np.cos(angles)
    return up, across


def half_planes(mass, arm, up, across):
    """Least signed distance to the edges' lines, scaled; positive inside (corners run anticlockwise)."""
    height, width = np.ptp(up), np.ptp(across)
    x, y, px, py = across / width, up / height, arm / width, mass / height
    dx, dy = np.roll(x, -1) - x, np.roll(y, -1) - y
    return np.min((dx * (py - y) - dy * (px - x)) / np.hypot(dx, dy))


@settings(max_examples=200, deadline=None)
@given(convex_polygons(), st.floats(-0.2, 1.2), st.floats(-0.2, 1.2), st.floats(-1.5, 3.0))
def test_random_convex_envelopes(corners, share_up, share_across, station):
    up, across = corners
    mass, arm = up.min() + share_up * np.ptp(up), across.min() + share_across * np.ptp(across)
    depth = half_planes(mass, arm, up, across)
    assume(abs(depth) > 1e-7)
    margins = loading.envelope_margins(mass, arm, up, across)
    added = loading.addable_mass(mass, arm, station, up, across)
    assert margins.inside == float(depth > 0.0)
    if depth < 0.0:
        assert added == 0.0
        assert np.isnan(margins.forward) or margins.forward < 0.0 or margins.aft < 0.0
        return
    assert half_planes(mass, arm - margins.forward, up, across) == pytest.approx(0.0, abs=1e-9)
    assert half_planes(mass, arm + margins.aft, up, across) == pytest.approx(0.0, abs=1e-9)
    assert half_planes(mass + margins.mass_above, arm, up, across) == pytest.approx(0.0, abs=1e-9)
    # The path ends on an edge, and nowhere before it is outside.
    on_the_way = np.linspace(0.0, added, 50)
    depths = [
        half_planes(mass + m, loading.arm_after_change(mass, arm, m, station), up, across) for m in on_the_way
    ]
    assert depths[-1] == pytest.approx(0.0, abs=1e-7)
    assert min(depths) > -1e-7


@given(convex_polygons(), st.integers(0, 8), st.booleans(), st.floats(0.1, 0.9))
def test_the_answer_does_not_depend_on_where_the_corners_start_or_turn(corners, start, backwards, share):
    up, across = corners
    other = np.roll(up, start), np.roll(across, start)
    if backwards:
        other = other[0][::-1], other[1][::-1]
    closed = np.append(other[0], other[0][0]), np.append(other[1], other[1][0])
    mass, arm = up.min() + share * np.ptp(up), np.mean(across)
    one = loading.envelope_margins(mass, arm, up, across)
    for same in (other, closed):
        np.testing.assert_allclose(loading.envelope_margins(mass, arm, *same), one, rtol=1e-9, atol=1e-9)


def test_the_two_kinds_of_edge_differ_where_they_should():
    """An edge from (350, 0.20) to (600, 0.52) bulges in the other diagram; at its ends they agree."""
    up, across = np.array([350.0, 600.0, 600.0, 350.0]), np.array([0.20, 0.52, 0.90, 0.90])
    middle_by_moment = (350.0 * 0.20 + 600.0 * 0.52) / 950.0
    by_arm = loading.envelope_margins(475.0, 0.6, up, across, "arm")
    by_moment = loading.envelope_margins(475.0, 0.6, up, across, "moment")
    assert by_arm.forward == pytest.approx(0.6 - 0.36)
    assert by_moment.forward == pytest.approx(0.6 - 0.5 * (350 * 0.20 + 600 * 0.52) / 475.0)
    assert middle_by_moment > 0.36


def test_fuel_density_falls_with_temperature():
    for reference in (680.0, 721.0, 745.0, 769.0, 780.0, 800.0):
        curve = loading.fuel_density(reference, np.array([243.15, 273.15, 288.15, 303.15, 318.15]))
        assert np.all(np.diff(curve) < 0.0)
        assert curve[2] == pytest.approx(reference, rel=1e-12)


def test_shapes_broadcast():
    rows, columns = np.array([[420.0], [500.0], [640.0]]), np.array([0.18, 0.30, 0.45, 0.55])
    margins = loading.envelope_margins(rows, columns, MASSES, ARMS)
    added = loading.addable_mass(rows, columns, 0.6, MASSES, ARMS)
    wheels = loading.main_wheel_load(rows, columns, 0.6, -0.9)
    for i in range(3):
        for j in range(4):
            mass, arm = float(rows[i, 0]), float(columns[j])
            one = loading.envelope_margins(mass, arm, MASSES, ARMS)
            np.testing.assert_array_equal([part[i, j] for part in margins], one)
            assert np.ndim(one.inside) == 0
            assert added[i, j] == loading.addable_mass(mass, arm, 0.6, MASSES, ARMS)
            assert wheels.other[i, j] == loading.main_wheel_load(mass, arm, 0.6, -0.9).other
    lists = loading.centre_of_gravity(np.full((3, 1, 2), 100.0), np.array([[0.1, 0.2]] * 4))
    assert np.shape(lists.arm) == (3, 4)


@pytest.mark.parametrize(
    ("relation", "first", "second", "rest"),
    [
        (loading.arm_from_two_scales, [500.0, 600.0, 700.0], [50.0, 60.0, 70.0, 80.0], (1.1, -0.4)),
        (loading.arm_in_mac, [1.0, 1.1, 1.2], [0.9, 0.95, 1.0, 1.05], (2.3,)),
        (loading.mass_to_shift, [500.0, 700.0, 900.0], [-0.1, 0.0, 0.05, 0.1], (1.5,)),
        (loading.arm_after_change, [500.0, 700.0, 900.0], [0.2, 0.3, 0.4, 0.5], (-30.0, 1.0)),
        (loading.mass_to_add_for_limit, [500.0, 700.0, 900.0], [0.2, 0.3, 0.4, 0.6], (1.5, 0.5)),
        (loading.useful_load, [500.0, 600.0, 900.0], [300.0, 350.0, 400.0, 950.0], ()),
        (loading.dressed_mass, [60.0, 75.0, 90.0], [2.0, 4.0, 6.0, 8.0], ()),
        (loading.fuel_density, [721.0, 775.0, 800.0], [250.0, 270.0, 288.15, 310.0], ()),
        (loading.fuel_mass, [0.1, 0.2, 0.3], [700.0, 721.0, 740.0, 800.0], ()),
    ],
)
def test_broadcasting_equals_scalars(relation, first, second, rest):
    table = relation(np.array(first)[:, None], np.array(second), *rest)
    assert np.shape(table) == (3, 4)
    one_by_one = [[relation(a, b, *rest) for b in second] for a in first]
    np.testing.assert_allclose(table, one_by_one, rtol=1e-15)


def test_oil_and_snap():
    assert loading.oil_mass(np.array([0.004, 0.006])) == pytest.approx([3.5947, 5.3921], abs=1e-3)
    assert polygon.SNAP <= 1e-9  # a nanometre on a metre: rounding, not leniency
