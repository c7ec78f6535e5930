"""An envelope as convex pieces with limits straight in mass and moment, never outside the envelope itself."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ..shapes import array

Array = NDArray[np.float64]

#: an edge straight in mass and arm is curved in mass and moment; each chord may be so far inside of it [kg m]
INSIDE_BY = 0.02
#: where it bends the other way every chord is a piece of its own, so fewer are used
APART_BY = 0.2
MOST_CHORDS = 16
_SAME = 1e-7


@dataclass(frozen=True)
class _Side:
    """The edge from corner to corner: masses rise, `curve` is the second difference of its moment."""

    low: float
    high: float
    low_at: float
    high_at: float
    by_moment: bool

    def moment(self, mass: float) -> float:
        share = (mass - self.low) / (self.high - self.low)
        across = self.low_at + share * (self.high_at - self.low_at)
        return across if self.by_moment else mass * across

    @property
    def curve(self) -> float:
        """Slope of the arm over the mass [m/kg]; the moment bends by twice that."""
        return 0.0 if self.by_moment else (self.high_at - self.low_at) / (self.high - self.low)


#: a line in mass and moment: its mass at one end, its moment there, its slope
_Line = tuple[float, float, float]


@dataclass(frozen=True)
class _Band:
    """A slice between two masses, convex: its lines forward and aft, from light to heavy."""

    low: float
    high: float
    forward: tuple[_Line, ...]
    aft: tuple[_Line, ...]


def _at(line: _Line, mass: float) -> float:
    return line[1] + line[2] * (mass - line[0])


def convex_pieces(vertex_mass: Any, vertex_arm: Any, edges: str = "arm") -> list[Array]:
    """The envelope as a union of convex pieces, each (k, 3): rows p, q, r of p mass + q moment <= r.

    Corners (n,) in order round a simple polygon, convex or not: masses [kg] and arms [m]; `edges` says in
    which diagram its edges are straight ("arm" or "moment"), as in `envelope_margins`. Every piece lies
    inside the envelope: an edge straight in mass and arm is a parabola in mass and moment, and chords that
    would lie beyond it are moved inwards. A convex envelope is one piece.
    """
    sides = _sides(array(vertex_mass), array(vertex_arm), edges == "moment")
    corners = sorted({mass for side in sides for mass in (side.low, side.high)})
    chains: list[list[_Band]] = []
    for low, high in pairwise(corners):
        middle = 0.5 * (low + high)
        across = sorted(
            (side for side in sides if side.low <= low and side.high >= high), key=lambda s: s.moment(middle)
        )
        for forward, aft in zip(across[0::2], across[1::2], strict=True):
            for band in _bands(forward, aft, low, high):
                _put(chains, band)
    return [_rows(chain) for chain in chains]


def _sides(mass: Array, arm: Array, by_moment: bool) -> list[_Side]:
    across = mass * arm if by_moment else arm
    found = []
    for i in range(mass.size):
        one, other = (mass[i], across[i]), (mass[i - 1], across[i - 1])
        low, high = sorted((one, other))
        if low[0] < high[0]:
            found.append(_Side(float(low[0]), float(high[0]), float(low[1]), float(high[1]), by_moment))
    return found


def _bands(forward: _Side, aft: _Side, low: float, high: float) -> list[_Band]:
    """Slices that are convex: one, unless an edge bends towards the inside."""
    hollow = max(-forward.curve, aft.curve, 0.0)
    found = []
    for start, end in _cuts(low, high, hollow, APART_BY):
        # a parabola of second difference 2 c lies up to c h² / 4 from its chord
        sag = 0.25 * (end - start) ** 2
        lines = []
        for side, bend in ((forward, forward.curve), (aft, -aft.curve)):
            if bend > 0.0:
                lines.append(tuple(_chord(side, *cut, 0.0) for cut in _cuts(start, end, bend, INSIDE_BY)))
            else:
                inwards = -bend * sag if side is forward else bend * sag
                lines.append((_chord(side, start, end, inwards),))
        found.append(_Band(start, end, lines[0], lines[1]))
    return found


def _cuts(low: float, high: float, curve: float, allowed: float) -> list[tuple[float, float]]:
    """Stretches in which a chord is so near to a parabola of second difference 2 `curve`."""
    count = min(max(1, math.ceil((high - low) * math.sqrt(curve / (4.0 * allowed)))), MOST_CHORDS)
    at = np.linspace(low, high, count + 1).tolist()
    return list(pairwise(at))


def _chord(side: _Side, low: float, high: float, shift: float) -> _Line:
    one, other = side.moment(low), side.moment(high)
    return low, one + shift, (other - one) / (high - low)


def _put(chains: list[list[_Band]], band: _Band) -> None:
    """Onto the chain that it continues, if both together are still convex; else it begins one."""
    forward, aft = band.forward[0], band.aft[0]
    scale = _SAME * max(1.0, abs(forward[1]), abs(aft[1]))
    for chain in chains:
        last = chain[-1]
        if (
            last.high == band.low
            and abs(_at(last.forward[-1], band.low) - forward[1]) <= scale
            and abs(_at(last.aft[-1], band.low) - aft[1]) <= scale
            and aft[2] <= last.aft[-1][2] + _SAME
            and forward[2] >= last.forward[-1][2] - _SAME
        ):
            chain.append(band)
            return
    chains.append([band])


def _rows(chain: list[_Band]) -> Array:
    rows = [(-1.0, 0.0, -chain[0].low), (1.0, 0.0, chain[-1].high)]
    for band in chain:
        for sign, lines in ((-1.0, band.forward), (1.0, band.aft)):
            for mass, moment, slope in lines:
                row = (-sign * slope, sign, sign * (moment - slope * mass))
                if not any(np.allclose(row, other, rtol=1e-9, atol=1e-9) for other in rows):
                    rows.append(row)
    return np.array(rows)


def guarded(piece: Array, moment: float) -> Array:
    """The piece with its aft limits drawn in by `moment` [kg m]: what the weights may be wrong by."""
    drawn = piece.copy()
    drawn[:, 2] -= np.maximum(piece[:, 1], 0.0) * moment
    return drawn


def meeting(rows: Array, corners: Array) -> tuple[Array, Array]:
    """The limits of `rows` (k, 3) that bound what they leave of a convex polygon, and the corners of that.

    `corners` (n, 2): mass and moment, in order. Rows that touch nothing are left out; with no corner left
    nothing meets all limits.
    """
    kept = []
    for row in rows:
        over = corners @ row[:2] - row[2]
        if corners.size == 0 or np.all(over <= 1e-9 * max(1.0, abs(row[2]))):
            continue
        kept.append(row)
        corners = _cut(corners, over)
    final = [
        row
        for row in kept
        if corners.size and np.max(corners @ row[:2] - row[2]) >= -1e-6 * max(1.0, abs(row[2]))
    ]
    return np.array(final).reshape(-1, 3), corners


def _cut(corners: Array, over: Array) -> Array:
    """A convex polygon without the part where `over` is positive."""
    found = []
    for i in range(len(corners)):
        here, there = over[i], over[i - 1]
        if (here > 0.0) != (there > 0.0):
            share = there / (there - here)
            found.append(corners[i - 1] + share * (corners[i] - corners[i - 1]))
        if here <= 0.0:
            found.append(corners[i])
    return np.array(found).reshape(-1, 2)
