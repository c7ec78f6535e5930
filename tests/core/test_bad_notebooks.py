"""A notebook that tells of worse than the documents never betters a verdict, however bad or odd it gets."""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest

from tussock.questions.answer import RANK

from . import case
from .case import fig

LITRE, HOUR = 1e-3, 3600.0


def entry(number: int, what: str, **fields: Any) -> dict[str, Any]:
    same = {
        "id": f"e{number}",
        "at": f"2026-05-{1 + number:02d}T08:00:00+02:00",
        "what": what,
        "configuration": "steps",
        "mass": fig(560.0),
        "pressure_altitude": 300.0,
        "temperature": 290.0,
    }
    return same | fields


def takeoff(number: int, times: float, **fields: Any) -> dict[str, Any]:
    run = {"headwind": 0.0, "slope": 0.0, "surface": "grass_short_dry", "flap": "first"}
    return entry(number, "takeoff", roll=fig(180.0 * times), over_50ft=fig(340.0 * times), **run | fields)


def climb(number: int, rate: float) -> dict[str, Any]:
    return entry(number, "climb", indicated=fig(26.0), rate=fig(rate), flap="first")


def with_notebook(*entries: dict[str, Any], strip: float | None = None) -> case.Documents:
    documents = case.base("constants")
    if strip is not None:
        documents["heath"]["ground"]["length"] = fig(strip)
        documents["heath"]["ground"]["segments"] = [{"length": strip, "slope": 0.0}]
    if entries:
        documents["notes"] = {
            "kind": "notebook",
            "id": "notes",
            "name": "Notes",
            "aeroplane": "plover",
            "entries": list(entries),
        }
    return documents


def rank(documents: case.Documents, question: str) -> int:
    return RANK[case.verdicts(documents)[question]]


def several(times: float) -> list[dict[str, Any]]:
    return [takeoff(i, times * (1.0 + 0.02 * (i % 3))) for i in range(1, 7)]


def test_the_longer_the_runs_that_were_noted_the_less_is_said():
    told = [
        rank(with_notebook(*several(k), strip=600.0), "lifts_off") for k in (1.0, 1.5, 2.0, 2.6, 2.8, 4.0)
    ]
    assert told[0] == RANK["yes"]
    assert "tight" in {verdict for verdict, value in RANK.items() if value in told}
    # a notebook too bad to be fitted is no good news: it leaves "no", and comes back to nothing better
    assert max(told[2:]) <= RANK["can't say"]
    assert told[2] == RANK["no"]


@pytest.mark.parametrize("times", [1.4, 2.0, 2.6, 3.5])
def test_one_bad_run_alone_takes_the_bare_yes_away(times):
    assert rank(with_notebook(strip=550.0), "lifts_off") == RANK["yes"]
    assert rank(with_notebook(takeoff(1, times), strip=550.0), "lifts_off") <= RANK["tight"]


@pytest.mark.parametrize("rate", [2.0, 1.6, 1.5, 1.0, 0.3])
def test_the_less_it_was_noted_to_climb_the_less_is_said(rate):
    assert rank(with_notebook(), "climbs_out") == RANK["yes"]
    documents = with_notebook(*(climb(i, rate + 0.05 * i) for i in range(1, 4)))
    assert rank(documents, "climbs_out") <= RANK["tight" if rate > 1.5 else "can't say"]


@pytest.mark.parametrize(
    "odd",
    [
        [climb(10, 11.0), climb(11, 11.2)],
        [entry(i, "level", indicated=fig(60.0)) for i in (10, 11)],
        [entry(i, "static", rotation=fig(32.0)) for i in (10, 11, 12)],
    ],
    ids=["climbs", "level runs", "static"],
)
def test_entries_of_another_kind_that_fit_nothing_do_not_silence_bad_runs(odd):
    assert rank(with_notebook(*several(2.0), strip=600.0), "lifts_off") == RANK["no"]
    assert rank(with_notebook(*several(2.0), *odd, strip=600.0), "lifts_off") <= RANK["can't say"]


def test_an_engine_that_was_noted_to_turn_too_slow_leaves_no_yes():
    documents = with_notebook(*(entry(i, "static", rotation=fig(32.0)) for i in (1, 2, 3)))
    for question in ("lifts_off", "climbs_out"):
        assert rank(documents, question) <= RANK["can't say"]


