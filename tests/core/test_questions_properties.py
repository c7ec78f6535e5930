"""Over random plausible cases: no exception, no NaN, and taking a figure out never makes a verdict better."""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tussock.errors import Refused

from . import case
from .input_classes import EXCEPT, SAID, needed
from .test_needed_inputs import idle, shown
from .test_questions_effects import add, slopes

#: figures that are moved, and how far
FIGURES = {
    "/lark/mass": (30.0, 140.0),
    "/wren/height": (1.4, 2.1),
    "/camp/items/tent/mass": (0.1, 60.0),
    "/camp/items/tent/size/volume": (0.001, 0.3),
    "/camp/items/box/size/length": (0.05, 1.2),
    "/plover/bays/hold/arm": (-0.5, 2.0),
    "/plover/tanks/main/arm": (-1.5, 1.5),
    "/plover/flaps/first/stall": (14.0, 30.0),
    "/plover/flaps/full/stall": (12.0, 28.0),
    "/plover/limits/takeoff": (400.0, 700.0),
    "/heath/elevation": (-100.0, 3500.0),
    "/moor/elevation": (-100.0, 3500.0),
    "/day-out/legs/out/fuel/main/volume": (0.0, 0.09),
    "/heath/directions/07/departure/obstacles/trees/distance": (0.0, 3000.0),
    "/heath/directions/07/departure/obstacles/trees/height": (-20.0, 200.0),
    "/moor/directions/07/go_around_way/obstacles/barn/height": (0.0, 300.0),
}
CONSTANTS = {
    "/plover/performance/constants/static_thrust": (50.0, 2500.0),
    "/plover/performance/constants/rated_torque": (50.0, 600.0),
    "/plover/performance/constants/zero_lift_drag": (0.01, 0.2),
    "/plover/performance/constants/roll_lift": (-0.2, 2.0),
    "/plover/performance/constants/landing_roll_drag": (0.0, 0.3),
    "/plover/performance/constants/float_factor": (1.0, 1.3),
}
NUMBERS = {
    "/air-heath/temperature": (235.0, 325.0),
    "/air-heath/dew_point": (210.0, 320.0),
    "/air-heath/pressure/qnh": (92_000.0, 108_000.0),
    "/air-moor/temperature": (235.0, 325.0),
    "/day-out/legs/out/cruise_altitude": (0.0, 5000.0),
    "/settings/takeoff_safety": (1.0, 2.0),
    "/settings/sinking_air": (0.0, 4.0),
    "/plover/turn_bank": (0.1, 1.05),
}
angles = st.floats(0.0, 6.28)
winds = st.one_of(
    st.just({"by": "calm"}),
    st.builds(
        lambda fullness, wind_from: {
            "by": "sock",
            "fullness": fullness,
            "wind_from": wind_from,
            "against": "07",
        },
        st.sampled_from([0.0, 0.3, 0.7, 1.0]),
        angles,
    ),
    st.just({"by": "sock", "fullness": 0.0}),
    st.builds(
        lambda speed, more, wind_from: {
            "by": "measured",
            "speed": speed,
            "gust": speed + more,
            "wind_from": wind_from,
        },
        st.floats(0.0, 25.0),
        st.floats(0.0, 10.0),
        angles,
    ),
)
surfaces = st.sampled_from(
    [
        "paved_dry",
        "paved_wet",
        "gravel_dry",
        "grass_short_dry",
        "grass_short_wet",
        "grass_long_wet",
        "soft",
        "snow",
    ]
)


