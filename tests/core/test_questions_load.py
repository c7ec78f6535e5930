"""Balance, fuel, light and bulk at their edges, and what holds for every answer.

All goes through the border, whose JSON is read strictly: a figure that is not finite fails by itself.
"""

from __future__ import annotations

import copy

import pytest

from tussock.text import catalogue, say

from . import case
from .case import KNOT, fig, measure, reasons

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


def on_a_lap(*also: str, takes: tuple[str, ...] = ("adult", "lap_infant")) -> case.Documents:
    """The right seat takes an infant on a lap: one sits there, with others."""
    documents = case.base()
    documents["plover"]["seats"][1]["takes"] = list(takes)
    seats = documents[case.TRIP]["loads"][0]["seats"]
    seats[1:] = [{"seat": "right", "person": name} for name in (*also, "mite")]
    for name in ("mite", "wee"):
        documents[name] = {"kind": "person", "id": name, "name": name.title(), "is_a": "infant"}
        documents[name]["mass"] = case.fig(9.0)
    return documents


@pytest.mark.parametrize(
    ("also", "takes", "reason"),
    [
        (("lark",), ("adult", "lap_infant"), None),
        ((), ("adult", "lap_infant"), "reason.no_lap"),
        ((), ("lap_infant",), "reason.no_lap"),
        ((), ("child_seat",), None),
        ((), ("adult", "child_seat"), None),
        (("lark", "wee"), ("adult", "lap_infant"), "reason.seat_shared"),
    ],
)
def test_an_infant_rides_on_the_lap_of_somebody(also, takes, reason):
    answer = case.answers(on_a_lap(*also, takes=takes))["fits"]
    assert answer["verdict"] == ("no" if reason else "yes")
    assert reason is None or reason in case.reasons(answer)


def test_an_infant_on_the_lap_of_the_only_one_who_flies_is_no_yes():
    documents = on_a_lap("lark")
    documents["plover"]["seats"][0]["takes"] = ["adult", "lap_infant"]
    documents[case.TRIP]["loads"][0]["seats"][-1]["seat"] = "left"
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "tight"
    assert "reason.lap_flies" in case.reasons(answer)
    # somebody else can fly as well
    documents["plover"]["seats"][1]["controls"] = True
    documents["lark"]["flies"] = True
    assert case.verdicts(documents)["fits"] == "yes"


@pytest.mark.parametrize("kind", ["infant", "child", "dog"])
def test_whoever_is_not_grown_up_does_not_fly_whatever_is_ticked(kind):
    documents = case.base()
    documents["plover"]["seats"][1] |= {"controls": True, "takes": ["adult", "child_seat", "dog_crate"]}
    documents["wren"]["flies"] = False
    documents["lark"] |= {"flies": True, "is_a": kind}
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "no"
    assert "reason.nobody_flies" in case.reasons(answer)


def test_a_seat_bears_the_infant_on_the_lap_too():
    documents = on_a_lap("lark")
    documents["plover"]["seats"][1]["mass_limit"] = case.fig(75.0)
    answer = case.answers(documents)["balances"]
    assert answer["verdict"] == "no"
    assert max(m["needed"] for m in answer["measures"] if m["name"] == "seat_mass") == pytest.approx(80.0)
    found = next(m for m in answer["measures"] if m["values"].get("person") == "Lark + Mite")
    assert found["needed"] == pytest.approx(79.0)
