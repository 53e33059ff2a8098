"""What stands at the days of the tape: visits, deliveries, answers that are due, what is back, and what is late."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from portal.pages.days.visits import is_missed, waits_words
from portal.pages.household_words import SERVICE_WORDS
from portal.pages.outlook import Outlook
from portal.pages.unkept_visits import Unkept, unkept
from portal.pages.where_and_when import days_of, in_room, short_hours
from portal.planning.conflicts.unkept_visits import own_conflicts
from portal.planning.household.house_services import HouseServices
from portal.planning.household.outages import NEVER
from portal.planning.household.services import AT_HOME, FIXTURES, UNTIL_WORK_ENDS, Service
from portal.store.facts import DecisionFact, DeliveryFact, PhaseFact, Snapshot, VisitFact
from portal.store.reading.desk_lines import owed
from portal.words.dates import dated_words, day_words, local, part_of_day, short_span_words
from portal.words.lists import listed
from portal.words.plurals import counted

VISIT, HELD, UNKEPT, DELIVERY = "v", "w", "x", "b"
ANSWER, REMARK, LATE = "a", "o", "l"
ABOVE = (VISIT, HELD, UNKEPT, DELIVERY)
"""They stand above the lying tape, the others below it."""


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing at a day: its `kind`, `lead` in bold, and the `words` that follow."""

    kind: str
    lead: str
    words: str = ""

    @property
    def look(self) -> str:
        """Its class; a visit, and what is late, have none."""
        return "" if self.kind in (VISIT, LATE) else self.kind


Dated = tuple[date, Mark]


def visit_marks(snapshot: Snapshot, outlook: Outlook, since: date) -> Iterator[Dated]:
    """Each visit at each of its days from `since` on: with its hours at the first of them, in short at the others."""
    calendar = outlook.booked.plan.calendar
    in_the_way = unkept(snapshot, own_conflicts(outlook.booked), since)
    for visit in sorted(snapshot.visits, key=lambda one: (one.starts_at, one.id)):
        days = [day for day in days_of(visit, calendar) if day >= since]
        for day in days:
            yield day, _visit(snapshot, visit, in_the_way.get(visit.id), outlook.booked.now * 60, first=day == days[0])


def _visit(snapshot: Snapshot, visit: VisitFact, why: Unkept | None, now: int, *, first: bool) -> Mark:
    zone = snapshot.project.timezone
    hours = short_hours(visit, zone)
    if not first:
        until = f"{visit.crew}, to {day_words(local(visit.ends_at - 1, zone).date())}"
        return Mark(UNKEPT, f"{visit.crew} can’t come") if why else Mark(VISIT, "", until)
    if why:
        return Mark(UNKEPT, f"{hours} {visit.crew} can’t come:", f"{why.why}. {why.then}".rstrip())
    phase = next((one for one in snapshot.phases if one.id == visit.phase_id), None)
    what = f"{visit.crew}: {visit.purpose}{_room(snapshot, visit)}"
    if is_missed(visit, phase, now):
        return Mark(UNKEPT, f"{hours} {visit.crew}:", "the work has not begun")
    waits = waits_words(snapshot, phase) if phase else ""
    if waits:
        return Mark(HELD, hours, f"{what}. {waits}")
    return Mark(VISIT, hours, ". ".join([what, *_takes(phase)]))


def _room(snapshot: Snapshot, visit: VisitFact) -> str:
    """Only where it tells apart what is called alike in two rooms. Phases never are: a name stands once in a plan."""
    alike = {in_room(snapshot, one.phase_id) for one in snapshot.visits if one.purpose == visit.purpose}
    return in_room(snapshot, visit.phase_id) if len(alike) > 1 else ""


_SAID = {"noise": "Loud", "dust": "Dusty", "floor": "Keep off the floor", AT_HOME: "Be home"}


def _takes(phase: PhaseFact | None) -> Iterator[str]:
    """What it takes from the household while the crew works, and whether it asks for somebody."""
    takes = [one for one in (phase.takes if phase else ()) if isinstance(one, dict)]
    now = [one for one in takes if one.get("until", UNTIL_WORK_ENDS) == UNTIL_WORK_ENDS]
    gone = [str(one.get("name") or SERVICE_WORDS[one["service"]]) for one in now
            if one.get("service") in SERVICE_WORDS and one["service"] not in _SAID]
    yield from dict.fromkeys(_SAID[one["service"]] for one in now if one.get("service") in _SAID)
    if gone:
        yield f"No {listed(dict.fromkeys(gone), 'or')}"


