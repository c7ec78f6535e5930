"""Recorded tracks as files and documents see them: bytes to fixes, fixes to runs and notebook entries."""

from .finding import entries_of, walk_of

__all__ = ["entries_of", "walk_of"]
