"""Bytes to text: what a logger or a spreadsheet writes is read, what can't be told is refused in words."""

from __future__ import annotations

import base64
import binascii
import codecs
import re

from .refusing import message, refused

#: A day at one fix a second is 15 MB of GPX.
LARGEST = 20_000_000

#: Byte order marks, the longer ones first.
_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
#: Encodings that are read when an XML declaration names them.
_KNOWN = {
    "utf-8": "utf-8",
    "utf8": "utf-8",
    "us-ascii": "ascii",
    "ascii": "ascii",
    "iso-8859-1": "latin-1",
    "iso8859-1": "latin-1",
    "latin1": "latin-1",
    "iso-8859-15": "iso-8859-15",
    "windows-1252": "cp1252",
    "cp1252": "cp1252",
    "utf-16": "utf-16",
}
_DECLARED = re.compile(rb"""^\s*<\?xml[^>]{0,200}?encoding\s*=\s*["']([A-Za-z0-9._-]{1,40})["']""")


def bytes_of(given: str) -> bytes:
    """Bytes from base64. Raises `Refused` for what is none, and before decoding for what is too large."""
    if len(given) > LARGEST * 4 // 3 + 8:
        raise too_large()
    try:
        return base64.b64decode(given, validate=True)
    except (binascii.Error, ValueError) as problem:
        raise refused("wrong_type", message("track.bad.base64"), "/base64") from problem


def too_large() -> Exception:
    return refused(
        "too_large", message("track.bad.large", megabytes=LARGEST / 1e6), "", "track.expected.small"
    )


def text_of(data: bytes) -> str:
    """The text of a file. Raises `Refused` where it is empty, too large, binary or of an unknown encoding."""
    if len(data) > LARGEST:
        raise too_large()
    if not data.strip():
        raise refused("missing", message("track.bad.empty"))
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _decoded(data[len(mark) :], encoding)
    if data[:2] == b"PK" or data[:2] == b"\x1f\x8b":
        raise refused("not_supported", message("track.bad.packed"))
    head = data[:400]
    if b"\x00" in head:
        # text in two bytes a letter without a mark: every other byte of plain letters is zero
        half = len(head) // 2
        if head[1::2].count(0) > 0.8 * half:
            return _decoded(data, "utf-16-le")
        if head[0::2].count(0) > 0.8 * half:
            return _decoded(data, "utf-16-be")
        raise refused("not_supported", message("track.bad.binary"))
    declared = _DECLARED.match(head)
    if declared:
        name = declared[1].decode("ascii").lower()
        if name not in _KNOWN:
            raise refused(
                "not_supported", message("track.bad.encoding", name=name), "", "track.expected.utf8"
            )
        return _decoded(data, "utf-8" if name == "utf-16" else _KNOWN[name])
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        # numbers and header words are the same in every one-byte encoding; the rest is not read
        return data.decode("latin-1")


def _decoded(data: bytes, encoding: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as problem:
        raise refused(
            "not_supported", message("track.bad.encoding", name=encoding), "", "track.expected.utf8"
        ) from problem
