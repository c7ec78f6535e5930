"""The register of sums: declaring, ranges, and that every sum takes arrays as it takes numbers."""

from __future__ import annotations

import re
from typing import Annotated, Any, NamedTuple

import numpy as np
import pytest

from tussock import relation, single, units
from tussock.relation import Number, Quantity

REGISTER = single.load_all()
#: Parameters that are no quantities, for the sums whose arrays are tried here.
PLAIN: dict[str, Any] = {
    "table_indicated": [0.0, 300.0],
    "table_calibrated": [2.0, 290.0],
    "day": "2025-10-10",
}
SUBJECTS = ("air", "airspeed", "wind", "sun", "daycurve", "places")
TRIED = [r for r in REGISTER.values() if r.module.rsplit(".", 1)[-1] in SUBJECTS]
#: Ranges in which all of these sums have a number, where the declared one is open or too wide for that.
TAME = {
    "calibrated_airspeed": (20.0, 60.0),
    "true_airspeed": (45.0, 90.0),
    "wind_speed": (0.0, 40.0),
    "minimum": (260.0, 280.0),
    "maximum": (285.0, 300.0),
    "density": (0.8, 1.3),
    "pressure": (7e4, 1e5),
    "vapour_pressure": (0.0, 4000.0),
    "reference_mass": (500.0, 900.0),
    "mass": (500.0, 900.0),
    "latitude": (-50.0, 50.0),
    "noon": (1.6e9, 1.7e9),
    "fullness": (0.0, 1.0),
}
#: A coefficient's unit, such as "N s²/m²".
_ONE = "(1|kg|m|s|K|Pa|N|J|W|rad)[²³⁴]?"
SI_PRODUCT = re.compile(f"{_ONE}( {_ONE})*(/{_ONE}( {_ONE})*)?")


def values(declared: relation.Relation, name: str, many: int) -> np.ndarray:
    quantity = declared.inputs[name]
    low, high = TAME.get(name, (quantity.low, quantity.high))
    return np.linspace(low, high, many)


def parts(result: Any) -> list[np.ndarray]:
    return [np.asarray(part) for part in (result if isinstance(result, tuple) else (result,))]


def test_all_subjects_are_tried() -> None:
    assert {r.module.rsplit(".", 1)[-1] for r in TRIED} == set(SUBJECTS)
    assert len(TRIED) >= 25


