"""The books of the demo's aeroplanes: smooth laws, rounded as a printed book is.

The aeroplanes are invented, so are their books. A distance follows d = d0 (m/m0)^a sigma^-b and is printed to
5 m; a rate of climb falls linearly with mass and density ratio and is printed to 5 ft/min. The books are a
little kinder than the aeroplanes, as books are.
"""

from __future__ import annotations

from collections.abc import Callable

from ..sums.air import RHO0, dry_air_density, isa_pressure
from ..units import to_si

ALTITUDES = [float(to_si(feet, "ft")) for feet in (0, 2000, 4000, 6000, 8000, 10000)]
TEMPERATURES = [float(to_si(celsius, "degC")) for celsius in (-10, 0, 10, 20, 30, 40)]

Grid = list[list[list[float]]]


def density_ratio(altitude: float, temperature: float) -> float:
    """Density over that of the standard at sea level, at a pressure altitude [m] and a temperature [K]."""
    return float(dry_air_density(isa_pressure(altitude), temperature)) / RHO0


def distances(
    masses: list[float], reference_mass: float, distance: float, mass_power: float, density_power: float
) -> Grid:
    """Distances [m] by mass, pressure altitude and temperature, printed to 5 m."""

    def one(mass: float, sigma: float) -> float:
        exact: float = distance * (mass / reference_mass) ** mass_power * sigma**-density_power
        return 5.0 * round(exact / 5.0)

    return _grid(masses, one)


def climbs(
    masses: list[float], reference_mass: float, rate: float, per_mass: float, per_density: float
) -> Grid:
    """Rates of climb [m/s]: `rate` [ft/min] at the reference mass in standard air at sea level.

    It falls by `per_mass` for each part of mass more and by `per_density` for each part of density less, both
    [ft/min]; printed to 5 ft/min.
    """

    def one(mass: float, sigma: float) -> float:
        exact = rate - per_mass * (mass / reference_mass - 1.0) - per_density * (1.0 - sigma)
        return float(to_si(5.0 * round(exact / 5.0), "ft/min"))

    return _grid(masses, one)


def _grid(masses: list[float], one: Callable[[float, float], float]) -> Grid:
    return [[[one(mass, density_ratio(h, t)) for t in TEMPERATURES] for h in ALTITUDES] for mass in masses]
