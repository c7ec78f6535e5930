"""The choice as a mixed-integer program in LP text, and the solver's columns read back.

Columns: `x3_1` is 1 where item 3 rides in bay 1; `z2_0` is 1 where the aeroplane at moment 2 lies in piece 0
of its envelope; `nil` is 0. Bulk is in litres, so that all figures are of one size. Limits of balance that
others make idle are left out; those that stay are written in the items themselves, which the solver proves
faster than by columns of mass and moment.

First pass: the most worth, in whole numbers, so that a bound less than one above it proves it. Second pass:
among choices of that worth the most things, then the least unwelcome. Not in one objective: that takes ten
times as long.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from .choice import LEFT, Array, Choice
from .pieces import meeting

LITRE = 1e-3
_PER_LINE = 8


def model_text(choice: Choice, *, at_least: int | None = None, settle: bool = False) -> str:
    """The program as LP text. `at_least`: no less worth than that; `settle`: the second pass, of ties."""
    lines = ["\\ what comes along, and where it rides"]
    spots = _spots(choice)
    lines += _objective(choice, spots, settle)
    lines.append("Subject To")
    lines += _of_items(choice, spots)
    lines += _of_bays(choice, spots)
    if at_least is not None:
        lines += _row("kept", [(float(choice.worth[i]), _x(i, b)) for i, b in spots], ">=", float(at_least))
    rows, binaries = _of_balance(choice, spots)
    lines += rows
    lines += ["Bounds", " nil = 0", "Binaries"]
    names = [_x(i, b) for i, b in spots] + binaries
    lines += [" " + " ".join(names[k : k + _PER_LINE]) for k in range(0, len(names), _PER_LINE)]
    return "\n".join([*lines, "End", ""])


def read_columns(choice: Choice, columns: Mapping[str, Any]) -> np.ndarray:
    """The bay of each item (n,), LEFT where it stays, from the solver's columns by name."""
    bay_of = np.full(choice.items, LEFT, dtype=np.int64)
    for item, bay in _spots(choice):
        if float(columns.get(_x(item, bay), 0.0)) > 0.5:
            bay_of[item] = bay
    return bay_of


def _x(item: int, bay: int) -> str:
    return f"x{item}_{bay}"


def _spots(choice: Choice) -> list[tuple[int, int]]:
    return [(int(i), int(b)) for i, b in np.argwhere(choice.open)]


def _row(name: str, terms: Iterable[tuple[float, str]], sense: str, right: float) -> list[str]:
    parts = [f"{weight:+.12g} {column}" for weight, column in terms if weight != 0.0]
    if not parts:
        parts = ["+1 nil"]
    found = [" ".join(parts[k : k + _PER_LINE]) for k in range(0, len(parts), _PER_LINE)]
    found[0] = f" {name}: {found[0]}"
    found[-1] = f"{found[-1]} {sense} {right:.12g}"
    return [found[0], *(f"  {line}" for line in found[1:])]


def _objective(choice: Choice, spots: list[tuple[int, int]], settle: bool) -> list[str]:
    if not settle:
        return ["Maximize", *_plain("worth", [(float(choice.worth[i]), _x(i, b)) for i, b in spots])]
    weight = choice.mass / max(float(np.sum(choice.mass)), 1e-9)
    cost = choice.unwelcome if choice.unwelcome.size else np.zeros_like(choice.bulk)
    # the costs of all items together are less than 1: one thing more always counts before them
    terms = [(0.999 * weight[i] * cost[i, b] - 1.0, _x(i, b)) for i, b in spots]
    return ["Minimize", *_plain("ties", terms)]


def _plain(name: str, terms: list[tuple[float, str]]) -> list[str]:
    parts = [f"{weight:+.12g} {column}" for weight, column in terms] or ["+1 nil"]
    found = [" ".join(parts[k : k + _PER_LINE]) for k in range(0, len(parts), _PER_LINE)]
    return [f" {name}: {found[0]}", *(f"  {line}" for line in found[1:])]


