"""Pack for me natively: the stages of `pack` at the border, the solver between them, as in the app."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from .solver import solve

#: a choice that does not hold is cut off so many times at most
ROUNDS = 14
#: the second pass only settles ties [s]
TIES = 5.0

#: a step of `pack`: its name and what goes with it -> its result
Step = Callable[..., Any]


@dataclass(frozen=True)
class Packed:
    """The best choice answered on all six (`taken`; None: impossible) and how sure it is that it is the best.

    `proven`: no choice is worth more; else none is worth more than `bound`.
    """

    begun: Any
    taken: Any
    columns: dict[str, float]
    cuts: Any
    proven: bool
    bound: float


def pack(step: Step, *, seconds: float = 60.0, settle: bool = True, everything: bool = False) -> Packed:
    """Pack one load, of what it lists or of `everything`. Raises `ImportError` without the solver."""
    cuts: Any = {"everything": True} if everything else None
    for turn in range(ROUNDS):
        begun = step("begin", cuts=cuts)
        first = solve(begun["model"], seconds=seconds)
        if first.status == "infeasible":
            if (cuts or {}).get("unguarded") or begun["nowhere"]:
                break
            # what must come may leave no room for the weights' error: then without, and it is told
            cuts = (cuts or {}) | {"unguarded": True}
            continue
        taken = step("take", columns=first.columns, cuts=cuts)
        if taken["again"] is None or turn == ROUNDS - 1:
            found = Packed(begun, taken, first.columns, cuts, first.status == "optimal", first.bound)
            return _settled(step, found) if settle else found
        cuts = taken["again"]
    return Packed(begun, None, {}, cuts, False, float("nan"))


def _settled(step: Step, found: Packed) -> Packed:
    """Of choices worth as much the one that rides best, where it holds as well."""
    second = solve(step("settle", columns=found.columns, cuts=found.cuts)["model"], seconds=TIES)
    if second.status == "infeasible":
        return found
    taken = step("take", columns=second.columns, cuts=found.cuts)
    if taken["again"] is not None or taken["worth"] != found.taken["worth"]:
        return found
    return Packed(found.begun, taken, second.columns, found.cuts, found.proven, found.bound)
