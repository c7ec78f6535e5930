"""Pack for me, step by step: the program to solve, then its columns as a load that all six were asked of.

    begin   the first program: the most worth
    take    columns -> what comes, what stays, all six on every leg; or what must be cut off and solved anew
    settle  the second program: ties
    reason  why one thing stays behind, and the program with it forced in
    instead columns of that -> the cheapest swap

Every step is asked anew with the same documents; what was read last is remembered.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

import numpy as np

from ..documents import Accepted, Trip
from ..errors import Refused
from ..questions.answer import CANT_SAY, NO, RANK, TIGHT, message, worst
from ..questions.asking import LegAnswer, ask
from ..questions.balances import MASS_MEASURES
from ..questions.edits import replaced
from ..sums.packing.choice import LEFT, Broken, Choice, broken, worth_of
from ..sums.packing.model import model_text, read_columns
from .figures import Cuts, Figures, is_rigid, read_load, with_cuts

#: a choice that does not hold on all six is cut off and another looked for, so many times
ROUNDS = 12

_last: dict[Any, Figures] = {}


def _figures(accepted: Accepted, trip: str | None, leg: str | None, now: datetime, cuts: Cuts) -> Figures:
    """The figures of a load, remembered: one choice is asked about many times over."""
    # what is remembered holds its documents, so no other can have their places in memory
    opened = (accepted.bundle.open.trip, accepted.bundle.open.leg)
    key = (*(id(document) for document in accepted.bundle.documents), opened, trip, leg, now, cuts.everything)
    if key not in _last:
        found = read_load(accepted, trip, leg, now, cuts.everything)
        _last.clear()
        _last[key] = found
    return _last[key]


def begin(
    accepted: Accepted, trip: str | None, leg: str | None, now: datetime, cuts: Any = None
) -> dict[str, Any]:
    """The program of the first pass, with what the choice rests on."""
    done = Cuts.read(cuts)
    figures = _figures(accepted, trip, leg, now, done)
    choice = with_cuts(figures, done)
    nowhere = [
        {"item": thing.item.id, "name": thing.item.name, "reason": _first(figures, thing.item.id)}
        for index, thing in enumerate(figures.things)
        if (choice.must[index] or choice.locked[index] > LEFT) and not choice.open[index].any()
    ]
    return {
        "model": model_text(choice),
        "items": choice.items,
        "worth": int(np.sum(choice.worth)),
        "load": {"id": figures.load.id, "name": figures.load.name},
        "legs": [{"id": one.id, "name": one.name or one.id} for one in figures.legs],
        "most": {"mass": figures.limits.total, "by": figures.limits.by},
        "helpless": [{"leg": name, "question": question} for name, question in figures.limits.helpless],
        "nowhere": nowhere,
    }


def settle(
    accepted: Accepted, trip: str | None, leg: str | None, now: datetime, columns: Any, cuts: Any = None
) -> dict[str, Any]:
    """The program of the second pass: of choices worth as much as these columns, the best settled."""
    done = Cuts.read(cuts)
    figures = _figures(accepted, trip, leg, now, done)
    choice = with_cuts(figures, done)
    kept = worth_of(choice, _read(choice, columns))
    return {"model": model_text(choice, at_least=kept, settle=True), "worth": kept}


def take(
    accepted: Accepted,
    trip: str | None,
    leg: str | None,
    now: datetime,
    columns: Any,
    cuts: Any = None,
) -> dict[str, Any]:
    """A choice as a load: what comes where, what stays, all six on every leg flown with it, the edits.

    `again` is None, or the cuts with which `begin` finds a choice that may hold where this one did not.
    """
    done = Cuts.read(cuts)
    figures = _figures(accepted, trip, leg, now, done)
    choice = with_cuts(figures, done)
    bay_of = _read(choice, columns)
    asked = _asked(figures, bay_of)
    again = None
    if len(done.never) < ROUNDS:
        further = _further(figures, done, bay_of, asked)
        again = further.as_dict() if further is not None else None
    return _told(figures, choice, bay_of, asked) | {"again": again}


def reason(
    accepted: Accepted,
    trip: str | None,
    leg: str | None,
    now: datetime,
    columns: Any,
    item: str,
    cuts: Any = None,
) -> dict[str, Any]:
    """Why one thing stays behind: the limit that it would break, and the program with it forced in.

    `model` is None where it goes into no bay at all, whatever else stays.
    """
    done = Cuts.read(cuts)
    figures = _figures(accepted, trip, leg, now, done)
    choice = with_cuts(figures, done)
    index = figures.index(item)
    bay_of = _read(choice, columns)
    if not choice.open[index].any():
        said = _first(figures, figures.things[index].item.id)
        if choice.locked[index] == LEFT:
            said = message("pack.locked_out", item=figures.things[index].item.name)
        return {"item": item, "breaks": [said], "model": None}
    nearest: list[Broken] | None = None
    for bay in np.flatnonzero(choice.open[index]):
        tried = bay_of.copy()
        tried[index] = bay
        parts = broken(choice, tried)
        if nearest is None or (len(parts), _over(parts)) < (len(nearest), _over(nearest)):
            nearest = parts
    breaks = [_limit_said(figures, part) for part in nearest or []]
    if not breaks:
        breaks = [message("pack.room", item=figures.things[index].item.name)]
    must = choice.must.copy()
    must[index] = True
    return {"item": item, "breaks": breaks, "model": model_text(replace(choice, must=must))}


def instead(
    accepted: Accepted,
    trip: str | None,
    leg: str | None,
    now: datetime,
    columns: Any,
    item: str,
    forced: Any,
    cuts: Any = None,
) -> dict[str, Any]:
    """The cheapest swap for a thing: what stays in its place, from the columns with it `forced` in.

    `swap` is None where the questions refuse it; `again`: the cuts with which `reason` writes the program for
    one that may hold, as of `take`.
    """
    done = Cuts.read(cuts)
    figures = _figures(accepted, trip, leg, now, done)
    choice = with_cuts(figures, done)
    index = figures.index(item)
    before = _read(choice, columns)
    if not forced:
        return {"item": item, "swap": None, "again": None}
    after = _read(choice, forced)
    asked = _asked(figures, after)
    further = _further(figures, done, after, asked)
    if further is not None or _refused(figures, asked) - _refused(figures, _asked(figures, before)):
        again = further.as_dict() if further is not None and len(done.never) < 2 * ROUNDS else None
        return {"item": item, "swap": None, "again": again}
    out = [i for i in np.flatnonzero(before != LEFT) if after[i] == LEFT]
    told = _told(figures, choice, after, asked)
    return {
        "item": item,
        "swap": {
            "out": [{"item": figures.things[i].item.id, "name": figures.things[i].item.name} for i in out],
            "said": message(
                "pack.swap" if out else "pack.move",
                item=figures.things[index].item.name,
                items=", ".join(figures.things[i].item.name for i in out),
                mass=float(np.sum(choice.mass[out])),
            ),
            "lost": worth_of(choice, before) - worth_of(choice, after),
            "verdict": told["verdict"],
            "load": told,
        },
        "again": None,
    }


def _refused(figures: Figures, asked: list[LegAnswer]) -> set[tuple[str, str]]:
    """Leg and question of every "no" and "can't say" that less kit would help."""
    bad = {
        (one.flight.leg.id, question)
        for one in asked
        for question, verdict in one.verdicts.items()
        if verdict in (NO, CANT_SAY)
    }
    return bad - set(figures.limits.helpless)


# --- what the columns say --------------------------------------------------------------------------------


def _read(choice: Choice, columns: Any) -> np.ndarray:
    if not isinstance(columns, dict):
        raise Refused("wrong_type", "/columns", "These are no columns of a solver.", "values by name")
    try:
        return read_columns(choice, columns)
    except (TypeError, ValueError) as problem:
        raise Refused("wrong_type", "/columns", "A column is not a number.", "values by name") from problem


def _asked(figures: Figures, bay_of: np.ndarray) -> list[LegAnswer]:
    """All six of every leg that is flown with the load, packed so."""
    bays = [bay.id for bay in figures.bays]
    bay_by = {
        one.item: None if bay_of[i] == LEFT else bays[bay_of[i]] for i, one in enumerate(figures.placed)
    }
    placed = [
        one.model_copy(update={"bay": bay_by[one.item]}) if one.item in bay_by else one
        for one in figures.load.placed
    ]
    load = figures.load.model_copy(update={"placed": placed})
    loads = [load if one.id == load.id else one for one in figures.trip.loads]
    trip = figures.trip.model_copy(update={"loads": loads})
    assert isinstance(trip, Trip)
    bundle = replaced(figures.bundle, trip)
    return [ask(bundle, trip, leg, figures.now, silent=True) for leg in figures.legs]


def _further(figures: Figures, done: Cuts, bay_of: np.ndarray, asked: list[LegAnswer]) -> Cuts | None:
    """What must be cut off since the questions say no; None where they do not, or nothing would help."""
    names = {bay.name: index for index, bay in enumerate(figures.bays)}
    helpless = set(figures.limits.helpless)
    kit = float(np.sum(figures.choice.mass[bay_of != LEFT]))
    never, total, guard = list(done.never), done.total, done.guard
    for one in asked:
        for part in one.answer("fits").measures:
            bay = names.get(str(part.values.get("bay", "")))
            if part.verdict in (NO, CANT_SAY) and bay is not None:
                never.append(_together(figures, bay_of, bay, part.name))
        for part in one.answer("balances").measures:
            if part.verdict != NO:
                continue
            if part.name in MASS_MEASURES and part.margin is not None:
                total = min(kit if total is None else total, kit + part.margin - 1e-3)
            elif part.name in ("aft", "envelope"):
                guard += 0.2
        for question in ("lifts_off", "climbs_out", "reaches", "stops"):
            key = (one.flight.leg.id, question)
            if one.verdicts[question] in (NO, CANT_SAY) and key not in helpless:
                total = min(kit if total is None else total, kit - 0.1)
    further = replace(done, never=tuple(dict.fromkeys(never)), total=total, guard=guard)
    return further if further != done else None


def _together(figures: Figures, bay_of: np.ndarray, bay: int, measure: str) -> tuple[str, tuple[str, ...]]:
    """The things of a bay that do not go in together: by volume all of them, else the rigid ones."""
    inside = [thing for i, thing in enumerate(figures.things) if bay_of[i] == bay]
    rigid = [thing for thing in inside if is_rigid(thing)]
    kept = inside if measure in ("bay_volume", "bay_mass", "floor_whole", "restraint") or not rigid else rigid
    return figures.bays[bay].id, tuple(thing.item.id for thing in kept)


def _told(figures: Figures, choice: Choice, bay_of: np.ndarray, asked: list[LegAnswer]) -> dict[str, Any]:
    names = [bay.id for bay in figures.bays]
    comes, stays, edits = [], [], []
    for i, thing in enumerate(figures.things):
        bay = None if bay_of[i] == LEFT else names[bay_of[i]]
        was = figures.placed[i].bay
        item = thing.item
        entry: dict[str, Any] = {"item": item.id, "name": item.name, "mass": thing.mass, "worth": thing.worth}
        if thing.inside:
            entry["with"] = [part.item.name for part in thing.parts[1:]]
        if bay is None:
            stays.append(entry | {"was": was, "nowhere": not bool(choice.open[i].any())})
        else:
            comes.append(entry | {"bay": bay, "was": was})
        if bay != was:
            pointer = f"/loads/{figures.load.id}/placed/{item.id}/bay"
            value: Any = bay
            if item.id in figures.added:
                pointer, value = pointer.removesuffix("/bay"), {"item": item.id, "bay": bay}
            edits.append({"document": figures.trip.id, "pointer": pointer, "value": value})
    legs = [
        {
            "id": one.flight.leg.id,
            "name": one.flight.leg.name or one.flight.leg.id,
            "verdict": one.verdict,
            "answers": [
                {"question": a.question, "verdict": a.verdict, "reason": a.as_dict()["reasons"][:1]}
                for a in one.answers
            ],
        }
        for one in asked
    ]
    return {
        "worth": worth_of(choice, bay_of),
        "comes": comes,
        "stays": stays,
        "bays": [_bay_told(figures, choice, bay_of, b) for b in range(choice.bays)],
        "edits": edits,
        "change": message("pack.change", load=figures.load.name, count=len(edits)),
        "legs": legs,
        "verdict": worst(one.verdict for one in asked),
        "holds": all(RANK[one.verdict] >= RANK[TIGHT] for one in asked),
    }


def _bay_told(figures: Figures, choice: Choice, bay_of: np.ndarray, index: int) -> dict[str, Any]:
    inside = bay_of == index
    bay = figures.bays[index]
    return {
        "id": bay.id,
        "name": bay.name,
        "mass": float(np.sum(choice.mass[inside])),
        "mass_limit": bay.mass_limit.value if bay.mass_limit else None,
        "bulk": float(np.sum(choice.bulk[inside, index])),
        "volume": bay.volume.value if bay.volume else None,
    }


# --- why not ---------------------------------------------------------------------------------------------


def _first(figures: Figures, item: str) -> dict[str, Any]:
    """Why the bay that comes nearest to taking it does not."""
    found = figures.refused.get(item)
    return found[-1] if found else message("pack.no_bay")


def _over(parts: list[Broken]) -> float:
    return sum(part.by for part in parts)


def _limit_said(figures: Figures, part: Broken) -> dict[str, Any]:
    bay = figures.bays[part.bay].name if part.bay >= 0 else ""
    if part.limit == "bay_bulk":
        return message("pack.breaks.bulk", bay=bay, by=part.by)
    if part.limit == "bay_mass":
        return message("pack.breaks.mass", bay=bay, by=part.by)
    if part.limit == "together":
        return message("pack.breaks.together", bays=part.moment, by=part.by)
    if part.limit == "total":
        by = figures.limits.by
        # a limit that showed only when a choice was answered is no one measure's
        what = by["what"] if by else message("pack.all_kit")
        return message("pack.breaks.total", what=what, by=part.by)
    if part.limit == "envelope":
        state = part.moment.partition("/")[2].removesuffix("_heavy").rstrip("0123456789")
        return message("pack.breaks.envelope", state=message(f"pack.state.{state}"))
    return message("pack.breaks.never", bay=bay)
