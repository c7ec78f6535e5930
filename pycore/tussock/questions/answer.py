"""What an answer is made of: verdicts, messages, measures, and the answer itself.

Only here do `inf` and `nan` of the sums turn into words: impossible is "no", outside validity is "can't say".
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

NO, CANT_SAY, TIGHT, YES = "no", "can't say", "tight", "yes"
RANK = {NO: 0, CANT_SAY: 1, TIGHT: 2, YES: 3}
#: the measures that speak for a question when all is well
MAIN = {
    "fits": ("bay_volume",),
    "balances": ("mass_takeoff", "mass_cap", "aft", "forward"),
    "lifts_off": ("takeoff_distance",),
    "climbs_out": ("gradient", "obstacle", "ridge"),
    "reaches": ("fuel",),
    "stops": ("landing_distance",),
}
QUESTIONS = ("fits", "balances", "lifts_off", "climbs_out", "reaches", "stops")


def worst(verdicts: Iterable[str]) -> str:
    """The worst of some verdicts; "can't say" when there is none."""
    return min(verdicts, key=RANK.__getitem__, default=CANT_SAY)


def at_most(verdict: str, cap: str) -> str:
    """`verdict`, but no better than `cap`."""
    return min(verdict, cap, key=RANK.__getitem__)


def message(text: str, /, **values: Any) -> dict[str, Any]:
    """A message of the text catalogue with its values; numbers that cannot be said become None."""
    return {"text": text, "values": {key: plain(value) for key, value in values.items()}}


def plain(value: Any) -> Any:
    """A value fit for JSON: numbers as floats, those that are not finite as None."""
    if value is None or isinstance(value, (str, bool, dict, list)):
        return value
    number = float(value)
    return number if math.isfinite(number) else None


@dataclass
class Measure:
    """One limit: what is needed against what is available, in SI; `name` is an id of the text catalogue."""

    name: str
    needed: float | None
    available: float | None
    unit: str
    dimension: str
    verdict: str
    values: dict[str, Any] = field(default_factory=dict)
    reason: dict[str, Any] | None = None
    #: 90 % band of what is needed (or flown) by own runs: low, median, high, upper95, and their source
    band: dict[str, Any] | None = None

    @property
    def margin(self) -> float | None:
        if self.needed is None or self.available is None:
            return None
        left = float(self.available - self.needed)
        return left if math.isfinite(left) else None

    @property
    def part(self) -> float:
        """Margin as a part of what is available, to find the governing one among equals."""
        margin = self.margin
        if margin is None or not self.available:
            return math.inf
        return margin / abs(self.available)

    def as_dict(self) -> dict[str, Any]:
        return {
            "name": self.name,
            "values": {key: plain(value) for key, value in self.values.items()},
            "needed": plain(self.needed),
            "available": plain(self.available),
            "margin": self.margin,
            "unit": self.unit,
            "dimension": self.dimension,
            "verdict": self.verdict,
            "reason": self.reason,
            **({"band": self.band} if self.band else {}),
        }


def judge(needed: float, available: float, tight_below: float) -> str:
    """Verdict of a measure where more than available is too much; `tight_below` is in the measure's unit."""
    if math.isnan(needed) or math.isnan(available) or (math.isinf(needed) and needed == available):
        return CANT_SAY
    # fifteen kilograms summed thing by thing may come out a few 1e-15 over fifteen: that is no excess
    if needed > available and not math.isclose(needed, available, rel_tol=1e-12):
        return NO
    return TIGHT if available - needed < tight_below else YES


def measure(
    name: str,
    needed: float,
    available: float,
    unit: str,
    dimension: str,
    *,
    tight_below: float = 0.0,
    values: dict[str, Any] | None = None,
    reason: dict[str, Any] | None = None,
) -> Measure:
    """A measure judged by what is left. `reason` says why when it cannot be said or is impossible."""
    return Measure(
        name,
        plain(needed),
        plain(available),
        unit,
        dimension,
        judge(needed, available, tight_below),
        values or {},
        reason,
    )


def cant_say(name: str, unit: str, dimension: str, reason: dict[str, Any], **values: Any) -> Measure:
    """A measure that cannot be said, with its reason; `available` may be told in `values`."""
    available = values.pop("available", None)
    return Measure(name, None, available, unit, dimension, CANT_SAY, values, reason)


