"""Our own server, and the sentences of the set-up that somebody gets to read."""

from __future__ import annotations

import http.client
from collections.abc import Iterator
from pathlib import Path

import pytest

from steps import environment, policy
from steps.console import Stop
from steps.server import Site


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    folder = tmp_path_factory.mktemp("outer") / "site"
    (folder / "engine").mkdir(parents=True)
    (folder.parent / "secret.txt").write_text("not for serving", encoding="utf-8")
    for name in (
        "index.html",
        "app.js",
        "engine/a.mjs",
        "engine/a.wasm",
        "x.webmanifest",
        "f.woff2",
        "a.whl",
    ):
        (folder / name).write_text("content", encoding="utf-8")
    served = Site(folder)
    yield served
    served.stop()


def get(site: Site, path: str, headers: dict[str, str] | None = None) -> http.client.HTTPResponse:
    connection = http.client.HTTPConnection("127.0.0.1", site.port, timeout=10)
    connection.request("GET", path, headers=headers or {})
    return connection.getresponse()


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/", "text/html; charset=utf-8"),
        ("/app.js", "text/javascript; charset=utf-8"),
        ("/engine/a.mjs", "text/javascript; charset=utf-8"),
        ("/engine/a.wasm", "application/wasm"),
        ("/x.webmanifest", "application/manifest+json"),
        ("/f.woff2", "font/woff2"),
        ("/a.whl", "application/zip"),
    ],
)
def test_type_and_policy_of_every_file(site: Site, path: str, kind: str) -> None:
    response = get(site, path)
    assert response.status == 200
    assert response.headers["Content-Type"] == kind
    assert response.headers["Content-Security-Policy"] == policy.HEADER
    assert response.headers["Cache-Control"] == "no-cache"


def test_an_unchanged_file_is_not_sent_again(site: Site) -> None:
    first = get(site, "/app.js")
    again = get(site, "/app.js", {"If-Modified-Since": first.headers["Last-Modified"]})
    assert (again.status, again.read()) == (304, b"")


@pytest.mark.parametrize("path", ["/engine/", "/../secret.txt", "/%2e%2e/secret.txt", "/nothing"])
def test_no_listing_and_nothing_from_outside(site: Site, path: str) -> None:
    assert get(site, path).status == 404


def test_stopped_is_stopped_also_for_open_connections(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_text("content", encoding="utf-8")
    served = Site(tmp_path)
    connection = http.client.HTTPConnection("127.0.0.1", served.port, timeout=10)
    connection.request("GET", "/a.txt")
    assert connection.getresponse().read() == b"content"
    served.stop()
    connection.auto_open = 0  # the same connection or none
    with pytest.raises((http.client.HTTPException, OSError)):
        ask_again(connection)


def ask_again(connection: http.client.HTTPConnection) -> None:
    connection.request("GET", "/a.txt")
    connection.getresponse()


def test_a_python_without_venv_gets_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(environment, "PYTHON", tmp_path / "bin" / "python")
    monkeypatch.setattr(environment, "VENV", tmp_path)
    monkeypatch.setattr(environment.importlib.util, "find_spec", lambda name: None)
    with pytest.raises(Stop, match=r"^This Python comes without venv: install it .*python3-venv.*\.$"):
        environment.set_up_python()
