"""Constant-speed propellers tuned to a notebook: the model, the fit against known truth, and the answers."""

from __future__ import annotations

import copy
import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock import cli
from tussock.questions.answer import RANK
from tussock.selftest import recovery, synthetic
from tussock.sums import power
from tussock.sums.air import RHO0
from tussock.sums.governor import governed_level_speed, governed_thrust
from tussock.sums.tuning import parameters, predict
from tussock.sums.tuning.fit import fit
from tussock.sums.tuning.model import KINDS
from tussock.sums.tuning.model import predict as predict_kind
from tussock.sums.tuning.parameters import CLASS_CURVE, INDEX, NAMES

from .test_tuned_answers import LEG, answer, ask, demo, document, entries, leg, lengthen, measure, without
from .test_tuning import air, one

MIX = (4, 2, 3, 2, 2, 1, 1, 1, 0)
POWER, LEAN = INDEX["thrust_constant"], INDEX["propeller_intercept"]


@pytest.fixture(scope="module")
def made() -> synthetic.World:
    return synthetic.world(np.random.default_rng(7), 3, governed=True)


@pytest.fixture(scope="module")
def book(made: synthetic.World) -> list[Any]:
    return synthetic.notebook(np.random.default_rng(8), made, MIX)


# --- model -----------------------------------------------------------------------------------------------


def written_out(made: synthetic.World, given: dict[str, Any], i: int) -> tuple[Any, Any, dict[str, Any]]:
    """Drag, and what `governed_thrust` takes, of one aeroplane with its power scaled and its curve leant."""
    u, frame = np.exp(made.truth[i]), made.frame
    assert frame.governor is not None
    points, peak = frame.governor.points, frame.governor.peak
    values = frame.governor.values[i] * u[LEAN] ** (1.0 - points / peak)
    fall = power.torque_falloff(given["dry_density"][i] / RHO0, frame.torque_cutoff[i])
    drag = power.drag_polynomial(
        given["density"][i], given["mass"][i], frame.wing_area[i], frame.aspect_ratio[i],
        u[INDEX["zero_lift_drag"]] + given["flap_drag"][i], u[INDEX["efficiency"]],
    )  # fmt: skip
    propeller = {
        "power": u[POWER] * fall,
        "rotation": np.asarray(frame.governor.rotation)[i],
        "propeller_diameter": frame.propeller_diameter[i],
        "table_advance": points,
        "table_efficiency": values,
    }
    return u, drag, propeller


def test_climb_and_level_speed_are_those_of_the_sums(made):
    """At a point of the curve the lean is there in full; in between the two bend by less than 2 %."""
    for i in range(3):
        assert made.frame.governor is not None
        turned = np.asarray(made.frame.governor.rotation)[i] * made.frame.propeller_diameter[i]
        speed = 0.4 * turned
        given_ = air(made) | {"speed": np.full((3, 4), speed)}
        _, drag, propeller = written_out(made, given_, i)
        thrust = governed_thrust(speed, **propeller)
        rate = power.climb_rate_from_thrust(speed, given_["mass"][i], thrust, *drag)
        found = predict_kind("climb", made.truth[:, None, :], made.frame, given_)[i, 0]
        assert found == pytest.approx(rate, rel=1e-9)
        most = governed_level_speed(**propeller, drag_square=drag[0], drag_inverse=drag[1])
        level = np.exp(predict_kind("level", made.truth[:, None, :], made.frame, given_)[i, 0])
        assert level == pytest.approx(most, rel=0.005)


def test_a_level_run_at_another_rotation_has_the_power_of_that(made):
    given_ = air(made)
    full = predict_kind("level", made.truth[:, None], made.frame, given_)
    slower = predict_kind(
        "level", made.truth[:, None], made.frame, given_ | {"turning": np.full((3, 4), 40.0)}
    )
    assert np.all(slower < full - 0.01)


