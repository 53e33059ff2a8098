"""The visits of a crew over all houses as an iCalendar file (RFC 5545), to be subscribed to.

Times are written in UTC (3.3.5, form 2). Each entry says where a house is, so it is of the class PRIVATE (3.8.1.3): a
calendar that is shared shows no more of it than its time. How to get in stands in none.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import UTC, datetime, timedelta

from icalendar import Calendar, Event, vText

from portal.store.facts import FirmFact
from portal.store.told_facts import CrewVisit

UNKEPT = "unkept"
_HOURLY = timedelta(hours=1)


def crew_calendar(
    firm: FirmFact, crew: str, visits: Iterable[CrewVisit], standing: Mapping[int, str], event_id: Callable[[str], str]
) -> bytes:
    """`standing`: by visit, that it is held, or can't be kept. The same facts give the same bytes."""
    calendar, name = Calendar(), _text(f"{crew}, {firm.name}" if firm.name else crew)
    for key, value in (("VERSION", "2.0"), ("PRODID", "-//portal//visits of a crew//EN"), ("CALSCALE", "GREGORIAN"),
                       ("NAME", name), ("X-WR-CALNAME", name), ("X-PUBLISHED-TTL", "PT1H")):
        calendar.add(key, value)
    calendar.add("REFRESH-INTERVAL", _HOURLY, {"VALUE": "DURATION"})  # RFC 7986, 5.7
    for visit in visits:
        calendar.add_component(_event(firm, visit, standing.get(visit.id), event_id))
    data: bytes = calendar.to_ical(sorted=False)
    return data


def _event(firm: FirmFact, visit: CrewVisit, how: str | None, event_id: Callable[[str], str]) -> Event:
    event = Event()
    event.add("UID", event_id(f"crew visit {visit.id}"))
    event.add("DTSTAMP", _utc(max(visit.changed_at, 0)))
    event.add("SEQUENCE", visit.version - 1)
    event.add("DTSTART", _utc(visit.starts_at))
    event.add("DTEND", _utc(visit.ends_at))
    unkept = how == UNKEPT and visit.cancelled_at is None
    event.add("SUMMARY", _text(f"{'Can’t be kept: ' if unkept else ''}{visit.house}: {visit.purpose}"))
    event.add("STATUS", "CANCELLED" if visit.cancelled_at is not None else "TENTATIVE" if how else "CONFIRMED")
    event.add("LOCATION", _text(visit.address))
    call = f"Questions? Call {firm.name}, {firm.phone}." if firm.phone else ""
    event.add("DESCRIPTION", _text(call))
    event.add("CLASS", "PRIVATE")
    return event


def _utc(at: int) -> datetime:
    return datetime.fromtimestamp(at, UTC)


def _text(text: str) -> vText:
    """Also where the library would not know that it is a text; no control characters."""
    return vText("".join(c if c.isprintable() else " " for c in text))
