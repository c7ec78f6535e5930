"""Which few things to give up to meet some limits: the least worth, then the fewest, then the least mass.

Sets of up to three things are all looked at; larger ones come from a covering heuristic that takes back what
is not needed. No verdict is given here: what is chosen is answered by the questions.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np

#: sets of three are looked at among so many things at most, the most telling for their worth
THREES = 48
#: nobody repacks more than that at the strip
MOST = 8
HAIR = 1e-9
Set = tuple[int, ...]


@dataclass(frozen=True)
class Limit:
    """What must go: `gives` (n,) is what each thing gives towards `least`, all in one unit."""

    gives: np.ndarray
    least: float

    def met(self, chosen: Set) -> bool:
        return float(np.sum(self.gives[list(chosen)])) >= self.least - HAIR


class Choosing:
    """Sets of things in the order in which a pilot would rather give them up."""

    def __init__(self, worth: np.ndarray, mass: np.ndarray, limits: list[Limit]) -> None:
        """`worth` (n,) whole numbers, `mass` (n,) [kg]; each of `limits` must be met, whatever is chosen."""
        self.worth, self.mass, self.limits = worth, mass, limits
        self._rows = self._small()

    def key(self, chosen: Set) -> tuple[int, int, float, Set]:
        """What is given up, to be compared: worth, number, mass."""
        picked = list(chosen)
        mass = round(float(np.sum(self.mass[picked])), 9)
        return int(np.sum(self.worth[picked])), len(picked), mass, chosen

    def each(self, more: Limit | None = None) -> Iterator[Set]:
        """Sets that meet all limits and one more, the best first."""
        limits = [*self.limits, more] if more is not None else self.limits
        rows = self._rows
        if len(rows) == 0:
            return
        meets = np.ones(len(rows), dtype=bool)
        for limit in limits:
            # the last place is that of no thing
            meets &= np.append(limit.gives, 0.0)[rows].sum(axis=1) >= limit.least - HAIR
        larger = self._larger(limits)
        for row in rows[meets]:
            chosen = tuple(int(i) for i in row if i < len(self.worth))
            if larger is not None and self.key(larger) < self.key(chosen):
                yield larger
                larger = None
            yield chosen
        if larger is not None:
            yield larger

    def _small(self) -> np.ndarray:
        """All sets of up to three as rows, the best first; a place that is not taken holds the number n."""
        count = len(self.worth)
        tells = np.zeros(count)
        for limit in self.limits:
            tells += limit.gives / max(float(np.max(np.abs(limit.gives), initial=0.0)), HAIR)
        tells = (tells if self.limits else self.mass) / (self.worth + 0.5)
        few = sorted(np.argsort(-tells, kind="stable")[:THREES].tolist())
        sets = [*combinations(range(count), 1), *combinations(range(count), 2), *combinations(few, 3)]
        rows = np.full((len(sets), 3), count)
        for size, start in ((1, 0), (2, count), (3, count + count * (count - 1) // 2)):
            end = len(sets) if size == 3 else start + (count if size == 1 else count * (count - 1) // 2)
            if end > start:
                rows[start:end, :size] = sets[start:end]
        taken = rows < count
        worth = np.append(self.worth, 0)[rows].sum(axis=1)
        mass = np.round(np.append(self.mass, 0.0)[rows].sum(axis=1), 9)
        order = np.lexsort((mass, taken.sum(axis=1), worth))
        return rows[order]

    def _larger(self, limits: list[Limit]) -> Set | None:
        """A covering set of any size up to `MOST`: what gives most for its worth, less what is not needed."""
        found = []
        for spare in (0.05, 0.5, 3.0):
            chosen = self._covering(limits, spare)
            if chosen is not None and 3 < len(chosen) <= MOST:
                found.append(chosen)
        return min(found, key=self.key, default=None)

    def _covering(self, limits: list[Limit], spare: float) -> Set | None:
        chosen: list[int] = []
        rest = [limit.least for limit in limits]
        while any(left > HAIR for left in rest):
            gain = np.zeros(len(self.worth))
            for limit, left in zip(limits, rest, strict=True):
                if left > HAIR:
                    gain += np.clip(limit.gives, 0.0, left) / left
            gain[chosen] = 0.0
            best = int(np.argmax(gain / (self.worth + spare)))
            if gain[best] <= 0.0:
                return None
            chosen.append(best)
            rest = [limit.least - float(np.sum(limit.gives[chosen])) for limit in limits]
        for one in sorted(chosen, key=lambda i: (-self.worth[i], -self.mass[i])):
            fewer = tuple(i for i in chosen if i != one)
            if all(limit.met(fewer) for limit in limits):
                chosen = list(fewer)
        return tuple(sorted(chosen))
