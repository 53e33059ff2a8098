"""What is in the way of a house: each with a symbol, its reason and one thing to do; what is late first."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from portal.pages.answers.who_answered import missing
from portal.pages.decision.failing import today_words
from portal.pages.environment import telephone
from portal.pages.household_words import unwatched_words
from portal.pages.outlook import Outlook
from portal.pages.warning_words import warning_words
from portal.planning.calendar.lead import answer_by, order_by
from portal.planning.conflicts.unkept_visits import CREW_TWICE, Conflict
from portal.planning.conflicts.warnings import BegunAhead, NightWarning
from portal.store.facts import DecisionFact, PersonFact, PhaseFact, Snapshot
from portal.store.reading.clashes import conflicts_in
from portal.store.reading.desk_lines import owed
from portal.store.reading.warnings import blind_spots, warnings_in
from portal.store.rows import planned_rows
from portal.store.rows.household import supplier_rows
from portal.web.desk.conflict_words import conflict_words
from portal.web.desk.onsite.presses import Press, came_press
from portal.web.desk.plan.label_waits import to_enter
from portal.words.dates import dated_words, day_words, local, short_span_words
from portal.words.lists import quoted
from portal.words.names import called
from portal.words.plurals import counted

_SOON = 3
"""An answer that is due within so many days is in the way; of one that is due later, the tape tells."""
_ASK_SOON = 14


@dataclass(frozen=True, slots=True)
class Way:
    """`symbol` and `lead`: what it is; `rest`: what it holds. `sign`: what to press, which `leads` there (`doing`: the
    act, if it is one), or opens a `press`. `about`: what it is done to, for whoever can't see the row."""

    symbol: str
    lead: str
    rest: str
    day: date
    late: bool = False
    sign: str = ""
    leads: str = ""
    doing: str = ""
    about: str = ""
    press: Press | None = None


def in_the_way(
    snapshot: Snapshot, outlook: Outlook, versions: dict[int, int], today: date, now: int
) -> list[Way]:
    """All of it, what is late first, then by its day. `versions`: of the deliveries, by their id."""
    found = [
        *_visits(snapshot, outlook, today), *_unsuited(snapshot, now, today), *_decisions(snapshot, outlook, today),
        *_messages(snapshot, today), *_to_ask(snapshot, outlook, today), *_to_order(snapshot, outlook, today),
        *_to_enter(snapshot, today), *_deliveries(snapshot, outlook, versions, today, now),
        *_warned(snapshot, outlook, today),
    ]  # fmt: skip
    return sorted(found, key=lambda one: (not one.late, one.day))


def whom_to_call(snapshot: Snapshot, decision: DecisionFact | None = None) -> PersonFact | None:
    """Who is called first: whose answer it takes, else an owner, else anybody of the household with a phone."""
    wanted = missing(snapshot, decision) if decision else []
    names = [one.name for one in snapshot.people]
    with_phone = [one for one in snapshot.people if one.phone]
    first = [one for one in with_phone if called(one.name, names) in wanted]
    owners = [one for one in with_phone if one.is_owner]
    return next(iter([*first, *owners, *with_phone]), None)


def _visits(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Way]:
    zone = snapshot.project.timezone
    by_visit: dict[int, list[Conflict]] = {}
    for one in conflicts_in(outlook.schedule, snapshot.project.id):
        by_visit.setdefault(one.visit, []).append(one)
    for visit in snapshot.visits:
        if visit.id not in by_visit:
            continue
        found = by_visit[visit.id]
        day = local(visit.starts_at, zone).date()
        twice = all(one.kind == CREW_TWICE for one in found)
        lead = f"{visit.crew}, {_day(day, today)}: {'booked twice' if twice else 'can’t come'}"
        why = " ".join(dict.fromkeys(conflict_words(one, zone) for one in found))
        yield Way("door", lead, why, day, not twice, "Move it", f"visits/{visit.id}/change", "change_visit",
                  f"{visit.crew}, {day_words(day)}")


