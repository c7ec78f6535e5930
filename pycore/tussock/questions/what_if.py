"""What if: another engine, propeller, tyres or tanks, as a variant beside the aeroplane that it came from.

A variant is a document of its own: nothing of the original changes. Its constants are the original's (tuned
to the notebook where that may be used), carried by what is known of the change, each wider by what nobody has
measured yet; they are estimates, so no answer that rests on them is a bare "yes". Book tables and known
distances, which were another aeroplane's, are left behind, unless nothing but mass or tanks changes. What
cannot be told is not carried: it is missing.
"""

from __future__ import annotations

import math
from typing import Any

from ..documents import Aeroplane, Bundle
from ..documents.performance import BladePoint, Constants, ConstantSpeed
from ..sums.air import RHO0
from ..sums.blades import blade_thrust
from ..sums.tuning.parameters import STATIC_SHARE
from . import governed
from .answer import message
from .speeds import AT_50FT, LIFT_OFF, TOUCHDOWN
from .tuning import most_noted, notebooks_of, tuned
from .tuning_told import curve_of, document_of, tuning

Message = dict[str, Any]
Data = dict[str, Any]
#: spread of the logarithm that is added for what has not been measured: common practice, no source
ENGINE_SPREAD, BLADE_SPREAD, TYRE_SPREAD = 0.05, 0.08, 0.15
#: times today's power with the same propeller, beyond which nothing is said of it: own choice
MOST_POWER = 1.5
#: airspeeds of the fit of the polar to the curves [m/s]: a climb and a cruise
SPEEDS = (28.0, 42.0)


