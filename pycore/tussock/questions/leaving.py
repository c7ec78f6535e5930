"""Remedies of the load: which things to leave, or to move to another bay.

Chosen as a pilot would: the least worth given up, then the fewest things, then the least mass. What is chosen
is answered again on all six, and so is every choice with one thing fewer: nothing stays that could come.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

import numpy as np

from ..documents import Bundle
from ..documents.aeroplane import Bay
from . import edits as change
from .aboard import Aboard
from .answer import NO, RANK, message
from .asking import LegAnswer
from .bulk import bulk_in
from .choosing import MOST, Choosing, Limit, Set
from .edits import Edit
from .fits import alone
from .needing import Need, need
from .search import Remedy, Search

#: as many things are named in one breath
FEW = 4
#: choices asked before the best found is taken, and of other bays
TRIES, MOVES = 12, 3
#: other choices looked at for a second one
OTHERS = 2


@dataclass
class Asking:
    """Choices among some things for one goal, answered: left behind, or in another bay."""

    search: Search
    question: str
    goal: str
    things: list[Aboard]
    bay: Bay | None

    def names(self, chosen: Set) -> list[str]:
        return [self.things[i].item.id for i in chosen]

    def _key(self, chosen: Set) -> tuple[str, ...]:
        return ("place", self.bay.id if self.bay else "", *sorted(self.names(chosen)))

    def _made(self, chosen: Set) -> tuple[Bundle, list[Edit]]:
        search = self.search
        bay = self.bay.id if self.bay else None
        return change.place(search.bundle, search.trip, search.leg, self.names(chosen), bay)

    def after(self, chosen: Set) -> LegAnswer:
        return self.search.after(self._key(chosen), lambda: self._made(chosen)[0])

    def good(self, chosen: Set) -> bool:
        return self.search.good(self.after(chosen), self.question, self.goal)

    def reached(self, chosen: Set) -> bool:
        """Whether the question gets there, whatever becomes of the others."""
        return RANK[self.after(chosen).verdicts[self.question]] >= RANK[self.goal]

    def harms_other_legs(self, chosen: Set) -> bool:
        return self.search.harms_other_legs(self._key(chosen), self._made(chosen)[0])

    def needed(self, chosen: Set) -> Set:
        """A choice less what is not needed, the dearest taken back first."""
        things = self.things
        for one in sorted(chosen, key=lambda i: (-things[i].worth, -(things[i].mass or 0.0))):
            fewer = tuple(i for i in chosen if i != one)
            if fewer and self.good(fewer):
                chosen = fewer
        return chosen

    def remedy(self, chosen: Set, out_of: str | None = None) -> Remedy:
        after, picked = self.after(chosen), [self.things[i] for i in chosen]
        mass = sum(thing.mass or 0.0 for thing in picked)
        items = ", ".join(thing.item.name for thing in picked)
        # in the order of what is given up; what gives up nothing comes first
        cost = 0.01 * len(chosen) + 1e-5 * mass
        edits = self._made(chosen)[1]
        if self.bay is not None:
            names = {bay.id: bay.name for bay in self.search.before.flight.plane.bays}
            sources = ", ".join(dict.fromkeys(names[thing.bay] for thing in picked))
            if out_of is not None:
                said = message("remedy.take_out", items=items, mass=mass, bag=out_of)
                return Remedy("move", said, edits, after, self.search.turned(after), cost)
            said = message("remedy.move", items=items, mass=mass, bay=self.bay.name, **{"from": sources})
            return Remedy("move", said, edits, after, self.search.turned(after), cost)
        text = "remedy.leave" if len(chosen) <= FEW else "remedy.leave_many"
        said = message(text, items=items, mass=mass, count=len(chosen))
        cost += sum(thing.worth for thing in picked)
        return Remedy("mass", said, edits, after, self.search.turned(after), cost)


def leave(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    """The best one or two choices of things to leave, the best first."""
    fast = _locked(search)
    things = [
        thing
        for whole in search.before.flight.aboard
        for thing in whole.parts
        if not thing.must_come and thing.mass is not None and thing.item.id not in fast
    ]
    if not things or question == "reaches":
        return
    wanted = need(search, question, goal, things, None)
    if wanted is None:
        return
    asking = Asking(search, question, goal, things, None)
    worth = np.array([thing.worth for thing in things])
    choosing = Choosing(worth, np.array([thing.mass or 0.0 for thing in things]), wanted.limits)
    best, least = _found(asking, choosing, wanted, TRIES)
    if best is None:
        return
    if not asking.harms_other_legs(best):
        yield asking.remedy(best)
    for other in _others(asking, choosing, wanted, best, least):
        yield asking.remedy(other)
        return


def take_out(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    """The lightest thing to take out of what it does not go into; it rides beside that, in the same bay."""
    if question != "fits":
        return
    flight, fast = search.before.flight, _locked(search)
    full = {p.values["item"] for p in search.before.answer("fits").measures if p.name == "inside"}
    bays = {bay.id: bay for bay in flight.bays}
    for holder in (part for thing in flight.aboard for part in thing.parts if part.item.name in full):
        loose = [thing for thing in holder.inside if thing.item.id not in fast and thing.bay in bays]
        for thing in sorted(loose, key=lambda one: (one.mass or 0.0, one.item.id)):
            asking = Asking(search, question, goal, [thing], bays[thing.bay])
            if asking.good((0,)) and not asking.harms_other_legs((0,)):
                yield asking.remedy((0,), out_of=holder.item.name)
                break


def move(search: Search, question: str, goal: str) -> Iterator[Remedy]:
    """The least to move to another bay, bay by bay."""
    if question not in ("fits", "balances"):
        return
    flight, fast = search.before.flight, _locked(search)
    for bay in flight.bays:
        if bay.arm is None:
            continue
        things = [
            thing
            for thing in flight.aboard
            if thing.bay != bay.id and thing.mass is not None and thing.item.id not in fast
        ]
        wanted = need(search, question, goal, things, bay.arm.value) if things else None
        if wanted is None or wanted.mass:
            continue
        mass = np.array([thing.mass or 0.0 for thing in things])
        goes = np.array([all(part.verdict != NO for part in alone(flight, bay, thing)) for thing in things])
        wanted.limits += [Limit(-1.0 * ~goes, 0.0), *_room(search, bay, things, mass)]
        asking = Asking(search, question, goal, things, bay)
        choosing = Choosing(np.zeros(len(things), dtype=int), mass, wanted.limits)
        best, _ = _found(asking, choosing, wanted, MOVES)
        if best is not None and len(best) <= FEW and not asking.harms_other_legs(best):
            yield asking.remedy(best)


def _locked(search: Search) -> set[str]:
    return {placed.item for placed in search.before.flight.load.placed if placed.locked}


def _room(search: Search, bay: Bay, things: list[Aboard], mass: np.ndarray) -> list[Limit]:
    """What a bay still takes, as a limit on what may come in."""
    inside = [thing for thing in search.before.flight.aboard if thing.bay == bay.id]
    found = []
    if bay.volume is not None:
        bulk = np.array([bulk_in(thing, bay) or 0.0 for thing in things])
        found.append(Limit(-bulk, sum(bulk_in(thing, bay) or 0.0 for thing in inside) - bay.volume.value))
    if bay.mass_limit is not None:
        found.append(Limit(-mass, sum(thing.mass or 0.0 for thing in inside) - bay.mass_limit.value))
    return found


def _found(asking: Asking, choosing: Choosing, wanted: Need, tries: int) -> tuple[Set | None, float]:
    """The first choice in the pilot's order that is good, and how little is known not to do.

    How much must go is narrowed by asking real choices, taken to be the better the more goes; the best choice
    that this passes over is asked too.
    """
    more = wanted.more
    if more is None:
        found = next((one for one in islice(choosing.each(), tries) if asking.good(one)), None)
        return (asking.needed(found) if found else None), 0.0
    gives = more.gives
    heap = tuple(sorted(np.argsort(-gives, kind="stable")[:MOST].tolist()))
    heap = tuple(i for i in heap if gives[i] > 0.0)
    if not heap or (asking.bay is None and not asking.reached(heap)):
        return None, 0.0
    low, high = more.least, float(np.sum(gives[list(heap)]))
    best: Set | None = None
    rejected: set[Set] = set()
    for _ in range(tries):
        first = _next(choosing, Limit(gives, low), rejected)
        if first is None or (best is not None and choosing.key(first) >= choosing.key(best)):
            break
        pick = _next(choosing, Limit(gives, (low + high) / 2), rejected)
        if pick is None or (best is not None and choosing.key(pick) >= choosing.key(best)):
            pick = first
        given = float(np.sum(gives[list(pick)]))
        if asking.good(pick):
            best, high = pick, min(high, given)
        elif asking.reached(pick):
            rejected.add(pick)  # it does, but makes another answer worse
        else:
            low = max(low, given + 1e-9)
    if best is None and asking.bay is None and asking.good(heap):
        best = heap
    if best is None:
        return None, low
    return asking.needed(_passed_over(asking, choosing, more, low, best)), low


def _next(choosing: Choosing, more: Limit, rejected: set[Set]) -> Set | None:
    return next((one for one in choosing.each(more) if one not in rejected), None)


def _passed_over(asking: Asking, choosing: Choosing, more: Limit, low: float, best: Set) -> Set:
    """Less than is known not to do, asked all the same: the heaviest of what would be given up sooner."""
    key, most, found = choosing.key(best), -1.0, None
    for one in islice(choosing.each(more), 50):
        if choosing.key(one) >= key:
            break
        given = float(np.sum(more.gives[list(one)]))
        if most < given < low:
            most, found = given, one
    return found if found is not None and asking.good(found) else best


def _others(asking: Asking, choosing: Choosing, wanted: Need, best: Set, least: float) -> Iterator[Set]:
    """Further choices that are good, none of whose things could come, not those with more than the best."""
    more = Limit(wanted.more.gives, max(least, wanted.more.least)) if wanted.more is not None else None
    behind = (
        one
        for one in choosing.each(more)
        if choosing.key(one) > choosing.key(best) and not set(best) <= set(one) and len(one) <= FEW
    )
    for one in islice(behind, OTHERS):
        if asking.good(one) and asking.needed(one) == one and not asking.harms_other_legs(one):
            yield one
