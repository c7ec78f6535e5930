"""A sheet of paper for each leg: as many pages as legs, nothing cut off, the figures of the answers on it."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from tussock import text

from .screens import QUESTIONS, Screens, document, margin_said, natively

PAPER = ("A4", "Letter")
#: A sheet that is cut: more in it than it shows, or something beyond its edge.
CUT = """() => [...document.querySelectorAll(".sheet")].flatMap((sheet) => {
  const edge = sheet.getBoundingClientRect();
  const out = [...sheet.querySelectorAll("*")].filter((one) => {
    const { right, bottom, width } = one.getBoundingClientRect();
    return width > 0 && (right > edge.right + 1 || bottom > edge.bottom + 1);
  });
  return [
    ...(sheet.scrollHeight > sheet.clientHeight ? [`${sheet.scrollHeight} in ${sheet.clientHeight}`] : []),
    ...out.map((one) => one.outerHTML.slice(0, 120)),
  ];
})"""


def pages(screens: Screens, paper: str) -> int:
    return len(re.findall(rb"/Type /Page\s", screens.page.pdf(format=paper)))


def legs_of(bundle: dict[str, Any]) -> list[dict[str, Any]]:
    return list(document(bundle, bundle["open"]["trip"])["legs"])


def all_legs_are_known(screens: Screens) -> None:
    screens.go("trip")
    screens.page.locator(".legs:not(:has(.stale))").wait_for()


def on_paper(screens: Screens) -> list[str]:
    """What is cut off when it is printed."""
    screens.page.emulate_media(media="print")
    try:
        screens.page.evaluate("() => { dispatchEvent(new Event('beforeprint')); }")
        return list(screens.page.evaluate(CUT))
    finally:
        screens.page.emulate_media(media="null")


@pytest.mark.parametrize("paper", PAPER)
def test_as_many_pages_as_legs(screens: Screens, paper: str) -> None:
    legs = legs_of(screens.bundle())
    assert len(legs) > 3
    all_legs_are_known(screens)
    screens.page.get_by_role("link", name="Print the trip").click()
    screens.page.locator(".sheet").nth(len(legs) - 1).wait_for()
    assert pages(screens, paper) == len(legs)
    assert on_paper(screens) == []
    screens.go("print/leg")
    assert screens.page.locator(".sheet").count() == 1
    assert pages(screens, paper) == 1


@pytest.mark.parametrize("paper", PAPER)
@pytest.mark.parametrize("things", [40, 300])
def test_a_long_list_stays_on_one_page(screens: Screens, tmp_path: Path, things: int, paper: str) -> None:
    bundle = screens.bundle()
    legs = legs_of(bundle)
    kit = next(one for one in bundle["documents"] if one["kind"] == "kit")
    trip = next(one for one in bundle["documents"] if one["id"] == bundle["open"]["trip"])
    load = next(one for one in trip["loads"] if one["id"] == legs[0]["load"])
    for number in range(things):
        kit["items"].append(
            {
                "id": f"thing-{number}",
                "name": f"Thing of some length, number {number}",
                "mass": {"value": 0.05, "origin": "measured"},
            }
        )
        load["placed"].append({"item": f"thing-{number}", "bay": load["placed"][-1]["bay"]})
    screens.take(bundle, tmp_path)
    all_legs_are_known(screens)
    screens.go("print")
    assert pages(screens, paper) == len(legs)
    assert on_paper(screens) == []
    sheet = screens.page.locator(".sheet").first
    assert "The flight manual" in sheet.inner_text()
    if things == 40:
        assert f"number {things - 1}" in sheet.inner_text()


def test_the_answers_are_large_enough_on_paper(screens: Screens) -> None:
    all_legs_are_known(screens)
    screens.go("print")
    screens.page.emulate_media(media="print")
    try:
        screens.page.evaluate("() => { dispatchEvent(new Event('beforeprint')); }")
        sizes = screens.page.evaluate(
            """() => [
              `.sheet .verdict, .sheet-six tr:not(.sheet-reason) > *,
               .sheet-speeds :is(td, th), .sheet-abort`,
              ".sheet-six b, .sheet-speeds b", ".sheet-until", ".sheet-items"].map((what) =>
              Math.min(...[...document.querySelectorAll(what)].map(
                (one) => (parseFloat(getComputedStyle(one).fontSize) * 72) / 96)))"""
        )
    finally:
        screens.page.emulate_media(media="null")
    plain, figures, until, items = sizes
    assert plain >= 11.99
    assert figures > 13
    assert until >= 11.99
    assert items >= 7.4


def test_what_stands_on_the_sheet(screens: Screens) -> None:
    bundle = screens.bundle()
    screens.go("")
    screens.page.get_by_role("link", name="Print this leg").click()
    sheet = screens.page.locator(".sheet")
    sheet.wait_for()
    said = (sheet.text_content() or "").replace("\u00a0", " ")
    # The demo's air is of the moment; figures to the last digit by the core that runs here.
    air = next(one for one in bundle["documents"] if one["id"] == legs_of(bundle)[0]["air_from"])
    leg = natively(bundle, air["at"])
    for answer in leg["answers"]:
        name = text.say({"text": f"question.{answer['question']}"})
        row = sheet.locator(".sheet-six tr", has=screens.page.locator(f"th:text-is('{name}')"))
        assert row.locator(".verdict").text_content() == answer["verdict"]
        measure = answer["measures"][answer["governing"]]
        shown = (row.text_content() or "").replace("\u00a0", " ")
        for figure in (answer["needed"], answer["available"]):
            assert text.shown(figure, measure["dimension"]) in shown, answer["question"]
        assert margin_said(answer["margin"], measure["dimension"]) in shown, answer["question"]
        band, shows = measure.get("band"), row.locator(".sheet-band").count()
        assert shows == (band is not None), answer["question"]
        if band is not None:
            # what rests on the notebook has its band beside it
            low, high = (text.shown(band[end], measure["dimension"]) for end in ("low", "high"))
            assert re.search(rf"9 of 10: {low.split()[0]} to {re.escape(high)}", shown), answer["question"]
    assert sheet.locator(".sheet-band").count() >= 2
    roll = next(m for m in leg["answers"][2]["measures"] if m["name"] == "roll")["band"]
    assert f"to {text.shown(roll['high'], 'length')}" in said.split("Own runs, 9 of 10: roll")[1][:30]
    pictures = {answer["question"]: answer["picture"] for answer in leg["answers"]}
    assert set(pictures) == set(QUESTIONS)
    for station in pictures["balances"]["stations"]:
        assert text.shown(station["mass"], "mass") in said
    for state in pictures["balances"]["states"]:
        assert f"{text.shown(state['mass'], 'mass')} at {text.shown(state['arm'], 'arm')}" in said
    abort = pictures["lifts_off"]["abort"]
    assert f"abort by {text.shown(abort['distance'], 'length')}" in said
    dial = sheet.locator(".sheet-speeds tbody tr").first.locator(".number")
    assert [one.replace("\u00a0", " ") for one in dial.all_text_contents()] == [
        text.shown(pictures["lifts_off"]["lift_off_indicated"], "speed"),
        text.shown(
            next(n for n in leg["answers"][2]["notes"] if n["text"] == "note.lift_off")["values"]["true"],
            "speed",
        ),
    ]
    assert text.say({"text": "caution"}) in said
    # An hour, as the settings of the demo leave it.
    read, until = air["at"][11:16], f"{(int(air['at'][11:13]) + 1) % 24:02}{air['at'][13:16]}"
    way = "Forecast for" if air["origin"] == "forecast" else "Read"
    assert re.search(rf"{way} \w+ \d+ \w+ {read}; holds for this air, until (\w+ \d+ \w+ )?{until}", said)


def test_black_on_white_in_every_look(screens: Screens) -> None:
    for look in ("Night", "Paper", "Sun"):
        screens.go("settings")
        screens.choose("Look", look)
        screens.go("print/leg")
        colours = screens.page.evaluate(
            """() => [...document.querySelectorAll(".sheet, .sheet *")].flatMap((one) => {
              const { color, backgroundColor, borderTopColor } = getComputedStyle(one);
              return [color, backgroundColor, borderTopColor];
            })"""
        )
        for colour in set(colours):
            red, green, blue = (float(part) for part in re.findall(r"[\d.]+", colour)[:3])
            assert red == green == blue, f"{look}: {colour}"


def test_a_sheet_that_is_older_says_so(screens: Screens) -> None:
    screens.go("print/leg")
    older = screens.page.get_by_text("Do not fly by this sheet.")
    assert older.count() == 0
    # The engine is held up, so that nothing is worked out after the edit.
    screens.page.evaluate(
        "() => { for (let n = 0; n < 60; n++) window.tussock.ask('demo', {now: '2026-11-25T08:00:00Z'}); }"
    )
    screens.page.evaluate("() => { location.hash = '#/air'; }")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.page.evaluate("() => { location.hash = '#/print/leg'; }")
    older.wait_for()
    # What was an answer is struck out, its verdict too.
    struck = screens.page.evaluate(
        """() => [...document.querySelectorAll(".sheet :is(.verdict, .sheet-six b, .sheet-speeds b)")]
          .map((one) => getComputedStyle(one).textDecorationLine)"""
    )
    assert len(struck) > 10
    assert set(struck) == {"line-through"}
    screens.settle()
    older.wait_for(state="detached")
