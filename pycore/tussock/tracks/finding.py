"""A file of a track to the runs in it, with their figures, and what they would be as notebook entries."""

from __future__ import annotations

import hashlib
import math
from typing import Any

import numpy as np

from ..documents import Strip
from ..sums.places import geodesic
from ..sums.tracks.measured import Fixes, Measured, Told, measure
from ..sums.tracks.noise import Noise
from ..sums.tracks.runs import find_runs, ground_speed
from ..sums.tracks.walked import measure_walk
from .decoding import LARGEST, bytes_of, text_of, too_large
from .fixes import Array, Track, iso, sound
from .gpx import read_gpx
from .refusing import message, refused
from .table import read_table

#: A strip further from where a run began than this is another one [m].
_NEAR = 4000.0
#: A direction is meant when the run's bearing is within this of it [rad].
_ALONG = math.radians(25.0)
#: What a receiver calls its accuracy is some 68 % of the error in the plane, not along one axis.
_PLANE = 1.5
#: WGS84: semi-major axis [m] and first eccentricity squared.
_A, _E2 = 6_378_137.0, 6.694379990e-3


def read_track(params: dict[str, Any]) -> tuple[Track, str]:
    """The track of `{"base64"}` or `{"text"}`, and the digest of its bytes. Raises `Refused`."""
    given = params.get("base64", params.get("text"))
    if not isinstance(given, str):
        raise refused("missing", message("track.bad.empty"), "/text")
    if "base64" in params:
        data = bytes_of(given)
        text = text_of(data)
    else:
        if len(given) > LARGEST:
            raise too_large()
        data = given.encode("utf-8", "replace")
        text = text_of(data)
    start = text.lstrip("\ufeff \t\r\n")
    if start[:1] in "{[":
        raise refused("not_supported", message("track.bad.documents"))
    read = read_gpx(text) if start.startswith("<") else read_table(text)
    return sound(read), hashlib.sha256(data).hexdigest()


def _plane(track: Track) -> tuple[Array, Array]:
    """East and north [m] of a place in the middle; good to a part in a thousand within some 50 km."""
    middle = math.radians(float(np.median(track.latitude)))
    bend = 1.0 - _E2 * math.sin(middle) ** 2
    north = np.radians(track.latitude - np.median(track.latitude)) * _A * (1 - _E2) / bend**1.5
    turned = (track.longitude - np.median(track.longitude) + 540.0) % 360.0 - 180.0
    return np.radians(turned) * _A * math.cos(middle) / math.sqrt(bend), north


def _noise(track: Track) -> Noise:
    """A phone as usual, or as much worse (never better) as the track says itself."""
    told = track.accuracy[~np.isnan(track.accuracy)]
    usual = Noise()
    if told.size < len(track.times) / 2:
        return usual
    return usual.scaled(float(np.clip(np.median(told) / _PLANE / usual.position, 1.0, 10.0)))


def entries_of(params: dict[str, Any], strips: list[Strip]) -> dict[str, Any]:
    """Runs of a track and entries proposed: see `api.track`."""
    track, digest = read_track(params)
    headwind = params.get("headwind")
    wind = float(headwind) if isinstance(headwind, (int, float)) and math.isfinite(headwind) else 0.0
    east, north = _plane(track)
    origin = float(track.times[0])
    times = track.times - origin
    used = ground_speed(times, east, north, track.speed)
    fixes = Fixes(times, east, north, track.height, track.speed, used)
    noise = _noise(track)
    runs = [measure(run, fixes, noise, wind) for run in find_runs(times, used, track.height)]
    about = {
        "digest": digest,
        "source": track.source,
        "fixes": len(times),
        "start": iso(origin),
        "end": iso(float(track.times[-1])),
        "apart": float(np.median(np.diff(times))),
        "has_speed": bool(np.mean(~np.isnan(track.speed)) > 0.5),
        "has_height": bool(np.mean(~np.isnan(track.height)) > 0.5),
    }
    cautions = list(track.cautions)
    if not runs:
        cautions.append(message("track.reason.no_run"))
    told = [_told(number, run, track, origin, digest, strips) for number, run in enumerate(runs, start=1)]
    return {"track": about, "cautions": cautions, "runs": told}


