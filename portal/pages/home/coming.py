"""Section 5: visits and deliveries of the next two weeks, and when the work is finished."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from portal.pages.home.today import Coming, visit_line
from portal.pages.outlook import Outlook
from portal.pages.unkept_visits import not_kept
from portal.planning.conflicts.unkept_visits import conflicts
from portal.planning.forecast.forecast import LIKELY, Forecast
from portal.store.facts import DeliveryFact, Snapshot
from portal.words.dates import dated_words, day_words, local, near_words
from portal.words.lists import listed
from portal.words.plurals import plural

_DAYS_AHEAD = 14


@dataclass(frozen=True, slots=True)
class Day:
    title: str
    lines: list[Coming]


@dataclass(frozen=True, slots=True)
class ComingUp:
    days: list[Day]
    overdue: list[str]
    later: str
    finish: list[str]


def coming_section(snapshot: Snapshot, outlook: Outlook, forecast: Forecast | None, today: date) -> ComingUp:
    """`forecast` is None when there is no work left to foresee."""
    days, after = defaultdict(list), []
    last = today + timedelta(days=_DAYS_AHEAD)
    for day, line, short in [*_visits(snapshot, outlook), *_deliveries(snapshot, today)]:
        if today < day <= last:
            days[day].append(line)
        elif day > last:
            after.append((day, short))
    return ComingUp(
        [Day(_title(day, today), lines) for day, lines in sorted(days.items())],
        list(_overdue(snapshot, today)), "" if snapshot.project.closed_at else _later(after, last, today),
        list(finish_sentences(snapshot, forecast, today)),
    )


def finish_sentences(snapshot: Snapshot, forecast: Forecast | None, today: date) -> Iterator[str]:
    if forecast is None:
        finished = [phase.finished_at for phase in snapshot.phases if phase.finished_at is not None]
        if finished and len(finished) == len(snapshot.phases):
            yield f"All work was done on {dated_words(_day(snapshot, max(finished)), today)}."
        return
    likely, safely = dated_words(forecast.likely_on, today), dated_words(forecast.safely_on, today)
    if likely == safely:
        yield f"All work is likely done by {likely}. That is a safe date, too: it holds in four of five cases."
    else:
        yield f"All work is likely done by {likely}, and safely by {safely}. Safely means: in four of five cases."
    yield from _counted_on(snapshot, forecast)
    yield from _promise(forecast, today)


def _counted_on(snapshot: Snapshot, forecast: Forecast) -> Iterator[str]:
    """An open decision is reckoned with as if answered today. Where a day more would likely move the finish, say so."""
    numbers = [f"{snapshot.decision(one).number}" for one, share in forecast.decisions.items() if share >= LIKELY]
    if numbers:
        yield f"That counts on {plural(len(numbers), 'decision')} {listed(numbers)} being answered today."


def _promise(forecast: Forecast, today: date) -> Iterator[str]:
    promised, chance = forecast.promised_on, forecast.chance
    if promised is None or chance is None:
        return
    day = dated_words(promised, today)
    if promised < today:
        yield f"We promised {day}, and we are late."
    elif chance < LIKELY:
        yield f"We promised {day}, but as things stand we miss it; the chance of keeping it is {_chance_words(chance)}."
    else:
        yield f"We promised {day}; the chance of keeping that is {_chance_words(chance)}."


def _chance_words(chance: float) -> str:
    """In whole hundredths; a simulation is never as sure as 0 or 100."""
    hundredths = min(99, max(1, round(chance * 100)))
    edge = "more than " if chance > 0.99 else "less than " if chance < 0.01 else ""
    return f"{edge}{hundredths} in 100"


def _later(after: list[tuple[date, str]], last: date, today: date) -> str:
    """Where the list ends, and the first day after it on which somebody or something comes."""
    if not after:
        return f"Nothing is booked yet after {dated_words(last, today)}."
    first = min(day for day, _ in after)
    names = list(dict.fromkeys(short for day, short in after if day == first))
    ends = f"This list ends after two weeks, with {dated_words(last, today)}."
    return f"{ends} Later: {listed(names)}, {dated_words(first, today)}."


def _visits(snapshot: Snapshot, outlook: Outlook) -> Iterator[tuple[date, Coming, str]]:
    """With what is expected instead, where one can't be kept."""
    in_the_way = not_kept(conflicts(outlook.booked), snapshot.project.timezone)
    for visit in snapshot.visits:
        line = visit_line(snapshot, visit)
        if visit.id in in_the_way:
            line = replace(line, what=f"{line.what} It can’t be kept: {in_the_way[visit.id]}")
        yield _day(snapshot, visit.starts_at), line, visit.crew


def _deliveries(snapshot: Snapshot, today: date) -> Iterator[tuple[date, Coming, str]]:
    for delivery in snapshot.deliveries:
        if delivery.arrived_at is None:
            note = f" {delivery.note.rstrip('.')}." if delivery.note else ""
            line = Coming("Delivery", f"{delivery.item}{_spread(delivery, today)}.{note}")
            yield delivery.expected_on, line, f"delivery of {delivery.item}"


def _overdue(snapshot: Snapshot, today: date) -> Iterator[str]:
    for delivery in snapshot.deliveries:
        if delivery.arrived_at is None and delivery.expected_on < today:
            yield f"{delivery.item}: was expected on {dated_words(delivery.expected_on, today)} and is not here yet."


def _spread(delivery: DeliveryFact, today: date) -> str:
    if delivery.expected_low == delivery.expected_high:
        return ""
    return f", which may come from {day_words(delivery.expected_low)} to {dated_words(delivery.expected_high, today)}"


def _title(day: date, today: date) -> str:
    words = near_words(day, today)
    return words[0].upper() + words[1:]


def _day(snapshot: Snapshot, at: int) -> date:
    return local(at, snapshot.project.timezone).date()
