"""Declares a sum once: its quantities (name, unit, valid range), its source, and a register of all of them.

    Temperature = Annotated[Number, Quantity("temperature", "K", 200.0, 330.0)]

    @relation("Speed of sound", source="ICAO Doc 7488/3, 1.3")
    def speed_of_sound(temperature: Temperature) -> Annotated[Number, Quantity("speed of sound", "m/s")]:
        ...

The decorator registers the function and returns it unchanged: a direct call costs nothing. `evaluate`
calls it with the declared ranges enforced (nan outside). Several results are a NamedTuple whose fields are
annotated alike. The register feeds the command line, the working shown to people, the single sums and the
tests.
"""

from __future__ import annotations

import inspect
import typing
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Annotated, Any, TypeVar

import numpy as np
from numpy.typing import NDArray

Number = float | NDArray[np.float64]
F = TypeVar("F", bound=Callable[..., Any])


@dataclass(frozen=True)
class Quantity:
    """A quantity of a relation: its term, SI unit and valid range (closed; infinite where unbounded)."""

    name: str
    unit: str = "1"
    low: float = -np.inf
    high: float = np.inf

    def holds(self, value: Any) -> Any:
        """True where `value` is inside the valid range; false for nan."""
        return (np.asarray(value) >= self.low) & (np.asarray(value) <= self.high)


@dataclass(frozen=True)
class Relation:
    """A registered sum: `inputs` and `outputs` by parameter or field name, in order."""

    name: str
    title: str
    source: str
    function: Callable[..., Any]
    inputs: dict[str, Quantity]
    outputs: dict[str, Quantity]
    defaults: dict[str, Any] = field(default_factory=dict)
    #: parameters that are tables or choices, not quantities (arrays of points, strings)
    plain: tuple[str, ...] = ()

    @property
    def module(self) -> str:
        return self.function.__module__


REGISTER: dict[str, Relation] = {}


def _quantity(hint: Any) -> Quantity | None:
    if typing.get_origin(hint) is Annotated:
        return next((m for m in hint.__metadata__ if isinstance(m, Quantity)), None)
    return None


def relation(title: str, *, source: str) -> Callable[[F], F]:
    """Register a function as a relation. Raises `TypeError` when an input or result is not declared."""

    def register(function: F) -> F:
        hints = typing.get_type_hints(function, include_extras=True)
        signature = inspect.signature(function)
        inputs, plain, defaults = {}, [], {}
        for name, parameter in signature.parameters.items():
            quantity = _quantity(hints.get(name))
            if quantity is None:
                plain.append(name)
            else:
                inputs[name] = quantity
            if parameter.default is not inspect.Parameter.empty:
                defaults[name] = parameter.default
        result = hints.get("return")
        single = _quantity(result)
        if single is not None:
            outputs = {function.__name__: single}
        elif isinstance(result, type) and hasattr(result, "_fields"):
            fields = typing.get_type_hints(result, include_extras=True)
            outputs = {name: q for name in result._fields if (q := _quantity(fields[name])) is not None}
            if len(outputs) != len(result._fields):
                raise TypeError(f"relation {function.__name__}: a field of its result is not declared")
        else:
            outputs = {}
        if not (inputs or plain) or not outputs:
            raise TypeError(f"relation {function.__name__}: inputs and results must be declared quantities")
        if function.__name__ in REGISTER:
            raise TypeError(f"relation {function.__name__} is declared twice")
        REGISTER[function.__name__] = Relation(
            function.__name__, title, source, function, inputs, outputs, defaults, tuple(plain)
        )
        return function

    return register


def find(function: Callable[..., Any] | str) -> Relation:
    """The relation of a function or name. Raises `KeyError` when there is none."""
    return REGISTER[function if isinstance(function, str) else function.__name__]


def outside(declared: Relation, arguments: dict[str, Any]) -> list[str]:
    """Names of the inputs of which some value lies outside its range (nan counts as outside)."""
    beyond = []
    for name, quantity in declared.inputs.items():
        value = arguments.get(name)
        if value is None:
            continue
        # a scalar needs no array: most calls are of one value, and calls into NumPy are dear in the browser
        if isinstance(value, (float, int)):
            inside = quantity.low <= value <= quantity.high
        else:
            inside = bool(np.all(quantity.holds(value)))
        if not inside:
            beyond.append(name)
    return beyond


def evaluate(function: Callable[..., Any] | str, **arguments: Any) -> Any:
    """Call a relation with its declared ranges enforced.

    Where an input lies outside its valid range the results are nan (elementwise for arrays), so that nothing
    is extrapolated in silence. Arguments and results are in SI; arrays broadcast.
    """
    declared = find(function)
    return evaluate_noting(declared, arguments, outside(declared, arguments))


def evaluate_noting(declared: Relation, arguments: dict[str, Any], beyond: list[str]) -> Any:
    """As `evaluate`, for one who has asked already which inputs lie `outside`."""
    if not beyond:
        return declared.function(**arguments)
    valid: Any = True
    for name in beyond:
        valid = valid & declared.inputs[name].holds(arguments[name])
    with np.errstate(all="ignore"):
        result = declared.function(**arguments)
    if isinstance(result, tuple):
        kind: Any = type(result)
        return kind(*(_mask(part, valid) for part in result))
    return _mask(result, valid)


def _mask(value: Any, valid: Any) -> Number:
    masked = np.where(valid, value, np.nan)
    return float(masked) if masked.ndim == 0 else masked
