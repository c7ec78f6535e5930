"""Entries of a notebook as figures for the fit: each with its conditions, or why it is left out."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

import numpy as np

from ..documents import Aeroplane, Bundle, Notebook, Strip, Trip
from ..documents.aeroplane import FlapSetting
from ..documents.base import Figure
from ..documents.notebook import (
    ClimbEntry,
    CruiseEntry,
    FillEntry,
    GlideEntry,
    LandingEntry,
    LevelEntry,
    NotebookEntry,
    StallEntry,
    StaticEntry,
    TakeoffEntry,
)
from ..documents.performance import Constants
from ..documents.trip import Leg
from ..sums.air import air_density, density_altitude, isa_pressure
from ..sums.friction import braking_friction_band, rolling_friction_band
from ..sums.ground import mean_slope
from ..sums.tuning.governor import reaches
from ..sums.tuning.model import Frame, Series, lift_off_speed, predict, screen_speed
from ..sums.tuning.parameters import DOUBT, SUSPECTED, Array
from .answer import message
from .flight import Flight
from .masses import Masses
from .speeds import AT_50FT, LIFT_OFF, TOUCHDOWN, Setting
from .working import Working

Message = dict[str, Any]
SCREEN = 15.24
#: accuracy where none was noted, as a part of the figure; rates in m/s
ACCURACY = {"roll": 0.07, "over": 0.08, "speed": 0.02, "rotation": 0.01, "flow": 0.06, "rate": 0.25}
#: what a reading may be off besides: wind [m/s], mass [1], airspeed [1]
WIND_READ, MASS_READ, SPEED_READ = 0.8, 0.01, 0.015
#: and a mass that was guessed, where nobody said how well
MASS_GUESSED = 0.05
#: the same figures within this time [s] are one entry, noted twice
TWICE = 3600.0
#: drag of a flap that nobody gave, for each radian
FLAP_DRAG = 0.017
#: an entry of fuel filled tells the flow of a whole flight: this much more uncertain
FILL_SPREAD = 0.15
KNOT = 1852 / 3600
#: a governed propeller's curve has to go on this far beyond a fastest level flight that is noted
BEYOND = 1.05


@dataclass
class Figured:
    """One figure of an entry: its kind in the model, value as measured, spread of the logarithm or rate."""

    entry: NotebookEntry
    kind: str
    measured: float
    sd: float
    given: dict[str, float]


@dataclass
class Read:
    """All figures of a notebook, and what was left out with its reason; what was taken is in `assumed`."""

    figures: list[Figured] = field(default_factory=list)
    left_out: list[dict[str, Any]] = field(default_factory=list)
    assumed: list[Message] = field(default_factory=list)

    def assume(self, said: Message) -> None:
        if said not in self.assumed:
            self.assumed.append(said)


class _Lacks(Exception):
    """An entry lacks what it takes; the message says what."""

    def __init__(self, text: str, **values: Any) -> None:
        super().__init__(text)
        self.reason = message(text, **values)


class Reader:
    """Reads the entries of one aeroplane in one configuration."""

    def __init__(
        self, bundle: Bundle, plane: Aeroplane, rig: str, source: Constants | None, frame: Frame | None
    ) -> None:
        self.bundle, self.plane, self.rig, self.source, self.frame = bundle, plane, rig, source, frame
        self.governed = plane.propeller is not None and plane.propeller.pitch_is == "constant_speed"
        self.read = Read()
        self.noted: dict[str, list[datetime]] = {}

    def all(self, notebooks: list[Notebook]) -> Read:
        for notebook in notebooks:
            for entry in notebook.entries:
                if entry.configuration != self.rig:
                    self._leave(entry, message("tune.left.other_rig"))
                    continue
                if self._again(entry):
                    self._leave(entry, message("tune.left.twice"))
                    continue
                try:
                    self._entry(entry)
                except _Lacks as lack:
                    self._leave(entry, lack.reason)
        return self.read

    def _again(self, entry: NotebookEntry) -> bool:
        """Whether it is one that was noted already, by a thumb that pressed twice."""
        figures = entry.model_dump_json(exclude={"id", "at", "note", "suspect"})
        before = self.noted.setdefault(figures, [])
        twice = any(abs((entry.at - at).total_seconds()) <= TWICE for at in before)
        before.append(entry.at)
        return twice

    def _leave(self, entry: NotebookEntry, reason: Message, figure: str | None = None) -> None:
        self.read.left_out.append({"entry": entry.id, "what": entry.what, "figure": figure, "reason": reason})

    # --- one entry -----------------------------------------------------------------------------------------

    def _entry(self, entry: NotebookEntry) -> None:
        if isinstance(entry, StaticEntry):
            if self.governed:
                raise _Lacks("tune.left.governed")
            self._add(entry, "static", entry.rotation, "rotation", self._air(entry))
        elif isinstance(entry, (TakeoffEntry, LandingEntry)):
            self._run(entry)
        elif isinstance(entry, FillEntry):
            self._fill(entry)
        elif isinstance(entry, StallEntry):
            given = self._heavy(entry) | self._stall(self._flap(entry, "landing"))
            measured = self._dial(entry, entry.indicated.value, given, true=False)
            self._add(entry, "stall", entry.indicated, "speed", given, measured)
        else:
            self._aloft(entry)

    def _aloft(self, entry: ClimbEntry | LevelEntry | GlideEntry | CruiseEntry) -> None:
        given = self._heavy(entry) | {"flap_drag": self._flap_drag(self._flap(entry, "cruise"))}
        speed = self._dial(entry, entry.indicated.value, given, true=True)
        given["speed"] = speed
        if isinstance(entry, ClimbEntry):
            self._reached((speed,))
            self._add(entry, "climb", entry.rate, "rate", given)
        elif isinstance(entry, GlideEntry):
            self._add(entry, "glide", entry.sink, "rate", given)
        elif isinstance(entry, LevelEntry):
            if self.governed:
                given |= self._turning(entry, speed)
            self._add(entry, "level", entry.indicated, "speed", given, speed)
        elif entry.flow is not None:
            self._add(entry, "flow", entry.flow, "flow", given)
        else:
            raise _Lacks("tune.left.no_flow")
        level = isinstance(entry, LevelEntry) and self.governed
        if isinstance(entry, (LevelEntry, CruiseEntry)) and entry.rotation is not None and not level:
            text = "tune.left.governed" if self.governed else "tune.left.rotation_aloft"
            self._leave(entry, message(text), "rotation")

    def _turning(self, entry: LevelEntry, speed: float) -> dict[str, float]:
        """What the governor held in a level run: as noted, else what it holds at full throttle."""
        if self.frame is None or self.frame.governor is None:
            return {}
        held = float(np.asarray(self.frame.governor.rotation))
        turning = entry.rotation.value if entry.rotation is not None else held
        self._reached((speed * BEYOND,), turning)
        return {"turning": turning}

    def _reached(self, speeds: tuple[float, ...], turning: float | None = None) -> None:
        """Refuses true airspeeds [m/s] that the curve of a governed propeller does not reach."""
        if self.frame is None or self.frame.governor is None:
            return
        if not np.all(reaches(self.frame.governor, self.frame.propeller_diameter, np.array(speeds), turning)):
            raise _Lacks("tune.left.outside_curve")

    def _fill(self, entry: FillEntry) -> None:
        """Mean flow since the last full tanks, held against the cruise that the aeroplane has."""
        if entry.engine_time is None:
            raise _Lacks("tune.left.no_engine_time")
        cruise = next((c for c in self.plane.cruises if c.speed is not None and c.speed_is == "true"), None)
        if cruise is None or cruise.speed is None:
            raise _Lacks("tune.left.no_cruise")
        given = self._heavy(entry) | {"flap_drag": 0.0, "speed": cruise.speed.value}
        flow = entry.volume.value / entry.engine_time.value
        if flow <= 0.0:
            raise _Lacks("tune.left.no_flow")
        self.read.assume(message("tune.assumed.fill"))
        self.read.figures.append(Figured(entry, "flow", flow, FILL_SPREAD, given))

    def _run(self, entry: TakeoffEntry | LandingEntry) -> None:
        landing = isinstance(entry, LandingEntry)
        flap = self._flap(entry, "landing" if landing else "takeoff")
        given = self._heavy(entry) | self._stall(flap) | self._factors(flap)
        given["flap_drag"] = self._flap_drag(flap)
        if entry.headwind is None:
            raise _Lacks("tune.left.no_wind")
        given["headwind"] = entry.headwind
        surface = entry.surface or self._surface(entry)
        given["friction"], given["braking"] = self.friction(surface, landing=landing)
        run = (entry.roll or entry.over_50ft or Figure(value=200.0, origin="measured")).value
        given["slope"] = entry.slope if entry.slope is not None else self._slope(entry, run)
        given["slope_away"] = max(given["slope"], 0.0)
        given["gust"] = 0.0
        given["from_height"] = SCREEN
        if isinstance(entry, LandingEntry) and entry.from_height is not None:
            given["from_height"] = entry.from_height.value
        first, second, whole = ("landing", "arrival", "from_over") if landing else ("roll", "away", "over")
        if not landing and self.frame is not None:
            self._reached(away_speeds(given))
        if entry.roll is not None:
            self._add(entry, first, entry.roll, "roll", given)
        if entry.over_50ft is None:
            return
        if entry.roll is None:
            self._add(entry, whole, entry.over_50ft, "over", given)
            return
        # the way through the air by itself, so that one long roll does not count twice
        air = entry.over_50ft.value - entry.roll.value
        if air <= 0.0:
            self._leave(entry, message("tune.left.shorter_than_roll"), second)
            return
        spread = math.hypot(self._sd(entry.over_50ft, "over"), self._sd(entry.roll, "roll"))
        self.read.figures.append(Figured(entry, second, air, spread / air, given))

    def _add(
        self,
        entry: NotebookEntry,
        kind: str,
        figure: Figure,
        accuracy: str,
        given: dict[str, float],
        measured: float | None = None,
    ) -> None:
        value = figure.value if measured is None else measured
        sd = self._sd(figure, accuracy)
        if accuracy != "rate":
            if value <= 0.0:
                raise _Lacks("tune.left.no_figure")
            sd /= figure.value
        self.read.figures.append(Figured(entry, kind, value, sd, given))

    def _sd(self, figure: Figure, accuracy: str) -> float:
        """Spread in the figure's own unit: as noted, else by its kind, twice for a guess."""
        if figure.sd is not None and figure.sd > 0.0:
            return figure.sd
        usual = ACCURACY[accuracy] * (1.0 if accuracy == "rate" else abs(figure.value))
        return usual * (2.0 if figure.origin == "estimated" else 1.0)

    # --- conditions ----------------------------------------------------------------------------------------

    def _air(self, entry: NotebookEntry) -> dict[str, float]:
        if entry.pressure_altitude is None or entry.temperature is None:
            raise _Lacks("tune.left.no_air")
        pressure = float(isa_pressure(entry.pressure_altitude))
        density = float(air_density(pressure, entry.temperature, 0.0))
        self.read.assume(message("tune.assumed.dry"))
        return {"pressure": pressure, "density": density, "dry_density": density}

    def _heavy(self, entry: NotebookEntry) -> dict[str, float]:
        given = self._air(entry)
        given["mass"] = entry.mass.value if entry.mass is not None else self._loaded(entry)
        given["density_altitude"] = float(density_altitude(given["density"]))
        return given

    def _loaded(self, entry: NotebookEntry) -> float:
        """Mass by the load that the entry names, with the least fuel of the legs that have it.

        Only at the start: later on nobody knows what was burnt, and a run taken for a heavier one than it was
        makes the aeroplane look better than it is. For the same reason the lightest of several legs counts.
        """
        if entry.load is None:
            raise _Lacks("tune.left.no_mass")
        if entry.what != "takeoff":
            raise _Lacks("tune.left.mass_burnt")
        found: list[float] = []
        for trip in self.bundle.all(Trip):
            for leg in trip.legs:
                plane = leg.aeroplane or trip.aeroplane
                if leg.load != entry.load or plane != self.plane.id:
                    continue
                if _changed_since(trip, leg, entry.at):
                    raise _Lacks("tune.left.load_changed")
                masses = Masses(
                    Flight(self.bundle, trip, leg, entry.at.astimezone(UTC)),
                    entry.temperature if entry.temperature is not None else math.nan,
                    Working(silent=True),
                )
                masses.tanks  # noqa: B018 - looks the tanks up, so that what is missing in them is known
                if masses.known:
                    found.append(masses.state("ramp", 0.0).mass)
        if not found:
            raise _Lacks("tune.left.no_mass")
        self.read.assume(message("tune.assumed.load"))
        return min(found)

    def _flap(self, entry: NotebookEntry, use: str) -> FlapSetting:
        name = getattr(entry, "flap", None)
        if name is not None:
            return next(f for f in self.plane.flaps if f.id == name)
        if use == "cruise":
            fit = [f for f in self.plane.flaps if f.angle == 0.0] or [
                f for f in self.plane.flaps if "cruise" in f.used_for
            ]
        else:
            fit = [f for f in self.plane.flaps if use in f.used_for]
        if len(fit) != 1:
            raise _Lacks("tune.left.no_flap")
        return fit[0]

    def _stall(self, flap: FlapSetting) -> dict[str, float]:
        if flap.stall is None or flap.stall_mass is None:
            raise _Lacks("missing.stall", flap=flap.name)
        return {"stall": flap.stall.value, "stall_mass": flap.stall_mass.value}

    def _factors(self, flap: FlapSetting) -> dict[str, float]:
        return speed_factors(flap)

    def _flap_drag(self, flap: FlapSetting) -> float:
        drag, guessed = flap_drag(flap, self.source)
        if guessed:
            self.read.assume(message("tune.assumed.flap_drag", flap=flap.name))
        return drag

    def _dial(self, entry: NotebookEntry, indicated: float, given: dict[str, float], *, true: bool) -> float:
        """Calibrated or true airspeed of a dial reading. A table that does not reach it: left out."""
        flap = self._flap(entry, "landing" if isinstance(entry, StallEntry) else "cruise")
        setting = Setting(
            flap, self.plane, given["mass"], given["pressure"], given["density"], Working(silent=True)
        )
        calibrated = setting.from_indicated(indicated)
        if math.isnan(calibrated):
            raise _Lacks("tune.left.no_correction", flap=flap.name)
        return setting.true(calibrated) if true else calibrated

    def _strip(self, entry: NotebookEntry) -> Strip | None:
        return self.bundle.of(Strip, entry.strip)

    def _surface(self, entry: NotebookEntry) -> str:
        strip = self._strip(entry)
        if strip is None or strip.ground.state is None:
            raise _Lacks("tune.left.no_surface")
        self.read.assume(message("tune.assumed.surface", strip=strip.name))
        return strip.ground.state.surface

    def _slope(self, entry: NotebookEntry, run: float) -> float:
        strip = self._strip(entry)
        direction = next((d for d in strip.directions if d.id == entry.direction), None) if strip else None
        if strip is None or direction is None or not strip.ground.segments:
            raise _Lacks("tune.left.no_slope")
        found = [(s.length, s.slope) for s in strip.ground.segments]
        if direction.along == "reverse":
            found = [(length, -slope) for length, slope in reversed(found)]
        lengths, slopes = zip(*found, strict=True)
        return float(mean_slope(0.0, min(run, sum(lengths)), lengths, slopes))

    def friction(self, surface: str, *, landing: bool) -> tuple[float, float]:
        """Rolling and braking friction to start from; that which is not asked for may be any."""
        own = next((s for s in self.source.friction if s.surface == surface), None) if self.source else None
        known = (own.braked if landing else own.rolling) if own else None
        if known is not None:
            value = known.value
        else:
            band = braking_friction_band(surface) if landing else rolling_friction_band(surface)
            value = math.sqrt(float(band.low) * float(band.high))
            if math.isnan(value):
                raise _Lacks("tune.left.no_friction", surface=message(f"surface.{surface}"))
            self.read.assume(message("tune.assumed.friction", surface=message(f"surface.{surface}")))
        return (0.05, value) if landing else (value, 0.2)