def test_draws_times_entries_are_one_call(made):
    given_ = air(made) | {"speed": np.full((3, 4), 30.0)}
    u = made.truth[:, None, :] + 0.05 * np.random.default_rng(1).standard_normal((3, 5, len(NAMES)))
    for kind in KINDS:
        found = predict_kind(kind, u, made.frame, given_)
        assert found.shape == (3, 5, 4)
        assert np.all(np.isfinite(found))
        last = {k: v[2:, 3:] for k, v in given_.items()}
        single = predict_kind(
            kind, u[2:, 4:], made.frame.each(lambda v: np.asarray(v)[2:] if np.ndim(v) else v), last
        )
        # the lean is round the peak of the mean curve, which is another one for one curve alone
        assert found[2, 4, 3] == pytest.approx(single[0, 0, 0], rel=0.02)


SIGNS = [
    ("roll", "static_thrust", -1), ("roll", "thrust_constant", -1), ("roll", "propeller_intercept", -1),
    ("away", "thrust_constant", -1), ("climb", "thrust_constant", 1), ("climb", "propeller_intercept", 1),
    ("level", "thrust_constant", 1), ("level", "zero_lift_drag", -1),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "name", "sign"), SIGNS)
def test_a_parameter_pushes_the_right_way(made, kind, name, sign):
    # with much static thrust, so that the thrust of flight bends the roll
    strong = made.truth.copy()
    strong[:, INDEX["static_thrust"]] += 0.5 * (kind == "roll" and name != "static_thrust")
    given_ = air(made) | {"speed": np.full((3, 4), 30.0)}
    more = strong.copy()
    more[:, INDEX[name]] += 0.1
    change = predict_kind(kind, more[:, None], made.frame, given_) - predict_kind(
        kind, strong[:, None], made.frame, given_
    )
    assert np.all(sign * change > 0.0)


# --- fit -------------------------------------------------------------------------------------------------


def test_a_notebook_of_200_entries_takes_fewer_than_2000_evaluations(made):
    prior, series, frame = one(
        made, synthetic.notebook(np.random.default_rng(5), made, (70, 20, 60, 20, 30, 20, 10, 10, 0))
    )
    assert sum(len(s.entry) for s in series if s.kind not in ("away", "arrival")) == 200
    found = fit(prior, series, frame)
    assert found.converged.all()
    assert found.evaluations < 2000
    spread = np.sqrt(np.diagonal(found.covariance[0]))
    assert abs(found.mean[0, POWER] - made.truth[0, POWER]) < 4.0 * spread[POWER]
    assert spread[POWER] < 0.6 * np.sqrt(prior.covariance[0, POWER, POWER])


def test_ten_thousand_draws_in_one_chain(made, book):
    prior, series, frame = one(made, book)
    draws = predict.draws_of(fit(prior, series, frame))
    given_ = {k: v[[0]] for k, v in air(made).items()}
    rolls, overs = predict.runs(draws, frame, given_)
    assert rolls.shape == overs.shape == (1, 10_000, 4)
    edge = predict.band(overs)
    exact = predict.band(predict.runs(draws, frame, given_, exact=True)[1])
    assert np.asarray(edge) == pytest.approx(np.asarray(exact), rel=0.08)


def test_static_thrust_goes_with_the_power_beforehand(made):
    covariance = made.prior.covariance[0]
    slope = covariance[INDEX["static_thrust"], POWER] / covariance[POWER, POWER]
    assert slope == pytest.approx(2.0 / 3.0)
    assert covariance[INDEX["static_thrust"], INDEX["rotation"]] == 0.0


def test_known_aeroplanes_are_found_again():
    """Fifty of them, in two sizes: coverage is good to some 3 points, of both to 2 (one sigma)."""
    found = recovery.recovery(50, governed=True, sizes=(6, 40))
    assert found["aeroplanes"] == 50
    covered = list(found["coverage90"].values())
    assert all(0.82 <= part <= 0.97 for part in covered)
    assert 0.85 <= float(np.mean(covered)) <= 0.95
    for size, part in found["details"].items():
        assert abs(found["bias"][size]) < 0.03
        assert part["converged"] >= 0.96
        # the safe side: what is longer than the upper end
        assert part["over_50ft_above"] <= 0.09
    assert found["outlier_shift"] < 0.05


