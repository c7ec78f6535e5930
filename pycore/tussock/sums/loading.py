"""Mass and balance: moments about the datum, the envelope, the wheels, the mass of liquids.

Arms are positive aft of the datum. Masses that are taken out are negative. The handbook is FAA-H-8083-1B
(Aircraft Weight and Balance Handbook).
"""

from __future__ import annotations

from typing import Annotated, Any, NamedTuple

import numpy as np

from ..relation import Number, Quantity, relation
from . import polygon
from .shapes import array, number, ratio

_HANDBOOK = "FAA-H-8083-1B"
#: oil weighs 7.5 lb per US gallon
OIL_DENSITY = 7.5 * 0.45359237 / 3.785411784e-3

Mass = Annotated[Number, Quantity("mass of the aeroplane", "kg", 1.0, 5700.0)]
Arm = Annotated[Number, Quantity("arm of the centre of gravity", "m", -20.0, 20.0)]
StationArm = Annotated[Number, Quantity("arm of the station", "m", -20.0, 20.0)]
# No bounds on the lists: their last axis is summed away, so a bound could not be told item by item.
Masses = Annotated[Number, Quantity("masses, one per station", "kg")]
Arms = Annotated[Number, Quantity("arms, one per station", "m")]
Volume = Annotated[Number, Quantity("volume", "m³", 0.0, 5.0)]


class Loaded(NamedTuple):
    mass: Annotated[Number, Quantity("mass", "kg")]
    arm: Annotated[Number, Quantity("arm of the centre of gravity", "m")]
    moment: Annotated[Number, Quantity("moment about the datum", "kg m")]


class EnvelopeMargins(NamedTuple):
    inside: Annotated[Number, Quantity("inside the envelope (1) or not (0)", "1")]
    forward: Annotated[Number, Quantity("room to the forward edge", "m")]
    aft: Annotated[Number, Quantity("room to the aft edge", "m")]
    mass_above: Annotated[Number, Quantity("mass up to the upper edge at this arm", "kg")]
    width: Annotated[Number, Quantity("width of the envelope at this mass", "m")]


class WheelLoads(NamedTuple):
    main: Annotated[Number, Quantity("load on the main wheels", "kg")]
    other: Annotated[Number, Quantity("load on the nosewheel or tailwheel", "kg")]


@relation("Centre of gravity", source=f"{_HANDBOOK}, ch. 2: sum of moments over sum of masses")
def centre_of_gravity(masses: Masses, arms: Arms) -> Loaded:
    """Total mass [kg], arm of its centre [m] and moment [kg m] of `masses` [kg] at `arms` [m].

    Summed along the last axis; the leading axes broadcast. The arm is nan where the total is not positive.
    """
    masses, arms = np.broadcast_arrays(*(np.atleast_1d(array(x)) for x in (masses, arms)))
    mass = np.sum(masses, axis=-1)
    moment = np.sum(masses * arms, axis=-1)
    return Loaded(mass, ratio(moment, np.where(mass > 0.0, mass, np.nan)), moment)


@relation("Spread of the centre of gravity", source="JCGM 100:2008 (GUM), 5.1.2, on moment over mass")
def arm_spread(
    masses: Masses,
    arms: Arms,
    mass_sds: Annotated[Number, Quantity("standard deviations of the masses", "kg")],
    arm_sds: Annotated[Number, Quantity("standard deviations of the arms", "m")] = 0.0,
) -> Annotated[Number, Quantity("standard deviation of the arm", "m")]:
    """Standard deviation [m] of the arm of the centre of gravity, for independent errors, to first order.

    Shapes as in `centre_of_gravity`; `mass_sds` [kg] and `arm_sds` [m] broadcast with them.
    """
    masses, arms, mass_sds, arm_sds = np.broadcast_arrays(
        *(np.atleast_1d(array(x)) for x in (masses, arms, mass_sds, arm_sds))
    )
    mass, arm, _ = centre_of_gravity(masses, arms)
    total = np.where(array(mass) > 0.0, mass, np.nan)[..., None]
    by_mass = (arms - array(arm)[..., None]) / total * mass_sds
    by_arm = masses / total * arm_sds
    return number(np.sqrt(np.sum(by_mass**2 + by_arm**2, axis=-1)))


