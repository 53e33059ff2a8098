"""Ticks do not run over each other; and while a letter waits for its answer, the pages of a new date do not."""

import fcntl
import os
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from typing import TypeVar

from portal.settings import Settings
from portal.store.engine.database import close_database

T = TypeVar("T")
LOOK_SECONDS = 30.0
_NAME = ".tick-lock"


@contextmanager
def the_only_one(settings: Settings) -> Iterator[bool]:
    """Whether no other tick over the same PORTAL_DATA is under way. The lock ends with the process."""
    try:
        handle = os.open(settings.data / _NAME, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    except OSError:  # a disk that is full or read-only: what can be done all the same is done
        yield True
        return
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            yield False
        else:
            yield True
    finally:
        os.close(handle)


def beside(work: Callable[[], T], meanwhile: Callable[[], None], every: float | None = None) -> T:
    """Do `work` in a thread of its own, and `meanwhile` again and again until it is done."""
    with ThreadPoolExecutor(1) as pool:
        doing = pool.submit(_with_own_connection, work)
        while True:
            try:
                return doing.result(LOOK_SECONDS if every is None else every)
            except TimeoutError:
                if doing.done():
                    raise
                meanwhile()


def _with_own_connection(work: Callable[[], T]) -> T:
    try:
        return work()
    finally:
        close_database()
