"""Runs the application under gunicorn: threads in worker processes, each with its own connection and publisher."""

import gc
import socket
import sys
from collections.abc import Callable
from typing import Any

from gunicorn.app.base import BaseApplication

from portal.store.refusals import FieldRefused

_SWITCH_SECONDS = 0.0005
"""A thread that publishes must not keep an answer waiting: Python's 5 ms is five times what an approval takes."""


def check_free(host: str, port: int) -> None:
    """Ask for the port before work is done for nothing. Raises FieldRefused."""
    try:
        with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # a port that was left a moment ago is free
            trial.bind((host, port))
    except OSError as error:
        raise FieldRefused("port", f"{host}:{port} can't be listened on: {error.strerror}. Another program may be "
                                   "there. Choose another with --port.") from error


class Server(BaseApplication):
    """`bind` is host:port or unix:PATH. `when_ready` is called once, when requests are answered."""

    def __init__(self, bind: str, workers: int, threads: int, when_ready: Callable[[], None] | None = None) -> None:
        self.given = {"bind": bind, "workers": workers, "threads": threads, "worker_class": "gthread"}
        self.when_ready = when_ready
        super().__init__()

    def load_config(self) -> None:
        for name, value in self.given.items():
            self.cfg.set(name, value)
        self.cfg.set("graceful_timeout", 10)
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
        from portal.web.app import create_app

        sys.setswitchinterval(_SWITCH_SECONDS)
        app = create_app()
        gc.collect()
        gc.freeze()  # what stays for good is not walked again: that stalled all answers for 50 ms now and then
        return app