@relation("Arm from a weighing", source=f"{_HANDBOOK}, ch. 3: moments of the scale readings")
def arm_from_two_scales(
    main_load: Annotated[Number, Quantity("net scale reading, both main wheels", "kg", 0.0, 5700.0)],
    other_load: Annotated[Number, Quantity("net scale reading, nosewheel or tailwheel", "kg", 0.0, 5700.0)],
    main_arm: Annotated[Number, Quantity("arm of the main wheels", "m", -20.0, 20.0)],
    other_arm: Annotated[Number, Quantity("arm of the nosewheel or tailwheel", "m", -20.0, 20.0)],
) -> Annotated[Number, Quantity("arm of the empty centre of gravity", "m")]:
    """Arm [m] of the centre of gravity from two scale readings [kg] and the arms [m] where they were taken.

    With main wheels at D and the other wheel a distance L ahead of (behind) them this is the handbook's
    D - F L / W (D + R L / W). nan where the readings are zero.
    """
    load = array(main_load) + other_load
    moment = array(main_load) * main_arm + array(other_load) * other_arm
    return ratio(moment, np.where(load > 0.0, load, np.nan))


@relation("Arm as a share of the mean aerodynamic chord", source=f"{_HANDBOOK}, ch. 3")
def arm_in_mac(
    arm: Arm,
    leading_edge: Annotated[Number, Quantity("arm of the leading edge of the chord", "m", -20.0, 20.0)],
    trailing_edge: Annotated[Number, Quantity("arm of the trailing edge of the chord", "m", -20.0, 20.0)],
) -> Annotated[Number, Quantity("position on the chord", "1")]:
    """Position of `arm` [m] on the mean aerodynamic chord [1]; nan where the chord has no length."""
    chord = array(trailing_edge) - leading_edge
    return ratio(array(arm) - leading_edge, np.where(chord > 0.0, chord, np.nan))


@relation("Mass to shift", source=f"{_HANDBOOK}, ch. 2; PHAK ch. 10: weight shifted over total weight")
def mass_to_shift(
    mass: Mass,
    arm_change: Annotated[Number, Quantity("change of arm that is wanted", "m", -10.0, 10.0)],
    distance: Annotated[Number, Quantity("distance of the shift", "m", -20.0, 20.0)],
) -> Annotated[Number, Quantity("mass to shift", "kg")]:
    """Mass [kg] to move by `distance` [m, aft positive] so that the arm changes by `arm_change` [m].

    inf where no mass moved that way brings the change: the distance is zero or of the other sign.
    """
    return _never_negative(array(mass) * arm_change, distance)


@relation("Arm after a change of load", source=f"{_HANDBOOK}, ch. 2; PHAK ch. 10: weight addition or removal")
def arm_after_change(
    mass: Mass,
    arm: Arm,
    change: Annotated[Number, Quantity("mass added (removed: negative)", "kg", -5700.0, 5700.0)],
    change_arm: Annotated[Number, Quantity("arm where it is added", "m", -20.0, 20.0)],
) -> Annotated[Number, Quantity("arm of the centre of gravity", "m")]:
    """Arm [m] after `change` [kg] is added at `change_arm` [m]; nan where nothing is left."""
    total = array(mass) + change
    moment = array(mass) * arm + array(change) * change_arm
    return ratio(moment, np.where(total > 0.0, total, np.nan))


@relation("Mass to add to come to an arm limit", source=f"{_HANDBOOK}, ch. 2: added over old total weight")
def mass_to_add_for_limit(
    mass: Mass,
    arm: Arm,
    station_arm: StationArm,
    limit_arm: Annotated[Number, Quantity("arm of the limit", "m", -20.0, 20.0)],
) -> Annotated[Number, Quantity("mass to add", "kg")]:
    """Mass [kg] which, added at `station_arm`, brings the centre of gravity exactly to `limit_arm` [m].

    inf where no mass added there ever does.
    """
    wanted = array(limit_arm) - arm
    return _never_negative(array(mass) * wanted, array(station_arm) - limit_arm)


@relation("Room inside the envelope", source="geometry of the envelope; its boundary counts as inside")
def envelope_margins(
    mass: Mass, arm: Arm, vertex_mass: Any, vertex_arm: Any, edges: str = "arm"
) -> EnvelopeMargins:
    """Where a point lies against the envelope polygon, and how much room is left.

    `mass` [kg] and `arm` [m] broadcast to any shape; `vertex_mass` [kg] and `vertex_arm` [m], each (n,), are
    the corners in order round a polygon without crossing edges, convex or not. `edges` says in which diagram
    they are straight: "arm" (mass against arm) or "moment" (mass against moment).

    inside: 1 or 0. forward, aft [m]: room at this mass to the edges of the piece of the envelope that holds
    the point or is nearest; negative beyond that edge; nan at a mass that the envelope does not reach. width
    [m]: of that piece. mass_above [kg]: room up to the upper edge at this arm; negative above the envelope;
    nan where there is no envelope at this arm, or the point is too light. Raises `ValueError` for fewer than
    three corners.
    """
    mass, arm = np.broadcast_arrays(array(mass), array(arm))
    up, across = _corners(vertex_mass, vertex_arm, edges)
    by_moment = edges == "moment"
    position = mass * arm if by_moment else arm
    scale = mass if by_moment else np.ones_like(mass)
    inside = polygon.holds(position, mass, across, up)
    low, high = polygon.section(position, up - mass[..., None], across)
    tilt = arm[..., None] * up if by_moment else arm[..., None]
    bottom, top = polygon.section(mass, across - tilt, up)
    with np.errstate(all="ignore"):
        forward, aft, width = (position - low) / scale, (high - position) / scale, (high - low) / scale
        above = np.where(~inside & (mass < bottom), np.nan, top - mass)
    # Rounding of the inputs is not "beyond": what counts as inside has no negative room.
    forward, aft, above = (np.where(inside & (room < 0.0), 0.0, room) for room in (forward, aft, above))
    known = ~np.isnan(mass + arm + up[0])
    return EnvelopeMargins(
        *(number(part) for part in (np.where(known, inside, np.nan), forward, aft, above, width))
    )


