"""What changed when, and the way back: for edits, for what was deleted, across restarts, within bounds."""

from __future__ import annotations

from typing import Any

from .screens import Screens, document

AIR = "air-1-from"


def warmer(screens: Screens) -> Any:
    """One step of temperature, as a step of undo of its own."""
    screens.go("air")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    # Steps that follow closely are one: this is what a pause is for.
    screens.page.wait_for_timeout(2600)
    return document(screens.bundle(), AIR)["temperature"]


def versions(screens: Screens, name: str = AIR) -> Any:
    screens.go("")
    screens.go(f"history/{name}")
    found = screens.page.locator(".past-version")
    found.first.wait_for()
    return found


def test_back_to_any_version_and_back_again(screens: Screens) -> None:
    first = document(screens.bundle(), AIR)
    second, third = warmer(screens), warmer(screens)
    assert first["temperature"] < second < third
    before = document(screens.bundle(), AIR)
    found = versions(screens)
    top, below = (found.nth(n).inner_text().replace("\u00a0", " ") for n in (0, 1))
    shown = [f"{round(one - 273.15)} °C" for one in (first["temperature"], second, third)]
    assert shown[1] in top and shown[2] in top  # noqa: PT018 - one line of the screen
    assert shown[0] in below and shown[1] in below  # noqa: PT018
    found.nth(1).get_by_role("button", name="Go back to before this").click()
    screens.page.get_by_text("is as it was before").wait_for()
    screens.settle()
    assert document(screens.bundle(), AIR)["temperature"] == first["temperature"]
    # Undone like any edit, and told as one.
    screens.go("")
    screens.page.locator(".pane-answers button.undo", has_text="went back").click()
    screens.settle()
    assert document(screens.bundle(), AIR) == before


def test_going_back_is_stamped_as_an_edit_of_now(screens: Screens) -> None:
    """So that it wins over what it takes back, on another phone too."""
    warmer(screens)
    edited = next(one for one in screens.bundle()["documents"] if one["id"] == AIR)["stamps"]["/temperature"]
    found = versions(screens)
    count = found.count()
    found.first.get_by_role("button", name="Go back to before this").click()
    found.nth(count).wait_for()  # going back is a version of its own
    back = next(one for one in screens.bundle()["documents"] if one["id"] == AIR)["stamps"]["/temperature"]
    assert back["at"] > edited["at"]


def test_the_past_survives_a_restart(screens: Screens) -> None:
    first = document(screens.bundle(), AIR)["temperature"]
    warmer(screens)
    screens.refresh()
    versions(screens).first.get_by_role("button", name="Go back to before this").click()
    screens.page.get_by_text("is as it was before").wait_for()
    screens.settle()
    assert document(screens.bundle(), AIR)["temperature"] == first


def test_what_was_deleted_comes_back_from_the_past(screens: Screens) -> None:
    page = screens.page
    name = "Ada Heron"
    screens.go("edit")
    page.locator("#quick-person").fill(f"{name}, 70 kg")
    page.locator("#quick-person").press("Enter")
    line = page.locator("li.f-mine", has_text=name)
    line.wait_for()
    while not (there := [one for one in screens.bundle()["documents"] if one["name"] == name]):
        page.wait_for_timeout(100)  # it passes the gate first
    (made,) = there
    screens.go("edit")
    line.get_by_role("button", name=f"Delete {name}").click()
    line.wait_for(state="detached")
    assert made["id"] not in {one["id"] for one in screens.bundle()["documents"]}
    screens.go("history")
    row = page.locator(".past-row", has_text=name)
    row.wait_for()
    assert "taken away" in row.inner_text()
    row.click()
    page.get_by_role("button", name="Bring it back as before this").first.click()
    page.get_by_text("is as it was before").wait_for()
    while not any(one["name"] == name for one in screens.bundle()["documents"]):
        page.wait_for_timeout(100)
    after = screens.bundle()
    assert document(after, made["id"]) == {k: v for k, v in made.items() if k != "stamps"}
    assert made["id"] not in after.get("removed", {})


