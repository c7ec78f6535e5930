"""The choice formulated once more, straight from its figures, for scipy's `milp`.

Other than there: mass and moment of the kit are columns; each moment has a copy of both for each piece of its
envelope, and the copies of pieces that are not taken are nil, so that no large number switches a limit off.
(scipy's solver is HiGHS too: what is checked is the formulation, not the solver.)
"""

from __future__ import annotations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from tussock.sums.packing.choice import LEFT, Choice


class _Rows:
    def __init__(self) -> None:
        self.at: list[tuple[int, int, float]] = []
        self.low: list[float] = []
        self.high: list[float] = []

    def add(self, terms: list[tuple[int, float]], low: float = -np.inf, high: float = np.inf) -> None:
        self.at += [(len(self.low), column, weight) for column, weight in terms]
        self.low.append(low)
        self.high.append(high)


def most_worth(choice: Choice) -> int | None:
    """The optimum, None where no choice meets all limits."""
    n, b = choice.items, choice.bays
    grid = np.arange(n * b).reshape(n, b)
    mass_column, moment_column = n * b, n * b + 1
    columns = n * b + 2
    rows = _Rows()
    high = choice.may.astype(float)
    for i in range(n):
        if choice.locked[i] == LEFT:
            high[i] = 0.0
        elif choice.locked[i] >= 0:
            high[i] = 0.0
            high[i, choice.locked[i]] = 1.0
        has_to = choice.must[i] or choice.locked[i] >= 0
        rows.add([(grid[i, k], 1.0) for k in range(b)], 1.0 if has_to else 0.0, 1.0)
    for k in range(b):
        rows.add([(grid[i, k], choice.mass[i]) for i in range(n)], high=choice.bay_mass[k])
        rows.add([(grid[i, k], 1e3 * choice.bulk[i, k]) for i in range(n)], high=1e3 * choice.bay_bulk[k])
    for joint in choice.together:
        inside = [(grid[i, k], choice.mass[i]) for i in range(n) for k in range(b) if joint.bays[k]]
        rows.add(inside, high=joint.limit)
    for group in choice.at_least:
        wanted = [(grid[i, k], choice.mass[i]) for i in range(n) for k in range(b) if group.items[i]]
        rows.add(wanted, low=group.mass)
    everything = [(i, k) for i in range(n) for k in range(b)]
    rows.add([(grid[i, k], choice.mass[i]) for i, k in everything] + [(mass_column, -1.0)], 0.0, 0.0)
    turning = [(grid[i, k], choice.mass[i] * choice.arm[k]) for i, k in everything]
    rows.add([*turning, (moment_column, -1.0)], 0.0, 0.0)
    rows.add([(mass_column, 1.0)], high=choice.total)
    lows, highs, whole = (
        [*np.zeros(n * b), 0.0, -np.inf],
        [*high.ravel(), np.inf, np.inf],
        [1] * n * b + [0, 0],
    )
    for moment in choice.moments:
        flags, masses, moments = [], [], []
        for piece in moment.pieces:
            flag, mass, turn = columns, columns + 1, columns + 2
            columns += 3
            lows += [0.0, -np.inf, -np.inf]
            highs += [1.0, np.inf, np.inf]
            whole += [1, 0, 0]
            for p, q, r in piece:
                # of the whole aeroplane; with the flag at 0 a bounded piece leaves nothing but nil
                rows.add([(mass, p), (turn, q), (flag, -r)], high=0.0)
            flags.append((flag, 1.0))
            masses.append((mass, 1.0))
            moments.append((turn, 1.0))
        rows.add(flags, 1.0, 1.0)
        rows.add([*masses, (mass_column, -1.0)], moment.mass, moment.mass)
        rows.add([*moments, (moment_column, -1.0)], moment.moment, moment.moment)
    line, column, weight = (np.array(part) for part in zip(*rows.at, strict=True))
    matrix = coo_array((weight, (line, column)), shape=(len(rows.low), columns)).tocsc()
    cost = np.zeros(columns)
    cost[: n * b] = -np.repeat(choice.worth, b)
    found = milp(
        cost,
        integrality=np.array(whole),
        bounds=Bounds(np.array(lows), np.array(highs)),
        constraints=LinearConstraint(matrix, np.array(rows.low), np.array(rows.high)),
        options={"mip_rel_gap": 0.0},
    )
    if found.status == 2:
        return None
    assert found.status == 0, found.message
    return round(-found.fun)
