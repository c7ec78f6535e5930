"""Reaching: time, fuel, endurance, range in wind, the points of no return and of equal time, reserves.

Fuel is a volume [m³] and its flow [m³/s]. Impossible times are inf, impossible distances 0.
"""

from __future__ import annotations

from typing import Annotated, Any, NamedTuple

import numpy as np

from ..relation import Number, Quantity, relation
from .shapes import array, number, ratio
from .wind import wind_triangle

Distance = Annotated[Number, Quantity("distance", "m", 0.0, 1e7)]
GroundSpeed = Annotated[Number, Quantity("ground speed", "m/s", -100.0, 300.0)]
Airspeed = Annotated[Number, Quantity("true airspeed", "m/s", 0.0, 200.0)]
Fuel = Annotated[Number, Quantity("fuel, usable", "m³", 0.0, 5.0)]
Flow = Annotated[Number, Quantity("fuel flow", "m³/s", 0.0, 1e-3)]
Time = Annotated[Number, Quantity("time", "s", 0.0, 1e6)]
Endurance = Annotated[Number, Quantity("endurance", "s", 0.0, 1e6)]
ReserveTime = Annotated[Number, Quantity("final reserve", "s", 0.0, 36000.0)]

_MINUTE = 60.0

#: Final reserve in minutes at cruise, by rule: (day, night). nan: the rule has no such case. Rules change:
#: they are settings for the owner to confirm, never a legal opinion.
RESERVES = {
    "14_cfr_91_151": (30.0, 45.0),  # FAA, aeroplanes, VFR
    "14_cfr_135_209": (30.0, 45.0),  # FAA, commuter and on demand, VFR
    "nco_op_125": (30.0, 45.0),  # EASA Part-NCO, VFR (memory)
    "nco_op_125_local": (10.0, np.nan),  # the same, local, by day only (memory)
    "annex_6_ii_2_2_3_6": (30.0, 45.0),  # ICAO, VFR (memory)
    "car_91_305": (30.0, 45.0),  # New Zealand, VFR (memory)
    "piston_45": (45.0, 45.0),  # used in many states for piston engines, day and night
}


class NoReturn(NamedTuple):
    time: Annotated[Number, Quantity("time out to the point of no return", "s")]
    distance: Annotated[Number, Quantity("distance out to the point of no return", "m")]


class EqualTime(NamedTuple):
    distance: Annotated[Number, Quantity("distance out to the point of equal time", "m")]
    time: Annotated[Number, Quantity("time out to the point of equal time", "s")]


@relation("Time for a distance", source="definition")
def flight_time(distance: Distance, ground_speed: GroundSpeed) -> Annotated[Number, Quantity("time", "s")]:
    """Time [s] for a distance [m] at a ground speed [m/s]; inf unless that is positive, 0 for no distance."""
    distance, speed = np.broadcast_arrays(array(distance), array(ground_speed))
    missing = np.isnan(distance) | np.isnan(speed)
    time = np.where(speed > 0.0, ratio(distance, speed), np.where(distance > 0.0, np.inf, 0.0))
    return number(np.where(missing, np.nan, time))


@relation("Time for a climb", source="definition")
def climb_time(
    height: Annotated[Number, Quantity("height to climb", "m", -9000.0, 9000.0)],
    rate: Annotated[Number, Quantity("mean rate of climb", "m/s", -30.0, 30.0)],
) -> Annotated[Number, Quantity("time", "s")]:
    """Time [s] to climb `height` [m] at a mean rate [m/s]; inf where it never gets there, 0 for no height."""
    return number(flight_time(array(height) * (array(height) > 0.0), rate))


@relation("Fuel for a time", source="definition")
def fuel_used(flow: Flow, time: Time) -> Annotated[Number, Quantity("fuel", "m³")]:
    """Fuel [m³] that a flow [m³/s] takes in a time [s]."""
    return number(array(flow) * time)


