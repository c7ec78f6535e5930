"""The whole bundle of version 1, changed in one place, and what the gate says of it."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from tussock.documents import read_bundle
from tussock.errors import CODES, ManyRefused, Refused

V1 = Path(__file__).parent / "fixtures" / "v1"
WHOLE = json.loads((V1 / "bundle.json").read_text(encoding="utf-8"))
ABSENT = object()


def changed(document: str, pointer: str, value: Any) -> tuple[dict[str, Any], str]:
    """The whole bundle with one field of a document set, or taken out (`ABSENT`), and its full pointer."""
    bundle = copy.deepcopy(WHOLE)
    index = next(i for i, d in enumerate(bundle["documents"]) if d["id"] == document)
    node: Any = bundle["documents"][index]
    *path, last = [int(part) if part.isdigit() else part for part in pointer.split("/")[1:]]
    for part in path:
        node = node[part]
    if value is ABSENT:
        del node[last]
    elif isinstance(node, list) and last == len(node):
        node.append(value)
    else:
        node[last] = value
    return bundle, f"/documents/{index}{pointer}"


def refusal(source: Any) -> Refused:
    with pytest.raises(Refused) as caught:
        read_bundle(source)
    said = caught.value
    assert said.code in CODES
    assert said.message
    assert said.as_dict()["path"] == said.path
    return said


def all_of(said: Refused) -> list[Refused]:
    return said.all if isinstance(said, ManyRefused) else [said]
