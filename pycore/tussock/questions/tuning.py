"""An aeroplane tuned to its notebook: the fit of one configuration, and whether it may be used.

The fit is kept as long as the documents that it rests on are the same objects (the gate keeps a document by
its text), so that an edit of the air does not pay for it again.
"""

from __future__ import annotations

import math
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..documents import Aeroplane, Bundle, Notebook, Strip, Trip
from ..sums.tuning.fit import Fit, fit
from ..sums.tuning.model import KINDS, Series, predict
from ..sums.tuning.parameters import INDEX, OFFSETS, Array
from ..sums.tuning.predict import Draws, draws_of
from .answer import message
from .beliefs import Belief, belief
from .entries import Figured, Read, Reader, series_of

Message = dict[str, Any]
#: draws that an answer is made from; a run of its own may take 10,000
DRAWS = 1000
#: a notebook contradicts itself: so many figures are slips, or the rest is so far off (mean square)
MOST_SLIPS, MOST_OFF = 1.0 / 3.0, 4.0
#: a phase rests on so many sound entries at least: one alone can be wrong and nothing would tell
LEAST_ENTRIES = 2
#: kinds that tell of a phase
PHASES = {
    "takeoff": ("roll", "away", "over"),
    "landing": ("landing", "arrival", "from_over"),
    # a glide tells nothing of the thrust
    "climb": ("climb", "level"),
}
#: and of these one at least is of the very thing
ITSELF = {"climb": ("climb",)}
#: kinds that bear on a phase though they are none of it: a tired engine turns slower, and is slower level
BEARING = {"takeoff": ("level", "static", "stall"), "landing": ("stall",), "climb": ("static",)}
#: kinds of which more is better
MORE_IS_BETTER = ("climb", "level", "static")
#: usual entries are worse than the documents when the middle one is by so many of its spreads
WORSE = 1.0
#: kinds that tell of the way through the air of a run, without which a roll is not held against a length
THROUGH_AIR = {"takeoff": ("away", "over"), "landing": ("arrival", "from_over")}


@dataclass(frozen=True)
class Seen:
    """Masses [kg] and density altitudes [m] of the entries that count for one phase."""

    mass_low: float
    mass_high: float
    density_altitude_low: float
    density_altitude_high: float


@dataclass
class Tuned:
    """What came of tuning one configuration. Not `usable`: `reasons` say why, and the old constants stay."""

    plane: Aeroplane
    rig: str
    notebooks: list[Notebook]
    believed: Belief
    read: Read
    series: list[Series] = field(default_factory=list)
    found: Fit | None = None
    draws: Draws | None = None
    reasons: list[Message] = field(default_factory=list)
    seen: dict[str, Seen] = field(default_factory=dict)
    #: phases with fewer sound entries than they have to rest on, and how many
    thin: dict[str, int] = field(default_factory=dict)
    #: phases whose way to or from 50 ft was noted
    through_air: set[str] = field(default_factory=set)
    #: slips on the bad side by phase: how many, and whether the latest entry is one
    worse: dict[str, tuple[int, bool]] = field(default_factory=dict)
    #: phases of which usual entries tell, and whether these are worse than the documents say
    noted: dict[str, bool] = field(default_factory=dict)
    #: the stall over the document's, and how many sound entries tell it
    stall: tuple[float, int] = (1.0, 0)
    #: surfaces on which usual runs were noted, by phase
    surfaces: dict[str, set[str]] = field(default_factory=dict)

    @property
    def usable(self) -> bool:
        return not self.reasons and self.found is not None

    @property
    def place(self) -> list[int]:
        """For each figure of the fit, in its order, the index among the figures that were read."""
        return [index for one in self.series for index in one.entry]


def too_few(made: Tuned, phase: str) -> Message | None:
    """Why the notebook is silent on a phase that it has an entry of."""
    if phase not in made.thin:
        return None
    name = made.notebooks[0].name
    return message("reason.too_few_noted", source=name, count=made.thin[phase], least=LEAST_ENTRIES)


def notebooks_of(bundle: Bundle, plane: Aeroplane) -> list[Notebook]:
    return [notebook for notebook in bundle.all(Notebook) if notebook.aeroplane == plane.id]


