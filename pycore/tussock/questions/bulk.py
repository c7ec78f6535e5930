"""The bulk of a thing with what is inside it: the boxes that it comes to, and the litres of what is soft."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from ..documents.aeroplane import Bay
from ..documents.kit import Rigid, Soft
from ..sums import placing
from ..sums.bulk import bag_volume, box_volume, fits_box, packed_volume, usable_volume
from .aboard import Aboard
from .answer import NO, TIGHT, Measure, cant_say, measure, message
from .working import Working

#: so that what fills its box to the brim goes in, in spite of rounding
_ROUNDING = 1e-9
#: of a trunk's litres, soft things beyond this part may not go in for the air between them: own choice
_SOFT_FILL = 0.85
#: standard deviation of litres that were guessed, as a part of them: common practice, no source
GUESSED = 0.2


@dataclass(frozen=True)
class Lies:
    """A thing as it lies in a bay: rigid things that nothing rigid encloses, and squashed litres [m³]."""

    rigid: tuple[Aboard, ...]
    soft: float


def lies(thing: Aboard, work: Working | None = None) -> Lies | None:
    """None where a size in it is not known."""
    size = thing.item.size
    if isinstance(size, Rigid):
        return Lies((thing,), 0.0) if all(part.item.size for part in thing.parts) else None
    inside = [lies(part, work) for part in thing.inside]
    if any(part is None for part in inside) or (size is None and not inside):
        return None
    known = [part for part in inside if part is not None]
    rigid = tuple(box for part in known for box in part.rigid)
    soft = sum(part.soft for part in known)
    if size is None:
        return Lies(rigid, soft)
    own = _step(work, packed_volume, volume=size.volume.value, compressible_fraction=size.crush)
    if thing.inside:
        boxes = sum(box_of(box, work) for box in rigid)
        own = _step(work, bag_volume, volume=own, rigid=boxes, soft=soft)
    return Lies(rigid, own)


def _step(work: Working | None, function: Callable[..., Any], **arguments: Any) -> float:
    """By way of the working where there is one; the figures alone are asked for very often."""
    return float(work.step(function, **arguments) if work else function(**arguments))


def box_of(thing: Aboard, work: Working | None = None) -> float:
    """Volume [m³] of something rigid."""
    size = thing.item.size
    assert isinstance(size, Rigid)
    edges = {"length": size.length.value, "width": size.width.value, "height": size.height.value}
    return _step(work, box_volume, **edges)


def bulk_in(thing: Aboard, bay: Bay) -> float | None:
    """Volume [m³] that a thing takes of a bay, with the air between soft ones; None where it is not known."""
    found = lies(thing)
    if found is None:
        return None
    fraction = bay.packing_fraction.value if bay.packing_fraction else 1.0
    return sum(box_of(box) for box in found.rigid) + found.soft / float(usable_volume(1.0, fraction))


def soft_in(bay: Bay, left: float | None) -> float | None:
    """Litres of soft things [m³] that go into what is left of a bay, with the air between them.

    None where that is not known; what is too much already stays as it is.
    """
    if left is None or bay.packing_fraction is None:
        return None
    return float(usable_volume(left, bay.packing_fraction.value)) if left > 0.0 else left


def doubt(thing: Aboard) -> float:
    """Standard deviation [m³] of the squashed litres of a thing, where they were guessed or it was told."""
    found = []
    for part in exposed(thing):
        size = part.item.size
        if isinstance(size, Soft):
            volume = size.volume
            guessed = GUESSED * volume.value if volume.origin == "estimated" else 0.0
            found.append((volume.sd if volume.sd is not None else guessed) * (1.0 - size.crush))
    return math.hypot(*found)


def unsized(thing: Aboard) -> str | None:
    """The name of what in it has no size that is needed; None where its bulk is known."""
    if lies(thing) is not None:
        return None
    for part in thing.parts:
        if part.item.size is None and not part.inside:
            return part.item.name
    return next(part.item.name for part in thing.parts if part.item.size is None)


def exposed(thing: Aboard) -> Iterator[Aboard]:
    """The thing and what is inside it, without what something rigid encloses."""
    yield thing
    if not isinstance(thing.item.size, Rigid):
        for part in thing.inside:
            yield from exposed(part)


def too_full(thing: Aboard, bay: str, work: Working) -> Iterator[Measure]:
    """Whether what is inside a thing, and inside that, goes in. Only what does not, or can't be said."""
    for holder in thing.parts:
        size = holder.item.size
        if not holder.inside or size is None:
            continue
        values = {"item": holder.item.name, "bay": bay}
        held = [lies(part, work) for part in holder.inside]
        if any(part is None for part in held):
            names = (unsized(part) for part in holder.inside)
            reason = message("missing.item_size", item=next(name for name in names if name))
            yield cant_say("inside", "m³", "bulk", reason, **values)
            continue
        boxes = [box for part in held if part is not None for box in part.rigid]
        needed = sum(box_of(box, work) for box in boxes) + sum(part.soft for part in held if part is not None)
        room = size.volume.value if isinstance(size, Soft) else box_of(holder, work)
        if needed > room * (1.0 + _ROUNDING):
            yield measure("inside", needed, room, "m³", "bulk", values=values)
        elif isinstance(size, Rigid):
            larger = [_larger(holder, size, box, bay) for box in boxes if not _goes_in(size, box, work)]
            yield from larger
            if not larger:
                yield from _together(holder, size, boxes, bay)
            soft = sum(part.soft for part in held if part is not None)
            if soft > _SOFT_FILL * (room - (needed - soft)) * (1.0 + _ROUNDING):
                reason = message("reason.trunk_air", bay=holder.item.name)
                yield Measure("inside", needed, room, "m³", "bulk", TIGHT, values, reason)
            yield from (_longer(holder, size, one, bay) for one in _poles(holder) if _is_longer(size, one))


