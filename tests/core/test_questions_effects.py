"""What makes it worse never makes a margin better: each effect, on each source alone and on all together.

Common practice, no source: hotter, higher, heavier, a tailwind, uphill at take-off and downhill at landing,
wet grass and gusts cost distance; heat, height and mass cost climb.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Callable
from typing import Any

import pytest

from . import case

SOURCES = ["all", "book", "known", "constants"]
Change = Callable[[case.Documents], Any]


def margin(answer: dict[str, Any], name: str) -> float:
    """Margin of the named measure; minus infinity when it is impossible, nan when it can't be said."""
    found = next(m for m in answer["measures"] if m["name"] == name)
    if found["margin"] is not None:
        return float(found["margin"])
    return -math.inf if found["verdict"] == "no" else math.nan


def add(pointer: str, step: float) -> Change:
    """Add a step to a number, or to the value of a figure."""

    def change(documents: case.Documents) -> None:
        where, name = case.parent(documents, pointer)
        if isinstance(where[name], dict):
            where[name]["value"] += step
        else:
            where[name] += step

    return change


def slopes(strip: str, step: float) -> Change:
    def change(documents: case.Documents) -> None:
        for segment in documents[strip]["ground"]["segments"]:
            segment["slope"] += step

    return change


def surface(strip: str, name: str) -> Change:
    return lambda documents: case.put(documents, f"/{strip}/ground/state/surface", name)


def wind(air: str, **told: Any) -> Change:
    """A wind told against direction 07."""
    return lambda documents: case.put(
        documents, f"/{air}/wind", {"by": "measured", "against": "07", "wind_from": 0.0, **told}
    )


HEAVIER = add("/lark/mass", 15.0)
TAKEOFF = {
    "hotter": add("/air-heath/temperature", 6.0),
    "higher": add("/air-heath/pressure/qnh", -1500.0),
    "moister": add("/air-heath/dew_point", 8.0),
    "heavier": HEAVIER,
    "uphill": slopes("heath", 0.01),
    "wet": surface("heath", "grass_short_wet"),
    "tailwind": wind("air-heath", speed=2.0, gust=2.0, wind_from=math.pi),
    "lull": wind("air-heath", speed=1.0, gust=5.0, wind_from=0.6),
    "faster stall": add("/plover/flaps/first/stall", 1.0),
}
LANDING = {
    "hotter": add("/air-moor/temperature", 6.0),
    "higher": add("/air-moor/pressure/qnh", -1500.0),
    "heavier": HEAVIER,
    "downhill": slopes("moor", -0.01),
    "wet": surface("moor", "grass_short_wet"),
    "tailwind": wind("air-moor", speed=3.0, gust=3.0, wind_from=math.pi),
    "gusts": wind("air-moor", speed=1.5, gust=4.0, wind_from=2.5),
    "faster stall": add("/plover/flaps/full/stall", 1.0),
}
#: a book or a known distance has its own stall in it: there a faster one only makes the wind weigh less
UNFELT = {("faster stall", "book"), ("faster stall", "known"), ("faster stall", "all")}


def felt(effects: dict[str, Change]) -> list[tuple[str, str]]:
    return [(effect, sources) for effect in effects for sources in SOURCES if (effect, sources) not in UNFELT]


def compared(sources: str, change: Change, question: str, name: str) -> tuple[float, float]:
    documents = case.base(sources)
    before = margin(case.quick(documents)[question], name)
    change(documents)
    return before, margin(case.quick(documents)[question], name)


@pytest.mark.parametrize(("effect", "sources"), felt(TAKEOFF))
def test_take_off_is_longer(effect, sources):
    before, after = compared(sources, TAKEOFF[effect], "lifts_off", "takeoff_distance")
    if sources == "all":
        assert after <= before + 1e-9
    else:
        assert after < before - 0.1


@pytest.mark.parametrize(("effect", "sources"), felt(LANDING))
def test_landing_is_longer(effect, sources):
    before, after = compared(sources, LANDING[effect], "stops", "landing_distance")
    if sources == "all":
        assert after <= before + 1e-9
    else:
        assert after < before - 0.1


