"""Rigid boxes truly placed in a bay: each on the floor or on others, and each brought in through the door.

    bay = Bay(0.80, 0.75, 0.40, Opening("rear", 0.60, 0.38))
    found = place(bay, [Box("pot", (0.28, 0.28, 0.16)), Box("stove", (0.22, 0.18, 0.09))])

`found.outcome` is one of three. "placed": `found.put` holds every box in the order of loading, with the moves
that bring it from the door to its place past those that are in already; anyone can follow them. "impossible":
`found.why` names what proves it. "not_found": the search gave up, which proves nothing.

Boxes stay square to the bay and are moved along its edges without being turned; soft things give way.
"""

from .frame import FACES, Bay, Box, Opening, opening_of
from .place import Placing, Put, place, reckoned
from .soft import fill_level

__all__ = [
    "FACES",
    "Bay",
    "Box",
    "Opening",
    "Placing",
    "Put",
    "fill_level",
    "opening_of",
    "place",
    "reckoned",
]
