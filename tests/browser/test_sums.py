"""Single sums: each from its declaration; what is lacking, wrong or out of range is told."""

from __future__ import annotations

from typing import Any

import pytest

from tussock import single

from .screens import Screens

DECLARED = single.load_all()


def opened(screens: Screens, name: str) -> Any:
    screens.go(f"sums/{name}")
    wipe = screens.page.get_by_role("button", name="Empty all fields")
    if wipe.count():
        wipe.click()
    return screens.page.locator(".sum-result")


def put(screens: Screens, name: str, field: str, typed: str) -> None:
    screens.page.locator(f"#sum-{name}-{field}").fill(typed)


def test_every_relation_is_listed_and_found_by_words(screens: Screens) -> None:
    page = screens.page
    screens.go("sums")
    rows = page.locator(".sums-row")
    assert rows.count() == len(DECLARED) > 100
    find = page.get_by_role("searchbox")
    find.fill("density ALTITUDE rule")
    page.locator('a[href="#/sums/density_altitude_rule"]').wait_for()
    assert 0 < rows.count() < len(DECLARED)
    find.fill("<b>.*[")
    page.get_by_text("Nothing").first.wait_for()
    assert rows.count() == 0
    find.fill("")
    page.locator(f".sums-row >> nth={len(DECLARED) - 1}").wait_for()


def test_every_relation_has_a_form_that_names_what_it_needs(screens: Screens) -> None:
    for name, declared in DECLARED.items():
        screens.page.evaluate("(name) => { location.hash = `#/sums/${name}`; }", name)
        screens.page.locator(f'.pane-open[data-place="sums/{name}"] h1', has_text=declared.title).wait_for()
        drawn = screens.page.locator(".sum-entry :is(input, textarea, select[id])")
        assert drawn.count() == len(declared.inputs) + len(declared.plain), name
        said = screens.page.locator(".pane-open").text_content() or ""
        assert declared.source in said, name
        for key in [*declared.inputs, *declared.plain]:
            if key not in declared.defaults:
                assert key.replace("_", " ") in said.split("Still needed:", 1)[1], f"{name} {key}"


def test_the_cores_figure_with_working_and_source(screens: Screens) -> None:
    result = opened(screens, "stall_speed")
    quantities = DECLARED["stall_speed"].inputs
    middle = {}
    for key, quantity in quantities.items():
        middle[key] = (quantity.low + quantity.high) / 2
        unit = screens.page.locator(f".sum-entry:has(#sum-stall_speed-{key}) select")
        if unit.count():
            symbols = [one.get_attribute("value") for one in unit.locator("option").all()]
            if quantity.unit in symbols:
                unit.select_option(value=quantity.unit)
                put(screens, "stall_speed", key, repr(middle[key]))
                continue
            put(screens, "stall_speed", key, f"{middle[key]!r} {quantity.unit}")
        else:
            put(screens, "stall_speed", key, repr(middle[key]))
    result.locator("dd").first.wait_for()
    found = single.call("stall_speed", middle)
    (value,) = found["outputs"].values()
    assert f"{value / 1852 * 3600:.0f}" in (result.locator("dd").first.text_content() or "")
    assert result.locator("ol > li").count() == len(found["working"]) > 0


ISA = "isa_temperature"


def test_a_field_follows_its_unit(screens: Screens) -> None:
    result = opened(screens, ISA)
    (key,) = DECLARED[ISA].inputs
    put(screens, ISA, key, "1000 m")
    result.locator("dd").first.wait_for()
    metres = result.locator("dd").first.text_content()
    assert "8" in (metres or "")
    put(screens, ISA, key, "1000 ft")
    result.locator("dd", has_text="13").wait_for()


@pytest.mark.parametrize(
    "typed", ["1e999", "NaN", "12 furlongs", "<img src=x>", "--5", "1 2 3 4", "∞", "9" * 5000]
)
def test_what_is_no_figure_is_told_and_kept(screens: Screens, typed: str) -> None:
    result = opened(screens, ISA)
    (key,) = DECLARED[ISA].inputs
    put(screens, ISA, key, typed)
    field = screens.page.locator(f"#sum-{ISA}-{key}")
    told = screens.page.locator(".sum-entry .wrong, .sum-result .wrong")
    told.first.wait_for()
    assert field.input_value() == typed
    shown = result.locator("dd").all_text_contents()
    assert all("outside" in one or "impossible" in one for one in shown)
    assert screens.page.locator(".pane-open img").count() == 0


def test_outside_its_range_it_says_so_and_gives_no_figure(screens: Screens) -> None:
    result = opened(screens, ISA)
    (key,) = DECLARED[ISA].inputs
    put(screens, ISA, key, "90000 m")
    result.get_by_text("outside what this sum is valid for").wait_for()
    assert "It holds for" in (result.text_content() or "")


def test_lists_of_different_lengths_are_refused_in_words(screens: Screens) -> None:
    result = opened(screens, "centre_of_gravity")
    put(screens, "centre_of_gravity", "masses", "100 200 300")
    put(screens, "centre_of_gravity", "arms", "1000 2000")
    result.locator(".wrong").wait_for()
    assert result.locator("dd").count() == 0
    put(screens, "centre_of_gravity", "arms", "1000 2000 3000")
    result.locator("dd").first.wait_for()