@relation("Endurance", source="definition: usable fuel over flow, less the reserve")
def endurance(
    fuel: Fuel, flow: Flow, reserve_time: ReserveTime = 0.0
) -> Annotated[Number, Quantity("endurance", "s")]:
    """Time [s] that `fuel` [m³] lasts at `flow` [m³/s] until `reserve_time` [s] is left; 0 where it is less.

    nan without a flow: that is a figure left out, not fuel for ever.
    """
    lasting = array(ratio(fuel, np.where(array(flow) > 0.0, flow, np.nan)))
    return number(np.maximum(lasting - reserve_time, 0.0))


@relation("Range in still air", source="definition: endurance times airspeed")
def still_air_range(
    fuel: Fuel, flow: Flow, true_airspeed: Airspeed, reserve_time: ReserveTime = 0.0
) -> Annotated[Number, Quantity("range in still air", "m")]:
    """Distance [m] flown at `true_airspeed` [m/s] until `reserve_time` [s] is left; no taxi, no climb."""
    return number(array(true_airspeed) * endurance(fuel, flow, reserve_time))


@relation("Range in wind", source="wind triangle: endurance times ground speed along each course")
def range_in_wind(
    endurance: Endurance,
    true_airspeed: Airspeed,
    course: Annotated[Number, Quantity("course", "rad", -np.pi, 2.0 * np.pi)],
    wind_speed: Annotated[Number, Quantity("wind speed", "m/s", 0.0, 100.0)],
    wind_from: Annotated[Number, Quantity("direction the wind comes from", "rad", -np.pi, 2.0 * np.pi)],
) -> Annotated[Number, Quantity("range", "m")]:
    """Distance [m] along each course [rad, true]: the ring of a map. 0 where the wind allows no way ahead."""
    speed = array(wind_triangle(course, true_airspeed, wind_speed, wind_from).ground_speed)
    return number(array(endurance) * np.maximum(speed, 0.0))


@relation("Point of no return", source="E H / (O + H): E endurance, O and H ground speeds out and home")
def point_of_no_return(
    endurance: Endurance, ground_speed_out: GroundSpeed, ground_speed_home: GroundSpeed
) -> NoReturn:
    """Latest time [s] and distance [m] out from which the same fuel brings one home.

    0 where the wind allows no way home; nan where it allows none out.
    """
    out, home = array(ground_speed_out), np.maximum(array(ground_speed_home), 0.0)
    time = array(endurance) * array(ratio(home, np.where(out > 0.0, out, np.nan) + home))
    return NoReturn(number(time), number(time * out))


@relation("Point of equal time", source="D H / (O + H): D distance, O and H ground speeds on and home")
def equal_time_point(
    distance: Distance, ground_speed_on: GroundSpeed, ground_speed_home: GroundSpeed
) -> EqualTime:
    """Distance [m] and time [s] out to the point from which going on and turning back take as long.

    0 where the wind allows no way home (on is always the quicker); nan where it allows none on.
    """
    on, home = array(ground_speed_on), np.maximum(array(ground_speed_home), 0.0)
    on = np.where(on > 0.0, on, np.nan)
    out = array(distance) * array(ratio(home, on + home))
    return EqualTime(number(out), number(out / on))


@relation("Final reserve by rule", source="the rule named: 14 CFR 91.151, NCO.OP.125, ICAO Annex 6 ...")
def reserve_fuel(
    flow: Flow, rule: Any, night: Annotated[Number, Quantity("by night (1) or day (0)", "1", 0.0, 1.0)] = 0.0
) -> Annotated[Number, Quantity("final reserve", "m³")]:
    """Fuel [m³] of the final reserve under `rule` (a key of `RESERVES`) at the flow in cruise [m³/s].

    nan where the rule does not provide for the case. Raises `ValueError` for a rule that is not known.
    """
    if rule not in RESERVES:
        raise ValueError(f"no reserve rule {rule!r}; known: {', '.join(RESERVES)}")
    by_day, by_night = RESERVES[rule]
    minutes = np.where(np.isnan(array(night)), np.nan, np.where(array(night) > 0.0, by_night, by_day))
    return number(array(flow) * minutes * _MINUTE)
