"""Packing together by two phones, both without a signal: the list goes over, ticks and weights come back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from . import camera, driving
from .screens import Screens, document

if TYPE_CHECKING:
    from playwright.sync_api import Page, Playwright

PHONE = {"width": 360, "height": 640}


class Passenger:
    """The other phone: it has opened the app once, and has no signal now. Its camera sees a film."""

    def __init__(self, page: Page, address: str, film: Path) -> None:
        self.page, self.address, self.film = page, address, film

    def opens(self, code: str) -> None:
        """What a phone's own camera does with a code: open what it says."""
        assert code.startswith(f"{self.address}#/got/")
        self.page.evaluate("(code) => { location.href = code; }", code)

    def row(self, name: str) -> Any:
        return self.page.locator(".bring-item").filter(has=self.page.locator(f'.item-name:text-is("{name}")'))


@pytest.fixture(scope="module")
def phones(
    playwright_driver: Playwright, dist: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Screens, Passenger]]:
    """The pilot's and the passenger's phone; the server is stopped once both have visited."""
    film = tmp_path_factory.mktemp("film") / "seen.y4m"
    camera.shoot(film, [])
    with (
        driving.browser(playwright_driver, tmp_path_factory.mktemp("pilot"), PHONE, touch=True) as one,
        driving.browser(
            playwright_driver,
            tmp_path_factory.mktemp("passenger"),
            PHONE,
            touch=True,
            flags=camera.flags(film),
        ) as other,
    ):
        with driving.served(dist) as site:
            pages = [browser.open(site.address) for browser in (one, other)]
            for page in pages:
                driving.wait_for_phase(page, "ready")
                driving.core_is_up(page)
            address = site.address
        pilot = Screens(pages[0])
        pilot.settle()
        yield pilot, Passenger(pages[1], address, film)
        assert one.complaints == []
        assert other.complaints == []


@pytest.fixture
def pilot(phones: tuple[Screens, Passenger]) -> Screens:
    phones[0].start_again()
    return phones[0]


@pytest.fixture
def passenger(phones: tuple[Screens, Passenger]) -> Passenger:
    return phones[1]


def codes(page: Page) -> list[str]:
    """Every code of the loop, by its text."""
    shown = page.locator(".pane-open svg.code")
    shown.wait_for()
    first = shown.get_attribute("data-code") or ""
    many = int(first.split(".")[-2])
    found = {first}
    for _ in range(many - 1):
        page.get_by_role("button", name="Next code").click()
        found.add(shown.get_attribute("data-code") or "")
    assert len(found) == many
    return sorted(found)


def load_of(bundle: dict[str, Any]) -> dict[str, Any]:
    trip = document(bundle, bundle["open"]["trip"])
    leg = next(one for one in trip["legs"] if one["id"] == bundle["open"]["leg"])
    return next(one for one in trip["loads"] if one["id"] == leg["load"])


def hand_over(pilot: Screens, passenger: Passenger) -> None:
    pilot.go("hand")
    # a list of another test must not be taken for this one
    passenger.page.evaluate("() => { location.hash = '#/device'; }")
    passenger.page.locator(".bring-item").first.wait_for(state="hidden")
    every = codes(pilot.page)
    for read, code in enumerate(reversed(every), 1):  # in any order
        passenger.opens(code)
        if read < len(every):
            passenger.page.get_by_text(f"Read {read} of {len(every)}").first.wait_for()
    passenger.page.locator(".bring-item").first.wait_for()


