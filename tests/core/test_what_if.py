"""What if: a propeller by its coefficients, and variants that never look better known than they are."""

from __future__ import annotations

import json
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from tussock.api import handle
from tussock.questions.answer import RANK
from tussock.sums.air import RHO0
from tussock.sums.blades import blade_thrust

from .broadcasting import assert_broadcasts
from .test_tuned_answers import LEG, answer, ask, demo, document, leg, without

J = [0.0, 0.2, 0.4, 0.6, 0.8, 1.0]
CT = [0.11, 0.105, 0.09, 0.065, 0.035, 0.0]
CP = [0.050, 0.052, 0.050, 0.044, 0.033, 0.018]
TABLES = {"table_advance": J, "table_thrust": CT, "table_power": CP}
BASE = {"density": RHO0, "torque": 250.0, "propeller_diameter": 1.9, "rotation_limit": 60.0}
BLADES = [
    {"advance_ratio": j, "thrust_coefficient": t, "power_coefficient": p}
    for j, t, p in zip(J, CT, CP, strict=True)
]


# --- the propeller ---------------------------------------------------------------------------------------


@given(st.floats(0.0, 50.0), st.floats(150.0, 400.0), st.floats(0.8, 1.3))
def test_it_turns_where_torque_is_torque(speed, torque, density):
    found = blade_thrust(speed, density, torque, 1.9, 60.0, J, CT, CP)

    def short(n: float) -> float:
        return float(np.interp(speed / (n * 1.9), J, CP)) * density * n**2 * 1.9**5 / (2 * math.pi) - torque

    n = brentq(short, 5.0, 120.0)
    if n > 60.0:
        n = 60.0
    if speed / (n * 1.9) > J[-1]:
        assert math.isnan(found.thrust)
        return
    assert found.rotation == pytest.approx(n, rel=1e-4)
    by_hand = float(np.interp(speed / (n * 1.9), J, CT)) * density * n**2 * 1.9**4
    assert found.thrust == pytest.approx(by_hand, rel=2e-3, abs=0.5)


def test_the_limit_holds_it_back():
    free = blade_thrust(40.0, **BASE, **TABLES)
    held = blade_thrust(40.0, **BASE | {"rotation_limit": 30.0}, **TABLES)
    assert free.rotation > 30.0
    assert held.rotation == 30.0
    assert held.thrust < free.thrust


@pytest.mark.parametrize(
    "tables",
    [
        TABLES | {"table_advance": [0.0, 0.1]},
        TABLES | {"table_advance": J[::-1]},
        TABLES | {"table_power": [0.0] * 6},
        {"table_advance": [0.1], "table_thrust": [0.1], "table_power": [0.05]},
    ],
)
def test_curves_that_are_none_say_nothing(tables):
    assert math.isnan(blade_thrust(20.0, **BASE, **tables).thrust)


def test_beyond_the_curves_nothing_is_said():
    assert math.isnan(blade_thrust(140.0, **BASE, **TABLES).thrust)
    short = {name: values[1:] for name, values in TABLES.items()}
    assert math.isnan(blade_thrust(0.0, **BASE, **short).thrust)


def test_it_broadcasts():
    assert_broadcasts(blade_thrust, **BASE, true_airspeed=30.0, **TABLES)


# --- variants --------------------------------------------------------------------------------------------


def varied(changes: dict[str, Any], bundle: dict[str, Any] | None = None) -> Any:
    return ask("what_if", bundle or demo(), aeroplane="dabchick", configuration="shelf-out", changes=changes)


def flown(made: dict[str, Any]) -> dict[str, Any]:
    """The demo's leg with the variant in place of the aeroplane."""
    bundle = demo()
    bundle["documents"].append(made["document"])
    trip = next(d for d in bundle["documents"] if d["kind"] == "trip")
    for one in trip["legs"]:
        if one["id"] == LEG:
            one["aeroplane"] = made["document"]["id"]
    return leg(bundle)


def source(made: dict[str, Any]) -> dict[str, Any]:
    return made["document"]["performance"][0]


def needed(told: dict[str, Any]) -> float:
    return next(m for m in answer(told, "lifts_off")["measures"] if m["name"] == "takeoff_distance")["needed"]


def test_the_original_stays_and_the_variant_stands_beside_it():
    bundle = demo()
    made = varied({"tyres": {"rolling": 1.2}}, bundle)
    assert made["document"]["variant_of"] == "dabchick"
    assert bundle == demo()
    assert [s["source"] for s in made["document"]["performance"]] == ["constants"]
    assert "prefer" not in made["document"]


def test_a_stronger_engine_shortens_the_run_and_knows_less():
    weak, strong = (
        varied({"engine": {"power": 74_570.0 * 0.9}}),
        varied({"engine": {"power": 74_570.0 * 1.2}}),
    )
    assert needed(flown(strong)) < needed(flown(weak))
    tuned = ask("tune", demo())["source"]["static_thrust"]
    more = source(strong)["static_thrust"]
    assert more["value"] == pytest.approx(1.2 * tuned["value"])
    assert more["sd"] / more["value"] > tuned["sd"] / tuned["value"]
    assert more["origin"] == "estimated"


