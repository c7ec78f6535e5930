"""Answers and sums in words, for the command line."""

from __future__ import annotations

from typing import Any

from .text import say, shown

WIDTH = 10


def of_trip(answers: dict[str, Any], *, working: bool = False) -> str:
    """A trip's answers as text: verdict first, then the six, reasons, assumptions, the caution."""
    lines = [f"Trip: {answers['verdict'].upper()}", ""]
    for leg in answers["legs"]:
        lines += _leg(leg, working)
        lines.append("")
    lines.append(say(answers["caution"]))
    return "\n".join(lines)


def _leg(leg: dict[str, Any], working: bool) -> list[str]:
    figures = leg["figures"]
    lines = [f"{leg['from']} → {leg['to']}  ({leg['aeroplane']}, {leg['configuration']})"]
    about = [
        _figure("mass", figures["takeoff_mass"], "mass"),
        _figure("density altitude", figures["density_altitude"], "height"),
        _figure("there", figures["far_density_altitude"], "height"),
        _figure("distance", figures["distance"], "distance"),
    ]
    lines.append("  " + " · ".join(part for part in about if part))
    lines.append(f"  {leg['verdict'].upper()}")
    for answer in leg["answers"]:
        said = say(answer["reasons"][0]) if answer["reasons"] else ""
        name = say({"text": f"question.{answer['question']}"})
        lines.append(f"  {answer['verdict']:>{WIDTH}}  {name:<11} {said}")
        for reason in answer["reasons"][1:]:
            lines.append(f"  {'':>{WIDTH}}  {'':<11} {say(reason)}")
        for note in answer["notes"]:
            lines.append(f"  {'':>{WIDTH}}  {'':<11} · {say(note)}")
        for remedy in answer["remedies"]:
            lines.append(f"  {'':>{WIDTH}}  {'':<11} → {say(remedy['change'])}: leg {remedy['verdict']}")
        if working:
            lines += _working(answer)
    assumed: list[str] = []
    for answer in leg["answers"]:
        assumed += [s for a in answer["assumptions"] if (s := say(a)) not in assumed]
    lines += [f"  assumed: {one}" for one in assumed]
    lines += [f"  warning: {say(one)}" for one in leg["warnings"]]
    return lines


def _figure(name: str, value: float | None, dimension: str) -> str:
    return "" if value is None else f"{name} {shown(value, dimension)}"


def _working(answer: dict[str, Any]) -> list[str]:
    lines = []
    for step in answer["working"]:
        label = f" ({say(step['label'])})" if step["label"] else ""
        lines.append(f"{'':>16}{step['title']}{label}  [{step['source']}]")
        given = ", ".join(f"{q['name']} {_number(q['value'])} {q['unit']}" for q in step["inputs"])
        made = ", ".join(f"{q['name']} {_number(q['value'])} {q['unit']}" for q in step["outputs"])
        lines.append(f"{'':>18}{given}  →  {made}")
    return lines


def _number(value: Any) -> str:
    if value is None:
        return "–"
    if isinstance(value, list):
        return "(" + " ".join(_number(part) for part in value) + ")"
    return value if isinstance(value, str) else f"{value:.6g}"


def of_tuning(told: dict[str, Any]) -> str:
    """A tuned aeroplane: constants, entries, suspects, what to measure next."""
    lines = [f"{told['aeroplane']}, {told['configuration']}: {'tuned' if told['usable'] else 'NOT TUNED'}"]
    lines += [f"  {say(reason)}" for reason in told["reasons"]]
    if told["constants"]:
        lines.append(f"  {told['figures']} figures, {told['evaluations']} evaluations")
        lines.append("  constants, with their spread, and what was believed before")
    for one in told["constants"]:
        unit = "" if one["unit"] == "1" else f" {one['unit']}"
        lines.append(
            f"    {say(one['label']):34}{_number(one['value']):>12} ± {_number(one['sd'])}{unit}"
            f"   (before {_number(one['prior'])} ± {_number(one['prior_sd'])})"
        )
    lines += [f"    scatter, {say(one['label']):25}{_number(one['value']):>12}" for one in told["scatter"]]
    lines += [
        f"    {one['technique']:34}{_number(one['factor']):>12}   ({one['figures']} figures)"
        for one in told["technique"]
    ]
    if told["residuals"]:
        lines.append("  entry by entry: measured, predicted (9 of 10 lie in between), spreads off")
    for one in told["residuals"]:
        measured, *others = (
            shown(one[name], one["dimension"]) if one[name] is not None else "–"
            for name in ("measured", "predicted", "low", "high")
        )
        aside = "" if one["counts"] else f"  {one['technique']}: not counted"
        lines.append(
            f"    {one['entry']:8}{say(one['label']):30}{measured:>12}{others[0]:>12}"
            f"  ({others[1]} to {others[2]}){one['spreads']:+7.1f}{aside}"
        )
    lines += [f"  suspect: {one['entry']} {one['figure']}: {say(one['said'])}" for one in told["suspects"]]
    lines += [
        f"  left out: {one['entry']} ({one['figure'] or one['what']}): {say(one['reason'])}"
        for one in told["left_out"]
    ]
    lines += [f"  assumed: {say(one)}" for one in told["assumed"]]
    if told["next"]:
        lines.append("  next, by how much it would narrow the take-off band")
    lines += [f"    {100 * one['narrows']:5.1f} %  {say(one['what'])}" for one in told["next"]]
    return "\n".join(lines)