def test_a_bag_is_weighed_whole_by_the_passenger(pilot: Screens, passenger: Passenger) -> None:
    pilot.go("load")
    pilot.page.get_by_role("checkbox", name="Blue duffel bag").check()
    row = pilot.page.locator(".item").filter(has=pilot.page.get_by_text("Stove", exact=True))
    row.get_by_role("combobox").select_option(label="in Blue duffel bag")
    pilot.settle()

    hand_over(pilot, passenger)
    bag, stove = passenger.row("Blue duffel bag"), passenger.row("Stove")
    assert "with Stove" in (bag.text_content() or "")
    assert "in Blue duffel bag" in (stove.text_content() or "")
    spare = passenger.page.locator(".bring-spare b").first
    before = spare.text_content()
    stove.get_by_role("button", name="Weigh").tap()
    stove.get_by_label("The scale says").fill("1.9")
    stove.get_by_role("button", name="It weighs").tap()
    assert "3.0 kg" in (bag.text_content() or "").replace("\u00a0", " "), "the bag is heavier by that"
    assert spare.text_content() != before
    bag.get_by_role("button", name="Weigh it whole").tap()
    bag.get_by_label("The scale says").fill("4.5")
    bag.get_by_role("button", name="It weighs").tap()
    bag.get_by_text("weighed").wait_for()

    give_back(passenger, pilot)
    pilot.page.get_by_role("button", name="Take it", exact=True).click()
    pilot.settle()
    placed = {one["item"]: one for one in load_of(pilot.bundle())["placed"]}
    assert placed["duffel"]["weighed"]["value"] == 4.5
    assert placed["duffel"]["weighed"]["holding"] == ["stove"]
    pilot.go("load")
    shown = pilot.page.locator(".item").filter(has=pilot.page.get_by_text("Blue duffel bag", exact=True))
    assert "4.5 kg" in (shown.text_content() or "").replace("\u00a0", " ")


def test_a_thing_is_left_at_home_by_the_passenger(pilot: Screens, passenger: Passenger) -> None:
    hand_over(pilot, passenger)
    page = passenger.page
    count = page.locator(".bring-item").count()
    iron, beacon = passenger.row("Iron pot"), passenger.row("Beacon")
    assert beacon.get_by_role("button", name="Leave Beacon at home").count() == 0, "it is never left"
    iron.get_by_role("button", name="Leave Iron pot at home").tap()
    iron.get_by_text("stays at home").wait_for()
    page.get_by_text(f"{count - 1} of {count - 1} still to pack").wait_for()
    iron.get_by_role("button", name="Bring Iron pot").tap()
    iron.get_by_role("button", name="Leave Iron pot at home").tap()

    give_back(passenger, pilot)
    pilot.page.get_by_text("Iron pot stays at home").wait_for()
    pilot.page.get_by_role("button", name="Take it", exact=True).click()
    pilot.settle()
    (pot,) = (one for one in load_of(pilot.bundle())["placed"] if one["item"] == "iron-pot")
    assert not pot.get("bay")
    # what was done by a list stays done by the next one, so it is undone
    passenger.page.evaluate("() => { location.hash = '#/bring'; }")
    iron.get_by_role("button", name="Bring Iron pot").tap()
    iron.get_by_text("stays at home").wait_for(state="hidden")


def test_what_does_not_lift_off_is_too_much_and_nowhere_free(pilot: Screens, passenger: Passenger) -> None:
    pilot.open_leg(2)
    pilot.go("")
    assert (pilot.verdict("lifts_off"), pilot.verdict("balances")) == ("no", "yes")
    hand_over(pilot, passenger)
    page = passenger.page
    head = (page.locator(".bring-spare").text_content() or "").replace("\u00a0", " ")
    assert "kg too much" in head
    assert "What the strips allow" in head
    assert page.locator(".bring-item").get_by_text("may weigh").count() == 0
    free = page.locator(".bring-bay p b:first-of-type").all_text_contents()
    assert {one.replace("\u00a0", " ") for one in free} == {"0.0 kg"}
    litres = page.locator(".bring-bay p b:nth-of-type(2)").all_text_contents()
    # for soft things, and rounded down: 119.7 are no 120
    assert [one.replace("\u00a0", " ") for one in litres] == ["15 L", "119 L"]


def give_back(passenger: Passenger, pilot: Screens) -> None:
    show = passenger.page.get_by_role("button", name="Show the code")
    show.or_(passenger.page.locator(".pane-open svg.code")).first.wait_for()
    if show.count():
        show.click()
    for code in codes(passenger.page):
        pilot.page.evaluate("(code) => { location.href = code; }", code)
        pilot.page.locator(".pane-open[data-place='hand/'], .pane-open p:has-text('Read ')").first.wait_for()
    pilot.page.get_by_role("heading", name="This came back").wait_for()


def drawn(page: Page) -> list[camera.Squares]:
    """Every code of the loop as it is drawn."""
    found = []
    for _ in codes(page):
        page.get_by_role("button", name="Next code").click()
        shown = page.locator(".pane-open svg.code")
        size = int((shown.get_attribute("viewBox") or "").split()[-1])
        found.append(camera.squares(size, shown.locator("path").get_attribute("d") or ""))
    return found


