"""An aeroplane and strips that nobody has seen, entered by touch from a description and flown, offline.

The description is that of `marrow_fen`; figures are typed in its units, most without a unit, as they stand
there. What the forms made of it is held against the same documents written down by hand, and the six answers
on the screen against those of the native core to both. The tests go on from one another: it is one sitting.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tussock.demo.figures import iso

from . import driving, marrow_fen
from .marrow_fen import CAPS, CLIMB_HEIGHTS, CORNERS, DIAL, HEIGHTS, SCALES, WARMTHS, sheet
from .person import Person
from .screens import (
    QUESTIONS,
    SMALL,
    Screens,
    air_of,
    document,
    natively,
    open_leg_of,
    shows_what_the_core_says,
)
from .test_forms_build import bare, renamed, whole
from .trips_driver import figure, pick, place, slip

if TYPE_CHECKING:
    from playwright.sync_api import Playwright

LONGITUDE = marrow_fen.meridian(datetime.now(UTC))


@pytest.fixture(scope="module")
def person(
    playwright_driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Person]:
    folder = tmp_path_factory.mktemp("profile")
    with (
        driving.served(dist) as site,
        driving.browser(playwright_driver, folder, SMALL, touch=True) as browser,
    ):
        screens = Screens(browser.open(site.address))
        screens.settle()
        driving.wait_for_phase(screens.page, "ready")
        site.stop()
        screens.page.set_default_timeout(10_000)
        yield Person(screens)
        assert browser.complaints == []


def begin(person: Person, label: str, name: str, first: str, origin: str) -> None:
    person.page.evaluate("() => { location.hash = '#/edit'; }")
    person.page.get_by_label(label).wait_for()
    person.type(label, name)
    person.page.locator(".f-contents").wait_for()
    person.open(first)
    person.choose("Figures that I put in now are", origin)


def stored(person: Person, name: str) -> dict[str, Any]:
    person.page.locator(".f-waiting").wait_for(state="detached")
    person.screens.settle()
    return document(person.screens.bundle(), name)


def named(made: dict[str, Any]) -> dict[str, Any]:
    """With names in the place of ids, all that is taken for said, and without the moments of entering."""
    read = whole(renamed(bare(made), {}))
    return dict(without_moments(renamed(read, names_in(made))))


def names_in(made: dict[str, Any]) -> dict[str, str]:
    """What the elements of a document are called, by their ids."""
    return {
        element["id"]: element.get("name") or element.get("text") or element["id"]
        for elements in made.values()
        if isinstance(elements, list)
        for element in elements
        if isinstance(element, dict) and "id" in element
    }


def without_moments(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: without_moments(one) for key, one in value.items() if key not in ("seen", "at")}
    return [without_moments(one) for one in value] if isinstance(value, list) else value


def unlike(made: Any, wanted: Any, place: str = "") -> list[str]:
    """Where two documents differ, in words that help."""
    if isinstance(made, dict) and isinstance(wanted, dict):
        keys = made.keys() | wanted.keys()
        return [one for key in keys for one in unlike(made.get(key), wanted.get(key), f"{place}/{key}")]
    if isinstance(made, list) and isinstance(wanted, list) and len(made) == len(wanted):
        pairs = enumerate(zip(made, wanted, strict=True))
        return [one for i, (a, b) in pairs for one in unlike(a, b, f"{place}/{i}")]
    return [] if made == wanted else [f"{place}: {made!r}, not {wanted!r}"]


def test_the_aeroplane_from_its_front_to_its_notes(person: Person) -> None:
    begin(person, "Name of a new aeroplane", "Marrow Fen", "Name and datum", "book")
    person.fill(
        Registration="MFN", Class="four seats, high wing, tailwheel", Datum="Front face of the firewall"
    )
    basics(person)
    stations(person)
    masses(person)
    flaps(person)
    performance(person)
    notes(person)
    assert unlike(named(stored(person, "marrow-fen")), named(marrow_fen.aeroplane())) == []


def basics(person: Person) -> None:
    person.next("Wheels and wing")
    wheels = person.give("Undercarriage")
    person.choose("Layout", "tailwheel")
    person.type("Arm of the main", "12 in", wheels)
    person.type("Arm of the tail", "210", wheels)  # in inches, like the one before
    person.fill(Area="175 ft2", Span="36 ft", Height="7")


def stations(person: Person) -> None:
    person.next("Seats")
    for name, arm, tall, fits in (("Front left", "36", "75 in", "79"), ("Rear left", "70", "68", "73")):
        person.add("Seats", name)
        person.open(name)
        person.fill(Arm=arm, Mass="265 lb", Tallest_who_sits=tall, Tallest_who_fits=fits, Width="42 in")
        person.type("Bench", name.split()[0].lower())
        if name == "Front left":
            person.choose("Has controls", "yes")
        person.tap(f"Duplicate {name}")
        person.open("Back to Seats")
        person.open(f"{name}, copy")
        person.type("Name", name.replace("left", "right"))
        person.open("Back to Seats")

    person.next("Bays")
    person.add("Bays", "Baggage")
    person.open("Baggage")
    person.fill(Arm="95", Mass="120", Limit_of_the_floor="60 lb/ft2", Volume="260 L")
    person.fill(Length="30", Width="34", Height="24", Longest="55")
    door = person.give("Door")
    person.fill(door, Width="24", Height="20")
    net = person.give("What keeps things in place")
    person.choose("By", "a net", net)
    person.type("Holds, at most", "120", net)
    person.type("Share that soft bags", "85")
    person.open("Back to Bays")

    person.next("Tanks")
    person.add("Tanks", "Left wing")
    person.open("Left wing")
    person.fill(Arm="48", Usable="26 US gal", Unusable="1.5")
    person.tap("Duplicate Left wing")
    person.open("Back to Tanks")
    person.open("Left wing, copy")
    person.type("Name", "Right wing")
    person.open("Back to Tanks")


def masses(person: Person) -> None:
    person.next("Masses and envelope")
    person.fill(On_the_ramp="2455", At_take="2450", At_landing="2450")
    person.add("Envelopes", "Normal")
    person.open("Normal")
    person.rows("Corners", ["Mass", "Arm"], CORNERS)
    person.open("Back to Masses and envelope")
    person.next("Weighing and configurations")
    person.open("As it is")
    person.choose("Weighing", "on scales")
    person.rows("Scales", ["Wheel", "Arm of the wheel", "Reading"], SCALES)
    person.choose("Was the oil in?", "yes")
    person.choose("Was the unusable fuel in?", "yes")
    person.seen(person.pane.get_by_label("Date", exact=True)).fill("2026-10-14")
    person.open("Back to Weighing and configurations")
    person.next("My own limits")
    person.fill(Crosswind="12", Tailwind="5", Gusts="10", Any_wind="25", Steepest_bank="40")
    person.rows("Take-off mass by density altitude", ["Density altitude", "Mass"], CAPS)
    person.next("Engine and propeller")
    person.fill(Rated_power="180 hp", Rated_rotation="2700")
    person.tick("Fuel that it takes", "avgas", "mogas")
    person.choose("Propeller", "fixed pitch")
    person.type("Diameter", "80 in")


def flaps(person: Person) -> None:
    person.next("Flaps and speeds")
    person.add("Flap settings", *DIAL)
    for name, stall, climb, used in (
        ("Up", "50", "70", "cruise"),
        ("Flap 20", "46", "66", "take-off"),
        ("Flap 40", "43", "62", "landing"),
    ):
        person.open(name)
        person.fill(Stall=stall, Mass_of_that_stall="2450", Climb_speed=climb)
        if name != "Up":
            person.fill(Angle=name.split()[1], Fastest={"Flap 20": "95", "Flap 40": "85"}[name])
        if name == "Flap 20":
            person.fill(Lift="1.15", At_50_ft="1.3")
            person.rows("Airspeed correction", ["Indicated", "Calibrated"], DIAL[name])
        else:
            lines = "\n".join("\t".join(map(str, row)) for row in DIAL[name])
            assert person.paste("Airspeed correction", lines) == f"{len(DIAL[name])} rows taken"
        if name == "Flap 40":
            person.type("Touchdown", "1.15")
        person.tick("Used for", used)
        person.open("Back to Flaps and speeds")
    person.fill(Manoeuvring="105", Normal="125", Never_exceed="158", First_mark="40", My_usual_approach="8")


def performance(person: Person) -> None:
    person.next("Performance")
    tables = marrow_fen
    for name, phase, flap, roll, over in (
        ("Book, takeoff", "take-off", "Flap 20", tables.TAKEOFF_ROLL, tables.TAKEOFF_50FT),
        ("Book, landing", "landing", "Flap 40", tables.LANDING_ROLL, tables.LANDING_50FT),
    ):
        person.choose("Kind", "distances of the book")
        person.add("Sources of performance", name)
        person.open(name)
        person.choose("For", phase)
        person.choose("Flap", flap)
        for heading, table in (("Ground roll", roll), ("Distance over 50 ft", over)):
            said = person.paste(heading, sheet(table, HEIGHTS, WARMTHS))
            assert said == "Taken: 2 tables of 3 x 3 figures"
        person.open("Back to Performance")
    for name, speed, rates in (
        ("Book, climb", "80 mph", tables.CLIMB),
        ("Book, going around", "65", tables.AROUND),
    ):
        person.choose("Kind", "climb of the book")
        person.add("Sources of performance", name)
        person.open(name)
        person.type("Climb speed", speed)
        person.choose("Temperatures are", "above standard")
        text = sheet(rates, CLIMB_HEIGHTS, (0,))
        if rates is tables.CLIMB:
            # Two figures that would count in different units are refused, and stay.
            mixed = text.replace("2450\t", "2450 g\t")
            assert "figures before it have none" in person.paste("Rate of climb", mixed)
            assert person.seen(person.pane.locator("textarea.f-paste")).input_value() == mixed
        else:
            person.choose("Flap", "Flap 40")
        assert person.paste("Rate of climb", text) == "Taken: 2 tables of 4 x 1 figures"
        person.open("Back to Performance")


def notes(person: Person) -> None:
    person.next("Fuel and cruise")
    person.fill(Taxi="1.1", Flow_in_the_climb="13", Airspeed_in_the_climb="75 kt", Flow_in_the_descent="6")
    person.fill(Rate_of_descent="500", Error_of_dip="1")
    person.add("Cruise settings", "Easy")
    person.open("Easy")
    person.fill(Rotation="2400", Airspeed="105", Fuel_flow="8.8")
    person.fill(Seen_to_hold_from="1000", Seen_to_hold_up="9000")
    person.open("Back to Fuel and cruise")
    person.next("Notes where they matter")
    slip_note = "No slip with flap 40"
    for text, question in (("Lock the tailwheel before full power", "Lifts off"), (slip_note, "Stops")):
        person.type("Add to Notes", text)
        person.tick(text, question)
    person.choose("Flap", "Flap 40", person.group(slip_note))


def test_the_aeroplane_alone_can_answer_all_six(person: Person) -> None:
    person.open("Contents", "Marrow Fen")
    person.page.get_by_text("Can answer 6 of 6 questions").wait_for()
    assert person.page.locator(".f-missing a").count() == 0


def test_two_strips(person: Person) -> None:
    paced_strip(person)
    one_way_strip(person)
    wanted = marrow_fen.strips(iso(datetime.now(UTC)), LONGITUDE)
    for strip in wanted:
        assert unlike(named(stored(person, strip["id"])), named(strip), strip["name"]) == []


def where(person: Person, longitude: float, elevation: str) -> None:
    position = person.give("Position")
    person.fill(position, Latitude="-33", Longitude=str(longitude))
    person.type("Elevation", elevation)
    person.next("Ground")


def nothing_there(person: Person, group: str) -> None:
    person.choose(group, "there are none")
    person.type("There are none, says", "Ada Fenn")


def something_there(person: Person, group: str, name: str, distance: str, height: str) -> None:
    person.choose(group, "listed")
    person.type("Add to Obstacles", name)
    person.fill(person.group(name), Distance=distance, Height=height)


def paced_strip(person: Person) -> None:
    begin(person, "Name of a new strip", "Cold Marrow", "Name and place", "measured")
    where(person, LONGITUDE, "840")
    person.choose("Unit of Length", "ft")
    person.seen(person.page.get_by_text("Count paces")).tap()
    person.fill(Paces="840", Length_of_a_pace="2.5")
    person.tap("Take 2100 ft")
    person.type("Width", "80")
    person.rows("Slopes", ["Length", "Slope"], [(900, 1), (1200, 0)])
    person.choose("Surface", "short dry grass", person.give("Surface"))
    person.next("Directions and obstacles")
    # A designator that is none is refused in words by Enter too, and stays.
    person.type("Add to Directions", "9")
    person.page.get_by_text("is no designator").wait_for()
    assert person.page.get_by_label("Add to Directions").input_value() == "9"
    person.add("Directions", "09", "27")
    for way, bearing, along in (("09", "92", "forward, as listed"), ("27", "272", "in reverse")):
        person.open(way)
        person.type("True bearing", bearing)
        person.choose("Meets the slopes", along)
        person.choose("Used for", "both")
        ahead, before = "Obstacles beyond the end", "Obstacles before the threshold"
        something_there(person, ahead if way == "09" else before, "Pines", "1200 ft", "45 ft")
        nothing_there(person, before if way == "09" else ahead)
        person.choose("Going around", "possible")
        person.open("Back to Directions and obstacles")
    person.next("Light, fuel, what is there")
    person.choose("Is there a windsock?", "yes")


def one_way_strip(person: Person) -> None:
    begin(person, "Name of a new strip", "Hollow Barn", "Name and place", "measured")
    where(person, round(LONGITUDE + 0.6, 1), "1150")
    person.fill(Length="1900 ft", Width="70")
    person.rows("Slopes", ["Length", "Slope"], [(1900, 3)])
    person.choose("Surface", "dry gravel", person.give("Surface"))
    person.next("Directions and obstacles")
    person.add("Directions", "31", "13")
    person.open("31")
    person.type("True bearing", "308")
    person.choose("Meets the slopes", "forward, as listed")
    person.choose("Used for", "landing only")
    something_there(person, "Obstacles before the threshold", "Wall", "150 ft", "6 ft")
    person.choose("Going around", "not possible")
    person.type("Committed to land at", "the gate")
    person.open("Back to Directions and obstacles")
    person.open("13")
    person.type("True bearing", "128")
    person.choose("Meets the slopes", "in reverse")
    person.choose("Used for", "take-off only")
    nothing_there(person, "Obstacles beyond the end")


def test_two_people_and_some_kit(person: Person) -> None:
    page = person.page
    page.evaluate("() => { location.hash = '#/edit'; }")
    for name, mass, height in (("Ada Fenn", "148 lb", "66 in"), ("Bo Marrow", "176 lb", "71 in")):
        person.type("Add people", f"{name}, {mass}")
        person.open(name)
        person.choose("Figures that I put in now are", "measured")
        person.type("Height", height)
        if name == "Ada Fenn":
            person.choose("Flies", "yes")
        person.open("All that is mine")
    person.type("Name of a new kit", "Two nights")
    person.choose("Figures that I put in now are", "measured")
    for line in ("Tent, 14 lb, 30 L", "Sleeping bags, 9 lb, 26 L", "Water can, 22 lb"):
        person.type("Add things", line)
    person.open("Water can")
    person.choose("Size", "rigid")
    person.fill(Length="11 in", Width="7 in", Height="13 in")
    for one in [*marrow_fen.people(), marrow_fen.kit()]:
        assert unlike(named(stored(person, one["id"])), named(one), one["name"]) == []


def test_a_trip_of_one_leg_is_answered_in_full(person: Person) -> None:
    phone, page = person.screens, person.page
    phone.go("settings")
    slip(phone, "Fuel and bulk", "gal")
    phone.go("trip")
    person.open("New trip")
    person.type("Name of the trip", "To the barn")
    for label, option in (
        ("Aeroplane", "Marrow Fen"),
        ("From strip", "Cold Marrow"),
        ("To strip", "Hollow Barn"),
    ):
        person.choose(label, option)
    person.tap("Make the trip")
    page.get_by_text("Leg 1 of 1").wait_for()
    phone.settle()
    leg(person)
    load(person)
    air(person)
    told = shows_what_the_core_says(phone, {"volume": "gal", "bulk": "gal"})
    assert [one["question"] for one in told["answers"]] == list(QUESTIONS)
    assert "can't say" not in {one["verdict"] for one in told["answers"]}, told["answers"]
    assert page.locator(".pane-answers .notice").count() == 0
    bundle = phone.bundle()
    now = air_of(bundle)["at"]
    assert natively(bundle, now) == natively(by_hand(bundle), now)


def by_hand(bundle: dict[str, Any]) -> dict[str, Any]:
    """The same leg with all that was described written down by hand, under the ids that the forms gave."""
    made = {one["id"]: one for one in bundle["documents"]}
    when = open_leg_of(bundle)["departure"]
    for one in [
        marrow_fen.aeroplane(),
        *marrow_fen.strips(when, LONGITUDE),
        *marrow_fen.people(),
        marrow_fen.kit(),
    ]:
        ids = {name: id_ for id_, name in names_in(made[one["id"]]).items()}
        made[one["id"]] = renamed(one, {id_: ids[name] for id_, name in names_in(one).items()})
    return bundle | {"documents": list(made.values())}


def leg(person: Person) -> None:
    phone = person.screens
    phone.go("trip")
    person.open("Change leg 1", "Cold Marrow")
    place(phone, "trip/leg")
    slip(phone, "Take-off at Cold Marrow", "09")
    slip(phone, "Landing at Hollow Barn", "31")
    slip(phone, "Flap for take-off", "Flap 20")
    slip(phone, "Flap for landing", "Flap 40")
    slip(phone, "Cruise setting", "Easy")
    slip(phone, "Fuel in the tanks", "avgas")
    figure(phone, "Cruise altitude", "3500")
    figure(phone, "Forecast wind aloft", "12")
    figure(phone, "Wind aloft from, true", "270")
    phone.go("trip/rules")
    figure(phone, "Final reserve", "30")
    figure(phone, "Sinking air in the climb", "200")
    phone.go("trip")
    person.tap("now")
    phone.settle()


def load(person: Person) -> None:
    phone, page = person.screens, person.page
    page.get_by_role("navigation").get_by_role("link", name="Load", exact=True).tap()
    place(phone, "load/")
    pick(phone, "Front left", "ada-fenn")
    pick(phone, "Front right", "bo-marrow")
    for tank in ("Left wing", "Right wing"):
        figure(phone, tank, "18")
    slip(phone, "Kit", "Two nights")
    for thing in ("Tent", "Sleeping bags", "Water can"):
        page.locator(".item label").filter(has_text=re.compile(rf"^\W*{thing}")).tap()
    phone.settle()


def air(person: Person) -> None:
    phone, page = person.screens, person.page
    phone.go("")
    page.locator(".air-row a").first.tap()
    figure(phone, "It reads", "900")
    figure(phone, "Temperature", "17")
    slip(phone, "How full the sock is", "2 of 5")
    point(person, 0.6)
    slip(phone, "Where", "Hollow Barn")
    figure(phone, "It reads", "1200")
    figure(phone, "Temperature", "15")
    slip(phone, "Wind given by", "Speed")
    figure(phone, "Wind speed", "6")
    point(person, 0.4)


def point(person: Person, across: float) -> None:
    """Touch the dial of the wind near its top."""
    dial = person.page.locator("wind-dial svg")
    dial.scroll_into_view_if_needed()
    box = dial.bounding_box()
    assert box
    person.page.touchscreen.tap(box["x"] + box["width"] * across, box["y"] + box["height"] * 0.06)
    person.screens.settle()


def test_twice_the_text_loses_nothing(person: Person) -> None:
    page = person.page
    for there in ("marrow-fen", "marrow-fen%2Fperformance%2Fbook-climb", "cold-marrow%2Fdirections%2F09"):
        page.evaluate("(place) => { location.hash = `#/edit/${place}`; }", there)
        page.locator(f'.pane-open[data-place="edit/{there.replace("%2F", "/")}"]').wait_for()
        page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
        over = page.evaluate(
            "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        assert over <= 0, there
    page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
