"""A lesson: a situation, one thing that moves, and what the room should watch."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from .base import Document, Id, Model, Name, Number, Question, Text


class Move(Model):
    """The one thing that moves: a field of a document, from one value to another [SI], shown in `unit`.

    The pointer names elements of lists as edit stamps do (`/loads/out/placed/kettle/bay`).
    """

    document: Id
    pointer: Annotated[str, Field(pattern=r"^(/[^/]+)+$", max_length=400)]
    start: Number
    stop: Number
    unit: Annotated[str, Field(max_length=12)]


class Step(Model):
    id: Id
    ask: Annotated[str, Field(min_length=1, max_length=300)]
    moves: Move
    watch: Annotated[list[Question], Field(min_length=1, max_length=6)]
    explain: Text | None = None


class Lesson(Document):
    kind: Literal["lesson"]
    trip: Id
    leg: Id
    subject: Name | None = None
    steps: Annotated[list[Step], Field(min_length=1, max_length=30)]
