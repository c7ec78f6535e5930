"""Joins two versions of one document field by field, by their edit stamps.

At every place the later stamp wins; no stamp is the earliest. A whole (the document, an object, an element of
a list with names) that was put or removed later than the other's counts before the edits inside it: where
both have the same stamp, or none, its parts are joined one by one. Fields that differ without a stamp on
either side are decided by a fixed rule: something before nothing, measured before book before estimated,
then by their text. An element that one side lacks without having removed it is simply not known there. So the
join is commutative, associative and idempotent; what it decides against an edit that was not seen is told as
a clash.

In a list with names the later order counts; elements that were added later than that stand behind, by their
stamps. (Where one phone reorders a list while two others add to it, or things were added without a stamp, the
places of what was added may depend on the order of merging. Nothing else does.)
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from .base import Document, Model
from .parts import HEAD, fields_of, has_names, is_whole, key_of, plain
from .stamping import StampData, canonical, is_later, later, latest, order, saw

ORIGINS = ("estimated", "book", "measured")


class _Absent:
    """Nothing there."""

    def __repr__(self) -> str:
        return "ABSENT"


ABSENT = _Absent()


@dataclass(frozen=True)
class Clash:
    """Two edits made apart (or two values without a stamp): what each side says; None is nothing."""

    pointer: str
    mine: Any
    theirs: Any


@dataclass(frozen=True)
class _At:
    """A value of one side with its JSON data."""

    value: Any = ABSENT
    data: Any = ABSENT

    @property
    def is_there(self) -> bool:
        return self.value is not ABSENT


class _Side:
    """One version of the document: its stamps by pointer, of edits and of removals alike."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.data: dict[str, Any] = plain(document)
        self.stamps: dict[str, StampData] = dict(self.data.get("stamps", {}))
        for pointer, stamp in self.data.get("removed", {}).items():
            self.stamps[pointer] = later(stamp, self.stamps.get(pointer)) or stamp
        self.typed: dict[str, str] = self.data.get("typed", {})
        self._below: dict[str, set[str]] = {}
        for pointer in self.stamps:
            while pointer:
                pointer, _, name = pointer.rpartition("/")
                self._below.setdefault(pointer, set()).add(name)

    def names_below(self, pointer: str) -> set[str]:
        """Parts of what is at a pointer that have a stamp, at them or further down."""
        return self._below.get(pointer, set())

    def at_or_below(self, pointer: str) -> list[StampData]:
        return [s for p, s in self.stamps.items() if p == pointer or p.startswith(f"{pointer}/")]

    def typed_at(self, pointer: str) -> dict[str, str]:
        return {p: t for p, t in self.typed.items() if p == pointer or p.startswith(f"{pointer}/")}


@dataclass
class Joined:
    """The joined document as JSON data, and what clashed."""

    data: dict[str, Any]
    clashes: list[Clash] = field(default_factory=list)


def join(mine: Document, theirs: Document) -> Joined:
    """Two versions of one document, as one. Raises `ValueError` when they are not of one kind and id.

    The result is not yet validated: two sound versions can join to what no document may be.
    """
    if type(mine) is not type(theirs) or mine.id != theirs.id:
        raise ValueError("these are not two versions of one document")
    a, b = _Side(mine), _Side(theirs)
    joiner = _Joiner()
    data = joiner.join("", a, b, _At(mine, a.data), _At(theirs, b.data))
    head = {name: a.data[name] for name in ("version", "kind", "id") if name in a.data}
    collected: dict[str, dict[str, Any]] = {
        "stamps": joiner.stamps,
        "removed": joiner.removed,
        "typed": joiner.typed,
    }
    tail = {name: dict(sorted(found.items())) for name, found in collected.items() if found}
    return Joined(head | data | tail, joiner.clashes)


