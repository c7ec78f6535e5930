"""Remedies keep their word: applied by their own edits and answered again, they give what they say."""

from __future__ import annotations

import copy
import math
from typing import Any

import pytest

from . import case
from .case import KNOT, fig

LITRE = 1e-3


def applied(documents: case.Documents, edits: list[dict[str, Any]]) -> case.Documents:
    """Fresh documents with edits applied; elements of lists are told by id or by their naming field."""
    changed = copy.deepcopy(documents)
    for edit in edits:
        case.put(changed, f"/{edit['document']}{edit['pointer']}", copy.deepcopy(edit["value"]))
    return changed


def remedies(documents: case.Documents, now: str = case.NOW) -> list[dict[str, Any]]:
    reply = case.ask("remedies", documents, leg=case.LEG, now=now)
    assert "result" in reply, reply
    return reply["result"]["remedies"]


def of_kind(found: list[dict[str, Any]], kind: str) -> list[dict[str, Any]]:
    return [one for one in found if one["kind"] == kind]


# --- cases that something would turn ----------------------------------------------------------------------


def short(length: float, sources: str = "constants") -> case.Documents:
    """A strip of departure so short that little mass decides."""
    documents = case.base(sources)
    documents["heath"]["ground"] |= {"length": fig(length), "segments": [{"length": length, "slope": 0.0}]}
    return documents


def too_short() -> case.Documents:
    documents = short(700.0, "known")
    needed = case.quick(documents)["lifts_off"]["needed"]
    return short(needed - 4.0, "known")


def out_of_fuel() -> case.Documents:
    return case.put(case.base(), "/day-out/legs/out/fuel/main/volume", fig(0.022))


def too_bulky() -> case.Documents:
    return case.put(case.base(), "/plover/bays/hold/volume", fig(0.05))


def downwind() -> case.Documents:
    documents = case.base()
    documents["air-heath"]["wind"] = {
        "by": "measured",
        "speed": 5.0,
        "gust": 5.0,
        "wind_from": 3.0,
        "against": "07",
    }
    return documents


def hot() -> case.Documents:
    """At half past two, in the heat, a strip that would do in the morning or in the evening."""
    documents = short(700.0, "known")
    documents["air-heath"] |= {
        "at": "2026-05-20T14:10:00+02:00",
        "temperature": 304.0,
        "day": {"minimum": 280.0, "maximum": 304.5},
        "wind": {"by": "calm"},
    }
    documents["air-moor"]["at"] = "2026-05-20T15:00:00+02:00"
    case.put(documents, "/day-out/legs/out/departure", "2026-05-20T14:30:00+02:00")
    needed = case.quick(documents, "2026-05-20T14:20:00+02:00")["lifts_off"]["needed"]
    length = needed - 8.0
    documents["heath"]["ground"] |= {"length": fig(length), "segments": [{"length": length, "slope": 0.0}]}
    return documents


def short_and_still() -> case.Documents:
    documents = too_short()
    documents["air-heath"]["wind"] = {"by": "calm"}
    return documents


AFTERNOON = "2026-05-20T14:20:00+02:00"
CASES = {
    "too short": (too_short, case.NOW, {"mass", "fuel"}),
    "short and still": (short_and_still, case.NOW, {"wind"}),
    "out of fuel": (out_of_fuel, case.NOW, {"fuel"}),
    "too bulky": (too_bulky, case.NOW, {"mass"}),
    "downwind": (downwind, case.NOW, {"direction", "wind"}),
    "hot": (hot, AFTERNOON, {"hour"}),
}


@pytest.fixture(scope="module")
def tried() -> dict[str, tuple[case.Documents, str, list[dict[str, Any]]]]:
    found = {}
    for name, (make, now, _) in CASES.items():
        documents = make()
        found[name] = (documents, now, remedies(documents, now))
    return found


@pytest.mark.parametrize("name", CASES)
def test_there_is_such_a_remedy(tried, name):
    assert CASES[name][2] <= {one["kind"] for one in tried[name][2]}


