"""Ids of texts in the source: as they stand, or as patterns with holes; and the values given with them."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from . import javascript

SLOT = re.compile(r"\{(\w+)(?:\|([^}]+))?\}")
_FILE = re.compile(r"\.(?:js|mjs|json|css|html|py)$")
#: functions of the shell that take an id of the catalogue and an object of values
SHELL_CALLS = ("t", "context.t", "told")


@dataclass(frozen=True)
class Pattern:
    """A text of the source by its literal pieces; more than one piece: something is filled in between."""

    pieces: tuple[str, ...]
    where: str = ""

    @property
    def regex(self) -> re.Pattern[str]:
        return _compiled(self.pieces)

    @property
    def is_plain(self) -> bool:
        return len(self.pieces) == 1


@cache
def _compiled(pieces: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile("(.*)".join(re.escape(piece) for piece in pieces))


@dataclass(frozen=True)
class Call:
    """An id with the names of its values; None where they can't be told from the source."""

    id: str
    given: frozenset[str] | None
    where: str


# --- Python ----------------------------------------------------------------------------------------------


def python_patterns(source: str, where: str) -> list[Pattern]:
    """Every string and f-string that is no docstring."""
    tree = ast.parse(source)
    aside = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef))
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    aside |= {id(v) for n in ast.walk(tree) if isinstance(n, ast.JoinedStr) for v in n.values}
    found = []
    for node in ast.walk(tree):
        place = f"{where}:{getattr(node, 'lineno', 0)}"
        if isinstance(node, ast.JoinedStr):
            pieces = [""]
            for part in node.values:
                if isinstance(part, ast.Constant):
                    pieces[-1] += str(part.value)
                else:
                    pieces.append("")
            found.append(Pattern(tuple(pieces), place))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in aside:
            found.append(Pattern((node.value,), place))
    return found


def python_calls(source: str, where: str, function: str = "message") -> list[Call]:
    """Calls of `function` with a literal id; `**values` is followed to a dict spelled out before."""
    found = []
    tree = ast.parse(source)
    for scope in ast.walk(tree):
        if not isinstance(scope, (ast.FunctionDef, ast.Module)):
            continue
        dicts = _dicts(scope)
        for node in _own(scope):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            if node.func.id != function or not node.args:
                continue
            first = node.args[0]
            ids = [first, *((first.body, first.orelse) if isinstance(first, ast.IfExp) else ())]
            given: set[str] | None = set()
            for keyword in node.keywords:
                more = {keyword.arg} if keyword.arg else _keys(keyword.value, dicts, node.lineno)
                given = None if given is None or more is None else given | more
            found += [
                Call(one.value, None if given is None else frozenset(given), f"{where}:{node.lineno}")
                for one in ids
                if isinstance(one, ast.Constant) and isinstance(one.value, str)
            ]
    return found


def _own(scope: ast.AST) -> Iterator[ast.AST]:
    """Nodes of a function that are not those of one inside it."""
    for child in ast.iter_child_nodes(scope):
        if not isinstance(child, (ast.FunctionDef, ast.AsyncFunctionDef)):
            yield child
            yield from _own(child)


def _dicts(scope: ast.AST) -> dict[str, list[tuple[int, set[str] | None]]]:
    """By name: the lines where it is given something, and the keys of the dict that is spelled out there."""
    found: dict[str, list[tuple[int, set[str] | None]]] = {}
    for node in _own(scope):
        if isinstance(node, (ast.Assign, ast.AnnAssign)) and node.value is not None:
            for target in node.targets if isinstance(node, ast.Assign) else [node.target]:
                if isinstance(target, ast.Name):
                    found.setdefault(target.id, []).append((node.lineno, _literal_keys(node.value)))
        elif isinstance(node, (ast.AugAssign, ast.For)):
            for target in ast.walk(node.target):
                if isinstance(target, ast.Name):
                    found.setdefault(target.id, []).append((node.lineno, None))
    return found


def _literal_keys(value: ast.AST) -> set[str] | None:
    if not isinstance(value, ast.Dict):
        return None
    keys = {key.value for key in value.keys if isinstance(key, ast.Constant) and isinstance(key.value, str)}
    return keys if len(keys) == len(value.keys) else None


def _keys(value: ast.AST, dicts: dict[str, list[tuple[int, set[str] | None]]], line: int) -> set[str] | None:
    """Keys of a dict, or of the one that its name was given last before `line`."""
    if not isinstance(value, ast.Name):
        return _literal_keys(value)
    before = [one for one in dicts.get(value.id, []) if one[0] < line]
    return max(before, key=lambda one: one[0])[1] if before else None


# --- JavaScript ------------------------------------------------------------------------------------------


