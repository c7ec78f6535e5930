"""A bay to scale: reached from the load, stepped through, turned by keys and by thumb, with its list."""

from __future__ import annotations

from .screens import SMALL, Screens
from .test_screens_look import AXE


def test_a_bay_is_stepped_through_and_turned(screens: Screens) -> None:
    page = screens.page
    screens.open_leg(3)
    screens.go("load")
    page.get_by_role("link", name="See what goes where in Hold behind the seats").click()
    page.set_viewport_size(SMALL)  # type: ignore[arg-type]
    rows = page.locator(".stow-order li")
    rows.first.wait_for()
    total = rows.count()
    names = [text.strip() for text in rows.locator("span").all_text_contents()]
    assert names[0].startswith("Iron pot")
    drawn = page.locator(".stow-drawing svg:visible")
    boxes = drawn.locator(".pic-bay-box")
    said = page.locator(".stow-steps p")
    everything = boxes.count()
    assert (said.text_content() or "").startswith(f"{total} of {total}:")
    assert page.get_by_role("button", name="Next", exact=True).is_disabled()

    # back to the first: one box, of which three faces are seen; nothing in: none
    rows.first.get_by_role("button").click()
    assert (said.text_content() or "").startswith(f"1 of {total}: Iron pot")
    assert boxes.count() == 3
    assert everything > 3
    page.get_by_role("button", name="Back", exact=True).click()
    assert boxes.count() == 0
    page.get_by_role("button", name="Next", exact=True).click()
    assert page.locator('.stow-row[aria-current="step"]').count() == 1

    # by keys, and by the thumb
    page.evaluate("() => document.querySelectorAll('.pane-open, html').forEach((one) => one.scrollTo(0, 0))")

    def shapes() -> list[str | None]:
        return [one.get_attribute("d") for one in boxes.all()]

    before = shapes()
    page.get_by_role("slider", name="Turn it").press("ArrowRight")
    turned = shapes()
    assert turned != before
    box = drawn.bounding_box()
    assert box
    page.mouse.move(box["x"] + 100, box["y"] + 100)
    page.mouse.down()
    page.mouse.move(box["x"] + 180, box["y"] + 100, steps=3)
    page.mouse.up()
    assert shapes() != turned

    # the picture and its controls are seen at once, by an eye or without one
    tabs = page.locator(".tabs").bounding_box()
    controls = page.locator(".stow-turn").bounding_box()
    assert tabs
    assert controls
    assert controls["y"] + controls["height"] <= tabs["y"] + 0.5
    assert "with 1 of" in (drawn.get_attribute("aria-label") or "")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    assert page.evaluate("async () => (await axe.run(document)).violations.map((one) => one.id)") == []
