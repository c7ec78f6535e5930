"""The air by thumb: what is touched is what is kept, and the answers are the core's for it."""

from __future__ import annotations

import math

import pytest

from .screens import Screens, air_of, open_leg_of, shows_what_the_core_says


def test_a_step_of_temperature_is_kept_and_answered(screens: Screens) -> None:
    before, margin = air_of(screens.bundle())["temperature"], screens.margin("lifts_off")
    screens.go("air")
    for _ in range(5):
        screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    assert air_of(screens.bundle())["temperature"] == pytest.approx(before + 5, abs=1e-9)
    screens.go("")
    assert screens.margin("lifts_off") != margin
    shows_what_the_core_says(screens)


def test_the_slider_moves_the_pressure_altitude(screens: Screens) -> None:
    screens.go("air")
    before = air_of(screens.bundle())["pressure"]["pressure_altitude"]
    slider = screens.page.get_by_role("slider", name="It reads")
    slider.focus()
    for _ in range(10):
        slider.press("ArrowRight")
    screens.settle()
    pressure = air_of(screens.bundle())["pressure"]
    assert pressure["by"] == "altimeter"
    assert pressure["pressure_altitude"] == pytest.approx(before + 10 * 20 * 0.3048, abs=20 * 0.3048)
    shows_what_the_core_says(screens)


def test_qnh_instead_of_the_altimeter(screens: Screens) -> None:
    screens.go("air")
    was = air_of(screens.bundle())["pressure"]
    screens.choose("Pressure", "QNH")
    assert air_of(screens.bundle())["pressure"] == was, "to look at the other way changes nothing"
    field = screens.page.get_by_role("textbox", name="QNH")
    assert field.input_value() == ""
    field.fill("1021")
    field.press("Enter")
    screens.settle()
    assert air_of(screens.bundle())["pressure"] == {"by": "qnh", "qnh": 102_100.0}
    shows_what_the_core_says(screens)


def test_the_sock_by_picture_and_dial(screens: Screens) -> None:
    screens.go("air")
    page = screens.page
    screens.choose("How full the sock is", "3 of 5 bands")
    dial = page.locator("wind-dial svg")
    dial.scroll_into_view_if_needed()
    box = dial.bounding_box()
    assert box
    # A touch on the right of the strip: from the right, a quarter turn.
    page.mouse.click(box["x"] + box["width"] * 0.95, box["y"] + box["height"] / 2)
    screens.settle()
    bundle = screens.bundle()
    wind = air_of(bundle)["wind"]
    assert wind["by"] == "sock"
    assert wind["fullness"] == pytest.approx(0.6)
    assert wind["wind_from"] == pytest.approx(math.pi / 2)
    assert wind["against"] == open_leg_of(bundle)["takeoff_direction"]
    dial.focus()
    dial.press("ArrowLeft")
    screens.settle()
    assert air_of(screens.bundle())["wind"]["wind_from"] == pytest.approx(math.radians(80))
    shows_what_the_core_says(screens)


def test_the_dial_follows_a_finger_that_drags(screens: Screens) -> None:
    screens.go("air")
    dial = screens.page.locator("wind-dial svg")
    dial.scroll_into_view_if_needed()
    box = dial.bounding_box()
    assert box
    x, y, reach = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2, box["width"] * 0.4
    mouse = screens.page.mouse
    # the arrow stands at 340 degrees: it is what can be dragged
    mouse.move(x + reach * math.sin(math.radians(340)), y - reach * math.cos(math.radians(340)))
    mouse.down()
    for degrees in range(345, 631, 15):
        mouse.move(x + reach * math.sin(math.radians(degrees)), y - reach * math.cos(math.radians(degrees)))
    mouse.up()
    screens.settle()
    assert air_of(screens.bundle())["wind"]["wind_from"] == pytest.approx(math.radians(270))
    screens.page.get_by_role("button", name="Undo: wind").click()
    screens.settle()
    assert air_of(screens.bundle())["wind"]["wind_from"] == pytest.approx(5.934, abs=0.01), (
        "one drag is one step back"
    )


def test_no_wind_seen_is_calm(screens: Screens) -> None:
    screens.go("air")
    screens.choose("How full the sock is", "hangs: calm")
    screens.settle()
    assert air_of(screens.bundle())["wind"] == {"by": "calm"}
    shows_what_the_core_says(screens)


def test_what_is_no_number_is_kept_and_not_counted(screens: Screens) -> None:
    screens.go("air")
    before = air_of(screens.bundle())
    field = screens.page.get_by_role("textbox", name="Temperature")
    field.fill("2o")
    field.blur()
    assert screens.page.get_by_text("Typed and not counted: “2o”.").count() == 2, "here and with the answers"
    assert air_of(screens.bundle()) == before
    assert field.input_value() == "2o"
    screens.refresh()
    assert screens.page.get_by_role("textbox", name="Temperature").input_value() == "2o", (
        "a draft survives a restart"
    )
    field = screens.page.get_by_role("textbox", name="Temperature")
    field.fill("20")
    field.press("Enter")
    screens.settle()
    assert screens.page.get_by_text("Typed and not counted").count() == 0
    assert air_of(screens.bundle())["temperature"] == pytest.approx(293.15)