def test_the_camera_reads_the_list_and_is_off_when_it_is_not_needed(
    pilot: Screens, passenger: Passenger
) -> None:
    page, phone = passenger.page, passenger.page.context
    said = page.locator(".pane-open p[role=status]")
    scan = page.get_by_role("button", name="Read a code")
    track = "() => { window.seen = document.querySelector('video.camera').srcObject.getTracks(); }"
    live = "() => window.seen.filter((one) => one.readyState === 'live').length"
    page.evaluate("() => { location.hash = '#/bring'; }")
    scan.tap()
    said.filter(has_text="The camera may not be used here").wait_for()
    assert page.locator(".pane-open input[type=file]").count() == 1, "a file goes in all the same"

    pilot.go("hand")
    seen = drawn(pilot.page)
    assert len(seen) > 1
    camera.shoot(passenger.film, seen)
    phone.grant_permissions(["camera"])
    scan.tap()
    page.locator("video.camera").wait_for()
    page.locator(".bring-item").first.wait_for()
    page.locator("video.camera").wait_for(state="detached")

    camera.shoot(passenger.film, [])
    scan.tap()
    driving.wait(
        page,
        """async () => {
          while (!document.querySelector("video.camera")?.srcObject) await new Promise(requestAnimationFrame);
        }""",
    )
    page.evaluate(track)
    assert page.evaluate(live) == 1
    page.evaluate("() => { location.hash = '#/load'; }")
    page.locator(".pane-open[data-place='load/']").wait_for()
    assert page.evaluate(live) == 0, "off with its screen"
    page.evaluate("() => { location.hash = '#/bring'; }")
    page.locator(".pane-open[data-place='bring/']").wait_for()
    assert page.locator("video.camera").count() == 0, "and not on again by itself"


def test_a_phone_without_a_camera_says_so(pilot: Screens) -> None:
    pilot.page.context.grant_permissions(["camera"])
    pilot.go("hand")
    pilot.page.locator(".pane-open .buttons button").first.wait_for()
    pilot.page.get_by_role("button", name="Read").click()
    pilot.page.get_by_text("There is no camera to be had here").wait_for()
    assert pilot.page.locator(".pane-open input[type=file]").count() == 1


def test_ticks_and_weights_go_over_and_back_without_a_signal(pilot: Screens, passenger: Passenger) -> None:
    before = pilot.bundle()
    placed = load_of(before)["placed"]
    items = {one["id"]: one for kit in before["documents"] if kit["kind"] == "kit" for one in kit["items"]}
    things = [items[one["item"]] for one in placed if one.get("bay")]
    heavy = max(things, key=lambda one: one["mass"]["value"])
    margin = pilot.margin("balances")

    hand_over(pilot, passenger)
    page = passenger.page
    assert page.locator(".bring-item").count() == len(things)
    assert not page.locator(".tabs").is_visible()
    people = [one for one in before["documents"] if one["kind"] == "person"]
    text = page.locator(".pane-open").text_content() or ""
    assert all(f"{one['mass']['value']:.0f} kg" not in text.replace("\u00a0", " ") for one in people)

    row = passenger.row(heavy["name"])
    row.locator(".tick").tap()
    row.get_by_role("button", name="Weigh").tap()
    more = heavy["mass"]["value"] + 6
    row.get_by_label("Me holding it").fill(str(60 + more))
    row.get_by_label("Me alone").fill("60")
    row.get_by_role("button", name="It weighs").tap()
    row.get_by_text("weighed").wait_for()
    page.reload()
    page.get_by_text(f"{len(things) - 1} of {len(things)} still to pack").wait_for()

    give_back(passenger, pilot)
    pilot.page.get_by_role("button", name="Take it", exact=True).click()
    pilot.go("")
    pilot.page.locator(".answers:not(.stale)").first.wait_for()
    assert pilot.margin("balances") != margin
    after = load_of(pilot.bundle())["placed"]
    (now,) = (one for one in after if one["item"] == heavy["id"])
    assert now["packed"] is True
    assert now["weighed"]["value"] == pytest.approx(more)
    pilot.go("")
    pilot.page.locator(".pane-answers button.undo").click()
    pilot.settle()
    assert load_of(pilot.bundle()) == load_of(before)


