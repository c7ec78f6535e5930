"""What is stored and exchanged: the documents, their rules, the gate that every one of them passes."""

from .aeroplane import Aeroplane
from .air import Air
from .bundle import Bundle, Open
from .gate import Accepted, Warned, read_bundle, read_document
from .kit import Kit, Person
from .lesson import Lesson
from .notebook import Notebook
from .strip import Strip
from .trip import Settings, Trip

__all__ = [
    "Accepted",
    "Aeroplane",
    "Air",
    "Bundle",
    "Kit",
    "Lesson",
    "Notebook",
    "Open",
    "Person",
    "Settings",
    "Strip",
    "Trip",
    "Warned",
    "read_bundle",
    "read_document",
]
