"""Doings that cross: all at the same moment, or one that begins before the other has committed."""

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import psycopg

from portal.acts.refusals import Refused
from portal.store.engine.database import close_database, write

Doing = Callable[[], object]
_WAITING = """SELECT count(*) FROM pg_stat_activity
    WHERE datname = current_database() AND wait_event_type = 'Lock'"""


def outcome(do: Doing) -> object:
    """What it returned or was refused with; for a thread of its own."""
    try:
        return do()
    except Refused as refusal:
        return refusal
    finally:
        close_database()


def at_once(*doings: Doing) -> list[object]:
    """The outcome of each; all begin together, each in a thread of its own."""
    together = threading.Barrier(len(doings))

    def run(do: Doing) -> object:
        together.wait()
        return outcome(do)

    with ThreadPoolExecutor(len(doings)) as threads:
        return [future.result() for future in [threads.submit(run, do) for do in doings]]


def overtaken(url: str, first: Doing, second: Doing) -> object:
    """The outcome of `second`, which has begun and waits when `first` is done but not yet committed."""
    with ThreadPoolExecutor(1) as thread:
        with write():
            first()
            waiting = thread.submit(outcome, second)
            _until_one_waits(url)
        return waiting.result()


def _until_one_waits(url: str) -> None:
    until = time.monotonic() + 10
    with psycopg.connect(url, autocommit=True) as other:
        while other.execute(_WAITING).fetchone() != (1,):
            assert time.monotonic() < until, "nobody came to wait"
            time.sleep(0.005)
