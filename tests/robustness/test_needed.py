"""Every input is needed, or it is written down here why not: taken out, an answer leaves "yes".

On a leg that is a plain "yes" six times, each field of each document is taken out by itself. Either the gate
refuses that, or at least one answer is no "yes" any more, or the field stands below with a reason.
"""

from __future__ import annotations

import copy
import json
import sys
from fnmatch import fnmatch
from pathlib import Path
from typing import Any

import pytest

from tussock.api import handle

sys.path.insert(0, str(Path(__file__).parent))
from hostile import FIXTURES, at, paths

NOW = "2026-11-25T07:52:00+00:00"
LEG, LOAD = "to-saltpan", "dabchick-alone"
DOCUMENTS = (
    "week", "ours", "dabchick", "wren", "always", "camp", "winter", "tools", "quiet-water", "saltpan",
    "air-7-from", "air-7-to",
)  # fmt: skip

#: fields that may be absent from a "yes", by the reason
NOT_NEEDED = {
    "nothing is computed from it": """
        */version */code */class_of */registration */datum */weighing/date */fuel/?/seen */fuel/?/hours
        dabchick/engine/name dabchick/engine/rated_power dabchick/engine/rated_rotation
        dabchick/propeller/name dabchick/propeller/rotation_limit dabchick/cruises/*/rotation dabchick/run_up*
        dabchick/quirks* dabchick/speeds* dabchick/flaps/*/limit_speed dabchick/flaps/*/used_for
        quiet-water/fuel */has_sock */has_water */ground/width week/legs/to-saltpan/name
        */items/*/danger */items/*/held_by */items/*/worth */items/*/must_come */items/*/role
        */items/*/owner""",
    "this leg does not use it": """
        week/people week/kits week/nights week/water_per_day
        dabchick/bays/shelf* dabchick/seats/right* dabchick/configurations/bush*
        dabchick/configurations/*/bays_out dabchick/flaps/up* dabchick/cruises/easy*
        dabchick/performance/constants/friction/2* dabchick/performance/constants/friction/0/braked
        dabchick/performance/constants/friction/1/rolling dabchick/bays/hold/length dabchick/bays/hold/width
        dabchick/bays/hold/height dabchick/bays/hold/door dabchick/bays/hold/may_carry*
        dabchick/bays/locker/may_carry/fuel dabchick/bays/locker/may_carry/gas
        quiet-water/directions/26* saltpan/directions/24* quiet-water/directions/08/approach
        quiet-water/directions/08/go_around* saltpan/directions/06/departure dabchick/undercarriage/*_arm
        dabchick/configurations/*/category
        dabchick/seats/*/width dabchick/seats/*/bench wren/width""",
    "without it the adverse side is taken, and said where it matters": """
        week/legs/to-saltpan/wind_aloft week/legs/to-saltpan/air_to air-7-to* air-7-from/dew_point
        dabchick/wing/height dabchick/turn_bank dabchick/fuel/descent_* dabchick/fuel/climb_speed
        dabchick/cruises/usual/speed_is */items/*/size/crush
        dabchick/performance/*/surface always/items/oil/upright""",
    "a limit that nobody has set": """
        dabchick/bays/*/floor_limit dabchick/limits/zero_fuel
        dabchick/owner* wren/limits* dabchick/joint_limits dabchick/seats/*/mass_limit dabchick/limits/ramp
        dabchick/limits/landing always/items/*/stays_accessible
        dabchick/cruises/usual/altitude_*""",
    "the bay's own limit binds": "dabchick/bays/*/restraint/rating dabchick/bays/*/restraint/rings",
    "a usual figure of the trade stands in for it": """
        dabchick/flaps/*/lift_off_factor dabchick/flaps/*/at_50ft_factor dabchick/flaps/*/touchdown_factor
        dabchick/flaps/*/climb_speed dabchick/performance/constants/torque_cutoff
        dabchick/performance/*/technique week/legs/to-saltpan/fuel_grade dabchick/engine/grades
        dabchick/engine""",
    "only what the dial shows rests on it, and that is then not shown": """
        dabchick/flaps/*/correction dabchick/dial_first_mark""",
    "another source says the same, or the owner's trust in one": """
        dabchick/prefer* dabchick/performance/*/roll dabchick/performance/*/over_50ft
        dabchick/performance/*/flap dabchick/performance/book-climb/speed""",
    "only the band of a figure": "*/sd dabchick/performance/constants/seen",
    "what is there is what is said to be there": """
        week/loads/dabchick-alone/placed week/loads/dabchick-alone/placed/*/bay
        dabchick/configurations/shelf-out/changes dabchick/tanks/main/usable
        week/legs/to-saltpan/takeoff_flap week/legs/to-saltpan/landing_flap""",
    "a soft thing without a longest part has none": "*/items/*/size/longest",
    "the reading is net": "dabchick/configurations/shelf-in/weighing/scales/2/tare",
    "the record says that it is in it already": "dabchick/engine/oil",
    "the angle only tells a flap that is up": "dabchick/flaps/*/angle",
    "without its strip the air is that of the leg": "air-7-from/strip",
    "only other hours rest on it": "air-7-from/day",
}  # fmt: skip
PATTERNS = {pattern for patterns in NOT_NEEDED.values() for pattern in patterns.split()}


