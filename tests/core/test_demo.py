"""The demo trip: what it claims to show, through the border, and that its aeroplanes are believable.

The facts of the trade are common practice, no source. "About" is taken as 20 %, since one set of constants
has to meet all facts of an aeroplane together; limits ("under 100 m") are taken as they are.
"""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from functools import cache
from typing import Any

import pytest

from tussock import units
from tussock.api import handle
from tussock.demo import demo_bundle
from tussock.documents import Aeroplane, Kit, Notebook, Strip, Trip, read_bundle
from tussock.documents.performance import Constants
from tussock.sums import air, landing, places, power, takeoff

NOW = "2026-11-25T07:52:00+00:00"
QUESTIONS = ["fits", "balances", "lifts_off", "climbs_out", "reaches", "stops"]


@cache
def bundle(now: str = NOW) -> dict[str, Any]:
    return demo_bundle(now)


@cache
def asked(now: str = NOW) -> dict[str, dict[str, Any]]:
    """The legs' answers by id, through the border."""
    documents = {name: bundle(now)[name] for name in ("documents", "open")}
    reply = json.loads(handle("answer", json.dumps({**documents, "now": now})))
    return {leg["id"]: leg for leg in reply["result"]["legs"]}


def verdicts(leg: dict[str, Any]) -> dict[str, str]:
    return {answer["question"]: answer["verdict"] for answer in leg["answers"]}


def answer(leg: dict[str, Any], question: str) -> dict[str, Any]:
    return next(one for one in leg["answers"] if one["question"] == question)


def governing(found: dict[str, Any]) -> dict[str, Any]:
    return found["measures"][found["governing"]]


def remedies(leg: str) -> list[dict[str, Any]]:
    documents = {name: bundle()[name] for name in ("documents", "open")}
    reply = json.loads(handle("remedies", json.dumps({**documents, "leg": leg, "now": NOW})))
    return reply["result"]["remedies"]


# --- what it shows ---------------------------------------------------------------------------------------


def test_it_passes_the_gate_without_a_warning() -> None:
    assert read_bundle(json.dumps(bundle())).warnings == []


def test_it_holds_what_a_week_on_the_plateau_needs() -> None:
    found = read_bundle(json.dumps(bundle())).bundle
    trip = found.of(Trip, "week")
    assert trip is not None
    assert len(found.all(Aeroplane)) == 2
    assert all(len(plane.configurations) >= 2 and plane.quirks for plane in found.all(Aeroplane))
    assert len(found.all(Kit)) >= 3
    assert 40 <= len(found.items) <= 55
    assert len(trip.legs) >= 6
    assert len({leg.aeroplane or trip.aeroplane for leg in trip.legs}) == 2
    assert len(found.all(Notebook)[0].entries) >= 8
    roles = {item.role for item in found.items.values()}
    assert {"survival", "water", "tie_down", "beacon", "first_aid", "extinguisher", "oil"} <= roles
    settings = found.settings_of(trip)
    assert settings.reserve is not None
    assert settings.reserve.rule


def test_its_strips_are_high_short_unpaved_and_some_are_one_way() -> None:
    strips = read_bundle(json.dumps(bundle())).bundle.all(Strip)
    high = [s for s in strips if s.elevation and 1200 <= s.elevation.value <= 2100]
    assert len(high) == len(strips) >= 5
    assert sum(300 <= s.ground.length.value <= 600 for s in strips) >= 4
    assert all(s.ground.state and not s.ground.state.surface.startswith("paved") for s in strips)
    one_way = [s for s in strips if {d.use for d in s.directions} == {"landing", "takeoff"}]
    assert len(one_way) >= 2
    assert any(abs(segment.slope) >= 0.05 for s in one_way for segment in s.ground.segments)
    assert any(d.departure.state == "listed" for s in strips for d in s.directions)
    assert any(d.way_out and d.way_out.valley_width for s in strips for d in s.directions)


def test_its_legs_are_of_a_days_length() -> None:
    found = read_bundle(json.dumps(bundle())).bundle
    trip = found.of(Trip, "week")
    assert trip is not None
    for leg in trip.legs:
        start, end = (found.of(Strip, name) for name in (leg.from_strip, leg.to_strip))
        assert start is not None
        assert end is not None
        assert start.position is not None
        assert end.position is not None
        line = places.geodesic(
            start.position.latitude, start.position.longitude, end.position.latitude, end.position.longitude
        )
        assert 40 <= float(line.distance) / 1852 <= 150, leg.id