def delivery_marks(snapshot: Snapshot, today: date) -> Iterator[Dated]:
    """Each delivery that has not come: at the day on which it is expected, at today while it may still come in time."""
    for one in snapshot.deliveries:
        if one.arrived_at is None and one.expected_high >= today:
            yield max(one.expected_on, today), Mark(DELIVERY, "", f"{one.item} {_arrives(one, today)}")


def _arrives(one: DeliveryFact, today: date) -> str:
    note = f". {one.note.rstrip('.')}" if one.note else ""
    if one.expected_on < today:
        return f"may arrive any day to {day_words(one.expected_high)}{note}"
    sure = one.expected_low == one.expected_high
    return f"arrives{'' if sure else f', {short_span_words(one.expected_low, one.expected_high)}'}{note}"


def answer_marks(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Dated]:
    """Answers that we wait for and whose day is not over."""
    due = Counter(day for day, _ in _asked(snapshot, outlook) if day >= today)  # each has its card on the page
    for day, answers in due.items():
        yield day, Mark(ANSWER, f"{counted(answers, 'answer')} due")


def late_marks(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Dated]:
    """Answers and deliveries whose last day is over, at that day; work that has not begun and whose last visit is over,
    where no other is booked."""
    missed = Counter(day for day, _ in _asked(snapshot, outlook) if day < today)
    for day, answers in missed.items():
        yield day, Mark(LATE, f"Late: {counted(answers, 'answer')}")
    for delivery in snapshot.deliveries:
        if delivery.arrived_at is None and delivery.expected_high < today:
            due = dated_words(delivery.expected_high, today)
            yield delivery.expected_high, Mark(LATE, f"Late: {delivery.item},", f"due by {due}")
    for visit in _not_booked_again(snapshot, outlook, today):
        day = local(visit.ends_at - 1, snapshot.project.timezone).date()
        yield day, Mark(LATE, f"Late: {visit.purpose},", "no new visit yet")


def _not_booked_again(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[VisitFact]:
    """Of each phase that has not begun its last visit, where that was before today."""
    phases, zone = {one.id: one for one in snapshot.phases}, snapshot.project.timezone
    last = {one.phase_id: one for one in sorted(snapshot.visits, key=lambda one: one.ends_at) if one.phase_id in phases}
    for phase_id, visit in last.items():
        missed = is_missed(visit, phases[phase_id], outlook.booked.now * 60)
        if missed and local(visit.ends_at - 1, zone).date() < today:
            yield visit


def _asked(snapshot: Snapshot, outlook: Outlook) -> Iterator[tuple[date, DecisionFact]]:
    """Open questions by the day of their answer, but for those to which we owe one first."""
    for one in snapshot.decisions:
        day = outlook.needed_by.get(one.id)
        if one.is_open and day is not None and not owed(one):
            yield day, one


def back_marks(house: HouseServices, since: int) -> Iterator[Dated]:
    """What the household can use again, room by room, at the end of each outage that has one. Of what is out already
    at `since` (minutes) the drawn house says it, on its tag."""
    back: dict[tuple[date, str, str], list[str]] = {}
    names = {room.room: room.name for room in house.rooms}
    for (room, service), outages in house.outages.items():
        for outage in outages:
            if since < outage.start and outage.end < NEVER and _is_told(service):
                day, when = part_of_day(house.calendar.moment(outage.end))
                back.setdefault((day, when, names[room]), []).append(service.name or SERVICE_WORDS[service.service])
    for (day, when, name), services in back.items():
        yield day, Mark(REMARK, "", f"{name}: {listed(services)} again {when}")


def _is_told(service: Service) -> bool:
    """What people use; the pipes and wires to it are back with it."""
    return service.service in FIXTURES or service.service == "heat"


def later_marks(snapshot: Snapshot, outlook: Outlook, last: date) -> Iterator[tuple[date, str]]:
    """Who and what comes after the last day of the tape, with the word where that can't be kept."""
    in_the_way = {one.visit for one in own_conflicts(outlook.booked)}
    zone = snapshot.project.timezone
    for visit in snapshot.visits:
        day = local(visit.starts_at, zone).date()
        if day > last:
            yield day, f"{visit.crew}{' (can’t come then)' if visit.id in in_the_way else ''}"
    for one in snapshot.deliveries:
        if one.arrived_at is None and one.expected_on > last:
            yield one.expected_on, one.item