def of_packing(told: dict[str, Any]) -> str:
    """A load as it was packed: all six on each leg first, then what stays, then what rides where."""
    found = told["packed"]
    if found is None:
        lines = [say({"text": "pack.stage.impossible"})]
        return "\n".join(lines + [f"  {one['name']}: {say(one['reason'])}" for one in told["nowhere"]])
    lines = [f"{found['verdict'].upper()}  " + _how_sure(told)]
    for leg in found["legs"]:
        six = ", ".join(
            f"{say({'text': 'question.' + a['question']})} {a['verdict']}" for a in leg["answers"]
        )
        lines.append(f"  {leg['name']}: {six}")
    lines += [f"  {say({'text': 'pack.unguarded'})}"] if told["unguarded"] else []
    lines += [f"  {say({'text': 'pack.not_enough'})}"] if told["helpless"] else []
    lines += [say({"text": "pack.stays"}), *_packed_lines(found["stays"])]
    for bay in found["bays"]:
        lines.append(f"{bay['name']}  {shown(bay['mass'], 'mass')}, {shown(bay['bulk'], 'bulk')}")
        lines += _packed_lines([one for one in found["comes"] if one["bay"] == bay["id"]])
    return "\n".join([*lines, say({"text": "caution"})])


def _how_sure(told: dict[str, Any]) -> str:
    if told["proven"]:
        return say({"text": "pack.proven"})
    worth = told["packed"]["worth"]
    gap = (told["bound"] - worth) / worth if worth else 0.0
    return say({"text": "pack.gap", "values": {"gap": gap}})


def _packed_lines(things: list[dict[str, Any]]) -> list[str]:
    lines = []
    for one in things:
        held = ", ".join(one.get("with", []))
        inside = f" ({say({'text': 'shell.load.with', 'values': {'items': held}})})" if held else ""
        mass = "–" if one["mass"] is None else shown(one["mass"], "mass")
        lines.append(f"  {one['name']}{inside}  {mass}")
    return lines


def of_run_up(told: dict[str, Any]) -> str:
    """A run-up check: verdict first, then the roll, and what it takes for granted."""
    lines = [f"{told['verdict'].upper()}  " + "; ".join(say(reason) for reason in told["reasons"])]
    roll = told["roll"]
    if roll is not None and None not in (roll["before"], roll["after"]):
        lengths = (shown(roll[name], "length") for name in ("before", "after"))
        lines.append(f"  take-off roll {' → '.join(lengths)}  ({roll['source']})")
    lines += [f"  {say(note)}" for note in told["notes"]]
    lines += [f"  assumed: {say(one)}" for one in told["assumptions"]]
    return "\n".join(lines)


def of_sums(found: list[dict[str, Any]]) -> str:
    """Every sum by subject: name, inputs, source."""
    lines: list[str] = []
    for subject in sorted({one["subject"] for one in found}):
        lines.append(subject)
        for one in found:
            if one["subject"] == subject:
                given = ", ".join([*(f"{k} [{q['unit']}]" for k, q in one["inputs"].items()), *one["plain"]])
                lines.append(f"  {one['name']}({given})")
                lines.append(f"      {one['title']} — {one['source']}")
    return "\n".join(lines)


def of_sum(found: dict[str, Any]) -> str:
    """One sum: what went in, what came out, from where."""
    lines = [found["title"]]
    for key, value in found["inputs"].items():
        lines.append(f"  {key} = {_number(value)} {found['units'].get(key, '')}".rstrip())
    for key, value in found["outputs"].items():
        reason = f"  ({found['state'][key]})" if key in found["state"] else ""
        lines.append(f"  → {key} = {_number(value)} {found['units'][key]}{reason}")
    if found["outside"]:
        lines.append(f"  outside the valid range: {', '.join(found['outside'])}")
    lines.append(f"  source: {found['source']}")
    return "\n".join(lines)


def of_track(found: dict[str, Any]) -> str:
    """The runs of a recorded track, each with its figures and their standard errors."""
    lines = [f"{found['track']['start']} – {found['track']['end']}, {found['track']['fixes']} fixes"]
    for run in found["runs"]:
        lines.append(f"{say({'text': 'track.what.' + run['what']})}  {run['at'] or ''}".rstrip())
        if run["reason"]:
            lines.append(f"  {say(run['reason'])}")
        for name, one in run.get("figures", {}).items():
            lines.append(f"  {say({'text': 'track.figure.' + name})}: {_give_or_take(one, name)}")
        lines += [f"  · {say(one)}" for one in run["cautions"]]
    return "\n".join(lines + [f"· {say(one)}" for one in found["cautions"]])


def of_walk(found: dict[str, Any]) -> str:
    """The length and slope of a strip that was walked."""
    lines = []
    for name in ("length", "slope"):
        if found[name]:
            lines.append(f"{say({'text': 'track.figure.' + name})}: {_give_or_take(found[name], name)}")
    reasons = [found["reason"], found["slope_reason"], *found["cautions"]]
    return "\n".join(lines + [say(one) for one in reasons if one])


#: dimension by figure of a track
_TRACKED = {
    "roll": "length",
    "over_50ft": "length",
    "length": "length",
    "rate": "vertical speed",
    "sink": "vertical speed",
    "slope": "gradient",
}


def _give_or_take(one: dict[str, Any], name: str) -> str:
    dimension = _TRACKED.get(name, "speed")
    return f"{shown(one['value'], dimension)} ± {shown(one['sd'], dimension)}"
