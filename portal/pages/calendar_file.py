"""The visits, deliveries and need-by dates of a project as an iCalendar file (RFC 5545), to be opened or subscribed to,
and the page that leads to it.

Times are written in UTC (3.3.5, form 2): a visit is an instant, so it needs no zone rules in the file and is right
over every change of the clocks. Each entry leads to the page (URL, 3.8.4.6), and so holds the private link, with which
somebody may answer: it is of the class PRIVATE (3.8.1.3), so that a calendar which is shared shows no more of it than
its time. The file that all read while the service is down holds nobody's link.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cached_property

from icalendar import Alarm, Calendar, Event, vText

from portal.pages.days.visits import waits_words
from portal.pages.environment import render
from portal.pages.outlook import Outlook
from portal.pages.unkept_visits import Unkept, unkept
from portal.pages.where_and_when import in_room
from portal.planning.conflicts.unkept_visits import own_conflicts
from portal.store.facts import DecisionFact, Snapshot, VisitFact
from portal.store.reading.desk_lines import owed
from portal.words.dates import clock_words, day_words, local

_EVENING = time(18)
"""Reminders come at this time of the day before: late enough to be home, early enough to clear a room."""
_HOURLY = timedelta(hours=1)

EventId = Callable[[str], str]
"""Makes the UID of `visit 7`: the same for good, and no other portal's."""


def calendar_file(
    snapshot: Snapshot, outlook: Outlook, cancelled: Iterable[VisitFact], event_id: EventId, page: str
) -> bytes:
    """Write the file. The same facts give the same bytes on one day, so that readers keep what they have. `page`: the
    address of the page, or empty where several read one file."""
    return _File(snapshot, outlook, event_id, page).written(cancelled)


def render_calendar_ways(snapshot: Snapshot, file: str) -> str:
    """The page that leads to it. `file`: its whole address; a calendar that opens `webcal:` subscribes to it."""
    subscribe = f"webcal:{file.partition(':')[2]}"
    return render("calendar.html", snapshot.firm, project=snapshot.project, file=file, subscribe=subscribe)


@dataclass(frozen=True, slots=True)
class WholeDay:
    """`key` makes the UID; `way` leads on from the page. `remind`: the evening before."""

    key: str
    on: date
    summary: str
    status: str = ""
    more: str = ""
    way: str = ""
    remind: bool = False


@dataclass(frozen=True)
class _File:
    snapshot: Snapshot
    outlook: Outlook
    event_id: EventId
    page: str

    @cached_property
    def today(self) -> date:
        return self.outlook.schedule.plan.calendar.day_of(self.outlook.schedule.now)

    @cached_property
    def in_the_way(self) -> dict[int, Unkept]:
        return unkept(self.snapshot, own_conflicts(self.outlook.booked), self.today)

    def written(self, cancelled: Iterable[VisitFact]) -> bytes:
        calendar, name = Calendar(), _text(self.snapshot.project.name)
        calendar.add("VERSION", "2.0")
        calendar.add("PRODID", "-//portal//visits at the house//EN")
        calendar.add("CALSCALE", "GREGORIAN")
        calendar.add("NAME", name)
        calendar.add("X-WR-CALNAME", name)
        calendar.add("REFRESH-INTERVAL", _HOURLY, {"VALUE": "DURATION"})  # RFC 7986, 5.7
        calendar.add("X-PUBLISHED-TTL", "PT1H")  # what calendars asked for before it
        if self.page:
            calendar.add("URL", self.page, {"VALUE": "URI"})
        for visit in filter(self._is_ahead, self.snapshot.visits):
            calendar.add_component(self._visit(visit))
        for visit in filter(self._is_ahead, cancelled):
            calendar.add_component(self._cancelled(visit))
        for day in _days(self.snapshot, self.outlook, self.today):
            calendar.add_component(self._whole_day(day))
        data: bytes = calendar.to_ical(sorted=False)
        return data

    def _is_ahead(self, visit: VisitFact) -> bool:
        """Whether any of it is today or later: what is past, nobody looks for in a calendar of what comes."""
        return local(visit.ends_at - 1, self.snapshot.project.timezone).date() >= self.today

    def _visit(self, visit: VisitFact) -> Event:
        why, waits = self.in_the_way.get(visit.id), _waits(self.snapshot, visit)
        event = self._timed(visit, f"Can’t come: {visit.crew}" if why else visit.crew)
        event.add("STATUS", "TENTATIVE" if why or waits else "CONFIRMED")
        self._add_more(event, why.sentence if why else waits)
        if why is None:
            event.add_component(self._reminder(visit))
        return event

    def _cancelled(self, visit: VisitFact) -> Event:
        event = self._timed(visit, visit.crew)
        event.add("STATUS", "CANCELLED")
        self._add_more(event)
        return event

    def _timed(self, visit: VisitFact, crew: str) -> Event:
        """SEQUENCE counts the changes of the visit (3.8.7.4). Whether it can be kept is found anew each day, so DTSTAMP
        is no earlier than the day (3.8.7.2: no METHOD)."""
        changed = [visit.changed_at, *(one.at for held in _held_by(self.snapshot, visit) for one in held.approvals)]
        event = Event()
        event.add("UID", self.event_id(f"visit {visit.id}"))
        event.add("DTSTAMP", max(_utc(max(changed)), _midnight(self.today)))
        event.add("SEQUENCE", visit.version - 1)
        event.add("DTSTART", _utc(visit.starts_at))
        event.add("DTEND", _utc(visit.ends_at))
        event.add("SUMMARY", _text(f"{crew}: {visit.purpose}{in_room(self.snapshot, visit.phase_id)}"))
        return event

    def _reminder(self, visit: VisitFact) -> Alarm:
        starts = local(visit.starts_at, self.snapshot.project.timezone)
        evening = datetime.combine(starts.date() - timedelta(days=1), _EVENING, starts.tzinfo)
        before = evening.astimezone(UTC) - _utc(visit.starts_at)
        return _alarm(before, f"Tomorrow at {clock_words(starts)}: {visit.crew}")

    def _whole_day(self, day: WholeDay) -> Event:
        """An event that keeps nobody busy. Its date is computed or expected, anew with each change and each day: so the
        changes of the project count as its own, and it is as of the day."""
        event = Event()
        event.add("UID", self.event_id(day.key))
        event.add("DTSTAMP", _midnight(self.today))
        event.add("SEQUENCE", self.snapshot.project.changed)
        event.add("DTSTART", day.on)
        event.add("DTEND", day.on + timedelta(days=1))
        event.add("SUMMARY", _text(day.summary))
        if day.status:
            event.add("STATUS", day.status)
        event.add("TRANSP", "TRANSPARENT")
        self._add_more(event, day.more, day.way)
        if day.remind:
            evening = timedelta(hours=_EVENING.hour) - timedelta(days=1)
            event.add_component(_alarm(evening, f"Tomorrow is the last day: {day.summary}"))
        return event

    def _add_more(self, event: Event, more: str = "", way: str = "") -> None:
        """Where, what else, whom to call, and the way to the page."""
        snapshot = self.snapshot
        phone = snapshot.project.phone or snapshot.firm.phone
        call = f"Questions? Call {snapshot.firm.name}, {phone}." if phone else ""
        event.add("LOCATION", _text(snapshot.project.address))
        event.add("DESCRIPTION", _text(" ".join(filter(None, (f"{snapshot.project.name}.", more, call)))))
        if self.page:
            event.add("URL", f"{self.page}{way}", {"VALUE": "URI"})
            event.add("CLASS", "PRIVATE")


