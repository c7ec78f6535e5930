"""The tree as agreed: what stands at the top, how long a file may be, and what never belongs in one."""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

TOP = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "pwa",
    "pycore",
    "tests",
    "build_scripts",
}
LONGEST = 500
CODE = {".py", ".js", ".mjs", ".css", ".html", ".md", ".toml"}

#: The words themselves are put together here, so that this file may stand in the tree that it judges.
_REGISTRIES = "|".join(
    [
        r"registry\.",
        "npm" + r"js\.",
        "py" + r"pi\.org",
        "python" + r"hosted\.",
        "crates" + r"\.io",
        "yarn" + r"pkg\.",
    ]
)
#: A path after a letter, a dot or a slash is part of an address; the home that the engine pretends is none.
_PLACES = "|".join(
    [
        r"(?<![\w./$}])/(?:work|tmp|root|Users|var/folders|mnt|private)\b",
        r"(?<![\w./$}])/home/(?!pilot\b)\w",
        r"\b[A-Z]:\\\\",
    ]
)
_UNDONE = "|".join(
    [
        r"\b(?:TO" + "DO|FIX" + "ME|XX" + r"X|HA" + r"CK)\b",
        r"(?i:coming\s+so" + r"on|lorem\s+ip" + r"sum|not\s+yet\s+implem" + "ented)",
    ]
)

FORBIDDEN = {
    "host of a registry": re.compile(_REGISTRIES),
    "place on one machine": re.compile(_PLACES),
    "undone": re.compile(_UNDONE),
}


def tracked() -> list[str]:
    """Files that git knows, by place; those that were deleted and not yet committed are left out."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True)
    names = listed.stdout.decode("utf-8").split("\0")
    return [name for name in names if name and (ROOT / name).is_file()]


FILES = tracked()


def text_of(name: str) -> str | None:
    """A file's text; None for one that is no text."""
    try:
        return (ROOT / name).read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None


def odd_at_top(names: list[str]) -> tuple[set[str], set[str]]:
    """What stands at the top and should not, and what is lacking there. A dot in front makes a name free."""
    here = {name.split("/")[0] for name in names}
    here = {name for name in here if not name.startswith(".")}
    return here - TOP, TOP - here


def too_long(texts: Mapping[str, str]) -> list[str]:
    """Files of code or prose that are too long to be of one subject. Data and licences are left alone."""
    return sorted(
        f"{name}: {lines}"
        for name, text in texts.items()
        if Path(name).suffix in CODE and (lines := text.count("\n")) > LONGEST
    )


def forbidden(name: str, text: str) -> list[str]:
    """What never belongs in a file, with its line."""
    return [
        f"{name}:{number}: {what}: {match[0]}"
        for number, line in enumerate(text.splitlines(), 1)
        for what, pattern in FORBIDDEN.items()
        if (match := pattern.search(line))
    ]


def resolved(lock: str) -> list[str]:
    """Packages of a lock file that say where they were fetched from."""
    packages = json.loads(lock)["packages"]
    return sorted(name for name, package in packages.items() if "resolved" in package)


def test_git_knows_the_files() -> None:
    assert len(FILES) > 150


def test_the_top_is_as_agreed() -> None:
    assert odd_at_top(FILES) == (set(), set())


def test_no_file_is_too_long() -> None:
    assert too_long({name: text for name in FILES if (text := text_of(name)) is not None}) == []


@pytest.mark.parametrize("name", [name for name in FILES if name != "pwa/package-lock.json"])
def test_nothing_stands_in_a_file_that_does_not_belong_there(name: str) -> None:
    text = text_of(name)
    if text is not None and not name.startswith("build_scripts/licences/"):
        assert forbidden(name, text) == []


def test_the_lock_file_names_versions_and_hashes_only() -> None:
    lock = (ROOT / "pwa" / "package-lock.json").read_text(encoding="utf-8")
    assert resolved(lock) == []
    assert FORBIDDEN["host of a registry"].search(lock) is None
    packages = json.loads(lock)["packages"]
    bare = [name for name, one in packages.items() if name and not one.get("link") and "integrity" not in one]
    assert bare == []


def test_python_files_end_with_a_line_and_begin_with_what_they_are_for() -> None:
    for name in FILES:
        if name.endswith(".py") and (text := text_of(name)):
            assert text.endswith("\n"), name
            first = text.splitlines()[0]
            assert first.startswith(('"""', "#!")), f"{name}: no docstring"


# --- the check itself ------------------------------------------------------------------------------------


def test_a_stranger_at_the_top_is_found() -> None:
    names = [*(f"{name}/a" for name in TOP), "notes.txt", ".gitignore", "docs/a.md"]
    assert odd_at_top(names) == ({"notes.txt", "docs"}, set())
    assert odd_at_top(["pwa/a"])[1] == TOP - {"pwa"}


def test_a_long_file_is_found() -> None:
    assert too_long({"a.py": "x\n" * 501, "b.py": "x\n" * 500, "c.json": "x\n" * 900}) == ["a.py: 501"]


@pytest.mark.parametrize(
    "line",
    [
        "get https://regis" + "try.example.com/a",
        "https://py" + "pi.org/simple",
        "open('/" + "tmp/x')",
        "cd /" + "work/main",
        "HOME=/" + "root",
        "path = '/" + "home/someone/x'",
        "# TO" + "DO: later",
        "Coming so" + "on",
    ],
)
def test_what_does_not_belong_is_found(line: str) -> None:
    assert len(forbidden("a.py", line)) == 1


@pytest.mark.parametrize(
    "line",
    ["./tmp/x", "a/work/b", "`${base}/tmp`", "https://example.com/work/x", "todo list of methods", "'/'"],
)
def test_what_is_harmless_is_left_alone(line: str) -> None:
    assert forbidden("a.py", line) == []


def test_an_address_in_the_lock_file_is_found() -> None:
    lock = {"packages": {"": {}, "a": {"resolved": "x"}, "b": {"integrity": "y"}}}
    assert resolved(json.dumps(lock)) == ["a"]
