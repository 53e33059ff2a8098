"""Runs the application under gunicorn: threads in worker processes, each with its own connection and publisher."""

import contextlib
import gc
import socket
import sys
from collections.abc import Callable
from http import HTTPStatus
from typing import Any

from gunicorn.app.base import BaseApplication
from gunicorn.http.errors import LimitRequestHeaders, LimitRequestLine, ParseException
from gunicorn.workers.gthread import ThreadWorker

from portal.folders import STATIC
from portal.store.refusals import FieldRefused

_SWITCH_SECONDS = 0.0005
"""A thread that publishes must not keep an answer waiting: Python's 5 ms is five times what an approval takes."""

_LONGEST_LINE = 8190  # bytes of an address; as much as gunicorn can be told to read, and as its lines of headers
_REFUSED = STATIC / "refused"
_LINGER_SECONDS, _LINGER_READS = 0.5, 16


def check_free(host: str, port: int) -> None:
    """Ask for the port before work is done for nothing. Raises FieldRefused."""
    try:
        with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # a port that was left a moment ago is free
            trial.bind((host, port))
    except OSError as error:
        raise FieldRefused("port", f"{host}:{port} can't be listened on: {error.strerror}. Another program may be "
                                   "there. Choose another with --port.") from error


class Worker(ThreadWorker):
    """Answers what it can't read with a page of ours, and quotes it in no log: its address may hold a link.

    What was asked for is not known then, so the API's clients are told the same; a web server in front knows
    (deploy/nginx.conf), and refuses sooner.
    """

    def handle_error(self, req: Any, client: Any, addr: Any, exc: BaseException) -> None:
        if not isinstance(exc, ParseException):
            super().handle_error(req, client, addr, exc)
            return
        self.log.warning("A request could not be read: %s", type(exc).__name__)
        status = {LimitRequestLine: 414, LimitRequestHeaders: 431}.get(type(exc), 400)
        with contextlib.suppress(OSError):  # whoever sent it may be gone
            client.settimeout(_LINGER_SECONDS)
            client.sendall(_refusal(status))
            client.shutdown(socket.SHUT_WR)
            # Closed with something unread, the connection is reset, and the answer with it (RFC 9112, 9.6).
            for _ in range(_LINGER_READS):
                if not client.recv(8192):
                    break


def _refusal(status: int) -> bytes:
    page = (_REFUSED / f"{status}.html").read_bytes()
    head = (
        f"HTTP/1.1 {status} {HTTPStatus(status).phrase}\r\nConnection: close\r\nContent-Length: {len(page)}\r\n"
        "Content-Type: text/html; charset=utf-8\r\nCache-Control: no-store\r\nX-Robots-Tag: noindex\r\n\r\n"
    )
    return head.encode() + page


class Server(BaseApplication):
    """`bind` is host:port or unix:PATH. `when_ready` is called once, when requests are answered."""

    def __init__(self, bind: str, workers: int, threads: int, when_ready: Callable[[], None] | None = None) -> None:
        self.given = {"bind": bind, "workers": workers, "threads": threads, "worker_class": Worker}
        self.when_ready = when_ready
        super().__init__()

    def load_config(self) -> None:
        for name, value in self.given.items():
            self.cfg.set(name, value)
        self.cfg.set("graceful_timeout", 10)
        self.cfg.set("limit_request_line", _LONGEST_LINE)
        self.cfg.set("accesslog", None)  # addresses under /p/ are credentials: they stay out of logs
        self.cfg.set("loglevel", "warning")
        self.cfg.set("control_socket_disable", True) if "control_socket_disable" in self.cfg.settings else None
        if self.when_ready:
            self.cfg.set("post_worker_init", self._first_is_up)

    def _first_is_up(self, worker: Any) -> None:
        """The first worker has loaded the application: from here on requests are answered."""
        if worker.age == 1 and self.when_ready:
            self.when_ready()

    def load(self) -> Any:
        from portal.app import create_app

        sys.setswitchinterval(_SWITCH_SECONDS)
        app = create_app()
        gc.collect()
        gc.freeze()  # what stays for good is not walked again: that stalled all answers for 50 ms now and then
        return app
