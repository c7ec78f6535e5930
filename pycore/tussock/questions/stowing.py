"""What is rigid, placed in its bay: what `fits` judges by, and what the picture of the bay shows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from ..documents import aeroplane
from ..documents.kit import Rigid
from ..sums import placing
from ..sums.bulk import usable_volume
from .aboard import Aboard
from .answer import CANT_SAY, NO, TIGHT, YES, Answer, Measure, message
from .bulk import exposed, lies
from .flight import Flight

#: one of each pair of sides that are alike, where it is not told which side the door is in
SIDES = ("rear", "left", "top")
#: boxes nearer than this touch [m]
_TOUCHING = 1e-6


@dataclass(frozen=True)
class Stowed:
    """How the rigid things of a bay were placed: in which box, and how it went.

    `inside` is the box that was reckoned with: the bay's three edges where `sloping`, since the things did
    not go into the box of its stated volume. `side_decides`: it hangs on the side that the door is in.
    """

    inside: placing.Bay
    found: placing.Placing
    sloping: bool = False
    side_decides: bool = False


def stow(bay: aeroplane.Bay, things: list[Aboard]) -> Stowed | None:
    """The rigid things placed; None where there are none or the bay's edges or door are not known."""
    door = bay.door
    if door is None or bay.length is None or bay.width is None or bay.height is None:
        return None
    boxes = tuple(
        placing.Box(
            thing.item.id,
            (size.length.value, size.width.value, size.height.value),
            thing.upright,
            thing.stays_accessible,
            mass=thing.mass or 0.0,
        )
        for thing in out_of_bags(things)
        if isinstance(size := thing.item.size, Rigid)
    )
    if not boxes:
        return None
    edges = (bay.length.value, bay.width.value, bay.height.value)
    volume = bay.volume.value if bay.volume else edges[0] * edges[1] * edges[2]
    opening = (door.width.value, door.height.value, door.sill.value if door.sill else 0.0)
    return _stowed(edges, volume, door.face, opening, boxes)


def out_of_bags(things: list[Aboard]) -> list[Aboard]:
    """Things, and what lies in soft ones of them: a rigid thing in a bag takes its own place in the bay."""
    return [part for thing in things for part in exposed(thing)]


@lru_cache(maxsize=256)
def _stowed(
    edges: tuple[float, float, float],
    volume: float,
    face: str | None,
    opening: tuple[float, float, float],
    boxes: tuple[placing.Box, ...],
) -> Stowed:
    """By content, so that a bay is packed anew only when it or what is in it has changed."""
    ways = [
        _in_one(placing.Bay(*edges, placing.Opening(side, *opening)), volume, boxes)
        for side in ((face,) if face else SIDES)
    ]
    worst = min(ways, key=_standing)
    # what no side allows is impossible; what some do depends on which it is
    if _standing(worst) == 0 and any(_standing(way) for way in ways):
        return Stowed(worst.inside, worst.found, worst.sloping, side_decides=True)
    if _standing(worst) == 1 and any(_standing(way) > 1 for way in ways):
        return Stowed(worst.inside, worst.found, worst.sloping, side_decides=True)
    return worst


def _in_one(whole: placing.Bay, volume: float, boxes: tuple[placing.Box, ...]) -> Stowed:
    """In the box of the stated volume; else in the bay's three edges, and what those prove."""
    inside = placing.reckoned(whole, volume)
    found = placing.place(inside, boxes)
    if found.outcome == "placed" or inside is whole:
        return Stowed(inside, found)
    return Stowed(whole, placing.place(whole, boxes), sloping=True)


def _standing(way: Stowed) -> int:
    """From what cannot be to what is well."""
    if way.found.outcome == "impossible":
        return 0
    if way.found.outcome == "not_found":
        return 1
    return 2 if way.sloping or way.found.buried else 3


