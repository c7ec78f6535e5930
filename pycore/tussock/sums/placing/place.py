"""The search: orders and rules in turn, each a plain construction; and what can be proved without it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

import numpy as np

from .frame import Array, Bay, Box, Frame, Opening, whole
from .route import route, straight
from .space import Space

#: constructions that are tried before the search gives up
ATTEMPTS = 8
#: places out of the straight that are tried for one box: before one straight ahead, and where there is none
_TRIES, _MOST = 3, 10


@dataclass(frozen=True)
class Put:
    """One box in its place: least corner and edges [m] along length, width and height, and how it gets there.

    `route` holds the least corners [m] from just outside the door to its place; of a box that stays
    accessible, and is not buried, it is free of all the others.
    """

    key: str
    corner: tuple[float, float, float]
    edges: tuple[float, float, float]
    route: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True)
class Placing:
    """`outcome` is "placed", "impossible" or "not_found"; `put` is in the order of loading.

    `left` are the boxes without a place, `buried` those that should stay within reach and do not. `why` is,
    where it is impossible, what proves it: "bay" or "door" (one box), "pair" (two), "volume" (all).
    """

    outcome: str
    put: tuple[Put, ...] = ()
    left: tuple[str, ...] = ()
    buried: tuple[str, ...] = ()
    why: str | None = None
    attempts: int = 0


@dataclass
class _Try:
    """One construction: box numbers in the order of loading, where they stand, and which were left."""

    space: Space
    order: list[int] = field(default_factory=list)
    low: list[Array] = field(default_factory=list)
    size: list[Array] = field(default_factory=list)
    routes: list[Array] = field(default_factory=list)
    left: list[int] = field(default_factory=list)
    buried: list[int] = field(default_factory=list)


#: numbers of the candidates, best first
Rule = Callable[[Space, Array, Array], Sequence[int]]


def _deep(space: Space, low: Array, size: Array) -> Sequence[int]:
    """Against the far end first, then low."""
    high = low + size
    order: list[int] = np.lexsort(
        (low[:, 1], high[:, 1] if space.up == 2 else high[:, 2], high[:, 2], high[:, 0])
    ).tolist()
    return order


def _low(space: Space, low: Array, size: Array) -> Sequence[int]:
    """On the floor first, then deep."""
    high = low + size
    order: list[int] = np.lexsort((low[:, 1], low[:, 2], high[:, 0], high[:, space.up])).tolist()
    return order


def _snug(space: Space, low: Array, size: Array) -> Sequence[int]:
    """Where most of its surface touches something, then deep."""
    order: list[int] = np.lexsort(
        (low[:, 1], low[:, space.up], low[:, 0], -np.round(space.touching(low, size), 6))
    ).tolist()
    return order


def _even(space: Space, low: Array, size: Array) -> Sequence[int]:
    """Deep, and held so that more of its kind would leave little over."""
    over = np.mod(space.size - low, size) / space.size
    order: list[int] = np.lexsort((low[:, 1], over.sum(axis=1), low[:, space.up], low[:, 0])).tolist()
    return order


def _side(space: Space, low: Array, size: Array) -> Sequence[int]:
    """Against one side first, then deep."""
    high = low + size
    order: list[int] = np.lexsort((low[:, 2], high[:, 2], high[:, 0], high[:, 1])).tolist()
    return order


#: a load that does not fill the bay lies on its floor
RULES: tuple[Rule, ...] = (_low, _deep, _snug, _even, _side)


def place(bay: Bay, boxes: Sequence[Box], attempts: int = ATTEMPTS) -> Placing:
    """Place all `boxes` in the bay, through its door, in an order in which each can be brought in.

    Boxes that stay accessible can be taken out again with all the others in place, where that is found. Where
    all are in and some lie on others, the heavy ones are put in first too, and that is kept where all go in
    again and lie lower by mass. Always gives the same for the same.
    """
    frame = Frame(bay)
    ways = [frame.ways(box) for box in boxes]
    proof = _proof(frame, boxes, ways)
    if proof is not None:
        return proof
    best: _Try | None = None
    tried = 0
    for order, rule in _plans(boxes, ways, attempts):
        tried += 1
        made = _build(frame, boxes, ways, order, rule)
        if best is None or _worth(made, ways) > _worth(best, ways):
            best = made
        if not made.left and not made.buried:
            break
        if made.left:
            order[:] = made.left + [one for one in order if one not in made.left]
    if best is None:
        return Placing("placed")
    lower = _heavy_below(frame, boxes, ways, best)
    return _told(frame, boxes, lower or best, tried + (lower is not None))


def reckoned(bay: Bay, volume: float) -> Bay:
    """The bay as a box of `volume` [m³]: all edges drawn in alike where the three hold more than is stated.

    Walls that slope take the difference; where is not known.
    """
    part = min(1.0, (volume / bay.volume) ** (1.0 / 3.0))
    if part > 1.0 - 1e-6:
        return bay
    door = bay.opening
    opening = Opening(door.face, door.width, door.height, door.sill * part)
    return Bay(bay.length * part, bay.width * part, bay.height * part, opening)


# --- the search ------------------------------------------------------------------------------------------


def _plans(boxes: Sequence[Box], ways: list[Array], attempts: int) -> Iterator[tuple[list[int], Rule]]:
    """Orders and rules in turn. Whoever builds puts what was left first in the order, which comes again."""
    edges = np.array([one[0] for one in ways]).reshape(-1, 3)
    volume, longest = edges.prod(axis=1), edges.max(axis=1)
    flat = volume / np.maximum(edges.min(axis=1), 1.0)
    far = [not box.accessible for box in boxes]
    numbers = range(len(boxes))
    keys: tuple[Array, ...] = (volume, longest, flat)
    orders = [sorted(numbers, key=lambda i: (not far[i], -key[i], i)) for key in keys]
    if not all(far) and any(far):
        # a last resort: within reach does not go last, and may be buried
        orders.append(sorted(numbers, key=lambda i: (-volume[i], i)))
    for turn in range(attempts):
        yield orders[turn % len(orders)], RULES[turn % len(RULES)]


def _build(frame: Frame, boxes: Sequence[Box], ways: list[Array], order: list[int], rule: Rule) -> _Try:
    made = _Try(Space(frame.size, frame.up, len(order)))
    space = made.space
    failed: set[tuple[tuple[float, ...], ...]] = set()
    for number in order:
        shape = tuple(map(tuple, ways[number]))
        found = None if shape in failed else _stand(frame, space, ways[number], rule)
        if found is None:
            # one of the same shape hardly will either: not worth the time
            failed.add(shape)
            made.left.append(number)
            continue
        low, size, way = found
        space.put(low, size)
        made.order.append(number)
        made.low.append(low)
        made.size.append(size)
        made.routes.append(way)
    for index, number in enumerate(made.order):
        if boxes[number].accessible:
            keep = np.arange(space.count) != index
            out = route(frame, made.low[index], made.size[index], space.low[keep], space.high[keep])
            if out is None:
                made.buried.append(number)
            else:
                # the way out past all others is a way in past some of them too
                made.routes[index] = out
    return made


def _stand(frame: Frame, space: Space, ways: Array, rule: Rule) -> tuple[Array, Array, Array] | None:
    low, size = space.candidates(ways)
    if not len(low):
        return None
    order = rule(space, low, size)
    clear = straight(frame, low, size, space.low, space.high)[order]
    # one straight ahead is kept for when better ones cannot be reached by the few ways round
    first = int(np.argmax(clear)) if clear.any() else len(order)
    for index in order[: min(first, _TRIES)]:
        way = route(frame, low[index], size[index], space.low, space.high)
        if way is not None:
            return low[index], size[index], way
    if first < len(order):
        index = order[first]
        way = np.array([[frame.size[0], *low[index, 1:]], low[index]])
        return low[index], size[index], way
    for index in order[_TRIES:_MOST]:
        way = route(frame, low[index], size[index], space.low, space.high)
        if way is not None:
            return low[index], size[index], way
    return None


def _heavy_below(frame: Frame, boxes: Sequence[Box], ways: list[Array], found: _Try) -> _Try | None:
    """The same boxes, heavy ones put in first; None where that is no better or none lies on another."""
    mass = np.array([box.mass for box in boxes])
    stacked = any(low[frame.up] > 0.5 for low in found.low)
    if found.left or found.buried or not stacked or np.ptp(mass) == 0.0:
        return None

    def height(made: _Try) -> float:
        """Mass by the height of its middle [kg µm]."""
        middles = [low[frame.up] + size[frame.up] / 2 for low, size in zip(made.low, made.size, strict=True)]
        return float(np.dot(mass[made.order], middles))

    order = sorted(range(len(boxes)), key=lambda i: (boxes[i].accessible, -boxes[i].mass, i))
    made = _build(frame, boxes, ways, order, _low)
    better = not made.left and not made.buried and height(made) < height(found) - 1e-6
    return made if better else None


def _worth(made: _Try, ways: list[Array]) -> tuple[float, int]:
    """The more volume is in, the better; then the fewer are buried."""
    return sum(float(ways[one][0].prod()) for one in sorted(made.order)), -len(made.buried)


def _told(frame: Frame, boxes: Sequence[Box], made: _Try, tried: int) -> Placing:
    put = tuple(
        Put(
            boxes[number].key,
            frame.corner(low, size),
            frame.edges(size),
            tuple(frame.corner(corner, size) for corner in way),
        )
        for number, low, size, way in zip(made.order, made.low, made.size, made.routes, strict=True)
    )
    left, buried = (tuple(boxes[one].key for one in some) for some in (made.left, made.buried))
    return Placing("not_found" if left else "placed", put, left, buried, None, tried)


# --- what can be proved ----------------------------------------------------------------------------------


def _proof(frame: Frame, boxes: Sequence[Box], ways: list[Array]) -> Placing | None:
    """What cannot be, however well packed: boxes stay square to the bay and go straight through."""
    door = np.array([frame.opening[1] - frame.opening[0], frame.opening[3] - frame.opening[2]])
    least = []
    for box, held in zip(boxes, ways, strict=True):
        stands = held[(held <= frame.size).all(axis=1)]
        if not len(stands):
            return Placing("impossible", left=(box.key,), why="bay")
        if not (held[:, 1:] <= door).all(axis=1).any():
            return Placing("impossible", left=(box.key,), why="door")
        least.append(stands.min(axis=0))
    for one, two in combinations(range(len(boxes)), 2):
        # two boxes are beside one another along some edge of the bay
        if (least[one] + least[two] > frame.size).all():
            return Placing("impossible", left=(boxes[one].key, boxes[two].key), why="pair")
    if sum(float(whole(box.edges).prod()) for box in boxes) > float(frame.size.prod()):
        return Placing("impossible", left=tuple(box.key for box in boxes), why="volume")
    return None
