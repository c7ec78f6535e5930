"""A bay as seen from its door: depth from the far end, across, and along; lengths in whole micrometres.

The bay's own axes: x along its length from the front, y along its width from the left, z up from the floor.
Whole micrometres make touching exact, so that 57 cm stand beside 43 cm in a metre.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import permutations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
FACES = ("front", "rear", "left", "right", "top")
GRID = 1e-6
#: axes of the bay that are depth, across and along, and whether depth is counted against the axis
_AXES = {
    "front": ((0, 1, 2), True),
    "rear": ((0, 1, 2), False),
    "left": ((1, 0, 2), True),
    "right": ((1, 0, 2), False),
    "top": ((2, 1, 0), False),
}


@dataclass(frozen=True)
class Opening:
    """A door: the face of the bay it is in, its width and height [m], its sill above the floor [m].

    It is in the middle of its face. In the top its width runs across the bay and its height along it.
    """

    face: str
    width: float
    height: float
    sill: float = 0.0


@dataclass(frozen=True)
class Bay:
    """Three inside edges [m] and the door."""

    length: float
    width: float
    height: float
    opening: Opening

    @property
    def volume(self) -> float:
        """Volume of the three edges [m³]."""
        return self.length * self.width * self.height


@dataclass(frozen=True)
class Box:
    """A rigid thing: three edges [m], the upright one last; whether it must stay so, and within reach."""

    key: str
    edges: tuple[float, float, float]
    upright: bool = False
    accessible: bool = False
    #: marks, edge by edge, which may stand upright; none: all, or the last alone where `upright`
    stands: tuple[bool, bool, bool] | None = None
    #: [kg]; where the boxes go in either way, the heavier lie below
    mass: float = 0.0


@dataclass
class Frame:
    """The bay in the axes of its door; `size` and `opening` in micrometres."""

    bay: Bay
    axes: tuple[int, int, int] = field(init=False)
    against: bool = field(init=False)
    size: Array = field(init=False)
    #: least across, most across, least along, most along
    opening: Array = field(init=False)
    #: which of depth, across and along is up
    up: int = field(init=False)

    def __post_init__(self) -> None:
        self.axes, self.against = _AXES[self.bay.opening.face]
        edges = whole((self.bay.length, self.bay.width, self.bay.height))
        self.size = edges[list(self.axes)]
        self.up = self.axes.index(2)
        door = self.bay.opening
        across, along = self.size[1], self.size[2]
        width, height = np.minimum(whole((door.width, door.height)), self.size[1:])
        left = np.floor((across - width) / 2)
        if self.up == 2:
            sill = min(float(whole(door.sill)), along)
            low, high = sill, min(sill + height, along)
        else:
            low = np.floor((along - height) / 2)
            high = low + height
        self.opening = np.array([left, left + width, low, high])

    def ways(self, box: Box) -> Array:
        """The ways to hold a box, as depth, across and along [micrometres]; each way once."""
        edges = whole(box.edges)
        stands = box.stands or ((False, False, True) if box.upright else (True, True, True))
        held = []
        for order in permutations(range(3)):
            if stands[order[self.up]]:
                held.append(tuple(edges[list(order)]))
        return np.array(sorted(set(held)))

    def corner(self, low: Array, size: Array) -> tuple[float, float, float]:
        """The least corner of a box in the bay's own axes [m]."""
        local = low.copy()
        if self.against:
            local[0] = self.size[0] - low[0] - size[0]
        return self.edges(local)

    def edges(self, size: Array) -> tuple[float, float, float]:
        """Depth, across and along as length, width and height [m]."""
        own = [0.0, 0.0, 0.0]
        for value, axis in zip(size, self.axes, strict=True):
            own[axis] = float(value) * GRID
        return (own[0], own[1], own[2])


def opening_of(bay: Bay) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """The least and the most corner of the door in its face, in the bay's own axes [m]."""
    frame = Frame(bay)
    depth = frame.size[0]
    left, right, low, high = frame.opening
    none = np.zeros(3)
    return (
        frame.corner(np.array([depth, left, low]), none),
        frame.corner(np.array([depth, right, high]), none),
    )


def whole(lengths: object) -> Array:
    """Lengths [m] in whole micrometres."""
    return np.round(np.asarray(lengths, float) / GRID)
