"""The one border of the core: `handle(method, params)`, JSON text in, JSON text out.

A result is `{"result": ...}`, a refusal `{"error": {code, path, message, expected}}`. No Python object crosses.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from . import single
from .errors import Refused

METHODS: dict[str, Callable[[dict[str, Any]], Any]] = {}


def method(function: Callable[[dict[str, Any]], Any]) -> Callable[[dict[str, Any]], Any]:
    """Register a function of `params` under its own name."""
    METHODS[function.__name__.rstrip("_")] = function
    return function


@method
def sums(params: dict[str, Any]) -> Any:
    """All relations, described."""
    return [single.describe(declared) for declared in single.load_all().values()]


@method
def sum_(params: dict[str, Any]) -> Any:
    """One relation: `{"name": ..., "args": {...}}`."""
    return single.call(str(params.get("name", "")), dict(params.get("args", {})))


def handle(method: str, params_json: str = "{}") -> str:
    """Answer one request. `params_json` is a JSON object as text; the answer is JSON text, never an exception."""
    try:
        if method not in METHODS:
            raise Refused("unknown_method", "", f"There is no method {method!r}.", ", ".join(sorted(METHODS)))
        answer: dict[str, Any] = {"result": METHODS[method](_parse(params_json))}
    except Refused as refusal:
        answer = {"error": refusal.as_dict()}
    except RecursionError:
        answer = {"error": Refused("too_deep", "", "The input is nested too deeply.", "plain documents").as_dict()}
    return json.dumps(answer, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _parse(text: str) -> dict[str, Any]:
    try:
        params = json.loads(text, parse_constant=_no_constant)
    except ValueError as problem:
        raise Refused("not_json", "", f"The input is not JSON: {problem}.", "a JSON object") from problem
    if not isinstance(params, dict):
        raise Refused("wrong_type", "", "The input is not a JSON object.", "a JSON object")
    return params


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is not a number that JSON knows")
