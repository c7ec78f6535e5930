"""What README promises: its commands run as written, and its policy is the one that our own server sends."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")

sys.path.insert(0, str(ROOT / "build_scripts"))

from steps import policy  # noqa: E402

from ..core.made_tracks import Phone, circuit, watch  # noqa: E402
from ..core.track_files import gpx  # noqa: E402


def test_hosts_are_told_the_policy_that_we_send():
    assert f"Content-Security-Policy: {policy.HEADER}\n" in README


def commands() -> list[str]:
    lines = re.findall(r"^\.venv/bin/tussock .*$", README, re.MULTILINE)
    return [line.split("#")[0].strip() for line in lines]


def test_readme_shows_the_command_line():
    told = {"demo", "answer", "pack", "tune", "run-up", "track", "schema", "sums", "sum"}
    assert {line.split()[1] for line in commands()} == told


@pytest.mark.parametrize("line", commands())
def test_a_command_of_the_readme_runs(line: str, tmp_path: Path):
    words, _, target = line.partition(">")
    program = [sys.executable, "-m", "tussock", *shlex.split(words)[1:]]
    if "trip.json" in program:
        demo = subprocess.run([sys.executable, "-m", "tussock", "demo"], capture_output=True, check=True)
        (tmp_path / "trip.json").write_bytes(demo.stdout)
    if "track" in program:
        flown = watch(circuit(), Phone(), 1)
        (tmp_path / "flight.gpx").write_text(gpx(flown), encoding="utf-8")
    done = subprocess.run(program, capture_output=True, cwd=tmp_path, check=False)
    # the demo has a leg that is "no": 1 is its right status; nobody promises what the dial read this morning
    wanted = {"answer": (1,), "run-up": (0, 1)}.get(program[3], (0,))
    assert done.returncode in wanted, done.stderr.decode()
    assert done.stdout
    assert not target or target.strip() == "trip.json"


def test_the_caution_is_there():
    assert "The aeroplane's flight manual, local\nrules and a licensed pilot or engineer decide." in README