class Variant:
    """The changes one after the other on a copy of the aeroplane; `told` says what each did."""

    def __init__(
        self, bundle: Bundle, plane: Aeroplane, rig: str | None, *, new_propeller: bool = False
    ) -> None:
        rig = rig or most_noted(notebooks_of(bundle, plane), plane)
        self.data: Data = plane.model_dump(mode="json", exclude_none=True)
        self.source, factors = _source(bundle, plane, rig)
        _fly_as_noted(self.data, self.source, factors)
        self.told: list[Message] = []
        self.missing: list[Message] = []
        self.rig, self.plane = rig, plane
        #: another engine is then reckoned with that one's curves, not with today's thrust
        self.new_propeller = new_propeller
        #: whether tables and known distances of the original still hold: they go by mass, not by thrust
        self.flies_alike = True
        made = tuned(bundle, plane, rig)
        if made is not None and made.usable and isinstance(plane.propeller, ConstantSpeed):
            # what the notebook shows of the thrust in flight
            self.data["propeller"]["efficiency"] = curve_of(made)

    def engine(self, change: Data) -> None:
        """`{"power"?, "rotation"?, "mass"?: change in kg, "arm"?, "flow"?: factor}`."""
        engine = self.data["engine"]
        before = engine.get("rated_power", {}).get("value"), engine.get("rated_rotation", {}).get("value")
        for name, field in (("power", "rated_power"), ("rotation", "rated_rotation")):
            if name in change:
                engine[field] = {"value": change[name], "origin": "book"}
        after = engine.get("rated_power", {}).get("value"), engine.get("rated_rotation", {}).get("value")
        if None in (*before, *after):
            self._unknown(message("tune.lacking", names="rated power, rated rotation"))
        elif before != after:
            self.flies_alike = False
            factor = (after[0] / after[1]) / (before[0] / before[1])
            self._scale("rated_torque", factor, 0.0)
            beyond = None if self.new_propeller else self._beyond(before, after)
            if beyond is not None:
                self._unknown(beyond)
            elif isinstance(self.plane.propeller, ConstantSpeed):
                # held at its rotation: the thrust in flight goes with the power, by the curve; at rest with
                # the power to two thirds (momentum theory)
                changed = Aeroplane.model_validate(self.data)
                assert isinstance(changed.propeller, ConstantSpeed)
                factor = governed.held_power(changed, changed.propeller)
                factor /= governed.held_power(self.plane, self.plane.propeller)
                self._scale("static_thrust", factor ** (2.0 / 3.0), ENGINE_SPREAD)
                self.told.append(message("what_if.power", factor=factor))
            else:
                # the same propeller takes so much more torque by turning faster: thrust goes as the torque
                self._scale("static_thrust", factor, ENGINE_SPREAD)
                self._scale("propeller_slope", 1.0, ENGINE_SPREAD)
                self.told.append(message("what_if.torque", factor=factor))
            self._unmeasured()
        self._weigh(change, "engine")
        flow = change.get("flow")
        if flow is None and None not in (before[0], after[0]) and before[0] != after[0]:
            # a stronger engine drinks more; of a weaker one nobody has shown that it drinks less
            flow = max(after[0] / before[0], 1.0)
            self.told.append(message("what_if.no_flow", factor=flow))
        if flow is not None:
            for cruise in self.data.get("cruises", []):
                _times(cruise, "flow", flow)
            for name in ("climb_flow", "descent_flow"):
                _times(self.data.get("fuel", {}), name, flow)

    def _beyond(self, before: tuple[float, float], after: tuple[float, float]) -> Message | None:
        """Why today's propeller tells nothing of an engine of another power [W] and rotation [1/s]; or None.

        With a fixed pitch the torque sets how fast it turns standing still: by the run-up baseline, or the
        usual share of the rated rotation, times the root of the torque. Beyond what the engine or the
        propeller may turn, the thrust that goes with that torque is never had.
        """
        if after[0] > MOST_POWER * before[0]:
            return message("what_if.too_much_power", factor=after[0] / before[0], most=MOST_POWER)
        if isinstance(self.plane.propeller, ConstantSpeed):
            return None
        baseline = self.plane.run_up
        still = baseline.rotation.value if baseline is not None else STATIC_SHARE * before[1]
        # what is no power is refused with the document
        still *= math.sqrt(max((after[0] / after[1]) / (before[0] / before[1]), 0.0))
        held = self.plane.propeller.rotation_limit if self.plane.propeller is not None else None
        limit = min(after[1], held.value) if held is not None else after[1]
        return message("what_if.turns_too_fast", still=still, limit=limit) if still > limit else None

    def propeller(self, change: Data) -> None:
        """`{"diameter", "rotation_limit", "blades"}`: CT and CP against J, as in the document.

        Without the curves and the limit nothing can be said of it.
        """
        self.flies_alike = False
        blades = [BladePoint.model_validate(one) for one in change.get("blades", [])]
        limit, diameter = change.get("rotation_limit"), change.get("diameter")
        torque = self._torque()
        if len(blades) < 2 or limit is None or diameter is None or torque is None:
            self._unknown(message("what_if.no_curves"))
            return
        blades.sort(key=lambda one: one.advance_ratio)
        curves = {
            "table_advance": [one.advance_ratio for one in blades],
            "table_thrust": [one.thrust_coefficient for one in blades],
            "table_power": [one.power_coefficient for one in blades],
        }
        still, *moving = (
            float(blade_thrust(speed, RHO0, torque, diameter, limit, **curves).thrust)
            for speed in (0.0, *SPEEDS)
        )
        if any(math.isnan(thrust) for thrust in (still, *moving)):
            self._unknown(message("what_if.outside_curves"))
            return
        square = (moving[1] - moving[0]) / (SPEEDS[1] ** 2 - SPEEDS[0] ** 2)
        constant = moving[0] - square * SPEEDS[0] ** 2
        if square >= 0.0:
            self._unknown(message("what_if.outside_curves"))
            return
        values = {
            "static_thrust": still,
            "propeller_slope": constant * diameter / (2.0 * math.pi * torque),
            "propeller_intercept": square / (RHO0 * diameter**2),
        }
        assert self.source is not None
        for name, value in values.items():
            self.source[name] = {"value": value, "origin": "estimated", "sd": abs(value) * BLADE_SPREAD}
        self.data["propeller"] = {
            "pitch_is": "fixed",
            "diameter": {"value": diameter, "origin": "book"},
            "rotation_limit": {"value": limit, "origin": "book"},
            "blades": [one.model_dump(mode="json") for one in blades],
        }
        self._weigh(change, "propeller")
        self._unmeasured()
        self.told.append(message("what_if.propeller", static=still))

    def _torque(self) -> float | None:
        """Rated torque [N m] of the constants; with a governed propeller the engine tells it."""
        if self.source is None or "rated_torque" in self.source:
            return self.source["rated_torque"]["value"] if self.source else None
        power, rotation = (self.data["engine"].get(f"rated_{name}") for name in ("power", "rotation"))
        if power is None or rotation is None or not isinstance(self.plane.propeller, ConstantSpeed):
            return None
        self.source["rated_torque"] = {
            "value": power["value"] / (2.0 * math.pi * rotation["value"]),
            "origin": "estimated",
        }
        return float(self.source["rated_torque"]["value"])

    def tyres(self, change: Data) -> None:
        """`{"mass"?, "arm"?, "rolling"?: factor on rolling friction}`; braking is then as little known."""
        self._weigh(change, "tyres")
        factor = change.get("rolling", 1.0)
        self.flies_alike = False
        for friction in self.source.get("friction", []) if self.source else []:
            for name in ("rolling", "braked"):
                if name in friction:
                    one = friction[name]
                    value = one["value"] * (factor if name == "rolling" else 1.0)
                    wide = math.hypot(one.get("sd", 0.0) / one["value"] if one["value"] else 0.0, TYRE_SPREAD)
                    friction[name] = {"value": value, "origin": "estimated", "sd": value * wide}
        self.told.append(message("what_if.tyres", factor=factor))

    def tanks(self, change: Data) -> None:
        """`{"tank": id, "usable": m³, "mass"?, "arm"?}`."""
        tank = next((one for one in self.data.get("tanks", []) if one["id"] == change.get("tank")), None)
        if tank is None or "usable" not in change:
            self.missing.append(message("what_if.no_tank"))
            return
        tank["usable"] = {"value": change["usable"], "origin": "book"}
        self._weigh(change, "tanks")

    def _scale(self, name: str, factor: float, more: float) -> None:
        if self.source is None or name not in self.source:
            return
        one = self.source[name]
        value = one["value"] * factor
        share = math.hypot(one.get("sd", 0.0) / abs(one["value"]) if one["value"] else 0.0, more)
        self.source[name] = {"value": value, "origin": "estimated", "sd": abs(value) * share}

    def _weigh(self, change: Data, name: str) -> None:
        """A change of mass of every configuration that was weighed itself; without its arm it is missing.

        Where nobody told the mass it is taken as the same, which is an estimate: no balance on it is a bare
        yes.
        """
        if "mass" not in change:
            self.missing.append(message("what_if.no_mass"))
        elif change["mass"] and "arm" not in change:
            self.missing.append(message("what_if.no_arm"))
        mass = change.get("mass", 0.0) if "arm" in change else 0.0
        for rig in self.data["configurations"]:
            if rig.get("weighing") is not None:
                rig.setdefault("changes", []).append(
                    {
                        "id": f"what-if-{name}",
                        "name": name,
                        "mass": {"value": mass, "origin": "estimated"},
                        "arm": {"value": change.get("arm", 0.0), "origin": "estimated"},
                    }
                )

    def _unmeasured(self) -> None:
        """Cruises and flows were measured with today's thrust: estimates now; the healthy rotation goes."""
        for cruise in self.data.get("cruises", []):
            for name in ("speed", "flow"):
                _times(cruise, name, 1.0)
        for name in ("climb_flow", "descent_flow"):
            _times(self.data.get("fuel", {}), name, 1.0)
        self.data.pop("run_up", None)

    def _unknown(self, why: Message) -> None:
        """Nothing that rests on the thrust can be said of it."""
        self.missing.append(why)
        self.forget()

    def forget(self) -> None:
        """Leaves nothing of the old thrust standing."""
        self.flies_alike = False
        for name in ("static_thrust", "propeller_slope", "propeller_intercept"):
            (self.source or {}).pop(name, None)
        if (self.data.get("propeller") or {}).get("pitch_is") == "constant_speed":
            self.data["propeller"].pop("efficiency", None)

    def document(self, name: str) -> Data:
        """The variant as a document of its own."""
        made = self.data
        made |= {"id": name, "name": f"{self.plane.name} (what if)", "variant_of": self.plane.id}
        # what was measured or printed of the other one holds for that one, unless it flies like it
        kept = [one for one in made["performance"] if self.flies_alike and one["source"] != "constants"]
        made["performance"] = kept + ([self.source] if self.source is not None else [])
        made.pop("prefer", None)
        for own in ("stamps", "removed", "typed"):
            made.pop(own, None)
        return made


