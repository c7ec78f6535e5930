"""A guess close to a limit is no bare yes, nor is what nobody weighed: limits of places, one by one."""

from __future__ import annotations

from typing import Any

import pytest

from . import case
from .case import fig, measure
from .test_bags import item


def pressed(documents: case.Documents, name: str, part: float) -> dict[str, Any]:
    """The measure of that name, where `part` of its limit is used up."""
    hold, plane = documents["plover"]["bays"][0], documents["plover"]
    plane["joint_limits"][0]["mass_limit"] = fig(1000.0)
    box = item(documents, "box")["mass"]["value"]
    inside = 6.2 + 4.0 + box
    if name == "seat_mass":
        plane["seats"][1]["mass_limit"] = fig(70.0 / part)
    elif name == "bay_mass":
        hold["mass_limit"] = fig(inside / part)
    elif name == "joint_mass":
        plane["joint_limits"][0]["mass_limit"] = fig((inside + 70.0) / part)
    elif name == "restraint":
        hold["restraint"]["rating"] = fig(inside / part)
    elif name == "held":
        item(documents, "box").update(held_by="strap", held_rating=fig(box / part))
    elif name == "floor":
        hold["floor_limit"] = fig(box / 0.3 / 0.25 / part)
    question = "balances" if name.endswith("_mass") else "fits"
    answer = case.answers(documents)[question]
    found = [one for one in answer["measures"] if one["name"] == name]
    told: dict[str, Any] = max(found, key=lambda one: one["needed"] / one["available"])
    return told


@pytest.mark.parametrize("name", ["seat_mass", "bay_mass", "joint_mass", "restraint", "held", "floor"])
def test_a_guess_close_to_a_limit_is_no_yes(name: str) -> None:
    for origin, part, verdict in (
        ("measured", 0.95, "yes"),
        ("estimated", 0.95, "tight"),
        ("estimated", 0.80, "yes"),
    ):
        documents = case.base()
        item(documents, "box")["mass"] = fig(14.0, origin)
        documents["lark"]["mass"] = fig(70.0, origin)
        assert pressed(documents, name, part)["verdict"] == verdict


@pytest.mark.parametrize("name", ["restraint", "floor"])
def test_what_nobody_weighed_is_held_by_nothing_that_is_known(name: str) -> None:
    documents = case.base()
    del item(documents, "box")["mass"]
    if name == "restraint":
        del documents["plover"]["bays"][0]["floor_limit"]
    answer = case.answers(documents)["fits"]
    assert answer["verdict"] == "can't say"
    assert measure(answer, name)["reason"] == {"text": "missing.item_mass", "values": {"item": "Box"}}
