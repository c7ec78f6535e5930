"""Run in `.venv` (it needs `packaging`): are all requirements of the browser's wheels met by each other?

Takes one argument, JSON `{"installed": {name: version}, "requires": {name: [requirement, ...]}}`, and prints
JSON `{name: [needed name, ...]}`.
"""

import json
import sys

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

#: How the interpreter in the browser describes itself.
BROWSER = {
    "implementation_name": "cpython",
    "os_name": "posix",
    "platform_machine": "wasm32",
    "platform_python_implementation": "CPython",
    "platform_system": "Emscripten",
    "python_full_version": "3.14.2",
    "python_version": "3.14",
    "sys_platform": "emscripten",
    "extra": "",
}


def depends_of(
    installed: dict[str, str], requires: dict[str, list[str]]
) -> tuple[dict[str, list[str]], list[str]]:
    """For each package the names it needs in the browser; and one line for each requirement not met."""
    depends: dict[str, list[str]] = {}
    problems = []
    for name, lines in requires.items():
        wanted = [Requirement(line) for line in lines]
        applying = [one for one in wanted if one.marker is None or one.marker.evaluate(dict(BROWSER))]
        depends[name] = sorted({canonicalize_name(one.name) for one in applying})
        for one in applying:
            version = installed.get(canonicalize_name(one.name))
            if version is None or not one.specifier.contains(version, prereleases=True):
                problems.append(f"{name} needs {one}, there is {version or 'none'}")
    return depends, problems


if __name__ == "__main__":
    found, unmet = depends_of(**json.loads(sys.argv[1]))
    print("\n".join(unmet) if unmet else json.dumps(found))
    sys.exit(1 if unmet else 0)
