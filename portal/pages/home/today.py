"""Section 2: who comes today, when, to do what; and who is next when nobody does."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.where_and_when import hours_words, in_room
from portal.store.facts import Snapshot, VisitFact
from portal.words.dates import day_words, local, near_words
from portal.words.lists import quoted


@dataclass(frozen=True, slots=True)
class Coming:
    """One line of who or what comes: `when` stands out, `what` follows."""

    when: str
    what: str


@dataclass(frozen=True, slots=True)
class Today:
    title: str
    visits: list[Coming]
    sentences: list[str]


def today_section(snapshot: Snapshot, today: date, house: Iterable[str] = ()) -> Today:
    """`house`: what the household can't use while the crew works."""
    visits = visits_on(snapshot, today)
    sentences = [*_deliveries(snapshot, today), *house]
    if not visits:
        sentences = [*_nobody(snapshot, today), *sentences]
    elif not visits_on(snapshot, tomorrow := today + timedelta(days=1)):
        sentences.append(f"Tomorrow, {day_words(tomorrow)}: nobody is booked to come.")
    lines = [visit_line(snapshot, visit) for visit in visits]
    return Today(f"Today, {day_words(today)}", lines, sentences)


def visits_on(snapshot: Snapshot, day: date) -> list[VisitFact]:
    """Those of which any part falls on the day."""
    return [visit for visit in snapshot.visits if _covers(visit, day, snapshot.project.timezone)]


def day_words_of(snapshot: Snapshot, day: date, today: date) -> str:
    """Who comes on a day, in one sentence or a few: `Tomorrow, Thu Dec 3: nobody is booked to come.`"""
    lines = [visit_line(snapshot, visit) for visit in visits_on(snapshot, day)]
    who = " ".join(f"{line.when}, {line.what}" for line in lines) or "nobody is booked to come."
    named = near_words(day, today)
    return f"{named[0].upper()}{named[1:]}: {who}"


def visit_line(snapshot: Snapshot, visit: VisitFact) -> Coming:
    what = f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}."
    return Coming(hours_words(visit, snapshot.project.timezone), what)


def _nobody(snapshot: Snapshot, today: date) -> Iterator[str]:
    if snapshot.project.closed_at is not None:
        yield "The work is finished, and nobody is booked to come."
        return
    yield "Nobody is booked to come today."
    under_way = [phase.name for phase in snapshot.phases if phase.state == "under_way"]
    if under_way:
        yield f"Under way, but without a visit today: {quoted(under_way)}."
    coming = [visit for visit in snapshot.visits if _first_day(snapshot, visit) > today]
    if not coming:
        yield "No other visit is booked yet."
        return
    following = min(coming, key=lambda visit: visit.starts_at)
    line = visit_line(snapshot, following)
    yield f"Next, {near_words(_first_day(snapshot, following), today)}, {line.when}: {line.what}"


def _deliveries(snapshot: Snapshot, today: date) -> Iterator[str]:
    for delivery in snapshot.deliveries:
        arrived = delivery.arrived_at
        if arrived is not None and local(arrived, snapshot.project.timezone).date() == today:
            yield f"Delivered today: {delivery.item}."
        elif arrived is None and delivery.expected_on == today:
            yield f"Expected today: {delivery.item}."


def _first_day(snapshot: Snapshot, visit: VisitFact) -> date:
    return local(visit.starts_at, snapshot.project.timezone).date()


def _covers(visit: VisitFact, day: date, zone: str) -> bool:
    """Whether any of the visit falls on the day; one that ends at midnight does not reach the next."""
    return local(visit.starts_at, zone).date() <= day <= local(visit.ends_at - 1, zone).date()
