"""Odd things: possible, hardly likely. They are not refused; they go as warnings into the answer.

Those that need a sum (an altimeter that implies an unlikely QNH) are found where sums and documents meet.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .aeroplane import Aeroplane, WeighedOnScales
from .air import Air, Qnh
from .bundle import Bundle
from .performance import ClimbTable, DistanceTable

Odd = tuple[str, str, str, dict[str, Any]]

QNH_LOW, QNH_HIGH = 98_000.0, 104_000.0


#: lift coefficient that no wing of a light aeroplane reaches, slats and power included: common practice
MOST_LIFT = 4.0


def odd_things(bundle: Bundle) -> list[Odd]:
    """`(text id, document id, pointer, values)` for everything odd in the bundle."""
    return [odd for document in bundle.documents for odd in _of(document)]


def _of(document: Any) -> Iterator[Odd]:
    if isinstance(document, Aeroplane):
        yield from _aeroplane(document)
    elif isinstance(document, Air) and isinstance(document.pressure, Qnh):
        qnh = document.pressure.qnh
        if not QNH_LOW <= qnh <= QNH_HIGH:
            yield "odd.qnh", document.id, "/pressure/qnh", {"qnh": qnh}


def _aeroplane(plane: Aeroplane) -> Iterator[Odd]:
    for index, configuration in enumerate(plane.configurations):
        record = configuration.weighing
        if isinstance(record, WeighedOnScales):
            net = [(s.arm.value, s.reading.value - (s.tare.value if s.tare else 0.0)) for s in record.scales]
            rearmost = max(net)
            rest = sum(mass for _, mass in net) - rearmost[1]
            nose = plane.undercarriage is not None and plane.undercarriage.layout == "nosewheel"
            if not nose and rearmost[1] > rest:
                values = {"tail": rearmost[1], "rest": rest}
                yield "odd.tail_heavy", plane.id, f"/configurations/{index}/weighing", values
    limits = plane.limits
    if limits.takeoff and limits.landing and limits.landing.value > limits.takeoff.value:
        values = {"landing": limits.landing.value, "takeoff": limits.takeoff.value}
        yield "odd.landing_above_takeoff", plane.id, "/limits/landing", values
    for index, flap in enumerate(plane.flaps):
        if flap.stall and flap.stall.value > 45.0:
            yield "odd.fast_stall", plane.id, f"/flaps/{index}/stall", {"stall": flap.stall.value}
        if flap.stall and flap.stall_mass and plane.wing.area and flap.stall.value > 0.0:
            # g and the standard density: documents know no sums
            pressing = flap.stall_mass.value * 9.80665 / (0.5 * 1.225 * flap.stall.value**2)
            if pressing > MOST_LIFT * plane.wing.area.value:
                yield "odd.slow_stall", plane.id, f"/flaps/{index}/stall", {"stall": flap.stall.value}
    for index, source in enumerate(plane.performance):
        if isinstance(source, DistanceTable):
            for name, grid in source.grids().items():
                if grid is not None and (axis := falls(grid)):
                    yield "odd.table_falls", plane.id, f"/performance/{index}/{name}", _table(source, axis)
        elif isinstance(source, ClimbTable) and (axis := falls(_turned(source.rate))):
            yield "odd.rate_rises", plane.id, f"/performance/{index}/rate", _table(source, axis)


def _table(source: DistanceTable | ClimbTable, axis: str) -> dict[str, Any]:
    return {"table": source.name, "axis": axis}


def _turned(grid: list[list[list[float | None]]]) -> list[list[list[float | None]]]:
    """With the other sign: what rises then falls."""
    return [[[None if here is None else -here for here in row] for row in plane] for plane in grid]


def falls(grid: list[list[list[float | None]]]) -> str | None:
    """The axis along which a distance falls although mass, altitude or temperature rises, or None.

    Empty cells are stepped over.
    """
    before: dict[tuple[str, int, int], float] = {}
    for i, plane in enumerate(grid):
        for j, row in enumerate(plane):
            for k, here in enumerate(row):
                if here is None:
                    continue
                for line in (("mass", j, k), ("pressure altitude", i, k), ("temperature", i, j)):
                    if here < before.get(line, here):
                        return line[0]
                    before[line] = here
    return None
