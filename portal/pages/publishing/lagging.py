"""A page that does not show the last change: why it can't be published, and what the desk says of it."""

import errno
from dataclasses import dataclass

from portal.store.refusals import CannotWrite
from portal.words.dates import local, when_words

PATIENCE = 60
"""Seconds. A page is published within one, or with the next tick after a server that was stopped in between."""

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_CLOSED = {errno.EROFS, errno.EACCES, errno.EPERM}
_WHY = {
    "full": "The disk of the server is full.",
    "closed": "The server may not write where its pages lie.",
    "fault": "Something in this house, or in the portal, keeps it from being drawn; the server’s log says what.",
}


@dataclass(frozen=True, slots=True)
class Lagging:
    """`since`: in seconds, 0 where it is not known. `why`: a key of the words below, empty while nothing has failed."""

    project: int
    name: str
    timezone: str
    since: int
    why: str

    @property
    def words(self) -> str:
        """For whoever works at the desk: what is wrong, since when, and what to do."""
        since = f". It has been so since {when_words(self.since, self._zone)}" if self.since else ""
        why = f" {_WHY[self.why]}" if self.why in _WHY else ""
        return (f"The page of {self.name} does not show the last change{since}.{why} What was entered is kept. Tell "
                "whoever looks after the server; until it is mended, tell the household what is new by phone.")

    @property
    def _zone(self) -> str:
        """A house whose time zone can't be read is one of the faults that are told here."""
        try:
            local(self.since, self.timezone)
        except (KeyError, ValueError, OSError):
            return "UTC"
        return self.timezone


def why_of(error: Exception) -> str:
    """A key of the words above."""
    if isinstance(error, CannotWrite) or (isinstance(error, OSError) and error.errno in _FULL):
        return "full"
    return "closed" if isinstance(error, OSError) and error.errno in _CLOSED else "fault"
