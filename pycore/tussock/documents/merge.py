"""Merges a file into what a device holds: document by document, field by field, and says what has changed.

Nothing is taken that does not pass the gate. A file with a broken document is refused whole; a document that
can't be joined with the stored one (another kind, or two sound versions that join to an impossible one, or
that would leave a link broken) leaves the stored one as it is, and is named.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from ..errors import ManyRefused, Refused
from .base import Stamp
from .bundle import AnyDocument, Bundle
from .changes import Change, changes_of, whole_document
from .gate import accept, read_apart, read_bundle, read_document
from .joining import Clash, Joined, join, touched
from .parts import plain
from .stamping import StampData, is_later, later, saw
from .trip import Settings

#: the choices of one device, which a merge leaves as they are
OF_THE_DEVICE = ("units", "look")


@dataclass
class Merged:
    """What a merge leaves: `documents` new or changed, ids of those that go, tombstones, and the report."""

    documents: list[AnyDocument] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)
    removed: dict[str, StampData] = field(default_factory=dict)
    changes: list[Change] = field(default_factory=list)
    not_joined: list[dict[str, Any]] = field(default_factory=list)
    unchanged: int = 0

    def as_dict(self) -> dict[str, Any]:
        return {
            "documents": [plain(document) for document in self.documents],
            "gone": self.gone,
            "removed": self.removed,
            "changes": self.changes,
            "not_joined": self.not_joined,
            "unchanged": self.unchanged,
        }


def merge(mine: Any, theirs: Any) -> Merged:
    """What a device holds (`mine`) with a file (`theirs`): bundles as text or data.

    Raises `Refused` for a file that is broken, with its place in the file; for documents of the device that
    do not pass the gate its path starts with /mine.
    """
    try:
        own = read_bundle(mine).bundle
    except Refused as refusal:
        for each in {id(r): r for r in (refusal, *getattr(refusal, "all", ()))}.values():
            each.path = f"/mine{each.path}"
        raise
    given = read_apart(theirs)
    _each_id_once(given)
    return _Merge(own, given).done()


def _each_id_once(bundle: Bundle) -> None:
    seen: set[str] = set()
    for index, document in enumerate(bundle.documents):
        if document.id in seen:
            path = f"/documents/{index}/id"
            raise Refused("duplicate", path, f"Two documents are called {document.id!r}.", "one id each")
        seen.add(document.id)


class _Merge:
    def __init__(self, own: Bundle, given: Bundle) -> None:
        self.own, self.given = own, given
        self.removed = _tombstones(own, given)
        self.not_joined: list[dict[str, Any]] = []
        self.clashes: dict[str, list[Clash]] = {}
        #: removed on one side and edited on the other
        self.apart: set[str] = set()
        #: by id; None: it goes
        self.after: dict[str, AnyDocument | None] = {}

    def done(self) -> Merged:
        for document in self.given.documents:
            stored = self.own.by_id.get(document.id)
            self.after[document.id] = document if stored is None else self._joined(stored, document)
        for name in self.removed:
            self._remove(name)
        for found in list(self.after.values()):
            if isinstance(found, Settings):
                self.after[found.id] = self._of_the_device(found)
        self._mend_links()
        return self._report()

    def _joined(self, stored: AnyDocument, document: AnyDocument) -> AnyDocument:
        if type(stored) is not type(document):
            path = "/kind"
            message = f"{document.id!r} is a {document.kind} in the file and a {stored.kind} here."
            self._refuse(document, Refused("inconsistent", path, message, f"a {stored.kind}"))
            return stored
        found: Joined = join(stored, document)
        try:
            read = read_document(found.data)
        except Refused as refusal:
            self._refuse(stored, refusal)
            return stored
        self.clashes[stored.id] = found.clashes
        return read

    def _refuse(self, document: AnyDocument, why: Refused) -> None:
        said = {"text": "merge.not_joined", "values": {"name": document.name}}
        self.not_joined.append(
            {"document": document.id, "name": document.name, "reason": said, "error": why.as_dict()}
        )

    def _remove(self, name: str) -> None:
        """A document goes when it was removed after everything that was done in it, on either side."""
        document: AnyDocument | None = self.after.get(name) or self.own.by_id.get(name)
        if document is None:
            return
        stamp, last = self.removed[name], touched(document)
        lives = is_later(last, stamp)
        winner, loser = (last, stamp) if lives else (stamp, last)
        apart = winner is not None and loser is not None and not saw(winner, loser, whole=True)
        if apart and name not in self.own.removed:
            self.apart.add(name)
        if not lives:
            self.after[name] = None

    def _of_the_device(self, document: Settings) -> AnyDocument:
        stored = self.own.of(Settings, document.id) or next(iter(self.own.all(Settings)), None)
        if stored is None:
            return document
        data, own = plain(document), plain(stored)
        for name in OF_THE_DEVICE:
            data.pop(name, None)
            if name in own:
                data[name] = own[name]
        for of_pointers in ("stamps", "typed"):
            kept = {p: v for p, v in data.get(of_pointers, {}).items() if not _is_of_the_device(p)}
            if stored.id == document.id:
                kept |= {p: v for p, v in own.get(of_pointers, {}).items() if _is_of_the_device(p)}
            if of_pointers in data or kept:
                data[of_pointers] = dict(sorted(kept.items()))
        self.clashes[document.id] = [
            clash for clash in self.clashes.get(document.id, []) if not _is_of_the_device(clash.pointer)
        ]
        return read_document(data)

    # --- links ---------------------------------------------------------------------------------------------

    def _changed(self) -> list[str]:
        return [name for name, document in self.after.items() if document is not self.own.by_id.get(name)]

    def _bundle(self) -> Bundle:
        kept = {**self.own.by_id, **self.after}
        documents = [document for document in kept.values() if document is not None]
        return Bundle(documents=[]).model_copy(update={"documents": documents})

    def _mend_links(self) -> None:
        """Take back, one by one, what breaks a link; what was stored passed the gate, so this ends."""
        while True:
            bundle = self._bundle()
            try:
                accept(bundle)
                return
            except Refused as refusal:
                whole = refusal
            broken = whole.all if isinstance(whole, ManyRefused) else [whole]
            first = broken[0]
            guilty = self._guilty(bundle, first)
            stored, changed = self.own.by_id.get(guilty), self.after[guilty]
            named = changed or stored
            assert named is not None
            self._refuse(named, first)
            self.clashes.pop(guilty, None)
            if stored is None:
                del self.after[guilty]
            else:
                self.after[guilty] = stored

    def _guilty(self, bundle: Bundle, broken: Refused) -> str:
        """The changed document that breaks this link: the one that has it, else one that it names."""
        changed = self._changed()
        parts = broken.path.split("/")
        if len(parts) > 2 and parts[1] == "documents":
            holder = bundle.documents[int(parts[2])]
            if holder.id in changed:
                return holder.id
            named = set(_texts(plain(holder)))
            changed = [name for name in changed if name in named] or changed
        return changed[-1]

    # --- report --------------------------------------------------------------------------------------------

    def _report(self) -> Merged:
        found = Merged(not_joined=self.not_joined)
        living = {name for name, document in {**self.own.by_id, **self.after}.items() if document is not None}
        found.removed = {name: stamp for name, stamp in self.removed.items() if name not in living}
        for name in dict.fromkeys([*self.after, *sorted(self.apart)]):
            before = self.own.by_id.get(name)
            after = self.after.get(name, before)
            if before is not None and (after is None or name in self.apart):
                kind = "conflict" if name in self.apart else "removed"
                found.changes.append(whole_document(before, kind))
            if after is None:
                found.gone += [name] if before is not None else []
            elif before is None:
                found.documents.append(after)
                found.changes.append(whole_document(after, "added"))
            else:
                found.changes += changes_of(before, after, self.clashes.get(name, []))
                if plain(after) != plain(before):
                    found.documents.append(after)
        found.unchanged = len(self.own.documents) - len(found.gone)
        found.unchanged -= sum(document.id in self.own.by_id for document in found.documents)
        return found


def _tombstones(own: Bundle, given: Bundle) -> dict[str, StampData]:
    found: dict[str, StampData] = {}
    for bundle in (own, given):
        for name, stamp in bundle.removed.items():
            data = _stamp_data(stamp)
            found[name] = later(data, found.get(name)) or data
    return found


def _stamp_data(stamp: Stamp) -> StampData:
    return stamp.model_dump(mode="json", exclude_unset=True, exclude_none=True)


def _is_of_the_device(pointer: str) -> bool:
    return any(pointer == f"/{name}" or pointer.startswith(f"/{name}/") for name in OF_THE_DEVICE)


def _texts(node: Any) -> list[str]:
    """Every text in some JSON data."""
    if isinstance(node, str):
        return [node]
    children = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
    return [text for child in children for text in _texts(child)]
