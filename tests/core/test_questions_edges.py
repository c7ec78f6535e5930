"""Absurd and edge inputs of the six questions: socks, old air, closed directions, darkness, empty tables.

Everything goes through the border, whose JSON is read strictly: a figure that is not finite fails by itself.
"""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest

from tussock.text import catalogue, say

from . import case
from .case import KNOT, fig

MINUTE, HOUR = 60.0, 3600.0


def reasons(answer: dict[str, Any]) -> set[str]:
    return case.texts(answer["reasons"])


def measure(answer: dict[str, Any], name: str) -> dict[str, Any] | None:
    return next((m for m in answer["measures"] if m["name"] == name), None)


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
        assert "reason.stale_air" in reasons(found[question])
    documents["settings"]["air_age"] = 2 * HOUR
    assert case.verdicts(documents)["lifts_off"] == "yes"


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


# --- the strip --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("strip", "question", "other"), [("heath", "lifts_off", "landing"), ("moor", "stops", "takeoff")]
)
def test_a_direction_that_is_closed_or_for_the_other_use_is_a_no(strip, question, other):
    for use in ("closed", other):
        documents = case.base()
        case.put(documents, f"/{strip}/directions/07/use", use)
        assert case.verdicts(documents)[question] == "no"


@pytest.mark.parametrize("surface", ["soft", "snow"])
def test_a_surface_whose_factor_is_a_least_one_proves_no_yes(surface):
    documents = case.base()
    documents["heath"]["ground"]["state"] |= {"surface": surface}
    assert case.verdicts(documents)["lifts_off"] == "can't say"


def test_grass_above_20_cm_cant_say():
    documents = case.base()
    documents["heath"]["ground"]["state"] |= {"surface": "grass_long_dry", "grass_height": fig(0.3)}
    assert case.verdicts(documents)["lifts_off"] == "can't say"


@pytest.mark.parametrize(
    ("pointer", "question"),
    [
        ("/heath/directions/07/departure", "climbs_out"),
        ("/moor/directions/07/approach", "stops"),
        ("/moor/directions/07/go_around_way", "stops"),
    ],
)
def test_obstacles_unknown_cant_say_and_none_is_a_statement(pointer, question):
    documents = case.base()
    case.put(documents, pointer, {"state": "unknown"})
    assert case.verdicts(documents)[question] == "can't say"
    said = {"state": "none", "said_by": "Wren", "at": "2026-05-19T18:00:00+02:00"}
    assert case.verdicts(case.put(documents, pointer, said))[question] == "yes"


def test_an_obstacle_at_the_very_end_is_a_no():
    documents = case.base()
    documents["heath"]["directions"][0]["departure"]["obstacles"][0] |= {
        "distance": fig(0.0),
        "height": fig(60.0),
    }
    assert case.verdicts(documents)["climbs_out"] == "no"


def test_no_mass_pays_by_rolling_over_a_hump():
    """Uphill to the middle, level beyond: whoever lifts off later has the hump behind, and no shorter way."""
    needed = []
    for mass in range(40, 70, 3):
        documents = case.base("constants")
        documents["heath"]["ground"]["segments"] = [
            {"length": 300.0, "slope": 0.02},
            {"length": 700.0, "slope": 0.0},
        ]
        case.put(documents, "/plover/performance/constants/static_thrust", fig(900.0))
        case.put(documents, "/plover/performance/constants/rated_torque", fig(230.0))
        case.put(documents, "/lark/mass", fig(float(mass)))
        needed.append(measure(case.quick(documents)["lifts_off"], "takeoff_distance")["needed"])
    assert needed == sorted(needed)


def test_a_strip_that_forbids_the_go_around_says_so():
    documents = case.base()
    case.put(documents, "/moor/directions/07/go_around", "none")
    answer = case.answers(documents)["stops"]
    assert answer["verdict"] == "yes"
    assert "note.committed" in case.texts(answer["notes"])


