"""Two versions of a document as one: the laws, by random edits of three devices, and each rule by itself."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tussock.documents import read_document
from tussock.documents.joining import join
from tussock.documents.parts import plain
from tussock.documents.stamping import later, moment, order, over, saw
from tussock.errors import Refused

from .editing import edit, stamp

Data = dict[str, Any]


def kit() -> Data:
    return {
        "version": 1,
        "kind": "kit",
        "id": "camp",
        "name": "Camp",
        "items": [
            {"id": "tent", "name": "Tent", "mass": fig(3.0), "size": soft(0.02)},
            {"id": "stove", "name": "Stove", "mass": fig(1.0), "size": rigid()},
        ],
    }


def fig(value: float, origin: str = "measured") -> Data:
    return {"value": value, "origin": origin}


def soft(volume: float) -> Data:
    return {"shape": "soft", "volume": fig(volume)}


def rigid(length: float = 0.3) -> Data:
    return {"shape": "rigid", "length": fig(length), "width": fig(0.2), "height": fig(0.1)}


def joined(one: Data, other: Data) -> Data:
    """As the next device reads it. Raises `Refused` when no document may be so."""
    return plain(read_document(join(read_document(one), read_document(other)).data))


def clashes(one: Data, other: Data) -> dict[str, tuple[Any, Any]]:
    found = join(read_document(one), read_document(other)).clashes
    return {clash.pointer: (clash.mine, clash.theirs) for clash in found}


def normal(document: Data) -> Data:
    return joined(document, document)


# --- the laws --------------------------------------------------------------------------------------------

ITEMS = ("tent", "stove", "lamp", "rope")
FIGURES = st.builds(fig, st.sampled_from((1.0, 2.0, 3.0)), st.sampled_from(("measured", "book", "estimated")))
SIZES = st.one_of(
    st.builds(soft, st.sampled_from((0.01, 0.03))), st.builds(rigid, st.sampled_from((0.2, 0.4)))
)
NAMES = st.sampled_from(("A", "B", "C"))

#: one edit: what it does, of which item, with what
EDITS = st.one_of(
    st.tuples(st.just("name"), st.just(""), NAMES),
    st.tuples(st.just("note"), st.just(""), st.one_of(NAMES, st.none())),
    st.tuples(st.just("mass"), st.sampled_from(ITEMS), st.one_of(FIGURES, st.none())),
    st.tuples(st.just("item name"), st.sampled_from(ITEMS), NAMES),
    st.tuples(st.just("size"), st.sampled_from(ITEMS), st.one_of(SIZES, st.none())),
    st.tuples(st.just("size/volume"), st.sampled_from(ITEMS), FIGURES),
    st.tuples(st.just("size/length"), st.sampled_from(ITEMS), FIGURES),
    st.tuples(st.just("add"), st.sampled_from(ITEMS), FIGURES),
    st.tuples(st.just("remove"), st.sampled_from(ITEMS), st.none()),
)
REORDER = st.tuples(st.just("order"), st.just(""), st.randoms(use_true_random=False))
#: what the stamp of an edit may be: apart in time, at one time, or none at all
TIMES = st.one_of(st.none(), st.integers(0, 6))


def made(edits: list[Any], by: str) -> Data:
    """A version of the kit after some edits by one device. Edits that make no sense there are left out."""
    document = kit()
    for (what, item, value), at in edits:
        items = {one["id"]: one for one in document["items"]}
        pointer, value = _edit(what, item, value, items)
        if pointer is None:
            continue
        after = edit(document, pointer, value, at or 0, by)
        if at is None:  # as someone would who knows nothing of stamps; those inside what is gone go with it
            for name in ("stamps", "removed"):
                kept = document.get(name, {})
                after[name] = {p: s for p, s in kept.items() if not p.startswith(f"{pointer}/")}
        document = after
    return plain(read_document(document))


def _edit(what: str, item: str, value: Any, items: dict[str, Data]) -> tuple[str | None, Any]:
    there = items.get(item, {})
    shape = there.get("size", {}).get("shape")
    if what in ("name", "note"):
        return f"/{what}", value
    if what == "add":
        return f"/items/{item}", {"id": item, "name": item, "mass": value}
    if what == "order":
        names = sorted(items)
        value.shuffle(names)
        return ("/items", names) if names else (None, None)
    if (
        not there
        or (what == "size/volume" and shape != "soft")
        or (what == "size/length" and shape != "rigid")
    ):
        return None, None
    if what == "remove":
        return f"/items/{item}", None
    return f"/items/{item}/{what.removeprefix('item ')}", value


def versions(
    edits: st.SearchStrategy[Any], by: str, times: st.SearchStrategy[Any] = TIMES
) -> st.SearchStrategy[Data]:
    return st.builds(made, st.lists(st.tuples(edits, times), max_size=6), st.just(by))


A, B, C = (versions(EDITS, by) for by in "abc")
STAMPED = tuple(versions(EDITS, by, st.integers(0, 6)) for by in "abc")
ANY_A, ANY_B = (versions(st.one_of(EDITS, REORDER), by) for by in "ab")


@given(ANY_A, ANY_B)
@settings(max_examples=60, deadline=None)
def test_joining_is_commutative(a: Data, b: Data) -> None:
    assert joined(a, b) == joined(b, a)
    there, back = clashes(a, b), clashes(b, a)
    assert {pointer: (mine, theirs) for pointer, (theirs, mine) in back.items()} == there


@given(*STAMPED)
@settings(max_examples=60, deadline=None)
def test_joining_is_associative(a: Data, b: Data, c: Data) -> None:
    assert joined(joined(a, b), c) == joined(a, joined(b, c))


@given(A, B, C)
@settings(max_examples=60, deadline=None)
def test_joining_is_associative_without_stamps_but_for_the_order_of_lists(a: Data, b: Data, c: Data) -> None:
    def in_any_order(kit: Data) -> Data:
        return kit | {"items": sorted(kit["items"], key=lambda item: item["id"])}

    assert in_any_order(joined(joined(a, b), c)) == in_any_order(joined(a, joined(b, c)))


@given(ANY_A, ANY_B)
@settings(max_examples=40, deadline=None)
def test_joining_is_idempotent(a: Data, b: Data) -> None:
    once = joined(a, b)
    assert joined(once, once) == once
    assert joined(once, a) == once
    assert joined(once, b) == once
    assert {k: v for k, v in normal(a).items() if k not in ("stamps", "removed", "items")} == {
        k: v for k, v in a.items() if k not in ("stamps", "removed", "items")
    }
    assert sorted(map(str, normal(a)["items"])) == sorted(map(str, a["items"]))


@given(A, B)
@settings(max_examples=60, deadline=None)
def test_no_edit_is_lost(a: Data, b: Data) -> None:
    """What either side edited is in the result, or told as a clash there or above: nobody saw the other."""
    result, told = joined(a, b), clashes(a, b)
    for one in (a, b):
        for pointer in {**one.get("stamps", {}), **one.get("removed", {})}:
            places = [pointer[:i] for i in range(len(pointer) + 1) if i == len(pointer) or pointer[i] == "/"]
            is_kept = value_at(result, pointer) == value_at(one, pointer) or _inside(pointer, result, one)
            assert is_kept or any(place in told for place in places), pointer


def _inside(pointer: str, result: Data, one: Data) -> bool:
    """A whole of which only parts differ: they have stamps of their own."""
    return isinstance(value_at(result, pointer), dict) and isinstance(value_at(one, pointer), dict)


def value_at(document: Data, pointer: str) -> Any:
    here: Any = document
    for part in pointer.split("/")[1:]:
        if isinstance(here, list):
            here = next((one for one in here if one["id"] == part), None)
        else:
            here = (here or {}).get(part)
    return here


# --- rules, one by one -----------------------------------------------------------------------------------


def test_edits_of_different_fields_both_stay() -> None:
    a = edit(kit(), "/items/tent/mass", fig(4.0), 1, "a")
    b = edit(kit(), "/items/tent/name", "Big tent", 2, "b")
    tent = joined(a, b)["items"][0]
    assert (tent["mass"]["value"], tent["name"]) == (4.0, "Big tent")
    assert clashes(a, b) == {}


def test_the_later_edit_of_one_field_wins_and_the_clash_is_told() -> None:
    a = edit(kit(), "/items/tent/mass", fig(4.0), 1, "a")
    b = edit(kit(), "/items/tent/mass", fig(5.0), 2, "b")
    assert joined(a, b)["items"][0]["mass"]["value"] == 5.0
    assert clashes(a, b) == {"/items/tent/mass": (fig(4.0), fig(5.0))}


def test_an_edit_that_saw_the_other_is_no_clash() -> None:
    a = edit(kit(), "/name", "A", 1, "a")
    b = edit(edit(a, "/name", "B", 2, "b"), "/name", "C", 3, "b")
    assert joined(a, b)["name"] == "C"
    assert clashes(a, b) == {}
    again = edit(a, "/name", "D", 4, "a")  # made by the first device, which has not seen B and C
    assert joined(again, b)["name"] == "D"
    assert clashes(again, b) == {"/name": ("D", "C")}


def test_the_clock_decides_by_instant_not_by_how_it_is_written() -> None:
    a = kit() | {"stamps": {"/name": {"at": "2026-11-25T14:00:00+02:00", "by": "a"}}, "name": "A"}
    b = kit() | {"stamps": {"/name": {"at": "2026-11-25T12:30:00Z", "by": "b"}}, "name": "B"}
    assert joined(a, b)["name"] == "B"


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ({"at": "2026-11-25T12:00:00Z", "count": 1, "by": "a"}, {"at": "2026-11-25T12:00:00Z", "by": "b"}),
        ({"at": "2026-11-25T12:00:00Z", "by": "b"}, {"at": "2026-11-25T12:00:00Z", "by": "a"}),
    ],
    ids=["count", "by"],
)
def test_at_one_instant_the_count_and_then_the_device_decide(first: Data, second: Data) -> None:
    a = kit() | {"stamps": {"/name": first}, "name": "first"}
    b = kit() | {"stamps": {"/name": second}, "name": "second"}
    assert joined(a, b)["name"] == joined(b, a)["name"] == "first"


def test_a_removed_element_stays_away_and_one_only_known_here_stays() -> None:
    a = edit(kit(), "/items/tent", None, 1, "a")
    b = edit(kit(), "/items/lamp", {"id": "lamp", "name": "Lamp"}, 2, "b")
    result = joined(a, b)
    assert [item["id"] for item in result["items"]] == ["stove", "lamp"]
    assert list(result["removed"]) == ["/items/tent"]
    assert joined(result, kit()) == result


def test_an_element_that_comes_back_later_is_there() -> None:
    gone = edit(kit(), "/items/tent", None, 1, "a")
    back = edit(gone, "/items/tent", {"id": "tent", "name": "New tent"}, 2, "a")
    result = joined(gone, back)
    assert [item["name"] for item in result["items"]] == ["Stove", "New tent"]
    assert "removed" not in result


def test_an_edit_inside_what_was_removed_unseen_is_told() -> None:
    a = edit(kit(), "/items/tent", None, 1, "a")
    b = edit(kit(), "/items/tent/mass", fig(9.0), 2, "b")
    assert [item["id"] for item in joined(a, b)["items"]] == ["stove"]
    ((mine, theirs),) = clashes(a, b).values()
    assert mine is None
    assert theirs["mass"] == fig(9.0)


def test_a_removal_that_saw_the_edit_is_no_clash() -> None:
    b = edit(kit(), "/items/tent/mass", fig(9.0), 1, "b")
    a = edit(b, "/items/tent", None, 2, "a")
    assert [item["id"] for item in joined(a, b)["items"]] == ["stove"]
    assert clashes(a, b) == {}


def test_a_whole_of_another_kind_takes_no_parts_of_the_old_one() -> None:
    a = edit(kit(), "/items/tent/size", rigid(), 1, "a")
    b = edit(kit(), "/items/tent/size/volume", fig(0.5), 2, "b")
    assert joined(a, b)["items"][0]["size"] == rigid()
    assert set(clashes(a, b)) == {"/items/tent/size"}


def test_an_emptied_field_stays_empty() -> None:
    before = edit(kit(), "/note", "Old", 1, "a")
    after = edit(before, "/note", None, 2, "b")
    result = joined(before, after)
    assert "note" not in result
    assert joined(result, before) == result


def test_without_stamps_the_better_origin_is_kept_and_told() -> None:
    a, b = kit(), kit()
    a["items"][0]["mass"], b["items"][0]["mass"] = fig(3.5, "estimated"), fig(3.0)
    assert joined(a, b)["items"][0]["mass"] == joined(b, a)["items"][0]["mass"] == fig(3.0)
    assert clashes(a, b) == {"/items/tent/mass": (fig(3.5, "estimated"), fig(3.0))}


def test_a_stamp_is_later_than_none() -> None:
    a = edit(kit(), "/items/tent/mass", fig(3.5, "estimated"), 1, "a")
    assert joined(a, kit())["items"][0]["mass"]["value"] == 3.5
    assert clashes(a, kit()) == {}


def test_the_later_order_of_a_list_wins_and_late_elements_stand_behind() -> None:
    a = edit(kit(), "/items", ["stove", "tent"], 2, "a")
    b = edit(kit(), "/items/lamp", {"id": "lamp", "name": "Lamp"}, 3, "b")
    c = edit(kit(), "/items", ["tent", "stove"], 1, "c")
    assert [item["id"] for item in joined(joined(a, b), c)["items"]] == ["stove", "tent", "lamp"]
    assert joined(joined(a, b), c) == joined(a, joined(b, c))


def test_what_was_typed_goes_with_its_number() -> None:
    air = {"version": 1, "kind": "air", "id": "air", "name": "Air", "at": "2026-11-25T08:00:00Z"}
    air |= {"origin": "read", "temperature": 290.15, "typed": {"/temperature": "17 degC"}}
    a = edit(air, "/temperature", 293.15, 1, "a") | {"typed": {"/temperature": "20 degC"}}
    assert joined(air, a)["typed"] == joined(a, air)["typed"] == {"/temperature": "20 degC"}
    assert joined(air, a)["temperature"] == 293.15


def test_lists_without_names_are_one_field() -> None:
    a = kit()
    a["items"][0]["must_bays"] = ["hold"]
    b = edit(kit(), "/items/tent/must_bays", ["locker", "shelf"], 1, "b")
    assert joined(a, b)["items"][0]["must_bays"] == ["locker", "shelf"]


def test_stamps_that_point_nowhere_are_dropped_and_do_no_harm() -> None:
    a = kit() | {"stamps": {"/nowhere/at/all": stamp(1, "a"), "/items/tent/wheels": stamp(1, "a")}}
    assert joined(a, kit()) == kit()


def test_two_documents_are_not_two_versions() -> None:
    with pytest.raises(ValueError, match="not two versions"):
        join(read_document(kit()), read_document(kit() | {"id": "other"}))


def test_two_sound_versions_can_join_to_what_may_not_be() -> None:
    """The join says what the stamps say; whether that is a document, the gate decides."""
    notes = {
        "version": 1,
        "kind": "strip",
        "id": "s",
        "name": "S",
        "ground": {"length": fig(300.0), "segments": [{"length": 300.0, "slope": 0.0}]},
        "directions": [{"id": "09", "designator": "09", "bearing": 1.57, "along": "forward", "use": "both"}],
    }
    longer = edit(notes, "/ground/length", fig(304.0), 1, "a")
    shorter = edit(notes, "/ground/segments", [{"length": 296.0, "slope": 0.0}], 2, "b")
    with pytest.raises(Refused, match="segments add up"):
        joined(longer, shorter)


# --- stamps ----------------------------------------------------------------------------------------------


def test_over_is_what_others_had_made_however_often_one_drags() -> None:
    document = edit(kit(), "/name", "A", 1, "a")
    for at in (2, 3, 4):
        document = edit(document, "/name", f"B{at}", at, "b")
    assert moment(document["stamps"]["/name"]["over"]) == moment(stamp(1, "a")["at"])
    assert over([], "a") is None


def test_seeing_is_exact_for_a_field_and_enough_for_a_whole() -> None:
    winner, loser = stamp(5, "a", stamp(3, "x")["at"]), stamp(2, "b")
    assert not saw(winner, loser)
    assert saw(winner, loser, whole=True)
    assert not saw(stamp(5, "a"), loser, whole=True)
    assert saw(stamp(5, "b"), loser)


def test_no_two_different_stamps_are_equal_in_order() -> None:
    one, other = stamp(1, "a"), stamp(1, "a", stamp(0, "b")["at"])
    assert order(one) != order(other)
    assert later(one, other) is later(other, one) is other
