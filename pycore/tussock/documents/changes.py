"""What has changed between two versions of a document, place by place, with what each number measures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .base import Document, Model
from .joining import Clash
from .parts import default, fields_of, has_names, is_whole, key_of, measures, plain

Change = dict[str, Any]


def changes_of(before: Document, after: Document, clashes: list[Clash]) -> list[Change]:
    """Every place that differs, and every clash; `before` is mine, `after` what is kept.

    A change is `{document, name, pointer, within, before, after, kind, dimension, unit}`; `within` are the
    names of the elements that it lies in. A clash is of kind "conflict" and carries the value that was not
    kept as `other`. None is nothing there.
    """
    found = {
        change["pointer"]: change for change in _whole("", before, after, plain(before), plain(after), [])
    }
    for clash in clashes:
        place = found.get(clash.pointer) or _place(clash.pointer, after, before)
        kept = _value(after, clash.pointer)
        place |= {"kind": "conflict", "before": clash.mine, "after": kept}
        place["other"] = clash.theirs if kept == clash.mine else clash.mine
        found[clash.pointer] = place
    head = {"document": after.id, "name": after.name}
    return [head | change for change in found.values()]


def whole_document(document: Document, kind: str) -> Change:
    """The change that adds or removes a document: its values are not repeated."""
    return {"document": document.id, "name": document.name} | _change("", [], None, None, kind)


def _change(
    pointer: str, within: list[str], before: Any, after: Any, kind: str = "", unit: Any = None
) -> Change:
    kind = kind or ("added" if before is None else "removed" if after is None else "changed")
    return {
        "pointer": pointer,
        "within": within,
        "before": before,
        "after": after,
        "kind": kind,
        "dimension": unit.dimension if unit else None,
        "unit": unit.unit if unit else None,
    }


def _whole(pointer: str, one: Any, other: Any, a: Any, b: Any, within: list[str]) -> Iterator[Change]:
    owner: type[Model] = type(one)
    for name in fields_of(one, other):
        place = f"{pointer}/{name}"
        unset = default(owner, name)
        before, after = a.get(name, unset), b.get(name, unset)
        if before == after:
            continue
        left, right = getattr(one, name), getattr(other, name)
        if has_names(owner, name):
            yield from _list(place, left, right, before or [], after or [], within)
        elif is_whole(left) and type(left) is type(right) and before is not None and after is not None:
            yield from _whole(place, left, right, before, after, within)
        else:
            yield _change(place, within, before, after, unit=measures(owner, name))


def _list(
    pointer: str, one: list[Model], other: list[Model], a: list[Any], b: list[Any], within: list[str]
) -> Iterator[Change]:
    left = {key_of(model): (model, data) for model, data in zip(one, a, strict=False)}
    right = {key_of(model): (model, data) for model, data in zip(other, b, strict=False)}
    for key in [*left, *(key for key in right if key not in left)]:
        (before, old), (after, new) = left.get(key, (None, None)), right.get(key, (None, None))
        if old == new:
            continue
        inside = [*within, _called(after or before)]
        if before is not None and after is not None and type(before) is type(after):
            yield from _whole(f"{pointer}/{key}", before, after, old, new, inside)
        else:
            yield _change(f"{pointer}/{key}", inside, old, new)
    first = [key for key in left if key in right]
    second = [key for key in right if key in left]
    if first != second:
        yield _change(pointer, within, list(left), list(right))


def _called(element: Any) -> str:
    return str(getattr(element, "name", None) or key_of(element))


def _place(pointer: str, *documents: Document) -> Change:
    """A change at a pointer without its values: names on the way and what is measured there."""
    for document in documents:
        here: Any = document
        within: list[str] = []
        unit = None
        for part in pointer.split("/")[1:]:
            if isinstance(here, list):
                here = next((one for one in here if key_of(one) == part), None)
                within += [_called(here)] if here is not None else []
            elif here is not None:
                owner: type[Model] = type(here)
                unit = measures(owner, part) if part in owner.model_fields else None
                here = getattr(here, part, None)
        if here is not None:
            break
    return _change(pointer, within, None, None, "conflict", unit)


def _value(document: Document, pointer: str) -> Any:
    """JSON data at a pointer that names elements of lists; None when nothing is there."""
    here: Any = document
    data: Any = plain(document)
    for part in pointer.split("/")[1:]:
        if isinstance(here, list):
            index = next((i for i, one in enumerate(here) if key_of(one) == part), None)
            if index is None:
                return None
            here, data = here[index], data[index]
        elif isinstance(data, dict) and part in data:
            here, data = getattr(here, part), data[part]
        else:
            return None
    return data
