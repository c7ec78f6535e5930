"""What comes along as it rides: things in bays, things inside other things, and what a bag weighs whole."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from ..documents.base import Figure
from ..documents.kit import Item
from ..documents.trip import Load, Placed

Spread = Callable[[Figure], float]
#: one-sided 95 %
GUARD = 1.645


def error(spreads: Iterable[float]) -> float:
    """What a sum of masses may well be heavier than it is said to be [kg], by their standard deviations."""
    return GUARD * math.hypot(*spreads)


@dataclass(frozen=True)
class Aboard:
    """A thing with all that is inside it: the bay it rides in, its whole mass [kg] (None: not known) and sd.

    `alone` is what it weighs without what is inside; `lacking` names what would have to be weighed.
    """

    item: Item
    bay: str
    mass: float | None
    sd: float
    inside: tuple[Aboard, ...] = ()
    lacking: tuple[str, ...] = ()

    @cached_property
    def parts(self) -> tuple[Aboard, ...]:
        """The thing and everything inside it, however deep."""
        return (self, *(part for thing in self.inside for part in thing.parts))

    @property
    def worth(self) -> int:
        return sum(part.item.worth for part in self.parts)

    @property
    def must_come(self) -> bool:
        """It, or something in it, is never offered to be left behind."""
        return any(part.item.must_come or part.item.role != "general" for part in self.parts)

    @property
    def stays_accessible(self) -> bool:
        return any(part.item.stays_accessible for part in self.parts)

    @property
    def upright(self) -> bool:
        """A box is kept as what is in it must stand."""
        return any(part.item.upright for part in self.parts)


def things_of(load: Load, items: Mapping[str, Item], spread: Spread) -> tuple[list[Aboard], list[Placed]]:
    """The things of a load that are in no other, with what is inside them; with no bay ("") if left behind.

    Second: lines that nobody can place, being inside what is not on this load, or inside each other.
    """
    by_item = {placed.item: placed for placed in load.placed}
    inside: dict[str, list[Placed]] = {}
    for placed in load.placed:
        if placed.inside is not None:
            inside.setdefault(placed.inside, []).append(placed)
    found, seen = [], set()

    def built(placed: Placed, bay: str) -> Aboard:
        seen.add(placed.item)
        within = tuple(built(one, bay) for one in inside.get(placed.item, []))
        return _whole(placed, bay, within, items, by_item, spread)

    for placed in load.placed:
        if placed.inside is None:
            found.append(built(placed, placed.bay or ""))
    return found, [placed for placed in load.placed if placed.item not in seen]


def _whole(
    placed: Placed,
    bay: str,
    within: tuple[Aboard, ...],
    items: Mapping[str, Item],
    by_item: Mapping[str, Placed],
    spread: Spread,
) -> Aboard:
    """By the scale, where the whole was on it; else the sum of what is in it."""
    item = items[placed.item]
    own = alone(placed, item)
    thing = Aboard(item, bay, own.value if own else None, spread(own) if own else 0.0, within)
    by_scale = _by_scale(placed, thing, items, by_item, spread)
    if by_scale is not None:
        return replace(thing, mass=by_scale[0], sd=by_scale[1])
    lacking = (() if own else (item.name,)) + tuple(name for part in within for name in part.lacking)
    if lacking:
        return replace(thing, mass=None, sd=0.0, lacking=lacking)
    mass = (thing.mass or 0.0) + sum(part.mass or 0.0 for part in within)
    return replace(thing, mass=mass, sd=math.hypot(thing.sd, *(part.sd for part in within)))


def alone(placed: Placed, item: Item) -> Figure | None:
    """What a thing weighs with nothing in it: as weighed so, else as its kit says."""
    return placed.weighed if placed.weighed is not None and not placed.weighed.holding else item.mass


def _by_scale(
    placed: Placed, thing: Aboard, items: Mapping[str, Item], by_item: Mapping[str, Placed], spread: Spread
) -> tuple[float, float] | None:
    """Mass [kg] and sd of a whole that was weighed: what went in since on top, what came out off.

    What went in counts with all that is in it, by the scale where that was on it. None where the whole was
    not weighed with something in it, or what changed since has no mass. Never less than those of its parts
    that were on the scale themselves: a whole that is lighter than they are was weighed at another time.
    """
    weighed = placed.weighed
    if weighed is None or not weighed.holding:
        return None
    held = set(weighed.holding)
    now = {part.item.id for part in thing.parts[1:]}
    off = sorted(held - now)
    mass, variance = weighed.value, spread(weighed) ** 2
    for part in _came(thing, held, by_item):
        if part.mass is None:
            return None
        mass += part.mass
        variance += part.sd**2
        # these were in already, somewhere in the whole
        off += [one.item.id for one in part.parts if one.item.id in held]
    for name in off:
        item = items.get(name)
        line = by_item.get(name)
        figure = alone(line, item) if item and line else item.mass if item else None
        if figure is None:
            return None
        mass -= figure.value
        variance += spread(figure) ** 2
    mass = max(mass, sum(_on_the_scale(part, by_item) for part in thing.inside))
    return (mass, math.sqrt(variance)) if mass > 0.0 else None


def _came(thing: Aboard, held: set[str], by_item: Mapping[str, Placed]) -> Iterator[Aboard]:
    """What went into a thing since `held` was all in it, each whole; a bag that was weighed anew too."""
    for part in thing.inside:
        weighed = by_item[part.item.id].weighed
        anew = weighed is not None and weighed.holding and not set(weighed.holding) <= held
        if part.item.id not in held or anew:
            yield part
        else:
            yield from _came(part, held, by_item)


def _on_the_scale(part: Aboard, by_item: Mapping[str, Placed]) -> float:
    """Mass [kg] of what the scale told of a thing and of what is in it."""
    weighed = by_item[part.item.id].weighed
    if weighed is not None and weighed.holding and part.mass is not None:
        return part.mass
    own = weighed.value if weighed is not None and not weighed.holding else 0.0
    return own + sum(_on_the_scale(one, by_item) for one in part.inside)
