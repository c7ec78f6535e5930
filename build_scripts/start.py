#!/usr/bin/env python3
"""Set up, build and serve Tussock: `python3 build_scripts/start.py [--build-only] [--port N]`.

Needs nothing but Python 3.11 or newer and, the first time, a network. What is fetched is kept in a cache
outside the tree (TUSSOCK_CACHE, by default ~/.cache/tussock), so that a second run is quick.
"""

import argparse
import sys

if sys.version_info < (3, 11):  # noqa: UP036 (this is what an older one gets to read)
    sys.exit("Tussock needs Python 3.11 or newer; this is {}.{}.".format(*sys.version_info))

from steps import site
from steps.console import Stop
from steps.places import DIST
from steps.server import Site

USUAL_PORT = 8000


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--build-only", action="store_true", help="stop after the build")
    where = f"where to serve (default {USUAL_PORT}, or the next free one)"
    parser.add_argument("--port", type=int, help=where)
    options = parser.parse_args()
    try:
        site.build()
        if options.build_only:
            print(f"Built: {DIST}")
            return 0
        return serve(options.port)
    except Stop as stop:
        print(stop, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        return 130


def serve(port: int | None) -> int:
    site_served = open_site(port)
    print(f"\nTussock is at {site_served.address}  (Ctrl+C ends)", flush=True)
    try:
        site_served.wait()
    except KeyboardInterrupt:
        site_served.stop()
    return 0


def open_site(port: int | None) -> Site:
    tried = [port] if port is not None else range(USUAL_PORT, USUAL_PORT + 20)
    for one in tried:
        try:
            return Site(DIST, one)
        except OSError as problem:
            reason = problem
    raise Stop(f"No free port: {reason}.")


if __name__ == "__main__":
    sys.exit(main())
