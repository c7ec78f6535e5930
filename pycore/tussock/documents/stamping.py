"""Edit stamps: which of two is the later, and whether one edit had seen the other.

How an edit is stamped, on whatever device:
- A field gets its stamp at its own pointer; a figure, a text, a list whose elements have no names are fields.
- A whole that is put in the place of another (an element that is added, another kind of wind) is stamped at
  its pointer, and stamps below it are dropped. It then counts before edits inside that did not see it.
- An element that is removed leaves its stamp in `removed`; a field that is emptied leaves it in `stamps`.
- A list with names is stamped only when its order changes or something is put elsewhere than at its end.
- `over` is the time of the stamp that stood there (for a whole: of the latest at or below it). Where that one
  is the same device's own, its `over` stays: however long a finger drags, the edit is over what others made.
- A document that comes out of a merge is stored as it is, without a stamp of its own.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any

StampData = dict[str, Any]
Order = tuple[datetime, int, str, datetime, str]

_EVER = datetime.min.replace(tzinfo=UTC)


def moment(text: str | None) -> datetime:
    """The instant of a stamp's `at` or `over`; None is before all others."""
    return datetime.fromisoformat(text.replace("Z", "+00:00")) if text else _EVER


def order(stamp: StampData | None) -> Order | None:
    """What stamps are compared by: (at, count, by), then whatever differs, so that no two differ unseen."""
    if stamp is None:
        return None
    over = moment(stamp.get("over"))
    return moment(stamp["at"]), stamp.get("count", 0), stamp["by"], over, canonical(stamp)


def later(one: StampData | None, other: StampData | None) -> StampData | None:
    """The later of two stamps; any stamp is later than none."""
    mine, theirs = order(one), order(other)
    if mine is None or theirs is None:
        return one if theirs is None else other
    return one if mine >= theirs else other


def is_later(one: StampData | None, other: StampData | None) -> bool:
    """Whether `one` is later than `other`, strictly."""
    mine, theirs = order(one), order(other)
    return mine is not None and (theirs is None or mine > theirs)


def latest(stamps: Iterable[StampData | None]) -> StampData | None:
    found: StampData | None = None
    for stamp in stamps:
        found = later(found, stamp)
    return found


def saw(winner: StampData, loser: StampData, *, whole: bool = False) -> bool:
    """Whether the edit of `winner` was made by someone who had that of `loser` before them.

    A device has always seen its own edits. Of a whole it is enough to have seen something as late inside it.
    """
    if winner["by"] == loser["by"]:
        return True
    if winner.get("over") is None:
        return False
    over, at = moment(winner["over"]), moment(loser["at"])
    return over >= at if whole else over == at


def over(before: Iterable[StampData | None], by: str) -> str | None:
    """The `over` of a new stamp by device `by`, from the stamps at (and, for a whole, below) its pointer."""
    found = latest(before)
    if found is None:
        return None
    return found.get("over") if found["by"] == by else found["at"]


def canonical(value: Any) -> str:
    """One text for one JSON value."""
    return json.dumps(value, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
