"""Knowing whether a step has to be done again: a stamp file holds the hash of what went in."""

import hashlib
from collections.abc import Iterable
from pathlib import Path


def sha256(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def hash_of(*parts: str | bytes | Path | Iterable[Path]) -> str:
    """One hash of texts, of files' contents, and of sets of files (by name and content)."""
    total = hashlib.sha256()
    for part in parts:
        if isinstance(part, str):
            total.update(part.encode())
        elif isinstance(part, bytes):
            total.update(part)
        elif isinstance(part, Path):
            total.update(part.read_bytes())
        else:
            for path in sorted(part):
                total.update(str(path).encode() + b"\0" + sha256(path.read_bytes()).encode())
        total.update(b"\0")
    return total.hexdigest()


def is_fresh(stamp: Path, value: str) -> bool:
    return stamp.is_file() and stamp.read_text(encoding="utf-8") == value


def write(stamp: Path, value: str) -> None:
    stamp.parent.mkdir(parents=True, exist_ok=True)
    stamp.write_text(value, encoding="utf-8")