def test_a_steep_turn_is_not_flown_slower_than_its_stall_allows():
    """In 60 degrees of bank the stall is 1.41 times as fast: the room grows again beyond some bank."""
    documents = case.base()
    room = []
    for bank in (0.5, 0.8, 1.05):
        documents["plover"]["turn_bank"] = bank
        room.append(measure(case.quick(documents)["climbs_out"], "valley")["needed"])
    # V² grows as 1/cos, tan as the bank: without the stall the last would be 0.31 of the first
    assert room[2] > 0.5 * room[0] * math.tan(0.5) / math.tan(1.05) * 2 * math.cos(0.5)
    slow = 2 * 27.0**2 / (9.80665 * math.tan(1.05))
    assert room[2] > slow * 1.2


# --- sources ----------------------------------------------------------------------------------------------


def test_two_sources_apart_are_both_shown_and_the_longer_decides():
    answer = case.answers(case.base())["lifts_off"]
    lengths = [one["over_50ft"] for one in answer["picture"]["sources"]]
    assert len(lengths) == 3
    assert answer["picture"]["over_50ft"] == max(lengths)
    assert "note.sources_apart" in case.texts(answer["notes"])


@pytest.mark.parametrize(
    ("sources", "pointer", "value", "text"),
    [
        ("book", "/air-heath/temperature", 318.16, "reason.outside_table"),
        ("known", "/heath/ground/state/surface", "earth_dry", None),
        ("constants", "/heath/ground/state/surface", "earth_dry", "missing.rolling_friction"),
    ],
)
def test_outside_its_table_a_source_is_silent(sources, pointer, value, text):
    documents = case.base(sources)
    case.put(documents, pointer, value)
    answer = case.answers(documents)["lifts_off"]
    assert (answer["verdict"] == "can't say") == (text is not None)
    assert text is None or text in reasons(answer)


def test_the_last_line_of_a_table_still_answers():
    documents = case.base("book")
    for figure, beyond in ((318.1, False), (318.16, True)):
        documents["air-heath"] |= {"temperature": figure, "dew_point": 230.0}
        needed = measure(case.answers(documents)["lifts_off"], "takeoff_distance")["needed"]
        assert (needed is None) == beyond


def test_an_empty_cell_of_a_table_cant_say():
    documents = case.base("book")
    table = case.element(documents["plover"]["performance"], "book-takeoff")
    table["over_50ft"] = [[[None for _ in row] for row in plane] for plane in table["over_50ft"]]
    answer = case.answers(documents)["lifts_off"]
    assert answer["verdict"] == "can't say"
    assert "reason.table_empty" in reasons(answer)


def test_a_best_effort_never_decides():
    for sources, name in (("book", "book-takeoff"), ("known", "known-takeoff"), ("constants", "constants")):
        documents = case.base(sources)
        case.element(documents["plover"]["performance"], name)["technique"] = "best"
        assert case.verdicts(documents)["lifts_off"] == "can't say"


def test_beyond_the_koch_chart_the_leaflet_alone_does_not_answer():
    """At 12,000 ft of density altitude the chart ends; a distance that shortens there would be absurd."""
    documents = case.base("known")
    needed = []
    for high in (3500.0, 3600.0, 3700.0):
        documents["air-heath"] |= {
            "pressure": {"by": "altimeter", "pressure_altitude": high},
            "temperature": 288.15 - 0.0065 * high,
            "dew_point": 230.0,
        }
        needed.append(measure(case.quick(documents)["lifts_off"], "takeoff_distance")["needed"])
    assert needed[0] < needed[1]
    assert needed[2] is None


def test_a_table_for_another_flap_is_not_taken():
    documents = case.base("book")
    case.element(documents["plover"]["performance"], "book-climb")["flap"] = "up"
    assert case.verdicts(documents)["climbs_out"] == "can't say"


def test_a_tailwind_rule_that_shortens_gives_no_credit():
    documents = case.base("book")
    documents["air-moor"]["wind"] = {"by": "measured", "speed": 3.0, "wind_from": math.pi, "against": "07"}
    table = case.element(documents["plover"]["performance"], "book-landing")
    table["tailwind_rule"]["factor"] = 1.0
    level = measure(case.quick(documents)["stops"], "landing_distance")["needed"]
    table["tailwind_rule"]["factor"] = 0.8
    assert measure(case.quick(documents)["stops"], "landing_distance")["needed"] == pytest.approx(level)


