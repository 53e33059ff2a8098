"""The visits, deliveries and need-by dates of a project as an iCalendar file (RFC 5545), to be opened or subscribed to.

Times are written in UTC (3.3.5, form 2): a visit is an instant, so it needs no zone rules in the file and is right
over every change of the clocks. The private link stands at the calendar (RFC 7986, 5.5), in none of its events: an
event is passed on more easily than a calendar, and whoever holds the link may answer.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from portal.pages.outlook import Outlook
from portal.pages.where_and_when import in_room
from portal.store.facts import DecisionFact, Snapshot, VisitFact
from portal.store.reading.desk_lines import owed
from portal.words.dates import day_words
from portal.words.lists import listed

OCTETS = 75
"""Of a line at most, without its end (3.1)."""

EventId = Callable[[str], str]
"""Makes the UID of `visit 7`: the same for good, and no other portal's."""


def calendar_file(
    snapshot: Snapshot, outlook: Outlook, cancelled: Iterable[VisitFact], event_id: EventId, page: str
) -> bytes:
    """The file. The same facts give the same bytes on one day, so that readers keep what they have. `page`: the address
    of the page."""
    head = [
        "BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//portal//visits at the house//EN", "CALSCALE:GREGORIAN",
        _text("NAME", snapshot.project.name), _text("X-WR-CALNAME", snapshot.project.name),
        "REFRESH-INTERVAL;VALUE=DURATION:PT1H",  # RFC 7986, 5.7
        f"URL;VALUE=URI:{page}",
    ]
    lines = [*head]
    for visit in snapshot.visits:
        lines += _visit(snapshot, visit, "TENTATIVE" if _holding(snapshot, visit) else "CONFIRMED", event_id)
    for visit in cancelled:
        lines += _visit(snapshot, visit, "CANCELLED", event_id)
    for day in _days(snapshot, outlook):
        lines += _whole_day(snapshot, day, outlook.schedule.plan.calendar.day_of(outlook.schedule.now), event_id)
    return b"".join(_folded(line) for line in [*lines, "END:VCALENDAR"])


def _visit(snapshot: Snapshot, visit: VisitFact, status: str, event_id: EventId) -> Iterator[str]:
    """SEQUENCE counts the changes (3.8.7.4). DTSTAMP is when the visit was last changed (3.8.7.2: no METHOD)."""
    starts_on, holding = snapshot.project.starts_on, _holding(snapshot, visit)
    changed = max([visit.changed_at, *(approval.at for one in _held_by(snapshot, visit) for approval in one.approvals)])
    yield "BEGIN:VEVENT"
    yield f"UID:{event_id(f'visit {visit.id}')}"
    yield f"DTSTAMP:{_utc(changed) if changed else f'{starts_on:%Y%m%d}T000000Z'}"
    yield f"SEQUENCE:{visit.version - 1}"
    yield f"DTSTART:{_utc(visit.starts_at)}"
    yield f"DTEND:{_utc(visit.ends_at)}"
    yield _text("SUMMARY", f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}")
    yield f"STATUS:{status}"
    waits = listed([f"decision {one.number}" for one in holding])
    yield from _where_and_whom(snapshot, f"This waits for your answer to {waits}." if waits else "")
    yield "END:VEVENT"


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
    return [one for one in _held_by(snapshot, visit) if one.state != "approved"]


def _whole_day(snapshot: Snapshot, day: WholeDay, as_of: date, event_id: EventId) -> Iterator[str]:
    """An event that keeps nobody busy. Its date is computed or expected, anew with each change and each day: so the
    changes of the project count as its own, and it is as of the day."""
    yield "BEGIN:VEVENT"
    yield f"UID:{event_id(day.key)}"
    yield f"DTSTAMP:{as_of:%Y%m%d}T000000Z"
    yield f"SEQUENCE:{snapshot.project.changed}"
    yield f"DTSTART;VALUE=DATE:{day.on:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{day.on + timedelta(days=1):%Y%m%d}"
    yield _text("SUMMARY", day.summary)
    if day.status:
        yield f"STATUS:{day.status}"
    yield "TRANSP:TRANSPARENT"
    yield from _where_and_whom(snapshot, day.more)
    yield "END:VEVENT"


def _where_and_whom(snapshot: Snapshot, more: str = "") -> Iterator[str]:
    phone = snapshot.project.phone or snapshot.firm.phone
    call = f"Questions? Call {snapshot.firm.name}, {phone}." if phone else ""
    yield _text("LOCATION", snapshot.project.address)
    yield _text("DESCRIPTION", " ".join(filter(None, (f"{snapshot.project.name}.", more, call))))


def _utc(at: int) -> str:
    return f"{datetime.fromtimestamp(at, UTC):%Y%m%dT%H%M%SZ}"


def _text(name: str, text: str) -> str:
    """A property of text (3.3.11): what would end it or split it is escaped, other control characters are left out."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    plain = "".join(c if c == "\n" or c.isprintable() else " " for c in lines)
    for mark in ("\\", ";", ","):
        plain = plain.replace(mark, f"\\{mark}")
    return f"{name}:{plain.replace(chr(10), chr(92) + 'n')}"


def _folded(line: str) -> bytes:
    """Folded before octet 76, and never within a character (3.1)."""
    parts, part = [], b""
    for character in line:
        octets = character.encode()
        if len(part) + len(octets) > OCTETS:
            parts.append(part)
            part = b" "
        part += octets
    return b"\r\n".join([*parts, part]) + b"\r\n"