@st.composite
def cases(
    draw: st.DrawFn, among: tuple[str, ...] = ("all", "book", "known", "constants")
) -> tuple[str, case.Documents]:
    """A case with some of its figures moved far, winds, surfaces and slopes of any kind."""
    sources = draw(st.sampled_from(among))
    documents = case.base(sources)
    figures = FIGURES | (CONSTANTS if sources in ("all", "constants") else {})
    for pointer in draw(st.lists(st.sampled_from(sorted(figures)), max_size=4, unique=True)):
        case.put(documents, pointer, case.fig(draw(st.floats(*figures[pointer]))))
    for pointer in draw(st.lists(st.sampled_from(sorted(NUMBERS)), max_size=4, unique=True)):
        case.put(documents, pointer, draw(st.floats(*NUMBERS[pointer])))
    for air in ("air-heath", "air-moor"):
        if draw(st.booleans()):
            documents[air]["dew_point"] = None
        if draw(st.booleans()):
            documents[air]["wind"] = draw(winds)
    for strip in ("heath", "moor"):
        if draw(st.booleans()):
            documents[strip]["ground"]["state"]["surface"] = draw(surfaces)
        if draw(st.booleans()):
            length = draw(st.floats(50.0, 3000.0))
            parts = [length * 0.3, length * 0.7]
            slopes = [draw(st.floats(-0.3, 0.3)) for _ in parts]
            documents[strip]["ground"]["length"] = case.fig(length)
            documents[strip]["ground"]["segments"] = [
                {"length": part, "slope": slope} for part, slope in zip(parts, slopes, strict=True)
            ]
    if draw(st.booleans()):
        documents["day-out"]["legs"][0]["wind_aloft"] = {
            "speed": draw(st.floats(0, 60)),
            "wind_from": draw(angles),
        }
    if draw(st.booleans()):
        hour = draw(st.integers(0, 23))
        documents["day-out"]["legs"][0]["departure"] = f"2026-05-20T{hour:02d}:30:00+02:00"
    return sources, documents


def told(documents: case.Documents) -> dict[str, dict[str, Any]]:
    try:
        return case.quick(documents)
    except Refused:
        assume(False)
        raise


def finite(thing: Any) -> bool:
    if isinstance(thing, float):
        return math.isfinite(thing)
    if isinstance(thing, dict):
        return all(finite(part) for part in thing.values())
    return all(finite(part) for part in thing) if isinstance(thing, list) else True


THOROUGH = {"deadline": None, "derandomize": True, "suppress_health_check": list(HealthCheck)}


@settings(max_examples=80, **THOROUGH)
@given(cases())
def test_any_case_is_answered_in_full(drawn):
    """Through the border, with working, pictures and drivers; the reply is read as strict JSON."""
    _, documents = drawn
    reply = case.ask("answer", documents)
    if "error" in reply:
        assert reply["error"]["code"] in ("impossible", "inconsistent")
        return
    (leg,) = reply["result"]["legs"]
    assert finite(leg)
    verdicts = [answer["verdict"] for answer in leg["answers"]]
    assert leg["verdict"] == min(verdicts, key=case.RANK.__getitem__)
    for answer in leg["answers"]:
        parts = [measure["verdict"] for measure in answer["measures"]]
        assert case.RANK[answer["verdict"]] <= min(case.RANK[part] for part in parts)
        if answer["verdict"] != "yes":
            assert answer["reasons"], "nobody says why"
        for measure in answer["measures"]:
            if measure["margin"] is not None and measure["margin"] < -1e-9:
                assert measure["verdict"] == "no" or measure["name"] == "tipping"


@settings(max_examples=12, **THOROUGH)
@given(cases())
def test_any_case_has_its_remedies_told(drawn):
    _, documents = drawn
    reply = case.ask("remedies", documents, leg=case.LEG)
    assert "error" in reply or finite(reply["result"])


#: what stands in for these is the owner's figure, counted from here: a forecast may well be worse than that
BY_THE_OWNERS_FIGURE = ("/day-out/legs/out/air_to", "/day-out/legs/out/wind_aloft")
REMOVABLE = {
    sources: [
        (pointer, SAID[field][1].split() if field in SAID else list(case.QUESTIONS))
        for shown_by, pointer, field in (p.values for p in shown(needed() | set(SAID)))
        if shown_by == sources and not idle(pointer) and pointer not in (*EXCEPT, *BY_THE_OWNERS_FIGURE)
    ]
    for sources in ("book", "known", "constants")
}