@settings(max_examples=8, deadline=None)
@given(st.floats(0.8, 1.6), st.floats(0.5, 1.5))
def test_a_variant_is_never_a_bare_yes(power, rolling):
    told = flown(varied({"engine": {"power": 74_570.0 * power}, "tyres": {"rolling": rolling}}))
    for question in ("lifts_off", "climbs_out", "stops"):
        assert RANK[answer(told, question)["verdict"]] < RANK["yes"]


def test_a_propeller_without_curves_or_limit_cannot_be_said():
    for lacking in ({}, {"diameter": 1.8}, {"diameter": 1.8, "rotation_limit": 45.0}, {"blades": BLADES}):
        made = varied({"propeller": lacking})
        assert "what_if.no_curves" in [one["text"] for one in made["missing"]]
        assert answer(flown(made), "lifts_off")["verdict"] == "can't say"
        assert "static_thrust" not in source(made)


def test_a_propeller_with_curves_is_told_by_them():
    change = {"diameter": 1.9, "rotation_limit": 46.0, "blades": BLADES}
    made = varied({"propeller": change})
    assert [one["text"] for one in made["missing"]] == ["what_if.no_mass"]
    torque = source(made)["rated_torque"]["value"]
    still = blade_thrust(0.0, RHO0, torque, 1.9, 46.0, J, CT, CP)
    assert source(made)["static_thrust"]["value"] == pytest.approx(float(still.thrust))
    assert "run_up" not in made["document"]
    # in flight the polar goes through the curves where it was laid
    parts = source(made)
    constant = 2 * math.pi * parts["propeller_slope"]["value"] * torque / 1.9
    for speed in (28.0, 42.0):
        by_curve = blade_thrust(speed, RHO0, torque, 1.9, 46.0, J, CT, CP).thrust
        square = RHO0 * 1.9**2 * parts["propeller_intercept"]["value"]
        assert constant + square * speed**2 == pytest.approx(float(by_curve))
    assert needed(flown(made)) > 0


def test_curves_that_do_not_reach_cannot_be_said():
    made = varied({"propeller": {"diameter": 1.9, "rotation_limit": 46.0, "blades": BLADES[:2]}})
    assert "what_if.outside_curves" in [one["text"] for one in made["missing"]]


def rated(bundle: dict[str, Any], name: str = "dabchick") -> tuple[float, float, float]:
    """Power, rotation, and the static rotation of its run-up baseline."""
    plane = document(bundle, name)
    power, rotation = (plane["engine"][f"rated_{one}"]["value"] for one in ("power", "rotation"))
    return power, rotation, plane["run_up"]["rotation"]["value"] if "run_up" in plane else math.nan


def unsaid(made: dict[str, Any], text: str) -> None:
    assert text in [one["text"] for one in made["missing"]]
    assert "static_thrust" not in source(made)
    assert answer(flown(made), "lifts_off")["verdict"] == "can't say"


def test_an_engine_that_turns_slower_than_its_propeller_would_cannot_be_said():
    """The same power at fewer turns is more torque: the same propeller would turn faster on it."""
    power, rotation, still = rated(demo())
    at = (still**2 * rotation) ** (1 / 3)  # where the root of the torque brings it to the new rated rotation
    well = varied({"engine": {"rotation": 1.01 * at, "mass": 0.0, "arm": 0.0}})
    assert well["missing"] == []
    unsaid(varied({"engine": {"rotation": 0.99 * at, "mass": 0.0, "arm": 0.0}}), "what_if.turns_too_fast")
    # the propeller may hold it back first
    bundle = demo()
    document(bundle, "dabchick")["propeller"]["rotation_limit"] = {"value": 1.02 * still, "origin": "book"}
    for factor, lacks in ((1.03, []), (1.05, ["what_if.turns_too_fast"])):
        made = varied({"engine": {"power": factor * power, "mass": 0.0, "arm": 0.0}}, bundle)
        assert [one["text"] for one in made["missing"]] == lacks


def test_without_a_run_up_baseline_the_usual_static_rotation_counts():
    bundle = demo()
    document(bundle, "dabchick").pop("run_up")
    _, rotation, _ = rated(bundle)
    at = (0.86 * rotation) ** (2 / 3) * rotation ** (1 / 3)
    for factor, lacks in ((1.01, []), (0.99, ["what_if.turns_too_fast"])):
        made = varied({"engine": {"rotation": factor * at, "mass": 0.0, "arm": 0.0}}, bundle)
        assert [one["text"] for one in made["missing"]] == lacks


def test_far_more_power_on_the_same_propeller_cannot_be_said():
    power, rotation, _ = rated(demo())
    change = {"power": 1.52 * power, "rotation": 1.4 * rotation, "mass": 0.0, "arm": 0.0}
    unsaid(varied({"engine": change}), "what_if.too_much_power")
    assert varied({"engine": change | {"power": 1.48 * power}})["missing"] == []
    # another propeller is told by its own curves
    blades = {"diameter": 1.9, "rotation_limit": 46.0, "blades": BLADES, "mass": 0.0, "arm": 0.0}
    assert varied({"engine": change, "propeller": blades})["missing"] == []


