"""Which things to leave or to move: the smallest change in the pilot's eyes, asked again."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from tussock.questions.choosing import Choosing, Limit

from . import case
from .case import fig
from .test_remedies import applied, good, of_kind, remedies

SAFE = ("survival", "water", "tie_down", "beacon", "first_aid", "extinguisher", "oil")
FEW = {"deadline": None, "suppress_health_check": list(HealthCheck)}


# --- sets in order ---------------------------------------------------------------------------------------


@st.composite
def troubles(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray, list[Limit]]:
    count = draw(st.integers(1, 7))
    worth = np.array(draw(st.lists(st.integers(0, 10), min_size=count, max_size=count)))
    mass = np.array(draw(st.lists(st.integers(1, 90), min_size=count, max_size=count))) / 10
    limits = []
    for _ in range(draw(st.integers(1, 2))):
        gives = np.array(draw(st.lists(st.integers(-3, 30), min_size=count, max_size=count))) / 2.0
        limits.append(Limit(gives, draw(st.integers(1, 40)) / 2.0))
    return worth, mass, limits


@settings(max_examples=60, **FEW)
@given(troubles())
def test_of_all_sets_of_up_to_three_the_best_comes_first(trouble):
    worth, mass, limits = trouble
    choosing = Choosing(worth, mass, limits[:1])
    every = [
        rows
        for size in (1, 2, 3)
        for rows in combinations(range(len(worth)), size)
        if all(sum(limit.gives[i] for i in rows) >= limit.least for limit in limits)
    ]
    more = limits[1] if len(limits) > 1 else None
    found = list(choosing.each(more))
    assert {one for one in found if len(one) <= 3} == set(every)
    keys = [choosing.key(one)[:3] for one in found]
    assert keys == sorted(keys)
    for one in found:
        assert all(sum(limit.gives[i] for i in one) >= limit.least - 1e-9 for limit in limits)


# --- through the border ----------------------------------------------------------------------------------


@st.composite
def loads(draw: st.DrawFn) -> case.Documents:
    """More things in the hold than go in, or more mass than lifts off; some that may not stay, one fast."""
    documents = case.base("known")
    items = documents["camp"]["items"]
    placed = case.element(documents["day-out"]["loads"], "camping")["placed"]
    for number in range(draw(st.integers(3, 5))):
        name = f"thing-{number}"
        size = {"shape": "soft", "volume": fig(draw(st.integers(2, 12)) / 1000), "crush": 0.0}
        role = draw(st.sampled_from(("general", "general", "general", *SAFE)))
        mass = fig(draw(st.integers(2, 30)) / 10)
        worth = draw(st.integers(0, 10))
        items.append({"id": name, "name": name, "mass": mass, "size": size, "role": role, "worth": worth})
        placed.append({"item": name, "bay": "hold", "locked": draw(st.integers(0, 4)) == 0})
    if draw(st.booleans()):
        needed = case.quick(documents)["fits"]["needed"]
        case.put(documents, "/plover/bays/hold/volume", fig(needed * draw(st.sampled_from((0.75, 0.95)))))
    else:
        shortened(documents, draw(st.sampled_from((1.0, 4.0))))
    return documents


def shortened(documents: case.Documents, by: float) -> None:
    """A level strip of departure that is so much shorter than what is needed on it."""
    for length in (700.0, None):
        length = length or case.quick(documents)["lifts_off"]["needed"] - by
        documents["heath"]["ground"] |= {
            "length": fig(length),
            "segments": [{"length": length, "slope": 0.0}],
        }


def left(one: dict[str, Any]) -> list[str]:
    return [edit["pointer"].split("/")[-2] for edit in one["edits"]]


@settings(max_examples=6, **FEW)
@given(loads())
def test_what_is_offered_is_the_least(documents):
    before = case.quick_verdicts(documents)
    found = remedies(documents)
    by_id = {item["id"]: item for item in documents["camp"]["items"]}
    placed = case.element(documents["day-out"]["loads"], "camping")["placed"]
    fast = {one["item"] for one in placed if one.get("locked")}
    for one in [*of_kind(found, "mass"), *of_kind(found, "move")]:
        after = case.quick_verdicts(applied(documents, one["edits"]))
        assert all(case.RANK[after[q]] >= case.RANK[before[q]] for q in after)
        assert all(case.RANK[after[q]] > case.RANK[before[q]] for q in one["turns"])
        assert good(applied(documents, one["edits"]), case.NOW, one)
        assert not fast & set(left(one))
        for spared in one["edits"] if len(one["edits"]) > 1 else []:
            fewer = [edit for edit in one["edits"] if edit is not spared]
            assert not good(applied(documents, fewer), case.NOW, one)
    alike: dict[Any, int] = {}
    for one in of_kind(found, "mass"):
        assert all(by_id[name].get("role", "general") == "general" for name in left(one))
        worth = sum(by_id[name].get("worth", 5) for name in left(one))
        kind = (one["verdict"], len(one["turns"]))
        assert alike.get(kind, 0) <= worth, "the first gives up more"
        alike[kind] = worth


@settings(max_examples=3, **FEW)
@given(loads())
def test_no_choice_of_up_to_three_gives_up_less(documents):
    """Against every choice, asked one by one."""
    found = of_kind(remedies(documents), "mass")
    assume(found)
    by_id = {item["id"]: item for item in documents["camp"]["items"]}
    placed = case.element(documents["day-out"]["loads"], "camping")["placed"]
    may = [
        one["item"]
        for one in placed
        if not one.get("locked") and by_id[one["item"]].get("role", "general") == "general"
    ]
    first = found[0]

    def lost(names: Any) -> tuple[int, int, float]:
        mass = round(sum(by_id[name]["mass"]["value"] for name in names), 6)
        return sum(by_id[name].get("worth", 5) for name in names), len(names), mass

    def edits(names: Any) -> list[dict[str, Any]]:
        return [
            {"document": "day-out", "pointer": f"/loads/camping/placed/{name}/bay", "value": None}
            for name in names
        ]

    for size in (1, 2, 3):
        for names in combinations(may, size):
            if lost(names) < lost(left(first)):
                assert not good(applied(documents, edits(names)), case.NOW, first), names


def test_one_pot_stays_where_eight_things_would():
    documents = case.base("known")
    items = documents["camp"]["items"]
    placed = case.element(documents["day-out"]["loads"], "camping")["placed"]
    for number in range(8):
        size = {"shape": "soft", "volume": fig(0.001), "crush": 0.0}
        items.append({"id": f"bit-{number}", "name": "Bit", "mass": fig(0.5), "size": size, "worth": 1})
        placed.append({"item": f"bit-{number}", "bay": "hold"})
    items.append({**items[-1], "id": "pot", "name": "Pot", "mass": fig(4.3), "worth": 3})
    placed.append({"item": "pot", "bay": "hold"})
    shortened(documents, 1.0)
    assert case.quick(documents)["lifts_off"]["verdict"] == "no"
    assert left(of_kind(remedies(documents), "mass")[0]) == ["pot"]


@pytest.mark.parametrize("locked", [False, True])
def test_a_full_bay_is_relieved_by_another_unless_it_is_fast(locked):
    documents = case.base()
    hold = case.element(documents["plover"]["bays"], "hold")
    documents["plover"]["bays"].append({**hold, "id": "seat", "name": "Seat", "arm": fig(2.0)})
    case.put(documents, "/plover/bays/hold/volume", fig(0.05))
    for one in case.element(documents["day-out"]["loads"], "camping")["placed"]:
        one["locked"] = locked
    assert case.quick(documents)["fits"]["verdict"] == "no"
    moved = of_kind(remedies(documents), "move")
    assert bool(moved) != locked
    for one in moved:
        assert one["edits"][0]["value"] == "seat"
        assert one["change"]["values"]["from"] == hold["name"]
        assert "fits" in one["turns"]
    if locked:
        assert not of_kind(remedies(documents), "mass")


def too_far_aft(mass: float) -> case.Documents:
    """Something heavy in a hold far aft, and a bay forward of it."""
    documents = case.base()
    hold = case.element(documents["plover"]["bays"], "hold")
    documents["plover"]["bays"].append({**hold, "id": "seat", "name": "Seat", "arm": fig(1.0)})
    hold["arm"] = fig(4.0)
    size = {"shape": "soft", "volume": fig(0.004), "crush": 0.0}
    iron = {"id": "iron", "name": "Iron", "mass": fig(mass), "size": size, "worth": 6}
    documents["camp"]["items"].append(iron)
    placed = case.element(documents["day-out"]["loads"], "camping")["placed"]
    placed.append({"item": "iron", "bay": "hold"})
    return documents


@pytest.mark.parametrize("mass", [10.0, 20.0])
def test_what_is_too_far_aft_moves_forward_or_stays(mass):
    documents = too_far_aft(mass)
    before = case.quick(documents)["balances"]
    assert "no" in [part["verdict"] for part in before["measures"] if part["name"] == "aft"]
    found = remedies(documents)
    moved = of_kind(found, "move")
    assert moved
    assert of_kind(found, "mass")
    assert found[0]["kind"] == "move", "what gives up nothing comes first"
    for one in moved:
        assert {edit["value"] for edit in one["edits"]} == {"seat"}
        assert case.quick(applied(documents, one["edits"]))["balances"]["verdict"] in ("tight", "yes")
    if mass == 20.0:
        # two things of more worth that only come to "tight" are no way beside the one that comes to "yes"
        assert [left(one) for one in of_kind(found, "mass")] == [["iron"]]