def test_one_touch_reads_again(screens: Screens) -> None:
    before = air_of(screens.bundle())
    screens.go("air")
    start = screens.page.evaluate("() => Date.now() - 1000")
    screens.page.get_by_role("button", name="Still so:").click()
    screens.settle()
    after = air_of(screens.bundle())
    assert after["origin"] == "read"
    assert screens.page.evaluate("(at) => Date.parse(at)", after["at"]) >= start
    assert {key: after[key] for key in ("pressure", "temperature", "wind")} == {
        key: before[key] for key in ("pressure", "temperature", "wind")
    }


def test_the_air_there_is_made_when_it_is_told(screens: Screens) -> None:
    bundle = screens.bundle()
    leg = next(
        n
        for n, leg in enumerate(
            bundle["documents"][[d["kind"] for d in bundle["documents"]].index("trip")]["legs"], 1
        )
        if not leg.get("air_to")
    )
    screens.open_leg(leg)
    screens.go("air")
    screens.choose("Where", "there:")
    screens.page.get_by_text("It is taken from here").wait_for()
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    bundle = screens.bundle()
    (air,) = (one for one in bundle["documents"] if one["id"] == open_leg_of(bundle)["air_to"])
    assert air["origin"] == "told"
    assert air["strip"] == open_leg_of(bundle)["to_strip"]


def test_a_wind_without_its_direction_is_not_counted(screens: Screens) -> None:
    screens.go("air")
    page = screens.page
    screens.choose("How full the sock is", "hangs: calm")
    screens.settle()
    screens.choose("How full the sock is", "3 of 5 bands")
    screens.settle()
    page.get_by_text("Until then the wind is not counted.").wait_for()
    assert air_of(screens.bundle()).get("wind") is None, "no headwind is made up, and it is calm no more"
    screens.go("")
    assert screens.verdict("lifts_off") in ("can't say", "no")
    screens.go("air")
    page.locator("wind-dial svg").press("ArrowRight")
    screens.settle()
    wind = air_of(screens.bundle())["wind"]
    assert wind["fullness"] == pytest.approx(0.6)
    assert wind["wind_from"] == pytest.approx(math.radians(10))
    shows_what_the_core_says(screens)


def test_a_wind_told_from_true_north_stays_so(screens: Screens) -> None:
    bundle = screens.bundle()
    airs = {one["id"]: one for one in bundle["documents"] if one["kind"] == "air"}
    (trip,) = (one for one in bundle["documents"] if one["kind"] == "trip")
    number = next(
        n
        for n, leg in enumerate(trip["legs"], 1)
        if (wind := airs.get(leg.get("air_from"), {}).get("wind"))
        and wind["by"] == "measured"
        and not wind.get("against")
    )
    was = airs[trip["legs"][number - 1]["air_from"]]["wind"]
    screens.open_leg(number)
    screens.go("air")
    degrees = round(math.degrees(was["wind_from"]))
    screens.page.locator(".dial-words").get_by_text(f"from {degrees:03d}° true").wait_for()
    screens.page.get_by_role("button", name="More: Wind speed").click()
    screens.settle()
    wind = air_of(screens.bundle())["wind"]
    assert wind["wind_from"] == was["wind_from"]
    assert wind.get("against") is None
    assert wind["speed"] > was["speed"]
    screens.choose("Where from", "against")
    screens.settle()
    assert air_of(screens.bundle()).get("wind") is None, "an angle against north is none against the strip"


def test_undo_of_another_leg_says_which(screens: Screens) -> None:
    screens.go("air")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    screens.open_leg(2)
    button = screens.page.get_by_role("button", name="Undo: temperature, leg 1")
    button.first.wait_for()
    screens.open_leg(1)
    assert button.count() == 0
    screens.page.get_by_role("button", name="Undo: temperature", exact=True).first.wait_for()


@pytest.mark.parametrize(("name", "field"), [("It reads", "pressure"), ("Temperature", "temperature")])
def test_a_field_left_empty_takes_every_yes_that_rests_on_it(screens: Screens, name: str, field: str) -> None:
    """The figure that stood there is no longer seen, so nothing may rest on it; Undo brings it back."""
    before = air_of(screens.bundle())[field]
    screens.go("air")
    box = screens.page.get_by_role("textbox", name=name, exact=True)
    box.fill("")
    box.press("Enter")
    screens.settle()
    assert field not in air_of(screens.bundle())
    screens.go("")
    assert screens.verdict("lifts_off") == "can't say"
    assert screens.verdict("climbs_out") == "can't say"
    headline = screens.page.locator(".pane-answers .headline").text_content() or ""
    assert "at Saltpan" in headline, "what is missing, not what only follows from it"
    screens.page.get_by_role("button", name="Undo").first.click()
    screens.settle()
    assert air_of(screens.bundle())[field] == before
    assert screens.verdict("lifts_off") != "can't say"


def test_a_wind_speed_left_empty_is_not_calm(screens: Screens) -> None:
    screens.go("air")
    screens.choose("Wind given by", "Speed")
    box = screens.page.get_by_role("textbox", name="Wind speed")
    for typed, verdict in (("8", False), ("", True)):
        box.fill(typed)
        box.press("Enter")
        screens.settle()
        screens.go("")
        assert (screens.verdict("lifts_off") == "can't say") == verdict, typed
        screens.go("air")
