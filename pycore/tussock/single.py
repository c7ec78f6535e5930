"""One relation by itself: the list of all sums, and one of them called with units, working and source."""

from __future__ import annotations

import importlib
import math
import pkgutil
from typing import Any

import numpy as np

from . import relation, sums, units
from .errors import Refused

#: Parameters that are no single quantities: what they are called, and what they hold. `list` is a list of
#: numbers in that SI unit, `grid` numbers by three axes, `choice` one of some words, `date` an ISO date.
PLAIN: dict[str, dict[str, Any]] = {
    "vertex_mass": {"kind": "list", "name": "masses of the corners, one after the other", "unit": "kg"},
    "vertex_arm": {"kind": "list", "name": "arms of the corners, in the same order", "unit": "m"},
    "edges": {"kind": "choice", "name": "edges are straight by", "of": ["arm", "moment"]},
    "table_indicated": {"kind": "list", "name": "indicated airspeeds of the table, rising", "unit": "m/s"},
    "table_calibrated": {"kind": "list", "name": "calibrated airspeeds of the table", "unit": "m/s"},
    "table_thrust": {"kind": "list", "name": "coefficients of thrust CT of the curve", "unit": "1"},
    "table_power": {"kind": "list", "name": "coefficients of power CP of the curve", "unit": "1"},
    "table_advance": {"kind": "list", "name": "advance ratios of the curve, rising", "unit": "1"},
    "table_efficiency": {"kind": "list", "name": "efficiencies of the curve", "unit": "1"},
    "factors": {"kind": "list", "name": "factors", "unit": "1"},
    "lengths": {"kind": "list", "name": "lengths of the segments", "unit": "m"},
    "slopes": {"kind": "list", "name": "slopes of the segments, uphill positive", "unit": "1"},
    "mass_axis": {"kind": "list", "name": "masses of the table, rising", "unit": "kg"},
    "altitude_axis": {"kind": "list", "name": "pressure altitudes of the table, rising", "unit": "m"},
    "temperature_axis": {"kind": "list", "name": "temperatures of the table, rising", "unit": "K"},
    "values": {
        "kind": "grid",
        "name": "figures of the table: for each mass, for each altitude, one by temperature",
        "unit": "1",
        "axes": ["mass_axis", "altitude_axis", "temperature_axis"],
    },
    "rule": {"kind": "choice", "name": "rule"},
    "surface": {"kind": "choice", "name": "surface"},
    "day": {"kind": "date", "name": "day at the place"},
}

#: Quantities of which there are many, one per station.
MANY = frozenset({"masses", "arms", "mass_sds", "arm_sds"})


def _plain_kind(declared: relation.Relation, name: str) -> dict[str, Any]:
    """What a parameter that is no quantity holds; the words that a choice may be are those of its module."""
    found = dict(PLAIN[name])
    tables = {"rule": ("RESERVES",), "surface": ("SURFACES", "ROLLING", "BRAKED")}
    if name in tables:
        module = importlib.import_module(declared.module)
        known = [getattr(module, table) for table in tables[name] if hasattr(module, table)]
        found["of"] = sorted({word for table in known for word in table})
    return found


def load_all() -> dict[str, relation.Relation]:
    """Import every module of sums and return the register, by name."""
    for module in pkgutil.iter_modules(sums.__path__):
        importlib.import_module(f"{sums.__name__}.{module.name}")
    return dict(sorted(relation.REGISTER.items()))


def describe(declared: relation.Relation) -> dict[str, Any]:
    """A relation as JSON: title, source, inputs and outputs with unit and range."""

    def quantity(q: relation.Quantity) -> dict[str, Any]:
        return {
            "name": q.name,
            "unit": q.unit,
            "low": q.low if math.isfinite(q.low) else None,
            "high": q.high if math.isfinite(q.high) else None,
        }

    return {
        "name": declared.name,
        "title": declared.title,
        "source": declared.source,
        "subject": declared.module.rsplit(".", 1)[-1],
        "inputs": {name: quantity(q) for name, q in declared.inputs.items()},
        "outputs": {name: quantity(q) for name, q in declared.outputs.items()},
        "plain": list(declared.plain),
        "kinds": {name: _plain_kind(declared, name) for name in declared.plain},
        "many": [name for name in declared.inputs if name in MANY],
        "optional": sorted(declared.defaults),
    }


