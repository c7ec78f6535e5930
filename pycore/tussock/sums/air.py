"""Air: the standard atmosphere, pressure and density altitude, humid density, speed of sound.

Altitudes are geopotential. The relations hold in the troposphere only (to 11 km).
"""

from __future__ import annotations

from typing import Annotated

import numpy as np

from ..relation import Number, Quantity, relation

T0 = 288.15
P0 = 101325.0
LAPSE = 0.0065
G0 = 9.80665
R_AIR = 287.05287
GAMMA = 1.4
RHO0 = P0 / (R_AIR * T0)
#: Ratio of the gas constants of dry air and water vapour.
EPSILON = 0.62198

_EXPONENT = G0 / (R_AIR * LAPSE)
_LOWEST, _HIGHEST = -2000.0, 11000.0
#: The trade's rule in metres per kelvin.
_RULE = 118.8 * 0.3048


def _pressure_at(altitude: float) -> float:
    return float(P0 * (1.0 - LAPSE * altitude / T0) ** _EXPONENT)


def _density_at(altitude: float) -> float:
    return float(RHO0 * (1.0 - LAPSE * altitude / T0) ** (_EXPONENT - 1.0))


Altitude = Annotated[Number, Quantity("altitude", "m", _LOWEST, _HIGHEST)]
PressureAltitude = Annotated[Number, Quantity("pressure altitude", "m", _LOWEST, _HIGHEST)]
Elevation = Annotated[Number, Quantity("elevation", "m", -500.0, 9000.0)]
Pressure = Annotated[Number, Quantity("pressure", "Pa", _pressure_at(_HIGHEST), _pressure_at(_LOWEST))]
Qnh = Annotated[Number, Quantity("QNH", "Pa", 85000.0, 110000.0)]
Temperature = Annotated[Number, Quantity("temperature", "K", 210.0, 330.0)]
DewPoint = Annotated[Number, Quantity("dew point", "K", 228.15, 330.0)]
VapourPressure = Annotated[Number, Quantity("vapour pressure", "Pa", 0.0, 20000.0)]
# Very cold air at sea level is denser than the standard atmosphere at -2 km; Doc 7488/3 begins at -5 km.
Density = Annotated[Number, Quantity("density", "kg/m³", _density_at(_HIGHEST), _density_at(-5000.0))]


@relation("Temperature of the standard atmosphere", source="ICAO Doc 7488/3; ISO 2533")
def isa_temperature(altitude: Altitude) -> Annotated[Number, Quantity("standard temperature", "K")]:
    """Temperature [K] of the standard atmosphere at a geopotential altitude [m], -2 to 11 km."""
    return T0 - LAPSE * altitude


@relation("Pressure of the standard atmosphere", source="ICAO Doc 7488/3; ISO 2533")
def isa_pressure(altitude: Altitude) -> Annotated[Number, Quantity("standard pressure", "Pa")]:
    """Pressure [Pa] of the standard atmosphere at a geopotential altitude [m], -2 to 11 km."""
    return P0 * (1.0 - LAPSE * altitude / T0) ** _EXPONENT


@relation("Density of the standard atmosphere", source="ICAO Doc 7488/3; ISO 2533")
def isa_density(altitude: Altitude) -> Annotated[Number, Quantity("standard density", "kg/m³")]:
    """Density [kg/m³] of the standard atmosphere at a geopotential altitude [m], -2 to 11 km."""
    return RHO0 * (1.0 - LAPSE * altitude / T0) ** (_EXPONENT - 1.0)


@relation("Pressure altitude", source="ICAO Doc 7488/3, the pressure relation inverted")
def pressure_altitude(pressure: Pressure) -> Annotated[Number, Quantity("pressure altitude", "m")]:
    """Altitude [m] at which the standard atmosphere has this pressure [Pa]."""
    return T0 / LAPSE * (1.0 - (pressure / P0) ** (1.0 / _EXPONENT))