def judge_stowing(bay: aeroplane.Bay, things: list[Aboard], answer: Answer) -> Measure | None:
    """The measure of what is rigid in one bay, with what was assumed; None where nothing is to be said.

    A box that is too large for the bay or its door by itself is told by measures of its own.
    """
    stowed = stow(bay, things)
    if stowed is None:
        return None
    assert bay.door is not None
    if bay.door.face is None:
        answer.assume("assumed.door_any_side", bay=bay.name)
    if bay.door.sill is None and bay.door.face != "top":
        answer.assume("assumed.door_place", bay=bay.name)
    found, values = stowed.found, {"bay": bay.name}
    names = {thing.item.id: thing.item.name for thing in out_of_bags(things)}
    left = [names[key] for key in found.left]
    total = len(found.put) + len(found.left)

    def said(verdict: str, text: str | None = None, **more: str) -> Measure:
        reason = message(f"reason.placing.{text}", **values, **more) if text else None
        return Measure("placing", total, len(found.put), "1", "count", verdict, values, reason)

    if stowed.side_decides:
        return Measure(
            "placing",
            None,
            None,
            "1",
            "count",
            CANT_SAY,
            values,
            message("reason.placing.which_side", **values),
        )
    if found.outcome == "impossible":
        if found.why in ("bay", "door"):
            reason = message("reason.box" if found.why == "bay" else "reason.door", item=left[0], **values)
        elif found.why == "pair":
            reason = message("reason.placing.pair", one=left[0], two=left[1], **values)
        else:
            reason = message("reason.placing.volume", **values)
        return Measure("placing", None, None, "1", "count", NO, values, reason)
    if found.outcome == "not_found":
        return said(CANT_SAY, "not_found", items=", ".join(left))
    if found.buried:
        return said(TIGHT, "buried", items=", ".join(names[key] for key in found.buried))
    pressed = _pressed(bay, found.put, {thing.item.id: thing.mass or 0.0 for thing in out_of_bags(things)})
    if pressed is not None:
        return said(TIGHT, "stacked", item=names[pressed])
    return said(TIGHT, "sloping") if stowed.sloping else said(YES)


def _pressed(bay: aeroplane.Bay, put: tuple[placing.Put, ...], masses: dict[str, float]) -> str | None:
    """The box under which the floor bears more than it may, with all that lies over it; None where none is.

    Each alone is told by a measure of its own. Over it counts whole what reaches over any part of it.
    """
    if bay.floor_limit is None:
        return None
    for low in put:
        area = low.edges[0] * low.edges[1]
        over = [one for one in put if one is not low and _over(one, low)]
        mass = masses[low.key] + sum(masses[one.key] for one in over)
        if over and low.corner[2] < _TOUCHING and mass > bay.floor_limit.value * area:
            return low.key
    return None


def _over(high: placing.Put, low: placing.Put) -> bool:
    """Whether one box is higher than another and reaches over it."""
    across = all(
        high.corner[i] < low.corner[i] + low.edges[i] - _TOUCHING
        and low.corner[i] < high.corner[i] + high.edges[i] - _TOUCHING
        for i in (0, 1)
    )
    return across and high.corner[2] >= low.corner[2] + low.edges[2] - _TOUCHING


# --- what is shown ---------------------------------------------------------------------------------------


def shown(flight: Flight) -> list[dict[str, Any]]:
    """Each bay that has edges and a door, as a picture of it needs; lengths in m, from the front left floor.

    `edges` of the box that was reckoned with (`drawn_in`: smaller than the bay's own, by its volume), `face`
    and `opening` of the door (least corner, most corner), `outcome`, and `steps` in the order of loading:
    boxes with `corner`, `edges` and `route`, soft things without; `level` is how high the soft ones reach by
    then. `left` has no place. `missing` says what a bay lacks to be drawn. `message` is what `fits` says.
    """
    return [_shown(bay, [thing for thing in flight.aboard if thing.bay == bay.id]) for bay in flight.bays]


