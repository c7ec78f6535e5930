"""What a flight's documents say for an entry: readings alone, and the likely wind."""

from __future__ import annotations

import json
import math
from typing import Any

import pytest

from tussock.api import handle
from tussock.demo import demo_bundle

NOW = "2026-11-25T08:00:00+00:00"


def asked(bundle: dict[str, Any], leg: str | None = None) -> dict[str, Any]:
    reply = json.loads(
        handle("noted", json.dumps({"bundle": bundle, "now": NOW} | ({"leg": leg} if leg else {})))
    )
    return reply["result"]


def figures(bundle: dict[str, Any], leg: str) -> dict[str, Any]:
    reply = json.loads(handle("answer", json.dumps({"bundle": bundle, "now": NOW, "leg": leg})))
    return reply["result"]["legs"][0]["figures"]


def test_mass_air_and_ground_are_those_of_the_leg() -> None:
    bundle = demo_bundle(NOW)
    leg = bundle["open"]["leg"]
    found, own = asked(bundle), figures(bundle, leg)
    takeoff = found["takeoff"]
    assert takeoff["mass"] == pytest.approx(own["takeoff_mass"])
    assert found["landing"]["mass"] == pytest.approx(own["landing_mass"])
    assert takeoff["pressure_altitude"] == pytest.approx(own["pressure_altitude"])
    assert takeoff["temperature"] == pytest.approx(own["temperature"])
    assert takeoff["headwind"] >= own["headwind"], "the likely wind is no less than the lull"
    assert takeoff["strip"] == "saltpan"
    assert takeoff["direction"] == "06"
    assert takeoff["flap"] == "first"
    assert found["landing"]["flap"] == "full"


def test_air_that_nobody_read_is_no_measurement() -> None:
    bundle = demo_bundle(NOW)
    trip = next(one for one in bundle["documents"] if one["kind"] == "trip")
    del trip["legs"][0]["air_to"]
    landing = asked(bundle, trip["legs"][0]["id"])["landing"]
    assert not {"temperature", "pressure_altitude", "headwind"} & set(landing)
    assert "mass" in landing


def test_a_forecast_is_no_measurement() -> None:
    bundle = demo_bundle(NOW)
    trip = next(one for one in bundle["documents"] if one["kind"] == "trip")
    air = next(one for one in bundle["documents"] if one["id"] == trip["legs"][0]["air_to"])
    air["origin"] = "told"
    assert "temperature" in asked(bundle)["landing"]
    air["origin"] = "forecast"
    assert "temperature" not in asked(bundle)["landing"]


def test_a_full_sock_tells_no_headwind() -> None:
    bundle = demo_bundle(NOW)
    trip = next(one for one in bundle["documents"] if one["kind"] == "trip")
    air = next(one for one in bundle["documents"] if one["id"] == trip["legs"][0]["air_from"])
    air["wind"] = {"by": "sock", "fullness": 1.0, "wind_from": 1.0}
    assert "headwind" not in asked(bundle)["takeoff"]
    air["wind"] = {"by": "calm"}
    assert asked(bundle)["takeoff"]["headwind"] == 0.0


@pytest.mark.parametrize(("turn", "way"), [(0.0, 1), (math.pi, -1), (math.pi / 2, 0)])
def test_a_walk_has_a_way_along_the_strip(turn: float, way: int) -> None:
    strip = next(one for one in demo_bundle(NOW)["documents"] if one["kind"] == "strip")
    bearing = next(one["bearing"] for one in strip["directions"] if one["along"] == "forward") + turn
    lines = ["time,lat,lon,speed m/s"]
    for k in range(320):
        along = min(max(k - 10, 0) * 1.3, 380.0)
        north = 10.0 + math.degrees(along * math.cos(bearing) / 6_338_000)
        east = math.degrees(along * math.sin(bearing) / 6_379_000 / math.cos(math.radians(10)))
        speed = 1.3 if 0 < along < 380 else 0
        lines.append(f"2026-11-20T09:{k // 60:02d}:{k % 60:02d}Z,{north:.8f},{east:.8f},{speed}")
    given = {"text": "\n".join(lines), "documents": [json.dumps(strip)]}
    found = json.loads(handle("walk", json.dumps(given)))["result"]
    assert found["length"]["value"] == pytest.approx(380.0, abs=3.0)
    assert found["way"] == way
