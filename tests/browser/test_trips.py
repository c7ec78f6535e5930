"""Trips made by touch: a new one from what is stored, its legs, loads and order, undone and deleted."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import expect

from tussock import text

from . import driving
from .screens import PLACES, QUESTIONS, SMALL, Screens, document, natively
from .trips_driver import button, figure, link, new_trip, pick, place, slip, without_ids

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

DEMO = "A week on the plateau"


#: The page drawn anew as when an answer comes, and what is then in the line that is typed in.
_DRAWN_ANEW = """async () => {
    const app = document.querySelector("tussock-app");
    app.requestUpdate();
    await app.updateComplete;
    return document.activeElement.value;
}"""


@pytest.fixture(scope="module")
def small(
    playwright_driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Screens]:
    """The smallest phone, touched."""
    with (
        driving.served(dist) as site,
        driving.browser(playwright_driver, tmp_path_factory.mktemp("trips"), SMALL, touch=True) as browser,
    ):
        screens = Screens(browser.open(site.address))
        screens.settle()
        driving.wait_for_phase(screens.page, "ready")
        yield screens
        assert browser.complaints == []


@pytest.fixture
def phone(small: Screens) -> Screens:
    small.start_again()
    return small


def opened(bundle: dict[str, Any]) -> dict[str, Any]:
    return document(bundle, bundle["open"]["trip"])


def after(phone: Screens) -> dict[str, Any]:
    phone.settle()
    return opened(phone.bundle())


def test_a_new_trip_says_what_it_lacks_and_then_answers_as_the_demo(phone: Screens) -> None:
    before = phone.bundle()
    week = document(before, "week")
    wanted = week["legs"][1]
    ours = document(before, "ours")
    new_trip(
        phone, "Test day", week["aeroplane"], week["configuration"], wanted["from_strip"], wanted["to_strip"]
    )
    # Nothing was told: nothing is answered, and what is missing can be touched.
    assert {phone.verdict(question) for question in QUESTIONS if question != "fits"} == {"can't say"}
    bundle = phone.bundle()
    (leg,) = opened(bundle)["legs"]
    assert set(leg) == {"id", "from_strip", "to_strip", "load"}
    bare = {a["question"]: a for a in natively(bundle, wanted["departure"])["answers"]}
    said = {question: a["verdict"] for question, a in bare.items()}
    assert said == dict.fromkeys(QUESTIONS, "can't say") | {"fits": "no"}
    assert "nobody" in text.say(bare["fits"]["reasons"][0]).lower(), "the load is empty: that was said"
    assert opened(bundle)["settings"] != "ours", "what the demo is judged by is invented"
    for question, shown in (("lifts_off", "trip/leg/flap"), ("reaches", "trip/leg/cruise")):
        phone.go(f"answer/{question}")
        ways = phone.page.locator(".pane-open a.way-to").all()
        hashes = {way.get_attribute("href") or "" for way in ways}
        (href,) = {one for one in hashes if one == f"#/{shown.replace('leg/', 'leg%2F')}"}
        phone.page.locator(f'.pane-open a.way-to[href="{href}"]').first.tap()
        place(phone, shown)

    phone.go("trip/rules")
    figure(phone, "Final reserve", "30")
    rule = phone.page.get_by_label("Rule that the reserve follows")
    rule.tap()
    rule.fill(ours["reserve"]["rule"])
    rule.press("Enter")
    figure(phone, "Sinking air in the climb", "100")
    assert ours["reserve"]["time"] == 1800
    phone.go("trip/leg")
    strips = {one["id"]: one for one in before["documents"] if one["kind"] == "strip"}
    planes = {one["id"]: one for one in before["documents"] if one["kind"] == "aeroplane"}

    def named(things: list[dict[str, Any]], name: str, by: str = "name") -> str:
        return next(one[by] for one in things if one["id"] == name)

    start, end, plane = strips[leg["from_strip"]], strips[leg["to_strip"]], planes[week["aeroplane"]]
    for end_of, strip, way in (("Take-off", start, "takeoff"), ("Landing", end, "landing")):
        direction = named(strip["directions"], wanted[f"{way}_direction"], "designator")
        slip(phone, f"{end_of} at {strip['name']}", direction)
    slip(phone, "Flap for take-off", named(plane["flaps"], wanted["takeoff_flap"]))
    slip(phone, "Flap for landing", named(plane["flaps"], wanted["landing_flap"]))
    slip(phone, "Cruise setting", named(plane["cruises"], wanted["cruise"]))
    slip(phone, "Fuel in the tanks", "avgas")
    figure(phone, "Cruise altitude", "6500")
    figure(phone, "Forecast wind aloft", "8")
    figure(phone, "Wind aloft from, true", "260")
    pick(phone, f"Air at {start['name']}", wanted["air_from"])
    phone.page.locator(f'#leg-air-from >> option[value="{wanted["air_from"]}"]:checked').wait_for(
        state="attached"
    )
    pick(phone, f"Air at {end['name']}", wanted["air_to"])
    phone.page.locator(f'#leg-air-to >> option[value="{wanted["air_to"]}"]:checked').wait_for(
        state="attached"
    )
    pick(phone, "Load", f"week/{wanted['load']}")
    expect(phone.page.locator("#load-name")).to_have_value(re.compile(", copy$"), timeout=driving.PATIENCE)
    phone.settle()
    phone.go("trip")
    phone.page.locator("#departure").fill(wanted["departure"][:16])
    phone.settle()
    phone.go("load")
    figure(phone, plane["tanks"][0]["name"], "42")

    def stored() -> dict[str, Any]:
        (now,) = opened(phone.bundle())["legs"]
        return dict(now)

    # what passes the gate is stored a moment after it was typed
    whole = {*wanted, "wind_aloft", "fuel"} - {"name"}
    for _ in range(20):
        if whole <= set(stored()) and set(stored()["wind_aloft"]) >= set(wanted["wind_aloft"]):
            break
        phone.page.wait_for_timeout(250)
    bundle = phone.bundle()
    (leg,) = opened(bundle)["legs"]
    same = {
        key: value for key, value in wanted.items() if key not in ("id", "name", "load", "fuel", "wind_aloft")
    }
    assert {key: leg[key] for key in same if key != "departure"} == {
        k: v for k, v in same.items() if k != "departure"
    }
    expected = natively(before | {"open": {"trip": "week", "leg": wanted["id"]}}, wanted["departure"])
    told = natively(bundle, wanted["departure"])
    for ours_, theirs in zip(without_ids(told)["answers"], without_ids(expected)["answers"], strict=True):
        for part in ours_:
            assert ours_[part] == theirs[part], (ours_["question"], part)
    assert without_ids(told) == without_ids(expected)
    assert expected["verdict"] != "can't say"
    phone.go("")
    assert {q: phone.verdict(q) for q in QUESTIONS} == {
        a["question"]: a["verdict"] for a in expected["answers"]
    }


def test_a_line_half_typed_outlives_an_answer_that_comes(phone: Screens) -> None:
    # An answer draws the page anew, at any moment; the line once got its stored text back under the fingers.
    for shown, line, field in (
        ("trip/whole", "trip-name", lambda trip, rules: trip["name"]),
        ("trip/rules", "reserve-rule", lambda trip, rules: rules["reserve"]["rule"]),
        ("trip/leg", "load-name", lambda trip, rules: trip["loads"][0]["name"]),
    ):
        phone.go(shown)
        typed = phone.page.locator(f"#{line}")
        was = typed.input_value()
        typed.tap()
        typed.fill("Half of a ")
        assert phone.page.evaluate(_DRAWN_ANEW) == "Half of a ", line
        typed.press_sequentially("name")
        typed.press("Enter")
        phone.settle()
        bundle = phone.bundle()
        assert field(opened(bundle), document(bundle, "ours")) == "Half of a name"
        # emptied, it gets back what the documents say
        phone.go(shown)
        typed.fill("")
        assert phone.page.evaluate(_DRAWN_ANEW) == ""
        typed.press("Enter")
        expect(typed).to_have_value("Half of a name")
        phone.page.get_by_role("button", name=re.compile("^Undo")).first.tap()
        expect(typed).to_have_value(was)


def test_legs_are_added_changed_moved_and_deleted_and_undone(phone: Screens) -> None:
    week = opened(phone.bundle())
    phone.go("trip")
    link(phone, "New leg").tap()
    place(phone, "trip/add")
    made = button(phone, "Add the leg")
    assert made.is_disabled()
    pick(phone, "To strip", "windgate")
    pick(phone, "Load", "dabchick-alone")
    made.tap()
    place(phone, "trip/")
    grown = after(phone)
    assert [leg["id"] for leg in grown["legs"][:-1]] == [leg["id"] for leg in week["legs"]]
    new = grown["legs"][-1]
    last = week["legs"][-1]["to_strip"]
    assert new == {"id": new["id"], "from_strip": last, "to_strip": "windgate", "load": "dabchick-alone"}
    assert phone.page.locator(".leg-row[aria-pressed=true]").count() == 1

    link(phone, f"Change leg {len(grown['legs'])}").tap()
    place(phone, "trip/leg")
    pick(phone, "From strip", "larkfield")
    phone.page.get_by_role("heading", name="Larkfield").wait_for()
    assert after(phone)["legs"][-1]["from_strip"] == "larkfield"
    button(phone, "One earlier").tap()
    phone.page.get_by_text(f"Leg {len(grown['legs']) - 1} of {len(grown['legs'])}", exact=True).wait_for()
    assert after(phone)["legs"][-2]["id"] == new["id"]
    slip(phone, "This leg flies", "an aeroplane of its own")
    phone.page.locator("input[name=whose][value=own]:checked").wait_for(state="attached")
    phone.page.locator('.pane-open label.slip:has(input[name=aeroplane][value="shelduck"])').tap()
    phone.settle()
    other = after(phone)
    assert other["legs"][-2]["aeroplane"] == "shelduck"
    assert other["aeroplane"] == week["aeroplane"], "the others fly what they flew"
    assert not {"fuel", "cruise", "takeoff_flap"} & set(other["legs"][-2]), "nothing was chosen by the change"
    slip(phone, "This leg flies", "the trip's")
    phone.page.locator("input[name=whose][value=trip]:checked").wait_for(state="attached")
    assert "aeroplane" not in after(phone)["legs"][-2]

    order = [leg["id"] for leg in after(phone)["legs"]]
    phone.page.locator(".pane-open").get_by_role("button", name="Delete this leg").tap()
    place(phone, "trip/")
    assert [leg["id"] for leg in after(phone)["legs"]] == [one for one in order if one != new["id"]]
    phone.page.locator(".pane-open .undo").tap()
    assert [leg["id"] for leg in after(phone)["legs"]] == order, "each leg in its own place"
    for _ in range(6):
        phone.page.locator(".pane-open .undo").tap()
        if [leg["id"] for leg in after(phone)["legs"]] == [leg["id"] for leg in week["legs"]]:
            break
    assert after(phone)["legs"] == week["legs"]
    assert phone.page.locator(".notice").count() == 0


def test_loads_people_and_kits_of_a_trip(phone: Screens) -> None:
    week = opened(phone.bundle())
    phone.go("trip/leg")
    pick(phone, "Load", "-empty")
    phone.page.locator(".pane-open .undo", has_text="load of the leg").wait_for()
    trip = after(phone)
    empty = trip["loads"][-1]
    assert (empty["seats"], empty["placed"], trip["legs"][0]["load"]) == ([], [], empty["id"])
    name = phone.page.get_by_label("Name of the load")
    name.tap()
    name.fill("Day out")
    name.press("Enter")
    assert after(phone)["loads"][-1]["name"] == "Day out"
    pick(phone, "Load", f"week/{week['legs'][0]['load']}")
    expect(phone.page.locator("#load-name")).to_have_value(re.compile(", copy$"), timeout=driving.PATIENCE)
    phone.settle()
    copied = after(phone)["loads"][-1]
    (source,) = (load for load in week["loads"] if load["id"] == week["legs"][0]["load"])
    assert copied["seats"] == source["seats"]
    assert [one["item"] for one in copied["placed"]] == [one["item"] for one in source["placed"]]
    assert copied["id"] != week["legs"][0]["load"]

    phone.go("trip/whole")
    people = phone.page.locator("[data-ticks=people] label")
    people.filter(has_text="Wren").first.tap()
    assert "wren" not in after(phone)["people"]
    phone.page.locator("[data-ticks=kits] label").first.tap()
    assert after(phone)["kits"] != week["kits"]
    phone.page.locator(".pane-open").get_by_role("button", name="Delete Day out").tap()
    phone.page.get_by_role("button", name="Delete Day out").wait_for(state="detached")
    assert "Day out" not in [load["name"] for load in after(phone)["loads"]]
    phone.page.locator(".pane-open .undo").tap()
    phone.page.get_by_role("button", name="Delete Day out").wait_for()
    assert [load["name"] for load in after(phone)["loads"]][-2] == "Day out"


def test_trips_are_switched_deleted_and_come_back(phone: Screens) -> None:
    week = opened(phone.bundle())
    new_trip(phone, "Short hop", "dabchick", "shelf-out", "saltpan", "saltpan")
    hop = opened(phone.bundle())
    phone.go("trip")
    pick(phone, "Trip", "week")
    phone.page.get_by_role("heading", name=DEMO).wait_for()
    assert opened(phone.bundle())["id"] == "week"
    pick(phone, "Trip", hop["id"])
    phone.page.get_by_role("heading", name="Short hop").wait_for()
    link(phone, "The whole trip").tap()
    name = phone.page.get_by_label("Name of the trip")
    name.tap()
    name.fill("Shortest hop")
    name.press("Enter")
    button(phone, "Delete Shortest hop").tap()
    phone.page.get_by_role("heading", name=DEMO).wait_for()
    bundle = phone.bundle()
    assert hop["id"] in bundle["removed"]
    assert [one["id"] for one in bundle["documents"] if one["kind"] == "trip"] == ["week"]
    phone.go("trip")
    phone.page.locator(".pane-open .undo").tap()
    pick(phone, "Trip", hop["id"])
    phone.page.get_by_role("heading", name="Shortest hop").wait_for()
    assert opened(phone.bundle())["legs"] == hop["legs"]
    assert document(phone.bundle(), "week") == week


def test_what_something_rests_on_is_not_deleted(phone: Screens) -> None:
    """A lesson of the demo names the demo trip: that is told, and nothing changes."""
    lessons = [one for one in phone.bundle()["documents"] if one["kind"] == "lesson"]
    assert all(one["trip"] == "week" for one in lessons)
    phone.go("trip/whole")
    button(phone, f"Delete {DEMO}").tap()
    if lessons:
        phone.page.locator(".pane-open .notice", has_text="Not done").wait_for()
        assert opened(phone.bundle())["id"] == "week"
        return
    # The last trip is gone: what is shown leads to a new one.
    phone.page.get_by_role("heading", name="New trip").wait_for()
    phone.page.locator(".pane-open .undo").tap()
    phone.settle()
    assert opened(phone.bundle())["id"] == "week"


def test_targets_are_large_and_nothing_runs_over_the_edge(phone: Screens) -> None:
    for where in ("trip/new", "trip/add", "trip/leg", "trip/whole", "trip/rules", "trip"):
        phone.go(where)
        found = phone.page.evaluate(
            """() => [...document.querySelectorAll(
                "button, a, select, .slip, .tick, input.f-text")]
              .filter((one) => one.closest(".pane-open"))
              .filter((one) => one.checkVisibility())
              .map((one) => [one.textContent.trim().slice(0, 40), one.getBoundingClientRect()])
              .filter(([, box]) => box.height < 47.5 || box.right > innerWidth + 0.5)
              .map(([text, box]) => `${text}: ${box.width} x ${box.height}, to ${box.right}`)"""
        )
        assert found == [], where


def test_a_bare_aeroplane_flies_into_a_trip_and_every_screen_says_what_is_missing(phone: Screens) -> None:
    phone.go("edit")
    name = phone.page.locator('[id="hub-aeroplane-name"]')
    name.tap()
    name.fill("Bare")
    name.press("Enter")
    link(phone, "New trip with Bare").tap()
    phone.page.get_by_label("Name of the trip").tap()
    phone.page.get_by_label("Name of the trip").fill("First flight")
    assert phone.page.get_by_label("Aeroplane", exact=True).input_value() == "bare"
    pick(phone, "From strip", "saltpan")
    pick(phone, "To strip", "ridge-camp")
    button(phone, "Make the trip").tap()
    phone.page.get_by_text("Leg 1 of 1").wait_for()
    phone.settle()
    assert {phone.verdict(question) for question in QUESTIONS} <= {"can't say", "no"}
    for where in PLACES:
        if not where.startswith("history/"):
            phone.go(where)
            assert (phone.page.locator(".pane-open h1, .pane-answers h1").first.text_content() or "").strip()
    phone.go("load")
    assert phone.page.locator(".notice").count() == 0
