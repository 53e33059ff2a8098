"""A private folder beside what it is for: what is begun there is renamed into place whole, or is gone."""

import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

PREFIX = ".portal-work-"
_A_DAY = 24 * 3600


@contextmanager
def workroom(beside: Path) -> Iterator[Path]:
    """A new folder in `beside` that only we may read. What a process left there when the power went is cleared away."""
    for left in beside.glob(f"{PREFIX}*"):
        if time.time() - left.stat().st_mtime > _A_DAY:  # nothing here takes so long: nobody is at work in it
            shutil.rmtree(left, ignore_errors=True)
    room = Path(tempfile.mkdtemp(prefix=PREFIX, dir=beside))
    try:
        yield room
    finally:
        shutil.rmtree(room, ignore_errors=True)
