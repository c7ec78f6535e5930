"""One leg and what is tried on it: every change answered again on all six, once, and remembered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from ..documents import Bundle, Trip
from ..documents.trip import Leg
from .answer import QUESTIONS, RANK, TIGHT, YES
from .asking import LegAnswer, ask
from .edits import Edit


@dataclass
class Remedy:
    kind: str
    change: dict[str, Any]
    edits: list[Edit]
    after: LegAnswer
    turns: list[str]
    cost: float = 0.0
    notes: list[dict[str, Any]] = field(default_factory=list)

    def as_dict(self) -> dict[str, Any]:
        return {
            "kind": self.kind,
            "change": self.change,
            "edits": self.edits,
            "turns": self.turns,
            "verdict": self.after.verdict,
            "notes": self.notes,
            "answers": [
                {
                    "question": one.question,
                    "verdict": one.verdict,
                    **{k: one.as_dict()[k] for k in ("margin", "unit", "dimension", "needed", "available")},
                }
                for one in self.after.answers
            ],
        }


class Search:
    """One leg, and the changes that are tried on it. Every change is answered once and remembered."""

    def __init__(self, bundle: Bundle, trip: Trip, leg: Leg, now: datetime) -> None:
        self.bundle, self.trip, self.leg, self.now = bundle, trip, leg, now
        self.before = ask(bundle, trip, leg, now, silent=True)
        self.asked = 1
        self._known: dict[Any, LegAnswer] = {}
        self._others: dict[str, LegAnswer] = {}
        self._harm: dict[Any, bool] = {}

    def after(self, key: Any, changed: Callable[[], Bundle]) -> LegAnswer:
        """The leg answered again in the bundle that `changed` makes; `key` names the change."""
        if key not in self._known:
            self.asked += 1
            bundle = changed()
            trip = bundle.by_id[self.trip.id]
            assert isinstance(trip, Trip)
            leg = next(leg for leg in trip.legs if leg.id == self.leg.id)
            self._known[key] = ask(bundle, trip, leg, self.now, silent=True)
        return self._known[key]

    def harms_other_legs(self, key: Any, bundle: Bundle) -> bool:
        """Whether another leg with the same load would be answered worse; `key` names the change."""
        if key not in self._harm:
            trip = bundle.by_id[self.trip.id]
            assert isinstance(trip, Trip)
            others = [one for one in trip.legs if one.id != self.leg.id and one.load == self.leg.load]
            self._harm[key] = any(self._worse(one, bundle, trip) for one in others)
        return self._harm[key]

    def _worse(self, leg: Leg, bundle: Bundle, trip: Trip) -> bool:
        if leg.id not in self._others:
            self._others[leg.id] = ask(self.bundle, self.trip, leg, self.now, silent=True)
        before = self._others[leg.id].verdicts
        after = ask(bundle, trip, leg, self.now, silent=True).verdicts
        return any(RANK[after[q]] < RANK[before[q]] for q in QUESTIONS)

    def turned(self, after: LegAnswer) -> list[str]:
        """Questions that turn to tight or yes; empty when any verdict is worse than before."""
        before, now = self.before.verdicts, after.verdicts
        if any(RANK[now[q]] < RANK[before[q]] for q in QUESTIONS):
            return []
        return [q for q in QUESTIONS if RANK[now[q]] > RANK[before[q]] and RANK[now[q]] >= RANK[TIGHT]]

    def good(self, after: LegAnswer, question: str, goal: str) -> bool:
        return bool(self.turned(after)) and RANK[after.verdicts[question]] >= RANK[goal]

    def goals(self, question: str) -> list[str]:
        """What is worth trying for: a clear yes first, then tight where it is a no."""
        return [goal for goal in (YES, TIGHT) if RANK[goal] > RANK[self.before.verdicts[question]]]


def bisect(low: int, high: int, good: Callable[[int], bool]) -> int | None:
    """The least whole number in low..high for which `good`, taken to be monotone; None when high is not."""
    if low > high or not good(high):
        return None
    while low < high:
        middle = (low + high) // 2
        if good(middle):
            high = middle
        else:
            low = middle + 1
    return low