def test_the_first_leg_is_open_and_tight_on_lifting_off_with_one_clear_remedy() -> None:
    assert bundle()["open"] == {"trip": "week", "leg": "to-ridge-camp"}
    leg = asked()["to-ridge-camp"]
    assert leg["verdict"] == "tight"
    assert leg["worst"] == "lifts_off"
    assert {q for q, verdict in verdicts(leg).items() if verdict != "yes"} == {"lifts_off"}
    assert governing(answer(leg, "lifts_off"))["name"] == "takeoff_distance"
    best = remedies("to-ridge-camp")[0]
    assert best["verdict"] == "yes"
    assert best["turns"] == ["lifts_off"]


def test_two_aboard_with_clothes_for_a_week_are_a_no_of_bulk_with_the_mass_fine() -> None:
    """Common practice, no source: clothes for more than three days no longer fit the small two-seater."""
    leg = asked()["to-windgate-light"]
    assert verdicts(leg)["fits"] == "no"
    assert governing(answer(leg, "fits"))["name"] == "bay_volume"
    assert verdicts(leg)["balances"] == "yes"
    assert len(bundle_load("dabchick-week")["seats"]) == 2
    # the same two with clothes for three days fit
    assert verdicts(asked()["to-ridge-camp"])["fits"] == "yes"
    more = {p["item"] for p in bundle_load("dabchick-week")["placed"]}
    less = {p["item"] for p in bundle_load("dabchick-three-days")["placed"]}
    winter = next(d for d in bundle()["documents"] if d["id"] == "winter")
    assert less < more
    assert more - less <= {item["id"] for item in winter["items"]}


def bundle_load(name: str) -> dict[str, Any]:
    trip = next(d for d in bundle()["documents"] if d["id"] == "week")
    return next(load for load in trip["loads"] if load["id"] == name)


def test_one_leg_is_a_no_of_distance() -> None:
    leg = asked()["to-two-cairns"]
    assert verdicts(leg)["stops"] == "no"
    measure = governing(answer(leg, "stops"))
    assert measure["name"] == "landing_distance"
    assert measure["needed"] > measure["available"]


def test_one_leg_turns_from_no_to_yes_by_going_earlier() -> None:
    leg = asked()["to-larkfield"]
    assert leg["verdict"] == "no"
    assert verdicts(leg)["lifts_off"] == "no"
    earlier = [one for one in remedies("to-larkfield") if one["kind"] == "hour" and one["verdict"] == "yes"]
    assert earlier
    assert all(one["verdict"] == "yes" for one in earlier[0]["answers"])
    assert "lifts_off" in earlier[0]["turns"]
    assert earlier[0]["change"]["text"] == "remedy.earlier"


def test_one_leg_cannot_be_said_for_a_missing_figure() -> None:
    leg = asked()["down-with-the-trunk"]
    assert leg["verdict"] == "can't say"
    first = answer(leg, "balances")["reasons"][0]
    assert first["text"] == "missing.item_mass"
    assert first["values"]["item"] == "Lent trunk"


def test_one_leg_is_a_plain_yes() -> None:
    assert verdicts(asked()["to-saltpan"]) == dict.fromkeys(QUESTIONS, "yes")


def test_nothing_in_it_is_odd() -> None:
    assert {name: leg["warnings"] for name, leg in asked().items() if leg["warnings"]} == {}


@pytest.mark.parametrize(
    "now",
    [
        "2026-11-25T13:58:00+00:00",
        "2026-11-25T23:30:00-08:00",
        "2026-06-21T09:00:00+02:00",
        "2026-06-21T02:00:00+05:30",
        "2027-03-01T00:00:00+13:00",
    ],
)
def test_it_shows_the_same_whenever_it_is_opened(now: str) -> None:
    """At night up there the first leg leaves on the next morning; winter days are shorter."""
    assert {name: verdicts(leg) for name, leg in asked(now).items()} == {
        name: verdicts(leg) for name, leg in asked().items()
    }


def test_its_times_keep_the_offset_of_whoever_asks_and_refuse_a_time_without_one() -> None:
    trip = bundle("2026-06-21T09:00:00+02:00")["documents"][0]
    assert all(leg["departure"].endswith("+02:00") for leg in trip["legs"] if "departure" in leg)
    with pytest.raises(ValueError, match="offset"):
        demo_bundle("2026-06-21T09:00:00")


