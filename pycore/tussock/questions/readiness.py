"""Which of the six questions an aeroplane can already answer, and what is missing for the next.

The six questions are asked of a probe: a benign trip that lacks nothing of its own, with every seat taken and
something in every bay, so that what stays unsaid is the aeroplane's. A second, light probe gives tables that
begin at some mass their chance. What is missing for either is told, with its place in the aeroplane.
"""

from __future__ import annotations

from typing import Any

from ..documents import Aeroplane, Bundle, Strip
from .answer import CANT_SAY, QUESTIONS, Answer, message
from .asking import LegAnswer, ask
from .estimates import estimates
from .flight import Flight
from .places import is_of_the_aeroplane, place_of
from .probe import Probe

Message = dict[str, Any]

#: what follows from something else that is missing, and where that is told
FOLLOWS = ("missing.mass", "missing.burn", "missing.arrival", "missing.density_altitude")
#: a source that the owner trusts, or may trust, and that says nothing
SILENCES = ("reason.preferred_silent", "reason.preferred_absent", "reason.no_favourite")
#: with the probe's breath of wind the figure says nothing: the limit alone is asked for
LIMITS = {
    "missing.crosswind_limit": "missing.own_crosswind",
    "missing.tailwind_limit": "missing.own_tailwind",
    "missing.gust_spread_limit": "missing.own_gust_spread",
}


def readiness(
    bundle: Bundle, plane: Aeroplane, configuration: str | None = None, strip: Strip | None = None
) -> dict[str, Any]:
    """`{"questions": [{"question", "ready", "missing", "estimated"}], "next"}`; messages carry a `pointer`.

    `configuration` is the aeroplane's first by default. With a `strip` the probe lands and takes off there.
    """
    rig = next((c for c in plane.configurations if c.id == configuration), plane.configurations[0])
    asked = [_ask(Probe(bundle, plane, rig, strip, full=full)) for full in (True, False)]
    questions = [_question(name, plane, rig.id, asked) for name in QUESTIONS]
    first = next((one for one in questions if not one["ready"]), None)
    return {"questions": questions, "next": first["missing"][0] if first else None}


def _ask(probe: Probe) -> LegAnswer:
    bundle, trip, leg, now = probe.made()
    return ask(bundle, trip, leg, now, silent=True)


def _question(name: str, plane: Aeroplane, rig: str, asked: list[LegAnswer]) -> dict[str, Any]:
    missing: dict[str, Message] = {}
    silent: dict[str, Message] = {}
    for reason in _crew(asked[0].flight) if name == "fits" else ():
        missing[str(reason)] = reason | {"pointer": place_of(reason, plane, rig)}
    for one in asked:
        answer = one.answer(name)
        for reason in _reasons(answer, one):
            pointed = reason | {"pointer": place_of(reason, plane, rig)}
            (missing if is_of_the_aeroplane(reason["text"]) else silent).setdefault(str(reason), pointed)
    unanswered = all(one.answer(name).verdict == CANT_SAY for one in asked)
    told = list(missing.values())
    if unanswered and not told:
        told = list(silent.values()) or [message("readiness.silent") | {"pointer": ""}]
    full = asked[0]
    return {
        "question": name,
        "ready": not told,
        "missing": told,
        "estimated": estimates(full.flight, full.answer(name), sources=True),
    }


def _crew(flight: Flight) -> list[Message]:
    """An aeroplane in which nobody can sit, or nobody at the controls, answers nothing about people."""
    if not flight.seats:
        return [message("missing.seats")]
    return [] if any(seat.controls for seat in flight.seats) else [message("missing.controls")]


def _reasons(answer: Answer, asked: LegAnswer) -> list[Message]:
    """Why an answer can't be told, down to what it follows from."""
    said = [m.reason for m in answer.measures if m.verdict == CANT_SAY and m.reason is not None]
    if answer.cap == CANT_SAY or not said:
        said += [r for r in answer.reasons if r["text"] in SILENCES or r["text"].startswith("missing.")]
    found: list[Message] = []
    for reason in said:
        found += _roots(reason, asked, set())
    return [reason for i, reason in enumerate(found) if reason not in found[:i]]


def _roots(reason: Message, asked: LegAnswer, seen: set[str]) -> list[Message]:
    text = reason["text"]
    inner = reason["values"].get("why")
    if isinstance(inner, dict) and "text" in inner:
        return _roots(inner, asked, seen)
    if text in LIMITS:
        return [message(LIMITS[text])]
    if text not in FOLLOWS:
        return [reason]
    if text in seen:
        return []
    deeper = asked.masses.missing if text == "missing.mass" else asked.burnt.missing
    return [root for one in deeper for root in _roots(one, asked, seen | {text})]
