"""The moments at which everything must hold as well as now: `bash tests/long moments` runs the tests at each.

`python -m tests.moments` lists them; `python -m tests.moments leap_day COMMAND ...` runs a command at one of them.
"""

import os
import sys
import tempfile
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from math import ceil
from pathlib import Path
from zoneinfo import ZoneInfo

HOUSE = ZoneInfo("America/Chicago")


def moments(now: datetime) -> dict[str, datetime]:
    """Name each moment that follows `now`, by the wall clock at the house. Those of a clock change begin before it."""
    today = now.astimezone(HOUSE).date()
    return {
        "friday_evening": _at(_next(today, lambda day: day.weekday() == 4), "19:30"),
        "saturday_night": _at(_next(today, lambda day: day.weekday() == 5), "23:30"),  # past midnight with what is slow
        "new_years_eve": _at(_next(today, lambda day: (day.month, day.day) == (12, 31)), "19:30"),  # UTC has turned
        "leap_day": _at(_next(today, lambda day: (day.month, day.day) == (2, 29)), "10:00"),
        "skipped_hour": _at(_next(today, lambda day: _offsets(day) == (-6, -5)), "01:57"),
        "doubled_hour": _at(_next(today, lambda day: _offsets(day) == (-5, -6)), "01:05"),
        "doubled_hour_again": _at(_next(today, lambda day: _offsets(day) == (-5, -6)), "01:05", again=True),
    }


def _next(today: date, wanted: Callable[[date], bool]) -> date:
    """The first such day from tomorrow on."""
    day = today + timedelta(1)
    while not wanted(day):
        day += timedelta(1)
    return day


def _at(day: date, clock: str, again: bool = False) -> datetime:
    """`again`: the second time that the clock shows it on that day."""
    return datetime.fromisoformat(f"{day}T{clock}").replace(tzinfo=HOUSE, fold=int(again))


def _offsets(day: date) -> tuple[int, int]:
    """Hours from UTC at the beginning and at the end of the day."""
    return _hours(_at(day, "00:00")), _hours(_at(day, "23:59"))


def _hours(moment: datetime) -> int:
    apart = moment.utcoffset()
    assert apart is not None
    return apart // timedelta(hours=1)


def at_moment(moment: datetime, now: datetime) -> dict[str, str]:
    """What the environment of a process must say so that it, and all that it starts, has this moment for `now`.

    Every clock is ahead by the same number of seconds. What only measures how long something takes, the monotonic
    clock, stays as it is: libfaketime's own "fix" for it makes Chromium spin. Raises StopIteration without faketime.
    """
    library = next(Path("/usr/lib").glob("*/faketime/libfaketimeMT.so.1"))
    return {
        "LD_PRELOAD": str(library), "FAKETIME": f"{ceil((moment - now).total_seconds()):+}s",
        "FAKETIME_DONT_FAKE_MONOTONIC": "1", "FAKETIME_FORCE_MONOTONIC_FIX": "0",
        "PYTHONPATH": str(Path(__file__).with_name("faketime")),
        "PYTHONDONTWRITEBYTECODE": "",
        # Files seem to be that much newer, too: what Python has compiled before does not fit them.
        "PYTHONPYCACHEPREFIX": str(Path(tempfile.gettempdir()) / f"compiled-at-moments-{os.getuid()}"),
    }  # fmt: skip


def main(arguments: list[str]) -> int:
    """Returns only where no command is run."""
    now = datetime.now(UTC)
    known = moments(now)
    if not arguments:
        print("\n".join(f"{name} {moment:%Y-%m-%d %H:%M %Z}" for name, moment in known.items()))
        return 0
    name, *command = arguments
    if name in known and command:
        print(f"== {name}: {known[name]:%A, %B %d, %Y, %H:%M %Z}", file=sys.stderr, flush=True)
        os.execvpe(command[0], command, os.environ | at_moment(known[name], now))
    print(f"Name one of {', '.join(known)}, and a command.", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
