"""What the letter of the evening says: what tomorrow takes and asks, who comes, and whom not to wait for."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from hashlib import sha256
from typing import Any

from portal.notices.letter import Letter, Reader
from portal.pages.days.day_facts import Day, day_of
from portal.pages.days.take_words import ask_sentences, stretches, take_sentences
from portal.pages.days.visits import visit_sentence
from portal.pages.outlook import outlook_of
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.conflicts.unkept_visits import own_conflicts
from portal.planning.household.day_takes import DayTake
from portal.planning.household.evenings import morning_after
from portal.store.facts import Snapshot
from portal.store.reading.project_plan import household_of, minutes, schedule_of
from portal.words.dates import near_words
from portal.words.lists import listed


def worth_telling(told: Day) -> bool:
    """Tell whether the day takes something, asks something, or somebody does not come who is announced. Noise and dust
    alone are on the page."""
    unkept = any(one.unkept for one in told.visits)
    return bool(told.takes.services or told.takes.clear or told.takes.at_home or unkept)


def facts_of(told: Day) -> str:
    """Make of all that is told of a day one short name: the same for the same facts, another once one is another."""
    calendar = told.outlook.booked.plan.calendar
    works = {
        one.visit: None if one.first_that_works is None else calendar.day_of(one.first_that_works).isoformat()
        for one in own_conflicts(told.outlook.booked)
    }
    facts = [
        told.day.isoformat(),
        [(one.visit.id, one.visit.starts_at, one.visit.ends_at, bool(one.waits), one.visit.id in works,
          works.get(one.visit.id)) for one in told.visits],
        [(one.service, one.room, one.name, one.since, _back(one, calendar), one.instead) for one in told.takes.takes],
        [(one.words, one.room, one.by) for one in told.takes.clear],
        [(one.words, one.since, one.until) for one in told.takes.at_home],
    ]
    return sha256(json.dumps(facts).encode()).hexdigest()[:16]


def _back(one: DayTake, calendar: WorkCalendar) -> Any:
    """What lasts is told to the half of a day: the minute of a forecast is no news."""
    if one.until is None or not one.lasting:
        return one.until
    until = calendar.moment(one.until)
    return [until.date().isoformat(), until.hour // 12]


def evening(reader: Reader, about: dict[str, Any]) -> Letter | None:
    """What is true of that day now. None once its morning is over, or where there is nothing to say and nothing was."""
    if not still_ahead(reader.snapshot, about, reader.now):
        return None
    told = told_of(reader.snapshot, date.fromisoformat(about["day"]), reader.now)
    named = near_words(told.day, reader.today)
    if not worth_telling(told):
        if not about["again"]:
            return None
        free = f"What we wrote you about {named} no longer holds: the work takes nothing from you that day."
        return Letter(f"{reader.house}, {named}: all works", [free, *_visits(told), *_way(reader)])
    opening = f"What we wrote you about {named} has changed. This is what holds now:" if about["again"] else (
        f"This is what the work brings {named}:")
    points = [f"- {one}" for one in (*_visits(told), *_takes(told))]
    return Letter(f"{reader.house}, {named}: {_short(told)}", [opening, *points, *_home(told), *_way(reader)])


def still_ahead(snapshot: Snapshot, about: dict[str, Any], now: int) -> bool:
    """Tell whether the morning of the day is still to come, or has just come."""
    calendar = schedule_of(snapshot, now).plan.calendar
    return minutes(now) < morning_after(calendar, date.fromisoformat(about["day"]))


def told_by_phone(about: dict[str, Any]) -> str:
    """Say to the office what to read to somebody without mail."""
    day = date.fromisoformat(about["day"])
    named = near_words(day, day - timedelta(days=1))
    return f"What the work takes {named}: read them “Today and tomorrow” of their page."


def told_of(snapshot: Snapshot, day: date, now: int) -> Day:
    """Put together what there is to tell of a day: what somebody comes for, or is at. A letter on what only the plan
    foresees would cry wolf each evening."""
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    found = day_of(snapshot, outlook, household_of(snapshot, outlook.booked), day)
    sure = {one.visit.phase_id for one in found.visits if not one.unkept}
    sure |= {phase.id for phase in snapshot.phases if phase.state == "under_way"}
    return replace(found, takes=replace(
        found.takes,
        takes=tuple(one for one in found.takes.takes if sure.intersection(one.phases)),
        clear=tuple(one for one in found.takes.clear if one.phase in sure),
        at_home=tuple(one for one in found.takes.at_home if one.phase in sure),
    ))


def _short(told: Day) -> str:
    """The most pressing of it, for the subject."""
    bad = [one.who for one in told.visits if one.unkept]
    if bad:
        return f"{listed(dict.fromkeys(bad))} can’t come"
    taken = stretches(told.takes.services, told.outlook.booked.plan.calendar)
    if taken:
        return f"{taken[0].what}, {taken[0].when}"
    return "somebody must be home" if told.takes.at_home else "please clear a place"


def _visits(told: Day) -> Iterator[str]:
    yield from (visit_sentence(told.snapshot, one) for one in told.visits)


def _takes(told: Day) -> Iterator[str]:
    calendar = told.outlook.booked.plan.calendar
    yield from take_sentences(told.takes, calendar)
    yield from ask_sentences(told.takes, calendar)


def _home(told: Day) -> Iterator[str]:
    if any(not one.unkept for one in told.visits) and not told.takes.at_home:
        yield "Nobody has to be home for it."


def _way(reader: Reader) -> Iterator[str]:
    yield "Your page shows the house and who comes:"
    yield reader.link

