"""At most so many of something at a time, over the threads of all processes: by locks on as many files.

Who waits keeps a thread of the service; so only a few may wait, and whoever comes then is told to come again.
"""

import fcntl
import os
import threading
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from portal.store.refusals import Busy, CannotWrite

_BETWEEN_TRIES = 0.005


@dataclass
class Slots:
    """`many` at a time. `waiting`: how many more of this process may wait, each at most `seconds`."""

    name: str
    many: int
    waiting: int
    seconds: float
    _inside: threading.BoundedSemaphore = field(init=False)
    _here: threading.BoundedSemaphore = field(init=False)

    def __post_init__(self) -> None:
        self._inside = threading.BoundedSemaphore(self.many + self.waiting)
        self._here = threading.BoundedSemaphore(self.many)

    @contextmanager
    def taken(self, folder: Path | None) -> Iterator[None]:
        """Without a folder, only the threads of this process count. Raises Busy."""
        if not self._inside.acquire(blocking=False):
            raise Busy()
        with ExitStack() as leaving:
            leaving.callback(self._inside.release)
            until = time.monotonic() + self.seconds
            if not self._here.acquire(timeout=self.seconds):
                raise Busy()
            leaving.callback(self._here.release)
            if folder is not None:
                leaving.callback(os.close, self._file(folder, until))
            yield

    def _file(self, folder: Path, until: float) -> int:
        """The open and locked file of a slot that was free; whoever dies lets go of theirs."""
        while True:
            for number in range(self.many):
                handle = _opened(folder / f"{self.name}.{number}")
                try:
                    fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                    return handle
                except BlockingIOError:
                    os.close(handle)
            if time.monotonic() > until:
                raise Busy()
            time.sleep(_BETWEEN_TRIES)


def _opened(path: Path) -> int:
    try:
        return os.open(path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError as error:
        raise CannotWrite() from error
