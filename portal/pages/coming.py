"""Section 5: visits and deliveries of the next two weeks, and when the work is finished."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.outlook import Outlook
from portal.pages.today import Coming, visit_line
from portal.pages.words import dated_words, near_words
from portal.store.facts import DeliveryFact, Snapshot
from portal.when import day_words, local

_DAYS_AHEAD = 14


@dataclass(frozen=True, slots=True)
class Day:
    title: str
    lines: list[Coming]


@dataclass(frozen=True, slots=True)
class ComingUp:
    days: list[Day]
    overdue: list[str]
    finish: list[str]


def coming_section(snapshot: Snapshot, outlook: Outlook, today: date) -> ComingUp:
    days = defaultdict(list)
    for day, line in [*_visits(snapshot), *_deliveries(snapshot, today)]:
        if today < day <= today + timedelta(days=_DAYS_AHEAD):
            days[day].append(line)
    return ComingUp(
        [Day(_title(day, today), lines) for day, lines in sorted(days.items())],
        list(_overdue(snapshot, today)),
        list(finish_sentences(snapshot, outlook, today)),
    )


def finish_sentences(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[str]:
    if not snapshot.phases:
        return
    if all(phase.finished_at is not None for phase in snapshot.phases):
        last = max(phase.finished_at for phase in snapshot.phases if phase.finished_at is not None)
        yield f"All work was done on {dated_words(_day(snapshot, last), today)}."
        return
    yield from outlook.finish_sentences(today)
    yield from _promise(snapshot, outlook, today)


def _promise(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[str]:
    promised, finish = snapshot.project.promised_on, outlook.finish
    if promised is None:
        return
    if finish is not None and finish > promised:
        was = "promised" if promised < today else "promise"
        yield f"We {was} {dated_words(promised, today)}; by today’s plan we miss that date."
    else:
        yield f"We promised {dated_words(promised, today)}."


def _visits(snapshot: Snapshot) -> Iterator[tuple[date, Coming]]:
    for visit in snapshot.visits:
        yield _day(snapshot, visit.starts_at), visit_line(snapshot, visit)


def _deliveries(snapshot: Snapshot, today: date) -> Iterator[tuple[date, Coming]]:
    for delivery in snapshot.deliveries:
        if delivery.arrived_at is None:
            note = f" {delivery.note.rstrip('.')}." if delivery.note else ""
            yield delivery.expected_on, Coming("Delivery", f"{delivery.item}{_spread(delivery, today)}.{note}")


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
