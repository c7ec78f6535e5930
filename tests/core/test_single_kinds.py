"""What a relation says of its parameters that are no quantities, so that a form can be made from it."""

from __future__ import annotations

import pytest

from tussock import single, units

DECLARED = single.load_all()
TABLED = [name for name, declared in DECLARED.items() if declared.plain]


def test_there_are_such_relations() -> None:
    assert len(TABLED) > 10


@pytest.mark.parametrize("name", TABLED)
def test_every_parameter_that_is_no_quantity_says_what_it_holds(name: str) -> None:
    described = single.describe(DECLARED[name])
    assert list(described["kinds"]) == described["plain"]
    for kind in described["kinds"].values():
        assert kind["name"]
        if kind["kind"] in ("list", "grid"):
            assert units.unit(kind["unit"])
        elif kind["kind"] == "choice":
            assert len(kind["of"]) > 1
        else:
            assert kind["kind"] == "date"


@pytest.mark.parametrize("name", [name for name in TABLED if {"surface", "rule"} & set(DECLARED[name].plain)])
def test_every_word_of_a_choice_is_taken(name: str) -> None:
    """By `call`, with the other arguments in the middle of their range: never a refusal."""
    declared = DECLARED[name]
    (plain,) = declared.plain
    arguments = {
        key: (quantity.low + quantity.high) / 2
        for key, quantity in declared.inputs.items()
        if key not in declared.defaults
    }
    for word in single.describe(declared)["kinds"][plain]["of"]:
        found = single.call(name, {**arguments, plain: word})
        assert set(found["outputs"]) == set(declared.outputs)


def test_quantities_of_which_there_are_many_are_told() -> None:
    assert single.describe(DECLARED["centre_of_gravity"])["many"] == ["masses", "arms"]
    assert single.describe(DECLARED["stall_speed"])["many"] == []
