"""The moments at which everything must hold as well as now: `bash tests/long moments` runs the tests at each.

`python -m tests.moments` lists them; with the name of one, it prints how many seconds it is from now.
"""

import sys
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
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


def main(arguments: list[str]) -> int:
    now = datetime.now(UTC)
    known = moments(now)
    if not arguments:
        print("\n".join(f"{name} {moment:%Y-%m-%d %H:%M %Z}" for name, moment in known.items()))
        return 0
    if arguments[0] not in known:
        print(f"There is no moment {arguments[0]}; there are: {', '.join(known)}", file=sys.stderr)
        return 2
    print(round((known[arguments[0]] - now).total_seconds()))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