def most_noted(notebooks: list[Notebook], plane: Aeroplane) -> str:
    """The configuration with most entries; the first where there are none."""
    rigs = [entry.configuration for notebook in notebooks for entry in notebook.entries]
    names = [c.id for c in plane.configurations]
    return max(names, key=rigs.count)


_KEPT: OrderedDict[tuple[Any, ...], tuple[list[Any], Tuned]] = OrderedDict()
_MOST_KEPT = 8


def tuned(bundle: Bundle, plane: Aeroplane, rig: str) -> Tuned | None:
    """The aeroplane tuned in that configuration; None where nobody noted anything in it."""
    notebooks = notebooks_of(bundle, plane)
    entries = [e for n in notebooks for e in n.entries if e.configuration == rig]
    if not entries:
        return None
    rests_on: list[Any] = [plane, *notebooks]
    rests_on += [bundle.of(Strip, name) for name in sorted({e.strip for e in entries if e.strip})]
    if any(e.mass is None and e.load is not None for e in entries):
        rests_on += bundle.all(Trip)
        rests_on += [d for d in bundle.documents if d.kind in ("person", "kit")]
    key = (rig, *(id(document) for document in rests_on))
    kept = _KEPT.get(key)
    if kept is not None:
        _KEPT.move_to_end(key)
        return kept[1]
    made = _tune(bundle, plane, rig, notebooks)
    # the documents are kept with it: an id is that of one object only while that lives
    _KEPT[key] = (rests_on, made)
    while len(_KEPT) > _MOST_KEPT:
        _KEPT.popitem(last=False)
    return made


def _tune(bundle: Bundle, plane: Aeroplane, rig: str, notebooks: list[Notebook]) -> Tuned:
    believed = belief(plane, rig, {notebook.id for notebook in notebooks})
    read = Reader(bundle, plane, rig, believed.source, believed.frame).all(notebooks)
    made = Tuned(plane, rig, notebooks, believed, read, reasons=list(believed.lacking))
    if made.reasons:
        return made
    assert believed.frame is not None and believed.prior is not None
    counted = [one for one in read.figures if one.entry.technique == "usual"]
    if not counted:
        made.reasons.append(message("tune.no_figures"))
        return made
    made.series = series_of(read.figures, believed.frame, believed.prior.mean)
    made.found = found = fit(believed.prior, made.series, believed.frame)
    # what went badly counts also where the notebook as a whole can't be used
    _look_for_worse(made)
    _hold_against_documents(made)
    if not bool(found.converged[0]):
        made.reasons.append(message("tune.not_converged", evaluations=found.evaluations))
    elif _contradicts(made):
        made.reasons.append(message("tune.contradicts", count=int(np.sum(_slips(made)))))
    else:
        made.draws = draws_of(found, DRAWS)
        _look_back(made)
    return made


def counts(made: Tuned) -> Array:
    """1 for the figures that the fit rests on, 0 for those flown otherwise than usual."""
    return np.concatenate([one.counts for one in made.series])


def _slips(made: Tuned) -> Any:
    assert made.found is not None
    return (made.found.slip[0] > 0.5) & (counts(made) > 0.0)


def _rows(made: Tuned, *columns: Any) -> list[tuple[Any, ...]]:
    """The usual figures of the fit, each with its values of some columns in the fit's order."""
    return [
        (made.read.figures[place], *values)
        for place, counted, *values in zip(made.place, counts(made), *columns, strict=True)
        if counted > 0.0
    ]


def sound(made: Tuned) -> list[Figured]:
    """The usual figures that belong to the rest."""
    return [one for one, slip in _rows(made, _slips(made)) if not slip]


def _contradicts(made: Tuned) -> bool:
    assert made.found is not None
    rows = _rows(made, _slips(made), made.found.left_out[0] ** 2)
    for phase in (*PHASES.values(), tuple(KINDS)):
        mine = [row for row in rows if row[0].kind in phase]
        wrong = len({one.entry.id for one, slip, _ in mine if slip})
        if wrong >= 2 and wrong > MOST_SLIPS * len({one.entry.id for one, *_ in mine}):
            return True
        off = [each for _, slip, each in mine if not slip]
        if len(off) >= 4 and float(np.mean(off)) > MOST_OFF:
            return True
    return False