def _shown(bay: aeroplane.Bay, things: list[Aboard]) -> dict[str, Any]:
    about: dict[str, Any] = {"id": bay.id, "name": bay.name, "missing": None, "message": None}
    own = (bay.length, bay.width, bay.height)
    if bay.door is None or None in own:
        text = "missing.bay_door" if bay.door is None else "missing.bay_size"
        return about | {"missing": message(text, bay=bay.name), "steps": [], "left": []}
    stowed = stow(bay, things) or _empty(bay)
    said = judge_stowing(bay, things, Answer("fits"))
    inside, put = stowed.inside, list(stowed.found.put)
    by_id = {thing.item.id: thing for thing in out_of_bags(things)}
    holders = {part.item.id: thing.item.name for thing in things for part in thing.parts[1:]}
    soft = [thing for thing in things if _packed(bay, thing) > 0.0]
    soft.sort(key=lambda thing: (-_packed(bay, thing), thing.item.id))
    steps: list[dict[str, Any]] = []
    in_already: list[placing.Put] = []
    filled = 0.0
    for one in _order(put, by_id, soft):
        box: dict[str, Any] = {"corner": None, "edges": None, "route": None}
        if isinstance(one, Aboard):
            filled += _packed(bay, one)
        else:
            in_already.append(one)
            box = _box(one)
        thing = one if isinstance(one, Aboard) else by_id[one.key]
        steps.append(
            _step(thing, holders.get(thing.item.id)) | box | {"level": _level(inside, in_already, filled)}
        )
    return about | {
        "message": said.reason if said else None,
        "outcome": stowed.found.outcome,
        "edges": [inside.length, inside.width, inside.height],
        "drawn_in": bool(own[0] and inside.length < own[0].value - 1e-6),
        "face": inside.opening.face,
        "opening": [list(corner) for corner in placing.opening_of(inside)],
        "over": filled + sum(math.prod(one.edges) for one in put) > inside.volume * (1.0 + 1e-9),
        "steps": steps,
        "left": [_step(by_id[key], holders.get(key)) for key in stowed.found.left]
        + [_step(thing) for thing in things if lies(thing) is None],
    }


def _order(
    put: list[placing.Put], by_id: dict[str, Aboard], soft: list[Aboard]
) -> list[placing.Put | Aboard]:
    """The boxes as they were placed, soft things pushed round them, those within reach at the very end."""
    reach = [by_id[one.key].stays_accessible for one in put]
    last = max((index + 1 for index, within in enumerate(reach) if not within), default=0)
    under = [thing for thing in soft if not thing.stays_accessible]
    over = [thing for thing in soft if thing.stays_accessible]
    return [*put[:last], *under, *put[last:], *over]


def _empty(bay: aeroplane.Bay) -> Stowed:
    """A bay without anything rigid in it."""
    assert bay.door is not None
    assert bay.length is not None
    assert bay.width is not None
    assert bay.height is not None
    sill = bay.door.sill.value if bay.door.sill else 0.0
    door = placing.Opening(bay.door.face or SIDES[0], bay.door.width.value, bay.door.height.value, sill)
    whole = placing.Bay(bay.length.value, bay.width.value, bay.height.value, door)
    inside = placing.reckoned(whole, bay.volume.value) if bay.volume else whole
    return Stowed(inside, placing.Placing("placed"))


def _step(thing: Aboard, holder: str | None = None) -> dict[str, Any]:
    item = thing.item
    return {
        "id": item.id,
        "name": item.name,
        "mass": thing.mass,
        "upright": thing.upright,
        "stays_accessible": thing.stays_accessible,
        "in": holder,
        "with": [part.item.name for part in thing.parts[1:]],
    }


def _box(one: placing.Put) -> dict[str, Any]:
    return {
        "corner": list(one.corner),
        "edges": list(one.edges),
        "route": [list(corner) for corner in one.route],
    }


def _packed(bay: aeroplane.Bay, thing: Aboard) -> float:
    """Litres of the bay that is taken by what is soft of a thing [m³], with the air round it."""
    found = lies(thing)
    if found is None:
        return 0.0
    return found.soft / float(usable_volume(1.0, bay.packing_fraction.value if bay.packing_fraction else 1.0))


def _level(inside: placing.Bay, put: list[placing.Put], volume: float) -> float:
    """Height up to which soft things reach; the roof where they are more than there is room for."""
    return min(placing.fill_level(inside, put, volume), inside.height)
