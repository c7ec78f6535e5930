"""The one border of the core: `handle(method, params)`, JSON text in, JSON text out.

A result is `{"result": ...}`, a refusal `{"error": {code, path, message, expected}}`. No Python object
crosses.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from typing import Any

from . import handover, packing, single, trip
from .classes import classes as all_classes
from .documents import Accepted, Aeroplane, Bundle, Notebook, Strip, read_bundle
from .documents.gate import no_constant, parse, read_document
from .documents.handover import Brought, read_message, take_back
from .documents.merge import merge as merge_files
from .documents.parts import plain
from .errors import Refused
from .questions.asking import ask
from .questions.flight import Flight
from .questions.noted import noted as noted_of
from .questions.noted import walked_way
from .questions.readiness import readiness as readiness_of
from .questions.remedies import KINDS, remedies_of
from .questions.run_up import run_up as checked
from .questions.stowing import shown
from .questions.tuning_told import tuning
from .questions.what_if import what_if as varied

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
    args = params.get("args", {})
    if not isinstance(args, dict):
        raise Refused("wrong_type", "/args", "The arguments are not an object.", '{"name": value}')
    return single.call(str(params.get("name", "")), args)


@method
def schema(params: dict[str, Any]) -> Any:
    """The JSON schema of a file of documents."""
    return Bundle.model_json_schema()


@method
def demo(params: dict[str, Any]) -> Any:
    """The demo trip as documents, its air read `now`."""
    from .demo import demo_bundle

    return demo_bundle(trip.moment(params.get("now")).isoformat())


@method
def check(params: dict[str, Any]) -> Any:
    """Let documents through the gate: their warnings, or a refusal."""
    accepted = _accept(params)
    warnings = [
        {"text": w.text, "values": w.values, "document": w.document, "path": w.path}
        for w in accepted.warnings
    ]
    return {"ok": True, "documents": len(accepted.bundle.documents), "warnings": warnings}


@method
def answer(params: dict[str, Any]) -> Any:
    """The six answers of one leg, or of all: `{"documents": [...], "trip", "leg", "now"}`."""
    return trip.answer(
        _accept(params), _name(params, "trip"), _name(params, "leg"), trip.moment(params.get("now"))
    )


@method
def remedies(params: dict[str, Any]) -> Any:
    """The smallest changes that turn one leg's answers, each answered again on all six.

    `kinds` asks for some of them only ("mass", "move", "fuel", "hour", "wind", "direction"), so that long
    work can be told in parts and stopped between them.
    """
    asked = params.get("kinds") or KINDS
    if not isinstance(asked, (list, tuple)):
        raise Refused("wrong_type", "/kinds", "The kinds are not a list.", ", ".join(KINDS))
    kinds = tuple(asked)
    unknown = [kind for kind in kinds if kind not in KINDS]
    if unknown:
        raise Refused("unknown_name", "/kinds", f"There is no remedy by {unknown[0]!r}.", ", ".join(KINDS))

    bundle = _accept(params).bundle
    chosen = trip.chosen_trip(bundle, _name(params, "trip"))
    leg = trip.chosen_leg(chosen, _name(params, "leg") or bundle.open.leg or chosen.legs[0].id)
    return remedies_of(bundle, chosen, leg, trip.moment(params.get("now")), kinds)


@method
def readiness(params: dict[str, Any]) -> Any:
    """What one aeroplane can already answer: `{"documents", "aeroplane", "configuration"?, "strip"?}`.

    Gives `{"questions": [{"question", "ready", "missing", "estimated"}], "next"}`; each message carries the
    `pointer` into the aeroplane where its figure belongs.
    """
    bundle = _accept(params).bundle
    name, rig, strip = (_name(params, field) for field in ("aeroplane", "configuration", "strip"))
    plane = bundle.of(Aeroplane, name) if name else next(iter(bundle.all(Aeroplane)), None)
    if plane is None:
        raise Refused("unknown_name", "/aeroplane", f"There is no aeroplane {name!r}.", "an aeroplane's id")
    if rig is not None and rig not in {one.id for one in plane.configurations}:
        raise Refused("unknown_name", "/configuration", f"There is no configuration {rig!r}.", "its id")
    ground = bundle.of(Strip, strip)
    if strip is not None and ground is None:
        raise Refused("unknown_name", "/strip", f"There is no strip {strip!r}.", "the id of a strip")
    return readiness_of(bundle, plane, rig, ground)


@method
def tune(params: dict[str, Any]) -> Any:
    """One aeroplane tuned to its notebook: `{"documents", "aeroplane"?, "configuration"?}`.

    Without `aeroplane` the first that has a notebook; without `configuration` the one with most entries.
    Gives constants with their spreads, residuals entry by entry, suspects, what was left out and why, what to
    measure next, and the constants as a `source` to keep. `usable` is false, with `reasons`, where the fit
    may not be used.
    """
    bundle = _accept(params).bundle
    name, rig = _name(params, "aeroplane"), _name(params, "configuration")
    noted = {notebook.aeroplane for notebook in bundle.all(Notebook)}
    planes = bundle.all(Aeroplane)
    plane = next((p for p in planes if p.id == name or (name is None and p.id in noted)), None)
    if plane is None and name is None:
        plane = next(iter(planes), None)
    if plane is None:
        raise Refused("unknown_name", "/aeroplane", f"There is no aeroplane {name!r}.", "an aeroplane's id")
    if rig is not None and rig not in {one.id for one in plane.configurations}:
        raise Refused("unknown_name", "/configuration", f"There is no configuration {rig!r}.", "its id")
    return tuning(bundle, plane, rig)


@method
def run_up(params: dict[str, Any]) -> Any:
    """Static rotation at the strip: `{"documents", "trip"?, "leg"?, "now"?, "rotation": 1/s, "across"?}`.

    Gives the share of the torque of the aeroplane's own baseline with its band, what that does to the roll of
    the leg, and a verdict.
    """
    rotation = params.get("rotation")
    if isinstance(rotation, bool) or not isinstance(rotation, (int, float)) or not 0 < rotation <= 200:
        raise Refused("wrong_type", "/rotation", "The rotation is not a number of 1/s.", "38.3")
    across = params.get("across", False)
    if not isinstance(across, bool):
        raise Refused("wrong_type", "/across", "This is neither true nor false.", "true: across the wind")
    bundle = _accept(params).bundle
    chosen = trip.chosen_trip(bundle, _name(params, "trip"))
    leg = trip.chosen_leg(chosen, _name(params, "leg") or bundle.open.leg or chosen.legs[0].id)
    asked = ask(bundle, chosen, leg, trip.moment(params.get("now")), silent=True)
    return checked(asked.flight, asked.first, asked.takeoff_mass, float(rotation), across=across)


@method
def what_if(params: dict[str, Any]) -> Any:
    """A variant of an aeroplane: `{"documents", "aeroplane", "configuration"?, "changes", "id"}`.

    `changes` holds some of `engine` (power, rotation, mass, arm, flow), `propeller` (diameter,
    rotation_limit, blades, mass, arm), `tyres` (rolling, mass, arm), `tanks` (tank, usable, mass, arm), in
    SI. Gives the variant's `document`, what was `told` of it and what is `missing`; the original stays.
    """
    bundle = _accept(params).bundle
    name, rig, new = (_name(params, field) for field in ("aeroplane", "configuration", "id"))
    plane = bundle.of(Aeroplane, name)
    if plane is None:
        raise Refused("unknown_name", "/aeroplane", f"There is no aeroplane {name!r}.", "an aeroplane's id")
    if rig is not None and rig not in {one.id for one in plane.configurations}:
        raise Refused("unknown_name", "/configuration", f"There is no configuration {rig!r}.", "its id")
    changes = params.get("changes")
    parts = ("engine", "propeller", "tyres", "tanks")
    if not isinstance(changes, dict) or not set(changes) <= set(parts):
        raise Refused("wrong_type", "/changes", "The changes are not known.", ", ".join(parts))
    made = varied(bundle, plane, rig, _numbers(changes), new or f"{plane.id}-what-if")
    # the variant has to pass the gate like any other document
    read_document(made["document"], "/changes")
    return made


def _numbers(changes: dict[str, Any]) -> dict[str, Any]:
    """The changes with every figure a finite number; blades and the name of a tank as they are."""
    for part, change in changes.items():
        if not isinstance(change, dict):
            raise Refused("wrong_type", f"/changes/{part}", "This is not an object.", "an object")
        for field, value in change.items():
            good = isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)
            given = (field == "tank" and isinstance(value, str)) or (field == "blades" and _blades(value))
            if not (good or given):
                raise Refused("not_a_number", f"/changes/{part}/{field}", "This is not a number.", "SI")
    return changes


def _blades(given: Any) -> bool:
    names = {"advance_ratio", "thrust_coefficient", "power_coefficient"}
    return isinstance(given, list) and all(
        isinstance(one, dict)
        and set(one) == names
        and all(isinstance(x, (int, float)) and not isinstance(x, bool) for x in one.values())
        for one in given
    )


@method
def classes(params: dict[str, Any]) -> Any:
    """Classes to start an aeroplane from: `[{"id", "label", "document"}]`, every figure an estimate."""
    return all_classes()


@method
def track(params: dict[str, Any]) -> Any:
    """Take-offs and landings of a recorded track: `{"base64" | "text", "documents"?, "headwind"?}`.

    Gives `{"track", "cautions", "runs"}`. A run has figures with standard errors, its fixes [s, m along, m
    across, m/s, m of height] from the beginning of the roll (a landing: from where it stood), and proposed
    entries without what a track does not know; or `ok` false and a reason. With `rough` true besides,
    there are figures and entries all the same, less sure than a tenth. `documents` may hold strips.
    """
    from .tracks import entries_of

    given = {name: params[name] for name in ("documents",) if name in params}
    strips = _accept(given).bundle.all(Strip) if given.get("documents") else []
    return entries_of(params, list(strips))


@method
def walk(params: dict[str, Any]) -> Any:
    """Length and slope of a strip that was walked: `{"base64" | "text", "documents"?}`; null where not told.

    With `documents`, a strip, `way` says whether it was walked along its segments (1), against (-1), or not
    along it at all (0).
    """
    from .tracks import walk_of

    found: dict[str, Any] = walk_of(params)
    strip = (
        next(iter(_accept({"documents": params["documents"]}).bundle.all(Strip)), None)
        if params.get("documents")
        else None
    )
    if strip is not None and found["bearing"] is not None:
        found["way"] = walked_way(strip, found["bearing"])
    return found


@method
def noted(params: dict[str, Any]) -> Any:
    """What one leg says for entries of its take-off and its landing: see `questions.noted`."""
    bundle = _accept(params).bundle
    chosen = trip.chosen_trip(bundle, _name(params, "trip"))
    leg = trip.chosen_leg(chosen, _name(params, "leg") or bundle.open.leg or chosen.legs[0].id)
    return noted_of(bundle, chosen, leg, trip.moment(params.get("now")))


@method
def migrate(params: dict[str, Any]) -> Any:
    """A file or documents in the present version: `{"documents", "open", "removed", "version", "migrated"}`.

    `migrated` counts the documents that were of an older version. Raises `Refused` as the gate does.
    """
    data = params.get("bundle", params)
    given = parse(data) if isinstance(data, str) else data
    bundle = read_bundle(given).bundle
    texts = (parse(one) if isinstance(one, str) else one for one in given["documents"])
    migrated = sum(one.get("version", bundle.version) != bundle.version for one in texts)
    return plain(bundle) | {"version": bundle.version, "format": bundle.format, "migrated": migrated}


@method
def merge(params: dict[str, Any]) -> Any:
    """A file merged into what the device holds: `{"mine": [documents] or bundle, "theirs": text or bundle}`.

    The documents that come back are stored as they are, without a new stamp; those of `gone` are taken away
    and `removed` is kept as the tombstones of the device. Nothing has to be stored when `theirs` is refused.
    """
    if "mine" not in params or "theirs" not in params:
        lacking = "mine" if "mine" not in params else "theirs"
        raise Refused("missing", f"/{lacking}", f"{lacking} is needed.", "documents, and a file")
    mine = params["mine"]
    return merge_files({"documents": mine} if isinstance(mine, list) else mine, params["theirs"]).as_dict()


@method
def hand_over(params: dict[str, Any]) -> Any:
    """The list that the passenger packs by: `{"documents": [...], "trip", "leg", "now"}`."""
    return plain(
        handover.packing_list(
            _accept(params), _name(params, "trip"), _name(params, "leg"), trip.moment(params.get("now"))
        )
    )


@method
def stowing(params: dict[str, Any]) -> Any:
    """Each bay of a leg with what is in it, in the order of loading: `{"documents", "trip", "leg", "now"}`.

    Gives `{"bays": [...]}`, as `questions.stowing.shown` describes them.
    """
    bundle = _accept(params).bundle
    chosen = trip.chosen_trip(bundle, _name(params, "trip"))
    leg = trip.chosen_leg(chosen, _name(params, "leg") or bundle.open.leg or chosen.legs[0].id)
    return {"bays": shown(Flight(bundle, chosen, leg, trip.moment(params.get("now"))))}


@method
def handed(params: dict[str, Any]) -> Any:
    """A message that came from another phone, read and checked: `{"message": JSON text}`."""
    return plain(read_message(str(params.get("message", ""))))


@method
def take_handed(params: dict[str, Any]) -> Any:
    """A passenger's deeds merged with what is here: `{"mine": bundle, "message": JSON text}`; as `merge`."""
    message = read_message(str(params.get("message", "")))
    if not isinstance(message, Brought):
        raise Refused("wrong_type", "/message", "This is a list to pack by, not what came of it.", "ticks")
    return take_back(params.get("mine", {}), message).as_dict()


