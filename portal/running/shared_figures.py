"""The folder in which workers count together, in PORTAL_DATA. Nothing here imports the client that counts: it
looks once, when it is imported, whether there is such a folder.

The client counts in files that are mapped into memory. On a full disk, the first touch of a part of such a
file that has no room yet would end the worker: so each worker's files get their room at its start, or it counts alone.
"""

import logging
import os
from pathlib import Path

from portal.settings import Settings

log = logging.getLogger(__name__)

_VARIABLE = "PROMETHEUS_MULTIPROC_DIR"
_ROOM = {"counter": 512 * 1024, "histogram": 128 * 1024}
"""Bytes by kind of figure: four times what all routes and classes of status take."""


def share_figures(settings: Settings) -> None:
    """Before the workers start: an empty folder. Where there can be none, each worker counts by itself."""
    folder = settings.data / ".figures"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        for old in folder.glob("*.db"):
            old.unlink()
        os.environ[_VARIABLE] = str(folder)
    except OSError:
        _count_alone()


def make_room() -> None:
    """In a worker, before it counts."""
    folder = shared_folder()
    if folder is None:
        return
    try:
        for kind, room in _ROOM.items():
            handle = os.open(Path(folder) / f"{kind}_{os.getpid()}.db", os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
            try:
                os.posix_fallocate(handle, 0, room)
            finally:
                os.close(handle)
    except OSError:
        _count_alone()


def shared_folder() -> str | None:
    return os.environ.get(_VARIABLE)


def _count_alone() -> None:
    os.environ.pop(_VARIABLE, None)
    log.warning("figures are counted by each worker alone", exc_info=True)
