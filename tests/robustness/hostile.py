"""Strategies for hostile input: junk in place of any node of a document, and texts that are nearly JSON."""

from __future__ import annotations

import copy
import json
import math
from collections.abc import Iterator
from pathlib import Path as File
from typing import Any

from hypothesis import strategies as st

FIXTURES = File(__file__).parents[1] / "core" / "fixtures" / "v1"

Path = tuple[str | int, ...]

#: what a form, a foreign program or a malicious friend may leave behind
JUNK = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 3),
    st.integers(min_value=-(10**40), max_value=10**40),
    st.floats(allow_nan=False, allow_infinity=False),
    st.sampled_from([-0.0, 1e-320, 1e308, -1e308, 10**400, 2**63, -1, 0, 1e-9]),
    st.text(max_size=30),
    st.sampled_from(
        ["", " ", "\u0000", "../..", "__proto__", "<b>", "NaN", "1e5", "x" * 5000, "week", "dabchick"]
    ),
    st.lists(st.integers(-2, 2), max_size=3),
    st.dictionaries(st.text(max_size=5), st.integers(), max_size=3),
    st.just([[[[[[1]]]]]]),
)
#: the same, and numbers that JSON does not know
UNKNOWN_TO_JSON = st.one_of(JUNK, st.sampled_from([math.nan, math.inf, -math.inf]))


def paths(node: Any, here: Path = ()) -> Iterator[Path]:
    """The place of every node below `node`."""
    children = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for name, child in children:
        yield (*here, name)
        yield from paths(child, (*here, name))


def whole() -> dict[str, Any]:
    """The frozen bundle, cut down to one leg and what it needs, so that an answer is quick."""
    bundle = json.loads((FIXTURES / "bundle.json").read_text(encoding="utf-8"))
    trip = next(d for d in bundle["documents"] if d["kind"] == "trip")
    trip["legs"] = trip["legs"][:1]
    trip["loads"] = trip["loads"][:1]
    needed = {"week", "ours", "dabchick", "wren", "rowan", "saltpan", "ridge-camp", "air-1-from", "air-1-to"}
    needed |= set(trip["kits"])
    bundle["documents"] = [d for d in bundle["documents"] if d["id"] in needed]
    return bundle


WHOLE = whole()
PLACES = sorted(paths(WHOLE["documents"], ("documents",)), key=repr)


def at(data: Any, path: Path) -> Any:
    for part in path:
        data = data[part]
    return data


@st.composite
def mutated(draw: st.DrawFn, junk: st.SearchStrategy[Any] = JUNK, most: int = 3) -> dict[str, Any]:
    """The whole bundle with one to `most` nodes replaced, taken out, doubled or exchanged."""
    bundle = copy.deepcopy(WHOLE)
    for _ in range(draw(st.integers(1, most))):
        path = draw(st.sampled_from(PLACES))
        how = draw(st.sampled_from(["replace", "remove", "double", "exchange"]))
        try:
            parent = at(bundle, path[:-1])
            if how == "replace":
                parent[path[-1]] = draw(junk)
            elif how == "remove":
                del parent[path[-1]]
            elif how == "double" and isinstance(parent, list):
                parent.append(copy.deepcopy(parent[path[-1]]))
            else:
                parent[path[-1]] = copy.deepcopy(at(WHOLE, draw(st.sampled_from(PLACES))))
        except (KeyError, IndexError, TypeError):
            continue  # an earlier change has taken this place away
    return bundle


@st.composite
def scaled(draw: st.DrawFn) -> dict[str, Any]:
    """The whole bundle with one to four of its numbers multiplied: often possible, hardly ever likely."""
    bundle = copy.deepcopy(WHOLE)
    for path in draw(st.lists(st.sampled_from(NUMBERS), min_size=1, max_size=4, unique=True)):
        factor = draw(st.sampled_from([0.0, 1e-6, 0.1, 0.5, 0.9, 1.1, 2.0, 10.0, -1.0, 1e3]))
        parent = at(bundle, path[:-1])
        parent[path[-1]] *= factor
    return bundle


NUMBERS = [path for path in PLACES if isinstance(at(WHOLE, path), float)]
#: figures and fields that may be absent, or not: what is taken out must never help
LEAVES = [path for path in PLACES if isinstance(path[-1], str)]
