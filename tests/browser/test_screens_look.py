"""What a new user would see: the answer at a glance, in every mode, at every size; text as text."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from .screens import PHONE, PLACES, QUESTIONS, SMALL, Screens, air_of

AXE = Path(__file__).resolve().parents[2] / "pwa/node_modules/axe-core/axe.min.js"
LOOKS = ("Paper", "Night", "Sun")
WIDE = {"width": 1280, "height": 720}


def look(screens: Screens, name: str) -> None:
    screens.go("settings")
    screens.choose("Look", name)


def sees_to(screens: Screens) -> float:
    """How far down one sees before the tabs begin [px]."""
    box = screens.page.locator(".tabs").bounding_box()
    assert box
    return box["y"]


@pytest.mark.parametrize("size", [SMALL, PHONE], ids=["360x640", "412x915"])
@pytest.mark.parametrize("mode", LOOKS)
def test_verdict_six_answers_and_air_without_scrolling(
    screens: Screens, mode: str, size: dict[str, int]
) -> None:
    look(screens, mode)
    screens.page.set_viewport_size(size)  # type: ignore[arg-type]
    screens.go("trip")
    for number in range(1, screens.page.locator(".leg-row").count() + 1):
        screens.open_leg(number)
        screens.go("")
        assert screens.page.evaluate("() => [scrollX, scrollY]") == [0, 0]
        for part in (".verdict-block", *(f'a.question[href="#/answer/{q}"]' for q in QUESTIONS), ".air-row"):
            box = screens.page.locator(f".pane-answers {part}").bounding_box()
            assert box, part
            assert box["y"] >= 0, part
            assert box["x"] >= 0, part
            assert box["y"] + box["height"] <= sees_to(screens) + 0.5, (
                f"leg {number}: {part} lies below the first view"
            )
            assert box["x"] + box["width"] <= size["width"] + 0.5, part


@pytest.mark.parametrize("mode", LOOKS)
def test_axe_finds_nothing(screens: Screens, mode: str) -> None:
    look(screens, mode)
    screens.page.evaluate(AXE.read_text(encoding="utf-8"))
    found: dict[str, Any] = {}
    for size in (SMALL, WIDE):
        screens.page.set_viewport_size(size)  # type: ignore[arg-type]
        for place in PLACES:
            screens.go(place)
            result = json.loads(
                screens.page.evaluate("async () => JSON.stringify((await axe.run(document)).violations)")
            )
            assert isinstance(result, list)
            for violation in result:
                nodes = [node["html"][:160] for node in violation["nodes"]][:3]
                found[f"{size['width']} {place} {violation['id']}"] = nodes
    assert found == {}


def test_axe_finds_nothing_with_the_pickers_open_and_a_refusal_told(screens: Screens) -> None:
    page = screens.page
    page.evaluate(AXE.read_text(encoding="utf-8"))
    screens.go("load")
    field = page.locator(".fuel input[inputmode=decimal]").first
    field.fill("200")
    field.press("Enter")
    page.locator(".pane-open .notice").wait_for()
    load = page.evaluate("async () => (await axe.run(document)).violations.map((one) => one.id)")
    page.evaluate("() => { location.hash = '#/'; }")
    page.locator(".leg-button").click()
    assert page.locator(".pane-answers .answers.stale").count() == 1
    answers = page.evaluate("async () => (await axe.run(document)).violations.map((one) => one.id)")
    page.locator(".pane-answers .notice").get_by_role("button", name="Undo: fuel").click()
    screens.settle()
    assert (load, answers) == ([], [])


def test_html_in_names_is_text(screens: Screens, tmp_path: Path) -> None:
    evil = '<img src="x" onerror="document.title=1"><b>x</b>'
    bundle = screens.bundle()
    for document in bundle["documents"]:
        document["name"] = f"{evil}{document['id']}"
        for things in (
            "items",
            "seats",
            "bays",
            "tanks",
            "configurations",
            "flaps",
            "loads",
            "cruises",
            "performance",
        ):
            for thing in document.get(things) or []:
                if "name" in thing:
                    thing["name"] = f"{evil}{thing['id']}"
    screens.take(bundle, tmp_path)
    for place in PLACES:
        screens.go(place)
        assert screens.page.locator("img").count() == 0, place
        assert screens.page.locator("b:text-is('x')").count() == 0, place
    screens.go("")
    assert evil in (screens.page.locator(".leg-button h1").text_content() or "")


def test_a_file_that_is_not_ours_changes_nothing(screens: Screens, tmp_path: Path) -> None:
    before = screens.bundle()
    broken = {
        **before,
        "documents": [{**before["documents"][0], "kind": "balloon"}, *before["documents"][1:]],
    }
    for name, text in {"text.json": "no json", "empty.json": "{}", "broken.json": json.dumps(broken)}.items():
        file = tmp_path / name
        file.write_text(text, encoding="utf-8")
        screens.go("settings")
        screens.page.locator("input[type=file]").set_input_files(file)
        screens.page.get_by_text(f"{name} was refused; nothing here has changed.").wait_for()
    assert screens.bundle() == before


def test_everything_out_and_in_again(screens: Screens, tmp_path: Path) -> None:
    before = screens.bundle()
    file = tmp_path / "all.json"
    file.write_text(json.dumps(before), encoding="utf-8")
    screens.go("air")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    assert screens.bundle() != before
    screens.go("settings")
    screens.page.locator("input[type=file]").set_input_files(file)
    screens.page.get_by_role("button", name="Put it in the place of everything here").click()
    screens.page.get_by_text("What was here before is kept aside.").wait_for()
    screens.settle()
    assert screens.bundle() == before


@pytest.mark.parametrize("place", PLACES)
def test_text_at_twice_the_size_loses_nothing(screens: Screens, place: str) -> None:
    page = screens.page
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    screens.go(place)
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    try:
        wide = page.evaluate("() => document.documentElement.scrollWidth")
        cut = page.evaluate("""() => [...document.querySelectorAll("tussock-app *")].filter((one) => {
          const { width, right, left } = one.getBoundingClientRect();
          const drawn = width > 0 && getComputedStyle(one).clipPath === "none";
          return drawn && !one.closest(".unseen, .change-word, svg") && (right > innerWidth + 1 || left < -1);
        }).map((one) => one.outerHTML.slice(0, 120))""")
    finally:
        page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
    assert cut == []
    assert wide <= SMALL["width"]


@pytest.mark.parametrize("place", PLACES)
def test_what_is_touched_is_as_large_as_a_thumb(screens: Screens, place: str) -> None:
    page = screens.page
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    screens.go(place)
    small = page.evaluate("""() => [...document.querySelectorAll(
        "a, button, input, select, summary, [role=slider]")]
      .map((one) => (/radio|checkbox|file/.test(one.type) ? one.closest("label") : one))
      .filter((one) => one.getBoundingClientRect().width > 0)
      .filter((one) => one.getBoundingClientRect().height < 47.5)
      .map((one) => one.outerHTML.slice(0, 120))""")
    assert small == []


def test_figures_and_verdicts_are_large_enough(screens: Screens) -> None:
    page = screens.page
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    screens.go("")
    sizes = page.evaluate("""() => [...document.querySelectorAll(
        `.pane-answers :is(.verdict, .headline, .question-name, .margin-figure, .air-figure, .unit),
         .tabs a`)]
      .filter((one) => one.getBoundingClientRect().width > 0)
      .map((one) => parseFloat(getComputedStyle(one).fontSize))""")
    assert len(sizes) > 20
    assert min(sizes) >= 18


def test_units_are_the_persons(screens: Screens) -> None:
    screens.go("settings")
    screens.choose("Lengths", "ft")
    screens.choose("Temperatures", "°F")
    screens.go("")
    assert "ft" in screens.margin("lifts_off")
    assert "°F" in (screens.page.locator(".air-row").text_content() or "")
    screens.go("air")
    field = screens.page.get_by_role("textbox", name="Temperature")
    field.fill("59")
    field.press("Enter")
    screens.settle()
    assert air_of(screens.bundle())["temperature"] == pytest.approx(288.15)


@pytest.mark.parametrize("size", [WIDE, {"width": 1920, "height": 1080}], ids=["1280x720", "1920x1080"])
def test_a_wide_page_shows_the_answers_and_the_opened_one(screens: Screens, size: dict[str, int]) -> None:
    page = screens.page
    page.set_viewport_size(size)  # type: ignore[arg-type]
    screens.go("")
    assert page.locator(".pane-answers .six").is_visible()
    assert page.locator(".pane-open .lead").is_visible()
    screens.row("stops").click()
    page.locator('.pane-open[data-place="answer/stops"]').wait_for()
    assert page.locator(".pane-open h1").text_content() == "Stops?"
    assert page.locator(".pane-answers .six").is_visible()
    assert page.evaluate("() => document.documentElement.scrollHeight") <= size["height"]


def test_the_demo_begun_again_keeps_the_look(screens: Screens) -> None:
    screens.go("settings")
    screens.choose("Look", "Sun")
    screens.page.get_by_role("button", name="Start again with the demo trip").click()
    screens.page.get_by_text("The demo trip is here.").wait_for()
    assert screens.page.get_by_role("radio", name="Sun").is_checked()
    screens.choose("Look", "Paper")