class _Joiner:
    def __init__(self) -> None:
        self.stamps: dict[str, StampData] = {}
        self.removed: dict[str, StampData] = {}
        self.typed: dict[str, str] = {}
        self.clashes: list[Clash] = []

    def join(self, pointer: str, a: _Side, b: _Side, mine: _At, theirs: _At, element: bool = False) -> Any:
        """The value at a pointer; collects the stamps that belong to it."""
        one, other = a.stamps.get(pointer), b.stamps.get(pointer)
        if a is not b and (order(one) != order(other) or _differ(mine, theirs)):
            wins = self._wins(pointer, a, b, mine, theirs)
            side, value = (a, mine) if wins else (b, theirs)
            return self.join(pointer, side, side, value, value, element)
        stamp = later(one, other)
        if stamp is not None:
            (self.removed if element and not mine.is_there else self.stamps)[pointer] = stamp
        if not mine.is_there:
            return ABSENT
        if is_whole(mine.value):
            return self._whole(pointer, a, b, mine, theirs)
        self.typed |= max(a.typed_at(pointer), b.typed_at(pointer), key=canonical)
        return mine.data

    def _wins(self, pointer: str, a: _Side, b: _Side, mine: _At, theirs: _At) -> bool:
        """Whether my side wins at this place; notes a clash when an edit loses that was not seen."""
        one, other = a.stamps.get(pointer), b.stamps.get(pointer)
        if order(one) == order(other):
            wins = _rank(mine) >= _rank(theirs)
            apart = mine.is_there and theirs.is_there
        else:
            wins = is_later(one, other)
            winner, loser = (one, b) if wins else (other, a)
            there = theirs if wins else mine
            whole = is_whole(mine.value) or is_whole(theirs.value)
            lost = loser.at_or_below(pointer) if whole else [loser.stamps.get(pointer)]
            assert winner is not None
            apart = any(s is not None and not saw(winner, s, whole=whole) for s in lost)
            apart = apart and (there.is_there or loser.stamps.get(pointer) is not None)
        if apart and mine.data != theirs.data:
            self.clashes.append(Clash(pointer, _shown(mine), _shown(theirs)))
        return wins

    def _whole(self, pointer: str, a: _Side, b: _Side, mine: _At, theirs: _At) -> dict[str, Any]:
        data: dict[str, Any] = {}
        owner: type[Model] = type(mine.value)
        # fields on neither side may still have a stamp: they were emptied
        stamped = a.names_below(pointer) | b.names_below(pointer)
        given = set(fields_of(mine.value, theirs.value)) | stamped
        for name in owner.model_fields:
            if name not in given or (pointer == "" and name in HEAD):
                continue
            place = f"{pointer}/{name}"
            if has_names(owner, name):
                found = self._list(place, a, b, _field(mine, name), _field(theirs, name))
            else:
                found = self.join(place, a, b, _field(mine, name), _field(theirs, name))
            if found is not ABSENT:
                data[name] = found
        return data

    # --- lists with names ----------------------------------------------------------------------------------

    def _list(self, pointer: str, a: _Side, b: _Side, mine: _At, theirs: _At) -> Any:
        ours, others = _by_key(mine), _by_key(theirs)
        if ours is None or others is None:  # a name stands twice: the list is taken as it is
            return self.join(pointer, a, b, mine, theirs)
        found: dict[str, Any] = {}
        for key in sorted({*ours, *others, *a.names_below(pointer), *b.names_below(pointer)}):
            place = f"{pointer}/{key}"
            joined = self.join(place, a, b, ours.get(key, _At()), others.get(key, _At()), element=True)
            if joined is not ABSENT:
                found[key] = joined
        stamp = later(a.stamps.get(pointer), b.stamps.get(pointer))
        if stamp is not None:
            self.stamps[pointer] = stamp
        if not found and not mine.is_there and not theirs.is_there:
            return ABSENT
        return [found[key] for key in self._ordered(pointer, a, b, list(ours), list(others), set(found))]

    def _ordered(
        self, pointer: str, a: _Side, b: _Side, ours: list[str], others: list[str], there: set[str]
    ) -> list[str]:
        """Keys in order: as the later order has them, then what was added after it, by stamps."""
        one, other = a.stamps.get(pointer), b.stamps.get(pointer)
        added = {key: self.stamps.get(f"{pointer}/{key}") for key in there}
        late = {key for key, stamp in added.items() if is_later(stamp, later(one, other))}
        first, second = ([key for key in keys if key in there - late] for keys in (ours, others))
        if order(one) == order(other):
            base = max(first, second, key=lambda keys: (len(keys), canonical(keys)))
        else:
            base = first if is_later(one, other) else second
        rest = sorted(
            there - set(base), key=lambda key: (added[key] is not None, order(added[key]) or (), key)
        )
        return [*base, *rest]


def _differ(mine: _At, theirs: _At) -> bool:
    """Whether two values can't be joined part by part: one must be taken."""
    if is_whole(mine.value) and is_whole(theirs.value):
        return type(mine.value) is not type(theirs.value)
    return mine.is_there != theirs.is_there or mine.data != theirs.data


def _rank(at: _At) -> tuple[Any, ...]:
    """Order of values that no stamp decides between."""
    if not at.is_there:
        return (0,)
    if is_whole(at.value):
        return (1, type(at.value).__name__)
    origin = at.data.get("origin") if isinstance(at.data, dict) else None
    return (1, "", ORIGINS.index(origin) if origin in ORIGINS else -1, canonical(at.data))


def _shown(at: _At) -> Any:
    return at.data if at.is_there else None


def _field(at: _At, name: str) -> _At:
    value = getattr(at.value, name, None)
    if value is None or name not in at.value.model_fields_set:
        return _At()
    return _At(value, at.data[name])


def _by_key(at: _At) -> dict[str, _At] | None:
    """Elements by name; None when a name stands twice."""
    if not at.is_there:
        return {}
    found = {key_of(value): _At(value, data) for value, data in zip(at.value, at.data, strict=True)}
    return found if len(found) == len(at.value) else None


def touched(document: Document) -> StampData | None:
    """The latest stamp anywhere in a document."""
    return latest(_Side(document).stamps.values())
