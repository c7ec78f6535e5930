"""The run-up check: torque against the aeroplane's own baseline, its band, and the roll."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock import cli
from tussock.api import handle
from tussock.sums import air, power

from .test_tuned_answers import LEG, NOW, ask, demo, document, without

TURN = 1 / 60


def checked(
    rotation: float, bundle: dict[str, Any] | None = None, leg: str = LEG, across: bool = True
) -> Any:
    return ask("run_up", bundle or demo(), rotation=rotation, leg=leg, now=NOW, across=across)


def expected() -> float:
    return float(checked(2250 * TURN)["expected"])


def test_the_baseline_in_this_air_is_as_it_should_be():
    told = checked(expected())
    assert told["verdict"] == "yes"
    assert told["fraction"] == pytest.approx(1.0, abs=1e-9)
    assert told["low"] < 1.0 < told["high"]
    assert told["roll"]["more"] == pytest.approx(0.0, abs=1e-6)


@settings(max_examples=8, deadline=None)
@given(st.floats(0.8, 1.2))
def test_the_torque_goes_with_the_square_of_the_rotation(share):
    assert checked(expected() * share)["fraction"] == pytest.approx(share**2, rel=1e-9)


def test_it_is_the_relation_in_the_air_of_the_strip():
    bundle = demo()
    told = checked(37.0, bundle)
    step = next(s for s in told["working"] if s["relation"] == "static_torque_fraction")
    taken = [one["value"] for one in step["inputs"]]
    base = document(bundle, "dabchick")["run_up"]
    then = air.air_density(air.isa_pressure(base["pressure_altitude"]), base["temperature"], 0.0) / air.RHO0
    by_hand = power.static_torque_fraction(
        37.0, base["rotation"]["value"], taken[2], then, 0.12, taken[5], then
    )
    assert told["fraction"] == pytest.approx(by_hand, rel=1e-9)


def test_out_of_the_band_it_says_do_not_go_and_find_out():
    told = checked(expected() * 0.95)
    assert told["verdict"] == "no"
    assert told["high"] < 1.0
    assert told["reasons"][0]["text"] == "reason.run_up_short"
    assert told["missing"] == pytest.approx(1 - 0.95**2)
    # a tenth less torque is more than a tenth more roll
    assert told["roll"]["after"] > 1.1 * told["roll"]["before"]


def test_more_than_it_ever_had_is_no_yes():
    told = checked(expected() * 1.05)
    assert told["verdict"] == "can't say"
    assert told["reasons"][0]["text"] == "reason.run_up_above"
    assert told["roll"]["more"] == 0.0


def test_a_worse_tachometer_widens_the_band():
    bundle = demo()
    document(bundle, "dabchick")["run_up"]["tachometer_error"] = {"value": 0.02, "origin": "measured"}
    fine, coarse = checked(expected() * 0.97), checked(expected() * 0.97, bundle)
    assert fine["verdict"] == "no"
    assert coarse["low"] < fine["low"] < fine["high"] < coarse["high"]
    # neither surely short nor surely there: it is no yes
    assert coarse["verdict"] == "can't say"
    assert [one["text"] for one in coarse["reasons"]] == ["reason.run_up_dial"]
    del document(bundle, "dabchick")["run_up"]["tachometer_error"]
    assert "assumed.tachometer" in [one["text"] for one in checked(38.0, bundle)["assumptions"]]


def test_without_a_notebook_the_constants_tell_the_roll():
    told = checked(expected() * 0.95, without(demo()))
    assert told["roll"]["source"] == "Own constants"
    assert told["roll"]["after"] > 1.1 * told["roll"]["before"]


def test_what_lacks_is_named():
    bundle = demo()
    del document(bundle, "dabchick")["run_up"]
    told = checked(38.0, bundle)
    assert (told["verdict"], told["reasons"][0]["text"]) == ("can't say", "tune.no_baseline")
    bundle = demo()
    document(bundle, "dabchick")["propeller"] = {"pitch_is": "constant_speed"}
    assert checked(38.0, bundle)["reasons"][0]["text"] == "reason.run_up_governed"


def test_a_wind_along_the_nose_is_no_yes():
    bundle = demo()
    trip = next(d for d in bundle["documents"] if d["kind"] == "trip")
    leg = next(one for one in trip["legs"] if one["id"] == LEG)
    strip = document(bundle, leg["from_strip"])
    bearing = next(d for d in strip["directions"] if d["id"] == leg["takeoff_direction"])["bearing"]
    document(bundle, leg["air_from"])["wind"] = {"by": "measured", "speed": 8.0, "wind_from": bearing}
    told = checked(expected(), bundle, across=False)
    assert told["verdict"] == "can't say"
    assert told["notes"][0]["text"] == "note.run_up_wind"
    assert checked(expected(), bundle)["verdict"] == "yes"
    assert checked(expected() * 0.9, bundle, across=False)["verdict"] == "no"


@pytest.mark.parametrize("rotation", [None, "38", 0, -1, True, 1e9])
def test_what_is_no_rotation_is_refused(rotation):
    reply = json.loads(handle("run_up", json.dumps({**demo(), "rotation": rotation})))
    assert reply["error"]["path"] == "/rotation"


def test_on_the_command_line(tmp_path, capsys):
    file = tmp_path / "demo.json"
    file.write_text(json.dumps(demo()), encoding="utf-8")
    assert cli.main(["run-up", str(file), "2100 rpm", "--now", NOW]) == 1
    assert "Do not go and find out" in capsys.readouterr().out
    good = f"{expected() * 60} rpm"
    assert cli.main(["run-up", str(file), good, "--leg", LEG, "--now", NOW, "--across", "--json"]) == 0
    assert math.isclose(json.loads(capsys.readouterr().out)["fraction"], 1.0, rel_tol=1e-9)
    assert cli.main(["run-up", str(file), "fast"]) == 2


def spoiled(what: str) -> dict[str, Any]:
    bundle = demo()
    plane, here = document(bundle, "dabchick"), document(bundle, "air-1-from")
    if what == "wind":
        del here["wind"]
    elif what == "gust":
        bearing = next(d for d in document(bundle, "saltpan")["directions"] if d["id"] == "06")["bearing"]
        here["wind"] = {"by": "measured", "speed": 2.0, "gust": 11.0, "wind_from": bearing}
    elif what == "old air":
        here["at"] = "2026-11-25T00:40:00+00:00"
    elif what == "forecast":
        here["origin"] = "forecast"
    elif what == "propeller":
        del plane["propeller"]
    elif what == "guess":
        plane["run_up"]["rotation"]["origin"] = "estimated"
    else:
        plane["run_up"]["tachometer_error"] = {"value": 0.1, "origin": "measured"}
    return bundle


@pytest.mark.parametrize("what", ["wind", "gust", "old air", "forecast", "propeller", "guess", "tachometer"])
def test_it_is_no_yes_on_what_nobody_can_rest_on(what):
    told = checked(expected(), spoiled(what), across=False)
    if what not in ("wind", "gust"):
        told = checked(expected(), spoiled(what))
    assert told["verdict"] == "can't say", told["notes"]
    assert told["reasons"] or told["notes"]
    assert "reason.run_up_inside" not in [one["text"] for one in told["reasons"]]
