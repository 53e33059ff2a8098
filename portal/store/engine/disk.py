"""What has to be said to the operating system: renames that survive a power loss, locks that don't hang for good, files
that others may not read."""

import contextlib
import fcntl
import os
import time
from pathlib import Path

from portal.store.refusals import Busy


def lock(handle: int, seconds: float, between: float) -> None:
    """Wait for the lock on an open file, looking every `between` seconds. Raises Busy after `seconds`: a process that
    was stopped while it had the lock must not hang the others for good."""
    until = time.monotonic() + seconds
    while True:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return
        except BlockingIOError:
            if time.monotonic() > until:
                raise Busy() from None
            time.sleep(between)


def sync_folder(folder: Path) -> None:
    """The names in this folder are on the disk when this returns."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def close_to_others(database: Path) -> None:
    """Whatever the umask, nobody else reads the file of a database, a new and empty one if there is none. SQLite makes
    what lies beside it as it is. Where this is not allowed, SQLite says so itself when it opens the file."""
    with contextlib.suppress(OSError):
        os.close(os.open(database, os.O_RDONLY | os.O_CREAT | os.O_CLOEXEC, 0o600))
    for path in (database, *(database.with_name(f"{database.name}-{kind}") for kind in ("wal", "shm"))):
        with contextlib.suppress(OSError):
            mode = path.stat().st_mode & 0o777
            if mode & 0o007:
                path.chmod(mode & 0o770)
