"""Load, fuel and people by touch."""

from __future__ import annotations

from typing import Any

import pytest

from .screens import Screens, document, open_leg_of


def load_of(bundle: dict[str, Any]) -> dict[str, Any]:
    trip = document(bundle, bundle["open"]["trip"])
    wanted = open_leg_of(bundle)["load"]
    return dict(next(load for load in trip["loads"] if load["id"] == wanted))


def bays_of(bundle: dict[str, Any]) -> dict[str, str | None]:
    return {placed["item"]: placed.get("bay") for placed in load_of(bundle)["placed"]}


def item_called(bundle: dict[str, Any], name: str) -> dict[str, Any]:
    kits = (one for one in bundle["documents"] if one["kind"] == "kit")
    return next(item for kit in kits for item in kit["items"] if item["name"] == name)


def bulk_left(screens: Screens) -> list[str]:
    return screens.page.locator(".spare .bay .spare-left").all_text_contents()


def test_an_item_unticked_stays_behind_and_undo_brings_it_back(screens: Screens) -> None:
    bundle = screens.bundle()
    placed = next(item for item, bay in bays_of(bundle).items() if bay)
    kits = (one for one in bundle["documents"] if one["kind"] == "kit")
    name = next(item["name"] for kit in kits for item in kit["items"] if item["id"] == placed)
    screens.go("load")
    before, spare = bays_of(bundle), bulk_left(screens)
    tick = screens.page.get_by_role("checkbox", name=name)
    tick.uncheck()
    screens.settle()
    assert bays_of(screens.bundle()) == {**before, placed: None}
    screens.go("load")
    assert bulk_left(screens) != spare, "what is left grows"
    screens.page.get_by_role("button", name=f"Undo: {name}").click()
    screens.settle()
    assert bays_of(screens.bundle()) == before
    screens.go("load")
    assert bulk_left(screens) == spare


def test_an_item_ticked_goes_where_it_may_and_to_another_bay(screens: Screens) -> None:
    screens.go("load")
    page = screens.page
    row = page.locator(".item").filter(has=page.locator("input:not(:checked)")).first
    name = row.locator(".item-name").text_content() or ""
    item = item_called(screens.bundle(), name)
    screens.go("load")
    page.get_by_role("checkbox", name=name).check()
    screens.settle()
    bay = bays_of(screens.bundle())[item["id"]]
    assert bay
    assert bay not in item.get("not_bays", [])
    screens.go("load")
    chosen = page.get_by_role("combobox", name=f"Bay of {name}")
    other = next(
        value
        for value in chosen.locator("option").evaluate_all("(o) => o.map((x) => x.value)")
        if value != bay
    )
    chosen.select_option(other)
    screens.settle()
    assert bays_of(screens.bundle())[item["id"]] == other


def test_what_is_searched_for_is_found(screens: Screens) -> None:
    screens.go("load")
    page = screens.page
    names = page.locator(".item-name").all_text_contents()
    assert len(names) > 30
    word = names[0].split()[0].lower()
    page.get_by_role("searchbox", name="Find").fill(word)
    assert page.locator(".item-name").all_text_contents() == [name for name in names if word in name.lower()]
    page.get_by_role("searchbox", name="Find").fill("no such thing")
    page.get_by_text("Nothing by that name.").wait_for()
    page.get_by_role("searchbox", name="Find").fill("")
    screens.choose("Kit", "what comes")
    assert page.locator(".item input:not(:checked)").count() == 0
    screens.choose("Kit", "all")


def test_people_change_seats_and_leave_them(screens: Screens) -> None:
    screens.go("load")
    page = screens.page
    before = {seated["seat"]: seated["person"] for seated in load_of(screens.bundle())["seats"]}
    (one, first), (other, second) = list(before.items())[:2]
    screens.go("load")
    page.locator(f"#seat-{one}").select_option(second)
    screens.settle()
    swapped = {seated["seat"]: seated["person"] for seated in load_of(screens.bundle())["seats"]}
    assert swapped == {**before, one: second, other: first}, "nobody sits twice"
    screens.go("load")
    page.locator(f"#seat-{other}").select_option("")
    screens.settle()
    assert other not in {seated["seat"] for seated in load_of(screens.bundle())["seats"]}
    screens.go("")
    assert "1 aboard" in (page.locator(".leg-with").text_content() or "")


def test_fuel_by_litres_moves_reaches(screens: Screens) -> None:
    tank = open_leg_of(screens.bundle())["fuel"][0]
    before = screens.margin("reaches")
    screens.go("load")
    slider = screens.page.locator(".fuel .slider").first
    slider.focus()
    for _ in range(5):
        slider.press("ArrowRight")
    screens.settle()
    after = open_leg_of(screens.bundle())["fuel"][0]
    assert after["volume"]["value"] == pytest.approx(tank["volume"]["value"] + 0.005, abs=0.0005)
    assert after["volume"]["origin"] == tank["volume"]["origin"]
    screens.go("")
    assert screens.margin("reaches") != before


def test_more_fuel_than_goes_in_is_refused(screens: Screens) -> None:
    screens.go("load")
    page = screens.page
    field = page.locator(".fuel input[inputmode=decimal]").first
    field.fill("200")
    field.press("Enter")
    notice = page.locator(".pane-open .notice")
    notice.wait_for()
    assert "200.0 L is more than the 100.0 L usable" in (notice.text_content() or "")
    assert field.input_value() == "200", "what was typed stays"
    assert page.locator(".pane-answers .answers.stale").count() == 1
    notice.get_by_role("button", name="Undo: fuel").click()
    screens.settle()