@pytest.mark.parametrize(("count", "best"), [(1, "tight"), (3, "can't say")])
def test_stalls_noted_faster_than_the_figures_leave_no_yes(count, best):
    stalls = [entry(i, "stall", indicated=fig(21.5), flap="full") for i in range(1, count + 1)]
    documents = with_notebook(*stalls)
    assert rank(with_notebook(), "stops") == RANK["yes"]
    assert rank(documents, "stops") <= RANK[best]
    sound = [entry(i, "stall", indicated=fig(17.2), flap="full") for i in range(1, 4)]
    assert rank(with_notebook(*sound), "stops") == RANK["yes"]


# --- fuel ---------------------------------------------------------------------------------------------------


def cruising(litres: float, flow: float, *entries: dict[str, Any]) -> dict[str, Any]:
    documents = with_notebook(*entries)
    documents[case.TRIP]["legs"][0]["fuel"] = [{"tank": "main", "volume": fig(litres * LITRE)}]
    documents["plover"]["cruises"][0]["flow"] = fig(flow * LITRE / HOUR)
    found: dict[str, Any] = case.answers(documents)["reaches"]
    return found


def drunk(number: int, flow: float) -> dict[str, Any]:
    return entry(number, "cruise", indicated=fig(40.0), flow=fig(flow * LITRE / HOUR))


def test_an_engine_that_was_noted_to_drink_more_reaches_less_far():
    assert cruising(45.0, 16.0)["verdict"] == "yes"
    assert cruising(45.0, 32.0)["verdict"] == "no"
    told = cruising(45.0, 16.0, *(drunk(i, 32.0) for i in (1, 2, 3)))
    assert told["verdict"] != "yes"
    noted = cruising(45.0, 16.0, *(drunk(i, 22.0) for i in (1, 2, 3)))
    assert noted["needed"] > cruising(45.0, 16.0)["needed"] * 1.15
    (said,) = (one["values"] for one in noted["assumptions"] if one["text"] == "assumed.flow_noted")
    assert said["low"] < said["noted"] < said["high"], "with its band"
    assert cruising(45.0, 16.0, drunk(1, 24.0))["verdict"] == "tight", "one alone may be wrong"
    less = cruising(45.0, 16.0, *(drunk(i, 12.0) for i in (1, 2, 3)))
    assert less["needed"] == cruising(45.0, 16.0)["needed"], "nothing gets better by it"


# --- what an entry is worth ---------------------------------------------------------------------------------


def tuned(*entries: dict[str, Any]) -> dict[str, Any]:
    result: dict[str, Any] = case.ask("tune", with_notebook(*entries))["result"]
    return result


def test_a_thumb_that_pressed_twice_noted_one_entry():
    once = takeoff(1, 1.0)
    again = copy.deepcopy(once) | {"id": "e2", "at": "2026-05-02T08:00:20+02:00"}
    left = {one["entry"]: one["reason"]["text"] for one in tuned(once, again)["left_out"]}
    assert left == {"e2": "tune.left.twice"}
    other = again | {"at": "2026-05-03T08:00:00+02:00"}
    assert tuned(once, other)["left_out"] == []


def test_a_guessed_mass_tells_less():
    def band(mass: dict[str, Any]) -> float:
        documents = with_notebook(*(takeoff(i, 1.0 + 0.02 * i) | {"mass": mass} for i in range(1, 6)))
        (part,) = (
            one
            for one in case.answers(documents)["lifts_off"]["measures"]
            if one["name"] == "takeoff_distance"
        )
        return math.log(part["band"]["high"] / part["band"]["low"])

    sure, guessed = band(fig(560.0)), band({"value": 560.0, "origin": "estimated"})
    assert guessed > sure * 1.01
    assert band({"value": 560.0, "origin": "estimated", "sd": 80.0}) > guessed


def test_constants_kept_from_a_notebook_are_measured_only_as_far_as_it_told_them():
    documents = with_notebook(*(takeoff(i, 1.0 + 0.01 * i) for i in range(1, 4)))
    source = next(s for s in documents["plover"]["performance"] if s["source"] == "constants")
    drag = ("zero_lift_drag", "efficiency", "propeller_intercept")
    for name in drag:
        source[name]["origin"] = "estimated"
    kept = case.ask("tune", documents)["result"]["source"]
    assert {kept[name]["origin"] for name in drag} == {"estimated"}, "runs on the ground tell no drag"
    source["zero_lift_drag"]["origin"] = "measured"
    kept = case.ask("tune", documents)["result"]["source"]
    assert kept["zero_lift_drag"]["origin"] == "measured", "it is as well known as it was"