def test_an_aeroplane_that_does_not_accelerate_is_a_no_with_a_reason():
    documents = case.base("constants")
    case.put(documents, "/plover/performance/constants/static_thrust", fig(150.0))
    answer = case.answers(documents)["lifts_off"]
    assert answer["verdict"] == "no"
    assert "reason.no_acceleration" in reasons(answer)
    assert answer["needed"] is None
    assert answer["picture"]["roll"] is None


def test_an_aeroplane_that_does_not_climb_to_50_ft_is_a_no_with_a_reason():
    documents = case.base("constants")
    case.put(documents, "/plover/performance/constants/rated_torque", fig(120.0))
    found = case.answers(documents)
    assert found["lifts_off"]["verdict"] == "no"
    assert reasons(found["lifts_off"]) & {"reason.no_climb", "reason.no_acceleration"}
    assert found["climbs_out"]["verdict"] == "no"


@pytest.mark.parametrize(("name", "question"), [("takeoff_safety", "lifts_off"), ("landing_safety", "stops")])
def test_a_safety_factor_lowered_is_shown_and_below_115_nothing_is_better_than_tight(name, question):
    documents = case.base()
    documents["settings"][name] = 1.2
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "yes"
    assert "note.safety_lowered" in case.texts(answer["notes"])
    documents["settings"][name] = 1.14
    answer = case.answers(documents)[question]
    assert answer["verdict"] == "tight"
    assert "reason.low_safety" in reasons(answer)


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


# --- balance ----------------------------------------------------------------------------------------------


def test_a_centre_of_gravity_that_walks_out_in_flight_names_the_moment():
    """Fuel far ahead burns off: inside at take-off, aft of the limit at landing."""
    documents = case.base()
    case.put(documents, "/plover/tanks/main/arm", fig(-0.6))
    documents["plover"]["envelopes"][0]["vertices"] = [
        {"mass": 300.0, "across": 0.18},
        {"mass": 300.0, "across": 0.262},
        {"mass": 600.0, "across": 0.262},
        {"mass": 600.0, "across": 0.18},
    ]
    answer = case.answers(documents)["balances"]
    states = {state["state"]: state["verdict"] for state in answer["picture"]["states"]}
    assert states["takeoff"] != "no"
    assert states["landing"] == states["zero_fuel"] == "no"
    assert answer["verdict"] == "no"
    told = [say(reason) for reason in answer["reasons"]]
    assert "aft limit without fuel" in told[0]
    assert any("aft limit at landing" in one for one in told)


@pytest.mark.parametrize("density_altitude_cap", [(5000.0, "yes"), (100.0, "can't say")])
def test_above_the_last_cap_the_owner_has_said_nothing(density_altitude_cap):
    height, verdict = density_altitude_cap
    documents = case.base()
    documents["plover"]["owner"]["mass_caps"] = [{"density_altitude": height, "mass": 600.0}]
    assert case.verdicts(documents)["balances"] == verdict


def test_caps_go_straight_from_one_to_the_next():
    documents = case.base()
    caps = [{"density_altitude": 0.0, "mass": 600.0}, {"density_altitude": 1000.0, "mass": 500.0}]
    documents["plover"]["owner"]["mass_caps"] = caps
    found = case.leg(documents)
    answer = next(a for a in found["answers"] if a["question"] == "balances")
    cap = measure(answer, "mass_cap")
    assert cap["available"] == pytest.approx(600.0 - found["figures"]["density_altitude"] / 10.0)


def test_what_a_configuration_adds_counts_also_when_it_was_weighed_itself():
    documents = case.base()
    plain = documents["plover"]["configurations"][0]
    case.put(documents, "/day-out/configuration", "plain")
    before = case.leg(copy.deepcopy(documents))["figures"]["takeoff_mass"]
    plain["changes"] = [{"id": "rack", "name": "Rack", "mass": fig(7.0), "arm": fig(0.5)}]
    assert case.leg(documents)["figures"]["takeoff_mass"] == pytest.approx(before + 7.0)