def test_the_self_test_takes_governed_propellers_apart(capsys, monkeypatch):
    asked: list[dict[str, Any]] = []
    few = {"coverage90": {"6": 0.9}, "bias": {"6": 0.0}, "outlier_shift": 0.0, "aeroplanes": 5}

    def recorded(**more: Any) -> dict[str, Any]:
        asked.append(more)
        return few

    monkeypatch.setattr(recovery, "recovery", recorded)
    assert cli.main(["tune", "--selftest", "--governed", "--json"]) == 0
    assert cli.main(["tune", "--selftest", "--json"]) == 0
    assert asked == [{"governed": True}, {}]
    assert json.loads(capsys.readouterr().out.splitlines()[0])["aeroplanes"] == 5


# --- answers ---------------------------------------------------------------------------------------------


def figure(value: float, origin: str = "book") -> dict[str, Any]:
    return {"value": value, "origin": origin}


def governed(curve: Any = CLASS_CURVE) -> dict[str, Any]:
    """The demo with its propeller changed: about as much thrust in the climb as it has with the fixed one."""
    bundle = demo()
    plane = document(bundle, "dabchick")
    plane["engine"]["rated_power"] = figure(60e3)
    plane["propeller"] = {
        "pitch_is": "constant_speed",
        "diameter": figure(1.9),
        "rotation_limit": figure(45.0),
        "efficiency": [{"advance_ratio": j, "efficiency": e} for j, e in zip(*curve, strict=True)],
    }
    del plane["run_up"]
    return bundle


def alone(bundle: dict[str, Any]) -> dict[str, Any]:
    """With the constants and the notebook for all its sources."""
    plane = document(bundle, "dabchick")
    plane["prefer"] = {}
    plane["performance"] = [s for s in plane["performance"] if s["source"] == "constants"]
    return bundle


def test_it_is_tuned():
    told = ask("tune", governed())
    assert told["usable"]
    assert told["converged"]
    assert told["evaluations"] < 2000
    by_name = {one["name"]: one for one in told["constants"]}
    assert by_name["useful_power"]["told"] > 0.2
    assert by_name["useful_power"]["unit"] == "W"
    assert by_name["static_thrust"]["told"] > 0.2
    assert not {"thrust_constant", "propeller_intercept", "rotation"} & set(by_name)
    # the held rotation is 45 of the 45.8 that the power is told for
    assert by_name["useful_power"]["prior"] == pytest.approx(60e3 * 45.0 / (2750.0 / 60.0))
    assert all(one["kind"] != "static" for one in told["next"])
    # constants have no place for it, and half of what was learned would be none
    assert told["source"] is None
    assert {"tune.assumed.governed"} <= {one["text"] for one in told["assumed"]}


def test_its_distances_and_climb_show_bands():
    told = leg(governed())
    for question, name in (
        ("lifts_off", "takeoff_distance"), ("stops", "landing_distance"), ("climbs_out", "gradient"),
    ):  # fmt: skip
        band = measure(told, question, name)["band"]
        assert band["low"] < band["median"] < band["high"]


@settings(max_examples=8, deadline=None)
@given(st.floats(0.6, 2.2), st.sampled_from([LEG, "to-larkfield", "to-saltpan"]), st.booleans())
def test_nothing_gets_better_by_its_notebook(factor, name, sources):
    dressed = alone if sources else (lambda bundle: bundle)
    with_it = leg(dressed(lengthen(governed(), factor)), name)
    bare = leg(dressed(without(governed())), name)
    for one_, other in zip(with_it["answers"], bare["answers"], strict=True):
        assert RANK[one_["verdict"]] <= RANK[other["verdict"]]


def test_a_static_rotation_is_told_and_not_used():
    bundle = governed()
    entry = {
        "what": "static", "id": "s1", "at": "2026-11-01T09:00:00+00:00", "configuration": "shelf-out",
        "pressure_altitude": 1250.0, "temperature": 285.0, "rotation": {"value": 45.0, "origin": "measured"},
    }  # fmt: skip
    before = ask("tune", bundle)
    entries(bundle).append(entry)
    told = ask("tune", bundle)
    assert ("s1", "tune.left.governed") in {(o["entry"], o["reason"]["text"]) for o in told["left_out"]}
    assert told["constants"] == before["constants"]