def _of_items(choice: Choice, spots: list[tuple[int, int]]) -> list[str]:
    lines: list[str] = []
    by_item: dict[int, list[str]] = {}
    for item, bay in spots:
        by_item.setdefault(item, []).append(_x(item, bay))
    for item in range(choice.items):
        names = by_item.get(item, [])
        has_to = bool(choice.must[item]) or choice.locked[item] > LEFT
        if names and (has_to or len(names) > 1):
            lines += _row(f"item{item}", [(1.0, name) for name in names], "=" if has_to else "<=", 1.0)
        elif has_to and not names:
            lines += _row(f"item{item}", [], "=", 1.0)  # it must come and may ride nowhere: no choice at all
    for index, group in enumerate(choice.at_least):
        terms = [(float(choice.mass[i]), _x(i, b)) for i, b in spots if group.items[i]]
        lines += _row(f"least{index}", terms, ">=", group.mass)
    for index, no in enumerate(choice.never):
        terms = [(1.0, _x(i, b)) for i, b in spots if b == no.bay and no.items[i]]
        if len(terms) == int(np.sum(no.items)):
            lines += _row(f"never{index}", terms, "<=", len(terms) - 1.0)
    return lines


def _of_bays(choice: Choice, spots: list[tuple[int, int]]) -> list[str]:
    lines: list[str] = []
    for bay in range(choice.bays):
        inside = [i for i, b in spots if b == bay]
        if not inside:
            continue
        if np.isfinite(choice.bay_mass[bay]):
            terms = [(float(choice.mass[i]), _x(i, bay)) for i in inside]
            lines += _row(f"mass{bay}", terms, "<=", float(choice.bay_mass[bay]))
        if np.isfinite(choice.bay_bulk[bay]):
            terms = [(float(choice.bulk[i, bay]) / LITRE, _x(i, bay)) for i in inside]
            lines += _row(f"bulk{bay}", terms, "<=", float(choice.bay_bulk[bay]) / LITRE)
    for index, joint in enumerate(choice.together):
        terms = [(float(choice.mass[i]), _x(i, b)) for i, b in spots if joint.bays[b]]
        lines += _row(f"together{index}", terms, "<=", joint.limit)
    for index, one in enumerate(choice.used):
        lines += _row(f"used{index}", [(float(one.usage[i, b]), _x(i, b)) for i, b in spots], "<=", one.limit)
    return lines


def _of_balance(choice: Choice, spots: list[tuple[int, int]]) -> tuple[list[str], list[str]]:
    """Rows and binaries of total mass and of the envelope at every moment."""

    def kit(row: Array) -> list[tuple[float, str]]:
        return [(float(choice.mass[i] * (row[0] + row[1] * choice.arm[b])), _x(i, b)) for i, b in spots]

    corners = _reach(choice)
    single = [_shifted(one.pieces[0], one) for one in choice.moments if len(one.pieces) == 1]
    binaries: list[str] = []
    rows, left = meeting(np.concatenate(single), corners) if single else (np.zeros((0, 3)), corners)
    lines: list[str] = []
    if np.isfinite(choice.total):
        lines += _row("total", kit(np.array([1.0, 0.0])), "<=", choice.total)
    for index, row in enumerate(rows):
        lines += _row(f"edge{index}", kit(row), "<=", float(row[2]))
    nowhere = left.size == 0 or any(not one.pieces for one in choice.moments)
    for index, one in enumerate(choice.moments):
        if len(one.pieces) < 2 or nowhere:
            continue
        found = []
        for number, piece in enumerate(one.pieces):
            limits, rest = meeting(_shifted(piece, one), left)
            if rest.size == 0:
                continue
            name = f"z{index}_{number}"
            found.append(name)
            for k, row in enumerate(limits):
                beyond = float(np.max(left @ row[:2] - row[2]))
                terms = [*kit(row), (beyond, name)]
                lines += _row(f"piece{index}_{number}_{k}", terms, "<=", float(row[2]) + beyond)
        binaries += found
        nowhere = not found
        if found:
            lines += _row(f"one{index}", [(1.0, name) for name in found], "=", 1.0)
    if nowhere:
        lines += _row("nowhere", [], "=", 1.0)
    return lines, binaries


def _shifted(piece: Array, moment: Any) -> Array:
    """Limits of the kit alone: those of the aeroplane less what it weighs without."""
    rows = piece.copy()
    rows[:, 2] -= piece[:, :2] @ (moment.mass, moment.moment)
    return rows


def _reach(choice: Choice) -> Array:
    """Corners (4, 2) of what mass and moment the kit can have at all."""
    heaviest = min(float(np.sum(choice.mass)), choice.total)
    lowest, highest = min(0.0, float(np.min(choice.arm))), max(0.0, float(np.max(choice.arm)))
    low, high = lowest * heaviest, highest * heaviest
    return np.array([(0.0, low), (heaviest, low), (heaviest, high), (0.0, high)])