def test_no_ramp_limit_is_that_of_take_off():
    documents = case.base()
    documents["plover"]["limits"].pop("ramp")
    case.put(documents, "/lark/mass", fig(117.0))
    case.put(documents, "/plover/seats/right/mass_limit", fig(130.0))
    documents["plover"]["joint_limits"] = []
    answer = case.answers(documents)["balances"]
    assert measure(answer, "mass_takeoff")["verdict"] != "no"
    assert measure(answer, "mass_ramp")["verdict"] == "no"


def test_the_landing_is_as_heavy_as_a_wind_from_behind_leaves_it():
    documents = case.base()
    case.drop(documents, "/day-out/legs/out/wind_aloft")
    headed, unknown = copy.deepcopy(documents), documents
    case.put(headed, "/day-out/legs/out/wind_aloft", {"speed": 20 * KNOT, "wind_from": 1.03})
    assert case.leg(unknown)["figures"]["landing_mass"] > case.leg(headed)["figures"]["landing_mass"]


# --- fuel and light ---------------------------------------------------------------------------------------


def test_fuel_above_the_need_is_spare_and_below_it_short():
    documents = case.base()
    answer = case.answers(documents)["reaches"]
    parts = {one["part"]: one["volume"] for one in answer["picture"]["fuel"]}
    assert parts["spare"] == pytest.approx(measure(answer, "fuel")["margin"])
    assert sum(parts.values()) == pytest.approx(0.07)
    case.put(documents, "/day-out/legs/out/fuel/main/volume", fig(0.02))
    answer = case.answers(documents)["reaches"]
    assert answer["verdict"] == "no"
    assert "reason.fuel_short" in reasons(answer)
    case.put(documents, "/day-out/legs/out/fuel/main/volume", fig(0.2))
    assert case.ask("answer", documents)["error"]["code"] == "impossible"


@pytest.mark.parametrize("told", [True, False])
def test_mogas_hot_and_high_is_warned_of(told):
    documents = case.base()
    documents["plover"]["engine"]["grades"] = ["avgas", "mogas"]
    leg = documents["day-out"]["legs"][0]
    leg["fuel_grade"] = "mogas" if told else None
    documents["plover"]["cruises"][0]["altitude_high"] = 3000.0
    assert "warning.vapour_lock" not in case.texts(case.answers(documents)["reaches"]["notes"])
    leg["cruise_altitude"] = 2450.0
    assert "warning.vapour_lock" in case.texts(case.answers(documents)["reaches"]["notes"])


def test_a_grade_that_the_engine_does_not_take_is_a_no():
    documents = case.base()
    case.put(documents, "/day-out/legs/out/fuel_grade", "jet_a1")
    assert case.verdicts(documents)["reaches"] == "no"


@pytest.mark.parametrize("hour", ["02:30", "04:00", "22:40", "23:30"])
def test_a_departure_in_the_dark_is_a_no(hour):
    documents = case.base()
    case.put(documents, "/day-out/legs/out/departure", f"2026-05-21T{hour}:00+02:00")
    answer = case.answers(documents)["reaches"]
    assert answer["verdict"] == "no"
    assert reasons(answer) & {"reason.departs_in_the_dark", "reason.dark"}


def test_an_arrival_after_the_last_light_is_a_no():
    documents = case.base()
    case.put(documents, "/day-out/legs/out/departure", "2026-05-20T21:00:00+02:00")
    answer = case.answers(documents)["reaches"]
    assert answer["verdict"] == "no"
    assert "reason.dark" in reasons(answer)


def test_nobody_flies_through_a_night_to_land_in_another_days_light():
    documents = case.base()
    leg = documents["day-out"]["legs"][0]
    leg["departure"] = "2026-05-20T20:30:00+02:00"
    far = [
        {"id": f"w{i}", "name": f"W{i}", "position": {"latitude": 50.0 + i % 2, "longitude": 5.0}}
        for i in range(14)
    ]
    leg["waypoints"] = far
    answer = case.answers(documents)["reaches"]
    assert answer["picture"]["daylight"]["arrival"] > "2026-05-21T05:30"
    assert answer["verdict"] == "no"
    assert measure(answer, "daylight")["verdict"] == "no"


