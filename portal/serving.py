"""Runs the application under gunicorn: threads in worker processes, each with its own connection and publisher."""

import contextlib
import gc
import socket
import subprocess
import sys
from collections.abc import Callable, Sequence
from http import HTTPStatus
from importlib import import_module
from ipaddress import ip_address
from typing import Any

from gunicorn.app.base import BaseApplication
from gunicorn.glogging import Logger
from gunicorn.http.errors import LimitRequestHeaders, LimitRequestLine, ParseException
from gunicorn.workers.gthread import ThreadWorker

from portal.folders import STATIC
from portal.request.heads import PUBLISHED_POLICY, heads_of
from portal.running.log_lines import JsonLines
from portal.running.shared_figures import make_room, share_figures
from portal.settings import Settings
from portal.store.refusals import FieldRefused

_SWITCH_SECONDS = 0.0005
"""A thread that publishes must not keep an answer waiting: Python's 5 ms is five times what an approval takes."""
_WALKS = 20_000, 20, 20  # things made before the new, the middle and the old ones are walked

_LONGEST_LINE = 8190  # bytes of an address; as much as gunicorn can be told to read, and as its lines of headers
_REFUSED = STATIC / "refused"
_LINGER_SECONDS, _LINGER_READS = 0.5, 16


def check_place(host: str, port: int) -> None:
    """That the service may listen there, asked before work is done for nothing. It answers this machine alone, and a
    web server on it everyone else: that one brings TLS, and its word on who calls is taken. Raises FieldRefused."""
    if not _is_loopback(host):
        raise FieldRefused("host", f"The service listens on this machine alone: 127.0.0.1, ::1 or a --socket, not "
                                   f"{host}. Put a web server in front for everyone else: deploy/nginx.conf. In a "
                                   "container, run it beside the web server, or share the folder of a --socket.")
    try:
        with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # a port that was left a moment ago is free
            trial.bind((host, port))
    except OSError as error:
        raise FieldRefused("port", f"{host}:{port} can't be listened on: {error.strerror}. Another program may be "
                                   "there. Choose another with --port.") from error


def address_of(host: str, port: int) -> str:
    """As it stands in an address (RFC 3986, 3.2.2)."""
    return f"[{host}]:{port}" if ":" in host else f"{host}:{port}"


def _is_loopback(host: str) -> bool:
    try:
        return host == "localhost" or ip_address(host).is_loopback
    except ValueError:
        return False


class Worker(ThreadWorker):
    """Answers what it can't read with a page of ours, and quotes it in no log: its address may hold a link.

    What was asked for is not known then, so the API's clients are told the same; a web server in front knows
    (deploy/nginx.conf), and refuses sooner.
    """

    def handle_error(self, req: Any, client: Any, addr: Any, exc: BaseException) -> None:
        if isinstance(exc, ParseException):
            self.log.warning("a request could not be read", extra={"kind": type(exc).__name__})
            status = {LimitRequestLine: 414, LimitRequestHeaders: 431}.get(type(exc), 400)
        else:
            self.log.error("a request failed", exc_info=exc)
            status = 500
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
    heads = {"Connection": "close", "Content-Length": str(len(page)), "Content-Type": "text/html; charset=utf-8"}
    heads |= heads_of("text/html", Settings.read().over_tls, PUBLISHED_POLICY)
    lines = "".join(f"{name}: {value}\r\n" for name, value in heads.items())
    return f"HTTP/1.1 {status} {HTTPStatus(status).phrase}\r\n{lines}\r\n".encode() + page


def walk_less() -> None:
    """What stays for good is not walked again by the collector of cycles: that stalled all answers for 50 ms now and
    then. And a view that makes much of thousands of houses at once was halted by it for half of its time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(*_WALKS)


class Log(Logger):
    """What gunicorn itself has to say, in the lines of all the rest."""

    def setup(self, cfg: Any) -> None:
        super().setup(cfg)
        for handler in self.error_log.handlers:
            handler.setFormatter(JsonLines())


class Server(BaseApplication):
    """`bind` is host:port or unix:PATH. `when_ready` is called once, when requests are answered; `beside` is a command
    that runs then, and no longer than the server."""

    def __init__(
        self, bind: str, workers: int, threads: int, when_ready: Callable[[], None] | None = None,
        beside: Sequence[str] = (),
    ) -> None:
        self.given = {"bind": bind, "workers": workers, "threads": threads, "worker_class": Worker}
        self.when_ready = when_ready
        self.beside = beside
        share_figures(Settings.read())
        import_module("portal.app")  # once, before there are workers: they begin with it, and answer the sooner
        super().__init__()

    def load_config(self) -> None:
        for name, value in self.given.items():
            self.cfg.set(name, value)
        self.cfg.set("graceful_timeout", 10)
        self.cfg.set("limit_request_line", _LONGEST_LINE)
        self.cfg.set("accesslog", None)  # addresses under /p/ are credentials: they stay out of logs
        self.cfg.set("loglevel", "warning")
        self.cfg.set("logger_class", Log)
        self.cfg.set("control_socket_disable", True) if "control_socket_disable" in self.cfg.settings else None
        if self.when_ready:
            self.cfg.set("post_worker_init", self._first_is_up)
        if self.beside:
            self.cfg.set("when_ready", self._start_beside)

    def _start_beside(self, arbiter: Any) -> None:
        """It listens: whoever asks from here on is answered as soon as a worker is there."""
        running = subprocess.Popen(("nice", "-n", "10", *self.beside), stdin=subprocess.DEVNULL)
        arbiter.cfg.set("on_exit", lambda _: running.terminate())

    def _first_is_up(self, worker: Any) -> None:
        """The first worker has loaded the application: from here on requests are answered."""
        if worker.age == 1 and self.when_ready:
            self.when_ready()

    def load(self) -> Any:
        make_room()  # before what counts is imported
        from portal.app import create_app

        sys.setswitchinterval(_SWITCH_SECONDS)
        app = create_app()
        walk_less()
        return app