def _unsuited(snapshot: Snapshot, now: int, today: date) -> Iterator[Way]:
    names = [one.name for one in snapshot.people]
    for visit, said in snapshot.unsuited(now):
        day = local(visit.starts_at, snapshot.project.timezone).date()
        lead = f"{visit.crew}, {_day(day, today)}: does not suit {called(said.person, names)}"
        yield Way("door", lead, f"“{said.why}”" if said.why else "", day, sign="Move it",
                  leads=f"visits/{visit.id}/change", doing="change_visit", about=f"{visit.crew}, {day_words(day)}")


def _decisions(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Way]:
    for one in snapshot.decisions:
        yield from [Way("pencil", f"Fails a check of today: {one.question}", words, today, sign="Look",
                        leads=f"decisions/{one.id}/", about=one.question) for words in today_words(one)]
        due = outlook.needed_by.get(one.id) if one.is_open else None
        if one.unanswered:
            yield from _to_answer(snapshot, one, due, today)
        elif one.is_open and not owed(one) and (one.differ or due and due <= today + timedelta(days=_SOON)):
            yield _to_call(snapshot, one, due or today, today)


def _to_answer(snapshot: Snapshot, one: DecisionFact, due: date | None, today: date) -> Iterator[Way]:
    names = [person.name for person in snapshot.people]
    for question in one.unanswered:
        who = called(question.person, names)
        wants = "wants another option" if question.wants_another else "asks"
        rest = f"{who} {wants}: “{question.text}” {_holds(snapshot, one)}".rstrip()
        yield Way("pencil", f"We owe an answer: {one.question}", rest, due or today,
                  due is not None and due < today, "Answer", f"decisions/{one.id}/questions/{question.id}/answer",
                  "answer_question", f"{who}, {quoted([one.question])}")


def _to_call(snapshot: Snapshot, one: DecisionFact, due: date, today: date) -> Way:
    late, person = due < today, whom_to_call(snapshot, one)
    lead = f"Late: {one.question}" if late else f"They differ: {one.question}" if one.differ else (
        f"Due {_day(due, today)}: {one.question}")
    since = f"Due since {_day(due, today)}. " if late else ""
    rest = f"{since}{_holds(snapshot, one)}".rstrip()
    if person is None:
        return Way("pencil", lead, rest, due, late, "Look", f"decisions/{one.id}/", about=one.question)
    return Way("pencil", lead, rest, due, late, "Call", f"tel:{telephone(person.phone)}", about=person.name)


def _holds(snapshot: Snapshot, one: DecisionFact) -> str:
    held = [snapshot.phase(phase) for phase in one.holds]
    names = [phase.name for phase in held if phase.started_at is None]
    return f"It holds {quoted(names[:2])}{f' and {len(names) - 2} more' if len(names) > 2 else ''}." if names else ""


def _messages(snapshot: Snapshot, today: date) -> Iterator[Way]:
    names, zone = [one.name for one in snapshot.people], snapshot.project.timezone
    for one in snapshot.owed_messages:
        who, day = called(one.person, names), local(one.told_at, zone).date()
        yield Way("phone", f"{who} told us, {_day(day, today)}", f"“{one.text}”", day, sign="Answer",
                  leads=f"messages/{one.id}/answer", doing="answer_message", about=f"{who}, message {one.id}")


def _to_ask(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Way]:
    """Questions of the plan whose answer is soon needed."""
    for one in snapshot.planned:
        waiting = [phase for phase in map(snapshot.phase, one.holds) if phase.started_at is None]
        if not waiting:
            continue
        starts = min(outlook.starts[phase.id] for phase in waiting)
        by = answer_by(outlook.booked.plan.calendar, starts, one.lead_days)
        if by <= today + timedelta(days=_ASK_SOON):
            names = quoted([phase.name for phase in waiting][:2])
            yield Way("pencil", f"Not asked yet: {one.question}", f"Needed by {_day(by, today)}. It holds {names}.", by,
                      by < today, "Ask it", f"planned/{one.id}/ask", "ask_planned", one.question)