def test_by_day_the_first_leg_leaves_now_and_its_air_was_read_now() -> None:
    documents = {d["id"]: d for d in bundle()["documents"]}
    assert "departure" not in documents["week"]["legs"][0]
    assert documents["air-1-from"]["origin"] == "read"
    assert datetime.fromisoformat(documents["air-1-from"]["at"]) == datetime.fromisoformat(NOW)


def test_by_night_nothing_is_said_to_have_been_read_that_lies_ahead() -> None:
    now = "2026-11-25T22:00:00+00:00"
    for document in bundle(now)["documents"]:
        if document["kind"] == "air" and datetime.fromisoformat(document["at"]) > datetime.fromisoformat(now):
            assert document["origin"] == "forecast"
    departure = datetime.fromisoformat(bundle(now)["documents"][0]["legs"][0]["departure"])
    assert timedelta(0) < departure - datetime.fromisoformat(now) < timedelta(days=1)


# --- believable aeroplanes -------------------------------------------------------------------------------


def ft(value: float) -> float:
    return float(units.to_si(value, "ft"))


def kt(value: float) -> float:
    return float(units.to_si(value, "kt"))


def fpm(value: float) -> float:
    return float(units.from_si(value, "ft/min"))


class Flown:
    """One aeroplane's constants in the sums, apart from the questions."""

    def __init__(self, name: str) -> None:
        found = read_bundle(json.dumps(bundle())).bundle.of(Aeroplane, name)
        assert found is not None
        self.plane = found
        self.constants = next(s for s in found.performance if isinstance(s, Constants))

    def figure(self, name: str) -> float:
        return float(getattr(self.constants, name).value)

    def flap(self, use: str) -> Any:
        return next(f for f in self.plane.flaps if use in f.used_for)

    def polynomials(self, mass: float, density: float, use: str) -> dict[str, float]:
        plane = self.plane
        assert plane.propeller is not None
        thrust = power.thrust_polynomial(
            density, density, self.figure("rated_torque"), self.figure("torque_cutoff"),
            plane.propeller.diameter.value, self.figure("propeller_slope"),
            self.figure("propeller_intercept"),
        )  # fmt: skip
        more = sum(d.drag_increment.value for d in self.constants.flap_drag if d.flap == self.flap(use).id)
        aspect = plane.wing.span.value**2 / plane.wing.area.value
        drag = power.drag_polynomial(
            density,
            mass,
            plane.wing.area.value,
            aspect,
            self.figure("zero_lift_drag") + more,
            self.figure("efficiency"),
        )
        names = ("thrust_constant", "thrust_square", "drag_square", "drag_inverse")
        return dict(zip(names, (float(x) for x in (*thrust, *drag)), strict=True))

    def climb(self, mass: float, density_altitude: float) -> float:
        """Best rate of climb, flap up [ft/min]."""
        parts = self.polynomials(mass, float(air.isa_density(density_altitude)), "cruise")
        speed = power.best_rate_speed(**parts)
        return fpm(float(power.climb_rate(speed, mass, **parts)))

    def fastest(self, mass: float, density_altitude: float) -> float:
        parts = self.polynomials(mass, float(air.isa_density(density_altitude)), "cruise")
        return float(power.level_maximum_speed(**parts))

    def _true(self, use: str, factor: float, mass: float, density: float) -> float:
        flap = self.flap(use)
        stall = flap.stall.value * (mass / flap.stall_mass.value) ** 0.5
        return float(factor * stall * (air.RHO0 / density) ** 0.5)

    def roll(self, mass: float, density_altitude: float, headwind: float, friction: float) -> float:
        """Take-off roll [m], the whole headwind counted as a pilot's own figure does."""
        density = float(air.isa_density(density_altitude))
        assert self.plane.wing.area
        speed = self._true("takeoff", 1.1, mass, density)
        static = self.figure("static_thrust") * float(power.torque_falloff(density / air.RHO0))
        parts = self.polynomials(mass, density, "takeoff")
        at_speed = parts["thrust_constant"] + parts["thrust_square"] * speed**2
        fall = min((at_speed - static) / speed**2, 0.0)
        roll = takeoff.ground_roll(
            mass, speed, headwind, 0.0, friction, static, fall, density, self.plane.wing.area.value,
            self.figure("roll_lift"), self.figure("roll_drag"),
        )  # fmt: skip
        return float(roll.distance)

    def landing_roll(self, mass: float, density_altitude: float, friction: float) -> float:
        density = float(air.isa_density(density_altitude))
        assert self.plane.wing.area
        speed = self._true("landing", 1.1, mass, density)
        roll = landing.landing_roll(
            mass, speed, 0.0, 0.0, friction, self.figure("idle_thrust"), density, self.plane.wing.area.value,
            self.figure("landing_roll_lift"), self.figure("landing_roll_drag"),
        )  # fmt: skip
        return float(roll.distance)


