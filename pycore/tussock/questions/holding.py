"""Whether what rides in a bay is held: by the bay's restraint, or by one that a thing brings itself."""

from __future__ import annotations

from ..documents.aeroplane import Bay
from .aboard import Aboard, error
from .answer import NO, TIGHT, YES, Measure, cant_say, measure, message


def is_loose(bay: Bay, thing: Aboard) -> bool:
    """Whether nothing at all is said to hold a thing: neither its bay nor a restraint of its own."""
    nothing = bay.restraint is not None and bay.restraint.by == "none"
    return nothing and thing.item.held_by is None


def held(bay: Bay, things: list[Aboard]) -> list[Measure]:
    """Each thing within the rating of its own restraint, all within the bay's; none loose near controls.

    Without a rating of its own a thing is held as the rest of the bay is. Where the bay holds nothing, that
    restraint is all there is, and without a rating it is not known whether it holds.
    """
    if not things:
        return []
    restraint, values = bay.restraint, {"bay": bay.name}
    found = [_own(bay, thing) for thing in things]
    own = [one for one in found if one is not None]
    if restraint is None:
        return [*own, cant_say("restraint", "kg", "mass", message("missing.restraint", **values), **values)]
    if restraint.by == "none":
        if not any(is_loose(bay, thing) for thing in things):
            return own
        if bay.near_controls:
            near = message("reason.loose_near_controls", **values)
            return [*own, Measure("loose_near_controls", None, None, "1", "count", NO, values, near)]
        reason = message("reason.no_restraint", **values)
        return [*own, Measure("restraint", None, None, "kg", "mass", TIGHT, values, reason)]
    if restraint.rating is None:
        if restraint.by == "locker":
            return own  # walls hold what the bay may bear
        why = message("missing.restraint_rating", by=message(f"restraint.{restraint.by}"), **values)
        return [*own, cant_say("restraint", "kg", "mass", why, **values)]
    lacking = [name for thing in things if thing.mass is None for name in thing.lacking]
    if lacking:
        reason = message("missing.item_mass", item=", ".join(lacking))
        return [*own, cant_say("restraint", "kg", "mass", reason, **values)]
    mass = sum(thing.mass or 0.0 for thing in things)
    off = error(thing.sd for thing in things)
    rating = restraint.rating.value
    return [*own, measure("restraint", mass, rating, "kg", "mass", tight_below=off, values=values)]


def _own(bay: Bay, thing: Aboard) -> Measure | None:
    """A thing against the rating of what holds it by itself."""
    item, values = thing.item, {"bay": bay.name, "item": thing.item.name}
    if item.held_by is None:
        return None
    if item.held_rating is None:
        if bay.restraint is None or bay.restraint.by != "none":
            return None
        by = message(f"held_by.{item.held_by}")
        return cant_say("held", "kg", "mass", message("missing.item_rating", by=by, **values), **values)
    if thing.mass is None:
        lacking = ", ".join(thing.lacking) or item.name
        return cant_say("held", "kg", "mass", message("missing.item_mass", item=lacking), **values)
    rating = item.held_rating.value
    found = measure("held", thing.mass, rating, "kg", "mass", tight_below=error((thing.sd,)), values=values)
    if found.verdict == YES and item.held_rating.origin == "estimated":
        found.verdict, found.reason = TIGHT, message("reason.rating_guessed", **values)
    return found