@relation("Pressure altitude from QNH", source="ICAO Doc 7488/3; how an altimeter's subscale works")
def pressure_altitude_from_qnh(
    elevation: Elevation, qnh: Qnh
) -> Annotated[Number, Quantity("pressure altitude", "m")]:
    """Pressure altitude [m] at an elevation [m] with that QNH [Pa]: elevation + standard altitude of the QNH.

    That is what the altimeter's subscale does, and what handbook tables of corrections give.
    """
    return elevation + T0 / LAPSE * (1.0 - (qnh / P0) ** (1.0 / _EXPONENT))


@relation("QNH from pressure altitude", source="ICAO Doc 7488/3; how an altimeter's subscale works")
def qnh_from_pressure_altitude(
    elevation: Elevation, pressure_altitude: PressureAltitude
) -> Annotated[Number, Quantity("QNH", "Pa")]:
    """QNH [Pa] that goes with a pressure altitude [m] read at an elevation [m]."""
    return P0 * (1.0 - LAPSE * (pressure_altitude - elevation) / T0) ** _EXPONENT


@relation("Vapour pressure from dew point", source="WMO-No. 8, Annex 4.B (Magnus, over water)")
def vapour_pressure(dew_point: DewPoint) -> Annotated[Number, Quantity("vapour pressure", "Pa")]:
    """Pressure of the water vapour [Pa] in air of that dew point [K], over water, -45 to 57 °C.

    With the temperature of the air in place of the dew point: the vapour pressure of saturated air.
    """
    celsius = dew_point - 273.15
    return 611.2 * np.exp(17.62 * celsius / (243.12 + celsius))


@relation("Density of humid air", source="WMO-No. 8, Annex 4.B; ideal gases, through the virtual temperature")
def air_density(
    pressure: Pressure, temperature: Temperature, vapour_pressure: VapourPressure = 0.0
) -> Annotated[Number, Quantity("density", "kg/m³")]:
    """Density [kg/m³] of air at a pressure [Pa] and temperature [K] with water vapour at a pressure [Pa].

    nan where the vapour alone would exceed the pressure. Dry without a vapour pressure.
    """
    dry = np.where(vapour_pressure < pressure, pressure - vapour_pressure, np.nan)[()]
    return (dry + EPSILON * vapour_pressure) / (R_AIR * temperature)


@relation("Density of the dry part of the air", source="Dalton's law; ideal gas")
def dry_air_density(
    pressure: Pressure, temperature: Temperature, vapour_pressure: VapourPressure = 0.0
) -> Annotated[Number, Quantity("density of the dry air", "kg/m³")]:
    """Density [kg/m³] of the dry air alone, which is what an engine burns. Arguments as for `air_density`."""
    dry = np.where(vapour_pressure < pressure, pressure - vapour_pressure, np.nan)[()]
    return dry / (R_AIR * temperature)


@relation("Density altitude", source="ICAO Doc 7488/3, the density relation inverted")
def density_altitude(density: Density) -> Annotated[Number, Quantity("density altitude", "m")]:
    """Altitude [m] at which the standard atmosphere has this density [kg/m³], -5 to 11 km."""
    return T0 / LAPSE * (1.0 - (density / RHO0) ** (1.0 / (_EXPONENT - 1.0)))


@relation("Speed of sound", source="ICAO Doc 7488/3")
def speed_of_sound(temperature: Temperature) -> Annotated[Number, Quantity("speed of sound", "m/s")]:
    """Speed of sound [m/s] in dry air of that temperature [K]."""
    return np.sqrt(GAMMA * R_AIR * temperature)


@relation("Density altitude by rule of thumb", source="118.8 ft per degree above standard; common practice")
def density_altitude_rule(
    pressure_altitude: PressureAltitude, temperature: Temperature
) -> Annotated[Number, Quantity("density altitude by rule", "m")]:
    """Density altitude [m] by 118.8 ft/°C above standard. A cross-check only: over-reads when hot."""
    altitude: Number = pressure_altitude + _RULE * (temperature - isa_temperature(pressure_altitude))
    return altitude
