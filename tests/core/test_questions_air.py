"""Air at both ends: socks, limits of wind, old readings, far air that was not given, dew.

All goes through the border, whose JSON is read strictly: a figure that is not finite fails by itself.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from . import case
from .case import KNOT, fig, measure, reasons


def sock(documents: case.Documents, fullness: float, clock: float | None, air: str = "air-heath") -> None:
    """A sock seen against direction 07, from a clock direction (12 is ahead)."""
    told: dict[str, Any] = {"by": "sock", "fullness": fullness, "against": "07"}
    if clock is not None:
        told["wind_from"] = math.radians(clock * 30.0) % (2 * math.pi)
    documents[air]["wind"] = told


# --- wind -------------------------------------------------------------------------------------------------


def test_calm_is_a_statement_and_needs_no_limit():
    documents = case.base()
    documents["air-heath"]["wind"] = documents["air-moor"]["wind"] = {"by": "calm"}
    documents["plover"]["owner"] = {}
    found = case.leg(documents)
    assert found["verdict"] == "yes"
    assert found["figures"]["headwind"] == found["figures"]["crosswind"] == 0.0


@pytest.mark.parametrize("clock", range(12))
@pytest.mark.parametrize("end", ["from", "to"])
def test_a_full_sock(clock, end):
    """15 kt or more from ahead (FAA AC 150/5345-27); from anywhere else nobody knows how much."""
    documents = case.base()
    documents["plover"]["owner"].pop("wind")
    sock(documents, 1.0, clock, "air-heath" if end == "from" else "air-moor")
    found = case.answers(documents)
    answer = found["lifts_off" if end == "from" else "stops"]
    if clock == 0:
        assert answer["verdict"] == "yes"
        assert answer["picture"]["wind"]["headwind"] == pytest.approx(15 * KNOT)
        return
    assert answer["verdict"] in ("no", "can't say")
    assert answer["picture"]["wind"]["crosswind"] is None or clock == 6
    if clock in (3, 9):
        # 15 kt across is more than the limit already
        assert measure(answer, "crosswind")["verdict"] == "no"
    if clock in (4, 5, 6, 7, 8):
        assert answer["picture"]["wind"]["headwind"] is None
        assert measure(answer, "tailwind")["verdict"] in ("no", "can't say")
    if end == "from" and clock in (4, 5, 6, 7, 8):
        assert found["climbs_out"]["verdict"] == "can't say"
        assert "reason.full_sock_behind" in reasons(found["climbs_out"])


def test_a_full_sock_is_over_no_known_limit_of_wind():
    documents = case.base()
    sock(documents, 1.0, 0)
    assert "reason.full_sock_wind" in reasons(case.answers(documents)["lifts_off"])


@pytest.mark.parametrize("fullness", [0.0, 0.2, 0.5, 0.8, 0.99])
def test_a_sock_partly_full_is_used_at_its_adverse_end(fullness):
    documents = case.base()
    sock(documents, fullness, 0)
    ahead = case.answers(documents)["lifts_off"]["picture"]["wind"]
    assert ahead["headwind"] == pytest.approx(max(15 * fullness - 5, 0.0) * KNOT)
    sock(documents, fullness, 6)
    behind = case.answers(documents)["lifts_off"]["picture"]["wind"]
    assert behind["headwind"] == pytest.approx(-(15 * fullness + 5) * KNOT)
    sock(documents, fullness, 3)
    across = case.answers(documents)["lifts_off"]["picture"]["wind"]
    assert across["crosswind"] == pytest.approx((15 * fullness + 5) * KNOT)
    assert across["headwind"] == pytest.approx(0.0, abs=1e-9)


def test_an_empty_sock_from_nowhere_may_blow_from_behind():
    documents = case.base()
    sock(documents, 0.0, None)
    answer = case.answers(documents)["lifts_off"]
    assert answer["picture"]["wind"]["headwind"] == pytest.approx(-5 * KNOT)
    assert abs(answer["picture"]["wind"]["crosswind"]) == pytest.approx(5 * KNOT)
    assert "assumed.calm_direction" in case.texts(answer["assumptions"])


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("crosswind", {"speed": 8.0, "wind_from": math.pi / 2}),
        ("tailwind", {"speed": 4.5, "wind_from": math.pi}),
        ("gust_spread", {"speed": 3.0, "gust": 10.0, "wind_from": 0.0}),
        ("wind", {"speed": 15.0, "wind_from": 0.0}),
    ],
)
@pytest.mark.parametrize(("air", "question"), [("air-heath", "lifts_off"), ("air-moor", "stops")])
def test_the_owners_limits_of_wind_bind(name, told, air, question):
    documents = case.base()
    documents[air]["wind"] = {"by": "measured", "against": "07", **told}
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "no"
    assert measure(answer, name)["verdict"] == "no"


@pytest.mark.parametrize("name", ["crosswind", "tailwind", "gust_spread"])
def test_the_lower_limit_of_owner_and_pilot_binds(name):
    documents = case.base()
    documents["wren"]["limits"] = {name: fig(0.1)}
    question = "stops" if name == "tailwind" else "lifts_off"
    assert measure(case.answers(documents)[question], name)["verdict"] == "no"


# --- age --------------------------------------------------------------------------------------------------


def test_air_older_than_an_hour_turns_yes_into_cant_say():
    documents = case.base()
    documents["air-heath"]["at"] = "2026-05-20T09:01:00+02:00"
    assert case.verdicts(documents)["lifts_off"] == "yes"
    documents["air-heath"]["at"] = "2026-05-20T08:59:00+02:00"
    found = case.answers(documents)
    for question in ("lifts_off", "climbs_out", "reaches"):
        assert found[question]["verdict"] == "can't say"
        assert "reason.air_old_by_then" in reasons(found[question]), "read just now, for later"
    documents["settings"]["air_age"] = 7200.0
    assert case.verdicts(documents)["lifts_off"] == "yes"


def test_air_that_is_old_now_is_to_be_read_again():
    documents = case.base()
    documents["air-heath"]["at"] = "2026-05-20T06:00:00+02:00"
    found = case.answers(documents)
    for question in ("lifts_off", "climbs_out", "reaches"):
        assert {"reason.stale_air", "reason.air_old_by_then"} & reasons(found[question]) == {
            "reason.stale_air"
        }


def test_air_of_long_ago_at_the_far_strip_is_not_held_for_true():
    documents = case.base()
    documents["air-moor"]["at"] = "2026-05-20T06:00:00+02:00"
    said = case.texts(case.answers(documents)["stops"]["assumptions"])
    assert {"assumed.far_hotter", "assumed.far_tailwind", "assumed.far_pressure"} <= said


def test_a_departure_missed_is_now_and_its_air_grows_old():
    documents = case.base()
    assert case.verdicts(documents, now="2026-05-20T10:20:00+02:00")["lifts_off"] == "yes"
    assert case.verdicts(documents, now="2026-05-20T10:40:00+02:00")["lifts_off"] == "can't say"


@pytest.mark.parametrize(("strip", "question"), [("heath", "lifts_off"), ("moor", "stops")])
@pytest.mark.parametrize("seen", ["2026-05-12T08:00:00+02:00", "2026-05-29T08:00:00+02:00"])
def test_a_surface_seen_long_ago_or_not_yet_cant_say(strip, question, seen):
    documents = case.base()
    documents[strip]["ground"]["state"]["seen"] = seen
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "can't say"
    assert "reason.stale_surface" in reasons(answer)


# --- air --------------------------------------------------------------------------------------------------


def test_far_air_is_derived_adversely_and_said():
    """Standard lapse from here, 5 degC hotter, 5 kt of tailwind (design, "not read")."""
    documents = case.base()
    case.drop(documents, "/day-out/legs/out/air_to")
    found = case.leg(documents)
    answer = next(a for a in found["answers"] if a["question"] == "stops")
    assert {"assumed.far_hotter", "assumed.far_tailwind", "assumed.far_pressure"} <= case.texts(
        answer["assumptions"]
    )
    assert answer["picture"]["wind"]["headwind"] == pytest.approx(-5 * KNOT)
    given = case.base()
    given["air-moor"] |= {
        "at": "2026-05-20T10:00:00+02:00",
        "temperature": 289.0 - 0.0065 * 60.0 + 5.0,
        "pressure": {"by": "qnh", "qnh": 101_300.0},
        "dew_point": None,
        "wind": {
            "by": "measured",
            "speed": 5 * KNOT,
            "gust": 5 * KNOT,
            "wind_from": math.pi,
            "against": "07",
        },
    }
    told = case.answers(given)["stops"]
    assert measure(answer, "landing_distance")["needed"] == pytest.approx(
        measure(told, "landing_distance")["needed"], rel=2e-3
    )


def test_dew_that_decides_is_asked_for():
    """Somewhere between long enough and too short, dry and saturated air part company."""
    seen = set()
    for length in range(560, 760, 4):
        documents = case.base("constants")
        case.put(documents, "/plover/performance/constants/static_thrust", fig(900.0))
        documents["air-heath"] |= {"temperature": 308.0, "dew_point": None}
        documents["heath"]["ground"] |= {
            "length": fig(length),
            "segments": [{"length": length, "slope": 0.0}],
        }
        answer = case.quick(documents)["lifts_off"]
        seen.add((answer["verdict"], "reason.dew_point_decides" in reasons(answer)))
    assert ("can't say", True) in seen
    assert all(verdict == "can't say" for verdict, asked in seen if asked)


def test_a_wet_wing_is_no_yes():
    documents = case.base()
    documents["air-heath"]["wing_wet"] = True
    answer = case.answers(documents)["lifts_off"]
    assert answer["verdict"] == "can't say"
    assert "reason.wing_wet" in reasons(answer)


@pytest.mark.parametrize(
    ("pressure", "warning"),
    [
        ({"by": "qnh", "qnh": 110_000.0}, "odd.qnh"),
        ({"by": "altimeter", "pressure_altitude": 205.0}, "odd.altimeter_equals_elevation"),
        ({"by": "altimeter", "pressure_altitude": 900.0}, "odd.altimeter_implies_qnh"),
    ],
)
def test_odd_pressures_are_warned_of(pressure, warning):
    documents = case.base()
    documents["air-heath"]["pressure"] = pressure
    assert warning in case.texts(case.leg(documents)["warnings"])


@pytest.mark.parametrize("temperature", [150.5, 190.0, 231.0, 334.0, 339.5])
@pytest.mark.parametrize("air", ["air-heath", "air-moor"])
def test_cold_and_heat_beyond_the_sums_cant_say(temperature, air):
    """The gate lets them through; at -42 °C nobody has published what fuel weighs."""
    documents = case.base()
    documents[air] |= {"temperature": temperature, "dew_point": None}
    found = case.answers(documents)
    question = "balances" if air == "air-heath" else "stops"
    assert found[question]["verdict"] == "can't say"
    assert reasons(found[question])


@pytest.mark.parametrize("name", ["lifts_off", "climbs_out", "reaches", "stops"])
def test_what_is_not_told_of_the_air_is_named_in_every_answer_that_rests_on_it(name):
    documents = case.drop(case.base(), "/day-out/legs/out/air_from")
    documents = case.drop(documents, "/day-out/legs/out/air_to")
    answer = case.answers(documents)[name]
    assert answer["verdict"] == "can't say"
    assert any(text.startswith("missing.") for text in reasons(answer))


@pytest.mark.parametrize(
    "pressure", [{"by": "altimeter", "pressure_altitude": 1.4}, {"by": "qnh", "qnh": 110_000.0}]
)
def test_a_pressure_that_no_day_brings_is_a_slip(pressure):
    """A reading of 4.6 ft for 4,600 makes no air that any strip has: it is told."""
    documents = case.base()
    documents["heath"]["elevation"]["value"] = 1300.0
    documents["air-heath"]["pressure"] = pressure
    leg = case.quick(documents)
    assert leg["lifts_off"]["verdict"] == "can't say"
    assert any(reason["text"] == "reason.no_such_qnh" for reason in leg["lifts_off"]["reasons"])
