"""A climb table without temperatures: for the standard day, entered by density.

Source: FAA-H-8083-25 (Pilot's Handbook of Aeronautical Knowledge), chapter 11: climb by density altitude.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from tussock.sums.air import air_density, density_altitude, isa_pressure, isa_temperature

from . import case


def documents(altitude: float, temperature: float) -> case.Documents:
    """One book of climb alone, without temperatures; dry air at that pressure altitude and temperature."""
    found = case.base("book")
    for source in found["plover"]["performance"]:
        if source["source"] == "book_climb":
            source |= {"temperature_is": "above_standard", "temperature_axis": [0.0]}
            source["rate"] = [[row[:1] for row in plane] for plane in source["rate"]]
    found["air-heath"] |= {
        "pressure": {"by": "altimeter", "pressure_altitude": altitude},
        "temperature": temperature,
        "dew_point": 230.0,
    }
    found["heath"]["elevation"]["value"] = altitude
    return found


def entered(answer: dict[str, Any]) -> dict[str, float]:
    step = next(one for one in answer["working"] if one["relation"] == "interpolate")
    return {one["name"]: one["value"] for one in step["inputs"]}


def rate(answer: dict[str, Any]) -> float:
    step = next(one for one in answer["working"] if one["relation"] == "interpolate")
    return float(step["outputs"][0]["value"])


def density(altitude: float, temperature: float) -> float:
    return float(air_density(float(isa_pressure(altitude)), temperature, 0.0))


def test_on_the_standard_day_it_is_the_book() -> None:
    altitude = 900.0
    answer = case.answers(documents(altitude, float(isa_temperature(altitude))))["climbs_out"]
    assert entered(answer)["pressure altitude"] == pytest.approx(altitude, abs=1.0)  # dry but for a trace
    assert answer["verdict"] in ("yes", "tight")
    assert any(one["text"] == "assumed.standard_day_table" for one in answer["assumptions"])


def test_hot_air_climbs_as_the_standard_day_of_its_density() -> None:
    altitude = 900.0
    hot = float(isa_temperature(altitude)) + 12.0
    answer = case.answers(documents(altitude, hot))["climbs_out"]
    higher = float(density_altitude(density(altitude, hot)))
    assert entered(answer)["pressure altitude"] == pytest.approx(higher, abs=1.0)
    as_high = case.answers(documents(higher, float(isa_temperature(higher))))["climbs_out"]
    # not to the last digit: the same litres weigh less on a hot day
    assert rate(answer) == pytest.approx(rate(as_high), rel=5e-3)
    assert rate(answer) < rate(case.answers(documents(altitude, hot - 12.0))["climbs_out"])


def test_cold_air_gets_no_credit() -> None:
    altitude = 900.0
    cold = float(isa_temperature(altitude)) - 15.0
    answer = case.answers(documents(altitude, cold))["climbs_out"]
    assert float(density_altitude(density(altitude, cold))) < altitude - 400.0
    assert entered(answer)["pressure altitude"] == pytest.approx(altitude)


def test_thinner_than_the_book_knows_it_cannot_say() -> None:
    altitude = 900.0
    found = documents(altitude, float(isa_temperature(altitude)) + 25.0)
    highest = max(
        s["altitude_axis"][-1] for s in found["plover"]["performance"] if s["source"] == "book_climb"
    )
    for source in found["plover"]["performance"]:
        if source["source"] == "book_climb":
            source["altitude_axis"] = [one * 950.0 / highest for one in source["altitude_axis"]]
    assert case.answers(found)["climbs_out"]["verdict"] == "can't say"


def test_a_supercharged_engine_is_not_told_by_density() -> None:
    altitude = 900.0
    found = documents(altitude, float(isa_temperature(altitude)))
    assert case.answers(found)["climbs_out"]["verdict"] != "can't say"
    found["plover"]["engine"]["aspiration"] = "supercharged"
    answer = case.answers(found)["climbs_out"]
    assert answer["verdict"] == "can't say"
    assert not math.isfinite(answer["margin"] if answer["margin"] is not None else math.inf)
