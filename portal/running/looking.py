"""One look at a time: whoever asks meanwhile gets what it finds, so asking often costs no more than asking once."""

import threading
import time

from portal import clock
from portal.pages.publishing.publish import Publisher
from portal.running.readiness import Line, lines_of
from portal.settings import Settings

_SHARED_SECONDS = 1.0


class Looks:
    """Of one process."""

    def __init__(self, settings: Settings, publisher: Publisher) -> None:
        self._settings, self._publisher = settings, publisher
        self._turn = threading.Lock()
        self._found: list[Line] = []
        self._began = float("-inf")

    def lines(self, *, fresh: bool) -> list[Line]:
        """`fresh`: as of now, or of a look that began after the question; else at most a second old."""
        asked = time.monotonic()
        with self._turn:
            if self._began <= (asked if fresh else asked - _SHARED_SECONDS):
                self._began = time.monotonic()
                self._found = lines_of(self._settings, self._publisher, clock.now())
            return self._found
