"""Forms by touch: units and letters, refusals, drafts that outlive a restart, undo, what waits."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tussock import units

from .screens import SMALL, Screens, document

AXE = Path(__file__).resolve().parents[2] / "pwa/node_modules/axe-core/axe.min.js"
PAGES = (
    "edit",
    "edit/dabchick",
    *(f"edit/dabchick%2F{name}" for name in ("seats", "limits", "owner", "flaps", "performance", "quirks")),
    "edit/dabchick%2Fbays%2Fhold",
    "edit/dabchick%2Fconfigurations%2Fshelf-in",
    "edit/dabchick%2Fenvelopes%2Fnormal",
    "edit/dabchick%2Fflaps%2Ffirst",
    "edit/dabchick%2Fperformance%2Fbook-takeoff",
    "edit/dabchick%2Fperformance%2Fconstants",
    "edit/ridge-camp%2Fname",
    "edit/ridge-camp%2Fground",
    "edit/ridge-camp%2Fdirections%2F13",
    "edit/camp",
    "edit/wren",
)


@pytest.fixture(autouse=True)
def small(screens: Screens) -> None:
    screens.page.set_viewport_size(SMALL)  # type: ignore[arg-type]


def edit(screens: Screens, place: str) -> None:
    screens.page.evaluate("(place) => { location.hash = `#/${place}`; }", place)
    shown = place.replace("%2F", "/")
    screens.page.locator(f'.pane-open[data-place="{shown if "/" in shown else shown + "/"}"]').wait_for()


def put(screens: Screens, pointer: str, typed: str) -> None:
    field = screens.page.locator(f'[data-at="{pointer}"] [data-main]').first
    field.fill(typed)
    field.press("Enter")


def at(screens: Screens, pointer: str) -> Any:
    return screens.page.locator(f'[data-at="{pointer}"]').first


def pick(screens: Screens, pointer: str, value: str) -> None:
    at(screens, pointer).locator(f'input[type=radio][value="{value}"]').first.check()


def stored(screens: Screens, name: str) -> dict[str, Any]:
    """A document as it is stored, once nothing is under way."""
    screens.settle()
    return document(screens.bundle(), name)


def counted(screens: Screens) -> None:
    screens.page.locator(".f-waiting").wait_for(state="detached")


def test_letters_are_kept_and_units_lose_nothing(screens: Screens) -> None:
    edit(screens, "edit/dabchick%2Fbays%2Fhold")
    put(screens, "/bays/hold/mass_limit", "127,50 lb")
    counted(screens)
    unit = screens.page.get_by_label("Unit of Mass, at most")
    shown = at(screens, "/bays/hold/mass_limit").locator("[data-main]").first
    assert (unit.input_value(), shown.input_value()) == ("lb", "127,50")
    unit.select_option("kg")
    assert shown.input_value().startswith("57.83")
    unit.select_option("lb")
    assert shown.input_value() == "127,50"
    figure = stored(screens, "dabchick")["bays"][2]["mass_limit"]
    assert figure["typed"] == "127,50 lb"
    assert figure["value"] == units.parse("127,50 lb", "kg")


def test_what_is_impossible_is_refused_where_it_is_typed_and_stays_after_a_restart(screens: Screens) -> None:
    before = document(screens.bundle(), "dabchick")
    edit(screens, "edit/dabchick%2Fbays%2Fhold")
    for typed, words in (("many", "is no number"), ("-5", "more than 0 "), ("1,200", "1200 or 1.200")):
        put(screens, "/bays/hold/mass_limit", typed)
        assert words in (at(screens, "/bays/hold/mass_limit").locator(".wrong").text_content() or "")
    screens.page.reload()
    screens.settle()
    shown = at(screens, "/bays/hold/mass_limit").locator("[data-main]").first
    assert shown.input_value() == "1,200"
    assert at(screens, "/bays/hold/mass_limit").locator(".wrong").count() == 1
    screens.go("")
    assert "1,200" in (screens.page.locator(".pane-answers .notice").text_content() or "")
    assert document(screens.bundle(), "dabchick") == before
    edit(screens, "edit/dabchick%2Fbays%2Fhold")
    put(screens, "/bays/hold/mass_limit", "57 kg")
    counted(screens)
    assert stored(screens, "dabchick")["bays"][2]["mass_limit"]["value"] == 57


def test_what_the_core_refuses_is_said_and_not_stored(screens: Screens) -> None:
    before = document(screens.bundle(), "dabchick")
    edit(screens, "edit/dabchick%2Fenvelopes%2Fnormal")
    put(screens, "/envelopes/normal/vertices/1/across", "100 mm")
    screens.page.get_by_text("the envelope crosses itself").first.wait_for()
    assert document(screens.bundle(), "dabchick") == before
    edit(screens, "edit/dabchick%2Fenvelopes%2Fnormal")
    put(screens, "/envelopes/normal/vertices/1/across", "440 mm")
    counted(screens)
    assert stored(screens, "dabchick")["envelopes"][0]["vertices"][1]["across"] == units.parse("440 mm", "m")


def test_an_empty_field_is_not_known_and_never_nought(screens: Screens) -> None:
    edit(screens, "edit/dabchick%2Ftanks%2Fmain")
    put(screens, "/tanks/main/unusable", "")
    counted(screens)
    assert "unusable" not in stored(screens, "dabchick")["tanks"][0]
    assert screens.verdict("balances") == "can't say"


def test_an_edit_is_stamped_by_its_field_and_undone(screens: Screens) -> None:
    edit(screens, "edit/dabchick%2Fbays%2Fhold")
    put(screens, "/bays/hold/mass_limit", "50")
    counted(screens)
    bundle = screens.bundle()
    (plane,) = (one for one in bundle["documents"] if one["id"] == "dabchick")
    assert "/bays/hold/mass_limit" in plane["stamps"]
    edit(screens, "edit/dabchick%2Fbays%2Fhold")
    screens.page.get_by_role("button", name="Undo: Mass, at most, Dabchick").click()
    assert stored(screens, "dabchick")["bays"][2]["mass_limit"]["value"] == 58


def test_new_figures_are_estimates_until_somebody_says_otherwise(screens: Screens) -> None:
    edit(screens, "edit/two-cairns%2Fmass_limit")
    put(screens, "/mass_limit", "1500 kg")
    counted(screens)
    assert stored(screens, "two-cairns")["mass_limit"]["origin"] == "estimated"
    edit(screens, "edit/two-cairns%2Fmass_limit")
    pick(screens, "/mass_limit", "measured")
    counted(screens)
    assert stored(screens, "two-cairns")["mass_limit"]["origin"] == "measured"


def test_half_an_obstacle_waits_and_is_said_on_every_screen(screens: Screens) -> None:
    edit(screens, "edit/ridge-camp%2Fdirections%2F13")
    put(screens, "/directions/13/departure/obstacles/+", "Hut")
    put(screens, "/directions/13/departure/obstacles/hut/distance", "150 m")
    waiting = screens.page.locator(".f-waiting")
    assert "Hut, Height above that end" in (waiting.text_content() or "")
    assert len(stored(screens, "ridge-camp")["directions"][1]["departure"]["obstacles"]) == 1
    screens.go("")
    assert "Ridge Camp" in (screens.page.locator(".pane-answers .notice").text_content() or "")
    screens.refresh()
    screens.page.locator(".pane-answers .notice").get_by_role("link", name="Finish it").click()
    screens.page.locator(".f-waiting").get_by_role("link").first.click()
    screens.page.locator('[data-at$="/hut/height"] [data-main]:focus').wait_for()
    put(screens, "/directions/13/departure/obstacles/hut/height", "5 m")
    counted(screens)
    assert [
        one["name"] for one in stored(screens, "ridge-camp")["directions"][1]["departure"]["obstacles"]
    ] == [
        "Scrub",
        "Hut",
    ]


def test_no_obstacles_is_said_by_somebody(screens: Screens) -> None:
    edit(screens, "edit/ridge-camp%2Fdirections%2F13")
    pick(screens, "/directions/13/departure", "none")
    assert stored(screens, "ridge-camp")["directions"][1]["departure"]["state"] == "listed"
    edit(screens, "edit/ridge-camp%2Fdirections%2F13")
    put(screens, "/directions/13/departure/said_by", "Rowan Hale")
    counted(screens)
    said = stored(screens, "ridge-camp")["directions"][1]["departure"]
    assert (said["state"], said["said_by"]) == ("none", "Rowan Hale")


def test_paces_and_angles(screens: Screens) -> None:
    edit(screens, "edit/ridge-camp%2Fdirections%2F13")
    length = at(screens, "/directions/13/takeoff_length")
    length.get_by_text("Count paces").click()
    length.get_by_label("Paces", exact=True).fill("700")
    length.get_by_label("Length of a pace").fill("0,8")
    length.get_by_role("button", name="Take 560 m").click()
    height = at(screens, "/directions/13/departure/obstacles/scrub/height")
    height.get_by_text("By its angle").click()
    height.get_by_label("Angle").fill("3")
    height.get_by_role("button", name="Take 6.3 m").click()
    counted(screens)
    way = stored(screens, "ridge-camp")["directions"][1]
    assert (way["takeoff_length"]["value"], way["takeoff_length"]["note"]) == (560, "700 paces of 0,8 m")
    assert way["departure"]["obstacles"][0]["height"]["value"] == 6.3


@pytest.mark.parametrize("allowed", [True, False], ids=["allowed", "refused"])
def test_position_by_the_device(screens: Screens, allowed: bool) -> None:
    context = screens.page.context
    context.clear_permissions()
    context.set_geolocation({"latitude": -33.25, "longitude": -2.125, "accuracy": 9})
    if allowed:
        context.grant_permissions(["geolocation"])
    before = document(screens.bundle(), "ridge-camp")["position"]
    edit(screens, "edit/ridge-camp%2Fname")
    screens.page.get_by_role("button", name="Here, by this device").click()
    words = "Found, to 9 m" if allowed else "was not allowed"
    screens.page.get_by_role("status").filter(has_text=words).wait_for()
    counted(screens)
    after = stored(screens, "ridge-camp")["position"]
    assert after == ({"latitude": -33.25, "longitude": -2.125} if allowed else before)
    context.clear_permissions()


def test_things_by_the_dozen(screens: Screens) -> None:
    edit(screens, "edit/camp")
    line = screens.page.get_by_label("Add things")
    screens.page.locator(".f-origins input[value=measured]").check()
    for typed in ("Lantern, 0.4, 2", "Rope; 1,5", "Big pan, 3 lb, 7 L"):
        line.fill(typed)
        line.press("Enter")
        assert line.evaluate("(one) => one === document.activeElement")
    line.fill("Axe, heavy")
    line.press("Enter")
    assert "is no number" in (screens.page.locator(".f-quick .wrong").text_content() or "")
    counted(screens)
    items = stored(screens, "camp")["items"][-3:]
    assert [one["name"] for one in items] == ["Lantern", "Rope", "Big pan"]
    assert [one["mass"]["typed"] for one in items] == ["0.4 kg", "1,5 kg", "3 lb"]
    assert items[0]["size"]["volume"]["value"] == 0.002
    guessed = items[1]["size"]["volume"]
    assert (guessed["origin"], guessed["value"]) == ("estimated", pytest.approx(0.009)), "by its weight"


def test_a_pasted_table_with_a_mistake_is_refused_with_its_place(screens: Screens) -> None:
    before = document(screens.bundle(), "dabchick")
    edit(screens, "edit/dabchick%2Fperformance%2Fbook-takeoff")
    grid = at(screens, "/performance/book-takeoff/over_50ft")
    grid.get_by_text("Paste from a spreadsheet").click()
    box = grid.locator("textarea")
    box.fill("600\t0\t20\n0\t300\tlong\n")
    grid.get_by_role("button", name="Take it").click()
    assert "Row 2, column 3" in (grid.locator(".wrong").text_content() or "")
    assert document(screens.bundle(), "dabchick") == before
    edit(screens, "edit/dabchick%2Fperformance%2Fbook-takeoff")
    cell = grid.locator(".f-cell").first
    cell.fill("77")
    cell.press("Enter")
    counted(screens)
    assert stored(screens, "dabchick")["performance"][0]["over_50ft"][0][0][0] == 77


def test_what_is_in_use_stays_and_what_is_not_can_be_brought_back(screens: Screens) -> None:
    before = document(screens.bundle(), "stone-bar")
    edit(screens, "edit")
    strips = screens.page.locator('[data-kind="strip"]')
    strips.get_by_role("button", name="Delete Saltpan").click()
    strips.get_by_text("Saltpan stays:").wait_for()
    strips.get_by_role("button", name="Delete Stone Bar").click()
    strips.get_by_role("link", name="Stone Bar").wait_for(state="detached")
    screens.page.get_by_role("button", name="Undo: deleting Stone Bar").click()
    assert stored(screens, "stone-bar") == before
    edit(screens, "edit/saltpan%2Fdirections%2F06")
    screens.page.get_by_role("button", name="Remove 06").click()
    screens.page.get_by_text("There is no direction").first.wait_for()
    assert {one["id"] for one in stored(screens, "saltpan")["directions"]} == {"06", "24"}


def test_on_what_is_not_whole_yet_undo_is_not_that_of_another(screens: Screens) -> None:
    screens.go("air")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    edit(screens, "edit/saltpan")
    undo = screens.page.locator(".pane-open button.undo")
    undo.wait_for()
    edit(screens, "edit")
    screens.page.get_by_label("Name of a new strip").fill("Far Meadow")
    screens.page.get_by_label("Name of a new strip").press("Enter")
    screens.page.get_by_role("heading", name="Far Meadow").wait_for()
    assert undo.count() == 0


def test_a_variant_is_a_copy_that_stands_alone(screens: Screens) -> None:
    edit(screens, "edit")
    screens.page.locator('[data-kind="aeroplane"]').get_by_role("button", name="Copy Dabchick").click()
    line = screens.page.get_by_role("link", name="Dabchick, copy")
    line.wait_for()
    assert "variant of Dabchick" in (line.text_content() or "")
    # it stands in the list before the gate has let it through
    line.locator(".f-needed").wait_for(state="detached")
    bundle = screens.bundle()
    one, copy = document(bundle, "dabchick"), document(bundle, "dabchick-copy")
    assert copy == one | {"id": "dabchick-copy", "name": "Dabchick, copy", "variant_of": "dabchick"}


def test_a_class_begins_with_guesses_and_says_so(screens: Screens) -> None:
    edit(screens, "edit")
    chosen = screens.page.get_by_label("Start from")
    chosen.wait_for()
    chosen.select_option(label="Light two-seat tailwheel")
    name = screens.page.get_by_label("Name of a new aeroplane")
    name.fill("Teal")
    name.press("Enter")
    screens.page.get_by_text("figures behind them are estimated").wait_for()
    ready = screens.page.locator(".f-question-ready")
    assert ready.count() == 6
    assert ready.filter(has_text="by estimates").count() >= 5
    edit(screens, "edit/teal%2Flimits")
    screens.page.locator(".f-origins input[value=book]").check()
    put(screens, "/limits/takeoff", "620 kg")
    counted(screens)
    figure = stored(screens, "teal")["limits"]["takeoff"]
    assert figure == {"value": 620, "origin": "book", "typed": "620 kg"}, "the guess took its spread with it"


def test_what_is_missing_is_named_and_leads_to_its_field(screens: Screens) -> None:
    edit(screens, "edit/dabchick%2Fbays%2Fshelf")
    put(screens, "/bays/shelf/longest", "")
    counted(screens)
    edit(screens, "edit/dabchick")
    question = screens.page.locator('[data-question="fits"]')
    question.get_by_role("link").first.wait_for()
    assert "missing" in (question.text_content() or "")
    question.get_by_role("link").first.click()
    screens.page.locator('[data-at="/bays/shelf/longest"] [data-main]:focus').wait_for()


# --- for everybody ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("mode", ["Paper", "Night", "Sun"])
def test_axe_finds_nothing_in_the_forms(screens: Screens, mode: str) -> None:
    screens.go("settings")
    screens.choose("Look", mode)
    screens.page.evaluate(AXE.read_text(encoding="utf-8"))
    found: dict[str, Any] = {}
    for place in PAGES:
        edit(screens, place)
        result = json.loads(
            screens.page.evaluate("async () => JSON.stringify((await axe.run(document)).violations)")
        )
        for violation in result:
            found[f"{place} {violation['id']}"] = [node["html"][:160] for node in violation["nodes"]][:3]
    assert found == {}


@pytest.mark.parametrize("place", PAGES)
def test_targets_are_large_text_is_large_and_nothing_runs_out(screens: Screens, place: str) -> None:
    edit(screens, place)
    found = screens.page.evaluate(
        """() => {
          const pane = document.querySelector(".pane-open");
          const seen = [...pane.querySelectorAll("*")].filter((one) => one.checkVisibility());
          const box = (one) => one.getBoundingClientRect();
          const said = (all) => all.map((one) => one.outerHTML.slice(0, 120));
          const touched = "button, select, input:not([type=radio], [type=checkbox]), summary, textarea";
          const targets = seen.filter((one) => one.matches(`${touched}, .slip, .tick, a.plain, a.f-page`));
          const low = targets.filter((one) => box(one).height < 47.5);
          const wide = seen.filter((one) => !one.closest(".f-sheet, svg") && box(one).right > innerWidth + 1);
          const own = (one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
          const words = seen.filter((one) => own(one) && !one.closest("svg, .small, .unseen"));
          const tiny = words.filter((one) => parseFloat(getComputedStyle(one).fontSize) < 18);
          return [said(low), said(wide), said(tiny)];
        }"""
    )
    assert found == [[], [], []]


@pytest.mark.parametrize("place", PAGES)
def test_large_text_loses_nothing(screens: Screens, place: str) -> None:
    edit(screens, place)
    screens.page.evaluate("() => { document.documentElement.classList.add('twice'); }")
    screens.page.evaluate(
        """() => { const sheet = new CSSStyleSheet(); sheet.replaceSync("html.twice { font-size: 200% }");
          document.adoptedStyleSheets = [sheet]; }"""
    )
    wide = screens.page.evaluate(
        """() => [...document.querySelectorAll(".pane-open *")]
          .filter((one) => one.checkVisibility() && !one.closest(".f-sheet, svg"))
          .filter((one) => one.getBoundingClientRect().right > innerWidth + 1)
          .map((one) => one.outerHTML.slice(0, 120))"""
    )
    screens.page.evaluate("() => { document.adoptedStyleSheets = []; }")
    assert wide == []