@relation("Mass that can be added at a station", source="geometry of the envelope: exact path of the centre")
def addable_mass(
    mass: Mass, arm: Arm, station_arm: StationArm, vertex_mass: Any, vertex_arm: Any, edges: str = "arm"
) -> Annotated[Number, Quantity("mass that can be added", "kg")]:
    """Mass [kg] that can be added at `station_arm` [m] before the centre of gravity leaves the envelope.

    `mass`, `arm`, `station_arm` broadcast; the corners (`vertex_mass`, `vertex_arm`) and `edges` as in
    `envelope_margins`. 0 where the point is outside.

    The loaded point keeps M (arm - station) constant, which is a quadratic along an edge straight in mass and
    arm, and linear along one straight in mass and moment. All crossings are found, and the first stretch
    between two of them that lies outside ends the path: touching a corner or running along an edge does not.
    """
    given = (array(x) for x in (mass, arm, station_arm))
    mass, arm, station_arm = np.broadcast_arrays(*given)
    up, across = _corners(vertex_mass, vertex_arm, edges)
    by_moment = edges == "moment"
    up_run = np.roll(up, -1) - up
    across_run = np.roll(across, -1) - across
    station, start = station_arm[..., None], mass[..., None]
    constant = start * (arm[..., None] - station)
    if by_moment:
        square = np.zeros_like(up_run)
        linear = across_run - station * up_run
        rest = across - station * up - constant
    else:
        square = up_run * across_run
        linear = up * across_run + up_run * (across - station)
        rest = up * (across - station) - constant
    shares = _roots(square, linear, rest)
    here = (shares >= -polygon.SNAP) & (shares <= 1.0 + polygon.SNAP)
    added = np.tile(up, 2) + np.clip(shares, 0.0, 1.0) * np.tile(up_run, 2) - start
    beyond = here & (added > polygon.SNAP * polygon.extent(up))
    stops = np.sort(np.where(beyond, added, np.inf), axis=-1)
    end = np.full_like(stops[..., :1], np.inf)
    stops = np.concatenate([np.zeros_like(end), stops, end], axis=-1)
    between = 0.5 * (stops[..., :-1] + stops[..., 1:])
    reached = start + np.where(np.isfinite(between), between, np.nan)
    moment = start * arm[..., None] + (reached - start) * station
    with np.errstate(invalid="ignore"):
        still = polygon.holds(moment if by_moment else moment / reached, reached, across, up)
    first_out = np.argmin(still, axis=-1)[..., None]
    room = np.take_along_axis(stops, first_out, axis=-1)[..., 0]
    room = np.where(polygon.holds(mass * arm if by_moment else arm, mass, across, up), room, 0.0)
    return number(np.where(np.isnan(mass + arm + station_arm + up[0]), np.nan, room))


@relation("Loads on the wheels", source=f"{_HANDBOOK}, ch. 3, turned round: moments about the main wheels")
def main_wheel_load(
    mass: Mass,
    arm: Arm,
    main_arm: Annotated[Number, Quantity("arm of the main wheels", "m", -20.0, 20.0)],
    other_arm: Annotated[Number, Quantity("arm of the nosewheel or tailwheel", "m", -20.0, 20.0)],
) -> WheelLoads:
    """Loads [kg] on the main wheels and on the other wheel, level on the ground.

    A negative load on the other wheel means that the aeroplane tips over its main wheels. nan where all
    wheels stand at one arm.
    """
    base = array(other_arm) - main_arm
    other = ratio(array(mass) * (array(arm) - main_arm), np.where(base == 0.0, np.nan, base))
    return WheelLoads(mass - other, other)


