"""HiGHS natively, for tests and measurements. In the browser the same text goes to its twin."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any


@dataclass(frozen=True)
class Solved:
    """status: "optimal", "stopped" (something was found) or "infeasible"; worst case of the gap [1]."""

    status: str
    columns: dict[str, float]
    objective: float
    bound: float
    seconds: float
    #: (seconds, objective, bound) of every better choice as it came
    better: tuple[tuple[float, float, float], ...] = ()


def solve(text: str, *, gap: float = 0.0, seconds: float = 60.0) -> Solved:
    """Solve a program in LP text to a relative gap. Raises `ImportError` without highspy."""
    import highspy

    highs: Any = highspy.Highs()  # type: ignore[no-untyped-call]
    highs.silent()
    with tempfile.TemporaryDirectory() as scratch:
        place = Path(scratch) / "model.lp"
        place.write_text(text, encoding="utf-8")
        if highs.readModel(str(place)) == highspy.HighsStatus.kError:
            raise ValueError("the solver cannot read the model")
    highs.setOptionValue("mip_rel_gap", gap)
    highs.setOptionValue("mip_abs_gap", 1e-6)
    highs.setOptionValue("time_limit", seconds)
    highs.setOptionValue("threads", 1)
    better: list[tuple[float, float, float]] = []

    def heard(event: highspy.HighsCallbackEvent) -> None:
        out = event.data_out
        better.append((out.running_time, out.objective_function_value, out.mip_dual_bound))

    highs.cbMipImprovingSolution += heard
    highs.run()
    status, info = highs.getModelStatus(), highs.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    optimal = status == highspy.HighsModelStatus.kOptimal
    values = highs.getSolution().col_value if found else []
    names = [highs.getColName(index)[1] for index in range(len(values))]
    return Solved(
        "optimal" if optimal else "stopped" if found else "infeasible",
        dict(zip(names, values, strict=True)),
        info.objective_function_value,
        info.mip_dual_bound,
        highs.getRunTime(),
        tuple(better),
    )