def _to_order(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Way]:
    for row in planned_rows.orders(snapshot.project.id):
        waiting = [phase for phase in snapshot.phases if phase.id in row.phases]
        starts = _first(waiting, outlook)
        rest = f"For {quoted([phase.name for phase in waiting][:2])}{_from(starts, today)}." if waiting else ""
        by, supplier = starts, supplier_rows.likely_for(row)
        if by and supplier and supplier.lead_days is not None:
            by = order_by(outlook.booked.plan.calendar, by, supplier.lead_days)
            rest += (f" Order by {_day(by, today)}: {supplier.name} take "
                     f"{counted(supplier.lead_days, 'working day')}.")
        yield Way("box", f"Not ordered yet: {row.item}", rest, by or date.max,
                  by is not None and by < today, "Order it", f"orders/{row.id}/order", "order_planned",
                  row.item)


def _to_enter(snapshot: Snapshot, today: date) -> Iterator[Way]:
    for one in to_enter(snapshot):
        yield Way("pencil", f"Not entered yet: {one.what}", one.words, date.max, sign="Enter it", leads=one.way,
                  doing="change_phase", about=f"{one.what}, {one.words}")


def _deliveries(
    snapshot: Snapshot, outlook: Outlook, versions: dict[int, int], today: date, now: int
) -> Iterator[Way]:
    for one in snapshot.deliveries:
        if one.arrived_at is not None:
            continue
        late = one.expected_high < today
        due = short_span_words(one.expected_low, one.expected_high)
        waiting = [snapshot.phase(phase) for phase in one.phases]
        waiting = [phase for phase in waiting if phase.started_at is None]
        rest = f"For {quoted([phase.name for phase in waiting][:2])}{_from(_first(waiting, outlook), today)}." if (
            waiting) else ""
        lead = f"Late: {one.item}, due {due}" if late else f"{one.item}, {due}"
        yield Way("box", lead, rest, one.expected_on, late, "It came", doing="record_arrival", about=one.item,
                  press=came_press(snapshot, one, versions.get(one.id), now))


def _warned(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Way]:
    for one in warnings_in(snapshot, outlook.schedule):
        if isinstance(one, NightWarning):
            person = whom_to_call(snapshot)
            yield Way("phone", "Tell them" if not one.late else "Late: tell them", warning_words(one), one.on or today,
                      one.late, "Call" if person else "", f"tel:{telephone(person.phone)}" if person else "",
                      about=person.name if person else "")
        elif isinstance(one, BegunAhead):
            yield Way("pencil", "Begun out of order", warning_words(one), today, sign="Look", leads="work/",
                      about=one.name)
        else:
            yield Way("pencil", "The contract can be cancelled", warning_words(one), one.on or today)
    for kind in blind_spots(snapshot):
        yield Way("pencil", "Not watched", unwatched_words(kind), date.max, sign="Rooms", leads="rooms/",
                  doing="change_room", about=unwatched_words(kind))


def _first(waiting: Sequence[PhaseFact], outlook: Outlook) -> date | None:
    return min((outlook.starts[phase.id] for phase in waiting), default=None)


def _from(day: date | None, today: date) -> str:
    return "" if day is None else f", {_day(day, today)}"


def _day(day: date, today: date) -> str:
    return "today" if day == today else "tomorrow" if day == today + timedelta(days=1) else dated_words(day, today)


def more_words(rows: Sequence[Way], today: date) -> str:
    """What a fold holds, said on it: `4 more, from Thu Dec 10 on`."""
    dated = [one.day for one in rows if one.day != date.max]
    return "" if not rows else f"{len(rows)} more, from {_day(min(dated), today)} on" if dated else f"{len(rows)} more"