def _changed_since(trip: Trip, leg: Leg, at: datetime) -> bool:
    """Whether what weighs on a leg was edited after a moment: what it was then is not known any more."""
    load, fuel = f"/loads/{leg.load}/", f"/legs/{leg.id}/fuel"
    return any(
        stamp.at > at
        for place, stamp in trip.stamps.items()
        if (place.startswith(load) and not place.endswith(("/packed", "/name"))) or place.startswith(fuel)
    )


def away_speeds(given: dict[str, float]) -> tuple[float, float]:
    """True airspeeds [m/s] at lift-off and at 50 ft, as the document has them."""
    values = {name: np.array([value]) for name, value in given.items()}
    p = {"stall": np.ones(1), "lift_off": np.ones(1)}
    return float(lift_off_speed(p, values)[0]), float(screen_speed(p, values)[0])


def speed_factors(flap: FlapSetting) -> dict[str, float]:
    """Lift-off, 50 ft and touchdown speeds as multiples of the stall."""
    return {
        "lift_off_factor": flap.lift_off_factor.value if flap.lift_off_factor else LIFT_OFF,
        "at_50ft_factor": flap.at_50ft_factor.value if flap.at_50ft_factor else AT_50FT,
        "touchdown_factor": flap.touchdown_factor.value if flap.touchdown_factor else TOUCHDOWN,
    }


