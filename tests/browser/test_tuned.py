"""The aeroplane as it really is, on its screens: tuned, run up, changed; each as the native core has it."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from tussock.api import handle

from .screens import QUESTIONS, Screens, air_of, document


def core(method: str, bundle: dict[str, Any], **more: Any) -> Any:
    given = {"documents": bundle["documents"], "open": bundle["open"], **more}
    return json.loads(handle(method, json.dumps(given)))["result"]


def test_tuned_entry_by_entry_and_what_does_not_fit_is_named(screens: Screens) -> None:
    page = screens.page
    screens.go("tune")
    rows = page.locator(".pane-open section .tuned-row")
    rows.first.wait_for()
    bundle = screens.bundle()
    plane = document(bundle, "dabchick")
    told = core("tune", bundle, aeroplane=plane["id"], configuration="shelf-out")
    assert told["usable"]
    assert rows.count() == len(told["residuals"])
    (suspect,) = told["suspects"]
    named = page.get_by_role("region", name="Does not fit the rest")
    assert (
        named.get_by_role("link").get_attribute("href")
        == f"#/edit/dabchick-notebook%2Fentries%2F{suspect['entry']}"
    )


def test_every_distance_that_rests_on_it_shows_its_band(screens: Screens) -> None:
    for question in ("lifts_off", "climbs_out", "stops"):
        screens.go(f"answer/{question}")
        assert "9 of 10" in (screens.page.locator(".pane-open .measures").first.text_content() or "")


def test_the_run_up_check_says_do_not_go(screens: Screens) -> None:
    page = screens.page
    screens.go("answer/lifts_off")
    page.locator(".pane-open").get_by_role("link", name="Run-up check").click()
    field = page.get_by_label("Static rotation, full throttle", exact=True)
    page.locator("label.slip", has_text="across the wind").click()
    bundle = screens.bundle()
    verdicts = set()
    for rpm in (2050, 2240):
        field.fill(str(rpm))
        wanted = core("run_up", bundle, rotation=rpm / 60.0, across=True, now=air_of(bundle)["at"])
        verdicts.add(wanted["verdict"])
        page.locator(".pane-open .head .verdict", has_text=re.compile(f"^{wanted['verdict']}$")).wait_for()
        assert f"{rpm} rpm" in (page.locator(".pane-open .tuned-list").text_content() or "").replace(
            "\u00a0", " "
        )
    assert "no" in verdicts
    assert len(verdicts) == 2
    field.fill("fast")
    page.get_by_text("is no number").first.wait_for()
    assert page.locator(".pane-open .head .verdict").count() == 0


def test_a_run_up_that_says_no_is_said_wherever_one_asks_whether_to_go(screens: Screens) -> None:
    page = screens.page
    screens.go("runup")
    field = page.get_by_label("Static rotation, full throttle", exact=True)
    field.fill("2050")
    field.press("Enter")
    page.get_by_text("Noted at").wait_for()
    screens.go("")
    home = page.locator(".pane-answers")
    for _ in range(2):
        home.locator(".runup-said", has_text="Do not go and find out").wait_for()
        assert home.locator(".verdict-big").text_content() == "no"
        assert (screens.verdict("lifts_off"), screens.verdict("climbs_out")) == ("no", "no")
        page.reload()
        screens.settle()
    for question, there in (("lifts_off", 1), ("climbs_out", 1), ("stops", 0)):
        screens.go(f"answer/{question}")
        assert page.locator(".pane-open .runup-said").count() == there
        assert (page.locator(".pane-open .head .verdict").text_content() == "no") == bool(there)
    screens.go("load")
    assert (page.locator(".pane-open .follow").text_content() or "").split() == ["no", "Run-up", "check"]
    screens.go("runup")
    assert field.input_value() == "2050"
    page.get_by_role("button", name="Clear this reading").click()
    page.locator(".runup-said").first.wait_for(state="detached")
    assert field.input_value() == ""
    field.press_sequentially("2051")  # and left by another way than the field's own
    page.evaluate("() => { location.hash = '#/'; }")
    home.locator(".runup-said").wait_for()
    screens.go("runup")
    page.get_by_role("button", name="Clear this reading").click()


def test_another_engine_beside_the_one_there_is(screens: Screens) -> None:
    page = screens.page
    screens.go("whatif")
    power = page.get_by_label("Rated power", exact=True)
    power.fill("8o")
    power.blur()
    page.get_by_text("Something typed above").wait_for()
    table = page.locator("table.what-if")
    power.fill("7")
    before = power.bounding_box()
    power.press("Enter")
    table.wait_for()
    assert power.bounding_box() == before, "what is typed in stays where it is"
    half = table.text_content()
    power.fill("70")
    page.get_by_text("Answered when you leave the field").wait_for()
    assert table.text_content() == half, "half a figure is no question"
    assert page.get_by_role("button", name="Keep it as an aeroplane beside").is_disabled()
    power.press("Enter")
    page.get_by_text("Answered when you leave the field").wait_for(state="detached")
    table.wait_for()
    bundle = screens.bundle()
    made = core("what_if", bundle, aeroplane="dabchick", configuration="shelf-out", id="tried",
                changes={"engine": {"power": 70 * 745.6998715822704}})  # fmt: skip
    bundle["documents"].append(made["document"])
    (leg,) = (
        one for one in document(bundle, bundle["open"]["trip"])["legs"] if one["id"] == bundle["open"]["leg"]
    )
    leg["aeroplane"] = "tried"
    (leg,) = core("answer", bundle, leg=leg["id"], now=air_of(bundle)["at"])["legs"]
    wanted = [one["verdict"] for one in leg["answers"]]
    assert [one["question"] for one in leg["answers"]] == list(QUESTIONS)
    assert table.locator("tbody td:last-child .verdict").all_text_contents() == wanted
    assert wanted != table.locator("tbody td:nth-child(2) .verdict").all_text_contents()
    # what is made of the thrust is an estimate: no bare yes
    assert dict(zip(QUESTIONS, wanted, strict=True))["lifts_off"] != "yes"
    page.get_by_role("button", name="Keep it as an aeroplane beside").click()
    page.locator(".f-contents").wait_for()
    variant = document(screens.bundle(), "dabchick-changed")
    assert variant["variant_of"] == "dabchick"
    assert variant["engine"]["rated_power"]["value"] == 70 * 745.6998715822704


def test_a_governed_propeller_is_tuned_and_asked_for_no_static_rotation(
    screens: Screens, tmp_path: Path
) -> None:
    page, bundle = screens.page, screens.bundle()
    (plane,) = (one for one in bundle["documents"] if one["id"] == "dabchick")
    plane["propeller"] = {
        "pitch_is": "constant_speed",
        "diameter": {"value": 1.9, "origin": "book"},
        "efficiency": [
            {"advance_ratio": j, "efficiency": e} for j, e in ((0.0, 0.0), (0.4, 0.6), (1.0, 0.8))
        ],
    }
    screens.take(bundle, tmp_path)
    screens.go("tune")
    told = core("tune", bundle, aeroplane="dabchick", configuration="shelf-out")
    assert told["usable"]
    said = page.locator(".pane-open")
    said.get_by_text("power as the propeller's curve makes thrust of it").wait_for(state="attached")
    assert "static rotation" not in (said.text_content() or "").lower()
    screens.go("runup")
    page.get_by_text("A governed propeller tells no torque by its rotation").wait_for()
    assert page.get_by_label("Static rotation, full throttle").count() == 0
    screens.go("whatif")
    screens.choose("What is changed", "Propeller")
    page.get_by_text("the governor goes").wait_for()
    screens.go("notebook/new")
    page.locator(".pane-open").get_by_role("button", name="more", exact=True).click()
    kinds = page.locator(".pane-open").get_by_role("radio")
    assert kinds.count() > 5
    assert page.get_by_role("radio", name="static rpm").count() == 0