@pytest.mark.parametrize("sources", SOURCES)
def test_gusts_on_the_nose_roll_out_too(sources):
    """The lull counts as headwind, half the spread is carried on the approach."""
    documents = case.base(sources)
    found = []
    for gust in (3.0, 5.0, 8.0):
        wind("air-moor", speed=3.0, gust=gust)(documents)
        found.append(margin(case.quick(documents)["stops"], "landing_distance"))
    assert found[0] > found[1] + 1.0
    assert found[1] > found[2] + 1.0


@pytest.mark.parametrize("sources", SOURCES)
@pytest.mark.parametrize("effect", ["hotter", "higher", "heavier", "moister", "tailwind"])
@pytest.mark.parametrize("name", ["gradient", "obstacle", "ridge"])
def test_the_way_out_is_flatter(sources, effect, name):
    before, after = compared(sources, TAKEOFF[effect], "climbs_out", name)
    assert after < before


@pytest.mark.parametrize("effect", ["hotter", "higher", "heavier", "tailwind"])
@pytest.mark.parametrize("sources", SOURCES)
def test_the_go_around_is_flatter(sources, effect):
    before, after = compared(sources, LANDING[effect], "stops", "go_around")
    assert after < before


@pytest.mark.parametrize("sources", SOURCES)
def test_downhill_is_no_credit_to_the_factors_nor_uphill_to_a_landing(sources):
    before, after = compared(sources, slopes("heath", -0.03), "lifts_off", "takeoff_distance")
    if sources in ("book", "known"):
        level, _ = compared(sources, slopes("heath", -0.0001), "lifts_off", "takeoff_distance")
        documents = case.base(sources)
        for segment in documents["heath"]["ground"]["segments"]:
            segment["slope"] = 0.0
        flat = margin(case.quick(documents)["lifts_off"], "takeoff_distance")
        assert after == pytest.approx(flat)
        assert before <= flat
        assert level <= flat
    documents = case.base(sources)
    for segment in documents["moor"]["ground"]["segments"]:
        segment["slope"] = 0.0
    flat = margin(case.quick(documents)["stops"], "landing_distance")
    slopes("moor", 0.04)(documents)
    assert margin(case.quick(documents)["stops"], "landing_distance") == pytest.approx(flat)


@pytest.mark.parametrize("sources", SOURCES)
@pytest.mark.parametrize(
    ("pointer", "step", "question", "name"),
    [
        ("/settings/takeoff_safety", 0.2, "lifts_off", "takeoff_distance"),
        ("/settings/landing_safety", 0.2, "stops", "landing_distance"),
        ("/settings/sinking_air", 0.3, "climbs_out", "gradient"),
        ("/settings/least_gradient", 0.01, "climbs_out", "gradient"),
        ("/settings/obstacle_clearance", 10.0, "climbs_out", "obstacle"),
        ("/settings/ridge_clearance", 100.0, "climbs_out", "ridge"),
        ("/settings/contingency", 0.1, "reaches", "fuel"),
        ("/settings/reserve/time", 600.0, "reaches", "fuel"),
        ("/settings/before_sunset", 3600.0, "reaches", "daylight"),
    ],
)
def test_a_stricter_setting_leaves_less(sources, pointer, step, question, name):
    documents = case.base(sources)
    for told, value in {
        "takeoff_safety": 1.33,
        "landing_safety": 1.43,
        "sinking_air": 1.524,
        "least_gradient": 0.0329,
        "obstacle_clearance": 15.0,
        "ridge_clearance": 150.0,
        "contingency": 0.05,
        "before_sunset": 1800.0,
    }.items():
        documents["settings"][told] = value
    before = margin(case.quick(documents)[question], name)
    add(pointer, step)(documents)
    assert margin(case.quick(documents)[question], name) < before


# --- invariances ------------------------------------------------------------------------------------------


def figures(documents: case.Documents, question: str) -> list[Any]:
    return [
        (m["name"], m["verdict"], m["needed"], m["available"])
        for m in case.quick(documents)[question]["measures"]
    ]


@pytest.mark.parametrize("sources", SOURCES)
def test_the_other_direction_turns_slope_and_wind_round(sources):
    """Ground mirrored, wind turned by half a circle and the other direction taken: the same take-off."""
    documents = case.base(sources)
    then = figures(documents, "lifts_off")
    ground = documents["heath"]["ground"]
    ground["segments"] = [{**s, "slope": -s["slope"]} for s in reversed(ground["segments"])]
    blown = documents["air-heath"]["wind"]
    blown["against"] = "25"
    documents["day-out"]["legs"][0]["takeoff_direction"] = "25"
    for told, found in zip(then, figures(documents, "lifts_off"), strict=True):
        assert found[:2] == told[:2]
        assert found[2:] == pytest.approx(told[2:], rel=1e-3)


