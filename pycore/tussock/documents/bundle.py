"""A bundle: documents that travel together in one file, and which of them was open."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal, TypeVar

from pydantic import Field

from .aeroplane import Aeroplane
from .air import Air
from .base import VERSION, Id, Model, Stamp
from .kit import Item, Kit, Person
from .lesson import Lesson
from .notebook import Notebook
from .strip import Strip
from .trip import Settings, Trip

AnyDocument = Annotated[
    Aeroplane | Strip | Kit | Person | Air | Trip | Settings | Notebook | Lesson, Field(discriminator="kind")
]
D = TypeVar("D")


class Open(Model):
    """What was on the screen."""

    trip: Id | None = None
    leg: Id | None = None


class Bundle(Model):
    format: Literal["tussock"] = "tussock"
    version: Literal[1] = VERSION
    documents: Annotated[list[AnyDocument], Field(max_length=5000)]
    open: Open = Open()
    #: documents that were deleted, by id, so that a merge does not bring them back
    removed: Annotated[dict[Id, Stamp], Field(max_length=5000)] = {}

    def of(self, kind: type[D], name: str | None) -> D | None:
        """The document of that class and id, or None."""
        found = self.by_id.get(name) if name else None
        return found if isinstance(found, kind) else None

    def all(self, kind: type[D]) -> list[D]:
        return [document for document in self.documents if isinstance(document, kind)]

    @cached_property
    def by_id(self) -> dict[str, AnyDocument]:
        return {document.id: document for document in self.documents}

    @cached_property
    def items(self) -> dict[str, Item]:
        """Every item of every kit, by id."""
        return {item.id: item for kit in self.all(Kit) for item in kit.items}

    def settings_of(self, trip: Trip) -> Settings:
        """The trip's settings, or those of the method. The reserve then is not chosen."""
        found = self.of(Settings, trip.settings)
        return found or Settings(id="default-settings", name="Settings of the method", kind="settings")
