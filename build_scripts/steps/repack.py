"""Runs inside Pyodide at build time: rewrites wheels and the standard library with compiled modules.

A browser would compile every imported module anew at each start, since nothing is kept of its file system.
The interpreter that compiles is the very one that will load the result. Left out are things that nothing
imports at the strip: tests, stubs, headers, the Fortran and C tooling of NumPy.
"""

import io
import py_compile
import re
import zipfile
from pathlib import Path

#: Folders and files that are not shipped.
LEFT_OUT = re.compile(
    r"(^|/)(tests?|__pycache__|include|f2py|_pyinstaller|idlelib|tkinter|lib2to3|ensurepip|pydoc_data|_pyrepl)/"
    r"|\.(pyi|h|c|pxd|pyx|a|ini|template|build)$"
    r"|\.dist-info/(RECORD|entry_points\.txt|direct_url\.json)$"
    r"|(^|/)(conftest|__main__)\.py$"
    r"|_tests?\.cpython-[^/]*\.so$"
)


def repack(source: str, target: str) -> None:
    """Copy the archive `source` to `target` with each module in compiled form in its source's place."""
    with (
        zipfile.ZipFile(source) as old,
        zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as new,
    ):
        names = [info.filename for info in old.infolist() if not info.is_dir()]
        kept = [name for name in names if not LEFT_OUT.search(name)]
        for name in sorted(kept):
            data = old.read(name)
            if name.endswith(".py"):
                name, data = name + "c", compiled(name, data)
            # A fixed date: the same input gives the same bytes, hence the same entry for the service worker.
            info = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
            info.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(info, data)


def compiled(name: str, source: bytes) -> bytes:
    """The module as the bytes of a `.pyc` file, docstrings and asserts kept."""
    folder = Path("/scratch")
    folder.mkdir(exist_ok=True)
    written = folder / "module.py"
    written.write_bytes(source)
    py_compile.compile(
        str(written),
        cfile=str(folder / "module.pyc"),
        dfile=name,
        doraise=True,
        invalidation_mode=py_compile.PycInvalidationMode.UNCHECKED_HASH,
    )
    return (folder / "module.pyc").read_bytes()


def check(path: str) -> int:
    """How many members the archive has; raises when one does not read back."""
    with zipfile.ZipFile(io.BytesIO(Path(path).read_bytes())) as archive:
        bad = archive.testzip()
        if bad:
            raise ValueError(f"{path}: {bad} does not read back")
        return len(archive.namelist())
