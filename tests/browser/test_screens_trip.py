"""Leg, direction, aeroplane, configuration and hour by touch; remedies applied and taken back."""

from __future__ import annotations

import math
import re
from datetime import datetime

import pytest

from .keys import Keys
from .screens import QUESTIONS, Screens, air_of, document, natively, open_leg_of
from .trips_driver import place, without_ids


def picker(screens: Screens) -> None:
    """Open the panel under the leg's name, on the first screen."""
    screens.go("")
    button = screens.page.locator(".leg-button")
    if button.get_attribute("aria-expanded") == "false":
        button.click()


def test_another_leg_is_answered(screens: Screens) -> None:
    bundle = screens.bundle()
    legs = document(bundle, bundle["open"]["trip"])["legs"]
    picker(screens)
    screens.page.get_by_role("group", name="Leg", exact=True).get_by_role("radio").nth(2).check()
    screens.settle()
    after = screens.bundle()
    assert after["open"]["leg"] == legs[2]["id"]
    expected = natively(after, document(after, open_leg_of(after)["air_from"])["at"])
    screens.go("")
    assert {q: screens.verdict(q) for q in QUESTIONS} == {
        a["question"]: a["verdict"] for a in expected["answers"]
    }


def test_the_trip_tells_every_leg_and_the_worst_first(screens: Screens) -> None:
    screens.go("trip")
    screens.page.locator(".legs > li.stale").first.wait_for(state="detached")
    verdicts = [text.strip() for text in screens.page.locator(".leg-row .verdict").all_text_contents()]
    order = ["no", "can't say", "tight", "yes"]
    assert set(verdicts) <= set(order)
    worst = screens.page.locator(".pane-open .verdict-big").text_content() or ""
    assert worst.strip() == min(verdicts, key=order.index)
    first = 1 + verdicts.index(worst.strip())
    assert f"Leg {first}," in (screens.page.locator(".pane-open .headline").text_content() or "")


def test_a_direction_is_chosen_and_a_one_way_strip_stays_one_way(screens: Screens) -> None:
    bundle = screens.bundle()
    strips = {one["id"]: one for one in bundle["documents"] if one["kind"] == "strip"}
    trip = document(bundle, bundle["open"]["trip"])
    both = next(
        n
        for n, leg in enumerate(trip["legs"], 1)
        if sum(d["use"] in ("both", "takeoff") for d in strips[leg["from_strip"]]["directions"]) > 1
    )
    leg = trip["legs"][both - 1]
    strip = strips[leg["from_strip"]]
    other = next(
        d
        for d in strip["directions"]
        if d["id"] != leg["takeoff_direction"] and d["use"] in ("both", "takeoff")
    )
    screens.open_leg(both)
    picker(screens)
    screens.choose(f"Take-off at {strip['name']}", other["designator"])
    screens.settle()
    assert open_leg_of(screens.bundle())["takeoff_direction"] == other["id"]
    screens.go("")
    assert other["designator"] in (screens.page.locator(".leg-button h1").text_content() or "")

    one_way = next(
        n
        for n, leg in enumerate(trip["legs"], 1)
        if any(d["use"] == "takeoff" for d in strips[leg["to_strip"]]["directions"])
    )
    to = strips[trip["legs"][one_way - 1]["to_strip"]]
    closed = next(d for d in to["directions"] if d["use"] == "takeoff")
    screens.open_leg(one_way)
    picker(screens)
    group = screens.page.get_by_role("group", name=f"Landing at {to['name']}")
    slip = group.get_by_role("radio", name=re.compile(f"{closed['designator']}.*take-off only"))
    assert slip.is_disabled()


def test_another_aeroplane_and_back(screens: Screens) -> None:
    bundle = screens.bundle()
    before = open_leg_of(bundle)
    trip = document(bundle, bundle["open"]["trip"])
    planes = {one["id"]: one["name"] for one in bundle["documents"] if one["kind"] == "aeroplane"}
    flown = before.get("aeroplane") or trip["aeroplane"]
    other = next(name for name in planes if name != flown)
    picker(screens)
    screens.choose("Aeroplane", planes[other])
    screens.settle()
    changed = screens.bundle()
    leg = open_leg_of(changed)
    assert (leg.get("aeroplane") or document(changed, trip["id"])["aeroplane"]) == other
    assert screens.page.locator(".notice").count() == 0, "the core takes what was carried over"
    picker(screens)
    screens.choose("Aeroplane", planes[flown])
    screens.settle()
    after = open_leg_of(screens.bundle())
    own = ("load", "fuel", "takeoff_flap", "landing_flap", "cruise")
    assert {key: after.get(key) for key in own} == {key: before.get(key) for key in own}, "as it was left"


def test_another_configuration(screens: Screens) -> None:
    bundle = screens.bundle()
    leg, trip = open_leg_of(bundle), document(bundle, bundle["open"]["trip"])
    plane = document(bundle, leg.get("aeroplane") or trip["aeroplane"])
    now = leg.get("configuration") or trip["configuration"]
    other = next(one for one in plane["configurations"] if one["id"] != now)
    picker(screens)
    screens.page.get_by_role("group", name="Configuration").get_by_role(
        "radio", name=other["name"], exact=True
    ).check()
    screens.settle()
    after = screens.bundle()
    assert (open_leg_of(after).get("configuration") or document(after, trip["id"])["configuration"]) == other[
        "id"
    ]
    screens.page.get_by_role("button", name="Undo: configuration").first.click()
    screens.settle()
    assert open_leg_of(screens.bundle()) == leg


