"""Published friction of wheels, as bands to judge an aeroplane's own figures by; never to compute with."""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np

from ..relation import Number, Quantity, relation

#: surface: (low, high, source) of the rolling friction, brakes off. For any other nothing is published.
ROLLING: dict[str, tuple[float, float, str]] = {
    "paved_dry": (
        0.02,
        0.05,
        "Anderson, Introduction to Flight (0.02); Gudmundsson (2014) table 17-3 (0.03 to 0.05)",
    ),
    "paved_wet": (0.03, 0.07, "Raymer, Aircraft Design, table 17.1: 0.05 (memory)"),
    "earth_dry": (0.02, 0.06, "Raymer, table 17.1, firm dirt: 0.04 (memory)"),
    "grass_short_dry": (
        0.03,
        0.10,
        "McCormick, short grass 0.05 (memory); grass 0.08 to 0.10 in public source code",
    ),
    "grass_long_dry": (0.07, 0.13, "McCormick, long grass: 0.10 (memory)"),
    "grass_short_wet": (0.06, 0.10, "Raymer, table 17.1, wet grass: 0.08 (memory)"),
    "soft": (0.10, 0.30, "McCormick, soft ground (memory)"),
}
#: the same with brakes on
BRAKED: dict[str, tuple[float, float, str]] = {
    "paved_dry": (0.30, 0.50, "Gudmundsson (2014) table 17-3"),
    "paved_wet": (0.15, 0.30, "Raymer, table 17.1 (memory)"),
    "earth_dry": (0.20, 0.40, "Raymer, table 17.1, firm dirt: 0.3 (memory)"),
    "grass_short_dry": (0.20, 0.40, "Raymer, table 17.1, soft turf 0.2, hard turf 0.4 (memory)"),
    "grass_short_wet": (0.15, 0.25, "Raymer, table 17.1, wet grass: 0.2 (memory)"),
    "snow": (0.25, 0.37, "NASA TR R-20 (Sawyer and Kolnick), most at incipient skid"),
}


class FrictionBand(NamedTuple):
    """Lowest and highest published friction coefficient; nan where none is published."""

    low: Annotated[Number, Quantity("lowest published friction", "1")]
    high: Annotated[Number, Quantity("highest published friction", "1")]


def _band(table: dict[str, tuple[float, float, str]], surface: str) -> FrictionBand:
    low, high, _ = table.get(surface, (np.nan, np.nan, ""))
    return FrictionBand(low, high)


@relation("Published rolling friction", source="Anderson; Gudmundsson; Raymer; McCormick; see ROLLING")
def rolling_friction_band(surface: str) -> FrictionBand:
    """Band of the rolling friction of a surface by its name in the documents; nan where none is published."""
    return _band(ROLLING, surface)


@relation("Published braking friction", source="Gudmundsson; Raymer; NASA TR R-20; see BRAKED")
def braking_friction_band(surface: str) -> FrictionBand:
    """Band of the braking friction of a surface by its name in the documents; nan where none is published."""
    return _band(BRAKED, surface)