@settings(max_examples=150, **THOROUGH)
@given(cases(("book", "known", "constants")), st.data())
def test_taking_a_figure_out_makes_no_verdict_better(drawn, data):
    """A "no" may become "can't say", nothing may become "tight" or "yes" that was not."""
    sources, documents = drawn
    before = told(documents)
    pointer, questions = data.draw(st.sampled_from(REMOVABLE[sources]))
    try:
        fewer = case.drop(copy.deepcopy(documents), pointer)
    except (KeyError, IndexError, ValueError):
        assume(False)
        raise
    after = told(fewer)
    for question in questions:
        if case.RANK[after[question]["verdict"]] >= case.RANK["tight"]:
            assert case.RANK[after[question]["verdict"]] <= case.RANK[before[question]["verdict"]], (
                pointer,
                question,
            )


@pytest.mark.parametrize("pointer", ["/heath/position", "/moor/elevation", "/lark/mass", "/plover/wing"])
def test_two_figures_out_are_no_better_than_one(pointer):
    """What is missing adds up: no second gap fills the first."""
    for sources, pairs in REMOVABLE.items():
        one = case.quick_verdicts(case.drop(case.base(sources), pointer))
        for other, questions in pairs[::9]:
            if (pointer, other) == ("/lark/mass", "/day-out/loads/camping/seats"):
                continue  # who sits nowhere needs no mass; *fits* says no
            documents = case.drop(case.base(sources), pointer)
            try:
                both = case.quick(case.drop(documents, other))
            except (Refused, KeyError, StopIteration, ValueError):
                continue
            for question in questions:
                assert case.RANK[both[question]["verdict"]] <= max(
                    case.RANK[one[question]], case.RANK["can't say"]
                )


WORSE = {
    "hotter here": (add("/air-heath/temperature", 3.0), ("lifts_off", "climbs_out")),
    "higher here": (add("/air-heath/pressure/qnh", -700.0), ("lifts_off", "climbs_out")),
    "heavier": (add("/lark/mass", 7.0), ("lifts_off", "climbs_out", "stops")),
    "uphill": (slopes("heath", 0.007), ("lifts_off",)),
    "downhill": (slopes("moor", -0.007), ("stops",)),
    "hotter there": (add("/air-moor/temperature", 3.0), ("stops",)),
    "taller trees": (add("/heath/directions/07/departure/obstacles/trees/height", 6.0), ("climbs_out",)),
    "more sinking air": (add("/settings/sinking_air", 0.2), ("climbs_out",)),
}


@settings(max_examples=120, **THOROUGH)
@given(cases(), st.sampled_from(sorted(WORSE)))
def test_what_makes_it_worse_makes_no_verdict_better(drawn, effect):
    """The same signs as in `test_questions_effects`, far from the case that they are shown on there."""
    _, documents = drawn
    documents["settings"].setdefault("sinking_air", 1.524)
    before = told(documents)
    change, questions = WORSE[effect]
    change(documents)
    after = told(documents)
    for question in questions:
        if "reason.outside_table" in case.reasons(before[question]):
            continue  # what is worse may lie inside the table again
        if "reason.low.sinking_air" in case.reasons(before[question]):
            continue  # a rule that kind is capped itself
        if "reason.dew_point_decides" in case.reasons(before[question]):
            continue  # between yes and tight it can't say; what is worse may be tight in any moisture
        if case.RANK[after[question]["verdict"]] >= case.RANK["tight"]:
            assert case.RANK[after[question]["verdict"]] <= case.RANK[before[question]["verdict"]], question
    # far beyond the strip the factor for a tailwind, counted in tenths of the speed, outgrows that for mass
    for question, name in (("lifts_off", "takeoff_distance"), ("stops", "landing_distance")):
        then, now = (
            next((m for m in found[question]["measures"] if m["name"] == name), None)
            for found in (before, after)
        )
        if question in questions and then and now and None not in (then["margin"], now["margin"]):
            assert now["margin"] <= then["margin"] + 1e-6 or then["needed"] > 2.0 * then["available"]