def test_what_cannot_be_said_leads_to_where_it_is_entered(screens: Screens) -> None:
    """A thing without its mass: from the answer to its field, and back to an answer."""
    screens.open_leg(6)
    assert screens.verdict("balances") == "can't say"
    screens.go("answer/balances")
    screens.page.locator(".pane-open").get_by_role("link", name="Enter it").first.click()
    field = screens.page.locator(".pane-open [data-at$='/mass'] [data-main]").first
    field.fill("9 kg")
    field.press("Enter")
    screens.page.locator(".f-waiting").wait_for(state="detached")
    screens.go("")
    assert screens.verdict("balances") != "can't say"


def test_what_was_searched_is_forgotten_when_the_screen_is_left(screens: Screens) -> None:
    screens.go("load")
    everything = screens.page.locator("li.item").count()
    screens.page.get_by_role("searchbox").fill("stove")
    assert screens.page.locator("li.item").count() < everything
    screens.go("")
    screens.go("load")
    assert screens.page.locator("li.item").count() == everything


def test_a_tank_left_empty_on_the_screen_is_not_an_empty_tank(screens: Screens) -> None:
    screens.go("load")
    box = screens.page.locator(".fuel input[inputmode=decimal]").first
    box.fill("")
    box.press("Enter")
    screens.settle()
    screens.go("")
    assert {screens.verdict(name) for name in ("balances", "lifts_off", "reaches")} == {"can't say"}


def test_what_is_looked_at_before_the_doors_close_is_open_again_with_another_load(screens: Screens) -> None:
    screens.go("load")
    page = screens.page
    page.get_by_role("link", name="Before the doors close").click()
    boxes = page.locator(".doors input")
    page.get_by_text("Controls full and free").wait_for()
    lines = boxes.count()
    assert lines > 3
    boxes.nth(0).check()
    boxes.nth(1).check()
    page.get_by_text(f"{lines - 2} still to look at").wait_for()
    screens.go("load")
    row = page.locator(".item").filter(has=page.locator("input:checked")).first
    row.locator("input").first.uncheck()
    screens.settle()
    screens.go("doors")
    page.get_by_text("Controls full and free").wait_for()
    assert page.locator(".doors input:checked").count() == 0
    lines = page.locator(".doors input").count()
    for box in page.locator(".doors input").all():
        box.check()
    page.get_by_text("All looked at").wait_for()
    later = "(hours) => { const real = window.real ??= Date.now; Date.now = () => real() + hours * 3600e3; }"
    # as when one comes back to it
    back = """async () => {
      dispatchEvent(new Event("hashchange"));
      for (let i = 0; i < 3; i += 1) await new Promise(requestAnimationFrame);
    }"""
    for hours, ticked in ((11.9, lines), (12.1, 0), (0, lines)):
        page.evaluate(later, hours)
        page.evaluate(back)
        assert page.locator(".doors input:checked").count() == ticked, f"after {hours} hours"


def test_things_go_into_a_bag_that_is_weighed_whole(screens: Screens) -> None:
    screens.go("load")
    page = screens.page
    page.get_by_role("checkbox", name="Blue duffel bag").check()
    clothes = page.locator(".item").filter(has=page.get_by_text("Wren's clothes, three days", exact=True))
    clothes.get_by_role("combobox").select_option(label="in Blue duffel bag")
    bag = page.locator(".item").filter(has=page.get_by_text("Blue duffel bag", exact=True))
    assert "with Wren's clothes, three days" in (bag.locator(".tick").text_content() or "")
    screens.settle()
    placed = {one["item"]: one for one in load_of(screens.bundle())["placed"]}
    assert placed["clothes-wren"]["inside"] == "duffel"
    screens.go("load")
    assert "5.7 kg" in (bag.locator(".item-figures").text_content() or "").replace("\u00a0", " ")
    bag.get_by_role("button", name="Weigh Blue duffel bag").click()
    bag.get_by_label("The scale says").fill("7.2")
    bag.get_by_role("button", name="It weighs").click()
    screens.settle()
    screens.go("load")
    assert "7.2 kg" in (bag.locator(".item-figures").text_content() or "").replace("\u00a0", " ")
    weighed = next(one for one in load_of(screens.bundle())["placed"] if one["item"] == "duffel")["weighed"]
    assert (weighed["value"], weighed["holding"]) == (7.2, ["clothes-wren"])
    # left behind it takes along nothing that is in it, which keeps its place
    screens.go("load")
    page.get_by_role("checkbox", name="Blue duffel bag").uncheck()
    assert not clothes.get_by_role("checkbox").is_checked()
    assert "in Blue duffel bag" in (clothes.locator(".tick").text_content() or "")
    clothes.get_by_role("checkbox").check()
    screens.settle()
    placed = {one["item"]: one for one in load_of(screens.bundle())["placed"]}
    assert placed["clothes-wren"]["bay"] == "hold"
    assert "inside" not in placed["clothes-wren"]


def test_a_limit_that_bays_share_stands_with_them_and_beside_the_no_what_decides(screens: Screens) -> None:
    page = screens.page
    screens.open_leg(3)  # bulk is over; by mass the hold bears more than it does with the locker
    screens.go("load")
    assert page.locator(".spare .shared h2").text_content() == "Locker and hold together"
    shared = page.locator(".spare .shared .spare-left").text_content()
    each = page.locator(".spare .bay .spare-line:first-of-type .spare-left").all_text_contents()
    assert shared
    assert shared.endswith("left")
    assert each[1] == shared, "the hold alone bears more"
    assert page.locator(".open-head .verdict").text_content() == "no"
    assert page.locator(".governs").text_content() == "Fits: Hold behind the seats, litres"
    assert "190\u00a0L" in (page.locator(".load-why").text_content() or "")