@method
def pack(params: dict[str, Any]) -> Any:
    """Pack for me, one step: `{"step", "documents", "trip", "leg", "now", "columns", "cuts", "item"}`.

    Steps as in `packing.packing`: "begin", "take", "settle", "reason", "instead" (with `forced`); a program
    for the solver is LP text in `model`, what the solver found comes back as `columns` (values by name).
    """
    steps = {one.__name__: one for one in (packing.begin, packing.take, packing.settle)}
    asked = {one.__name__: one for one in (packing.reason, packing.instead)}
    name = str(params.get("step", "begin"))
    if name not in steps and name not in asked:
        raise Refused("unknown_name", "/step", f"There is no step {name!r}.", ", ".join([*steps, *asked]))
    place = (_accept(params), _name(params, "trip"), _name(params, "leg"), trip.moment(params.get("now")))
    more: dict[str, Any] = {"cuts": params.get("cuts")}
    if name != "begin":
        more["columns"] = params.get("columns")
    if name in asked:
        more["item"] = _name(params, "item") or ""
    if name == "instead":
        more["forced"] = params.get("forced")
    return (steps | asked)[name](*place, **more)


def _accept(params: dict[str, Any]) -> Accepted:
    """The documents of a request, through the gate; `bundle` holds a whole file as text or object."""
    if "bundle" in params:
        return read_bundle(params["bundle"])
    names = ("documents", "open", "format", "version")
    return read_bundle({name: params[name] for name in names if name in params})


def _name(params: dict[str, Any], field: str) -> str | None:
    value = params.get(field)
    if value is not None and not isinstance(value, str):
        raise Refused("wrong_type", f"/{field}", f"The {field} is not an id.", "text")
    return value


def handle(method: str, params_json: str = "{}") -> str:
    """Answer one request. `params_json` is a JSON object as text; the answer is JSON text, no exception."""
    try:
        if method not in METHODS:
            raise Refused("unknown_method", "", f"There is no method {method!r}.", ", ".join(sorted(METHODS)))
        reply: dict[str, Any] = {"result": METHODS[method](_parse(params_json))}
    except Refused as refusal:
        reply = {"error": refusal.as_dict()}
    except RecursionError:
        reply = {
            "error": Refused("too_deep", "", "The input is nested too deeply.", "plain documents").as_dict()
        }
    return json.dumps(reply, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _parse(text: str) -> dict[str, Any]:
    try:
        params = json.loads(text, parse_constant=no_constant)
    except ValueError as problem:
        raise Refused("not_json", "", f"The input is not JSON: {problem}.", "a JSON object") from problem
    if not isinstance(params, dict):
        raise Refused("wrong_type", "", "The input is not a JSON object.", "a JSON object")
    return params
