"""The command `tussock`: demo, answer, pack, tune, run-up, track, schema, sums, sum. JSON or words.

Exit status: 0 when no answer is "no" or "can't say" and a self-test holds, 1 otherwise, 2 when the input is
refused.
"""

from __future__ import annotations

import argparse
import base64
import json
import sys
from datetime import UTC, datetime
from typing import Any, TextIO

from . import __version__, api, packed, report, units
from .errors import Refused
from .selftest import facts, recovery

FINE, NOT_FINE, REFUSED = 0, 1, 2


def main(arguments: list[str] | None = None) -> int:
    """Run the command line; returns the exit status."""
    chosen = _parser().parse_args(arguments)
    try:
        return int(chosen.run(chosen))
    except Refused as refusal:
        _refuse(refusal.as_dict(), getattr(chosen, "json", False))
        return REFUSED
    except BrokenPipeError:
        sys.stderr.close()
        return FINE


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="tussock",
        description="Will this aeroplane, loaded like this, do this flight from this strip in this air?",
    )
    parser.add_argument("--version", action="version", version=f"tussock {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    one = commands.add_parser("demo", help="print the demo trip as documents")
    one.add_argument("--now", help="the time at which its air was read (ISO 8601 with offset)")
    one.set_defaults(run=_demo)

    one = commands.add_parser("answer", help="answer the six questions of a trip file")
    one.add_argument("file", help="a trip file, or - for standard input")
    one.add_argument("--trip", help="id of the trip (the open one, or the first)")
    one.add_argument("--leg", help="id of one leg (all)")
    one.add_argument("--now", help="the time to answer for (ISO 8601 with offset; the clock)")
    one.add_argument("--working", action="store_true", help="show every sum that led there")
    one.add_argument("--remedies", action="store_true", help="show the smallest changes that would turn it")
    one.add_argument("--json", action="store_true", help="print JSON in SI units")
    one.set_defaults(run=_answer)

    one = commands.add_parser("pack", help="choose what comes along of a load, and where it rides")
    one.add_argument("file", help="a trip file, or - for standard input")
    one.add_argument("--trip", help="id of the trip (the open one, or the first)")
    one.add_argument("--leg", help="id of a leg flown with the load (the open one, or the first)")
    one.add_argument("--now", help="the time to answer for (ISO 8601 with offset; the clock)")
    one.add_argument(
        "--all", action="store_true", help="choose from all kit of the trip, not from the load's list"
    )
    one.add_argument("--seconds", type=float, default=60.0, help="stop a proof after so long (60)")
    one.add_argument("--json", action="store_true", help="print JSON in SI units, with the edits")
    one.set_defaults(run=_pack)

    one = commands.add_parser("tune", help="fit an aeroplane's constants to its notebook")
    one.add_argument("file", nargs="?", help="a file with aeroplane and notebook, or - for standard input")
    one.add_argument("--aeroplane", help="id of the aeroplane (the only one with a notebook, or the first)")
    one.add_argument("--configuration", help="id of its configuration (the one with most entries)")
    one.add_argument("--selftest", action="store_true", help="fit 500 invented aeroplanes and show the table")
    one.add_argument("--governed", action="store_true", help="with --selftest: constant-speed propellers")
    one.add_argument("--facts", action="store_true", help="search constants that meet all facts of the trade")
    one.add_argument("--json", action="store_true", help="print JSON in SI units")
    one.set_defaults(run=_tune)

    one = commands.add_parser("run-up", help="static rotation at the strip against the baseline")
    one.add_argument("file", help="a trip file, or - for standard input")
    one.add_argument("rotation", help='as read: "2230 rpm"')
    one.add_argument("--trip", help="id of the trip (the open one, or the first)")
    one.add_argument("--leg", help="id of the leg (the open one, or the first)")
    one.add_argument("--now", help="the time to answer for (ISO 8601 with offset; the clock)")
    one.add_argument("--json", action="store_true", help="print JSON in SI units")
    one.add_argument("--across", action="store_true", help="read across the wind, or in a calm")
    one.set_defaults(run=_run_up)
    one = commands.add_parser("track", help="take-offs and landings of a recorded track (GPX, CSV)")
    one.add_argument("file", help="a track, or - for standard input")
    one.add_argument("--walk", action="store_true", help="a strip that was walked: its length and slope")
    one.add_argument("--json", action="store_true", help="print JSON in SI units")
    one.set_defaults(run=_track)

    one = commands.add_parser("schema", help="print the JSON schema of a trip file")
    one.set_defaults(run=_schema)

    one = commands.add_parser("sums", help="list every sum with its source")
    one.add_argument("--json", action="store_true")
    one.set_defaults(run=_sums)

    one = commands.add_parser("sum", help="one sum by itself: tussock sum density_altitude density=1.0")
    one.add_argument("name")
    one.add_argument("values", nargs="*", metavar="key=value", help='SI, or with a unit: "elevation=5000 ft"')
    one.add_argument("--json", action="store_true", help="SI and working")
    one.set_defaults(run=_sum)
    return parser


# --- commands --------------------------------------------------------------------------------------------


def _demo(chosen: argparse.Namespace) -> int:
    bundle = _call("demo", {"now": chosen.now} if chosen.now else {})
    print(json.dumps(bundle, ensure_ascii=False, indent=1))
    return FINE


def _answer(chosen: argparse.Namespace) -> int:
    params: dict[str, Any] = {"bundle": _read(chosen.file)}
    for name in ("trip", "leg", "now"):
        if getattr(chosen, name):
            params[name] = getattr(chosen, name)
    answers = _call("answer", params)
    if chosen.remedies:
        for leg in answers["legs"]:
            found = _call("remedies", params | {"leg": leg["id"]})["remedies"]
            for answer in leg["answers"]:
                turning = [one for one in found if answer["question"] in one["turns"]]
                answer["remedies"] = turning
    if chosen.json:
        print(json.dumps(answers, ensure_ascii=False, indent=1))
    else:
        print(report.of_trip(answers, working=chosen.working))
    verdicts = {answer["verdict"] for leg in answers["legs"] for answer in leg["answers"]}
    return NOT_FINE if verdicts & {"no", "can't say"} else FINE


def _pack(chosen: argparse.Namespace) -> int:
    params: dict[str, Any] = {"bundle": _read(chosen.file)}
    for name in ("trip", "leg", "now"):
        if getattr(chosen, name):
            params[name] = getattr(chosen, name)
    # one moment for all steps, or what was worked out for one would not be that of the next
    params.setdefault("now", datetime.now(UTC).isoformat())
    try:
        found = packed.pack(
            lambda step, **more: _call("pack", params | {"step": step} | more),
            seconds=chosen.seconds,
            everything=chosen.all,
        )
    except ImportError as problem:
        expected = "pip install 'tussock[packing]'"
        raise Refused("missing", "", "To pack takes the solver, which is not here.", expected) from problem
    told = {"proven": found.proven, "nowhere": found.begun["nowhere"], "packed": found.taken}
    told |= {"bound": int(found.bound + 1e-6) if found.taken else None}
    told |= {"unguarded": bool((found.cuts or {}).get("unguarded")), "helpless": found.begun["helpless"]}
    print(json.dumps(told, ensure_ascii=False, indent=1) if chosen.json else report.of_packing(told))
    return FINE if found.taken and found.taken["holds"] else NOT_FINE


def _tune(chosen: argparse.Namespace) -> int:
    if chosen.selftest:
        found = recovery.recovery(governed=True) if chosen.governed else recovery.recovery()
        if chosen.json:
            # the figures that were asked for and no others; the table tells the rest
            wanted = ("coverage90", "bias", "outlier_shift", "aeroplanes")
            print(json.dumps({name: found[name] for name in wanted}))
        else:
            print(recovery.table(found))
        return FINE if recovery.meets(found) else NOT_FINE
    if chosen.facts:
        searched = [facts.search(told) for told in (facts.LIGHT, facts.HEAVY)]
        text = "\n".join(facts.table(one) for one in searched)
        print(json.dumps(searched, ensure_ascii=False) if chosen.json else text)
        return FINE
    if chosen.file is None:
        raise Refused("missing", "/file", "tune needs a file, or --selftest.", "a file that Tussock wrote")
    params: dict[str, Any] = {"bundle": _read(chosen.file)}
    for name in ("aeroplane", "configuration"):
        if getattr(chosen, name):
            params[name] = getattr(chosen, name)
    tuned = _call("tune", params)
    print(json.dumps(tuned, ensure_ascii=False, indent=1) if chosen.json else report.of_tuning(tuned))
    return FINE if tuned["usable"] else NOT_FINE


def _run_up(chosen: argparse.Namespace) -> int:
    try:
        rotation = units.parse(chosen.rotation, "1/s")
    except ValueError as problem:
        raise Refused("not_a_number", "/rotation", str(problem), "2230 rpm") from problem
    params: dict[str, Any] = {"bundle": _read(chosen.file), "rotation": rotation, "across": chosen.across}
    for name in ("trip", "leg", "now"):
        if getattr(chosen, name):
            params[name] = getattr(chosen, name)
    told = _call("run_up", params)
    print(json.dumps(told, ensure_ascii=False, indent=1) if chosen.json else report.of_run_up(told))
    return FINE if told["verdict"] == "yes" else NOT_FINE


def _track(chosen: argparse.Namespace) -> int:
    given = {"base64": base64.b64encode(_bytes(chosen.file, "a GPX or CSV track")).decode("ascii")}
    found = _call("walk" if chosen.walk else "track", given)
    if chosen.json:
        print(json.dumps(found, ensure_ascii=False, indent=1))
    else:
        print(report.of_walk(found) if chosen.walk else report.of_track(found))
    told = [found["reason"] is None] if chosen.walk else [run["ok"] or run["rough"] for run in found["runs"]]
    return FINE if any(told) else NOT_FINE


def _schema(chosen: argparse.Namespace) -> int:
    print(json.dumps(_call("schema", {}), ensure_ascii=False, indent=1))
    return FINE


def _sums(chosen: argparse.Namespace) -> int:
    found = _call("sums", {})
    print(json.dumps(found, ensure_ascii=False, indent=1) if chosen.json else report.of_sums(found))
    return FINE


def _sum(chosen: argparse.Namespace) -> int:
    arguments: dict[str, Any] = {}
    for pair in chosen.values:
        key, equals, value = pair.partition("=")
        if not equals:
            raise Refused("wrong_type", "/args", f"{pair!r} is not key=value.", "key=value")
        arguments[key] = _value(value)
    found = _call("sum", {"name": chosen.name, "args": arguments})
    print(json.dumps(found, ensure_ascii=False, indent=1) if chosen.json else report.of_sum(found))
    return NOT_FINE if found["state"] else FINE


def _value(text: str) -> Any:
    """A list in brackets, or text that the relation reads by its own unit."""
    if text.startswith("["):
        try:
            return json.loads(text)
        except ValueError as problem:
            raise Refused(
                "not_a_number", "/args", f"{text!r} is not a list of numbers.", "[1, 2, 3]"
            ) from problem
    return text


# --- edges -----------------------------------------------------------------------------------------------


def _call(method: str, params: dict[str, Any]) -> Any:
    """A method of the border, as the shell calls it. Raises `Refused` as the border told it."""
    reply = json.loads(api.handle(method, json.dumps(params)))
    if "error" in reply:
        raise _Told(reply["error"])
    return reply["result"]


class _Told(Refused):
    """A refusal that came over the border, kept whole."""

    def __init__(self, error: dict[str, Any]) -> None:
        super().__init__(error["code"], error["path"], error["message"], error["expected"])
        self.error = error

    def as_dict(self) -> dict[str, Any]:
        return self.error


def _read(name: str) -> str:
    try:
        return _bytes(name, "a trip file").decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        raise Refused("not_json", "", f"{name} is not UTF-8 text.", "a file that Tussock wrote") from problem


def _bytes(name: str, expected: str) -> bytes:
    try:
        if name == "-":
            return sys.stdin.buffer.read()
        with open(name, "rb") as file:
            return file.read()
    except OSError as problem:
        raise Refused("missing", "", f"{name} can't be read: {problem.strerror}.", expected) from problem


def _refuse(error: dict[str, Any], as_json: bool, out: TextIO | None = None) -> None:
    out = out or sys.stderr
    if as_json:
        print(json.dumps(error, ensure_ascii=False), file=out)
        return
    print(f"refused: {error['message']}", file=out)
    if error["path"]:
        print(f"  at {error['path']}", file=out)
    if error["expected"]:
        print(f"  expected: {error['expected']}", file=out)
    for other in error.get("also", []):
        print(f"  also at {other['path']}: {other['message']}", file=out)


if __name__ == "__main__":
    sys.exit(main())
