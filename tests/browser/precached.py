"""What the service worker of a built site was told to store."""

from __future__ import annotations

import base64
import hashlib
import re
from pathlib import Path
from typing import Any


def listed(dist: Path) -> dict[str, dict[str, Any]]:
    """What the service worker was told to store, by address."""
    text = (dist / "sw.js").read_text(encoding="utf-8")
    entries = re.findall(r'\{"bytes":(\d+),"integrity":"([^"]+)","url":"([^"]+)"\}', text)
    assert entries
    return {url: {"bytes": int(size), "integrity": integrity} for size, integrity, url in entries}


def change(site: Path, name: str, more: bytes) -> None:
    """Add to a file of a built site, and to the service worker's list what follows from that."""
    before = listed(site)[name]
    content = (site / name).read_bytes() + more
    (site / name).write_bytes(content)
    integrity = "sha256-" + base64.b64encode(hashlib.sha256(content).digest()).decode()
    text = (site / "sw.js").read_text(encoding="utf-8")
    old = f'"bytes":{before["bytes"]},"integrity":"{before["integrity"]}"'
    assert text.count(old) == 1
    new = f'"bytes":{len(content)},"integrity":"{integrity}"'
    (site / "sw.js").write_text(text.replace(old, new), encoding="utf-8")
