"""Slows down whoever tries out passwords: after five wrong ones, the same address must wait before the next.

Kept in the memory of one process, so with two processes twice as many tries are free: still far from a password's
strength, and nothing needs to be cleaned up.
"""

from portal.store.refusals import Refused

FREE_TRIES = 5
FIRST_WAIT, LONGEST_WAIT = 15, 900
_KEPT = 10_000

_wrong: dict[tuple[str, str], tuple[int, int]] = {}  # (from where, account): how often, and when last


class TooManyTries(Refused):
    status = 429
    sentence = "That was wrong too often. Wait {wait} seconds, then try again."


def check(origin: str, account: str, now: int) -> None:
    """Raise TooManyTries while this origin has to wait with this account."""
    times, last = _wrong.get((origin, account), (0, 0))
    left = last + _wait(times) - now
    if left > 0:
        raise TooManyTries(wait=left)


def note_wrong(origin: str, account: str, now: int) -> None:
    if len(_wrong) >= _KEPT:
        forget_all()
    times, last = _wrong.pop((origin, account), (0, now))
    _wrong[origin, account] = (times + 1 if now - last < LONGEST_WAIT else 1, now)


def forget(origin: str, account: str) -> None:
    _wrong.pop((origin, account), None)


def _wait(times: int) -> int:
    return 0 if times < FREE_TRIES else min(LONGEST_WAIT, FIRST_WAIT * 2 ** min(times - FREE_TRIES, 10))


def forget_all() -> None:
    _wrong.clear()