def shell_patterns(source: str, where: str) -> list[Pattern]:
    """Every text and template, and every name before a colon (keys fill patterns too)."""
    read = javascript.read(source)
    found = [
        Pattern(text.pieces, f"{where}:{source.count(chr(10), 0, text.start) + 1}") for text in read.texts
    ]
    return found + [Pattern((key,), where) for key in re.findall(r"[{,]\s*([\w$]+)(?=\s*[:,}])", read.code)]


def shell_calls(source: str, where: str, functions: Iterable[str] = SHELL_CALLS) -> list[Call]:
    """Calls of the shell's functions with a literal id and values that are spelled out."""
    read = javascript.read(source)
    found = []
    for text in read.texts:
        call = javascript.call_keys(read, text)
        if call and call[0] in set(functions) and len(text.pieces) == 1:
            given = None if call[1] is None else frozenset(call[1])
            line = source.count("\n", 0, text.start) + 1
            found.append(Call(text.pieces[0], given, f"{where}:{line}"))
    return found


# --- judging ---------------------------------------------------------------------------------------------


def slots(template: str) -> dict[str, str | None]:
    """Slot to dimension (None: as it is)."""
    return {match[1]: match[2] for match in SLOT.finditer(template)}


class Usage:
    """Which ids of a catalogue some sources use, and which of their ids are not in it."""

    def __init__(self, catalogue: Iterable[str], patterns: Iterable[Pattern]) -> None:
        self.catalogue = set(catalogue)
        subjects = {key.split(".")[0] for key in self.catalogue if "." in key}
        every = [p for p in patterns if not _FILE.search(p.pieces[-1])]
        self.words = {p.pieces[0] for p in every if p.is_plain}
        self.ids = [p for p in every if self._is_id(p, subjects)]
        self.fillers = [p for p in every if not p.is_plain and _is_filler(p)]
        self._filled: dict[tuple[str, int], bool] = {}

    @staticmethod
    def _is_id(pattern: Pattern, subjects: set[str]) -> bool:
        head, dot, rest = pattern.pieces[0].partition(".")
        if not dot or head not in subjects:
            return False
        return all(re.fullmatch(r"[a-zA-Z0-9_.' ]*", piece) for piece in (rest, *pattern.pieces[1:]))

    def unknown(self, prefixes: Mapping[str, str] | None = None) -> list[str]:
        """Ids that the catalogue has not, and patterns that fit none of its ids.

        `prefixes`: by the beginning of a place, what the code there puts in front of ids.
        """
        found = []
        for pattern in self.ids:
            fronts = [front for place, front in (prefixes or {}).items() if pattern.where.startswith(place)]
            if not any(self._is_there(pattern, front) for front in ["", *fronts]):
                found.append(f"{'{}'.join(pattern.pieces)} ({pattern.where})")
        return sorted(found)

    def _is_there(self, pattern: Pattern, front: str) -> bool:
        whole = _as_prefix(Pattern((front + pattern.pieces[0], *pattern.pieces[1:])))
        return any(whole.fullmatch(key) for key in self.catalogue)

    def unused(self) -> list[str]:
        """Ids that stand nowhere, and that no pattern makes with what the sources could fill in."""
        return sorted(key for key in self.catalogue if not self._is_used(key))

    def _is_used(self, key: str) -> bool:
        if key in self.words:
            return True
        for pattern in self.ids:
            match = _as_prefix(pattern).fullmatch(key)
            if match and match.groups() and all(self._can_fill(part) for part in match.groups()):
                return True
        return False

    def _can_fill(self, part: str, deep: int = 2) -> bool:
        if part in self.words or part.replace("_", " ") in self.words:
            return True
        if (part, deep) not in self._filled:
            self._filled[part, deep] = deep > 0 and any(
                match and all(self._can_fill(piece, deep - 1) for piece in match.groups())
                for pattern in self.fillers
                if (match := pattern.regex.fullmatch(part))
            )
        return self._filled[part, deep]


def _is_filler(pattern: Pattern) -> bool:
    text = "".join(pattern.pieces)
    return bool(re.fullmatch(r"[a-z0-9_.]*[a-z][a-z0-9_.]*", text)) and len(pattern.pieces) < 4


def _as_prefix(pattern: Pattern) -> re.Pattern[str]:
    """An id that ends with its dot is put together with what follows."""
    if pattern.pieces[-1].endswith("."):
        return Pattern((*pattern.pieces, "")).regex
    return pattern.regex


def lacking(calls: Iterable[Call], catalogue: dict[str, str]) -> list[str]:
    """Calls that leave a slot of their text empty."""
    return sorted(
        f"{call.id} ({call.where}): {', '.join(sorted(empty))}"
        for call in calls
        if call.id in catalogue
        and call.given is not None
        and (empty := set(slots(catalogue[call.id])) - call.given)
    )