def test_the_departure_moves_by_touch(screens: Screens) -> None:
    screens.open_leg(2)
    before = open_leg_of(screens.bundle())["departure"]
    screens.go("trip")
    screens.page.get_by_role("button", name="60 min later").click()
    screens.page.get_by_role("button", name="15 min earlier").click()
    screens.settle()
    after = open_leg_of(screens.bundle())["departure"]
    assert minutes(after) - minutes(before) == 45
    assert after[19:] == before[19:].replace("Z", "+00:00"), "the offset stays"


def minutes(time: str) -> float:
    return datetime.fromisoformat(time).timestamp() / 60


def test_a_remedy_is_done_and_taken_back(screens: Screens) -> None:
    page = screens.page
    bundle = screens.bundle()
    trip = bundle["open"]["trip"]
    before = document(bundle, trip)
    screens.go("")
    remedy = page.locator(".pane-answers .remedy").filter(has=page.locator("button:enabled")).first
    remedy.wait_for()
    turned = [q for q in QUESTIONS if f"{_name(q)}" in (remedy.locator(".remedy-then").text_content() or "")]
    assert turned
    verdicts = {q: screens.verdict(q) for q in turned}
    remedy.get_by_role("button", name="Do this").click()
    screens.settle()
    assert all(screens.verdict(q) != verdicts[q] for q in turned), "what it says it turns, it turns"
    assert document(screens.bundle(), trip) != before
    screens.go("")
    page.locator(".pane-answers .undo").click()
    screens.settle()
    assert document(screens.bundle(), trip) == before
    screens.go("")
    assert {q: screens.verdict(q) for q in turned} == verdicts


def _name(question: str) -> str:
    from tussock.text import say

    return say({"text": f"question.{question}"})


def test_a_trip_by_nothing_but_keys(screens: Screens) -> None:
    """The demo's second leg made anew: its answers are the demo's, and the focus never falls off the page."""
    before = screens.bundle()
    week, ours = document(before, "week"), document(before, "ours")
    wanted = week["legs"][1]
    plane = document(before, week["aeroplane"])
    (load,) = (one for one in week["loads"] if one["id"] == wanted["load"])
    kits = [one for one in before["documents"] if one["kind"] == "kit"]
    things = {item["id"]: item["name"] for kit in kits for item in kit["items"]}
    screens.go("trip")
    keys = Keys(screens)
    keys.link("New trip", "trip/new")
    keys.figure("Name of the trip", "By keys")
    keys.pick("Aeroplane", week["aeroplane"])
    keys.pick("Configuration", week["configuration"])
    keys.pick("From strip", wanted["from_strip"])
    keys.pick("To strip", wanted["to_strip"])
    keys.press(keys.pane.get_by_role("button", name="Make the trip"))
    screens.page.get_by_text("Leg 1 of 1").wait_for()

    keys.tab("Trip", "trip/")
    keys.moment(screens.page.locator("#departure"), datetime.fromisoformat(wanted["departure"]))
    keys.link("Reserve and margins", "trip/rules")
    keys.figure("Final reserve", "30")
    keys.figure("Rule that the reserve follows", ours["reserve"]["rule"])
    keys.figure("Sinking air in the climb", "100")
    keys.link("By keys", "trip/")
    keys.link("Change leg 1", "trip/leg")
    for name in ("takeoff_direction", "landing_direction", "takeoff_flap", "landing_flap"):
        keys.slip(name.replace("_direction", "").replace("_", "-"), wanted[name])
    keys.slip("cruise", wanted["cruise"])
    keys.slip("grade", wanted["fuel_grade"])
    keys.figure("Cruise altitude", "6500")
    keys.figure("Forecast wind aloft", "8")
    keys.figure("Wind aloft from, true", "260")
    for end in ("from", "to"):
        strip = document(before, wanted[f"{end}_strip"])["name"]
        keys.pick(f"Air at {strip}", wanted[f"air_{end}"])
    keys.link("Who and what comes", "load/")
    for seat in load["seats"]:
        keys.pick(next(one["name"] for one in plane["seats"] if one["id"] == seat["seat"]), seat["person"])
    keys.figure(plane["tanks"][0]["name"], "42")
    for placed in load["placed"]:
        keys.tick(things[placed["item"]])
        keys.pick(f"Bay of {things[placed['item']]}", placed["bay"])
    bundle = screens.bundle()
    demo = before | {"open": {"trip": "week", "leg": wanted["id"]}}
    when = wanted["departure"]
    assert without_ids(natively(bundle, when)) == without_ids(natively(demo, when))

    # What takes itself away, or can't be pressed any more, hands the focus on.
    screens.go("trip")
    keys.link("New leg", "trip/add")
    keys.pick("To strip", wanted["from_strip"])
    keys.button("Add the leg")
    keys.link("Change leg 2", "trip/leg")
    keys.button("One earlier")
    keys.pane.get_by_role("heading", name="Leg 1 of 2").wait_for()
    assert keys.here() == "Leg 1 of 2"
    keys.button("Delete this leg")
    place(screens, "trip/")
    keys.button("not fixed")
    keys.link("Change leg 1", "trip/leg")
    keys.button("No forecast of the wind aloft")
    keys.link("Give the air", "air/")
    keys.figure("Temperature", "21")
    sock = keys.pane.locator("input[name^=wind-][name$=-full]").first
    keys.slip(sock.get_attribute("name") or "", "0.4")
    keys.get_to(screens.page.locator("wind-dial svg"))
    screens.page.keyboard.press("ArrowRight")
    screens.settle()
    assert keys.fell() == []
    after = screens.bundle()
    assert air_of(after)["temperature"] == pytest.approx(294.15)
    assert {"departure", "wind_aloft"}.isdisjoint(open_leg_of(after))
    wind = air_of(after)["wind"]
    assert (wind["by"], wind["fullness"]) == ("sock", 0.4)
    assert wind["wind_from"] == pytest.approx(math.radians(10))