def test_a_level_run_counts_at_the_rotation_that_was_noted():
    bundle = governed()
    noted = ask("tune", bundle)
    level = next(e for e in entries(bundle) if e["what"] == "level")
    level["rotation"] = figure(40.0, "measured")
    slower = ask("tune", bundle)

    def of(told: dict[str, Any], name: str) -> float:
        return float(next(one["value"] for one in told["constants"] if one["name"] == name))

    # as fast with less rotation: it has more power than that
    assert of(slower, "useful_power") > 1.01 * of(noted, "useful_power")


def cut(low: float, high: float) -> Any:
    kept = [(j, e) for j, e in zip(*CLASS_CURVE, strict=True) if low <= j <= high]
    return [j for j, _ in kept], [e for _, e in kept]


def test_beyond_its_curve_nothing_is_taken_or_said():
    """Level runs beyond it are left out; a curve that begins above lift-off tells no take-off or climb."""
    short = ask("tune", governed(cut(0.0, 0.5)))
    assert {"level"} == {
        o["what"] for o in short["left_out"] if o["reason"]["text"] == "tune.left.outside_curve"
    }
    late = governed(cut(0.4, 1.4))
    out = ask("tune", late)["left_out"]
    assert {"takeoff", "climb"} <= {
        o["what"] for o in out if o["reason"]["text"] == "tune.left.outside_curve"
    }
    told = leg(alone(late))
    for question in ("lifts_off", "climbs_out"):
        assert answer(told, question)["verdict"] == "can't say"


def test_a_climb_faster_than_the_curve_goes_is_not_told():
    bundle = alone(governed(cut(0.0, 0.5)))
    document(bundle, "dabchick")["performance"] = []
    for flap in document(bundle, "dabchick")["flaps"]:
        flap["climb_speed"] = figure(45.0)
    told = answer(leg(bundle), "climbs_out")
    assert told["verdict"] == "can't say"
    assert "reason.outside_curve" in json.dumps(told)


#: what its thrust rests on: where it is, and what is left of it
NEEDED = [("engine", "rated_power"), ("engine", "rated_rotation"), ("propeller", "diameter"),
          ("propeller", "efficiency"), ("wing", "area"), ("wing", "span")]  # fmt: skip


@pytest.mark.parametrize(("part", "name"), NEEDED)
@pytest.mark.parametrize("constants", [True, False])
def test_no_yes_without_what_it_rests_on(part, name, constants):
    bundle = alone(governed())
    plane = document(bundle, "dabchick")
    if not constants:
        plane["performance"] = []
    del plane[part][name]
    told = leg(bundle)
    for question in ("lifts_off", "climbs_out"):
        assert answer(told, question)["verdict"] in ("can't say", "no", "tight")
        if (part, name) != ("propeller", "efficiency"):
            assert answer(told, question)["verdict"] == "can't say"


def test_a_curve_of_the_class_is_a_guess_and_no_bare_yes():
    """With the constants of the document alone it can't say; with the notebook never more than tight."""
    bundle = governed()
    plane = document(bundle, "dabchick")
    del plane["propeller"]["efficiency"]
    told = ask("tune", bundle)
    assert told["usable"]
    assert "tune.assumed.curve" in {one["text"] for one in told["assumed"]}
    wide = {one["name"]: one["prior_sd"] / one["prior"] for one in told["constants"]}
    known = {one["name"]: one["prior_sd"] / one["prior"] for one in ask("tune", governed())["constants"]}
    assert wide["useful_power"] > 1.1 * known["useful_power"]
    plane["prefer"] = {}
    assert answer(leg(bundle), "lifts_off")["verdict"] != "yes"


@pytest.mark.parametrize("curve", [([0.2, 0.2], [0.5, 0.6]), ([0.0, 0.5], [0.6, 0.0])])
def test_a_curve_that_is_none_is_told(curve):
    told = ask("tune", governed(curve))
    assert [one["text"] for one in told["reasons"]] == ["reason.curve_unusable"]


def test_single_entries_bear_nothing():
    bundle = governed()
    book = document(bundle, "dabchick-notebook")
    book["entries"] = [e for e in book["entries"] if e["id"] in ("n1", "n3", "n6")]
    for entry in book["entries"]:
        if "surface" in entry:
            entry["surface"] = "earth_dry"
    plane = document(bundle, "dabchick")
    plane["prefer"], plane["performance"] = {}, []
    told = leg(bundle)
    for question in ("lifts_off", "climbs_out", "stops"):
        assert answer(told, question)["verdict"] == "can't say"
        assert "reason.too_few_noted" in json.dumps(answer(told, question))


