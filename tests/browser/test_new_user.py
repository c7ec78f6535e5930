"""An aeroplane and a strip that nobody has seen, entered from a written description by touch.

Fields are found by their labels alone, as by somebody without a manual; figures are typed in the units
of the description, most without a unit, as they stand there. Aeroplane, strip and all figures are invented.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tussock import units

from . import driving
from .screens import SMALL, Screens, document

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Playwright

NAME = "Marrow Fen"
CLIMB = (
    "1100 lb\t0 degC\t20\n0\t1150\t1000\n4000\t900\t760\n8000\t650\t520\n\n"
    "1320\t0\t20\n0\t850\t720\n4000\t620\t500\n8000\t390\t280"
)
CORNERS = [(760, 66), (1100, 66), (1320, 69), (1320, 76), (760, 76)]


class Person:
    """Somebody with the description in one hand and the phone in the other."""

    def __init__(self, screens: Screens) -> None:
        self.screens, self.page = screens, screens.page

    def seen(self, found: Locator) -> Locator:
        return found.filter(visible=True).first

    def open(self, link: str) -> None:
        self.seen(self.page.get_by_role("link", name=link)).tap()
        title = link.removeprefix("Back to ").removeprefix("Next: ")
        self.page.locator("h1", has_text=title).filter(visible=True).wait_for()

    def add(self, what: str, name: str) -> None:
        self.type(f"Add to {what}", name)
        self.seen(self.page.get_by_role("link", name=name)).wait_for()

    def type(self, label: str, typed: str, within: Locator | None = None) -> None:
        """Into the field whose label begins so."""
        labels = (within or self.page.locator(".pane-open")).locator("label.f-label").filter(visible=True)
        found = labels.filter(has_text=re.compile(rf"^\s*{re.escape(label)}")).first
        field = self.page.locator(f'[id="{found.get_attribute("for")}"]')
        field.tap()
        self.page.keyboard.press("Control+A")
        self.page.keyboard.insert_text(typed)
        self.page.keyboard.press("Enter")

    def rows(self, what: str, labels: list[str], rows: list[tuple[Any, ...]]) -> None:
        for number, row in enumerate(rows, 1):
            self.page.get_by_role("button", name=f"Add a row: {what}").tap()
            place = self.page.get_by_role("group", name=f"{what}, row {number}", exact=True)
            place.wait_for()
            for label, one in zip(labels, row, strict=True):
                self.type(label, str(one), place)

    def choose(self, group: str, answer: str) -> None:
        fieldset = self.seen(self.page.get_by_role("group", name=group, exact=True))
        radio = fieldset.get_by_role("radio", name=answer, exact=True)
        fieldset.locator("label").filter(has_text=answer).first.tap()
        assert radio.is_checked(), (group, answer)

    def next(self, title: str) -> None:
        self.open(f"Next: {title}")


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
        yield Person(screens)
        assert browser.complaints == []


def begin(person: Person, label: str, name: str, first: str) -> None:
    person.page.evaluate("() => { location.hash = '#/edit'; }")
    person.page.get_by_label(label).wait_for()
    person.type(label, name)
    person.page.locator(".f-contents").wait_for()
    person.open(first)
    person.choose("Figures that I put in now are", "measured")


def stored(person: Person, name: str) -> dict[str, Any]:
    person.page.locator(".f-waiting").wait_for(state="detached")
    person.screens.settle()
    return document(person.screens.bundle(), name)


def in_units(figure: Any, unit: str) -> float:
    value = figure["value"] if isinstance(figure, dict) else figure
    return round(float(units.from_si(value, unit)), 6)


def test_an_aeroplane_in_pounds_and_inches(person: Person) -> None:
    page = person.page
    begin(person, "Name of a new aeroplane", NAME, "Name and datum")
    # What is missing is counted, and folded: the way on stays on the first screen.
    person.open("Marrow Fen")
    page.locator("[data-question]").first.wait_for()
    missing = page.locator("[data-question] summary")
    assert missing.count() == 6
    assert not page.locator(".f-missing a").first.is_visible()
    missing.last.tap()
    page.get_by_role("link", name="No landing flap chosen").filter(visible=True).wait_for()

    person.open("Seats")
    for seat in ("Left", "Right"):
        person.add("Seats", seat)
    person.open("Left")
    person.type("Arm", "78.5 in")
    person.choose("Has controls", "yes")
    person.open("Back to Seats")
    person.next("Bays")
    person.add("Bays", "Shelf")
    person.open("Shelf")
    person.type("Arm", "101")  # in inches, like the seat
    person.type("Mass, at most", "60 lb")
    person.open("Back to Bays")
    person.next("Tanks")
    person.add("Tanks", "Wing")
    person.open("Wing")
    person.type("Arm", "74")
    person.type("Usable fuel", "11.5 US gal")
    person.type("Unusable fuel", "0.5")
    page.get_by_text("Wing: 74 in").first.wait_for(state="attached")
    person.open("Back to Tanks")
    person.next("Masses and envelope")
    person.type("At take-off", "1320")
    person.add("Envelopes", "Normal")
    person.open("Normal")
    person.rows("Corners", ["Mass", "Arm"], CORNERS)
    person.open("Back to Masses")
    person.next("Weighing and configurations")
    person.open("As it is")
    person.choose("Weighing", "on scales")
    scales = [("Nose", 16, 168), ("Left main", 82, 305), ("Right main", 82, 301)]
    person.rows("Scales", ["Wheel", "Arm of the wheel", "Reading"], scales)
    person.open("Back to Weighing")
    person.next("My own limits")
    person.type("Crosswind", "14 mph")
    person.type("Tailwind", "5")

    plane = stored(person, "marrow-fen")
    assert in_units(plane["seats"][0]["arm"], "in") == 78.5
    assert in_units(plane["bays"][0]["arm"], "in") == 101
    assert in_units(plane["tanks"][0]["arm"], "in") == 74
    assert [in_units(plane["tanks"][0][name], "gal") for name in ("usable", "unusable")] == [11.5, 0.5]
    corners = plane["envelopes"][0]["vertices"]
    assert [(in_units(one["mass"], "lb"), in_units(one["across"], "in")) for one in corners] == CORNERS
    readings = plane["configurations"][0]["weighing"]["scales"]
    assert [
        (one["name"], in_units(one["arm"], "in"), in_units(one["reading"], "lb")) for one in readings
    ] == scales
    assert [in_units(plane["owner"][name], "mph") for name in ("crosswind", "tailwind")] == [14, 5]


def test_a_climb_table_with_its_units_written_once(person: Person) -> None:
    page = person.page
    page.evaluate("() => { location.hash = '#/edit/marrow-fen%2Fperformance'; }")
    page.get_by_label("Kind").filter(visible=True).select_option(label="climb of the book")
    person.add("Sources of performance", "Manual")
    person.open("Manual")
    page.get_by_text("Paste from a spreadsheet").filter(visible=True).last.tap()
    box = page.locator("textarea.f-paste").filter(visible=True)
    take = page.get_by_role("button", name="Take it")
    # Two figures that would count in different units are refused, and stay.
    mixed = CLIMB.replace("1100 lb", "1100").replace("1320\t", "1320 g\t")
    box.tap()
    page.keyboard.insert_text(mixed)
    take.tap()
    page.get_by_text("figures before it have none").wait_for()
    assert box.input_value() == mixed
    box.tap()
    page.keyboard.press("Control+A")
    page.keyboard.insert_text(CLIMB)
    take.tap()
    page.get_by_text("Taken: 2 tables of 3 x 2 figures").wait_for()
    masses = page.get_by_label("Masses").and_(page.locator("input"))
    assert masses.input_value().split() == ["1100", "1320"]
    table = stored(person, "marrow-fen")["performance"][0]
    assert [in_units(mass, "lb") for mass in table["mass_axis"]] == [1100, 1320]
    assert in_units(table["rate"][1][2][1], "ft/min") == 280


def test_a_strip_paced_in_feet(person: Person) -> None:
    page = person.page
    begin(person, "Name of a new strip", "Cold Marrow", "Ground")
    page.get_by_label("Unit of Length").filter(visible=True).first.select_option("ft")
    page.get_by_text("Count paces").filter(visible=True).first.tap()
    person.type("Paces", "520")
    person.type("Length of a pace [ft]", "2.5")
    page.get_by_role("button", name="Take 1300 ft").tap()
    person.next("Directions")
    # A designator that is none is refused in words by Enter too, and stays.
    person.type("Add to Directions", "9")
    page.get_by_text("is no designator").wait_for()
    assert page.get_by_label("Add to Directions").input_value() == "9"
    person.add("Directions", "09")
    person.open("09")
    person.type("True bearing", "92")
    person.choose("Meets the slopes", "forward, as listed")
    person.choose("Used for", "take-off only")
    person.choose("Obstacles beyond the end", "listed")
    person.type("Add to Obstacles", "Pines")
    tree = page.get_by_role("group", name="Pines", exact=True)
    tree.wait_for()
    person.type("Distance", "240 ft", tree)
    tree.get_by_text("By its angle").tap()
    person.type("Angle", "8", tree)
    tree.get_by_role("button", name="Take").tap()
    strip = stored(person, "cold-marrow")
    length = strip["ground"]["length"]
    assert (length["typed"], length["origin"], length["note"]) == (
        "1300 ft",
        "measured",
        "520 paces of 2.5 ft",
    )
    (obstacle,) = strip["directions"][0]["departure"]["obstacles"]
    # 240 ft tan 8° and an eye at 5.2 ft (or 1.6 m)
    assert in_units(obstacle["height"], "ft") == pytest.approx(38.9, abs=0.3)
    assert obstacle["height"]["origin"] == "measured"


def test_twice_the_text_loses_nothing(person: Person) -> None:
    page = person.page
    for place in ("marrow-fen", "marrow-fen%2Fperformance%2Fmanual", "cold-marrow%2Fdirections%2F09"):
        page.evaluate("(place) => { location.hash = `#/edit/${place}`; }", place)
        page.locator(f'.pane-open[data-place="edit/{place.replace("%2F", "/")}"]').wait_for()
        page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
        over = page.evaluate(
            "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
        )
        assert over <= 0, place
    page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
