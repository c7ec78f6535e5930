"""Files: what goes out can come in; what comes in is shown first, then taken, and can be taken back whole."""

from __future__ import annotations

import copy
import json
import re
from pathlib import Path
from typing import Any

import pytest

from tussock.api import handle

from .driving import wait
from .screens import Screens, document

LATER = {"at": "2099-01-01T00:00:00Z", "count": 0, "by": "d-other"}
STRIP = "ridge-camp"


def offer(screens: Screens, folder: Path, content: Any, name: str = "theirs.json") -> None:
    """Choose a file, as bytes, as text, or from data."""
    file = folder / name
    if isinstance(content, bytes):
        file.write_bytes(content)
    else:
        file.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    screens.go("settings")
    screens.page.locator("input[type=file]").set_input_files(file)


def would(screens: Screens, name: str = "theirs.json") -> str:
    """What the screen says that the file would change."""
    notice = screens.page.get_by_role("region", name=name)
    notice.wait_for()
    return (notice.inner_text() or "").replace("\u00a0", " ")


def take(screens: Screens) -> None:
    screens.page.get_by_role("button", name="Take it", exact=True).click()
    screens.page.get_by_text("Taken. Undo takes all of it back.").wait_for()
    screens.settle()


def undo(screens: Screens) -> None:
    screens.go("")
    screens.page.locator(".pane-answers button.undo").click()
    screens.settle()


def by_another(bundle: dict[str, Any], name: str, pointer: str, value: Any) -> dict[str, Any]:
    """The file of somebody who later changed one field of one document."""
    theirs = copy.deepcopy(bundle)
    one = next(one for one in theirs["documents"] if one["id"] == name)
    here = one
    *way, last = pointer.split("/")[1:]
    for part in way:
        here = here[part]
    here[last] = value
    one.setdefault("stamps", {})[pointer] = LATER
    return theirs


# --- out --------------------------------------------------------------------------------------------------


def single(screens: Screens, label: str) -> dict[str, Any]:
    screens.go("settings")
    screens.page.get_by_label("What goes into the file").select_option(label=label)
    with screens.page.expect_download() as download:
        screens.page.get_by_role("button", name="Save a file").click()
    found: dict[str, Any] = json.loads(Path(download.value.path()).read_text(encoding="utf-8"))
    screens.page.get_by_label("What goes into the file").select_option(label="Everything here")
    return found


@pytest.mark.parametrize(
    ("label", "kinds"),
    [
        ("Aeroplane: Dabchick", {"aeroplane"}),
        ("Strip: Ridge Camp", {"strip"}),
        (
            "Trip with all it needs: A week on the plateau",
            {"trip", "settings", "aeroplane", "person", "kit", "strip", "air"},
        ),
    ],
)
def test_one_thing_with_what_it_needs(screens: Screens, label: str, kinds: set[str]) -> None:
    found = single(screens, label)
    assert {one["kind"] for one in found["documents"]} == kinds
    if len(kinds) == 1:
        assert len(found["documents"]) == 1
    # It passes the gate by itself.
    assert json.loads(handle("check", json.dumps(found)))["result"]["ok"]


def test_the_share_sheet_where_there_is_one(screens: Screens) -> None:
    page = screens.page
    screens.go("settings")
    assert page.get_by_role("button", name="Share", exact=True).count() == 0
    page.evaluate(
        """() => {
          window.shared = [];
          navigator.canShare = ({ files }) => files.every(({ type }) => type === "text/plain");
          navigator.share = async ({ files }) => {
            window.shared.push([files[0].name, await files[0].text()]);
            if (window.refuse) throw new DOMException("no", window.refuse);
          };
        }"""
    )
    screens.go("")
    screens.go("settings")
    share = page.get_by_role("button", name="Share", exact=True)
    share.click()
    wait(
        page,
        """() => new Promise((resolve) => {
          const look = () => (window.shared.length ? resolve() : setTimeout(look, 20));
          look();
        })""",
    )
    ((name, text),) = page.evaluate("() => window.shared")
    assert name.endswith(".json.txt")
    assert json.loads(text)["documents"] == screens.bundle()["documents"]
    # Left alone by the person: nothing. Failed: a download instead.
    for refusal, downloads in (("AbortError", 0), ("NotAllowedError", 1)):
        page.evaluate("(name) => { window.refuse = name; }", refusal)
        got: list[Any] = []

        def downloaded(one: Any, got: list[Any] = got) -> None:
            got.append(one)

        page.on("download", downloaded)
        share.click()
        page.wait_for_timeout(500)
        page.remove_listener("download", downloaded)
        assert len(got) == downloads, refusal
    page.evaluate("() => { delete navigator.canShare; delete navigator.share; }")


# --- in ---------------------------------------------------------------------------------------------------


def test_a_later_edit_is_shown_taken_and_taken_back_whole(screens: Screens, tmp_path: Path) -> None:
    before = screens.bundle()
    old = document(before, STRIP)["elevation"]
    new = {**old, "value": old["value"] + 30.48}
    new.pop("typed", None)
    offer(screens, tmp_path, by_another(before, STRIP, "/elevation", new))
    said = would(screens)
    assert "Ridge Camp" in said
    assert "Elevation" in said
    feet = [round(one["value"] / 0.3048) for one in (old, new)]
    assert all(f"{one} ft" in said for one in feet)
    assert screens.bundle() == before, "nothing is stored before the yes"
    screens.go("settings")
    take(screens)
    assert document(screens.bundle(), STRIP)["elevation"] == new
    undo(screens)
    assert screens.bundle() == before


