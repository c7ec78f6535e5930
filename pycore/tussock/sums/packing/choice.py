"""The figures of one choice: items with their worth, bays with their limits, the aeroplane without the kit.

Also what a given choice breaks: reckoned straight from the figures, so that it checks what a solver says.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Whole = NDArray[np.int64]

#: a limit that is overstepped by less is met: solvers round too
HAIR = 1e-5
LEFT = -1


class Together(NamedTuple):
    """One limit of mass [kg] for several bays (flags, one per bay)."""

    bays: Flags
    limit: float
    name: str = ""


class AtLeast(NamedTuple):
    """Items (flags) of which so much mass [kg] has to come."""

    items: Flags
    mass: float


class Used(NamedTuple):
    """Anything else that adds up: what each item uses of it in each bay (n, b), and how much there is."""

    name: str
    usage: Array
    limit: float


class Never(NamedTuple):
    """Items (flags) that do not all go into this one bay together."""

    items: Flags
    bay: int


@dataclass(frozen=True)
class Moment:
    """The aeroplane at one moment without the kit, and where it must lie then.

    mass [kg], moment [kg m]; pieces: convex parts of the envelope, in one of which it must lie, as
    `pieces.convex_pieces` gives them.
    """

    name: str
    mass: float
    moment: float
    pieces: tuple[Array, ...]


@dataclass(frozen=True)
class Choice:
    """n items, b bays. What is not limited is inf.

    worth (n,) whole numbers; mass (n,) [kg]; bulk (n, b) [m³] that the item takes of that bay; may (n, b):
    whether it may ride there; must (n,): it has to come; locked (n,): its bay, LEFT where it stays behind,
    below that where it is free. arm (b,) [m]; bay_mass (b,) [kg]; bay_bulk (b,) [m³]; total [kg] of all kit.
    """

    worth: Whole
    mass: Array
    bulk: Array
    may: Flags
    must: Flags
    locked: Whole
    arm: Array
    bay_mass: Array
    bay_bulk: Array
    total: float = np.inf
    together: tuple[Together, ...] = ()
    at_least: tuple[AtLeast, ...] = ()
    used: tuple[Used, ...] = ()
    never: tuple[Never, ...] = ()
    moments: tuple[Moment, ...] = ()
    #: how unwelcome each item is in each bay (n, b), 0 to 1: settles ties
    unwelcome: Array = field(default_factory=lambda: np.zeros((0, 0)))

    @property
    def items(self) -> int:
        return self.mass.size

    @property
    def bays(self) -> int:
        return self.arm.size

    @property
    def open(self) -> Flags:
        """(n, b): where each item may go, with what is locked in its place."""
        flags = self.may.copy()
        for item in np.flatnonzero(self.locked >= LEFT):
            flags[item] = False
            if self.locked[item] != LEFT:
                flags[item, self.locked[item]] = True
        return flags


class Broken(NamedTuple):
    """A limit that is not met: what, of which bay (or -1), at which moment, by how much in its own unit.

    The moment of a limit that bays share is its name.
    """

    limit: str
    bay: int
    moment: str
    by: float


def worth_of(choice: Choice, bay_of: Any) -> int:
    """The worth that comes along; bay_of (n,): the bay of each item, LEFT where it stays."""
    return int(np.sum(choice.worth[np.asarray(bay_of) != LEFT]))


def broken(choice: Choice, bay_of: Any) -> list[Broken]:
    """Every limit that this choice breaks; bay_of (n,): the bay of each item, LEFT where it stays."""
    bay_of = np.asarray(bay_of, dtype=np.int64)
    found: list[Broken] = []
    aboard = bay_of != LEFT
    for item in np.flatnonzero(aboard):
        if not choice.open[item, bay_of[item]]:
            found.append(Broken("place", int(bay_of[item]), "", 1.0))
    missing = choice.must & ~aboard | ((choice.locked > LEFT) & ~aboard)
    found += [Broken("must", -1, "", 1.0) for _ in range(int(np.sum(missing)))]
    inside = [bay_of == bay for bay in range(choice.bays)]
    masses = np.array([float(np.sum(choice.mass[rides])) for rides in inside])
    bulks = np.array([float(np.sum(choice.bulk[rides, bay])) for bay, rides in enumerate(inside)])
    for bay in range(choice.bays):
        found += _over("bay_bulk", bay, "", bulks[bay] - choice.bay_bulk[bay], 1e-3 * HAIR)
        found += _over("bay_mass", bay, "", masses[bay] - choice.bay_mass[bay])
    for joint in choice.together:
        found += _over("together", -1, joint.name, float(np.sum(masses[joint.bays])) - joint.limit)
    for group in choice.at_least:
        found += _over("at_least", -1, "", group.mass - float(np.sum(choice.mass[group.items & aboard])))
    for one in choice.used:
        usage = one.usage[aboard, bay_of[aboard]]
        found += _over(one.name, -1, "", float(np.sum(usage)) - one.limit)
    for no in choice.never:
        if np.all(bay_of[no.items] == no.bay):
            found.append(Broken("never", no.bay, "", 1.0))
    found += _over("total", -1, "", float(np.sum(masses)) - choice.total)
    kit = np.array([np.sum(masses), np.sum(masses * choice.arm)])
    for moment in choice.moments:
        at = kit + np.array([moment.mass, moment.moment])
        out = [float(np.max(piece[:, :2] @ at - piece[:, 2])) for piece in moment.pieces]
        found += _over("envelope", -1, moment.name, min(out, default=np.inf))
    return found


def _over(limit: str, bay: int, moment: str, by: float, hair: float = HAIR) -> list[Broken]:
    return [Broken(limit, bay, moment, float(by))] if by > hair else []