def test_without_a_climb_speed_the_fastest_climb_is_searched_for():
    bundle = without(alone(governed()))
    plane = document(bundle, "dabchick")
    for flap in plane["flaps"]:
        del flap["climb_speed"]
    steps = [s["relation"] for s in answer(leg(bundle), "climbs_out")["working"]]
    assert "governed_best_rate_speed" in steps
    plane["propeller"]["efficiency"] = plane["propeller"]["efficiency"][:3]
    told = answer(leg(bundle), "climbs_out")
    assert told["verdict"] == "can't say"
    assert "reason.outside_curve" in json.dumps(told)


# --- what if, command line -------------------------------------------------------------------------------


def variant(changes: dict[str, Any], bundle: dict[str, Any] | None = None) -> dict[str, Any]:
    return dict(ask("what_if", bundle or governed(), aeroplane="dabchick", changes=changes, id="other"))


def test_a_variant_flies_with_the_curve_that_the_notebook_shows():
    bundle = governed()
    tuned = {one["name"]: one["value"] for one in ask("tune", bundle)["constants"]}
    made = variant({"tyres": {"mass": 1.0, "arm": 0.1, "rolling": 1.1}}, bundle)["document"]
    points = {p["advance_ratio"]: p["efficiency"] for p in made["propeller"]["efficiency"]}
    whole = tuned["useful_power"] / (60e3 * 45.0 / (2750.0 / 60.0))
    assert points[1.0] == pytest.approx(whole * 0.84)
    assert points[0.5] == pytest.approx(whole * 0.68 * tuned["curve_lean"] ** 0.5)
    source = next(s for s in made["performance"] if s["source"] == "constants")
    assert source["static_thrust"]["value"] == pytest.approx(tuned["static_thrust"])
    assert source["static_thrust"]["origin"] == "estimated"


def test_more_power_is_more_thrust_in_flight_and_less_so_at_rest():
    same = variant({"engine": {"mass": 0.0}})["document"]
    more = variant({"engine": {"power": 72e3, "mass": 0.0, "flow": 1.2}})
    assert [one["text"] for one in more["told"]] == ["what_if.power"]
    assert more["told"][0]["values"]["factor"] == pytest.approx(1.2)
    static = [
        next(s for s in d["performance"] if s["source"] == "constants")["static_thrust"]["value"]
        for d in (same, more["document"])
    ]
    assert static[1] / static[0] == pytest.approx(1.2 ** (2 / 3))
    assert more["document"]["engine"]["rated_power"]["value"] == 72e3


def test_a_change_that_cannot_be_told_leaves_no_thrust():
    made = variant({"propeller": {"diameter": 1.8}})
    assert "what_if.no_curves" in [one["text"] for one in made["missing"]]
    assert "efficiency" not in made["document"]["propeller"]


def test_on_the_command_line(tmp_path, capsys):
    file = tmp_path / "governed.json"
    file.write_text(json.dumps(governed()), encoding="utf-8")
    assert cli.main(["tune", str(file)]) == 0
    said = capsys.readouterr().out
    assert "power as the propeller's curve makes thrust of it" in said
    assert "thrust constant" not in said


def test_many_curves_are_picked_with_their_aeroplanes(made):
    picked = made.frame.each(lambda v: np.asarray(v)[[1]] if np.ndim(v) else v)
    assert picked.governor is not None
    assert made.frame.governor is not None
    assert picked.governor.values.shape == (1, len(CLASS_CURVE[0]))
    assert np.array_equal(picked.governor.values[0], made.frame.governor.values[1])
    spread = made.frame.spread()
    assert spread.governor is not None
    assert spread.governor.values.shape == (3, 1, 1, len(CLASS_CURVE[0]))
    assert math.isfinite(parameters.GOVERNED["thrust_constant"][3])
    assert replace(made.frame, governor=None).each(lambda v: v).governor is None
    assert copy.copy(made).truth is made.truth