@pytest.mark.parametrize(("month", "latitude"), [("06", 78.0), ("12", 78.0)])
def test_polar_day_and_night_are_no_yes(month, latitude):
    documents = case.base()
    for strip in ("heath", "moor"):
        documents[strip]["position"]["latitude"] = latitude
    case.put(documents, "/day-out/legs/out/departure", f"2026-{month}-20T10:00:00+02:00")
    answer = case.answers(documents, now=f"2026-{month}-20T09:40:00+02:00")["reaches"]
    assert answer["verdict"] in ("no", "can't say")
    assert "reason.no_sunset" in reasons(answer)


def test_a_wind_aloft_stronger_than_the_aeroplane_is_a_no():
    documents = case.base()
    case.put(documents, "/day-out/legs/out/wind_aloft", {"speed": 60.0, "wind_from": 1.03})
    answer = case.answers(documents)["reaches"]
    assert answer["verdict"] == "no"
    assert "reason.no_way_ahead" in reasons(answer)


def test_a_cruise_above_the_ceiling_is_no_yes():
    documents = case.base("constants")
    documents["plover"]["cruises"][0]["altitude_high"] = 9000.0
    case.put(documents, "/day-out/legs/out/cruise_altitude", 6500.0)
    assert case.verdicts(documents)["reaches"] in ("no", "can't say")


# --- fits -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("pointer", "value", "verdict"),
    [
        ("/camp/items/tent/size/volume", fig(0.2), "no"),
        ("/camp/items/tent/size/longest", fig(1.4), "no"),
        ("/camp/items/box/size/length", fig(0.9), "no"),
        ("/camp/items/box/not_bays", ["hold"], "no"),
        ("/camp/items/box/must_bays", ["left"], "no"),
        ("/lark/height", fig(1.9), "tight"),
        ("/lark/height", fig(1.95), "no"),
        ("/lark/is_a", "dog", "no"),
        ("/lark/is_a", "child", "yes"),
        ("/wren/flies", False, "no"),
        ("/plover/configurations/steps/bays_out", ["hold"], "no"),
        ("/plover/configurations/steps/seats_out", ["right"], "no"),
        ("/plover/bays/hold/restraint", {"by": "none"}, "tight"),
        ("/plover/bays/hold/restraint", {"by": "rings"}, "can't say"),
        ("/plover/bays/hold/restraint", {"by": "net", "rating": fig(10.0)}, "no"),
    ],
)
def test_what_does_not_fit(pointer, value, verdict):
    documents = case.base()
    case.put(documents, pointer, value)
    assert case.verdicts(documents)["fits"] == verdict


def test_loose_things_near_the_controls_are_a_no():
    documents = case.base()
    case.put(documents, "/plover/bays/hold/restraint", {"by": "none"})
    case.put(documents, "/plover/bays/hold/near_controls", True)
    assert case.verdicts(documents)["fits"] == "no"


# --- all of it --------------------------------------------------------------------------------------------


def test_every_message_has_its_words():
    """Over a handful of very different cases every id is in the catalogue and renders with its figures."""
    found: set[str] = set()
    for sources in ("all", "book", "known", "constants"):
        for pointer in (
            "/air-heath/temperature",
            "/lark/mass",
            "/heath/ground/state",
            "/plover/fuel",
            "/plover/wing",
        ):
            documents = case.drop(case.base(sources), pointer)
            found |= case.texts(case.ask("answer", documents)["result"])
    found |= case.texts(case.ask("answer", case.base())["result"])
    assert {text for text in found if text not in catalogue()} == set()


def test_a_margin_is_what_is_left_of_what_is_available():
    for answer in case.leg(case.base())["answers"]:
        for one in answer["measures"]:
            if one["needed"] is not None and one["available"] is not None:
                assert one["margin"] == pytest.approx(one["available"] - one["needed"])
            else:
                assert one["margin"] is None
        governing = answer["measures"][answer["governing"]]
        assert [answer[k] for k in ("needed", "available", "margin", "unit")] == [
            governing[k] for k in ("needed", "available", "margin", "unit")
        ]


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