def test_changed_apart_is_told_with_both_values(screens: Screens, tmp_path: Path) -> None:
    common = screens.bundle()
    air = document(common, common["open"]["leg"] and "air-1-from")
    screens.go("air")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    mine = document(screens.bundle(), "air-1-from")["temperature"]
    assert mine != air["temperature"]
    offer(screens, tmp_path, by_another(common, "air-1-from", "/temperature", 303.15))
    said = would(screens)
    assert "Changed here and there apart." in said
    assert "30 °C" in said
    assert f"Not kept: {round(mine - 273.15)} °C" in said
    take(screens)
    assert document(screens.bundle(), "air-1-from")["temperature"] == 303.15


def test_new_and_removed_documents(screens: Screens, tmp_path: Path) -> None:
    before = screens.bundle()
    theirs = copy.deepcopy(before)
    strip = copy.deepcopy(next(one for one in before["documents"] if one["id"] == STRIP))
    theirs["documents"].append({**strip, "id": "far-meadow", "name": "Far Meadow"})
    lesson = next(one for one in theirs["documents"] if one["kind"] == "lesson")
    theirs["documents"].remove(lesson)
    theirs["removed"] = {lesson["id"]: LATER}
    offer(screens, tmp_path, theirs)
    said = would(screens)
    assert "New here: 1 × strip" in said
    assert "Far Meadow" in said
    assert "Removed there, and so here: 1 × lesson" in said
    take(screens)
    ids = {one["id"] for one in screens.bundle()["documents"]}
    assert "far-meadow" in ids
    assert lesson["id"] not in ids
    assert lesson["id"] in screens.bundle()["removed"]
    undo(screens)
    assert screens.bundle() == before


def test_the_same_file_again_changes_nothing(screens: Screens, tmp_path: Path) -> None:
    offer(screens, tmp_path, screens.bundle())
    assert "Nothing here would change." in would(screens)
    assert screens.page.get_by_role("button", name="Take it", exact=True).count() == 0


def test_what_was_edited_after_the_look_is_looked_at_again(screens: Screens, tmp_path: Path) -> None:
    bundle = screens.bundle()
    strip = document(bundle, STRIP)
    offer(screens, tmp_path, by_another(bundle, STRIP, "/name", f"{strip['name']} Two"))
    would(screens)
    screens.go("air")
    screens.page.get_by_role("button", name="More: Temperature").click()
    screens.settle()
    warmer = document(screens.bundle(), "air-1-from")
    screens.go("settings")
    screens.page.get_by_role("button", name="Take it", exact=True).click()
    screens.page.get_by_text("Something here has changed meanwhile: look once more.").wait_for()
    take(screens)
    after = screens.bundle()
    assert document(after, STRIP)["name"] == f"{strip['name']} Two"
    assert document(after, "air-1-from") == warmer


def test_an_older_version_comes_in_migrated(screens: Screens, tmp_path: Path) -> None:
    old = json.loads((Path(__file__).parents[1] / "core/fixtures/v0/bundle.json").read_text(encoding="utf-8"))
    offer(screens, tmp_path, old)
    said = would(screens)
    assert "New here" in said
    take(screens)
    now = {one["id"]: one for one in screens.bundle()["documents"]}
    migrated = json.loads(handle("migrate", json.dumps({"bundle": json.dumps(old)})))["result"]
    assert migrated["migrated"] > 0
    for one in migrated["documents"]:
        if one["kind"] != "settings":
            assert now[one["id"]]["version"] == 1
            assert now[one["id"]]["name"] == one["name"]


HOSTILE: dict[str, Any] = {
    "no-json": "Dear diary",
    "deep": "[" * 100_000,
    "nan": '{"format": "tussock", "version": 1, "documents": [], "open": NaN}',
    "twice": '{"format": "tussock", "format": "tussock", "version": 1, "documents": []}',
    "another": '{"format": "else", "version": 1, "documents": []}',
    "newer": '{"format": "tussock", "version": 99, "documents": []}',
    "bytes": bytes(range(256)) * 40,
    "large": b" " * 8_000_001,
    "number": "1e999",
    "proto": '{"format": "tussock", "version": 1, "__proto__": {"documents": []}, "documents": 3}',
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_broken_huge_or_hostile_file_is_refused_with_the_reason(
    screens: Screens, tmp_path: Path, name: str
) -> None:
    before = screens.bundle()
    offer(screens, tmp_path, HOSTILE[name], f"{name}.json")
    told = screens.page.get_by_text(f"{name}.json was refused; nothing here has changed.")
    told.wait_for()
    reason = (told.text_content() or "").split("changed.", 1)[1].strip()
    assert len(reason) > 10
    assert screens.bundle() == before
    screens.refresh()
    assert screens.bundle() == before, "read from the store again, in the same order"


def test_the_place_of_what_is_wrong_is_told(screens: Screens, tmp_path: Path) -> None:
    before = screens.bundle()
    index = next(i for i, one in enumerate(before["documents"]) if one["id"] == STRIP)
    theirs = copy.deepcopy(before)
    theirs["documents"][index]["ground"]["length"]["value"] = -5
    offer(screens, tmp_path, theirs)
    told = screens.page.get_by_text("theirs.json was refused; nothing here has changed.")
    told.wait_for()
    said = (told.text_content() or "").replace("\u00a0", " ")
    assert f"/documents/{index}/ground/length" in said
    assert re.search(r"Ridge Camp \(strip\), \w[\w ]*, \w+", said), "in words too"
    assert screens.bundle() == before
