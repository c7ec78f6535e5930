"""What a printed sheet needs of the answers: masses by station, and the climb speed as the dial shows it."""

from __future__ import annotations

import json
from typing import Any

import pytest

from tussock.api import handle

NOW = "2026-11-25T12:00:00+01:00"


def legs(bundle: dict[str, Any]) -> list[dict[str, Any]]:
    found = json.loads(handle("answer", json.dumps({**bundle, "now": NOW})))["result"]["legs"]
    assert len(found) > 3
    return list(found)


@pytest.fixture(scope="module")
def demo() -> dict[str, Any]:
    return dict(json.loads(handle("demo", json.dumps({"now": NOW})))["result"])


def pictures(bundle: dict[str, Any], question: str) -> list[dict[str, Any]]:
    found = [one for leg in legs(bundle) for one in leg["answers"] if one["question"] == question]
    return [one["picture"] for one in found if one["picture"]]


def test_stations_and_the_empty_aeroplane_make_the_ramp_mass_and_its_arm(demo: dict[str, Any]) -> None:
    known = pictures(demo, "balances")
    assert len(known) > 3
    for picture in known:
        parts = [picture["empty"], *picture["stations"]]
        (ramp,) = (state for state in picture["states"] if state["state"] == "ramp")
        mass = sum(part["mass"] for part in parts)
        assert mass == pytest.approx(ramp["mass"], rel=1e-12)
        moment = sum(part["mass"] * part["arm"] for part in parts)
        assert moment / mass == pytest.approx(ramp["arm"], rel=1e-12)


def test_the_dial_in_the_climb(demo: dict[str, Any]) -> None:
    """Nothing is shown where the correction table says nothing at that speed; elsewhere less than true."""
    before = pictures(demo, "climbs_out")
    bundle = json.loads(json.dumps(demo))
    for one in bundle["documents"]:
        for flap in one.get("flaps", ()):
            # a dial without an error, as far as it goes
            flap["correction"] = [{"indicated": v, "calibrated": v} for v in (5.0, 100.0)]
    after = pictures(bundle, "climbs_out")
    assert None in [one["speed_indicated"] for one in before]
    told = [one for one in after if one["speed_true"] is not None]
    assert len(told) > 3
    for one in told:
        # every strip of the demo lies well above the sea
        assert 0.8 * one["speed_true"] < one["speed_indicated"] < one["speed_true"]
