"""Loaded by every Python process that `bash tests/long moments` starts: sleeping under libfaketime.

Python sleeps until a moment of the monotonic clock, from which libfaketime 0.9.10 takes its offset, although that clock
is not faked; the kernel then refuses the moment as invalid. Waiting for nothing takes a length of time, not a moment.
"""

import select
import time


def _sleep(seconds: float) -> None:
    if seconds < 0:
        raise ValueError("sleep length must be non-negative")
    until = time.monotonic() + seconds
    while (left := until - time.monotonic()) > 0:
        select.select([], [], [], left)


time.sleep = _sleep
