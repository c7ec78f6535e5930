"""Who imports whom: read from the source, nothing is run; judged against a table of what each may use."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class May:
    """What a group of modules may import: other groups, and packages from outside the standard library."""

    groups: frozenset[str] = frozenset()
    outside: frozenset[str] = frozenset()


@dataclass
class Read:
    """The imports of one module: modules of the same project, and names of packages from elsewhere."""

    own: set[str] = field(default_factory=set)
    outside: set[str] = field(default_factory=set)


def may(groups: str = "", outside: str = "") -> May:
    """`may("sums relation", "numpy")`"""
    return May(frozenset(groups.split()), frozenset(outside.split()))


def of_python(source: str, module: str, known: Iterable[str], package: str) -> Read:
    """Every import of a module, wherever it stands in it.

    `known`: all modules, dotted, without the package's name; the package itself is "". A name imported from a
    package counts as its module where there is one.
    """
    known = set(known)
    is_package = any(other.startswith(f"{module}.") for other in known) or module == ""
    found = Read()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                _place(alias.name, known, package, found)
        elif isinstance(node, ast.ImportFrom):
            if node.level:
                parts = module.split(".") if module else []
                up = node.level - 1 if is_package else node.level
                base = parts[: len(parts) - up] if up else parts
                start = ".".join([package, *base, *([node.module] if node.module else [])])
            else:
                start = node.module or ""
            for alias in node.names:
                _place(f"{start}.{alias.name}", known, package, found)
    return found


def _place(name: str, known: set[str], package: str, found: Read) -> None:
    top, _, rest = name.partition(".")
    if top != package:
        if top not in sys.stdlib_module_names:
            found.outside.add(top)
        return
    while rest and rest not in known:
        rest = rest.rpartition(".")[0]
    found.own.add(rest)


def circles(graph: Mapping[str, Iterable[str]]) -> list[str]:
    """Each circle of imports, as "a > b > a"."""
    found: list[str] = []
    done: set[str] = set()

    def walk(module: str, path: list[str]) -> None:
        if module in path:
            found.append(" > ".join([*path[path.index(module) :], module]))
            return
        if module in done:
            return
        for other in sorted(graph.get(module, ())):
            walk(other, [*path, module])
        done.add(module)

    for module in sorted(graph):
        walk(module, [])
    return found


def faults(reads: Mapping[str, Read], group_of: Mapping[str, str], table: Mapping[str, May]) -> list[str]:
    """What is against the table, and what belongs to no group. A group may use itself only if it says so."""
    found = []
    for module, read in sorted(reads.items()):
        group = group_of.get(module)
        if group is None:
            found.append(f"{module} belongs to no layer")
            continue
        allowed = table[group]
        found += [
            f"{module} ({group}) imports {other} ({group_of.get(other)})"
            for other in sorted(read.own)
            if group_of.get(other) not in allowed.groups
        ]
        found += [f"{module} ({group}) imports {other}" for other in sorted(read.outside - allowed.outside)]
    return found
