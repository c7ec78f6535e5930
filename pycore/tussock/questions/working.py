"""Working: every sum that led to an answer, recorded as it is made."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from .. import relation
from .answer import plain


class Working:
    """Calls relations with their ranges enforced and records each call, unless `silent`.

    Maps, drivers and remedies use a silent one: they need the numbers, not the story.
    """

    def __init__(self, silent: bool = False) -> None:
        self.silent = silent
        self.steps: list[dict[str, Any]] = []
        self._known: dict[Any, Any] = {}

    def step(
        self, function: Callable[..., Any], *, label: dict[str, Any] | None = None, **arguments: Any
    ) -> Any:
        """The relation's result (nan outside its valid range), recorded with inputs, outputs and source.

        The same sum of the same numbers is made, and told, once.
        """
        key: Any = (function, *arguments.items())
        try:
            if key in self._known:
                return self._known[key]
        except TypeError:  # arrays and lists are not remembered
            key = None
        declared = relation.find(function)
        beyond = relation.outside(declared, arguments)
        result = relation.evaluate_noting(declared, arguments, beyond)
        if key is not None:
            self._known[key] = result
        if not self.silent:
            values = result if isinstance(result, tuple) else (result,)
            self.steps.append(
                {
                    "relation": declared.name,
                    "title": declared.title,
                    "source": declared.source,
                    "label": label,
                    "inputs": [
                        {"name": q.name, "value": _shown(arguments[name]), "unit": q.unit}
                        for name, q in declared.inputs.items()
                        if name in arguments
                    ],
                    "outputs": [
                        {"name": q.name, "value": _shown(value), "unit": q.unit}
                        for (name, q), value in zip(declared.outputs.items(), values, strict=True)
                    ],
                }
            )
        return result


def _shown(value: Any) -> Any:
    if value is None:
        return None
    if hasattr(value, "ndim") and value.ndim:
        return [_shown(part) for part in value]
    if isinstance(value, (list, tuple)):
        return [_shown(part) for part in value]
    return plain(value)