@pytest.mark.parametrize("sources", SOURCES)
def test_the_other_direction_alone_is_uphill_and_downwind(sources):
    documents = case.base(sources)
    for segment in documents["heath"]["ground"]["segments"]:
        segment["slope"] = -0.02
    then = margin(case.quick(documents)["lifts_off"], "takeoff_distance")
    documents["day-out"]["legs"][0]["takeoff_direction"] = "25"
    assert margin(case.quick(documents)["lifts_off"], "takeoff_distance") < then - 50.0


@pytest.mark.parametrize("turned", [0.3, 1.7, 4.0])
def test_the_compass_may_be_turned(turned):
    """Strips and winds turned together are the same take-off and landing: nothing hangs on north."""
    documents = case.base()
    then = {q: figures(documents, q) for q in ("lifts_off", "stops")}
    for strip in ("heath", "moor"):
        for direction in documents[strip]["directions"]:
            direction["bearing"] = (direction["bearing"] + turned) % (2 * math.pi)
    for question, told in then.items():
        for one, other in zip(told, figures(documents, question), strict=True):
            assert other[:2] == one[:2]
            assert other[2:] == pytest.approx(one[2:], rel=1e-9)


def test_order_and_names_of_things_do_not_matter():
    documents = case.base()
    then = case.leg(documents)
    for kind in ("seats", "flaps", "performance", "configurations", "cruises"):
        documents["plover"][kind].reverse()
    documents["camp"]["items"].reverse()
    documents["day-out"]["loads"][0]["placed"].reverse()
    turned = dict(reversed(documents.items()))
    now = case.leg(turned)
    assert now["verdict"] == then["verdict"]
    for one, other in zip(then["answers"], now["answers"], strict=True):
        assert other["verdict"] == one["verdict"]
        assert other["margin"] == pytest.approx(one["margin"], rel=1e-9)


def test_a_datum_moved_moves_no_verdict():
    """All arms counted from a datum a metre ahead: the same balance."""
    documents = case.base()
    then = figures(documents, "balances")
    plane = documents["plover"]
    arms = [*plane["seats"], *plane["bays"], *plane["tanks"], plane["engine"]["oil"]]
    arms += [*plane["configurations"][0]["weighing"]["scales"], *plane["configurations"][1]["changes"]]
    for station in arms:
        station["arm"]["value"] += 1.0
    for wheel in ("main_arm", "other_arm"):
        plane["undercarriage"][wheel]["value"] += 1.0
    for corner in plane["envelopes"][0]["vertices"]:
        corner["across"] += 1.0
    for one, other in zip(then, figures(documents, "balances"), strict=True):
        assert other[:2] == one[:2]
        assert other[2:] == pytest.approx(one[2:], rel=1e-9)


def test_an_envelope_by_moment_with_the_same_corners_judges_points_near_them_alike():
    documents = case.base()
    other = copy.deepcopy(documents)
    envelope = other["plover"]["envelopes"][0]
    envelope["axes"] = "mass_moment"
    for corner in envelope["vertices"]:
        corner["across"] *= corner["mass"]
    assert case.quick(other)["balances"]["verdict"] == case.quick(documents)["balances"]["verdict"] == "yes"


def test_the_longest_roll_of_all_sources_is_drawn_and_halved():
    """The source that decides by its way to 50 ft may say a short roll: the abort point takes the longest."""
    documents = case.base("all")
    (known,) = (one for one in documents["plover"]["performance"] if one["id"] == "known-takeoff")
    known["over_50ft"]["value"], known["roll"]["value"] = 500.0, 60.0
    picture = case.answers(documents)["lifts_off"]["picture"]
    decides = max(picture["sources"], key=lambda one: one["over_50ft"])
    assert decides["kind"] == "known"
    rolls = [one["roll"] for one in picture["sources"]]
    assert picture["roll"] == max(rolls) > 1.5 * decides["roll"]
    assert picture["abort"]["distance"] <= picture["roll"] / 2 + 1e-9