def test_mass_goes_where_its_arm_is():
    made = varied({"engine": {"mass": 12.0, "arm": -0.8}})
    rig = next(c for c in made["document"]["configurations"] if c.get("weighing"))
    assert rig["changes"][-1]["mass"]["value"] == 12.0
    assert "what_if.no_arm" in [one["text"] for one in varied({"engine": {"mass": 12.0}})["missing"]]


def test_tanks_and_flow():
    made = varied({"tanks": {"tank": "main", "usable": 0.12}, "engine": {"flow": 1.2}})
    assert made["document"]["tanks"][0]["usable"]["value"] == 0.12
    before = document(demo(), "dabchick")["cruises"][0]["flow"]["value"]
    assert made["document"]["cruises"][0]["flow"]["value"] == pytest.approx(1.2 * before)
    assert varied({"tanks": {"usable": 0.1}})["missing"]


def test_a_stronger_engine_drinks_more_when_nobody_told_how_much():
    before = document(demo(), "dabchick")["cruises"][0]["flow"]["value"]
    power = document(demo(), "dabchick")["engine"]["rated_power"]["value"]
    for factor, taken in ((1.2, 1.2), (0.8, 1.0)):
        made = varied({"engine": {"power": factor * power, "mass": 0.0, "arm": 0.0}})
        assert made["document"]["cruises"][0]["flow"]["value"] == pytest.approx(taken * before)
        assert "what_if.no_flow" in [one["text"] for one in made["told"]]
    assert "what_if.no_flow" not in [one["text"] for one in varied({"tyres": {"rolling": 1.2}})["told"]]


def test_without_constants_it_says_so():
    bundle = without(demo())
    plane = document(bundle, "dabchick")
    plane["prefer"] = {}
    plane["performance"] = [s for s in plane["performance"] if s["source"] != "constants"]
    made = varied({"engine": {"power": 80e3}}, bundle)
    assert "what_if.no_constants" in [one["text"] for one in made["missing"]]
    assert made["document"]["performance"] == []


@pytest.mark.parametrize(
    "changes",
    [None, [], {"wings": {}}, {"engine": 1}, {"engine": {"power": "80"}}, {"engine": {"power": True}},
     {"engine": {"power": -1.0}}, {"propeller": {"blades": [{"advance_ratio": 0.1}]}}],
)  # fmt: skip
def test_what_is_no_change_is_refused(changes):
    given = {**demo(), "aeroplane": "dabchick", "changes": changes}
    assert "error" in json.loads(handle("what_if", json.dumps(given)))


def test_what_nobody_measured_of_the_changed_one_is_no_bare_yes():
    """Its mass where that is not told, and cruises and flows of the engine that is gone."""
    bundle = demo()
    power = document(bundle, "dabchick")["engine"]["rated_power"]["value"]
    made = ask(
        "what_if", bundle, aeroplane="dabchick", id="other", changes={"engine": {"power": 1.05 * power}}
    )
    assert "what_if.no_mass" in [one["text"] for one in made["missing"]]
    plane = made["document"]
    assert "run_up" not in plane
    assert {cruise[name]["origin"] for cruise in plane["cruises"] for name in ("speed", "flow")} == {
        "estimated"
    }
    bundle["documents"].append(plane)
    week = document(bundle, "week")
    flown = next(one for one in week["legs"] if one["id"] == LEG)
    before = leg(bundle)
    flown["aeroplane"] = "other"
    after = leg(bundle)
    assert answer(before, "balances")["verdict"] == answer(before, "reaches")["verdict"] == "yes"
    for question in ("balances", "lifts_off", "climbs_out", "reaches", "stops"):
        assert RANK[answer(after, question)["verdict"]] <= RANK["tight"], question
    told = ask("what_if", bundle, aeroplane="dabchick", id="b",
               changes={"engine": {"power": power, "mass": 0.0, "arm": 0.0}})  # fmt: skip
    assert told["missing"] == []


def test_where_nothing_but_mass_changes_its_tables_and_known_distances_still_count():
    bundle = demo()
    plane = document(bundle, "dabchick")
    kept = [s["id"] for s in plane["performance"] if s["source"] != "constants"]
    heavy = varied({"engine": {"mass": 30.0, "arm": 0.2}})
    assert heavy["alike"]
    assert [s["id"] for s in heavy["document"]["performance"]] == [*kept, "what-if"]
    bare = varied({})
    assert needed(flown(heavy)) > needed(flown(bare))
    assert answer(flown(heavy), "lifts_off")["verdict"] != "yes"
    for changes in ({"engine": {"power": 80_000.0}}, {"tyres": {"rolling": 1.1}}, {"propeller": {}}):
        made = varied(changes)
        assert not made["alike"]
        assert {s["source"] for s in made["document"]["performance"]} <= {"constants"}
    # of a mass without its arm nothing is known, thrust neither
    assert not varied({"engine": {"mass": 30.0}})["alike"]