def _told(
    number: int, run: Measured, track: Track, origin: float, digest: str, strips: list[Strip]
) -> dict[str, Any]:
    """One run as JSON."""
    at = iso(origin + run.at) if math.isfinite(run.at) else None
    told: dict[str, Any] = {
        "id": f"run-{number}",
        "what": run.what,
        "ok": not run.reason,
        "reason": message(f"track.reason.{run.reason}", **run.values) if run.reason else None,
        "at": at,
        "rough": False,
        "cautions": [message(f"track.caution.{name}", **values) for name, values in run.cautions],
    }
    if not run.figures:
        return told
    # rough: refused as a measurement, offered with its accuracy to a person who wants it all the same
    told["rough"] = bool(run.reason)
    told["cautions"].append(
        message("track.caution.held" if run.what == "takeoff" else "track.caution.braked")
    )
    strip, direction = _place(run, track, origin, strips)
    start, end = sorted((run.at, run.end))
    ref = {"digest": digest, "start": iso(origin + start), "end": iso(origin + end)}
    names = {"rate": "sink", "climb_speed": "approach_speed"} if run.what == "landing" else {}
    figures = {
        names.get(name, name): {"value": _round(one.value), "sd": _round(one.sd)}
        for name, one in run.figures.items()
    }
    place = ({"strip": strip.id} if strip else {}) | ({"direction": direction} if direction else {})
    entries: list[dict[str, Any]] = [
        {"what": run.what, "at": at, "roll": _figure(run.figures["roll"])} | place | {"track": ref}
    ]
    over = run.figures.get("over_50ft")
    if over and over.sd < 0.15 * over.value and over.value > run.figures["roll"].value:
        entries[0]["over_50ft"] = _figure(over)
        if run.what == "landing":
            entries[0]["from_height"] = {"value": 15.24, "origin": "measured", "sd": 3.0}
    if run.what == "takeoff" and "rate" in run.figures:
        # the speed on the dial is not in a track: whoever takes the entry gives it
        entries.append({"what": "climb", "at": at, "rate": _figure(run.figures["rate"]), "track": ref})
    return told | {
        "seconds": {"start": _round(run.end), "at": _round(run.at), "sd": _round(run.at_sd)},
        "bearing": run.bearing,
        "strip": strip.id if strip else None,
        "direction": direction,
        "figures": figures,
        "fixes": [[_round(value) for value in row] for row in run.fixes],
        "entries": entries,
    }


def _place(
    run: Measured, track: Track, origin: float, strips: list[Strip]
) -> tuple[Strip | None, str | None]:
    """The strip near to where the run was, and its direction by bearing."""
    index = int(np.searchsorted(track.times, origin + run.at).clip(0, len(track.times) - 1))
    here = float(track.latitude[index]), float(track.longitude[index])
    best: tuple[float, Strip] | None = None
    for strip in strips:
        if strip.position is None:
            continue
        away = float(geodesic(*here, strip.position.latitude, strip.position.longitude).distance)
        if away < _NEAR and (best is None or away < best[0]):
            best = away, strip
    if best is None:
        return None, None
    turns = {
        one.id: abs((one.bearing - run.bearing + math.pi) % (2 * math.pi) - math.pi)
        for one in best[1].directions
    }
    nearest = min(turns, key=lambda name: turns[name])
    return best[1], nearest if turns[nearest] < _ALONG else None


def walk_of(params: dict[str, Any]) -> dict[str, Any]:
    """Length and slope of a walked strip: see `api.walk`."""
    track, digest = read_track(params)
    east, north = _plane(track)
    times = track.times - track.times[0]
    walked = measure_walk(times, east, north, track.height, track.speed, _noise(track))
    return {
        "digest": digest,
        "fixes": len(times),
        "passes": walked.passes,
        "length": _figure(walked.length) if walked.length else None,
        "slope": {"value": _round(walked.slope.value), "sd": _round(walked.slope.sd)}
        if walked.slope
        else None,
        "bearing": walked.bearing if math.isfinite(walked.bearing) else None,
        "reason": message(f"walk.reason.{walked.reason}") if walked.reason else None,
        "slope_reason": message(f"walk.reason.{walked.slope_reason}") if walked.slope_reason else None,
        "cautions": track.cautions,
    }


def _round(value: float) -> float | None:
    return float(f"{value:.5g}") if math.isfinite(value) else None


def _figure(told: Told) -> dict[str, Any]:
    return {"value": _round(told.value), "origin": "measured", "sd": _round(told.sd)}