def _look_back(made: Tuned) -> None:
    """Masses, density altitudes and surfaces that sound, usual figures were noted at."""
    assert made.found is not None
    figures = sound(made)
    stalls = len({one.entry.id for one in figures if one.kind == "stall"})
    made.stall = (math.exp(made.found.mean[0][INDEX["stall"]]), stalls)
    for phase, kinds in PHASES.items():
        if not any(one.kind in kinds for one, *_ in _rows(made)):
            continue
        mine = [one for one in figures if one.kind in kinds]
        noted = len({one.entry.id for one in mine})
        itself = ITSELF.get(phase, kinds)
        if not any(one.kind in itself for one in mine):
            noted = 0
        if any(one.kind in THROUGH_AIR.get(phase, ()) for one in mine):
            made.through_air.add(phase)
        if noted < LEAST_ENTRIES:
            made.thin[phase] = noted
            continue
        masses = [one.given["mass"] for one in mine]
        heights = [one.given["density_altitude"] for one in mine]
        made.seen[phase] = Seen(min(masses), max(masses), min(heights), max(heights))
        made.surfaces[phase] = {
            str(s) for one in mine if (s := getattr(one.entry, "surface", None)) is not None
        }


def _look_for_worse(made: Tuned) -> None:
    """Usual entries that went too badly to belong to the rest: an engine that tires looks so."""
    assert made.found is not None
    rows = _rows(made, made.found.residual[0], _slips(made))
    for phase, kinds in PHASES.items():
        mine = [row for row in rows if row[0].kind in (*kinds, *BEARING[phase])]
        bad = {one.entry.id for one, residual, slip in mine if slip and _worse(one.kind, residual) > 0.0}
        if bad:
            latest = max(mine, key=lambda row: row[0].entry.at)[0].entry.id
            made.worse[phase] = (len(bad), latest in bad)


def _hold_against_documents(made: Tuned) -> None:
    """Whether the usual entries of a phase, kind by kind, are worse than what the documents make of it."""
    assert made.found is not None
    believed = made.believed
    assert believed.frame is not None and believed.prior is not None
    told = np.concatenate(
        [
            one.value.reshape(-1)
            - predict(one.kind, believed.prior.mean[None], believed.frame, one.given).reshape(-1)
            for one in made.series
        ]
    )
    rows = _rows(made, told, made.found.sigma[0])
    for phase, kinds in PHASES.items():
        mine = [row for row in rows if row[0].kind in (*kinds, *BEARING[phase])]
        if not mine:
            continue
        off: dict[str, list[float]] = {}
        for one, residual, spread in mine:
            off.setdefault(one.kind, []).append(_worse(one.kind, residual) / spread)
        made.noted[phase] = any(float(np.median(each)) > WORSE for each in off.values())


def _worse(kind: str, residual: float) -> float:
    """By how much a figure is worse than another that its residual is against."""
    return -residual if kind in MORE_IS_BETTER else residual


def offsets(made: Tuned) -> list[dict[str, Any]]:
    """ "My best" and "careless" against "my usual": mean of the logarithm of distance, its spread, entries.

    Estimated after the fit, from what it leaves over: the fit itself never sees them.
    """
    if made.found is None:
        return []
    told = []
    for technique, (middle, spread) in OFFSETS.items():
        mine = [
            i
            for i, place in enumerate(made.place)
            if made.read.figures[place].entry.technique == technique
            and made.read.figures[place].kind in (*PHASES["takeoff"], *PHASES["landing"])
        ]
        weights = 1.0 / made.found.sigma[0][mine] ** 2
        whole = float(np.sum(weights)) + 1.0 / spread**2
        mean = (float(np.sum(weights * made.found.residual[0][mine])) + middle / spread**2) / whole
        told.append(
            {"technique": technique, "factor": math.exp(mean), "sd": whole**-0.5, "figures": len(mine)}
        )
    return told


assert set(KINDS) >= {kind for kinds in PHASES.values() for kind in kinds}
