"""Dangerous things: fuel, gas and batteries ride only where somebody has said that they may."""

from __future__ import annotations

from typing import Literal

from ..documents.aeroplane import Bay
from ..documents.kit import Item
from .answer import NO, TIGHT, Measure, cant_say, message

Danger = Literal["fuel", "gas", "battery"]
KINDS: tuple[Danger, ...] = ("fuel", "gas", "battery")


def banned(bay: Bay) -> list[Danger]:
    """The kinds of which somebody has said that they must not ride in a bay."""
    return [kind for kind in KINDS if bay.may_carry is not None and getattr(bay.may_carry, kind) is False]


def danger_in(bay: Bay, item: Item) -> list[Measure]:
    """What speaks against a dangerous thing in its bay; nothing for a harmless one, or where it may ride.

    Banned there is "no". Where nobody has said, fuel and gas are "can't say"; a battery is "tight": batteries
    ride in cabins as a rule, with their contacts covered. A loose one out of reach is "tight" even where it
    may ride, since its fire can't be fought. From memory: ICAO Technical Instructions (Doc 9284) part 8,
    table 8-1: no fuel and no gas with passengers, spare lithium batteries in the cabin, contacts protected.
    """
    if item.danger is None:
        return []
    values = {"bay": bay.name, "item": item.name}
    what = message(f"danger.{item.danger}")
    said = None if bay.may_carry is None else getattr(bay.may_carry, item.danger)
    if said is False:
        return [_told(NO, "reason.danger", values, what)]
    found = []
    if said is None and item.danger == "battery":
        found.append(_told(TIGHT, "reason.battery_unsaid", values, what))
    elif said is None:
        reason = message("missing.bay_danger", **values, what=what)
        found.append(cant_say("danger", "1", "count", reason, **values))
    # the battery of a beacon is inside it, and the beacon is no baggage
    if item.danger == "battery" and item.role == "general" and not bay.accessible_in_flight:
        found.append(_told(TIGHT, "reason.battery_out_of_reach", values, what))
    return found


def _told(verdict: str, text: str, values: dict[str, str], what: dict[str, object]) -> Measure:
    return Measure("danger", None, None, "1", "count", verdict, values, message(text, **values, what=what))
