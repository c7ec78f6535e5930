"""Telling what is going on, and running other programs."""

import os
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from .places import ROOT


class Stop(Exception):
    """The build cannot go on; the message is the one sentence to show."""


@contextmanager
def step(title: str) -> Iterator[None]:
    """Print the title at once, and how long it took at the end."""
    print(f"- {title} ...", flush=True)
    begin = time.monotonic()
    yield
    seconds = time.monotonic() - begin
    if seconds >= 1:
        print(f"  done in {seconds:.0f} s", flush=True)


def note(text: str) -> None:
    print(f"  {text}", flush=True)


def run(
    command: Sequence[str | Path], *, cwd: Path = ROOT, env: Mapping[str, str] | None = None, what: str
) -> str:
    """Run quietly and return what it printed; show all of it and stop when it fails."""
    done = subprocess.run(
        [str(part) for part in command],
        cwd=cwd,
        env={**os.environ, **(env or {})},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        stdin=subprocess.DEVNULL,
    )
    if done.returncode:
        print(done.stdout, file=sys.stderr)
        raise Stop(f"{what} failed (status {done.returncode}); what it said stands above.")
    return done.stdout
