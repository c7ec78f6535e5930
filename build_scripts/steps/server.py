"""A small server for the built site: correct types, the policy as a header, nothing cached without asking."""

import contextlib
import socket
import sys
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from . import policy

TYPES = {
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".mjs": "text/javascript; charset=utf-8",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".whl": "application/zip",
    ".woff2": "font/woff2",
    ".zip": "application/zip",
}

HEADERS = {
    "Content-Security-Policy": policy.HEADER,
    "Cache-Control": "no-cache",  # ask every time; the answer is mostly "unchanged"
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
}


class Handler(SimpleHTTPRequestHandler):
    """Files of one folder; no listings."""

    protocol_version = "HTTP/1.1"
    extensions_map = {"": "application/octet-stream", **TYPES}  # noqa: RUF012 (the base class has it so)
    timeout = 60

    def end_headers(self) -> None:
        for name, value in HEADERS.items():
            self.send_header(name, value)
        super().end_headers()

    def list_directory(self, path: Any) -> None:
        self.send_error(404)

    def log_message(self, format: str, *args: Any) -> None:
        pass


class Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that goes away in the middle of an answer is nothing to tell."""
        if not isinstance(sys.exception(), OSError):
            super().handle_error(request, client_address)


class Site:
    """Serves a folder from a thread of its own until `stop()`, which also ends the open connections.

    `requested` lists the paths asked for so far, in order.
    """

    def __init__(self, folder: Path, port: int = 0) -> None:
        self.requested: list[str] = []
        self._connections: set[Any] = set()
        site = self

        class Counting(Handler):
            def setup(self) -> None:
                super().setup()
                site._connections.add(self.connection)

            def finish(self) -> None:
                site._connections.discard(self.connection)
                super().finish()

            def do_GET(self) -> None:
                site.requested.append(self.path)
                super().do_GET()

        self._server = Server(("127.0.0.1", port), partial(Counting, directory=str(folder)))
        self.port: int = self._server.server_address[1]
        self._thread = threading.Thread(target=self._server.serve_forever, args=(0.1,), daemon=True)
        self._thread.start()

    @property
    def address(self) -> str:
        """`localhost` counts as a secure place for a service worker without a certificate."""
        return f"http://localhost:{self.port}/"

    def stop(self) -> None:
        self._server.shutdown()
        self._server.server_close()
        for connection in list(self._connections):
            # Closing alone would leave a kept-alive connection open until its thread stops reading from it.
            with contextlib.suppress(OSError):
                connection.shutdown(socket.SHUT_RDWR)
        self._thread.join()

    def wait(self) -> None:
        """Until interrupted."""
        while self._thread.is_alive():
            self._thread.join(1)
