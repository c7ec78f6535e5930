"""How a document is divided into fields, for stamps, merging and telling what has changed.

A figure, a text, a number and a list whose elements have no names are fields. An object is a whole with
parts; so is an element of a list whose elements have names. What a number measures is read from its
declaration.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin

from .base import Document, Figure, In, Model

#: what tells of the document itself, and is no field of it
HEAD = frozenset({"version", "kind", "id", "stamps", "removed", "typed"})


def _models(annotation: Any) -> Iterator[type[Model]]:
    if isinstance(annotation, type) and issubclass(annotation, Model):
        yield annotation
    else:
        for part in get_args(annotation):
            yield from _models(part)


def _element_classes(annotation: Any) -> Iterator[type[Model]]:
    if get_origin(annotation) is list:
        yield from _models(get_args(annotation)[0])
    else:
        for part in get_args(annotation):
            yield from _element_classes(part)


@cache
def has_names(owner: type[Model], field: str) -> bool:
    """Whether that field is a list whose elements have names."""
    found = list(_element_classes(owner.model_fields[field].annotation))
    return bool(found) and all(one.key in one.model_fields for one in found)


@cache
def measures(owner: type[Model], field: str) -> In | None:
    """Dimension and unit of a number or figure; None for anything else."""
    info = owner.model_fields[field]
    return next(_declared([*info.metadata, info.annotation]), None)


def _declared(parts: list[Any]) -> Iterator[In]:
    for part in parts:
        if isinstance(part, In):
            yield part
        elif get_origin(part) in (Annotated, Union, UnionType):
            yield from _declared(list(get_args(part)))


def default(owner: type[Model], field: str) -> Any:
    """What a number, word or choice is taken for where nothing was given; None for anything else."""
    given = owner.model_fields[field].default
    return given if isinstance(given, (str, int, float)) else None


def is_whole(value: Any) -> bool:
    """Whether a value has parts that are edited by themselves."""
    return isinstance(value, Model) and not isinstance(value, Figure)


def key_of(element: Model) -> str:
    """The name of an element among its own."""
    return str(getattr(element, type(element).key))


def fields_of(*wholes: Model) -> list[str]:
    """Fields that some of these objects of one class have been given, in the order of their class."""
    given = {
        name
        for whole in wholes
        for name in whole.model_fields_set
        if getattr(whole, name) is not None and name not in (HEAD if isinstance(whole, Document) else ())
    }
    return [name for name in type(wholes[0]).model_fields if name in given]


def plain(value: Any) -> Any:
    """A value of a document as JSON data: what was given and is not empty, nothing else."""
    if isinstance(value, Model):
        return value.model_dump(mode="json", exclude_unset=True, exclude_none=True)
    if isinstance(value, list):
        return [plain(one) for one in value]
    return value