LIGHT_ONE, LIGHT_TWO = 424.0, 505.0  # one or two aboard, half fuel, bags of 15 and 25 kg
HEAVY_ONE, HEAVY_TWO = 800.0, 905.0  # likewise, bags of 25 and 60 kg


@pytest.mark.parametrize(
    ("name", "one", "two"), [("dabchick", LIGHT_ONE, LIGHT_TWO), ("shelduck", HEAVY_ONE, HEAVY_TWO)]
)
def test_climbs_500_to_600_with_one_aboard_and_about_350_with_two(name: str, one: float, two: float) -> None:
    flown = Flown(name)
    assert 500 <= flown.climb(one, ft(6500)) <= 600
    assert flown.climb(two, ft(6500)) == pytest.approx(350, rel=0.2)


def test_rolls_about_120_m_the_light_and_200_m_the_heavy() -> None:
    """One aboard, about 6,000 ft, 5 kt of headwind, gravel (rolling friction 0.045)."""
    assert Flown("dabchick").roll(LIGHT_ONE, ft(6000), kt(5), 0.045) == pytest.approx(120, rel=0.2)
    assert Flown("shelduck").roll(HEAVY_ONE, ft(6000), kt(5), 0.045) == pytest.approx(200, rel=0.2)


def test_lands_in_under_100_m_the_light_and_150_m_the_heavy() -> None:
    """The roll, one aboard, about 6,000 ft, calm, gravel."""
    assert Flown("dabchick").landing_roll(LIGHT_ONE, ft(6000), 0.19) < 100
    assert Flown("shelduck").landing_roll(HEAVY_ONE, ft(6000), 0.22) < 150


@pytest.mark.parametrize(("name", "two", "speed"), [("dabchick", LIGHT_TWO, 85), ("shelduck", HEAVY_TWO, 98)])
def test_cruises_below_full_power(name: str, two: float, speed: float) -> None:
    """85 kt true and 98 kt true at 7,500 ft leave something to the fastest level flight there."""
    flown = Flown(name)
    usual = next(c for c in flown.plane.cruises if c.id == "usual")
    assert usual.speed is not None
    assert usual.speed.value == pytest.approx(kt(speed))
    assert flown.fastest(two, ft(7500)) > 1.02 * usual.speed.value


def test_thrust_is_within_what_physics_allows() -> None:
    """Static thrust below that of a loss-free propeller, flight thrust below its efficiency."""
    for name, mass in (("dabchick", LIGHT_ONE), ("shelduck", HEAVY_ONE)):
        flown = Flown(name)
        assert flown.plane.propeller is not None
        rated, wide = flown.plane.engine.rated_power.value, flown.plane.propeller.diameter.value
        assert flown.figure("static_thrust") < power.ideal_static_thrust(rated, air.RHO0, wide)
        parts = flown.polynomials(mass, air.RHO0, "cruise")
        for speed in (kt(50), kt(70), kt(90)):
            thrust = parts["thrust_constant"] + parts["thrust_square"] * speed**2
            assert thrust * speed / rated < power.froude_efficiency(thrust, speed, air.RHO0, wide)


@pytest.mark.parametrize("name", ["dabchick", "shelduck"])
def test_the_airspeed_correction_reaches_below_the_stall_of_the_lightest_flight(name: str) -> None:
    flown = Flown(name)
    empty = 0.72 * flown.plane.limits.takeoff.value
    for flap in flown.plane.flaps:
        slowest = flap.stall.value * (empty / flap.stall_mass.value) ** 0.5
        assert flap.correction[0].calibrated < slowest


def test_the_facts_that_owners_tell_are_in_the_documents() -> None:
    light, heavy = Flown("dabchick").plane, Flown("shelduck").plane
    assert light.limits.takeoff.value == 600
    assert heavy.limits.takeoff.value == 1000
    assert 550 in {cap.mass for cap in light.owner.mass_caps}
    seat = light.seats[0]
    assert (seat.height_sits_well.value, seat.height_fits.value) == pytest.approx((1.80, 1.90))
    for plane in (light, heavy):
        weighed = plane.configurations[0].weighing
        assert len(weighed.scales) == 3
        assert weighed.includes_oil is not None
        assert weighed.includes_unusable_fuel is not None
