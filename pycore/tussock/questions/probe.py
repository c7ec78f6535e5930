"""A benign trip that lacks nothing of its own: what it leaves unsaid is the aeroplane's."""

from __future__ import annotations

import math
from datetime import UTC, datetime
from typing import Any

from ..documents import Aeroplane, Air, Bundle, Kit, Person, Settings, Strip, Trip
from ..documents.aeroplane import Bay, Configuration, FlapSetting, Seat
from ..documents.performance import ClimbTable, Constants, DistanceTable
from ..documents.trip import Leg
from ..sums.air import LAPSE, T0

#: noon at the meridian, midsummer: no question of light
NOW = datetime(2026, 6, 21, 12, 0, tzinfo=UTC)
OCCUPANT, LIGHT_FUEL = 75.0, 0.02
#: height of the cruise above the strip [m]
RISE = 300.0


def _fig(value: float) -> dict[str, Any]:
    return {"value": value, "origin": "measured"}


class Probe:
    """`full` takes every seat, half the fuel and every bay; else one person and little fuel."""

    def __init__(
        self,
        bundle: Bundle,
        plane: Aeroplane,
        rig: Configuration,
        strip: Strip | None,
        *,
        full: bool,
    ) -> None:
        self.bundle, self.plane, self.rig, self.strip, self.full = bundle, plane, rig, strip, full
        self.altitude, self.temperature = self._air_inside_tables()

    def made(self) -> tuple[Bundle, Trip, Leg, datetime]:
        """The bundle, its trip and leg, and the moment to ask for."""
        people, kit = self._people(), self._kit()
        strips = [self._strip("probe-from", 0.0), self._strip("probe-to", 0.2)]
        airs = [self._air(strip, name) for strip, name in zip(strips, ("here", "there"), strict=True)]
        trip = self._trip(people, strips)
        documents = [self.plane, *people, kit, *strips, *airs, self._settings(), trip]
        bundle = Bundle(documents=[]).model_copy(update={"documents": documents})
        return bundle, trip, trip.legs[0], NOW

    # --- what the aeroplane's own tables reach -------------------------------------------------------------

    def _tables(self) -> list[DistanceTable | ClimbTable]:
        return [s for s in self.plane.performance if isinstance(s, (DistanceTable, ClimbTable))]

    def _air_inside_tables(self) -> tuple[float, float]:
        """A pressure altitude [m] and temperature [K] that every table reaches, where there is one."""
        elevation = self.strip.elevation.value if self.strip and self.strip.elevation else None
        lows = [table.altitude_axis[0] for table in self._tables()]
        altitude = max([0.0, *lows]) if elevation is None else elevation
        standard = T0 - LAPSE * altitude
        temperature = standard
        for table in self._tables():
            axis = table.temperature_axis
            shift = standard if table.temperature_is == "above_standard" else 0.0
            temperature = min(max(temperature, axis[0] + shift), axis[-1] + shift)
        return altitude, temperature

    # --- ground and air ------------------------------------------------------------------------------------

    def _strip(self, name: str, longitude: float) -> Strip:
        clear = {"state": "none", "said_by": "probe", "at": NOW.isoformat()}
        data: dict[str, Any] = {
            "kind": "strip",
            "id": name,
            "name": name,
            "position": {"latitude": 0.0, "longitude": longitude},
            "elevation": _fig(self.altitude),
            "ground": {
                "length": _fig(3000.0),
                "width": _fig(50.0),
                "segments": [{"length": 3000.0, "slope": 0.0}],
                "state": {"surface": self._surface(), "seen": NOW.isoformat()},
            },
            "directions": [
                {
                    "id": "probe",
                    "designator": "09",
                    "bearing": math.pi / 2,
                    "along": "forward",
                    "use": "both",
                    "departure": clear,
                    "approach": clear,
                    "go_around": "possible",
                    "go_around_way": clear,
                }
            ],
        }
        if self.strip is not None:
            data["ground"] = self._ground_of(self.strip, data["ground"])
        return Strip.model_validate(data)

    def _ground_of(self, strip: Strip, benign: dict[str, Any]) -> dict[str, Any]:
        """The strip's own surface; what it lacks is not the aeroplane's affair."""
        state = strip.ground.state
        if state is None:
            return benign
        seen: dict[str, Any] = {"surface": state.surface, "seen": NOW.isoformat()}
        if state.grass_height is not None:
            seen["grass_height"] = state.grass_height.model_dump(mode="json")
        return benign | {"state": seen}

    def _surface(self) -> str:
        """Pavement, or a surface on which the aeroplane's constants know their friction."""
        for source in self.plane.performance:
            if isinstance(source, Constants):
                known = [one.surface for one in source.friction if one.rolling and one.braked]
                known = known or [one.surface for one in source.friction]
                return "paved_dry" if "paved_dry" in known or not known else known[0]
        return "paved_dry"

    def _air(self, strip: Strip, name: str) -> Air:
        """A breath of wind from behind and from the side, in gusts, so that every limit is asked for."""
        return Air.model_validate(
            {
                "kind": "air",
                "id": f"probe-air-{name}",
                "name": name,
                "strip": strip.id,
                "at": NOW.isoformat(),
                "origin": "read",
                "pressure": {"by": "altimeter", "pressure_altitude": self.altitude},
                "temperature": self.temperature,
                "dew_point": self.temperature - 15.0,
                "wind": {"by": "measured", "speed": 0.2, "gust": 0.3, "wind_from": math.radians(230.0)},
            }
        )

    # --- people and kit ------------------------------------------------------------------------------------

    def _seats(self) -> list[Seat]:
        seats = [seat for seat in self.plane.seats if seat.id not in self.rig.seats_out]
        seats.sort(key=lambda seat: not seat.controls)
        return seats if self.full else seats[:1]

    def _people(self) -> list[Person]:
        own = [p for p in self.bundle.all(Person) if p.flies and p.limits is not None]
        limits = {"limits": own[0].limits.model_dump(mode="json")} if own and own[0].limits else {}
        found = []
        for index, seat in enumerate(self._seats()):
            kind = {"lap_infant": "infant", "dog_crate": "dog", "child_seat": "child"}
            data: dict[str, Any] = {"is_a": "adult" if "adult" in seat.takes else kind[seat.takes[0]]}
            data |= {"kind": "person", "id": f"probe-{index}", "name": f"probe {index}", "flies": index == 0}
            data |= {"mass": _fig(OCCUPANT), "height": _fig(1.6), "width": _fig(0.3)}
            found.append(Person.model_validate(data | (limits if index == 0 else {})))
        return found

    def _bays(self) -> list[Bay]:
        return [bay for bay in self.plane.bays if bay.id not in self.rig.bays_out] if self.full else []

    def _kit(self) -> Kit:
        """For every bay a soft thing with a pole in it and a small box, so that every figure is asked for."""
        items: list[dict[str, Any]] = []
        for index, _ in enumerate(self._bays()):
            bag = {"shape": "soft", "volume": _fig(1e-3), "longest": _fig(0.05)}
            box = {"shape": "rigid", "length": _fig(0.05), "width": _fig(0.05), "height": _fig(0.05)}
            for name, size in (("bag", bag), ("box", box)):
                item = f"probe-{name}-{index}"
                items.append({"id": item, "name": item, "mass": _fig(0.2), "size": size})
        return Kit.model_validate({"kind": "kit", "id": "probe-kit", "name": "probe", "items": items})

    # --- the trip ------------------------------------------------------------------------------------------

    def _settings(self) -> Settings:
        reserve = {"rule": "probe", "time": 1800.0}
        data = {"kind": "settings", "id": "probe-settings", "name": "probe", "reserve": reserve}
        return Settings.model_validate(data)

    def _flap(self, use: str) -> FlapSetting | None:
        """A flap of that use, one with a source of distance where there is one."""
        fit = [flap for flap in self.plane.flaps if use in flap.used_for]
        sources = [s for s in self.plane.performance if getattr(s, "phase", use) == use]
        told = [f for f in fit if any(getattr(s, "flap", None) in (None, f.id) for s in sources)]
        return next(iter(told or fit), None)

    def _fuel(self) -> list[dict[str, Any]]:
        lines = []
        for tank in self.plane.tanks:
            if tank.id not in self.rig.tanks_out:
                most = tank.usable.value if tank.usable else LIGHT_FUEL
                lines.append({"tank": tank.id, "volume": _fig(most / 2 if self.full else most / 3)})
        return lines

    def _trip(self, people: list[Person], strips: list[Strip]) -> Trip:
        seats = [{"seat": s.id, "person": p.id} for s, p in zip(self._seats(), people, strict=True)]
        placed = [
            {"item": f"probe-{name}-{index}", "bay": bay.id}
            for index, bay in enumerate(self._bays())
            for name in ("bag", "box")
        ]
        cruises = self.plane.cruises
        cruise = next((c for c in cruises if c.speed and c.flow), cruises[0] if cruises else None)
        height = self.altitude + RISE
        if cruise is not None and cruise.altitude_low is not None:
            height = max(height, cruise.altitude_low)
        if cruise is not None and cruise.altitude_high is not None:
            height = min(height, cruise.altitude_high)
        takeoff, landing = self._flap("takeoff"), self._flap("landing")
        grades = self.plane.engine.grades
        leg: dict[str, Any] = {
            "id": "probe",
            "from_strip": strips[0].id,
            "to_strip": strips[1].id,
            "takeoff_direction": "probe",
            "landing_direction": "probe",
            "departure": NOW.isoformat(),
            "load": "probe",
            "fuel": self._fuel(),
            "fuel_grade": grades[0] if grades else "avgas",
            "cruise_altitude": height,
            "wind_aloft": {"speed": 0.0, "wind_from": 0.0},
            "air_from": "probe-air-here",
            "air_to": "probe-air-there",
        }
        chosen = {"takeoff_flap": takeoff, "landing_flap": landing, "cruise": cruise}
        leg |= {name: one.id for name, one in chosen.items() if one is not None}
        return Trip.model_validate(
            {
                "kind": "trip",
                "id": "probe-trip",
                "name": "probe",
                "aeroplane": self.plane.id,
                "configuration": self.rig.id,
                "people": [person.id for person in people],
                "kits": ["probe-kit"],
                "loads": [{"id": "probe", "name": "probe", "seats": seats, "placed": placed}],
                "legs": [leg],
                "settings": "probe-settings",
            }
        )
