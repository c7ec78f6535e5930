"""Tuning: the model against the relations it is made of, the fit against notebooks with known truth."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given as drawn_from
from hypothesis import settings
from hypothesis import strategies as st

from tussock.selftest import recovery, synthetic
from tussock.sums import power
from tussock.sums.tuning import parameters, predict, worth
from tussock.sums.tuning.fit import MOST, fit
from tussock.sums.tuning.model import KINDS, Frame, Series
from tussock.sums.tuning.model import predict as predict_kind
from tussock.sums.tuning.parameters import INDEX, NAMES

MIX = (4, 2, 3, 2, 2, 1, 1, 1, 1)


@pytest.fixture(scope="module")
def made() -> synthetic.World:
    return synthetic.world(np.random.default_rng(7), 3)


@pytest.fixture(scope="module")
def book(made: synthetic.World) -> list[Series]:
    return synthetic.notebook(np.random.default_rng(8), made, MIX)


def alone(given: dict, index: int) -> dict:
    return {name: value[[index]] for name, value in given.items()}


def one(made: synthetic.World, series: list[Series], index: int = 0) -> tuple:
    """Prior, series and frame of one of the aeroplanes alone."""
    prior = replace(made.prior, mean=made.prior.mean[[index]], root=made.prior.root[[index]])
    own = [
        replace(
            s, given={k: v[[index]] for k, v in s.given.items()}, value=s.value[[index]], sd=s.sd[[index]]
        )
        for s in series
    ]
    return prior, own, made.believed.each(lambda v: np.asarray(v)[[index]] if np.ndim(v) else v)


def air(made: synthetic.World, count: int = 4, *, landing: bool = False) -> dict:
    rng = np.random.default_rng(9)
    return synthetic.aired(synthetic.conditions(rng, made, count, landing=landing))


# --- model -----------------------------------------------------------------------------------------------


def test_the_climb_is_that_of_the_constants_written_out(made):
    """E0 = 2 pi m M0 / d, whatever torque and slope make it up."""
    given = air(made) | {"speed": np.full((3, 4), 28.0)}
    values = np.exp(made.truth)
    torque, frame = 250.0, made.frame
    slope = values[:, INDEX["thrust_constant"]] * frame.propeller_diameter / (2 * math.pi * torque)
    for i in range(3):
        thrust = power.thrust_polynomial(
            given["density"][i], given["dry_density"][i], torque, frame.torque_cutoff[i],
            frame.propeller_diameter[i], slope[i], -values[i, INDEX["propeller_intercept"]],
        )  # fmt: skip
        drag = power.drag_polynomial(
            given["density"][i], given["mass"][i], frame.wing_area[i], frame.aspect_ratio[i],
            values[i, INDEX["zero_lift_drag"]] + given["flap_drag"][i], values[i, INDEX["efficiency"]],
        )  # fmt: skip
        rate = power.climb_rate(28.0, given["mass"][i], *thrust, *drag)
        found = predict_kind("climb", made.truth[:, None, :], frame, given)[i, 0]
        assert found == pytest.approx(rate, rel=1e-12)


def test_draws_times_entries_are_one_call(made):
    """Parameters (B, K, P) and conditions (B, N) give (B, K, N), each the same as alone."""
    given = air(made) | {"speed": np.full((3, 4), 28.0)}
    u = made.truth[:, None, :] + 0.05 * np.random.default_rng(1).standard_normal((3, 5, len(NAMES)))
    for kind in KINDS:
        found = predict_kind(kind, u, made.frame, given)
        assert found.shape == (3, 5, 4)
        assert np.all(np.isfinite(found))
        last = {k: v[2:, 3:] for k, v in given.items()}
        frame = Frame(**{k: np.asarray(v)[2:] if np.ndim(v) else v for k, v in vars(made.frame).items()})
        single = predict_kind(kind, u[2:, 4:], frame, last)
        assert found[2, 4, 3] == pytest.approx(single[0, 0, 0], rel=1e-12)


#: what must lengthen or worsen a figure: (kind, parameter, sign of the change with it)
SIGNS = [
    ("roll", "static_thrust", -1), ("roll", "rolling", 1), ("roll", "lift_off", 1), ("roll", "stall", 1),
    ("away", "zero_lift_drag", 1), ("landing", "braking", -1), ("landing", "touchdown", 1),
    ("arrival", "approach", -1), ("climb", "thrust_constant", 1), ("climb", "propeller_intercept", -1),
    ("level", "zero_lift_drag", -1), ("glide", "gliding", 1), ("static", "rotation", 1), ("flow", "flow", 1),
    ("stall", "stall", 1),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "name", "sign"), SIGNS)
def test_a_parameter_pushes_the_right_way(made, kind, name, sign):
    given = air(made, landing=kind in ("landing", "arrival")) | {"speed": np.full((3, 4), 28.0)}
    more = made.truth.copy()
    more[:, INDEX[name]] += 0.1
    change = predict_kind(kind, more[:, None], made.frame, given) - predict_kind(
        kind, made.truth[:, None], made.frame, given
    )
    assert np.all(sign * change > 0.0)


def test_what_never_flies_is_far_and_no_accident(made, book):
    given = air(made) | {"mass": np.full((3, 4), 5000.0)}
    found = predict_kind("roll", made.truth[:, None], made.frame, given)
    assert np.all(found > math.log(10_000.0))
    draws = predict.draws_of(fit(made.prior, book, made.believed), 20)
    for lengths in predict.runs(draws, made.believed, given):
        assert np.all(np.isinf(lengths))


# --- fit -------------------------------------------------------------------------------------------------


def test_no_entries_leave_what_was_believed(made, book):
    prior, series, frame = one(made, book)
    found = fit(prior, [replace(s, counts=np.zeros(s.size)) for s in series], frame)
    assert found.converged.all()
    assert found.mean == pytest.approx(prior.mean, abs=1e-9)
    assert found.covariance == pytest.approx(prior.covariance, abs=1e-9)


def test_the_result_is_the_most_probable(made, book):
    """No parameter moved by a little makes the weighted posterior better."""
    prior, series, frame = one(made, book)
    found = fit(prior, series, frame)

    def cost(u: np.ndarray) -> np.ndarray:
        predicted = np.concatenate([predict_kind(s.kind, u, frame, s.given) for s in series], axis=-1)
        value = np.concatenate([s.value for s in series], axis=-1)[:, None]
        keep = (1 - found.slip) ** 2 / ((1 - found.slip) ** 2 + found.slip**2)
        data = np.sum(keep[:, None] * ((value - predicted) / found.sigma[:, None]) ** 2, axis=-1)
        z = np.linalg.solve(prior.root[0], (u - prior.mean).reshape(-1, len(NAMES)).T).T
        return data[0] + np.sum(z**2, axis=-1)

    best = cost(found.mean[:, None, :])[0]
    for direction in (1.0, -1.0):
        moved = found.mean[:, None, :] + direction * 0.5 * np.sqrt(found.covariance[0].diagonal()) * np.eye(
            len(NAMES)
        )
        assert np.all(cost(moved) > best)


def test_many_at_once_are_as_each_alone(made, book):
    together = fit(made.prior, book, made.believed)
    for i in range(3):
        own = fit(*one(made, book, i))
        assert together.mean[i] == pytest.approx(own.mean[0], abs=0.01)


def test_a_notebook_of_200_entries_takes_fewer_than_2000_evaluations(made):
    """Counted where the model is called, not where the fit says so."""
    counted = 0
    prior, series, frame = one(
        made, synthetic.notebook(np.random.default_rng(5), made, (60, 20, 50, 20, 30, 20, 10, 10, 20))
    )
    assert sum(len(s.entry) for s in series if s.kind not in ("away", "arrival")) == 200
    import tussock.sums.tuning.fit as module

    real = module.predict_all

    def counting(series, u, frame):
        nonlocal counted
        counted += u.shape[-2]
        return real(series, u, frame)

    module.predict_all = counting
    try:
        found = fit(prior, series, frame)
    finally:
        module.predict_all = real
    assert found.converged.all()
    assert counted == found.evaluations < 2000


def test_stopped_early_it_says_so(made, book):
    found = fit(*one(made, book), most=3 * (len(NAMES) + 1))
    assert not found.converged.any()
    assert found.evaluations <= 3 * (len(NAMES) + 1)
    assert MOST < 2000


@settings(max_examples=15, deadline=None)
@drawn_from(st.integers(0, 3), st.sampled_from([-1.0, 1.0]))
def test_one_gross_entry_is_named_and_moves_little(made, book, which, sign):
    prior, series, frame = one(made, book, 1)
    first = series[0]
    value = first.value.copy()
    value[:, which] += sign * math.log(3.28)
    wrong = fit(prior, [replace(first, value=value), *series[1:]], frame)
    off = np.ones(first.size)
    off[which] = 0.0
    without = fit(prior, [replace(first, counts=off), *series[1:]], frame)
    assert wrong.slip[0, which] > 0.9
    given = {k: v[[1]] for k, v in air(made).items()}
    shift = predict_kind("roll", wrong.mean[:, None], frame, given) - predict_kind(
        "roll", without.mean[:, None], frame, given
    )
    assert np.all(np.abs(shift) < 0.05)


def test_what_does_not_count_moves_nothing(made, book):
    """ "My best", however short, leaves the fit where it was."""
    prior, series, frame = one(made, book)
    first = series[0]
    counts = np.ones(first.size)
    counts[1] = 0.0
    value = first.value.copy()
    value[:, 1] -= 0.5
    usual = fit(prior, [replace(first, counts=counts), *series[1:]], frame)
    best = fit(prior, [replace(first, counts=counts, value=value), *series[1:]], frame)
    assert np.array_equal(usual.mean, best.mean)
    assert best.left_out[0, 1] < usual.left_out[0, 1]


def test_few_runs_that_agree_are_not_taken_for_a_steady_hand(made):
    """Two take-offs that fit to the metre leave nearly the scatter that was believed."""
    rng = np.random.default_rng(2)
    prior, series, frame = one(made, synthetic.notebook(rng, made, (2, 1, 1, 1, 1, 1, 0, 1, 0)))
    exact = [
        replace(s, value=predict_kind(s.kind, prior.mean[:, None], frame, s.given)[:, 0]) for s in series
    ]
    found = fit(prior, exact, frame)
    assert math.exp(found.scatter[0, 0]) > 0.75 * parameters.SCATTERS["takeoff"][1]


# --- predictions -----------------------------------------------------------------------------------------


def test_ten_thousand_draws_in_one_chain(made, book):
    prior, series, frame = one(made, book)
    draws = predict.draws_of(fit(prior, series, frame))
    given = {k: v[[0]] for k, v in air(made).items()}
    rolls, overs = predict.runs(draws, frame, given)
    assert rolls.shape == overs.shape == (1, 10_000, 4)
    edge = predict.band(overs)
    assert np.all(edge.low < edge.median)
    assert np.all(edge.median < edge.high)
    # to first order as by the whole model
    exact = predict.band(predict.runs(draws, frame, given, exact=True)[1])
    assert np.asarray(edge) == pytest.approx(np.asarray(exact), rel=0.08)
    # and the median is what the most probable constants give
    best = np.exp(predict_kind("over", draws.mean[:, None], frame, given))[:, 0]
    assert edge.median == pytest.approx(best, rel=0.02)


def test_a_band_grows_with_what_is_not_known(made, book):
    prior, series, frame = one(made, book)
    given = {k: v[[0]] for k, v in air(made).items()}

    def width(found, more=0.0):
        edge = predict.band(
            predict.runs(predict.widened(predict.draws_of(found, 4000), more), frame, given)[0]
        )
        return np.log(edge.high / edge.low)

    none = fit(prior, [replace(s, counts=np.zeros(s.size)) for s in series], frame)
    tuned = fit(prior, series, frame)
    assert np.all(width(tuned) < 0.8 * width(none))
    assert np.all(width(tuned, 0.1) > 1.1 * width(tuned))


def test_inf_is_longer_than_all():
    values = np.array([[1.0], [2.0], [np.inf], [np.inf]])
    edge = predict.band(values)
    assert edge.low[0] == 1.0
    assert np.isinf(edge.high[0])


def test_the_worth_of_a_measurement_is_what_it_brings(made, book):
    """The promised narrowing is that of a fit with the new entry in it, whatever it reads."""
    prior, series, frame = one(made, book)
    found = fit(prior, series, frame)
    given = {k: v[[0], :1] for k, v in air(made).items()}
    target = Series("roll", given, np.zeros((1, 1)), np.zeros(1), np.zeros(1), np.ones(1))
    extra = replace(series[0], given={k: v[:, :1] for k, v in series[0].given.items()},
                    value=series[0].value[:, :1], sd=np.full((1, 1), 0.02), doubt=np.full(1, 0.01),
                    counts=np.ones(1))  # fmt: skip
    level = next(s for s in series if s.kind == "level")
    gains = worth.narrowing(found, frame, target, [extra, replace(level, sd=0.01 * np.ones((1, 1)))])
    assert gains.shape == (2,)
    assert gains[0] > gains[1] > 0.0
    slope = []
    for i in range(len(NAMES)):
        step = found.mean.copy()
        step[0, i] += 1e-4
        slope.append((predict_kind("roll", step[:, None], frame, given)
                      - predict_kind("roll", found.mean[:, None], frame, given))[0, 0, 0] / 1e-4)  # fmt: skip
    chance = math.exp(2 * found.scatter[0, 0])
    extra = replace(extra, value=predict_kind("roll", found.mean[:, None], frame, extra.given)[:, 0])
    after = fit(prior, [*series, extra], frame)
    before_band = np.sqrt(slope @ found.covariance[0] @ slope + chance)
    after_band = np.sqrt(slope @ after.covariance[0] @ slope + chance)
    assert 1 - after_band / before_band == pytest.approx(gains[0], rel=0.25)


# --- recovery --------------------------------------------------------------------------------------------


def test_known_aeroplanes_are_found_again():
    """A fifth of the self-test: with so few the coverage is told to about two points (one sigma)."""
    found = recovery.recovery(100)
    assert set(found) == {"coverage90", "bias", "outlier_shift", "aeroplanes", "details"}
    assert found["aeroplanes"] == 100
    for size in ("6", "12", "40"):
        assert 0.84 <= found["coverage90"][size] <= 0.96
        assert abs(found["bias"][size]) < 0.03
        assert found["details"][size]["converged"] >= 0.97
    assert found["outlier_shift"] < 0.05
    assert "90 % band" in recovery.table(found)