def flap_drag(flap: FlapSetting, source: Constants | None) -> tuple[float, bool]:
    """Drag coefficient that a flap adds, and whether it had to be guessed from its angle."""
    for drag in source.flap_drag if source else ():
        if drag.flap == flap.id:
            return drag.drag_increment.value, False
    return FLAP_DRAG * max(flap.angle or 0.0, 0.0), flap.angle != 0.0


def series_of(figures: list[Figured], frame: Frame, middle: Array) -> list[Series]:
    """The figures by kind for the fit; their spreads with what readings of wind and mass may be off."""
    found = []
    for kind in dict.fromkeys(one.kind for one in figures):
        mine = [(i, one) for i, one in enumerate(figures) if one.kind == kind]
        given = {
            name: np.array([one.given.get(name, math.nan) for _, one in mine])
            for name in sorted({name for _, one in mine for name in one.given})
        }
        measured = np.array([one.measured for _, one in mine])
        found.append(
            Series(
                kind,
                given,
                measured if kind in ("climb", "glide") else np.log(measured),
                np.hypot(
                    [one.sd for _, one in mine],
                    _reading_spread(
                        kind, given, frame, middle, np.array([_mass_read(one.entry) for _, one in mine])
                    ),
                ),
                np.array([SUSPECTED if one.entry.suspect else DOUBT for _, one in mine]),
                np.array([float(one.entry.technique == "usual") for _, one in mine]),
                tuple(i for i, _ in mine),
            )
        )
    return found


def _mass_read(entry: NotebookEntry) -> float:
    """What the mass of an entry may be off, as a part of it."""
    mass = entry.mass
    if mass is None:
        return MASS_READ
    own = mass.sd / mass.value if mass.sd is not None else MASS_GUESSED if mass.origin == "estimated" else 0.0
    return max(own, MASS_READ)


def _reading_spread(
    kind: str, given: dict[str, Array], frame: Frame, middle: Array, mass_read: Array
) -> Array:
    """Spread of a figure by errors of reading, to first order round the belief beforehand."""

    def looked(other: dict[str, Array]) -> Array:
        return predict(kind, middle[None], frame, other).reshape(-1)

    here = looked(given)
    square = np.zeros_like(here)
    if "mass" in given:
        square += (looked(given | {"mass": given["mass"] * (1 + mass_read)}) - here) ** 2
    if "headwind" in given:
        square += (looked(given | {"headwind": given["headwind"] + WIND_READ}) - here) ** 2
    if kind in ("climb", "glide"):
        square += (looked(given | {"speed": given["speed"] * (1 + SPEED_READ)}) - here) ** 2
    return np.asarray(np.sqrt(square))
