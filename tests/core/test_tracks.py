"""Runs found in tracks of known truth, with a phone's errors: how near, how honest, and what is refused.

The flights are made by forces (`made_tracks`), not by the estimator's own model; aeroplanes, pilots, winds
and receivers are drawn at random.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.linalg import solve  # type: ignore[import-untyped]

from tussock.sums.tracks.measured import Fixes, Measured, measure
from tussock.sums.tracks.noise import Noise, covariance
from tussock.sums.tracks.runs import find_runs, ground_speed
from tussock.sums.tracks.smoother import smooth
from tussock.sums.tracks.walked import measure_walk

from .made_tracks import Array, Phone, Plane, Truth, circuit, wander, watch

LONG = Plane(lift_off=27.0, climb=33.0, touch=26.0, thrust=2.95)


def runs_of(fixes: dict[str, Array], headwind: float = 0.0) -> list[Measured]:
    used = ground_speed(fixes["times"], fixes["east"], fixes["north"], fixes["speed"])
    whole = Fixes(**fixes, used=used)
    return [measure(run, whole, Noise(), headwind) for run in find_runs(whole.times, used, whole.height)]


def one(found: list[Measured], what: str) -> Measured:
    (run,) = [run for run in found if run.what == what]
    return run


def truth_of(truth: Truth, what: str) -> dict[str, float]:
    return next(run for run in truth.runs if run["what"] == (what == "landing"))


#: Rows of what was told: error of the roll and its standard error, as parts of it; 1 where it is not rough.
Rows = list[tuple[float, float, float]]


def watched(what: str, truth: Truth, phone: Phone, seed: int, wind: float = 0.0) -> Rows:
    run, true = one(runs_of(watch(truth, phone, seed), wind), what), truth_of(truth, what)["roll"]
    roll = run.figures.get("roll")
    assert roll is not None or run.reason
    return [(roll.value / true - 1.0, roll.sd / true, float(not run.reason))] if roll else []


@cache
def drawn(what: str, seeds: int = 60) -> np.ndarray:
    """Flights and receivers at random, most of them with short rolls: what was told of them."""
    rows: Rows = []
    for seed in range(seeds):
        random = np.random.default_rng(1000 + seed)
        lift_off = random.uniform(21.0, 29.0)
        plane = Plane(
            lift_off=lift_off,
            climb=lift_off * random.uniform(1.15, 1.3),
            touch=lift_off * random.uniform(0.88, 0.98),
            thrust=random.uniform(2.7, 3.1) + 0.02 * (lift_off - 20.0),
            hold=random.choice([0.0, 0.5, 1.0, 1.5], p=[0.5, 0.2, 0.2, 0.1]),
            soft=random.uniform(0.7, 2.0),
            rotated=random.uniform(0.2, 0.6),
            brake=random.uniform(2.0, 3.5),
            float_time=random.uniform(0.5, 4.0),
        )
        wind = random.uniform(0.0, 4.0)
        phone = Phone(
            position=random.uniform(3.0, 5.0),
            lasting=random.choice([30.0, 60.0, 100.0]),
            lag=random.choice([0.0, 0.3, 0.8]),
        )
        rows += watched(what, circuit(plane, wind), phone, seed, wind)
    return np.array(rows)


@cache
def lengthy(what: str, seeds: int = 36) -> np.ndarray:
    """A roll of 196 m, a landing roll of 151 m: a usual phone, a good one, one with five fixes a second."""
    truth = circuit(LONG)
    rows: Rows = []
    for seed in range(seeds):
        rows += watched(what, truth, Phone(), seed)
        rows += watched(what, truth, Phone(speed=0.1, height=4.0, new=0.4), 500 + seed)
        if seed % 5 == 0:
            rows += watched(what, truth, Phone(every=0.2), 900 + seed)
    return np.array(rows)


def taken(rows: np.ndarray) -> np.ndarray:
    """What was measured, without what is offered as rough only."""
    return rows[rows[:, 2] > 0.0]


def test_a_measured_roll_is_within_a_tenth() -> None:
    """97 of 100 are, none is far off, and the mean is off by 2 % at most."""
    both = []
    for what in ("takeoff", "landing"):
        rows = np.concatenate([taken(drawn(what)), taken(lengthy(what))])
        assert len(rows) > 25
        assert abs(rows[:, 0].mean()) < 0.02
        assert len(taken(lengthy(what))) > 0.3 * len(lengthy(what)), "too many are refused"
        both.append(np.abs(rows[:, 0]))
        assert np.mean(both[-1] < 0.10) > 0.95
    off = np.concatenate(both)
    assert np.mean(off < 0.10) >= 0.97
    assert off.max() < 0.15


@pytest.mark.parametrize("what", ["takeoff", "landing"])
def test_what_is_rough_says_how_rough(what: str) -> None:
    """The standard errors hold what they say, and are of use; the mean of all is hardly off."""
    rows = drawn(what)
    assert len(rows) > 0.85 * 60, "too many are refused altogether"
    apart = np.abs(rows[:, 0]) / rows[:, 1]
    assert np.mean(apart < 1.0) > 0.65
    assert np.mean(apart < 2.0) > 0.94
    assert np.sqrt(np.mean(apart**2)) > 0.55, "the standard errors are far too wide to be of use"
    assert np.median(np.abs(rows[:, 0])) < 0.07
    assert abs(rows[:, 0].mean()) < 0.02


def test_climb_and_distance_to_50_ft() -> None:
    truth = circuit(LONG)
    true = truth_of(truth, "takeoff")
    found = [one(runs_of(watch(truth, Phone(), seed)), "takeoff").figures for seed in range(20)]
    rates = np.array([(f["rate"].value - true["rate"]) / f["rate"].sd for f in found if "rate" in f])
    overs = np.array(
        [(f["over_50ft"].value - true["over"]) / f["over_50ft"].sd for f in found if "over_50ft" in f]
    )
    for apart in (rates, overs):
        assert len(apart) > 12
        assert np.mean(np.abs(apart) < 2.0) >= 0.85


def test_one_that_is_held_down_comes_out_too_long_never_too_short() -> None:
    """Leaving the ground without climbing shows little: the error is to the safe side, and wide."""
    truth = circuit(replace(LONG, hold=4.0))
    for seed in range(8):
        run = one(runs_of(watch(truth, Phone(), seed)), "takeoff")
        if run.figures:
            assert run.figures["roll"].value > 0.95 * truth_of(truth, "takeoff")["roll"]


def test_a_go_around_is_named_and_its_neighbours_are_measured() -> None:
    truth = circuit(LONG, go_around=True)
    found = runs_of(watch(truth, Phone(), 4))
    assert [run.what for run in found] == ["takeoff", "go_around", "landing"]
    assert found[1].reason == "go_around"
    assert not found[1].figures
    assert found[0].figures["roll"].value == pytest.approx(truth.runs[0]["roll"], rel=0.15)


def test_after_a_bounce_the_roll_counts_from_when_the_wheels_stay_down() -> None:
    truth = circuit(replace(LONG, bounce=2.0))
    true, off = truth_of(truth, "landing"), []
    for seed in range(12):
        run = one(runs_of(watch(truth, Phone(), seed)), "landing")
        if run.figures:
            off.append((run.figures["roll"].value - true["roll_last"]) / run.figures["roll"].sd)
    assert len(off) >= 6
    assert np.mean(np.abs(off) < 2.5) >= 0.9


def cut(fixes: dict[str, Array], keep: Array) -> dict[str, Array]:
    return {name: values[keep] for name, values in fixes.items()}


def test_what_cannot_be_told_is_refused_with_its_reason() -> None:
    truth = circuit(LONG)
    fixes = watch(truth, Phone(dropped=0.0), 1)
    times, left = fixes["times"], truth.runs[0]["at"]
    touched, stopped = truth.runs[1]["at"], truth.runs[1]["end"]

    def reason(keep: Array, what: str) -> str:
        return one(runs_of(cut(fixes, keep)), what).reason

    assert reason(np.abs(times - left) > 4.0, "takeoff") == "gap"
    assert reason(np.abs(times - touched) > 4.0, "landing") == "gap"
    assert reason(times > left - 3.0, "takeoff") == "begins_in_motion"
    assert reason(times < stopped - 4.0, "landing") == "ends_in_motion"
    assert reason(times < touched - 20.0, "landing") == "ends_in_motion"
    third = np.arange(len(times)) % 3 == 0
    assert reason(third, "takeoff") in ("coarse", "too_few")
    still = cut(fixes, times < truth.runs[0]["start"])
    assert runs_of(still) == []


def test_a_landing_that_taxies_on_never_stopped() -> None:
    truth = circuit(LONG)
    taxi = np.where(truth.times > truth.runs[1]["at"], np.maximum(truth.speed, 5.0), truth.speed)
    fixes = watch(replace(truth, speed=taxi), Phone(), 2)
    assert one(runs_of(fixes), "landing").reason in ("never_stopped", "ends_in_motion")


def test_a_take_off_that_is_given_up() -> None:
    t = np.arange(0.0, 80.0, 0.05)
    speed = np.interp(t, [0, 20, 32, 40, 80], [0, 0, 18, 0, 0])
    truth = Truth(t, np.cumsum(speed) * 0.05, 0 * t, 0 * t, speed)
    (run,) = runs_of(watch(truth, Phone(), 0))
    assert run.reason == "never_flew"


def test_without_speeds_positions_have_to_do_or_it_is_refused() -> None:
    truth = circuit(LONG)
    told = one(runs_of(watch(truth, Phone(tells_speed=False), 3)), "takeoff")
    assert told.reason == "too_vague" or ("no_speed", {}) in told.cautions
    coarse = one(runs_of(watch(truth, Phone(tells_speed=False, every=2.0), 3)), "takeoff")
    assert coarse.reason == "no_speed_coarse"


def test_without_heights_the_speed_alone_tells_the_moment() -> None:
    truth = circuit(LONG)
    run = one(runs_of(watch(truth, Phone(tells_height=False), 5)), "takeoff")
    assert run.reason == "too_vague" or run.figures["roll"].value == pytest.approx(
        truth.runs[0]["roll"], rel=0.2
    )
    assert "over_50ft" not in run.figures


def test_wild_readings_are_not_counted() -> None:
    truth = circuit(LONG)
    fixes = watch(truth, Phone(dropped=0.0), 6)
    calm = one(runs_of(fixes), "takeoff")
    hit = int(np.searchsorted(fixes["times"], truth.runs[0]["at"] - 3.0))
    moved = {name: values.copy() for name, values in fixes.items()}
    moved["east"][hit] += 60.0
    found = one(runs_of(moved), "takeoff")
    assert "wild" in dict(found.cautions)
    assert found.figures["roll"].value == pytest.approx(calm.figures["roll"].value, rel=0.03)


# --- the smoother ----------------------------------------------------------------------------------------


def test_the_smoother_is_least_squares() -> None:
    """Against the same Gaussian problem solved at once, with irregular times and missing readings."""
    times = np.array([0.0, 0.7, 2.0, 2.0 + 1.0, 6.5, 7.0])
    rng = np.random.default_rng(0)
    position = (5.0 * times + rng.normal(0, 1.0, 6))[None, :]
    position[0, 3] = np.nan
    speed = np.full((1, 6), np.nan)
    speed[0, [0, 4]] = 5.2, 4.7
    given = {"wander": np.array([3.0]), "wander_time": 40.0, "position_sd": np.array([0.8]), "speed_sd": 0.4}
    found = smooth(times, position, speed, **given, jerk=0.5)

    # white jerk from an exact start: x(t) = v0 t + a0 t²/2 + noise, its covariance by integration
    fine = np.linspace(0.0, 7.0, 7001)
    step = fine[1] - fine[0]
    mid = fine[:-1] + step / 2
    kernel = np.maximum(times[:, None] - mid[None, :], 0.0)
    place = kernel**2 / 2.0
    pace = kernel
    jerk = 0.5 * step
    xx, xv, vv = place @ place.T * jerk, place @ pace.T * jerk, pace @ pace.T * jerk
    v0, a0 = 40.0**2, 4.0
    xx = xx + v0 * np.outer(times, times) + a0 * np.outer(times**2, times**2) / 4
    xv = xv + v0 * np.outer(times, np.ones(6)) + a0 * np.outer(times**2, times) / 2
    vv = vv + v0 + a0 * np.outer(times, times)
    there, told = [0, 1, 2, 4, 5], [0, 4]
    wandering = covariance(times, 3.0, 40.0, 0.0) + 100.0**2
    top = (xx + wandering)[np.ix_(there, there)] + 0.8**2 * np.eye(5)
    side = xv[np.ix_(there, told)]
    low = vv[np.ix_(told, told)] + 0.4**2 * np.eye(2)
    whole = np.block([[top, side], [side.T, low]])
    offset = position[0, 0]  # the coordinates' origin is expected at the first fix
    values = np.concatenate([position[0, there] - offset, speed[0, told]])
    cross = np.concatenate([xx[:, there], xv[:, told]], axis=1)
    expected = cross @ solve(whole, values)
    expected_var = np.diag(xx - cross @ solve(whole, cross.T))
    np.testing.assert_allclose(found.distance[0], expected, atol=0.02)
    np.testing.assert_allclose(found.sd(0)[0] ** 2, expected_var, rtol=0.01, atol=0.005)


def test_axes_are_smoothed_as_if_each_were_alone() -> None:
    rng = np.random.default_rng(1)
    times = np.cumsum(rng.uniform(0.5, 1.5, 30))
    position = rng.normal(0, 3, (3, 30)).cumsum(axis=1)
    speed = np.full((3, 30), np.nan)
    speed[0] = rng.normal(2, 1, 30)
    given = {"wander_time": 60.0, "speed_sd": 0.3}
    wander_sd, new = np.array([4.0, 4.0, 6.0]), np.array([0.7, 0.7, 0.9])
    whole = smooth(times, position, speed, wander=wander_sd, position_sd=new, **given)
    for k in range(3):
        part = slice(k, k + 1)
        alone = smooth(
            times, position[part], speed[part], wander=wander_sd[part], position_sd=new[part], **given
        )
        np.testing.assert_allclose(whole.state[k], alone.state[0], rtol=1e-9, atol=1e-9)


# --- walking the strip -----------------------------------------------------------------------------------


def walk(length: float, slope: float, passes: int, seed: int, **phone: float) -> tuple[Array, ...]:
    rng = np.random.default_rng(seed)
    leg = np.concatenate([np.full(15, 0.0), np.linspace(0, 1, round(length / 1.3)), np.full(15, 1.0)])
    share = np.concatenate([leg if k % 2 == 0 else 1 - leg for k in range(passes)])
    along, times = share * length, np.arange(len(share), dtype=float)
    sd, high = phone.get("position", 4.0), phone.get("height", 6.0)
    noisy = [wander(rng, times, one, 60.0) + rng.normal(0, 0.6, len(times)) for one in (sd, sd, high)]
    speed = np.abs(np.gradient(along) + rng.normal(0, 0.25, len(times)))
    return (
        times,
        0.6 * along + noisy[0],
        0.8 * along + noisy[1],
        900.0 + slope * along + noisy[2],
        np.where(speed < 0.4, 0.0, speed),
    )


@pytest.mark.parametrize("passes", [1, 2, 4])
def test_a_walked_strip_has_a_length_with_an_honest_error(passes: int) -> None:
    found = [measure_walk(*walk(400.0, 0.01, passes, seed), Noise()) for seed in range(25)]
    assert all(one.passes == passes for one in found)
    assert all(one.bearing == pytest.approx(np.arctan2(0.6, 0.8), abs=0.05) for one in found)
    apart = np.array([(one.length.value - 400.0) / one.length.sd for one in found if one.length])
    assert len(apart) == 25
    assert np.mean(np.abs(apart) < 2.0) >= 0.88
    assert max(abs(one.length.value - 400.0) for one in found if one.length) < 24.0


def test_a_slope_is_said_only_where_the_height_can_carry_it() -> None:
    flat = [measure_walk(*walk(400.0, 0.005, 1, seed), Noise()) for seed in range(10)]
    assert all(one.slope is None and one.slope_reason == "height_vague" for one in flat)
    steep = [measure_walk(*walk(400.0, 0.09, 2, seed), Noise()) for seed in range(20)]
    told = [one.slope for one in steep if one.slope]
    assert len(told) > 10
    assert np.mean([abs(one.value - 0.09) < 2.5 * one.sd for one in told]) >= 0.9
    times, east, north, height, speed = walk(300.0, 0.05, 2, 1)
    assert (
        measure_walk(times, east, north, np.full_like(height, np.nan), speed, Noise()).slope_reason
        == "no_height"
    )


def test_a_walk_that_is_no_line_is_refused() -> None:
    t = np.arange(0.0, 400.0)
    nothing = np.full(400, np.nan)
    round_ = measure_walk(t, 80 * np.sin(t / 60), 80 * np.cos(t / 60), nothing, nothing, Noise())
    assert round_.reason == "not_straight"
    assert measure_walk(t, 0.01 * t, 0 * t, nothing, nothing, Noise()).reason == "too_short"
    assert measure_walk(t[:9], t[:9], t[:9], nothing[:9], nothing[:9], Noise()).reason == "too_few"
    times, *rest = walk(300.0, 0.0, 1, 3)
    assert measure_walk(np.where(times > 120, times + 60, times), *rest, Noise()).reason == "gap"
