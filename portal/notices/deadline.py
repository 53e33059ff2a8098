"""The longest time for what a server does: a timeout of a socket begins anew with each byte, this one does not."""

import contextlib
import socket
import threading
from types import TracebackType


class Deadline:
    """Use it in a `with` statement. When the time is over, the socket that it was told of last is shut, and whoever
    reads from it or writes to it fails. `passed` says that it was so."""

    def __init__(self, seconds: float) -> None:
        self.passed = False
        self._socket: socket.socket | None = None
        self._timer = self._begun(seconds)

    def __enter__(self) -> "Deadline":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._timer.cancel()

    def of(self, one: socket.socket | None) -> None:
        self._socket = one

    def begin_anew(self, seconds: float) -> None:
        self._timer.cancel()
        self._timer = self._begun(seconds)

    def _begun(self, seconds: float) -> threading.Timer:
        timer = threading.Timer(seconds, self._shut)
        timer.daemon = True
        timer.start()
        return timer

    def _shut(self) -> None:
        self.passed = True
        if self._socket is not None:
            with contextlib.suppress(OSError):
                # Not the method of an SSL socket, which another thread is using just now.
                socket.socket.shutdown(self._socket, socket.SHUT_RDWR)
