"""What has to be said to the operating system: renames that survive a power loss, locks that don't hang for good."""

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
