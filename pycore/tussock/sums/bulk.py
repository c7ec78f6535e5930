"""Bulk: what goes through a door, into a bay and onto its floor, and who fits under the roof.

Boxes are rigid and stay square to the bay: a box that would only go in tilted counts as not fitting.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np

from ..relation import Number, Quantity, relation
from .shapes import array, number, ratio

#: so that 57 cm goes through 570 mm in spite of rounding; far below what anybody measures
_ROUNDING = 1e-6
_GEOMETRY = "geometry: a box square to the opening"

Edge = Annotated[Number, Quantity("edge of the box", "m", 0.0, 10.0)]
Opening = Annotated[Number, Quantity("edge of the opening", "m", 0.0, 10.0)]
BayEdge = Annotated[Number, Quantity("edge of the bay", "m", 0.0, 10.0)]
Upright = Annotated[Number, Quantity("must stay upright (1) or may lie on any side (0)", "1", 0.0, 1.0)]
Bulk = Annotated[Number, Quantity("volume", "m³", 0.0, 20.0)]
Height = Annotated[Number, Quantity("height of a person", "m", 0.5, 2.5)]


class HeadRoom(NamedTuple):
    sits_well: Annotated[Number, Quantity("left to the tallest who sits well", "m")]
    fits: Annotated[Number, Quantity("left to the tallest who fits", "m")]


@relation("Volume of a packed item", source="definition: volume less what gives way")
def packed_volume(
    volume: Bulk,
    compressible_fraction: Annotated[Number, Quantity("share of the volume that gives way", "1", 0.0, 1.0)],
) -> Annotated[Number, Quantity("packed volume", "m³")]:
    """Volume [m³] that an item of `volume` [m³] takes once it is pressed in."""
    return number(array(volume) * (1.0 - array(compressible_fraction)))


@relation("Volume of a bag with things in it", source="common practice, no source")
def bag_volume(
    volume: Bulk,
    rigid: Annotated[Number, Quantity("volume of rigid things in it", "m³", 0.0, 20.0)],
    soft: Annotated[Number, Quantity("volume of soft things in it, as pressed in", "m³", 0.0, 20.0)],
) -> Annotated[Number, Quantity("volume beside its rigid things", "m³")]:
    """Volume [m³] that a soft bag takes beside what is rigid in it.

    Its own `volume` [m³], as pressed in, less that of `rigid` things; that of `soft` ones where it is more.
    """
    return number(np.maximum(array(volume) - rigid, soft))


@relation("Volume of a bay that can be filled", source="definition: packing fraction")
def usable_volume(
    volume: Bulk,
    packing_fraction: Annotated[Number, Quantity("share of the bay that bags can fill", "1", 0.0, 1.0)],
) -> Annotated[Number, Quantity("volume for bags", "m³")]:
    """Volume [m³] of items that a bay of `volume` [m³] takes: between bags there is always air."""
    return number(array(volume) * packing_fraction)


@relation("Volume of a box", source="definition")
def box_volume(length: Edge, width: Edge, height: Edge) -> Annotated[Number, Quantity("volume", "m³")]:
    """Volume [m³] of a box with three edges [m]."""
    return number(array(length) * width * height)


@relation("Box through a door", source=_GEOMETRY)
def fits_door(
    length: Edge, width: Edge, height: Edge, door_width: Opening, door_height: Opening, upright: Upright = 0.0
) -> Annotated[Number, Quantity("goes through (1) or not (0)", "1")]:
    """1 where some face of the box passes an opening of `door_width` by `door_height` [m], straight in.

    Where it must stay `upright` its height stands against the door's height; else any edge may lead. nan
    where an edge is not known.
    """
    one, two, three = _edges(length, width, height)
    door_width, door_height = array(door_width), array(door_height)
    smallest, middle, _ = _sorted(one, two, three)
    lying = (smallest <= np.minimum(door_width, door_height) + _ROUNDING) & (
        middle <= np.maximum(door_width, door_height) + _ROUNDING
    )
    standing = (np.minimum(one, two) <= door_width + _ROUNDING) & (three <= door_height + _ROUNDING)
    known = one + two + three + door_width + door_height + array(upright)
    return _said(known, np.where(array(upright) > 0.0, standing, lying))


@relation("Box into a bay", source=_GEOMETRY)
def fits_box(
    length: Edge,
    width: Edge,
    height: Edge,
    bay_length: BayEdge,
    bay_width: BayEdge,
    bay_height: BayEdge,
    upright: Upright = 0.0,
) -> Annotated[Number, Quantity("goes in (1) or not (0)", "1")]:
    """1 where the box, alone, stands in an empty bay of three edges [m]; nan where an edge is not known.

    Where it must stay `upright` its height is the bay's; else any side may be down.
    """
    one, two, three = _edges(length, width, height)
    bay = _edges(bay_length, bay_width, bay_height)
    box_sorted, bay_sorted = _sorted(one, two, three), _sorted(*bay)
    lying = (
        (box_sorted[0] <= bay_sorted[0] + _ROUNDING)
        & (box_sorted[1] <= bay_sorted[1] + _ROUNDING)
        & (box_sorted[2] <= bay_sorted[2] + _ROUNDING)
    )
    standing = (
        (np.minimum(one, two) <= np.minimum(bay[0], bay[1]) + _ROUNDING)
        & (np.maximum(one, two) <= np.maximum(bay[0], bay[1]) + _ROUNDING)
        & (three <= bay[2] + _ROUNDING)
    )
    known = one + two + three + bay[0] + bay[1] + bay[2] + array(upright)
    return _said(known, np.where(array(upright) > 0.0, standing, lying))


@relation("Load on the floor", source="definition: mass over area")
def floor_load(
    mass: Annotated[Number, Quantity("mass", "kg", 0.0, 5700.0)], length: Edge, width: Edge
) -> Annotated[Number, Quantity("load on the floor", "kg/m²")]:
    """Load [kg/m²] of `mass` [kg] standing on `length` by `width` [m]; inf where it stands on no area."""
    load = ratio(mass, array(length) * width)
    return number(np.where(array(mass) == 0.0, 0.0, load))


@relation("Head room on a seat", source="definition: two heights per seat")
def head_room(height: Height, tallest_well: Height, tallest_fits: Height) -> HeadRoom:
    """How much shorter [m] a person of `height` [m] is than the tallest who sits well, and who fits at all.

    Negative: taller than that. A person exactly as tall sits well.
    """
    return HeadRoom(number(array(tallest_well) - height), number(array(tallest_fits) - height))


def _edges(*edges: Number) -> list[np.ndarray]:
    return [array(edge) for edge in edges]


def _sorted(*edges: np.ndarray) -> np.ndarray:
    """Three edges from the shortest to the longest, along the first axis."""
    return np.sort(np.stack(np.broadcast_arrays(*edges)), axis=0)


def _said(known: np.ndarray, yes: np.ndarray) -> Number:
    """1 or 0, and nan where an input is nan: what is not known does not fit."""
    return number(np.where(np.isnan(known), np.nan, yes))
