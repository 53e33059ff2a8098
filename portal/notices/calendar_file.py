"""The visits and need-by dates of a project as an iCalendar file (RFC 5545), to be opened or subscribed to.

Times are written in UTC (3.3.5, form 2): a visit is an instant, so it needs no zone rules in the file and is right
over every change of the clocks. The private link is not in it: calendars are shared more easily than pages.
"""

from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, date, datetime, timedelta

from portal.pages.outlook import Outlook
from portal.pages.words import in_room
from portal.store.facts import DecisionFact, Snapshot, VisitFact

OCTETS = 75
"""Of a line at most, without its end (3.1)."""

EventId = Callable[[str], str]
"""Makes the UID of `visit 7`: the same for good, and no other portal's."""


def calendar_file(
    snapshot: Snapshot, outlook: Outlook, cancelled: Iterable[VisitFact], event_id: EventId
) -> bytes:
    """The file. The same facts give the same bytes on one day, so that readers keep what they have."""
    head = [
        "BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//portal//visits at the house//EN", "CALSCALE:GREGORIAN",
        _text("NAME", snapshot.project.name), _text("X-WR-CALNAME", snapshot.project.name),
        "REFRESH-INTERVAL;VALUE=DURATION:PT1H",  # RFC 7986, 5.7
    ]
    lines = [*head]
    for visit in snapshot.visits:
        lines += _visit(snapshot, visit, "CONFIRMED", event_id)
    for visit in cancelled:
        lines += _visit(snapshot, visit, "CANCELLED", event_id)
    as_of = outlook.schedule.plan.calendar.day_of(outlook.schedule.now)
    for decision in snapshot.decisions:
        if decision.is_open and decision.id in outlook.needed_by:
            lines += _needed_by(snapshot, decision, outlook.needed_by[decision.id], as_of, event_id)
    return b"".join(_folded(line) for line in [*lines, "END:VCALENDAR"])


def _visit(snapshot: Snapshot, visit: VisitFact, status: str, event_id: EventId) -> Iterator[str]:
    """SEQUENCE counts the changes (3.8.7.4). DTSTAMP is when the visit was last changed (3.8.7.2: no METHOD)."""
    starts_on = snapshot.project.starts_on
    yield "BEGIN:VEVENT"
    yield f"UID:{event_id(f'visit {visit.id}')}"
    yield f"DTSTAMP:{_utc(visit.changed_at) if visit.changed_at else f'{starts_on:%Y%m%d}T000000Z'}"
    yield f"SEQUENCE:{visit.version - 1}"
    yield f"DTSTART:{_utc(visit.starts_at)}"
    yield f"DTEND:{_utc(visit.ends_at)}"
    yield _text("SUMMARY", f"{visit.crew}: {visit.purpose}{in_room(snapshot, visit.phase_id)}")
    yield f"STATUS:{status}"
    yield from _where_and_whom(snapshot)
    yield "END:VEVENT"


def _needed_by(
    snapshot: Snapshot, decision: DecisionFact, day: date, as_of: date, event_id: EventId
) -> Iterator[str]:
    """An event of the whole day that keeps nobody busy. The date is computed, anew with each change and each day: so
    the changes of the project count as its own, and it is as of the day."""
    yield "BEGIN:VEVENT"
    yield f"UID:{event_id(f'answer to decision {decision.id}')}"
    yield f"DTSTAMP:{as_of:%Y%m%d}T000000Z"
    yield f"SEQUENCE:{snapshot.project.changed}"
    yield f"DTSTART;VALUE=DATE:{day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{day + timedelta(days=1):%Y%m%d}"
    yield _text("SUMMARY", f"We need your answer to decision {decision.number}: {decision.question}")
    yield "TRANSP:TRANSPARENT"
    yield from _where_and_whom(snapshot)
    yield "END:VEVENT"


def _where_and_whom(snapshot: Snapshot) -> Iterator[str]:
    phone = snapshot.project.phone or snapshot.firm.phone
    yield _text("LOCATION", snapshot.project.address)
    if phone:
        yield _text("DESCRIPTION", f"{snapshot.project.name}. Questions? Call {snapshot.firm.name}, {phone}.")


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
