"""Two weeks as a carpenter's tape, its hook at today: what stands at each day, and which days stand together.

It is no scale: days with words take the room that they need, and days on which nobody comes stand together in one row,
which says so.
"""

import json
from collections import defaultdict
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from portal.pages.home.tape_marks import (
    ABOVE,
    DELIVERY,
    REMARK,
    Dated,
    Mark,
    answer_marks,
    back_marks,
    delivery_marks,
    late_marks,
    later_marks,
    visit_marks,
)
from portal.pages.outlook import Outlook
from portal.planning.calendar.public_holidays import names_of
from portal.planning.household.house_services import HouseServices
from portal.store.facts import Snapshot
from portal.words.dates import dated_words
from portal.words.lists import listed

DAYS = 14
_BROKEN_FROM = 4
"""So many days without anything, one after the other, are one row that is drawn broken."""
_MOST_LATE = 3
_BUSY = 1
SLIPPED, TODAY, DAY, OFF, BROKEN = "sl", "today", "day", "we", "brk"


@dataclass(frozen=True, slots=True)
class Row:
    """The days from `first` to `last`, mostly one, and their marks. `kind`: SLIPPED (before today), TODAY, DAY, OFF
    (days off without anything) or BROKEN (shortened here). `above` and `below`: where they stand once it lies."""

    kind: str
    first: date
    last: date
    above: tuple[Mark, ...] = ()
    below: tuple[Mark, ...] = ()

    @property
    def is_empty(self) -> bool:
        return not (self.above or self.below)

    @property
    def look(self) -> str:
        """Its classes: `mon` is Monday's; the lying tape has little room for a day without words (`em`), and more for
        a busy one (`bz`)."""
        one_day = self.kind in (DAY, TODAY)
        words = {
            self.kind: self.kind != DAY, "mon": one_day and self.first.weekday() == 0,
            "em": one_day and self.is_empty, "bz": len(self.above) > _BUSY,
        }
        return " ".join(word for word, holds in words.items() if holds)

    @property
    def up(self) -> str:
        """Which marks stand at the blade above: a foot, a box."""
        kinds = {one.kind for one in self.above}
        return " ".join(filter(None, ("f" if kinds - {DELIVERY} else "", "bx" if DELIVERY in kinds else "")))

    @property
    def hides_weekday(self) -> bool:
        """Where there is no room for it; it is read aloud all the same."""
        return self.first != self.last or self.kind == SLIPPED

    def names_month(self, day: date) -> bool:
        """Where a month begins, and before today: among days alone nobody knows which."""
        return self.kind == SLIPPED or (day == self.first and day.day == 1)


@dataclass(frozen=True, slots=True)
class Tape:
    """`later`: the first that comes after the last day."""

    rows: list[Row]
    later: str


def tape_section(snapshot: Snapshot, outlook: Outlook, house: HouseServices, today: date) -> Tape | None:
    """None where the job is closed and nothing comes any more."""
    last = today + timedelta(days=DAYS - 1)
    marks = [*visit_marks(snapshot, outlook, today), *delivery_marks(snapshot, today),
             *answer_marks(snapshot, outlook, today), *back_marks(house, outlook.booked.now)]
    coming = [(day, mark) for day, mark in marks if today <= day <= last]
    late = list(late_marks(snapshot, outlook, today))
    if snapshot.project.closed_at is not None and not any(mark.kind in ABOVE for _, mark in coming):
        return None
    window = [today + timedelta(days=ahead) for ahead in range(DAYS)]
    off = {day for day in window if not outlook.booked.plan.calendar.is_working_day(day)}
    named = [(day, Mark(REMARK, "", name)) for day, name in _named_days(snapshot, off).items()]
    rows = [*slipped_rows(late), *rows_of(today, coming, off, named)]
    return Tape(rows, later_words(list(later_marks(snapshot, outlook, last)), last, today))


def rows_of(today: date, coming: list[Dated], off: Collection[date], named: list[Dated]) -> Iterator[Row]:
    """The fourteen days from `today` on, each in one row. `coming`: marks of these days; `off`: those on which no crew
    works; `named`: what such days are called, which alone gives them no row of their own."""
    at: dict[date, list[Mark]] = defaultdict(list)
    for day, mark in coming:
        at[day].append(mark)
    called: dict[date, list[Mark]] = defaultdict(list)
    for day, mark in named:
        called[day].append(mark)
    window = [today + timedelta(days=ahead) for ahead in range(DAYS)]
    for stands, days in groupby(window, key=lambda day: day if day in at or day == today else None):
        if stands is None:
            yield from _empty_rows(list(days), off, called)
        else:
            yield _row(TODAY if stands == today else DAY, [stands], at[stands] + called[stands])


def _empty_rows(days: list[date], off: Collection[date], called: dict[date, list[Mark]]) -> Iterator[Row]:
    """Days without anything, one after the other."""
    if len(days) >= _BROKEN_FROM:
        yield _row(BROKEN, days, [Mark(REMARK, "", "Nobody comes"), *(one for day in days for one in called[day])])
        return
    for is_off, some in groupby(days, key=lambda day: day in off):
        run = list(some)
        for part in ([run] if is_off else [[day] for day in run]):
            yield _row(OFF if is_off else DAY, part, [one for day in part for one in called[day]])


def _row(kind: str, days: list[date], marks: list[Mark]) -> Row:
    above, below = ([one for one in marks if (one.kind in ABOVE) == up] for up in (True, False))
    return Row(kind, days[0], days[-1], tuple(above), tuple(below))


def slipped_rows(late: list[Dated]) -> Iterator[Row]:
    """What was missed, by its day, before the hook. Of many days the first stand together."""
    days = sorted({day for day, _ in late})
    together, alone = days[:-_MOST_LATE + 1], days[-_MOST_LATE + 1:]
    groups = [[day] for day in days] if len(days) <= _MOST_LATE else [together, *([day] for day in alone)]
    for group in groups:
        yield _row(SLIPPED, group, [mark for day, mark in late if day in group])


def later_words(after: list[tuple[date, str]], last: date, today: date) -> str:
    """Say who and what comes first after the last day. Empty where nothing is booked."""
    if not after:
        return ""
    first = min(day for day, _ in after)
    names = list(dict.fromkeys(name for day, name in after if day == first))
    return f"Later: {listed(names)}, {dated_words(first, today)}."


def _named_days(snapshot: Snapshot, off: Collection[date]) -> dict[date, str]:
    """What days off are called: by their public holiday, or as one that the firm has entered."""
    calendar = json.loads(snapshot.project.calendar)
    holidays, own = calendar.get("holidays") or {}, calendar.get("days_off") or []
    named = {day: "Day off" for day in sorted(off) if day.isoformat() in own}
    if holidays.get("country"):
        found = names_of(holidays["country"], holidays.get("subdivision"), off)
        named |= {day: name.replace("'", "’") for day, name in found.items()}
    return named
