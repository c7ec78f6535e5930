"""The choice as a program: published optima, the envelope in pieces, each kind of limit by itself."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from tussock.selftest.packing import ENVELOPES, invented
from tussock.solver import solve
from tussock.sums.loading import envelope_margins
from tussock.sums.packing.choice import LEFT, AtLeast, Choice, Moment, Never, Together, Used, broken, worth_of
from tussock.sums.packing.model import model_text, read_columns
from tussock.sums.packing.pieces import convex_pieces, guarded, meeting

#: OR-Library (Beasley 1990), file mknap1: multi-knapsack problems of Petersen (1967), each with its optimum
PUBLISHED = Path(__file__).parent / "fixtures" / "mknap1.txt"


def knapsacks() -> list[tuple[Choice, float, float]]:
    """Each as a choice with one bay, its published optimum, and what its worth was multiplied by."""
    figures = iter(map(float, PUBLISHED.read_text(encoding="utf-8").split()))
    found = []
    for _ in range(int(next(figures))):
        n, m, optimum = int(next(figures)), int(next(figures)), next(figures)
        profit = np.array([next(figures) for _ in range(n)])
        usage = np.array([[next(figures) for _ in range(n)] for _ in range(m)])
        limits = [next(figures) for _ in range(m)]
        base = empty(n, 1)
        used = tuple(Used(f"of {k}", usage[k][:, None], limits[k]) for k in range(m))
        worth = np.rint(10.0 * profit).astype(np.int64)
        found.append((replace(base, worth=worth, used=used), optimum, 10.0))
    assert next(figures, None) is None
    return found


def empty(items: int, bays: int) -> Choice:
    """Things of 1 kg, 1 L and a worth of 1, and bays that take all of them."""
    return Choice(
        worth=np.ones(items, dtype=np.int64),
        mass=np.ones(items),
        bulk=np.full((items, bays), 1e-3),
        may=np.ones((items, bays), dtype=bool),
        must=np.zeros(items, dtype=bool),
        locked=np.full(items, -2),
        arm=np.arange(bays, dtype=float),
        bay_mass=np.full(bays, np.inf),
        bay_bulk=np.full(bays, np.inf),
    )


def solved(choice: Choice) -> np.ndarray | None:
    found = solve(model_text(choice))
    return read_columns(choice, found.columns) if found.columns else None


@pytest.mark.parametrize("index", range(7))
def test_published_optima_of_multi_knapsack_problems(index: int) -> None:
    choice, optimum, scale = knapsacks()[index]
    found = solve(model_text(choice))
    assert found.status == "optimal"
    assert found.objective / scale == pytest.approx(optimum, abs=1e-6)
    assert broken(choice, read_columns(choice, found.columns)) == []


ONE_LIMIT = {
    "bay_mass": ({"bay_mass": np.array([2.0, 1.0])}, 3),
    "bay_bulk": ({"bay_bulk": np.array([1e-3, 3e-3])}, 4),
    "total": ({"total": 2.0}, 2),
    "together": ({"together": (Together(np.array([True, True]), 3.0),)}, 3),
    "may": ({"may": np.array([[True, False]] * 2 + [[False, False]] * 3)}, 2),
    "never": ({"never": (Never(np.ones(5, dtype=bool), 0), Never(np.ones(5, dtype=bool), 1))}, 5),
}


@pytest.mark.parametrize("name", ONE_LIMIT)
def test_each_limit_binds_by_itself(name: str) -> None:
    changes, worth = ONE_LIMIT[name]
    choice = replace(empty(5, 2), **changes)
    bay_of = solved(choice)
    assert bay_of is not None
    assert worth_of(choice, bay_of) == worth
    assert broken(choice, bay_of) == []
    all_in = np.array([0, 0, 0, 0, 0])
    assert name in {part.limit.replace("place", "may") for part in broken(choice, all_in)}


def test_what_must_come_and_what_is_locked_stay() -> None:
    choice = replace(
        empty(4, 2),
        worth=np.array([0, 1, 9, 9]),
        must=np.array([True, False, False, False]),
        locked=np.array([-2, 1, LEFT, -2]),
        total=3.0,
    )
    bay_of = solved(choice)
    assert bay_of is not None
    assert bay_of[0] >= 0
    assert bay_of[1] == 1
    assert bay_of[2] == LEFT
    assert bay_of[3] >= 0
    assert {part.limit for part in broken(choice, np.array([LEFT, LEFT, 0, 0]))} == {"must", "place"}


def test_water_comes_before_worth() -> None:
    water = np.array([True, True, False, False])
    choice = replace(empty(4, 1), worth=np.array([0, 0, 5, 5]), total=3.0, at_least=(AtLeast(water, 2.0),))
    bay_of = solved(choice)
    assert bay_of is not None
    assert list(bay_of[:2]) == [0, 0]
    assert "at_least" in {part.limit for part in broken(choice, np.array([0, LEFT, 0, 0]))}


def test_what_cannot_be_met_has_no_choice() -> None:
    must = replace(empty(3, 1), must=np.ones(3, dtype=bool), total=2.0)
    nowhere = replace(empty(3, 1), must=np.ones(3, dtype=bool), may=np.zeros((3, 1), dtype=bool))
    outside = replace(
        empty(3, 1), moments=(Moment("ramp", 100.0, 200.0, tuple(convex_pieces(*ENVELOPES[0]))),)
    )
    for choice in (must, nowhere, outside):
        assert solve(model_text(choice)).status == "infeasible"


@pytest.mark.parametrize("arm_of_empty", [0.24, 0.45])
def test_balance_binds_forward_and_aft(arm_of_empty: float) -> None:
    """Two bays far apart: only that which brings the aeroplane back inside can be filled at will."""
    envelope = tuple(convex_pieces(*ENVELOPES[0]))
    moment = Moment("takeoff", 400.0, 400.0 * arm_of_empty, envelope)
    choice = replace(empty(30, 2), mass=np.full(30, 3.0), arm=np.array([-0.5, 1.5]), moments=(moment,))
    bay_of = solved(choice)
    assert bay_of is not None
    assert worth_of(choice, bay_of) == 30
    assert broken(choice, bay_of) == []
    wrong = 0 if arm_of_empty < 0.3 else 1
    assert [part.limit for part in broken(choice, np.full(30, wrong))] == ["envelope"]


@pytest.mark.parametrize("index", range(len(ENVELOPES)))
@pytest.mark.parametrize("edges", ["arm", "moment"])
def test_pieces_lie_inside_the_envelope_and_fill_it(index: int, edges: str) -> None:
    mass, arm = (np.array(part) for part in ENVELOPES[index])
    pieces = convex_pieces(mass, arm, edges)
    draw = np.random.default_rng(5)
    at_mass, at_arm = draw.uniform(340.0, 660.0, 40_000), draw.uniform(0.15, 0.5, 40_000)
    inside = np.asarray(envelope_margins(at_mass, at_arm, mass, arm, edges).inside) > 0.0
    here = np.stack([at_mass, at_mass * at_arm])
    held = np.array([np.all(p[:, :2] @ here <= p[:, 2:] + 1e-9, axis=0) for p in pieces])
    assert not np.any(held.any(axis=0) & ~inside)
    # what chords leave out is a sliver
    assert np.sum(inside & ~held.any(axis=0)) < 1e-3 * np.sum(inside)
    assert len(pieces) == (1 if index < 2 or (edges == "moment" and index == 3) else len(pieces))
    assert len(pieces) > 1 or index != 2


def test_the_guard_draws_in_the_aft_limit_alone() -> None:
    (piece,) = convex_pieces(*ENVELOPES[0])
    drawn = guarded(piece, 5.0)
    for arm, held in ((0.451, False), (0.449, True), (0.2201, True)):
        at = np.array([500.0, 500.0 * arm])
        assert bool(np.all(drawn[:, :2] @ at <= drawn[:, 2])) is held, arm


def test_limits_that_others_make_idle_are_left_out() -> None:
    square = np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)])
    rows = np.array([(1.0, 0.0, 20.0), (1.0, 1.0, 12.0), (1.0, 1.0, 9.0), (0.0, -1.0, 5.0)])
    kept, corners = meeting(rows, square)
    assert kept.tolist() == [[1.0, 1.0, 9.0]]
    assert np.max(corners.sum(axis=1)) == pytest.approx(9.0)
    assert meeting(np.array([(1.0, 0.0, -1.0)]), square)[1].size == 0


def test_ties_keep_the_worth_and_go_forward() -> None:
    choice = invented(3, 20, 3, plain=True)
    first = solve(model_text(choice))
    kept = round(first.objective)
    second = solve(model_text(choice, at_least=kept, settle=True))
    before, after = read_columns(choice, first.columns), read_columns(choice, second.columns)
    assert worth_of(choice, after) == kept
    assert broken(choice, after) == []

    def cost(bay_of: np.ndarray) -> tuple[int, float]:
        aboard = np.flatnonzero(bay_of != LEFT)
        return -aboard.size, float(np.sum(choice.mass[aboard] * choice.unwelcome[aboard, bay_of[aboard]]))

    assert cost(after) <= cost(before)
    roomy = replace(empty(4, 3), unwelcome=np.tile([0.0, 0.5, 1.0], (4, 1)), bay_mass=np.full(3, 3.0))
    settled = solve(model_text(roomy, at_least=4, settle=True))
    assert sorted(read_columns(roomy, settled.columns).tolist()) == [0, 0, 0, 1]