@pytest.mark.parametrize("declared", TRIED, ids=lambda r: r.name)
def test_arrays_give_the_same_as_numbers(declared: relation.Relation) -> None:
    names = list(declared.inputs)
    plain = {name: PLAIN[name] for name in declared.plain}
    arrays = {}
    for place, name in enumerate(names):
        many = 3 if place % 2 == 0 else 4
        # A jitter by place, so that no two inputs are equal by chance.
        points = values(declared, name, many + place)[place // 2 : place // 2 + many]
        arrays[name] = points[:, None] if place % 2 == 0 else points
    shape = (3, 4) if len(names) > 1 else (3, 1)
    together = parts(declared.function(**arrays, **plain))
    assert len(together) == len(declared.outputs)
    finite = 0
    for part in together:
        assert part.shape == shape
    for index in np.ndindex(shape):
        numbers = {n: float(np.broadcast_to(a, shape)[index]) for n, a in arrays.items()}
        alone = declared.function(**numbers, **plain)
        for part, one in zip(together, parts(alone), strict=True):
            assert one.shape == ()
            np.testing.assert_allclose(part[index], one, rtol=1e-13, equal_nan=True)
            finite += np.isfinite(one)
    assert finite > 0.6 * len(together) * np.prod(shape)


@pytest.mark.parametrize("declared", TRIED, ids=lambda r: r.name)
def test_a_number_gives_a_number_and_a_missing_one_nothing(declared: relation.Relation) -> None:
    numbers = {n: float(values(declared, n, 5)[2]) for n in declared.inputs}
    plain = {name: PLAIN[name] for name in declared.plain}
    result = relation.evaluate(declared.name, **numbers, **plain)
    for part in result if isinstance(result, tuple) else (result,):
        assert isinstance(part, float)
        assert not np.isnan(part)
    for name in declared.inputs:
        for part in parts(relation.evaluate(declared.name, **numbers | {name: np.nan}, **plain)):
            assert np.isnan(part), name


@pytest.mark.parametrize("declared", REGISTER.values(), ids=lambda r: r.name)
def test_declared_well(declared: relation.Relation) -> None:
    assert declared.title
    assert declared.source
    assert declared.function.__doc__
    for name, quantity in (declared.inputs | declared.outputs).items():
        assert quantity.name, name
        assert quantity.unit in units.SI.values() or SI_PRODUCT.fullmatch(quantity.unit), (
            f"{name}: {quantity.unit}"
        )
        assert quantity.low < quantity.high, name


def half(
    length: Annotated[Number, Quantity("length", "m", 0.0, 10.0)],
) -> Annotated[Number, Quantity("half", "m")]:
    """Half a length [m]."""
    return length / 2


class Both(NamedTuple):
    """Less and more [m]."""

    less: Annotated[Number, Quantity("less", "m")]
    more: Annotated[Number, Quantity("more", "m")]


def around(
    length: Annotated[Number, Quantity("length", "m", 0.0, 10.0)],
    by: Annotated[Number, Quantity("by", "m", 0.0, 5.0)] = 1.0,
    label: str = "",
) -> Both:
    """Less and more [m]."""
    return Both(length - by, length + by)


@pytest.fixture
def register(monkeypatch: pytest.MonkeyPatch) -> dict[str, relation.Relation]:
    """A register of its own, so that these do not stay in the real one."""
    monkeypatch.setattr(relation, "REGISTER", {})
    return relation.REGISTER


def test_declaring_leaves_the_function_as_it_is(register: dict[str, relation.Relation]) -> None:
    assert relation.relation("Half", source="arithmetic")(half) is half
    declared = register["half"]
    assert (declared.inputs["length"].high, declared.outputs["half"].unit) == (10.0, "m")
    assert half(-4.0) == -2.0


def test_several_results_defaults_and_plain(register: dict[str, relation.Relation]) -> None:
    relation.relation("Around", source="arithmetic")(around)
    declared = register["around"]
    assert list(declared.outputs) == ["less", "more"]
    assert declared.defaults == {"by": 1.0, "label": ""}
    assert declared.plain == ("label",)
    assert relation.evaluate("around", length=3.0) == Both(2.0, 4.0)
    assert np.all(np.isnan(relation.evaluate("around", length=3.0, by=6.0)))


def test_closed_range_and_nan_outside_it(register: dict[str, relation.Relation]) -> None:
    relation.relation("Half", source="arithmetic")(half)
    assert relation.evaluate(half, length=0.0) == 0.0
    assert relation.evaluate(half, length=10.0) == 5.0
    for outside in (-1e-9, 10.000001, np.nan, np.inf, -np.inf):
        assert np.isnan(relation.evaluate(half, length=outside))
    mixed = relation.evaluate(half, length=np.array([-1.0, 4.0, np.nan]))
    np.testing.assert_array_equal(mixed, [np.nan, 2.0, np.nan])
    assert relation.outside(register["half"], {"length": 11.0}) == ["length"]
    assert relation.outside(register["half"], {"length": 1.0}) == []


def test_refuses_what_is_not_declared(register: dict[str, relation.Relation]) -> None:
    def no_result(length: Annotated[Number, Quantity("length", "m")]) -> float:
        return 1.0

    def no_input() -> Annotated[Number, Quantity("length", "m")]:
        return 1.0

    for function in (no_result, no_input):
        with pytest.raises(TypeError, match="declared quantities"):
            relation.relation("x", source="y")(function)
    relation.relation("Half", source="arithmetic")(half)
    with pytest.raises(TypeError, match="twice"):
        relation.relation("Half", source="arithmetic")(half)
    with pytest.raises(KeyError):
        relation.find("quarter")