def call(name: str, arguments: dict[str, Any]) -> dict[str, Any]:
    """Call a relation by name. Arguments are SI numbers, lists of them, or text with a unit ("5000 ft").

    Results are SI; what cannot be said is None, with the reason in `state` ("impossible" or "outside
    validity"). Raises `Refused` for an unknown name, a missing or unknown argument, or text that is no such
    quantity.
    """
    register = load_all()
    if name not in register:
        raise Refused(
            "unknown_name", "/name", f"There is no sum called {name!r}.", "a name from `tussock sums`"
        )
    declared = register[name]
    given: dict[str, Any] = {}
    for key, value in arguments.items():
        if key in declared.inputs:
            given[key] = _read(key, value, declared.inputs[key])
        elif key in declared.plain:
            given[key] = np.asarray(value, dtype=float) if isinstance(value, list) else value
        else:
            known = ", ".join([*declared.inputs, *declared.plain])
            raise Refused("unknown_field", f"/args/{key}", f"{name} takes no {key!r}.", known)
    for key in [*declared.inputs, *declared.plain]:
        if key not in given and key not in declared.defaults:
            unit = declared.inputs[key].unit if key in declared.inputs else "a value"
            raise Refused("missing", f"/args/{key}", f"{name} needs {key!r}.", f"{key}=… [{unit}]")
    beyond = relation.outside(declared, given)
    try:
        result = relation.evaluate(name, **given)
    except (ValueError, TypeError) as problem:
        raise Refused("out_of_range", "/args", f"{name}: {problem}", declared.source) from problem
    parts = result if isinstance(result, tuple) else (result,)
    values = dict(zip(declared.outputs, parts, strict=True))
    outputs, state = {}, {}
    for key in declared.outputs:
        outputs[key] = _plain(values[key])
        reason = _state(values[key], beyond)
        if reason:
            state[key] = reason
    inputs = {key: _plain(value) for key, value in given.items()}
    quantities = declared.inputs | declared.outputs
    step = {
        "relation": name,
        "title": declared.title,
        "source": declared.source,
        "label": None,
        "inputs": [
            {"name": declared.inputs[key].name, "value": value, "unit": declared.inputs[key].unit}
            for key, value in inputs.items()
            if key in declared.inputs
        ],
        "outputs": [
            {"name": q.name, "value": outputs[key], "unit": q.unit} for key, q in declared.outputs.items()
        ],
    }
    return {
        "name": name,
        "title": declared.title,
        "source": declared.source,
        "inputs": inputs,
        "outputs": outputs,
        "units": {key: quantity.unit for key, quantity in quantities.items()},
        "state": state,
        "outside": beyond,
        "working": [step],
    }


def _read(key: str, value: Any, quantity: relation.Quantity) -> Any:
    path = f"/args/{key}"
    if isinstance(value, bool) or value is None:
        raise Refused("not_a_number", path, f"{key} is not a number.", f"a number in {quantity.unit}")
    if isinstance(value, str):
        try:
            value = units.parse(value, quantity.unit)
        except ValueError as problem:
            raise Refused(
                "wrong_unit", path, f"{key}: {problem}.", f"a number in {quantity.unit}"
            ) from problem
    if isinstance(value, list):
        try:
            value = np.asarray(value, dtype=float)
        except (ValueError, TypeError) as problem:
            raise Refused(
                "not_a_number", path, f"{key} is not a list of numbers.", quantity.unit
            ) from problem
    if not isinstance(value, (int, float, np.ndarray)):
        raise Refused("not_a_number", path, f"{key} is not a number.", f"a number in {quantity.unit}")
    if not np.all(np.isfinite(value)):
        raise Refused("not_a_number", path, f"{key} is not a finite number.", f"a number in {quantity.unit}")
    return value


def _plain(value: Any) -> Any:
    if isinstance(value, np.ndarray):
        if value.ndim:
            return [_plain(part) for part in value]
        value = value[()]
    if isinstance(value, str):
        return value
    if isinstance(value, (bool, np.bool_)):
        return bool(value)
    number = float(value)
    return number if math.isfinite(number) else None


def _state(value: Any, beyond: list[str]) -> str | None:
    if isinstance(value, str) or np.asarray(value).dtype.kind not in "fc":
        return None
    if beyond or np.any(np.isnan(value)):
        return "outside validity"
    return "impossible" if np.any(np.isinf(value)) else None