@pytest.mark.parametrize("name", CASES)
def test_applied_it_gives_what_it_promises(tried, name):
    documents, now, found = tried[name]
    before = case.quick_verdicts(documents, now)
    for one in found:
        assert one["turns"]
        promised = {answer["question"]: answer for answer in one["answers"]}
        for question in one["turns"]:
            assert case.RANK[promised[question]["verdict"]] >= case.RANK["tight"]
            assert case.RANK[promised[question]["verdict"]] > case.RANK[before[question]]
        for question, answer in promised.items():
            assert case.RANK[answer["verdict"]] >= case.RANK[before[question]], "it makes something worse"
        if one["kind"] == "wind":
            assert one["edits"] == [], "nobody can choose the wind"
            continue
        now_found = case.answers(applied(documents, one["edits"]), now=now)
        for question, answer in promised.items():
            assert now_found[question]["verdict"] == answer["verdict"]
            for figure in ("margin", "needed", "available"):
                told, given = now_found[question][figure], answer[figure]
                assert told == given or told == pytest.approx(given, rel=1e-9)
        worst = min((a["verdict"] for a in now_found.values()), key=case.RANK.__getitem__)
        assert one["verdict"] == worst


def good(documents: case.Documents, now: str, promised: dict[str, Any]) -> bool:
    """Whether a change is as good as promised for every question that the remedy turns."""
    found = case.quick(documents, now)
    wanted = {a["question"]: a["verdict"] for a in promised["answers"]}
    return all(case.RANK[found[q]["verdict"]] >= case.RANK[wanted[q]] for q in promised["turns"])


@pytest.mark.parametrize("name", ["too short", "out of fuel"])
def test_a_litre_less_would_not_do(tried, name):
    documents, now, found = tried[name]
    aboard = case.element(documents["day-out"]["legs"][0]["fuel"], "main")["volume"]["value"]
    for one in of_kind(found, "fuel"):
        then = one["edits"][0]["value"]["value"]
        assert good(applied(documents, one["edits"]), now, one)
        nearer = then - LITRE if then > aboard else then + LITRE
        edit = one["edits"][0] | {"value": fig(nearer)}
        assert not good(applied(documents, [edit]), now, one)


@pytest.mark.parametrize("name", ["too short", "too bulky"])
def test_nothing_that_is_left_behind_could_have_come(tried, name):
    documents, now, found = tried[name]
    for one in of_kind(found, "mass"):
        assert good(applied(documents, one["edits"]), now, one)
        for spared in one["edits"] if len(one["edits"]) > 1 else []:
            fewer = [edit for edit in one["edits"] if edit is not spared]
            assert not good(applied(documents, fewer), now, one)


def test_the_lightest_single_thing_that_does_is_named(tried):
    documents, now, found = tried["too short"]
    single = next(one for one in of_kind(found, "mass") if len(one["edits"]) == 1)
    masses = {"tent": 6.2, "box": 5.0}
    left = single["edits"][0]["pointer"].split("/")[-2]
    for other, mass in masses.items():
        if mass < masses[left]:
            edit = {"document": "day-out", "pointer": f"/loads/camping/placed/{other}/bay", "value": None}
            assert not good(applied(documents, [edit]), now, single)


@pytest.mark.parametrize("name", ["short and still", "downwind"])
def test_a_knot_less_would_not_do(tried, name):
    documents, now, found = tried[name]
    for one in of_kind(found, "wind"):
        knots = one["change"]["values"]["headwind"] / KNOT
        assert knots > 0, "never more tailwind"

        def blown(speed: float) -> case.Documents:
            ahead = {"by": "measured", "speed": speed * KNOT, "wind_from": 0.0, "against": "07"}
            return case.put(copy.deepcopy(documents), "/air-heath/wind", ahead)

        assert good(blown(knots), now, one)
        assert knots < 1.5 or not good(blown(knots - 1.0), now, one)


def test_another_hour_is_a_cooler_one_and_told_as_a_forecast(tried):
    for one in of_kind(tried["hot"][2], "hour"):
        by_pointer = {edit["pointer"]: edit["value"] for edit in one["edits"]}
        assert by_pointer["/legs/out/departure"] == by_pointer["/at"] > "2026-05-20T14:30"
        assert by_pointer["/temperature"] < 304.0
        assert by_pointer["/origin"] == "forecast"


# --- what is never offered --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "role",
    ["survival", "water", "tie_down", "beacon", "first_aid", "extinguisher", "oil", "child_restraint"],
)
def test_what_keeps_people_alive_is_never_left_behind(role):
    documents = too_bulky()
    for item in documents["camp"]["items"]:
        item["role"] = role
    assert case.quick(documents)["fits"]["verdict"] == "no"
    assert of_kind(remedies(documents), "mass") == []


