#!/usr/bin/env python3
"""Set up, build and run every test: `python3 build_scripts/test.py [--quick] [pytest's own arguments]`.

The browsers (Chromium, Firefox, WebKit) are the system's: one that is missing is installed by apt where that
may be done, else it is an error. `--quick` leaves out what needs a browser. Lint and types are tests like any
other (tests/structure). As many run at once as there are cores, to four; the tests of one file stay together.
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
    at_once = ["-n", str(min(os.cpu_count() or 1, 4)), "--dist", "loadfile", "--no-loadscope-reorder"]
    chosen = ["-m", "not browser"] if options.quick else []
    command = [PYTHON, "-m", "pytest", *at_once, *chosen, *rest]
    return subprocess.run([str(part) for part in command], cwd=ROOT, env={**os.environ, **found}).returncode


if __name__ == "__main__":
    sys.exit(main())