def _fly_as_noted(data: Data, source: Data | None, factors: dict[str, float]) -> None:
    """Speeds, friction and approach as the notebook shows them: the variant has no notebook to tell them."""
    if not factors:
        return
    lift_off, touchdown = factors["lift_off"], factors["touchdown"]
    scaled = (
        ("stall", factors["stall"], None, (0.0, math.inf)),
        ("lift_off_factor", lift_off, LIFT_OFF, (1.0, 1.6)),
        ("at_50ft_factor", lift_off, AT_50FT, (1.0, 1.8)),
        ("touchdown_factor", touchdown, TOUCHDOWN, (0.9, 1.5)),
    )
    for flap in data.get("flaps", []):
        for name, factor, usual, (low, high) in scaled:
            value = flap[name]["value"] if name in flap else usual
            if value is not None:
                value = min(max(value * factor, low), high)
                flap[name] = {"value": value, "origin": "estimated"}
    for friction in source.get("friction", []) if source else []:
        for name, factor in (("rolling", factors["rolling"]), ("braked", factors["braking"])):
            if name in friction:
                friction[name]["value"] *= factor
    if source is not None and "approach_gradient" in source:
        source["approach_gradient"]["value"] *= factors["approach"]


def _source(bundle: Bundle, plane: Aeroplane, rig: str) -> tuple[Data | None, dict[str, float]]:
    """Constants to go on from, tuned where that may be used, else the own; and the other fitted factors."""
    made = tuned(bundle, plane, rig)
    found: Data | None = None
    factors: dict[str, float] = {}
    if made is not None and made.usable:
        told = tuning(bundle, plane, rig)
        found = document_of(made)
        factors = {one["name"]: one["value"] for one in told["constants"]}
    else:
        own = next(
            (
                s
                for s in plane.performance
                if isinstance(s, Constants) and (s.configurations is None or rig in s.configurations)
            ),
            None,
        )
        found = own.model_dump(mode="json", exclude_none=True) if own is not None else None
    if found is not None:
        # the notebook is the other one's
        found.pop("fitted", None)
        found.pop("seen", None)
        found |= {"id": "what-if", "name": "What if"}
        # nobody has flown it: all of it is an estimate, and no answer on it a bare yes
        for figure in found.values():
            if isinstance(figure, dict) and "origin" in figure:
                figure["origin"] = "estimated"
    return found, factors


def _times(holder: Data, name: str, factor: float) -> None:
    if name in holder:
        holder[name] = {"value": holder[name]["value"] * factor, "origin": "estimated"}


def what_if(bundle: Bundle, plane: Aeroplane, rig: str | None, changes: Data, name: str) -> Data:
    """`{"document", "told", "missing", "alike"}` for `changes` of "engine", "propeller", "tyres", "tanks".

    `alike`: it flies as the original does, whose tables and known distances it keeps.
    """
    variant = Variant(bundle, plane, rig, new_propeller="propeller" in changes)
    if variant.source is None:
        variant.missing.append(message("what_if.no_constants"))
    for part in ("engine", "propeller", "tyres", "tanks"):
        if part in changes:
            getattr(variant, part)(changes[part])
    if any(one["text"] != "what_if.no_mass" for one in variant.missing):
        # a change that can't be told leaves nothing of the old thrust standing
        variant.forget()
        variant._unmeasured()
    made = variant.document(name)
    alike = variant.flies_alike
    return {"document": made, "told": variant.told, "missing": variant.missing, "alike": alike}
