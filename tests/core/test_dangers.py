"""Dangerous things ride where somebody has said that they may; and each thing within its own restraint."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

import pytest

from tussock import api
from tussock.documents import read_bundle
from tussock.handover import packing_list
from tussock.packing.figures import read_load
from tussock.text import say

from . import case
from .case import fig, measure, reasons

HOLD = "/plover/bays/hold"
BOX, TENT = "/camp/items/box", "/camp/items/tent"


def fits(documents: case.Documents) -> dict[str, Any]:
    return case.answers(documents)["fits"]


def with_nook(documents: case.Documents, **changes: Any) -> case.Documents:
    """A second bay like the hold, within a step of it."""
    hold = next(bay for bay in documents["plover"]["bays"] if bay["id"] == "hold")
    documents["plover"]["bays"].append({**hold, "id": "nook", "name": "Nook", **changes})
    return documents


# --- what may ride where ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("danger", "said", "verdict", "text"),
    [
        ("fuel", {"fuel": False}, "no", "reason.danger"),
        ("gas", {"gas": False}, "no", "reason.danger"),
        ("battery", {"battery": False}, "no", "reason.danger"),
        ("fuel", {"fuel": True}, "yes", None),
        ("gas", {"gas": True}, "yes", None),
        ("battery", {"battery": True}, "yes", None),
        ("fuel", {"gas": True, "battery": True}, "can't say", "missing.bay_danger"),
        ("gas", {"fuel": True}, "can't say", "missing.bay_danger"),
        ("gas", None, "can't say", "missing.bay_danger"),
        ("battery", {"fuel": True, "gas": True}, "tight", "reason.battery_unsaid"),
        ("battery", None, "tight", "reason.battery_unsaid"),
        (None, None, "yes", None),
        (None, {"fuel": False, "gas": False, "battery": False}, "yes", None),
    ],
)
def test_a_dangerous_thing_rides_where_it_may(danger, said, verdict, text):
    documents = case.base()
    case.put(documents, f"{BOX}/danger", danger)
    case.put(documents, f"{HOLD}/may_carry", said)
    answer = fits(documents)
    assert answer["verdict"] == verdict
    told = {one for one in reasons(answer) if one.startswith(("reason.danger", "reason.battery", "missing."))}
    assert told == ({text} if text else set())
    if text:
        words = [say(reason) for reason in answer["reasons"]]
        assert any("Box" in one and "Hold" in one for one in words), words


@pytest.mark.parametrize(
    ("role", "within_reach", "verdict"),
    [("general", False, "tight"), ("general", True, "yes"), ("beacon", False, "yes")],
)
def test_a_loose_battery_stays_within_reach(role, within_reach, verdict):
    documents = case.base()
    case.put(documents, f"{BOX}/danger", "battery")
    case.put(documents, f"{BOX}/role", role)
    case.put(documents, f"{HOLD}/accessible_in_flight", within_reach)
    answer = fits(documents)
    assert answer["verdict"] == verdict
    assert ("reason.battery_out_of_reach" in reasons(answer)) == (verdict == "tight")


def test_the_remedy_moves_it_to_where_it_may_ride():
    documents = with_nook(case.base())
    case.put(documents, f"{HOLD}/may_carry", {"gas": False})
    reply = case.ask("remedies", documents, question="fits")
    moves = [one for one in reply["result"]["remedies"] if one["change"]["text"] == "remedy.move"]
    assert [(one["change"]["values"]["items"], one["change"]["values"]["bay"]) for one in moves] == [
        ("Box", "Nook")
    ]


def test_what_is_in_a_bag_rides_where_the_bag_rides():
    documents = with_nook(case.base())
    case.put(documents, f"{HOLD}/may_carry", {"gas": False})
    case.put(documents, f"{BOX}/danger", None)
    case.put(documents, "/camp/items/survival/danger", "gas")
    case.put(documents, "/day-out/loads/camping/placed/survival", {"item": "survival", "inside": "tent"})
    assert measure(fits(documents), "danger")["values"] == {"bay": "Hold", "item": "Survival bag"}
    reply = case.ask("remedies", documents, question="fits")
    moves = [one["change"]["values"] for one in reply["result"]["remedies"] if one["kind"] == "move"]
    assert [one["bay"] for one in moves] == ["Nook"]
    found = figures(documents)
    may = found.choice.may[found.index("tent")]
    assert [bay.id for bay, open_ in zip(found.bays, may, strict=True) if open_] == ["nook"]


# --- pack for me -----------------------------------------------------------------------------------------


def figures(documents: case.Documents) -> Any:
    accepted = read_bundle({"documents": list(documents.values())})
    return read_load(accepted, case.TRIP, case.LEG, datetime.fromisoformat(case.NOW))


@pytest.mark.parametrize(
    ("danger", "hold", "open_bays"),
    [
        ("gas", {"gas": False}, ["nook"]),
        ("gas", {"battery": True}, ["nook"]),
        ("battery", {"battery": False}, ["nook"]),
        ("battery", {}, ["hold", "nook"]),
        ("fuel", {"fuel": True}, ["hold", "nook"]),
    ],
)
def test_pack_for_me_puts_it_only_where_it_may_ride(danger, hold, open_bays):
    documents = with_nook(case.base())
    case.put(documents, f"{BOX}/danger", danger)
    case.put(documents, f"{HOLD}/may_carry", hold)
    found = figures(documents)
    may = found.choice.may[found.index("box")]
    assert [bay.id for bay, open_ in zip(found.bays, may, strict=True) if open_] == open_bays


def test_pack_for_me_says_why_it_goes_nowhere():
    documents = case.base()
    case.put(documents, f"{HOLD}/may_carry", {"gas": False})
    params = {"documents": list(documents.values()), "trip": case.TRIP, "leg": case.LEG, "now": case.NOW}
    columns = {"x0_0": 1.0, "x2_0": 1.0}
    reply = json.loads(
        api.handle("pack", json.dumps({"step": "reason", **params, "columns": columns, "item": "box"}))
    )
    assert reply["result"]["model"] is None
    assert [one["text"] for one in reply["result"]["breaks"]] == ["reason.danger"]


def test_heavy_things_go_forward_low_and_where_they_are_held():
    documents = with_nook(case.base(), floor_height=fig(0.0))
    box = figures(documents).index("box")

    def least(**hold: Any) -> str:
        for name, value in hold.items():
            case.put(documents, f"{HOLD}/{name}", value)
        found = figures(documents)
        by_bay = found.choice.unwelcome[box]
        assert 0.0 <= by_bay.min() <= by_bay.max() <= 1.0
        return "alike" if by_bay[0] == by_bay[1] else found.bays[int(by_bay.argmin())].id

    assert least() == "alike", "a height of one bay alone says nothing"
    assert least(floor_height=fig(0.3)) == "nook"
    assert least(arm=fig(0.9)) == "hold", "the balance counts for more"
    assert least(arm=fig(1.0), floor_height=fig(0.0), restraint={"by": "none"}) == "nook"
    case.put(documents, f"{BOX}/held_by", "strap")
    case.put(documents, f"{BOX}/held_rating", fig(20.0))
    assert least() == "alike", "it brings its own"


# --- the passenger's list --------------------------------------------------------------------------------


def test_the_passenger_reads_what_must_not_ride_in_a_bay():
    documents = case.base()
    case.put(documents, f"{HOLD}/may_carry", {"fuel": False, "gas": True})
    accepted = read_bundle({"documents": list(documents.values())})
    told = packing_list(accepted, case.TRIP, case.LEG, datetime.fromisoformat(case.NOW))
    assert [(bay.id, bay.bans) for bay in told.bays] == [("hold", ["fuel"])]


# --- what holds a thing ----------------------------------------------------------------------------------

NONE = {"by": "none"}
NET = {"by": "net", "rating": fig(40.0)}


def held(documents: case.Documents, item: str, by: str, rating: Any = None) -> None:
    case.put(documents, f"/camp/items/{item}/held_by", by)
    case.put(documents, f"/camp/items/{item}/held_rating", rating)


@pytest.mark.parametrize(
    ("bay", "rating", "verdict", "text"),
    [
        (NET, fig(5.2), "yes", None),
        # to the last gram by a scale that errs
        (NET, fig(5.0), "tight", "reason.wants.mass"),
        (NET, fig(4.9), "no", "reason.wants.mass"),
        (NET, fig(9.0, "estimated"), "tight", "reason.rating_guessed"),
        (NET, None, "yes", None),
        (None, fig(9.0), "can't say", "missing.restraint"),
        ({"by": "rings"}, fig(9.0), "can't say", "missing.restraint_rating"),
        (NONE, None, "can't say", "missing.item_rating"),
        (NONE, fig(4.9), "no", "reason.wants.mass"),
        (NONE, fig(9.0), "tight", "reason.no_restraint"),
    ],
)
def test_a_strap_of_its_own_holds_what_it_is_rated_for(bay, rating, verdict, text):
    """The box of 5 kg by its own strap; two more things ride beside it."""
    documents = case.base()
    case.put(documents, f"{HOLD}/restraint", bay)
    held(documents, "box", "strap", rating)
    answer = fits(documents)
    assert answer["verdict"] == verdict
    assert not text or text in reasons(answer)
    found = measure(answer, "held")
    assert (found is not None) == (rating is not None or bay == NONE)


def test_where_a_bay_holds_nothing_each_thing_may_bring_what_holds_it():
    documents = case.base()
    case.put(documents, f"{HOLD}/restraint", NONE)
    case.put(documents, f"{HOLD}/near_controls", True)
    for item in ("tent", "box"):
        held(documents, item, "ring", fig(10.0))
    answer = fits(documents)
    assert answer["verdict"] == "no", "the survival bag is loose"
    assert reasons(answer) == {"reason.loose_near_controls"}
    held(documents, "survival", "strap", fig(10.0))
    assert fits(documents)["verdict"] == "yes"
    case.put(documents, f"{HOLD}/near_controls", False)
    assert fits(documents)["verdict"] == "yes"


def test_what_is_weighed_counts_against_the_strap():
    documents = case.base()
    held(documents, "tent", "strap", fig(6.1))
    assert fits(documents)["verdict"] == "no", "weighed 6.2 for this load"
    case.drop(documents, "/day-out/loads/camping/placed/tent/weighed")
    assert fits(documents)["verdict"] == "yes"
    case.drop(documents, f"{TENT}/mass")
    assert "missing.item_mass" in reasons(fits(documents))


def test_of_loose_things_only_those_move_that_bring_nothing():
    documents = with_nook(case.base())
    case.put(documents, f"{HOLD}/restraint", NONE)
    case.put(documents, f"{HOLD}/near_controls", True)
    held(documents, "tent", "strap", fig(10.0))
    held(documents, "survival", "strap", fig(10.0))
    reply = case.ask("remedies", documents, question="fits")
    moves = [one["change"] for one in reply["result"]["remedies"] if one["change"]["text"] == "remedy.move"]
    assert [(one["values"]["items"], one["values"]["bay"]) for one in moves] == [("Box", "Nook")]


def test_the_doors_list_tells_the_rating():
    documents = case.base()
    held(documents, "box", "ring", fig(25.0))
    lines = [say(line) for line in case.leg(documents)["before_doors"]]
    assert any("Box" in line and "25" in line and "ring" in line for line in lines), lines


# --- to the last gram ------------------------------------------------------------------------------------


def test_exactly_full_is_no_excess():
    """Kilograms added thing by thing may come out a few 1e-15 above their sum."""
    documents = case.base()
    case.drop(documents, "/day-out/loads/camping/placed/tent/weighed")
    for item, mass in (("tent", 0.1), ("box", 0.2), ("survival", 0.7)):
        case.put(documents, f"/camp/items/{item}/mass", fig(mass))
    assert 0.1 + 0.2 + 0.3 > 0.6
    case.put(documents, "/camp/items/survival/mass", fig(0.3))
    case.put(documents, f"{HOLD}/restraint", {"by": "net", "rating": fig(0.6)})
    found = measure(fits(documents), "restraint")
    assert found["verdict"] == "tight"
    case.put(documents, f"{HOLD}/restraint", {"by": "net", "rating": fig(0.5999)})
    assert measure(fits(documents), "restraint")["verdict"] == "no"
