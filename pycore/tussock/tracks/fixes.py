"""Fixes as they were read, and the checks that every track passes, whatever its format."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .refusing import message, refused

Array = NDArray[np.float64]

#: A day at one fix a second is 86,400.
MOST = 200_000
FEWEST = 10
#: No aeroplane of ours is faster over the ground [m/s]; a position that says so is wild.
FASTEST = 150.0
#: Share of wild positions, or of times that go back, beyond which the track is refused.
MOST_WILD = 0.05
#: A pause longer than this is a wrong clock [s].
LONGEST_PAUSE = 30 * 86_400.0
_EARLIEST = datetime(2000, 1, 1, tzinfo=UTC).timestamp()
_LATEST = datetime(2100, 1, 1, tzinfo=UTC).timestamp()


@dataclass
class Read:
    """What a reader found: a row per fix [s since 1970 UTC, deg, deg, m, m/s, m], nan where there is none.

    `places` names where in the file each row stands (a line or a point, by `unit`).
    """

    source: str
    unit: str
    rows: list[tuple[float, float, float, float, float, float]] = field(default_factory=list)
    places: list[int] = field(default_factory=list)
    cautions: list[dict[str, Any]] = field(default_factory=list)

    def add(self, place: int, row: tuple[float, float, float, float, float, float]) -> None:
        if len(self.rows) >= MOST:
            raise refused("too_large", message("track.bad.many", n=MOST), "", "track.expected.small")
        self.rows.append(row)
        self.places.append(place)


@dataclass(frozen=True)
class Track:
    """A sound track: times [s since 1970 UTC] rise; `latitude`, `longitude` [deg]; nan where not recorded."""

    source: str
    times: Array
    latitude: Array
    longitude: Array
    height: Array
    speed: Array
    accuracy: Array
    cautions: list[dict[str, Any]]


def moment(text: str) -> float | None:
    """Seconds since 1970 UTC of an ISO 8601 time; one without an offset counts as UTC. None for no time."""
    try:
        read = datetime.fromisoformat(text.strip().replace("Z", "+00:00"))
    except ValueError:
        return None
    return (read if read.tzinfo else read.replace(tzinfo=UTC)).timestamp()


def iso(seconds: float) -> str:
    """The time as text, in UTC."""
    return datetime.fromtimestamp(round(float(seconds), 1), UTC).isoformat(timespec="seconds")


def sound(read: Read) -> Track:
    """The track of what was read. Raises `Refused` with the place where it goes wrong."""
    if len(read.rows) < FEWEST:
        raise refused("missing", message("track.bad.few", n=len(read.rows), least=FEWEST))
    table, places = np.array(read.rows, dtype=float), np.array(read.places)
    cautions = list(read.cautions)

    def at(index: int) -> dict[str, Any]:
        return {"place": message(f"track.place.{read.unit}", n=int(places[index]))}

    def path(index: int) -> str:
        return f"/{read.unit}/{places[index]}"

    times, latitude, longitude = table[:, 0], table[:, 1], table[:, 2]
    for bad, why in (
        (~np.isfinite(times), "track.bad.time"),
        ((times < _EARLIEST) | (times > _LATEST), "track.bad.year"),
        (~((np.abs(latitude) <= 90.0) & (np.abs(longitude) <= 180.0)), "track.bad.position"),
    ):
        if bad.any():
            first = int(np.argmax(bad))
            raise refused("out_of_range", message(why, **at(first)), path(first))
    steps = np.diff(times)
    if steps.size and steps.max() > LONGEST_PAUSE:
        first = int(np.argmax(steps)) + 1
        days = float(steps.max()) / 86_400.0
        raise refused("inconsistent", message("track.bad.leap", days=round(days), **at(first)), path(first))
    table, kept = _rising(table)
    back = int(np.count_nonzero(np.diff(times) < 0))
    if np.count_nonzero(~kept) > max(MOST_WILD * len(kept), 2) and back:
        first = int(np.argmax(np.diff(times) < 0)) + 1
        raise refused("inconsistent", message("track.bad.backwards", **at(first)), path(first))
    if (~kept).any():
        cautions.append(message("track.caution.clock", n=int((~kept).sum())))
    places = places[kept]
    tame = _tame(table)
    if np.count_nonzero(~tame) > max(MOST_WILD * len(tame), 3):
        first = int(np.argmax(~tame))
        raise refused("inconsistent", message("track.bad.jumps", **at(first)), path(first))
    if (~tame).any():
        cautions.append(message("track.caution.jumps", n=int((~tame).sum())))
    table = table[tame]
    if len(table) < FEWEST:
        raise refused("missing", message("track.bad.few", n=len(table), least=FEWEST))
    speed = np.where((table[:, 4] >= 0.0) & (table[:, 4] < FASTEST), table[:, 4], np.nan)
    height = np.where(np.abs(table[:, 3]) < 20_000.0, table[:, 3], np.nan)
    accuracy = np.where(table[:, 5] > 0.0, table[:, 5], np.nan)
    return Track(read.source, table[:, 0], table[:, 1], table[:, 2], height, speed, accuracy, cautions)


def _rising(table: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Rows later than all before them; a time told twice counts once."""
    latest = np.maximum.accumulate(table[:, 0])
    kept = np.concatenate([[True], table[1:, 0] > latest[:-1]])
    return table[kept], kept


def _tame(table: Array) -> NDArray[np.bool_]:
    """Rows that can be reached from the last tame one without flying faster than `FASTEST`."""
    metres = 111_200.0
    north, east = table[:, 1] * metres, table[:, 2] * metres * np.cos(np.radians(table[:, 1]))
    tame = np.ones(len(table), dtype=bool)
    # all at once where nothing jumps, as is usual
    run = np.hypot(np.diff(north), np.diff(east)) / np.maximum(np.diff(table[:, 0]), 0.2)
    if not (run > FASTEST).any():
        return tame
    # start from the first fix that the next one agrees with
    last = int(np.argmax(run <= FASTEST))
    tame[:last] = False
    for k in range(last + 1, len(table)):
        way = np.hypot(north[k] - north[last], east[k] - east[last])
        if way > FASTEST * max(table[k, 0] - table[last, 0], 0.2) + 30.0:
            tame[k] = False
        else:
            last = k
    return tame
