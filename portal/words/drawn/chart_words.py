"""What the drawings of dates say: the plan week by week, and what a late answer costs. Pure."""

from collections.abc import Iterable
from datetime import date

from portal.words.dates import day_words, span_words

TODAY, FINISH, DAY_OF_ANSWER = "today", "finish", "day of your answer"
PLAN_ROWS = "The plan, row by row"
LATE_TITLE = "The finish date, by the day of your answer"


def week_title(first: date, last: date) -> str:
    """Name a week by its days: `Mon Nov 30 to Sun Dec 6, 2026`."""
    return f"{span_words(first, last)}, {last.year}"


def plan_for(week: str) -> str:
    """Give the drawing of a week its title."""
    return f"Plan for {week}"


def block(phase: str, state: str, only_wait: bool) -> str:
    """Write in the block of a phase what it is; `only_wait`: its work ended in an earlier week."""
    return f"{phase}: wait" if only_wait else ", ".join(filter(None, (phase, state)))


def stretch(phase: str, first: date, last: date, state: str, wait_until: date | None) -> str:
    """Say when a phase is, and until when one waits after it."""
    waits = f"then a wait until {day_words(wait_until)}" if wait_until else ""
    return ", ".join(filter(None, (phase, span_words(first, last), state, waits)))


def plan_name(name: str, state: str, most: int) -> str:
    """Name a row of the plan in at most so many letters: what is cut ends in dots, its state never."""
    after = f", {state}" if state else ""
    room = most - len(after)
    return f"{name if len(name) <= room else f'{name[:room - 1].rstrip()}…'}{after}"


def plan_row(name: str, state: str, first: date, last: date, wait_until: date | None) -> str:
    """Say a row of the plan as a sentence."""
    return f"{stretch(name, first, last, state, wait_until)}."


def mark(words: str, on: date) -> str:
    """Say by which day something is wanted."""
    return f"{words}, {day_words(on)}"


def room(name: str, lines: Iterable[str]) -> str:
    """Say all that happens in a room."""
    return f"{name}: {'; '.join(lines)}."


def answer_on(first: date, last: date, finish: date) -> str:
    """Say one step of the curve: answers of these days, and the finish that they lead to."""
    return f"Answer on {span_words(first, last)}: the finish is {day_words(finish)}."


def needed_by(day: date, past: bool) -> str:
    """Say the latest day that keeps the booked days."""
    return f"Needed by {day_words(day)}{', which is past,' if past else ''} to keep the booked days."


def latest_by(day: date) -> str:
    """Say the latest day that keeps the finish."""
    return f"Latest by {day_words(day)} to keep the finish."


def mark_needed(day: date) -> str:
    """Name the line of the day that it is needed by."""
    return f"needed by {day_words(day)}"


def mark_latest(day: date) -> str:
    """Name the line of the day that it is latest by."""
    return f"latest by {day_words(day)}"


def mark_both(day: date) -> str:
    """Name the line where both are one day."""
    return f"needed and latest by {day_words(day)}"


def past(words: str) -> str:
    """Say of a line that its day is past: it stands at the first day shown."""
    return f"{words} (past)"
