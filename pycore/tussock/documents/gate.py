"""The one gate that every document passes: size, depth, version, shape, possible figures, links, oddities.

Impossible and inconsistent input raises `Refused`; odd input comes back as warnings which go into the answer.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from ..errors import ManyRefused, Refused
from .bundle import AnyDocument, Bundle
from .links import broken_links
from .migrate import migrate
from .oddities import odd_things

LARGEST = 8_000_000
MOST_DOCUMENTS = 5000
DEEPEST = 32

_ADAPTER: TypeAdapter[Any] = TypeAdapter(AnyDocument)

#: pydantic's kind of error, to our code
_CODES = {
    "missing": "missing",
    "extra_forbidden": "unknown_field",
    "finite_number": "not_a_number",
    "value_error": "impossible",
    "union_tag_invalid": "wrong_type",
    "union_tag_not_found": "missing",
    "float_parsing": "not_a_number",
    "float_type": "not_a_number",
    "int_parsing": "not_a_number",
    "int_type": "not_a_number",
    "greater_than": "out_of_range",
    "greater_than_equal": "out_of_range",
    "less_than": "out_of_range",
    "less_than_equal": "out_of_range",
}


@dataclass(frozen=True)
class Warned:
    """Something odd, not refused: an id of the text catalogue and its values, and where it is."""

    text: str
    document: str
    path: str
    values: dict[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Accepted:
    bundle: Bundle
    warnings: list[Warned]


def parse(text: str | bytes) -> Any:
    """JSON text to plain data, within the limits of size and depth, without NaN or infinities."""
    if len(text) > LARGEST:
        raise Refused(
            "too_large", "", f"The file is larger than {LARGEST // 1_000_000} MB.", "a smaller file"
        )
    try:
        if isinstance(text, bytes):
            text = text.decode("utf-8-sig")
        _check_brackets(text)
        data = json.loads(text, parse_constant=no_constant, object_pairs_hook=_each_name_once)
    except RecursionError:
        raise Refused("too_deep", "", "The file is nested too deeply.", "plain documents") from None
    except ValueError as problem:
        raise Refused(
            "not_json", "", f"This is not JSON: {problem}.", "a file that Tussock wrote"
        ) from problem
    return data


#: everything in JSON text that is no bracket
_NO_BRACKETS = re.compile(r'"[^"\\]*+(?:\\.[^"\\]*+)*+"|[^\[\]{}"]++', re.DOTALL)


def _check_brackets(text: str) -> None:
    """Raise `Refused` for text nested too deeply, before it is parsed.

    The parser recurses, and the stack of a browser's worker is small.
    """
    depth = 0
    for bracket in _NO_BRACKETS.sub("", text):
        depth += 1 if bracket in "[{" else -1 if bracket in "]}" else 0
        if depth > DEEPEST:
            raise _too_deep()


def _too_deep() -> Refused:
    return Refused("too_deep", "", f"The file is nested more than {DEEPEST} deep.", "plain documents")


def _each_name_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("a name stands twice in one object")
    return found


def no_constant(name: str) -> float:
    """For `json.loads(parse_constant=...)`: NaN and Infinity are no JSON."""
    raise ValueError(f"{name} is not a number that JSON knows")


def check_depth(data: Any) -> None:
    """Raise `Refused` when `data` is nested more deeply than any document is."""
    level, depth = [data], 0
    while level:
        depth += 1
        if depth > DEEPEST:
            raise _too_deep()
        level = [
            child
            for node in level
            for child in (node.values() if isinstance(node, dict) else node if isinstance(node, list) else ())
            if isinstance(child, (dict, list))
        ]


def read_document(data: Any, path: str = "") -> AnyDocument:
    """One document from plain data. Raises `Refused` with the place and what was expected."""
    if not isinstance(data, dict):
        raise Refused("wrong_type", path, "A document is a JSON object.", "an object with kind, id and name")
    document: AnyDocument = read_as(_ADAPTER, migrate(data, path), path)
    return document


def read_as(adapter: TypeAdapter[Any], data: Any, path: str = "") -> Any:
    """Plain data as what `adapter` reads. Raises `Refused` with the place and what was expected."""
    try:
        return adapter.validate_python(data)
    except ValidationError as problem:
        raise ManyRefused([_refusal(error, path, data) for error in problem.errors()]) from problem


@lru_cache(maxsize=256)
def _read_text(text: str) -> AnyDocument:
    return read_document(parse(text))


def read_bundle(source: str | bytes | dict[str, Any]) -> Accepted:
    """A bundle from JSON text or plain data, through every check. Raises `Refused`."""
    return accept(read_apart(source))


def accept(bundle: Bundle) -> Accepted:
    """The checks that take all documents together: links, and what is odd. Raises `Refused`."""
    broken = broken_links(bundle)
    if broken:
        raise ManyRefused(broken)
    return Accepted(bundle, [Warned(*odd) for odd in odd_things(bundle)])


def read_apart(source: str | bytes | dict[str, Any]) -> Bundle:
    """A bundle whose documents are sound one by one; their links are not looked at. Raises `Refused`.

    An element of `documents` may be JSON text itself: it is then validated once and remembered by its text,
    so that an edit of the air does not pay for the aeroplane again.
    """
    data = parse(source) if isinstance(source, (str, bytes)) else source
    if not isinstance(source, (str, bytes)):
        check_depth(data)
    if not isinstance(data, dict) or "documents" not in data:
        raise Refused(
            "wrong_type", "", "This is not a Tussock file.", 'an object with "format" and "documents"'
        )
    if data.get("format", "tussock") != "tussock":
        raise Refused("wrong_type", "/format", "This is not a Tussock file.", "tussock")
    data = migrate(data, "")
    if not isinstance(data["documents"], list):
        raise Refused("wrong_type", "/documents", "The documents are not a list.", "a list")
    if len(data["documents"]) > MOST_DOCUMENTS:
        most = f"at most {MOST_DOCUMENTS}"
        raise Refused("too_large", "/documents", "There are too many documents in one file.", most)
    documents = []
    for index, document in enumerate(data["documents"]):
        if isinstance(document, str):
            try:
                documents.append(_read_text(document))
            except Refused as refusal:
                for each in {id(r): r for r in (refusal, *getattr(refusal, "all", ()))}.values():
                    each.path = f"/documents/{index}{each.path}"
                raise
        else:
            documents.append(read_document(document, f"/documents/{index}"))
    unknown = sorted(set(data) - {"format", "version", "documents", "open", "removed"}, key=str)
    if unknown:
        raise Refused("unknown_field", f"/{unknown[0]}", f"A file has no {unknown[0]!r}.", "documents, open")
    try:
        head = Bundle.model_validate(
            {key: data[key] for key in ("open", "removed") if key in data} | {"documents": []}
        )
    except ValidationError as problem:
        raise ManyRefused([_refusal(error, "", data) for error in problem.errors()]) from problem
    return head.model_copy(update={"documents": documents})


#: pydantic's kind of error in our words; the names in braces are its context
_WORDS = {
    "missing": "this is needed",
    "union_tag_not_found": "this is needed",
    "extra_forbidden": "there is no such field",
    "union_tag_invalid": "this must be one of {expected_tags}",
    "literal_error": "this must be {expected}",
    "too_short": "there must be at least {min_length}",
    "too_long": "there may be at most {max_length}",
    "string_too_short": "this must not be empty",
    "string_too_long": "this may have at most {max_length} characters",
    "string_type": "this must be a text",
    "string_unicode": "this holds a broken character",
    "string_pattern_mismatch": "this is not written as it must be ({pattern})",
    "bool_type": "this must be true or false",
    "list_type": "this must be a list",
    "dict_type": "this must be an object",
    "model_type": "this must be an object",
    "model_attributes_type": "this must be an object",
    "float_type": "this must be a number",
    "int_type": "this must be a whole number",
    "finite_number": "this must be a number, not infinite",
    "timezone_aware": "a time needs its offset, as in 2026-11-25T07:52+02:00",
    "datetime_type": "this must be a time, as in 2026-11-25T07:52+02:00",
    "datetime_parsing": "this must be a time, as in 2026-11-25T07:52+02:00",
    "datetime_from_date_parsing": "this must be a time, as in 2026-11-25T07:52+02:00",
}


def _refusal(error: Any, path: str, data: Any) -> Refused:
    kind, context = error["type"], error.get("ctx", {})
    place = path + _pointer(error["loc"], data)
    code = _CODES.get(kind, "wrong_type")
    if kind == "union_tag_not_found":
        place += "/" + str(context.get("discriminator", "")).strip("'")
    message = _WORDS.get(kind, error["msg"].removeprefix("Value error, ")).format_map(context)
    *_, before, last = ["", *place.split("/")]
    last = f"{before} {int(last) + 1}" if last.isdecimal() else last  # "items 3": people count from one
    return Refused(code, place, f"{last}: {message}{_shown(error)}.", message)


def _shown(error: Any) -> str:
    """What was given, where that is short and says something."""
    given = error.get("input")
    if error["type"] in ("missing", "union_tag_not_found", "string_unicode"):
        return ""
    if isinstance(given, (str, bool, float)) or (isinstance(given, int) and abs(given) < 10**30):
        return f" (given: {str(given)[:60]})"
    return ""


#: the fields by which unions are told apart; pydantic puts their values into its locations
_TAGS = ("kind", "format", "by", "shape", "state", "source", "what", "pitch_is")


def _pointer(location: tuple[Any, ...], data: Any) -> str:
    """Pydantic's location as a JSON pointer, without the tags of unions that it puts in between."""
    pointer, here, entered = "", data, True
    for part in location:
        if entered and isinstance(here, dict) and any(here.get(tag) == part for tag in _TAGS):
            entered = False  # the next part may be a field of the same name
            continue
        pointer, entered = f"{pointer}/{part}", True
        try:
            here = here[part]
        except (KeyError, IndexError, TypeError):
            here = None
    return pointer
