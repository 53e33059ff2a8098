"""Booked visits that can't be kept, in the same words for the household, the desk and the API."""

from collections.abc import Callable, Iterable

from portal.planning.conflicts import obstacles, unkept_visits
from portal.planning.conflicts.obstacles import Reason
from portal.planning.conflicts.unkept_visits import Conflict
from portal.words.dates import day_words, moment_words, when_words


def reason_words(reason: Reason) -> str:
    """Say in a sentence or two why a visit can't be kept."""
    return _REASONS[reason.about](reason)


def conflict_words(conflict: Conflict, timezone: str) -> str:
    """Say why a visit can't be kept, and the first time that works where there is one."""
    why = reason_words(conflict.reason)
    if conflict.first_that_works is None:
        return why
    works = when_words(conflict.first_that_works * 60, timezone)
    return f"{why} {'Then it works' if works in why else f'The first time that works: {works}'}."


def not_kept(found: Iterable[Conflict], timezone: str) -> dict[int, str]:
    """By visit (its id), all that is in its way."""
    words: dict[int, list[str]] = {}
    for one in found:
        words.setdefault(one.visit, []).append(conflict_words(one, timezone))
    return {visit: " ".join(dict.fromkeys(said)) for visit, said in words.items()}


def _day(reason: Reason) -> str:
    return day_words(reason.when.date())


def _unanswered(reason: Reason) -> str:
    return (
        f"“{reason.name}” is held by decision {reason.number}, which is not answered. Answered today, it lets work "
        f"start on {_day(reason)}."
    )


def _twice(reason: Reason) -> str:
    where = "at another house" if reason.elsewhere else "here"
    other = moment_words(reason.other_when) if reason.other_when else ""
    return (
        f"{reason.name} would be at two places at once: this visit is {moment_words(reason.when)}, another {where} "
        f"{other}."
    )


_REASONS: dict[str, Callable[[Reason], str]] = {
    obstacles.ANSWERED: lambda one: (
        f"Decision {one.number} is answered, and what it is needed for takes until {_day(one)}."
    ),
    obstacles.UNANSWERED: _unanswered,
    obstacles.NOT_DELIVERED: lambda one: f"{one.name or 'A delivery'} is not expected before {_day(one)} is over.",
    obstacles.UNFINISHED: lambda one: f"“{one.name}” is not finished before {moment_words(one.when)}.",
    obstacles.CURING: lambda one: f"The wait after “{one.name}” is not over before {moment_words(one.when)}.",
    obstacles.NOT_BEFORE: lambda one: f"“{one.name}” is not to start before {_day(one)}.",
    obstacles.RESTING: lambda one: f"The job rests until {moment_words(one.when)}.",
    obstacles.NOT_BEGUN: lambda one: f"The job starts on {_day(one)}.",
    unkept_visits.DAY_OFF: lambda one: f"{_day(one)} is a day off.",
    unkept_visits.OUT_OF_HOURS: lambda one: f"The visit on {_day(one)} is not within working hours.",
    unkept_visits.CREW_TWICE: _twice,
}
