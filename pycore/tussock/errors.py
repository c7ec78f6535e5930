"""Errors as values at the edge: `{code, path, message, expected}`, in words that a pilot can act on."""

from __future__ import annotations

from typing import Any

#: The closed set of codes.
CODES = (
    "not_json",
    "too_large",
    "too_deep",
    "unknown_method",
    "unknown_name",
    "missing",
    "not_a_number",
    "out_of_range",
    "wrong_unit",
    "wrong_type",
    "unknown_field",
    "duplicate",
    "inconsistent",
    "impossible",
    "newer_version",
    "not_supported",
    "internal",
)


class Refused(Exception):
    """Input that is refused. `path` is a JSON pointer to the place, `expected` says what would do."""

    def __init__(self, code: str, path: str, message: str, expected: str = "") -> None:
        assert code in CODES, code
        super().__init__(message)
        self.code, self.path, self.message, self.expected = code, path, message, expected

    def as_dict(self) -> dict[str, Any]:
        return {"code": self.code, "path": self.path, "message": self.message, "expected": self.expected}


class ManyRefused(Refused):
    """Several reasons for one refusal; the first speaks for all, `all` lists every one."""

    def __init__(self, errors: list[Refused]) -> None:
        first = errors[0]
        super().__init__(first.code, first.path, first.message, first.expected)
        self.all = errors

    def as_dict(self) -> dict[str, Any]:
        answer = super().as_dict()
        if len(self.all) > 1:
            answer["also"] = [error.as_dict() for error in self.all[1:20]]
        return answer
