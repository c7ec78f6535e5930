"""Reads JavaScript as far as the structure tests need: texts, templates with their holes, imports."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import PurePosixPath

_BEFORE_A_REGEX = set("(,=:[!&|?{};+-*%<>~^}")
_WORDS_BEFORE_A_REGEX = {"return", "typeof", "case", "of", "in", "do", "else", "yield", "await"}
_ESCAPES = {"n": "\n", "t": "\t", "r": "\r", "0": "\0", "b": "\b", "f": "\f", "v": "\v"}


@dataclass(frozen=True)
class Text:
    """A string or template: its literal pieces, parted by holes; where it starts and ends in the source."""

    pieces: tuple[str, ...]
    start: int
    end: int


@dataclass
class Source:
    """Texts in order, and the code with comments and the insides of texts blanked, place by place."""

    texts: list[Text]
    code: str


def read(source: str) -> Source:
    """Raises `ValueError` for a text or comment that is not closed."""
    return _Reader(source).read()


class _Reader:
    def __init__(self, source: str) -> None:
        self.source, self.blank, self.texts = source, list(source), list[Text]()

    def read(self) -> Source:
        end = self._code(0, nested=False)
        if end != len(self.source):
            raise ValueError(f"an odd closing brace at {end}")
        return Source(sorted(self.texts, key=lambda text: text.start), "".join(self.blank))

    def _hide(self, start: int, end: int) -> None:
        for i in range(start, end):
            if self.source[i] != "\n":
                self.blank[i] = " "

    def _code(self, i: int, *, nested: bool) -> int:
        """Read on to the end, or (nested) to the brace that closes a hole."""
        source, depth, before = self.source, 0, ""
        while i < len(source):
            c = source[i]
            if c.isspace():
                i += 1
                continue
            if source.startswith("//", i):
                end = source.find("\n", i)
                end = len(source) if end < 0 else end
                self._hide(i, end)
                i = end
                continue
            if source.startswith("/*", i):
                end = source.find("*/", i) + 2
                if end < 2:
                    raise ValueError(f"a comment is not closed at {i}")
                self._hide(i, end)
                i = end
                continue
            if c in "\"'":
                i = self._string(i)
            elif c == "`":
                i = self._template(i)
            elif c == "/" and (not before or before in _BEFORE_A_REGEX or before in _WORDS_BEFORE_A_REGEX):
                i = self._regex(i)
            elif c.isalnum() or c in "_$":
                word = re.compile(r"[\w$]+").match(source, i)
                assert word
                before, i = word[0], word.end()
                continue
            else:
                if c == "{":
                    depth += 1
                elif c == "}":
                    if depth == 0 and nested:
                        return i
                    depth -= 1
                i += 1
                before = c
                continue
            before = '"'
        return i

    def _string(self, start: int) -> int:
        quote, i, text = self.source[start], start + 1, ""
        while self.source[i : i + 1] != quote:
            if i >= len(self.source) or self.source[i] == "\n":
                raise ValueError(f"a text is not closed at {start}")
            piece, i = self._letter(i)
            text += piece
        self._hide(start + 1, i)
        self.texts.append(Text((text,), start, i + 1))
        return i + 1

    def _letter(self, i: int) -> tuple[str, int]:
        if self.source[i] != "\\":
            return self.source[i], i + 1
        c = self.source[i + 1]
        if c == "u" and (
            code := re.compile(r"\{([0-9a-fA-F]+)\}|([0-9a-fA-F]{4})").match(self.source, i + 2)
        ):
            return chr(int(code[1] or code[2], 16)), code.end()
        return _ESCAPES.get(c, c), i + 2

    def _template(self, start: int) -> int:
        i, pieces, hidden = start + 1, [""], start + 1
        while self.source[i : i + 1] != "`":
            if i >= len(self.source):
                raise ValueError(f"a template is not closed at {start}")
            if self.source.startswith("${", i):
                self._hide(hidden, i)
                i = self._code(i + 2, nested=True) + 1
                pieces.append("")
                hidden = i
                continue
            piece, i = self._letter(i)
            pieces[-1] += piece
        self._hide(hidden, i)
        self.texts.append(Text(tuple(pieces), start, i + 1))
        return i + 1

    def _regex(self, start: int) -> int:
        i, inside = start + 1, False
        while self.source[i] != "/" or inside:
            if self.source[i] == "\\":
                i += 1
            elif self.source[i] == "[":
                inside = True
            elif self.source[i] == "]":
                inside = False
            elif self.source[i] == "\n":
                raise ValueError(f"a regular expression is not closed at {start}")
            i += 1
        self._hide(start + 1, i)
        return i + 1


def imports(source: str, place: str) -> tuple[set[str], set[str]]:
    """Files that a module imports or hands on, by their place, and packages. Types do not count."""
    read_ = read(source)
    own: set[str] = set()
    outside: set[str] = set()
    for text in read_.texts:
        before = read_.code[max(text.start - 80, 0) : text.start].rstrip()
        if not re.search(r"(^|[\s;}])(from|import)$|\bimport\s*\($", before):
            continue
        target = "…".join(text.pieces)
        if target.startswith("."):
            own.add(_resolved(PurePosixPath(place).parent, target))
        else:
            outside.add(target)
    return own, outside


def _resolved(folder: PurePosixPath, target: str) -> str:
    parts = [*folder.parts]
    for part in target.split("/"):
        if part == "..":
            parts = parts[:-1] if parts else [".."]
        elif part != ".":
            parts.append(part)
    return "/".join(parts)


def call_keys(source: Source, text: Text) -> tuple[str, set[str] | None] | None:
    """For a text that begins a call's arguments: the callee, and the keys of the object that follows.

    No second argument gives no keys; one that is not spelled out (a name, a spread) gives None for the keys.
    """
    before = source.code[max(text.start - 80, 0) : text.start].rstrip()
    callee = re.search(r"([\w$.]+)\s*\($", before)
    if not callee:
        return None
    after = source.code[text.end : text.end + 2000].lstrip()
    if after.startswith(")"):
        return callee[1], set()
    if not after.startswith(","):
        return None
    given = after[1:].lstrip()
    if not given.startswith("{"):
        return callee[1], None
    return callee[1], _keys(given)


def _keys(code: str) -> set[str] | None:
    depth, expecting, i = 0, True, 0
    keys: set[str] = set()
    while i < len(code):
        c = code[i]
        if c in "{([":
            depth += 1
            expecting = depth == 1 and c == "{"
        elif c in "})]":
            depth -= 1
            if depth == 0:
                return keys
        elif c == "," and depth == 1:
            expecting = True
        elif depth == 1 and expecting and not c.isspace():
            if code.startswith("...", i):
                return None
            name = re.compile(r"[\w$]+").match(code, i)
            if not name:
                return None
            keys.add(name[0])
            expecting = False
            i = name.end()
            continue
        i += 1
    return None
