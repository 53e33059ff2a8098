"""The visits, deliveries and need-by dates of a project as an iCalendar file (RFC 5545), to be opened or subscribed to.

Times are written in UTC (3.3.5, form 2): a visit is an instant, so it needs no zone rules in the file and is right
over every change of the clocks. The private link stands at the calendar (RFC 7986, 5.5), in none of its events: an
event is passed on more easily than a calendar, and whoever holds the link may answer.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event, vText

from portal.pages.outlook import Outlook
from portal.pages.where_and_when import in_room
from portal.store.facts import DecisionFact, Snapshot, VisitFact
from portal.store.reading.desk_lines import owed
from portal.words.dates import day_words
from portal.words.lists import listed

EventId = Callable[[str], str]
"""Makes the UID of `visit 7`: the same for good, and no other portal's."""


def calendar_file(
    snapshot: Snapshot, outlook: Outlook, cancelled: Iterable[VisitFact], event_id: EventId, page: str
) -> bytes:
    """Write the file. The same facts give the same bytes on one day, so that readers keep what they have. `page`: the
    address of the page."""
    calendar = Calendar()
    calendar.add("VERSION", "2.0")
    calendar.add("PRODID", "-//portal//visits at the house//EN")
    calendar.add("CALSCALE", "GREGORIAN")
    calendar.add("NAME", _text(snapshot.project.name))
    calendar.add("X-WR-CALNAME", _text(snapshot.project.name))
    calendar.add("REFRESH-INTERVAL", timedelta(hours=1), {"VALUE": "DURATION"})  # RFC 7986, 5.7
    calendar.add("URL", page, {"VALUE": "URI"})
    for visit in snapshot.visits:
        status = "TENTATIVE" if _holding(snapshot, visit) else "CONFIRMED"
        calendar.add_component(_visit(snapshot, visit, status, event_id))
    for visit in cancelled:
        calendar.add_component(_visit(snapshot, visit, "CANCELLED", event_id))
    for day in _days(snapshot, outlook):
        as_of = outlook.schedule.plan.calendar.day_of(outlook.schedule.now)
        calendar.add_component(_whole_day(snapshot, day, as_of, event_id))
    data: bytes = calendar.to_ical(sorted=False)
    return data


def _visit(snapshot: Snapshot, visit: VisitFact, status: str, event_id: EventId) -> Event:
    """SEQUENCE counts the changes (3.8.7.4). DTSTAMP is when the visit was last changed (3.8.7.2: no METHOD)."""
    holding = _holding(snapshot, visit)
    changed = max([visit.changed_at, *(approval.at for one in _held_by(snapshot, visit) for approval in one.approvals)])
    event = Event()
    event.add("UID", event_id(f"visit {visit.id}"))
    event.add("DTSTAMP", _utc(changed) if changed else _midnight(snapshot.project.starts_on))
    event.add("SEQUENCE", visit.version - 1)
    event.add("DTSTART", _utc(visit.starts_at))
    event.add("DTEND", _utc(visit.ends_at))
    event.add("SUMMARY", _text(f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}"))
    event.add("STATUS", status)
    waits = listed([f"decision {one.number}" for one in holding])
    _add_where_and_whom(event, snapshot, f"This waits for your answer to {waits}." if waits else "")
    return event


@dataclass(frozen=True, slots=True)
class WholeDay:
    """`key` makes the UID."""

    key: str
    on: date
    summary: str
    status: str = ""
    more: str = ""


def _days(snapshot: Snapshot, outlook: Outlook) -> Iterator[WholeDay]:
    """Answers that are needed, and deliveries that are expected: nothing of it in the past, where nobody looks."""
    today = outlook.schedule.plan.calendar.day_of(outlook.schedule.now)
    for decision in snapshot.decisions:
        day = outlook.needed_by.get(decision.id)
        if decision.is_open and day is not None and (day >= today or not owed(decision)):
            yield WholeDay(f"answer to decision {decision.id}", max(day, today), _wish(decision, day < today))
    for one in snapshot.deliveries:
        if one.arrived_at is None and one.expected_on >= today:
            sure = one.expected_low == one.expected_high
            spread = f"It may come from {day_words(one.expected_low)} to {day_words(one.expected_high)}."
            yield WholeDay(f"delivery {one.id}", one.expected_on, f"Delivery: {one.item}",
                           "CONFIRMED" if sure else "TENTATIVE", "" if sure else spread)


def _wish(decision: DecisionFact, late: bool) -> str:
    which = f"decision {decision.number}: {decision.question}"
    if owed(decision):
        return f"Once you have our answer, we need yours to {which}"
    return f"Late: we need your answer to {which}" if late else f"We need your answer to {which}"


def _held_by(snapshot: Snapshot, visit: VisitFact) -> list[DecisionFact]:
    """The decisions of the work that the visit is for, but for those that it was let start without."""
    phase = next((one for one in snapshot.phases if one.id == visit.phase_id), None)
    if phase is None or phase.started_at is not None:
        return []
    released = {release.decision_id for release in phase.releases}
    return [snapshot.decision(one) for one in phase.held_by if one not in released]


def _holding(snapshot: Snapshot, visit: VisitFact) -> list[DecisionFact]:
    phase = next((one for one in snapshot.phases if one.id == visit.phase_id), None)
    return snapshot.holding(phase) if phase else []


def _whole_day(snapshot: Snapshot, day: WholeDay, as_of: date, event_id: EventId) -> Event:
    """An event that keeps nobody busy. Its date is computed or expected, anew with each change and each day: so the
    changes of the project count as its own, and it is as of the day."""
    event = Event()
    event.add("UID", event_id(day.key))
    event.add("DTSTAMP", _midnight(as_of))
    event.add("SEQUENCE", snapshot.project.changed)
    event.add("DTSTART", day.on)
    event.add("DTEND", day.on + timedelta(days=1))
    event.add("SUMMARY", _text(day.summary))
    if day.status:
        event.add("STATUS", day.status)
    event.add("TRANSP", "TRANSPARENT")
    _add_where_and_whom(event, snapshot, day.more)
    return event


def _add_where_and_whom(event: Event, snapshot: Snapshot, more: str) -> None:
    phone = snapshot.project.phone or snapshot.firm.phone
    call = f"Questions? Call {snapshot.firm.name}, {phone}." if phone else ""
    event.add("LOCATION", _text(snapshot.project.address))
    event.add("DESCRIPTION", _text(" ".join(filter(None, (f"{snapshot.project.name}.", more, call)))))


def _utc(at: int) -> datetime:
    return datetime.fromtimestamp(at, UTC)


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time(), UTC)


def _text(text: str) -> vText:
    """A value that is escaped as text (3.3.11) also where the library would not know that it is one, such as NAME. No
    text may hold control characters but line breaks, which are one of a kind."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return vText("".join(c if c == "\n" or c.isprintable() else " " for c in lines))
