"""Where in the aeroplane a figure belongs that an answer misses: by the id of its message."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from ..documents import Aeroplane

#: id of a message: pointer. {bay} and the like are the element that the message names, {configuration} is the
#: one that was asked for; an element that can't be told from the message leaves the pointer at its list.
PLACES = {
    "missing.takeoff_flap": "/flaps",
    "missing.landing_flap": "/flaps",
    "missing.weighing": "/configurations/{configuration}/weighing",
    "missing.record_oil": "/configurations/{configuration}/weighing/includes_oil",
    "missing.record_unusable": "/configurations/{configuration}/weighing/includes_unusable_fuel",
    "missing.oil": "/engine/oil",
    "missing.unusable": "/tanks/{tank}/unusable",
    "missing.usable": "/tanks/{tank}/usable",
    "missing.tanks": "/tanks",
    "missing.grades": "/engine/grades",
    "missing.seats": "/seats",
    "missing.controls": "/seats",
    "missing.seat_height": "/seats/{seat}/height_fits",
    "missing.arm": "{station}/arm",
    "missing.takeoff_limit": "/limits/takeoff",
    "missing.bay_limit": "/bays/{bay}/mass_limit",
    "missing.bay_volume": "/bays/{bay}/volume",
    "missing.bay_longest": "/bays/{bay}/longest",
    "missing.bay_door": "/bays/{bay}/door",
    "missing.bay_size": "/bays/{bay}/length",
    "missing.packing_fraction": "/bays/{bay}/packing_fraction",
    "missing.bay_danger": "/bays/{bay}/may_carry",
    "missing.restraint": "/bays/{bay}/restraint",
    "missing.restraint_rating": "/bays/{bay}/restraint/rating",
    "missing.envelope": "/envelopes",
    "missing.category": "/configurations/{configuration}/category",
    "missing.mass_cap": "/owner/mass_caps",
    "missing.undercarriage": "/undercarriage",
    "missing.wheel_arms": "/undercarriage/main_arm",
    "missing.stall": "/flaps/{flap}/stall",
    "missing.climb_speed": "/flaps/{flap}/climb_speed",
    "missing.constants": "/performance/{source}",
    "missing.rolling_friction": "/performance/{source}/friction",
    "missing.braking_friction": "/performance/{source}/friction",
    "missing.takeoff_source": "/performance",
    "missing.landing_source": "/performance",
    "missing.climb_source": "/performance",
    "missing.climb_source_flap": "/performance",
    "missing.approach_gradient": "/approach_gradient",
    "missing.crosswind_limit": "/owner/crosswind",
    "missing.tailwind_limit": "/owner/tailwind",
    "missing.gust_spread_limit": "/owner/gust_spread",
    "missing.own_crosswind": "/owner/crosswind",
    "missing.own_tailwind": "/owner/tailwind",
    "missing.own_gust_spread": "/owner/gust_spread",
    "missing.taxi_fuel": "/fuel/taxi_and_run_up",
    "missing.climb_flow": "/fuel/climb_flow",
    "missing.dip_error": "/fuel/dip_error",
    "missing.cruise": "/cruises",
    "missing.cruise_figures": "/cruises/{cruise}/speed",
    "missing.cruise_dial": "/cruises/{cruise}/speed",
    "reason.preferred_absent": "/prefer",
    "reason.cruise_altitude_outside": "/cruises/{cruise}/altitude_low",
    "reason.outside_table": "/performance/{table}",
    "reason.table_empty": "/performance/{table}",
}

#: what a message names, and the lists in which an element of that name is looked for
_LISTS = {
    "tank": ("tanks",),
    "seat": ("seats",),
    "bay": ("bays",),
    "station": ("seats", "bays", "tanks"),
    "flap": ("flaps",),
    "source": ("performance",),
    "table": ("performance",),
    "cruise": ("cruises",),
}


def is_of_the_aeroplane(text: str) -> bool:
    """Whether a message of that id tells of something that is missing in the aeroplane."""
    return text.startswith("missing.") and text in PLACES


def place_of(reason: dict[str, Any], plane: Aeroplane, configuration: str) -> str:
    """Pointer into the aeroplane where what is missing belongs; "" for what concerns it as a whole."""
    pattern = PLACES.get(reason["text"])
    if pattern is None:
        named = reason["values"].get("source")
        return _element(plane, ("performance",), named) or "/performance" if named else ""
    if pattern.startswith("/configurations/{configuration}"):
        return pattern.format(configuration=_weighed(plane, configuration, pattern))
    parts = [name for name in _LISTS if f"{{{name}}}" in pattern]
    for name in parts:
        lists = _LISTS[name]
        found = _element(plane, lists, reason["values"].get(name))
        if found is None and name == "source":
            found = _sole(plane)
        if found is None:
            return f"/{lists[0]}"
        whole = f"{{{name}}}" if name == "station" else f"/{lists[0]}/{{{name}}}"
        pattern = pattern.replace(whole, found)
    if reason["text"] in ("missing.undercarriage", "missing.wheel_arms"):
        rig = next((c for c in plane.configurations if c.id == configuration), None)
        if rig is not None and rig.undercarriage is not None:
            return f"/configurations/{configuration}{pattern}"
    return pattern


def _element(plane: Aeroplane, lists: Iterable[str], name: Any) -> str | None:
    for field in lists:
        for element in getattr(plane, field):
            if element.name == name:
                return f"/{field}/{element.id}"
    return None


def _sole(plane: Aeroplane) -> str | None:
    """The aeroplane's constants, where a message speaks of them without a name."""
    found = [source.id for source in plane.performance if source.source == "constants"]
    return f"/performance/{found[0]}" if found else None


def _weighed(plane: Aeroplane, configuration: str, pattern: str) -> str:
    """For the weighing: the configuration on which this one is based in the end."""
    if "/weighing" not in pattern:
        return configuration
    by_id = {c.id: c for c in plane.configurations}
    here = by_id[configuration]
    while here.weighing is None and here.based_on is not None:
        here = by_id[here.based_on]
    return here.id