def _alarm(before: timedelta, words: str) -> Alarm:
    """A reminder that is shown (3.6.6), so long before the start."""
    alarm = Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("TRIGGER", before)
    alarm.add("DESCRIPTION", _text(words))
    return alarm


def _days(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[WholeDay]:
    """Answers that are needed, and deliveries that are expected: nothing of it in the past, where nobody looks."""
    for decision in snapshot.decisions:
        day = outlook.needed_by.get(decision.id)
        if decision.is_open and day is not None and (day >= today or not owed(decision)):
            yield WholeDay(
                f"answer to decision {decision.id}", max(day, today), _wish(decision, day < today),
                way=f"decisions/{decision.number}/", remind=day > today and not owed(decision),
            )
    for one in snapshot.deliveries:
        if one.arrived_at is None and one.expected_high >= today:
            sure = one.expected_low == one.expected_high
            spread = f"It may come from {day_words(one.expected_low)} to {day_words(one.expected_high)}."
            yield WholeDay(f"delivery {one.id}", max(one.expected_on, today), f"Delivery: {one.item}",
                           "CONFIRMED" if sure else "TENTATIVE", "" if sure else spread)


def _wish(decision: DecisionFact, late: bool) -> str:
    if owed(decision):
        return f"Once you have our answer, we need yours: {decision.question}"
    return f"{'Late: your' if late else 'Your'} answer: {decision.question}"


def _held_by(snapshot: Snapshot, visit: VisitFact) -> list[DecisionFact]:
    """The decisions of the work that the visit is for, but for those that it was let start without."""
    phase = next((one for one in snapshot.phases if one.id == visit.phase_id), None)
    if phase is None or phase.started_at is not None:
        return []
    released = {release.decision_id for release in phase.releases}
    return [snapshot.decision(one) for one in phase.held_by if one not in released]


def _waits(snapshot: Snapshot, visit: VisitFact) -> str:
    """For whose answer it waits. Empty for none."""
    phase = next((one for one in snapshot.phases if one.id == visit.phase_id), None)
    waits = waits_words(snapshot, phase) if phase else ""
    return f"{waits}." if waits else ""


def _utc(at: int) -> datetime:
    return datetime.fromtimestamp(at, UTC)


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time(), UTC)


def _text(text: str) -> vText:
    """A value that is escaped as text (3.3.11) also where the library would not know that it is one, such as NAME. No
    text may hold control characters but line breaks, which are one of a kind."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    return vText("".join(c if c == "\n" or c.isprintable() else " " for c in lines))