def test_what_must_come_is_never_left_behind():
    documents = too_bulky()
    for item in documents["camp"]["items"]:
        item["must_come"] = True
    assert of_kind(remedies(documents), "mass") == []


def test_only_what_may_stay_is_named(tried):
    for documents, _, found in tried.values():
        may_stay = {i["id"] for i in documents["camp"]["items"] if i.get("role", "general") == "general"}
        for one in of_kind(found, "mass"):
            assert {edit["pointer"].split("/")[-2] for edit in one["edits"]} <= may_stay


def test_reserve_fuel_is_never_given_away():
    """Four metres of roll can be had for fuel to spare; six only for some that *reaches* stands on."""
    fuel = "/day-out/legs/out/fuel/main/volume"

    def lacking(by: float) -> case.Documents:
        needed = case.quick(case.put(short(700.0, "known"), fuel, fig(0.036)))["lifts_off"]["needed"]
        return case.put(short(needed - by, "known"), fuel, fig(0.036))

    documents = lacking(4.0)
    before = case.quick(documents)["reaches"]
    (one,) = of_kind(remedies(documents), "fuel")
    after = {a["question"]: a for a in one["answers"]}["reaches"]
    assert 0.0 < after["margin"] < before["margin"]
    assert after["verdict"] == before["verdict"] == "yes"
    documents = lacking(6.0)
    assert of_kind(remedies(documents), "fuel") == []
    drained = case.quick(case.put(documents, fuel, fig(0.030)))
    assert drained["lifts_off"]["verdict"] == "tight"
    assert drained["reaches"]["verdict"] == "tight"


def test_a_direction_that_is_closed_is_not_offered():
    documents = downwind()
    case.put(documents, "/heath/directions/25/use", "landing")
    assert of_kind(remedies(documents), "direction") == []


def test_another_hour_does_not_blow_the_wind_away():
    """A crosswind over the limit at noon is no less for going at six."""
    documents = hot()
    documents["air-heath"]["wind"] = {
        "by": "measured",
        "speed": 9.0,
        "gust": 9.0,
        "wind_from": 1.5,
        "against": "07",
    }
    assert case.quick(documents, AFTERNOON)["lifts_off"]["verdict"] == "no"
    assert of_kind(remedies(documents, AFTERNOON), "hour") == []


def test_another_hour_takes_no_headwind_but_keeps_what_blows_across():
    documents = hot()
    blown = {"by": "measured", "speed": 3.0, "gust": 4.0, "wind_from": 0.7, "against": "07"}
    documents["air-heath"]["wind"] = blown
    length = case.quick(documents, AFTERNOON)["lifts_off"]["needed"] - 8.0
    documents["heath"]["ground"] |= {"length": fig(length), "segments": [{"length": length, "slope": 0.0}]}
    found = of_kind(remedies(documents, AFTERNOON), "hour")
    assert found
    for one in found:
        wind = case.answers(applied(documents, one["edits"]), now=AFTERNOON)["lifts_off"]["picture"]["wind"]
        assert wind["headwind"] == pytest.approx(0.0, abs=1e-9)
        assert abs(wind["crosswind"]) >= 4.0 * math.sin(0.7) - 1e-9


def test_a_yes_and_a_cant_say_want_no_remedy():
    assert remedies(case.base()) == []
    documents = case.drop(case.base(), "/lark/mass")
    assert remedies(documents) == []


def test_asked_by_kinds_the_same_ones_come():
    documents = too_short()
    whole = remedies(documents)
    parts = []
    for kind in ("mass", "fuel", "hour", "wind", "direction"):
        parts += case.ask("remedies", documents, leg=case.LEG, kinds=[kind])["result"]["remedies"]

    def key(one: dict[str, Any]) -> str:
        return repr((one["kind"], one["change"]))

    assert sorted(map(key, whole)) == sorted(map(key, parts))
    assert case.ask("remedies", documents, leg=case.LEG, kinds=["luck"])["error"]["code"] == "unknown_name"


def test_no_other_hour_is_offered_from_a_reading_that_no_longer_counts():
    """The temperature of another hour comes from today's reading: an old one foretells nothing."""
    documents = hot()
    assert of_kind(remedies(documents, AFTERNOON), "hour")
    assert not of_kind(remedies(documents, "2026-05-20T16:20:00+02:00"), "hour")
