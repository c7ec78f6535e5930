"""No estimate in the aeroplane leaves a bare "yes": every figure in turn, and all of a class at once."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

import pytest

from tussock.text import say

from . import case
from .case import quick_verdicts

#: figures that no answer rests on: they are shown, or serve what is not asked here
SHOWN_ONLY = (
    "/engine/rated_power",
    "/engine/rated_rotation",
    "/propeller/pitch",
    "/speeds/",
    "/dial_first_mark",
    "/cruises/usual/rotation",
    "/fuel/climb_speed",
    "/flaps/up/",
    "/run_up/",
    "/flaps/first/limit_speed",
    "/flaps/full/limit_speed",
)
#: besides, by what performance is known
ALSO = {
    "book": ("/wing/", "/propeller/diameter"),
    "known": ("/wing/", "/propeller/diameter"),
    "constants": (
        "/propeller/rotation_limit",
        # surfaces that neither strip has
        "/performance/constants/friction/paved_dry",
        "/performance/constants/friction/grass_short_wet",
    ),
}


def figures(node: Any, place: str = "") -> Iterator[tuple[str, dict[str, Any]]]:
    """Every figure with its place; elements by id, else by their number."""
    if isinstance(node, dict) and {"value", "origin"} <= set(node):
        yield place, node
    elif isinstance(node, dict):
        for name, child in node.items():
            yield from figures(child, f"{place}/{name}")
    elif isinstance(node, list):
        for index, child in enumerate(node):
            name = index
            if isinstance(child, dict):
                name = child.get("id") or child.get("surface") or child.get("flap") or index
            yield from figures(child, f"{place}/{name}")


@pytest.mark.parametrize("sources", ["known", "book", "constants"])
def test_every_figure_that_is_estimated_takes_the_yes_away(sources: str) -> None:
    documents = case.base(sources)
    assert set(quick_verdicts(documents).values()) == {"yes"}
    kept = []
    count = 0
    for place, figure in figures(documents["plover"]):
        if place.startswith((*SHOWN_ONLY, *ALSO[sources])):
            continue
        origin, figure["origin"] = figure["origin"], "estimated"
        count += 1
        if set(quick_verdicts(documents).values()) == {"yes"}:
            kept.append(place)
        figure["origin"] = origin
    assert kept == []
    assert count > 50


@pytest.mark.parametrize("sources", ["known", "book", "constants"])
def test_figures_that_are_only_shown_take_nothing_away(sources: str) -> None:
    """So that the list above holds nothing that decides: marked all at once they change no verdict."""
    documents = case.base(sources)
    for place, figure in figures(documents["plover"]):
        if place.startswith((*SHOWN_ONLY, *ALSO[sources])):
            figure["value"] *= 1.05
            figure["origin"] = "estimated"
    assert set(quick_verdicts(documents).values()) == {"yes"}


def test_the_answer_says_which_figure_is_estimated() -> None:
    documents = case.put(case.base("known"), "/plover/bays/hold/arm/origin", "estimated")
    found = case.quick(documents)["balances"]
    assert found["verdict"] == "tight"
    assert say(found["reasons"][0]) == "Estimated: arm of Hold"


def test_many_estimates_are_counted_and_one_is_named() -> None:
    documents = case.base("known")
    for name in ("arm", "mass_limit"):
        case.put(documents, f"/plover/bays/hold/{name}/origin", "estimated")
    (reason,) = [
        one
        for one in case.quick(documents)["balances"]["reasons"]
        if one["text"] == "reason.estimated_figures"
    ]
    assert say(reason).startswith("2 figures are estimated")


def test_an_estimate_takes_no_other_verdict_away() -> None:
    """It caps a "yes"; a "no" stays a "no"."""
    documents = case.put(case.base("known"), "/plover/limits/takeoff/value", 400.0)
    before = quick_verdicts(copy.deepcopy(documents))
    assert before["balances"] == "no"
    case.put(documents, "/plover/limits/takeoff/origin", "estimated")
    assert quick_verdicts(documents)["balances"] == "no"


def test_an_estimated_limit_of_wind_counts_only_where_there_is_wind() -> None:
    documents = case.put(case.base("known"), "/plover/owner/tailwind/origin", "estimated")
    wind = {"by": "calm"}
    for air in ("air-heath", "air-moor"):
        documents[air]["wind"] = wind
    assert set(quick_verdicts(documents).values()) == {"yes"}


@pytest.mark.parametrize(
    ("strip", "place", "question"),
    [
        ("heath", "/ground/length", "lifts_off"),
        ("heath", "/elevation", "lifts_off"),
        ("heath", "/elevation", "climbs_out"),
        ("heath", "/ground/length", "climbs_out"),
        ("moor", "/ground/length", "stops"),
        ("moor", "/elevation", "stops"),
    ],
)
def test_a_strip_that_was_guessed_gives_no_bare_yes(strip: str, place: str, question: str) -> None:
    documents = case.base("known")
    assert quick_verdicts(documents)[question] == "yes"
    where = documents[strip]
    for name in place.split("/")[1:]:
        where = where[name]
    where["origin"] = "estimated"
    assert quick_verdicts(documents)[question] == "tight"


@pytest.mark.parametrize("strip", ["heath", "moor"])
def test_a_guessed_limit_of_a_strip_binds_from_further_off(strip: str) -> None:
    for limit, verdict in ((700.0, "yes"), (600.0, "tight")):
        documents = case.base("known")
        documents[strip]["mass_limit"] = case.fig(limit)
        assert quick_verdicts(documents)["balances"] == "yes"
        documents[strip]["mass_limit"]["origin"] = "estimated"
        assert quick_verdicts(documents)["balances"] == verdict


def told(documents: case.Documents) -> dict[str, Any]:
    """Verdict and figures of each question."""
    answers = case.quick(documents)
    return {
        name: (one["verdict"], [(m["name"], m["needed"], m["available"]) for m in one["measures"]])
        for name, one in answers.items()
    }


#: through the fuel that the climb takes: a gram or two of the mass on arrival
BY_A_GRAM = ("balances", "stops")


@pytest.mark.parametrize("sources", ["known", "constants"])
def test_no_question_that_a_figure_moves_stays_a_bare_yes_by_a_guess(sources: str) -> None:
    """Question by question: "lifts off" too, where a guess takes only the "yes" of "climbs out" away."""
    documents = case.base(sources)
    before, kept, count = told(documents), [], 0
    parts = {
        "plover": ("/performance", "/configurations", "/flaps/first"),
        "heath": (),
        case.TRIP: ("/legs",),
    }
    for name, places in parts.items():
        for place, figure in figures(documents[name]):
            if places and not place.startswith(places):
                continue
            value, origin = figure["value"], figure["origin"]
            figure["value"] = value * 0.999
            after = told(documents)
            figure["value"], figure["origin"] = value, "estimated"
            guessed = told(documents)
            figure["origin"] = origin
            count += 1
            kept += [
                (name, place, question)
                for question, said in before.items()
                if after[question] != said
                and guessed[question][0] == "yes"
                and question not in BY_A_GRAM
                # a higher strip to start from shortens the climb to the cruise by as little
                and (question, place) != ("reaches", "/elevation")
            ]
    assert kept == []
    assert count > 30


def test_guessed_fuel_gives_no_bare_yes() -> None:
    documents = case.base("known")
    documents[case.TRIP]["legs"][0]["fuel"][0]["volume"]["origin"] = "estimated"
    assert quick_verdicts(documents) == {
        name: "yes" if name == "fits" else "tight" for name in case.QUESTIONS
    }


def test_a_guessed_wind_aloft_gives_no_bare_yes() -> None:
    documents = case.base("known")
    aloft = documents[case.TRIP]["legs"][0]["wind_aloft"] = {"speed": 15.0, "wind_from": 3.9}
    assert quick_verdicts(documents)["reaches"] == "yes"
    aloft["origin"] = "estimated"
    found = quick_verdicts(documents)
    assert found.pop("reaches") == "tight"
    assert set(found.values()) == {"yes"}


def test_a_guessed_obstacle_gives_no_bare_yes() -> None:
    documents = case.base("known")
    direction = next(
        one
        for one in documents["heath"]["directions"]
        if one["id"] == documents["day-out"]["legs"][0]["takeoff_direction"]
    )
    tree = {
        "id": "thorn",
        "name": "Thorn",
        "distance": {"value": 900.0, "origin": "measured"},
        "height": {"value": 2.0, "origin": "measured"},
    }
    direction["departure"] = {"state": "listed", "obstacles": [tree]}
    assert quick_verdicts(documents)["lifts_off"] == "yes"
    tree["height"]["origin"] = "estimated"
    assert quick_verdicts(documents)["lifts_off"] == "tight"