def _goes_in(outer: Rigid, box: Aboard, work: Working) -> bool:
    size = box.item.size
    assert isinstance(size, Rigid)
    return bool(
        work.step(
            fits_box,
            length=size.length.value,
            width=size.width.value,
            height=size.height.value,
            bay_length=outer.length.value,
            bay_width=outer.width.value,
            bay_height=outer.height.value,
            upright=float(box.upright),
        )
    )


def _together(holder: Aboard, size: Rigid, boxes: list[Aboard], bay: str) -> Iterator[Measure]:
    """Whether the boxes in a trunk go in with each other, its lid being all of its top."""
    if len(boxes) < 2:
        return
    edges = (size.length.value, size.width.value, size.height.value)
    inside = placing.Bay(*edges, placing.Opening("top", edges[1], edges[0]))
    shapes = [(box.item.size, box) for box in boxes]
    found = _placed(
        inside,
        tuple(
            placing.Box(box.item.id, (shape.length.value, shape.width.value, shape.height.value), box.upright)
            for shape, box in shapes
            if isinstance(shape, Rigid)
        ),
    )
    if found.outcome == "placed":
        return
    names = {box.item.id: box.item.name for box in boxes}
    values = {"item": holder.item.name, "bay": bay}
    left = [names[key] for key in found.left]
    if found.outcome == "not_found":
        reason = message("reason.placing.not_found", bay=holder.item.name, items=", ".join(left))
        yield cant_say("inside", "m³", "bulk", reason, **values)
        return
    if found.why == "pair":
        reason = message("reason.placing.pair", bay=holder.item.name, one=left[0], two=left[1])
    else:
        reason = message("reason.placing.volume", bay=holder.item.name)
    yield Measure("inside", None, None, "m³", "bulk", NO, values, reason)


@lru_cache(maxsize=256)
def _placed(inside: placing.Bay, boxes: tuple[placing.Box, ...]) -> placing.Placing:
    return placing.place(inside, boxes)


def _poles(holder: Aboard) -> Iterator[tuple[Aboard, float]]:
    """Soft things in a trunk, not in a box in it, that have a straight part, with its length [m]."""
    for part in holder.inside:
        for one in exposed(part):
            if isinstance(one.item.size, Soft) and one.item.size.longest is not None:
                yield one, one.item.size.longest.value


def _is_longer(size: Rigid, pole: tuple[Aboard, float]) -> bool:
    return pole[1] > max(size.length.value, size.width.value, size.height.value) * (1.0 + _ROUNDING)


def _longer(holder: Aboard, size: Rigid, pole: tuple[Aboard, float], bay: str) -> Measure:
    """A pole in a trunk that is shorter: from corner to corner it may go in, beyond that it does not."""
    edges = (size.length.value, size.width.value, size.height.value)
    values = {"item": holder.item.name, "bay": bay}
    if pole[1] > math.hypot(*edges):
        reason = message("reason.box", item=pole[0].item.name, bay=holder.item.name)
        return Measure("inside", pole[1], math.hypot(*edges), "m", "short", NO, values, reason)
    reason = message("reason.slanting", item=pole[0].item.name, bay=holder.item.name)
    return Measure("inside", pole[1], max(edges), "m", "short", TIGHT, values, reason)


def _larger(holder: Aboard, size: Rigid, box: Aboard, bay: str) -> Measure:
    inner = box.item.size
    assert isinstance(inner, Rigid)
    longest = max(inner.length.value, inner.width.value, inner.height.value)
    values = {"item": holder.item.name, "bay": bay}
    reason = message("reason.box", item=box.item.name, bay=holder.item.name)
    return Measure("inside", longest, None, "m", "short", NO, values, reason)