def _bundle() -> dict[str, Any]:
    bundle = json.loads((FIXTURES / "bundle.json").read_text(encoding="utf-8"))
    bundle["documents"] = [d for d in bundle["documents"] if d["id"] in DOCUMENTS]
    trip = next(d for d in bundle["documents"] if d["kind"] == "trip")
    trip["legs"] = [leg for leg in trip["legs"] if leg["id"] == LEG]
    trip["loads"] = [load for load in trip["loads"] if load["id"] == LOAD]
    trip["people"] = ["wren"]
    # limits of wind that are somebody's own: guessed ones would take the bare yes away
    plane = next(d for d in bundle["documents"] if d["id"] == "dabchick")
    for limit in ("crosswind", "tailwind", "gust_spread", "wind"):
        plane["owner"][limit]["origin"] = "measured"
    aboard = {placed["item"] for placed in trip["loads"][0]["placed"]}
    for kit in (d for d in bundle["documents"] if d["kind"] == "kit"):
        kit["items"] = [item for item in kit["items"] if item["id"] in aboard]
    return bundle | {"open": {"trip": "week", "leg": LEG}}


BUNDLE = _bundle()


def verdicts(bundle: dict[str, Any]) -> dict[str, str] | None:
    reply = json.loads(handle("answer", json.dumps({**bundle, "now": NOW})))
    if "error" in reply:
        assert reply["error"]["code"] != "internal"
        return None
    return {a["question"]: a["verdict"] for a in reply["result"]["legs"][0]["answers"]}


def _called(path: tuple[str | int, ...]) -> str:
    """The place with documents and elements of lists by their names."""
    node: Any = BUNDLE["documents"]
    names = []
    for part in path[1:]:
        node = node[part]
        named = isinstance(part, int) and isinstance(node, dict)
        keys = [key for key in ("id", "item", "tank", "person") if named and key in node]
        names.append(str(node[keys[0]] if keys else part))
    return "/".join(names)


def test_the_leg_is_a_plain_yes_before_anything_is_taken_out() -> None:
    assert set((verdicts(BUNDLE) or {}).values()) == {"yes"}


@pytest.mark.parametrize("document", DOCUMENTS)
def test_what_is_taken_out_takes_the_yes_away_or_stands_above_with_its_reason(document: str) -> None:
    index = next(i for i, d in enumerate(BUNDLE["documents"]) if d["id"] == document)
    still = []
    for path in paths(BUNDLE["documents"][index], ("documents", index)):
        name = _called(path)
        if not isinstance(path[-1], str) or {"typed", "note", "origin"} & set(path):
            continue
        if any(fnmatch(name, pattern) for pattern in PATTERNS):
            continue
        bundle = copy.deepcopy(BUNDLE)
        del at(bundle, path[:-1])[path[-1]]
        found = verdicts(bundle)
        if found is not None and set(found.values()) == {"yes"}:
            still.append(name)
    assert still == []


def test_no_reason_stands_for_nothing() -> None:
    every = {_called(path) for path in paths(BUNDLE["documents"], ("documents",))}
    assert [pattern for pattern in PATTERNS if not any(fnmatch(name, pattern) for name in every)] == []
