#!/usr/bin/env python3
"""Set up, build and run every test: `python3 build_scripts/test.py [--quick] [pytest's own arguments]`.

The browsers (Chromium, Firefox, WebKit) are the system's: one that is missing is installed by apt where that
may be done, else it is an error. `--quick` leaves out what needs a browser. Lint and types are tests like any
other (tests/structure). What needs no browser runs on all cores, to four; what drives one follows, two files
at a time: a browser keeps a core busy and more, and its driver must not wait in a crowd.
"""

import argparse
import os
import subprocess
import sys

if sys.version_info < (3, 11):  # noqa: UP036
    sys.exit("Tussock needs Python 3.11 or newer; this is {}.{}.".format(*sys.version_info))

from steps import browsers, site
from steps.console import Stop
from steps.places import PYTHON, ROOT

#: pytest's word for "no test was chosen"
NOTHING_CHOSEN = 5


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--quick", action="store_true", help="without browsers")
    options, rest = parser.parse_known_args()
    try:
        site.build()
        found = {} if options.quick else browsers.ensure_all()
    except Stop as stop:
        print(stop, file=sys.stderr)
        return 1
    cores = os.cpu_count() or 1
    runs = [["-m", "not browser", *_at_once(min(cores, 4))]]
    if not options.quick:
        runs.append(["-m", "browser", *_at_once(min(cores, 2))])
    done = NOTHING_CHOSEN
    for run in runs:
        code = _pytest([*run, *rest], found)
        if code not in (0, NOTHING_CHOSEN):
            return code  # what failed stands last in the output
        done = min(done, code)
    return done


def _at_once(files: int) -> list[str]:
    """So many files at a time, each of them by itself from its beginning to its end."""
    return ["-n", str(files), "--dist", "loadfile", "--no-loadscope-reorder"]


def _pytest(arguments: list[str], found: dict[str, str]) -> int:
    command = [str(part) for part in (PYTHON, "-m", "pytest", *arguments)]
    return subprocess.run(command, cwd=ROOT, env={**os.environ, **found}).returncode


if __name__ == "__main__":
    sys.exit(main())
