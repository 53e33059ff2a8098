"""Pieces of sentences that more than one section says."""

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from portal.store.facts import Snapshot, VisitFact
from portal.words.dates import clock_words, day_words, local


def listed(words: Sequence[str], last: str = "and") -> str:
    """`the top, the drilling and the sink`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def quoted(names: Iterable[str]) -> str:
    return listed([f"“{name}”" for name in names])


def money(cents: int) -> str:
    """`$1,240` or `$12.50`, without a sign."""
    whole, rest = divmod(abs(cents), 100)
    return f"${whole:,}.{rest:02}" if rest else f"${whole:,}"


def cost_words(cents: int | None) -> str:
    """What an option does to the price. Empty where nothing was said about it."""
    if cents is None:
        return ""
    if cents == 0:
        return "Does not change the price."
    return f"Adds {money(cents)} to the price." if cents > 0 else f"Takes {money(cents)} off the price."


def days_words(days: int | None) -> str:
    """What an option does to the time. Empty where nothing was said about it."""
    if days is None:
        return ""
    if days == 0:
        return "Does not change the time."
    count = f"{abs(days)} working day{'' if abs(days) == 1 else 's'}"
    return f"Takes {count} more." if days > 0 else f"Saves {count}."


def hours_words(visit: VisitFact, zone: str) -> str:
    """`8:00 am to 4:30 pm`; an end on another day is named."""
    starts, ends = local(visit.starts_at, zone), local(visit.ends_at, zone)
    end = clock_words(ends) if starts.date() == ends.date() else f"{day_words(ends.date())}, {clock_words(ends)}"
    return f"{clock_words(starts)} to {end}"


def near_words(day: date, today: date) -> str:
    """A date with its distance where that is short: `today, Wed Dec 2`; with the year where it is far."""
    near = {today: "today, ", today + timedelta(days=1): "tomorrow, "}.get(day, "")
    return near + dated_words(day, today)


def dated_words(day: date, today: date) -> str:
    """`Thu Dec 3`; of a day more than half a year off, which year: `Thu Jun 3, 2027`."""
    return day_words(day) if abs((day - today).days) < 183 else f"{day_words(day)}, {day.year}"


def in_room(snapshot: Snapshot, phase_id: int | None) -> str:
    """` (Kitchen)` for a phase that is in a room, else nothing."""
    phase = next((phase for phase in snapshot.phases if phase.id == phase_id), None)
    return "" if phase is None or phase.room_id is None else f" ({snapshot.room_name(phase.room_id)})"


def short_code(check_code: str) -> str:
    """The check code as people read it aloud: `3fa9-01bc-77de`."""
    return "-".join(check_code[i:i + 4] for i in (0, 4, 8))


def telephone(number: str) -> str:
    """The number as a tel: address takes it (RFC 3966)."""
    return "".join(c for c in number if c.isdigit() or c == "+")
