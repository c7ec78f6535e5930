"""A proxy for all that is not our own host: it notes who is asked for, and lets nothing through."""

from __future__ import annotations

import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any


class Proxy:
    """`asked` lists what was asked for: a whole address, or "host:port" of a secure one."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        asked = self.asked

        class Refusing(BaseHTTPRequestHandler):
            def refuse(self) -> None:
                asked.append(self.path)
                self.send_error(403)

            do_GET = do_HEAD = do_POST = do_PUT = do_OPTIONS = do_CONNECT = refuse

            def log_message(self, format: str, *args: Any) -> None:
                pass

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), Refusing)
        self._server.daemon_threads = True
        self.address = f"http://127.0.0.1:{self._server.server_address[1]}"
        self._thread = threading.Thread(target=self._server.serve_forever, args=(0.1,), daemon=True)
        self._thread.start()

    def close(self) -> None:
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()