def test_a_copy_of_an_aeroplane_names_what_it_was_made_from_and_is_undone(screens: Screens) -> None:
    page = screens.page
    before = screens.bundle()
    screens.go("edit")
    page.get_by_role("button", name="Copy Dabchick").click()
    page.get_by_text("variant of Dabchick").wait_for()
    was = {one["id"] for one in before["documents"]}
    while not (made := [one for one in screens.bundle()["documents"] if one["id"] not in was]):
        page.wait_for_timeout(100)  # it passes the gate first
    (copy,) = made
    assert copy["variant_of"] == "dabchick"
    assert copy["seats"] == document(before, "dabchick")["seats"]
    screens.go("")
    page.locator(".pane-answers button.undo").click()
    screens.settle()
    assert {one["id"] for one in screens.bundle()["documents"]} == was


def test_made_and_deleted_in_one_breath_are_two_steps_of_undo(screens: Screens) -> None:
    page = screens.page
    screens.go("edit")
    page.locator("#quick-person").fill("Ida Swift, 61 kg")
    page.locator("#quick-person").press("Enter")
    line = page.locator("li.f-mine", has_text="Ida Swift")
    # at once: she may be on her way into the documents still
    line.get_by_role("button", name="Delete Ida Swift").click()
    line.wait_for(state="detached")
    page.locator(".pane-open button.undo").click()
    line.wait_for()
    while not any(one["name"] == "Ida Swift" for one in screens.bundle()["documents"]):
        page.wait_for_timeout(100)


def test_what_was_not_whole_yet_comes_back_with_undo_too(screens: Screens) -> None:
    page = screens.page
    screens.go("edit")
    page.get_by_label("Name of a new strip").fill("Half told")
    page.get_by_label("Name of a new strip").press("Enter")
    page.locator(".f-contents").wait_for()
    screens.go("edit")
    line = page.locator("li.f-mine", has_text="Half told")
    line.get_by_role("button", name="Delete Half told").click()
    line.wait_for(state="detached")
    page.locator(".pane-open button.undo").click()
    line.wait_for()
    assert not any(one.get("name") == "Half told" for one in screens.bundle()["documents"])


def test_a_way_back_that_does_not_pass_the_gate_is_refused_with_the_reason(screens: Screens) -> None:
    """What the core would not let through never gets in, however it came into the past."""
    page = screens.page
    bundle = screens.bundle()
    person = next(one for one in bundle["documents"] if one["kind"] == "person")
    # A past that no longer fits is made as a broken record would be: written beside the app.
    page.evaluate(
        """async (id) => {
          const db = await new Promise((resolve, reject) => {
            const open = indexedDB.open("tussock");
            open.onsuccess = () => resolve(open.result);
            open.onerror = () => reject(open.error);
          });
          const change = db.transaction("history", "readwrite");
          const head = { id, kind: "person", name: "Broken" };
          const before = { ...head, version: 1, mass: { value: -1, origin: "book" } };
          const label = { text: "form.undo.edit" };
          change.objectStore("history").add({ ...head, at: new Date().toISOString(), label, before });
          await new Promise((resolve) => { change.oncomplete = resolve; });
          db.close();
        }""",
        person["id"],
    )
    versions(screens, person["id"]).first.get_by_role("button", name="Go back to before this").click()
    page.get_by_text("can't go back to before").wait_for()
    assert screens.bundle() == bundle


def test_the_past_is_bounded(screens: Screens) -> None:
    page = screens.page
    screens.go("settings")
    page.evaluate(
        """async () => {
          const db = await new Promise((resolve) => {
            const open = indexedDB.open("tussock");
            open.onsuccess = () => resolve(open.result);
          });
          const change = db.transaction("history", "readwrite");
          for (let n = 0; n < 80; n++) {
            const head = { id: "air-1-from", kind: "air", name: "x", at: "2026-01-01T00:00:00Z" };
            const label = { text: "form.undo.edit" };
            change.objectStore("history").add({ ...head, label, before: { ...head, version: 1 } });
          }
          await new Promise((resolve) => { change.oncomplete = resolve; });
          db.close();
        }"""
    )
    warmer(screens)
    assert versions(screens).count() == 30