@relation("Useful load", source="definition: maximum less empty mass (FAA-H-8083-1B, glossary)")
def useful_load(
    maximum_mass: Annotated[Number, Quantity("maximum mass", "kg", 1.0, 5700.0)],
    empty_mass: Annotated[Number, Quantity("empty mass", "kg", 1.0, 5700.0)],
) -> Annotated[Number, Quantity("useful load", "kg")]:
    """What may be carried, people, fuel and baggage together [kg]; negative where empty is above maximum."""
    return number(maximum_mass) - empty_mass


@relation("Mass of a dressed occupant", source="AMC1 CAT.POL.MAB.100(e): declared mass and allowances")
def dressed_mass(
    declared_mass: Annotated[Number, Quantity("mass as declared", "kg", 0.0, 250.0)],
    clothing: Annotated[Number, Quantity("clothing", "kg", 0.0, 30.0)] = 4.0,
    hand_baggage: Annotated[Number, Quantity("hand baggage", "kg", 0.0, 50.0)] = 6.0,
) -> Annotated[Number, Quantity("mass of the occupant", "kg")]:
    """Mass [kg] of an occupant as he or she gets in; the defaults are the least allowances of the source."""
    return number(declared_mass) + clothing + hand_baggage


@relation("Fuel density at temperature", source="API MPMS 11.1 / ASTM D1250-80, table 54B (memory)")
def fuel_density(
    reference_density: Annotated[Number, Quantity("density at 15 degC", "kg/m³", 653.0, 838.5)],
    temperature: Annotated[Number, Quantity("temperature of the fuel", "K", 233.0, 333.0)],
) -> Annotated[Number, Quantity("density of the fuel", "kg/m³")]:
    """Density [kg/m³] at `temperature` [K] of a petrol or kerosene of `reference_density` at 15 degC [kg/m³].

    Coefficient of expansion K0/rho² + K1/rho by band of density: petrol below 770.5 kg/m³, kerosene above
    787.5, the table's own transition between.
    """
    density = array(reference_density)
    petrol = 346.4228 / density**2 + 0.4388 / density
    between = -0.00336312 + 2680.3206 / density**2
    kerosene = 594.5418 / density**2
    expansion = np.where(density < 770.5, petrol, np.where(density < 787.5, between, kerosene))
    swell = expansion * (array(temperature) - 288.15)
    return number(density * np.exp(-swell * (1.0 + 0.8 * swell)))


@relation("Mass of fuel", source="definition of density")
def fuel_mass(
    volume: Volume, density: Annotated[Number, Quantity("density of the fuel", "kg/m³", 600.0, 900.0)]
) -> Annotated[Number, Quantity("mass of the fuel", "kg")]:
    """Mass [kg] of `volume` [m³] at `density` [kg/m³]."""
    return number(volume) * density


@relation("Mass of oil", source="AC 43.13-1B, 10-15: 7.5 lb per US gallon")
def oil_mass(volume: Volume) -> Annotated[Number, Quantity("mass of the oil", "kg")]:
    """Mass [kg] of `volume` [m³] of engine oil."""
    return number(volume) * OIL_DENSITY


def _corners(vertex_mass: Any, vertex_arm: Any, edges: str) -> tuple[polygon.Array, polygon.Array]:
    """The polygon in the diagram where its edges are straight: masses, and arms or moments."""
    if edges not in ("arm", "moment"):
        raise ValueError(f'edges is "arm" or "moment", not {edges!r}')
    up = array(vertex_mass)
    across = array(vertex_arm)
    if up.ndim != 1 or up.shape != across.shape or up.size < 3:
        raise ValueError("an envelope needs three corners or more, each with a mass and an arm")
    if not (np.all(np.isfinite(up)) and np.all(np.isfinite(across))):
        up, across = np.full_like(up, np.nan), np.full_like(up, np.nan)
    return up, up * across if edges == "moment" else across


def _never_negative(top: Any, bottom: Any) -> Number:
    """top / bottom as a mass: 0 where nothing is wanted, inf where only a negative one would do."""
    top, bottom = np.broadcast_arrays(array(top), array(bottom))
    share = np.asarray(ratio(top, bottom))
    share = np.where(share < 0.0, np.inf, np.abs(share))
    return number(np.where(top == 0.0, np.where(np.isnan(bottom), np.nan, 0.0), share))


def _roots(square: Any, linear: Any, rest: Any) -> Any:
    """Both roots of square x² + linear x + rest = 0, one set after the other; nan where none."""
    square, linear, rest = np.broadcast_arrays(square, linear, rest)
    with np.errstate(all="ignore"):
        # The form without cancellation; where `square` is zero the second root is the linear one.
        half = -0.5 * (linear + np.copysign(np.sqrt(linear**2 - 4.0 * square * rest), linear))
        return np.concatenate([half / square, rest / half], axis=-1)
