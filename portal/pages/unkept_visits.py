"""Booked visits that can't be kept, in the same words for the household, the desk and the API."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from portal.planning.conflicts import obstacles, unkept_visits
from portal.planning.conflicts.obstacles import Reason
from portal.planning.conflicts.unkept_visits import Conflict
from portal.store.facts import Snapshot, VisitFact
from portal.words.capitals import first_upper
from portal.words.dates import clock_words, dated_words, day_words, local, moment_words, when_words
from portal.words.lists import listed


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


def whose_words(snapshot: Snapshot, found: Iterable[Conflict]) -> list[str]:
    """Name each visit that can't be kept, once, with all that is in its way and the first time that works: `Stone crew
    on Thu Dec 10 can’t come: ...`."""
    zone, by_visit = snapshot.project.timezone, dict[int, list[Conflict]]()
    for one in found:
        by_visit.setdefault(one.visit, []).append(one)
    visits = {one.id: one for one in snapshot.visits}
    return [_whose(visits[visit], its, zone) for visit, its in by_visit.items()]


def _whose(visit: VisitFact, found: list[Conflict], zone: str) -> str:
    *before, last = found
    why = dict.fromkeys([*(reason_words(one.reason) for one in before), conflict_words(last, zone)])
    return f"{visit.crew} on {day_words(local(visit.starts_at, zone).date())} can’t come: {' '.join(why)}"


def not_kept(found: Iterable[Conflict], timezone: str) -> dict[int, str]:
    """By visit (its id), all that is in its way."""
    words: dict[int, list[str]] = {}
    for one in found:
        words.setdefault(one.visit, []).append(conflict_words(one, timezone))
    return {visit: " ".join(dict.fromkeys(said)) for visit, said in words.items()}


@dataclass(frozen=True, slots=True)
class Unkept:
    """Why a visit can't be kept, as a clause with its subject, and what works: a date, `2:00 pm` where it is the same
    day, empty where nothing was found."""

    why: str
    works: str = ""
    same_day: bool = False

    @property
    def then(self) -> str:
        """Say what is expected instead. Empty where nothing was found."""
        if not self.works:
            return ""
        return f"{'That day it works from' if self.same_day else 'First day that works:'} {self.works}."

    @property
    def sentence(self) -> str:
        """Say why, and what is expected instead."""
        return f"{first_upper(self.why)}. {self.then}".rstrip()


def unkept(snapshot: Snapshot, found: Iterable[Conflict], today: date) -> dict[int, Unkept]:
    """Say in few words, by visit (its id), why it can't be kept: for the household, on whose page all else stands."""
    by_visit: dict[int, list[Conflict]] = {}
    for one in found:
        by_visit.setdefault(one.visit, []).append(one)
    return {visit: _unkept(snapshot, visit, its, today) for visit, its in by_visit.items()}


def _unkept(snapshot: Snapshot, visit: int, found: list[Conflict], today: date) -> Unkept:
    zone = snapshot.project.timezone
    clauses = dict.fromkeys(_CLAUSES[one.reason.about](one.reason, snapshot) for one in found)
    first = found[0].first_that_works
    if first is None:
        return Unkept(listed(clauses))
    works = local(first * 60, zone)
    booked = next(one for one in snapshot.visits if one.id == visit)
    same = local(booked.starts_at, zone).date() == works.date()
    return Unkept(listed(clauses), clock_words(works) if same else dated_words(works.date(), today), same)


def _day(reason: Reason) -> str:
    return day_words(reason.when.date())


def _unanswered(reason: Reason) -> str:
    return (
        f"“{reason.name}” is held by decision {reason.number}, which is not answered. Answered today, it lets work "
        f"start on {_day(reason)}."
    )


def _twice(reason: Reason) -> str:
    where = f"at {reason.house or 'another house'}" if reason.elsewhere else "here"
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
    unkept_visits.CREW_OFF: lambda one: f"{one.name} does not work on {_day(one)}.",
    unkept_visits.CREW_HOURS: lambda one: f"The visit on {_day(one)} is not within the hours of {one.name}.",
    unkept_visits.CREW_TWICE: _twice,
}


def _waits(reason: Reason, snapshot: Snapshot) -> str:
    decision = next((one for one in snapshot.decisions if one.number == reason.number), None)
    if decision is not None and decision.withdrawn:
        return "it waits for a question that we ask anew"
    ours = decision is not None and decision.state == "asked_back"
    return "it waits for our answer to you" if ours else "it waits for your answer"


_CLAUSES: dict[str, Callable[[Reason, Snapshot], str]] = {
    obstacles.ANSWERED: lambda one, _: f"what you chose takes until {_day(one)}",
    obstacles.UNANSWERED: _waits,
    obstacles.NOT_DELIVERED: lambda one, _: f"{one.name or 'a delivery'} is expected on {_day(one)}",
    obstacles.UNFINISHED: lambda one, _: f"“{one.name}” takes until {moment_words(one.when)}",
    obstacles.CURING: lambda one, _: f"“{one.name}” must rest until {moment_words(one.when)}",
    obstacles.NOT_BEFORE: lambda one, _: f"it may not start before {_day(one)}",
    obstacles.RESTING: lambda one, _: f"the job rests until {moment_words(one.when)}",
    obstacles.NOT_BEGUN: lambda one, _: f"the job starts on {_day(one)}",
    unkept_visits.DAY_OFF: lambda one, _: f"{_day(one)} is a day off",
    unkept_visits.OUT_OF_HOURS: lambda one, _: "it is not within working hours",
    unkept_visits.CREW_OFF: lambda one, _: f"{one.name} does not work on {_day(one)}",
    unkept_visits.CREW_HOURS: lambda one, _: f"it is not within the hours of {one.name}",
    unkept_visits.CREW_TWICE: lambda one, _: f"{one.name} is booked twice at that time",
}

