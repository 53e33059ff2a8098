"""What the desk says of a crew: who they are, when they work, by which other names plans call them."""

from datetime import date

from portal.planning.calendar.week import DAYS
from portal.store.tables import Crew
from portal.words.dates import day_words
from portal.words.lists import listed, quoted
from portal.words.plurals import counted

DAY_NAMES = dict(zip(DAYS, ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"), strict=True))


def who_words(crew: Crew) -> str:
    """`Plumbing, 2 people`."""
    size = "" if crew.size is None else counted(crew.size, "person", "people")
    return ", ".join(filter(None, [crew.trade, size]))


def hours_words(crew: Crew) -> str:
    """When it works, if not as the house lets it."""
    week = {day: periods for day, periods in (crew.week or {}).items() if periods}
    said = []
    if week:
        days = [name for day, name in DAY_NAMES.items() if day in week]
        alike = {tuple(map(tuple, periods)) for periods in week.values()}
        times = listed(f"{begins} to {ends}" for begins, ends in alike.pop()) if len(alike) == 1 else "hours by day"
        said.append(f"Works {listed(days)}, {times}.")
    if crew.days_off:
        said.append(f"Days off: {listed(day_words(date.fromisoformat(day)) for day in sorted(crew.days_off))}.")
    return " ".join(said)


def others_words(names: list[str], own: str) -> str:
    others = [name for name in names if name != own]
    return f"Also called {quoted(others)}." if others else ""
