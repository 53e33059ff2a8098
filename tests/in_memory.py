"""Where files of tests lie in memory: a database waits for its disk at each commit, and tests commit a hundred thousand
times. What a power cut would take is tried by itself, in `tests/faults`."""

import os
import shutil
import tempfile
from pathlib import Path

MEMORY = Path("/dev/shm")
_ROOM = 4 << 30  # of bytes: a whole run takes a third of it, and a PostgreSQL server a tenth


def in_memory() -> Path | None:
    """None where there is no room: then, in the usual folder for what is temporary."""
    try:
        return MEMORY if shutil.disk_usage(MEMORY).free >= _ROOM and os.access(MEMORY, os.W_OK) else None
    except FileNotFoundError:
        return None


def lie_in_memory() -> Path | None:
    """From now on, all that is temporary of this process and of those that it starts; the folder, if it was made."""
    if "TMPDIR" in os.environ or in_memory() is None:
        return None
    _clear_away_after_the_killed()
    folder = MEMORY / f"tests-{os.getpid()}"  # short: the address of a socket has 107 letters
    folder.mkdir(mode=0o711)  # servers of other users find what is theirs below it
    os.environ["TMPDIR"], tempfile.tempdir = str(folder), None
    return folder


def _clear_away_after_the_killed() -> None:
    for left in MEMORY.glob("tests-*"):
        if not Path(f"/proc/{left.name.removeprefix('tests-')}").exists():
            shutil.rmtree(left, ignore_errors=True)