def test_what_is_no_code_of_ours_is_refused_in_words(passenger: Passenger) -> None:
    page = passenger.page
    for code, words in {
        "AAAAAAAA.1.1.AAAA": "The codes do not make what was sent",
        "nonsense": "This code is not from Tussock",
    }.items():
        page.evaluate("(code) => { location.hash = `#/got/${code}`; }", code)
        page.get_by_text(words).wait_for()


def test_a_file_goes_over_where_a_camera_does_not(
    pilot: Screens, passenger: Passenger, tmp_path: Path
) -> None:
    pilot.go("hand")
    pilot.page.locator("svg.code").wait_for()
    with pilot.page.expect_download() as download:
        pilot.page.locator(".codes").get_by_role("button", name="Save a file").click()
    text = Path(download.value.path()).read_text(encoding="utf-8")
    assert json.loads(text)["format"] == "tussock-list"
    page = passenger.page
    page.evaluate("() => { location.hash = '#/bring'; }")
    page.locator(".pane-open[data-place='bring/']").wait_for()
    before = page.locator(".bring-item").count()
    wrong = page.locator(".pane-open .wrong[role=alert]")
    for name, given in (("broken", '{"format": "tussock-list"}'), ("list", text)):
        file = tmp_path / f"{name}.json"
        file.write_text(given, encoding="utf-8")
        page.locator(".pane-open input[type=file]").set_input_files(file)
        if name == "broken":
            page.locator(".pane-open .wrong[role=alert]", has_text="this is needed").wait_for()
            assert page.locator(".bring-item").count() == before, "what was here stays"
    wrong.wait_for(state="detached")
    assert page.locator(".bring-item").count() == len(json.loads(text)["items"])


def test_what_is_packed_without_a_place_and_what_was_weighed_in_vain_are_told(
    pilot: Screens, passenger: Passenger
) -> None:
    hand_over(pilot, passenger)
    page, home = passenger.page, pilot.page
    tent, stove = passenger.row("Tent"), passenger.row("Stove")
    # a figure that nobody took outlives the page, and no code goes without a word on it
    stove.get_by_role("button", name="Weigh").tap()
    stove.get_by_label("The scale says").fill("2.4")
    page.get_by_text("Not taken yet: Stove").wait_for()
    page.reload()
    page.get_by_text("Not taken yet: Stove").wait_for()
    page.get_by_role("button", name="To its scale").tap()
    assert stove.get_by_label("The scale says").input_value() == "2.4"
    stove.get_by_label("The scale says").fill("")
    page.get_by_text("Not taken yet").wait_for(state="detached")
    # the way back leads to no code that is spent
    page.go_back()
    page.locator(".pane-open[data-place='bring/']").wait_for()
    assert page.get_by_text("Go on with the others").count() == 0

    pilot.go("load")
    home.get_by_role("checkbox", name="Tent", exact=False).first.uncheck()
    pilot.settle()
    tent.locator(".tick").tap()
    give_back(passenger, pilot)
    home.get_by_text("Tent is packed, but is not in your plan: it is not counted").wait_for()
    home.get_by_role("button", name="Take it", exact=True).click()
    pilot.settle()
    assert home.get_by_text("The answers count it now").count() == 0
    said = home.locator(".pane-open .notice", has_text="no answer counts it: Tent")
    said.get_by_role("link", name="Load").click()
    row = home.locator(".item").filter(has=home.get_by_text("Tent", exact=True))
    row.get_by_text("packed, not counted").wait_for()
    row.get_by_role("button", name="taken out again").click()
    said.wait_for(state="detached")
    tent.locator(".tick").tap()


def test_a_code_is_seen_whole_on_a_phone_that_lies_on_its_side(pilot: Screens) -> None:
    pilot.page.set_viewport_size({"width": 640, "height": 360})
    try:
        pilot.go("hand")
        code = pilot.page.locator("svg.code")
        bars = [pilot.page.locator(one).bounding_box() for one in (".pane-open .open-head", ".tabs")]
        box = code.bounding_box()
        assert box
        assert box["height"] <= 360 - sum(bar["height"] for bar in bars if bar)
    finally:
        pilot.page.set_viewport_size(PHONE)  # type: ignore[arg-type]
