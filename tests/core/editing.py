"""Edits of documents as a device makes them, by the rules of `tussock.documents.stamping`."""

from __future__ import annotations

import copy
from typing import Any

from tussock.documents.stamping import over

KEYS = ("id", "item", "seat", "tank", "surface", "flap", "grade")


def stamp(at: int, by: str, before: str | None = None) -> dict[str, Any]:
    """A stamp `at` seconds past noon."""
    made = {"at": f"2026-11-25T12:{at // 60:02d}:{at % 60:02d}Z", "count": 0, "by": by}
    return made | ({"over": before} if before else {})


def at_or_below(document: dict[str, Any], pointer: str) -> list[dict[str, Any]]:
    every = [*document.get("stamps", {}).items(), *document.get("removed", {}).items()]
    return [one for place, one in every if place == pointer or place.startswith(f"{pointer}/")]


def edit(document: dict[str, Any], pointer: str, value: Any, at: int, by: str) -> dict[str, Any]:
    """A copy of the document with another value at the pointer (None: nothing), stamped."""
    document = copy.deepcopy(document)
    made = stamp(at, by, over(at_or_below(document, pointer), by))
    for name in ("stamps", "removed"):
        kept = document.get(name, {})
        document[name] = {p: s for p, s in kept.items() if p != pointer and not p.startswith(f"{pointer}/")}
    where = "removed" if put(document, pointer, value) and value is None else "stamps"
    document[where][pointer] = made
    return document


def put(document: dict[str, Any], pointer: str, value: Any) -> bool:
    """Set what a pointer names, or take it away; whether it is an element of a list."""
    *way, last = pointer.split("/")[1:]
    here: Any = document
    for part in way:
        here = here[_index(here, part)] if isinstance(here, list) else here.setdefault(part, {})
    if isinstance(here, list):
        index = _index(here, last)
        here[index : index + 1] = [] if value is None else [value]
        return True
    if isinstance(value, list) and isinstance(here.get(last), list) and value and isinstance(value[0], str):
        names = {_name(element): element for element in here[last]}
        here[last] = [names[name] for name in value] if set(value) == set(names) else value
    elif value is None:
        here.pop(last, None)
    else:
        here[last] = value
    return False


def _name(element: dict[str, Any]) -> str:
    return next(element[key] for key in KEYS if key in element)


def _index(elements: list[Any], part: str) -> int:
    return next((i for i, one in enumerate(elements) if _name(one) == part), len(elements))