#: what is not known because something else is missing, which is told too
FOLLOWS = ("missing.mass", "missing.burn", "missing.arrival", "missing.density_altitude")


@dataclass
class Answer:
    """The answer to one question on one leg."""

    question: str
    measures: list[Measure] = field(default_factory=list)
    reasons: list[dict[str, Any]] = field(default_factory=list)
    assumptions: list[dict[str, Any]] = field(default_factory=list)
    notes: list[dict[str, Any]] = field(default_factory=list)
    working: list[dict[str, Any]] = field(default_factory=list)
    drivers: list[dict[str, Any]] = field(default_factory=list)
    picture: dict[str, Any] | None = None
    #: the verdict can be no better than this, and why
    cap: str = YES
    #: by reason, as it prints
    _caps: dict[str, str] = field(default_factory=dict)

    def limit(self, cap: str, reason: dict[str, Any]) -> None:
        """Let the verdict be no better than `cap`, and say why."""
        self.cap = at_most(self.cap, cap)
        if reason not in self.reasons:
            # the worst first: what only keeps it from a yes must not be read as why nobody can say
            after = [
                i for i, one in enumerate(self.reasons) if RANK[self._caps.get(repr(one), YES)] > RANK[cap]
            ]
            self.reasons.insert(after[0] if after else len(self.reasons), reason)
        self._caps[repr(reason)] = at_most(self._caps.get(repr(reason), YES), cap)

    def assume(self, text: str, **values: Any) -> None:
        said = message(text, **values)
        if said not in self.assumptions:
            self.assumptions.append(said)

    @property
    def verdict(self) -> str:
        return (
            worst([*(m.verdict for m in self.measures), self.cap])
            if self.measures
            else at_most(CANT_SAY, self.cap)
        )

    @property
    def governing(self) -> int | None:
        """Index of the measure that decides: the worst verdict, then the least part left."""
        if not self.measures:
            return None
        order = range(len(self.measures))
        verdicts = {m.verdict for m in self.measures}
        main = MAIN[self.question] if verdicts == {YES} else ()

        def weight(i: int) -> tuple[int, bool, float]:
            part = self.measures[i]
            return RANK[part.verdict], bool(main) and part.name not in main, part.part

        return min(order, key=weight)

    def as_dict(self) -> dict[str, Any]:
        index = self.governing
        first = self.measures[index].as_dict() if index is not None else {}
        return {
            "question": self.question,
            "verdict": self.verdict,
            "governing": index,
            "measures": [m.as_dict() for m in self.measures],
            **{key: first.get(key) for key in ("needed", "available", "unit", "dimension", "margin")},
            "reasons": self._reasons(),
            "working": self.working,
            "drivers": self.drivers,
            "assumptions": self.assumptions,
            "notes": self.notes,
            "remedies": [],
            "picture": self.picture,
        }

    @property
    def only_follows(self) -> bool:
        """Whether what it names first is missing only because something else is."""
        reasons = self._reasons()
        return self.verdict == CANT_SAY and bool(reasons) and reasons[0]["text"] in FOLLOWS

    def _reasons(self) -> list[dict[str, Any]]:
        """Headline first: the governing measure, then other reasons of the same weight."""
        said: list[dict[str, Any]] = []
        index = self.governing
        if index is not None:
            order = [index, *(i for i in range(len(self.measures)) if i != index)]
            for i in order:
                part = self.measures[i]
                if part.verdict == YES and i != index:
                    continue
                said.append(part.reason or self._by_measure(part))
        if RANK[self.cap] < min((RANK[m.verdict] for m in self.measures), default=9):
            return [*self.reasons, *said]
        return [*said, *(r for r in self.reasons if r not in said)]

    def _by_measure(self, part: Measure) -> dict[str, Any]:
        label = {"text": f"measure.{part.name}", "values": {k: plain(v) for k, v in part.values.items()}}
        values = {"what": label, "needed": part.needed, "available": part.available}
        return {"text": f"reason.wants.{part.dimension.replace(' ', '_')}", "values": values}
