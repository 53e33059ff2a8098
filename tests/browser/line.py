"""A line between a browser and the service that can be cut: dead, in the middle of what is sent, or before the answer.
It can also bring another worker than the service's, as if a former version of it had."""

import socket
import struct
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from http.client import HTTPConnection, HTTPException
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import urlsplit

HOP = {"connection", "keep-alive", "transfer-encoding", "content-length"}


class Line(ThreadingHTTPServer):
    """`dead`: nothing gets through. `cut_after`: so many bytes of a form get through, and then it is dead.
    `loses_answers`: what is sent arrives, and the line is dead before the answer. `worker`: what /desk/worker.js is."""

    daemon_threads = True

    def __init__(self, target: str) -> None:
        super().__init__(("127.0.0.1", 0), _Hop)
        self.target = urlsplit(target).netloc
        self.base = f"http://127.0.0.1:{self.server_port}"
        self.dead = self.loses_answers = False
        self.cut_after: int | None = None
        self.worker = ""
        self.sent: list[str] = []

    def handle_error(self, *_: object) -> None:
        """A line that was cut is what these tests are about."""


class _Hop(BaseHTTPRequestHandler):
    server: Line
    protocol_version = "HTTP/1.1"

    def handle_one_request(self) -> None:
        try:
            super().handle_one_request()
        except (OSError, HTTPException):
            self._cut()

    def do_GET(self) -> None:
        if self.server.dead:
            return self._cut()
        if self.path == "/desk/worker.js" and self.server.worker:
            return self._answer(200, [("Content-Type", "text/javascript")], self.server.worker.encode())
        return self._pass_on(b"")

    def do_POST(self) -> None:
        line, length = self.server, int(self.headers.get("Content-Length", 0))
        if line.cut_after is not None:
            line.dead = True
            self.rfile.read(min(length, line.cut_after))
        if line.dead:
            return self._cut()
        line.sent.append(self.path)
        return self._pass_on(self.rfile.read(length))

    def _pass_on(self, body: bytes) -> None:
        heads = {name: value for name, value in self.headers.items() if name.lower() not in HOP}
        with closing(HTTPConnection(self.server.target, timeout=20)) as onward:
            onward.request(self.command, self.path, body or None, heads)
            answer = onward.getresponse()
            content = answer.read()
        if self.command == "POST" and self.server.loses_answers:
            self.server.dead = True
            return self._cut()
        return self._answer(answer.status, answer.getheaders(), content)

    def _answer(self, status: int, heads: list[tuple[str, str]], content: bytes) -> None:
        self.send_response_only(status)
        for name, value in heads:
            if name.lower() not in HOP:
                self.send_header(name, value)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def _cut(self) -> None:
        """As a line is cut: without a farewell (RST, RFC 9293, 3.10.7)."""
        self.close_connection = True
        self.connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        self.connection.close()

    def log_message(self, *_: object) -> None:
        """Nothing."""


@contextmanager
def line_to(target: str) -> Iterator[Line]:
    line = Line(target)
    thread = threading.Thread(target=line.serve_forever, daemon=True)
    thread.start()
    yield line
    line.shutdown()
    line.server_close()
