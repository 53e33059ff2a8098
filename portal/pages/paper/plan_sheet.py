"""The plan on one sheet: a chart by room along the days, as booked, and the next two weeks of what works at home."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from markupsafe import Markup

from portal.drawings.charts.chart import Board, Mark, Stretch, Week, chart
from portal.drawings.charts.plan_rows import ANSWER, DELIVERY, HELD, RUNNING, WORK, PlanRow, PlanSheet, plan_rows
from portal.pages.days.house_line import plan_ahead
from portal.pages.environment import render
from portal.pages.finish.done import finish_of, finish_sentences
from portal.pages.outlook import Outlook, outlook_of
from portal.pages.paper.tonight_table import tonight_weeks
from portal.planning.schedule.critical_path import Schedule
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.desk_lines import owed
from portal.store.reading.forecasts import Foreseen
from portal.store.reading.project_plan import household_of
from portal.words.dates import clock_words, dated_words, local, long_day_words
from portal.words.plurals import counted

_SHOWN_WAIT = 60  # minutes; shorter ones end within the visit and would be no more than a dot
_WAITS = "waits"  # for an answer: ours, or the household's
_STATES = {"done": "done", "under_way": "under way", "stopped": "stopped", "inspection": "waits for the inspector"}


@dataclass(frozen=True, slots=True)
class Drawn:
    title: str
    svg: Markup


def render_plan(snapshot: Snapshot, schedule: Schedule, now: int, foreseen: Foreseen) -> str:
    """A page that prints. `schedule`: the pure one."""
    project, moment = snapshot.project, local(now, snapshot.project.timezone)
    outlook, today = outlook_of(snapshot, schedule), moment.date()
    house = household_of(snapshot, outlook.booked)
    weeks, goes_on = list(_weeks(snapshot, outlook, today)), not snapshot.stopped
    until = today if goes_on else local(project.closed_at or now, project.timezone).date()
    sheet = _sheet(snapshot, outlook, today) if goes_on else None
    return render(
        "plan_sheet.html", snapshot.firm,
        project=project,
        as_of=f"As of {long_day_words(today)}, {clock_words(moment)}.",
        rows=Markup(sheet.svg) if sheet else "",
        left_out=_left_out(sheet, today) if sheet else "",
        weeks=[_drawn(week) for week in weeks if goes_on and week.first + timedelta(days=7) > today],
        gone=[_drawn(week) for week in weeks if week.first + timedelta(days=7) <= until],
        ended=not goes_on,
        finish=list(finish_sentences(finish_of(snapshot, outlook, foreseen.forecast), today)),
        nights=tonight_weeks(house, today) if goes_on else [],
        ahead=plan_ahead(house, today) if goes_on else [],
    )


def _drawn(week: Week) -> Drawn:
    """Words of people are escaped by portal.drawings.writers.markup."""
    return Drawn(week.title, Markup(week.svg))


def _sheet(snapshot: Snapshot, outlook: Outlook, today: date) -> PlanSheet | None:
    """What is on the paper: all that is not done, as rows. None where there is nothing."""
    rows = [*_work_rows(snapshot, outlook), *_other_rows(snapshot, outlook, today)]
    if not rows:
        return None
    last = max(row.until for row in rows)
    calendar = outlook.booked.plan.calendar
    window = (today + timedelta(days=n) for n in range(-3, (last - today).days + 1))
    off = {day for day in window if not calendar.is_working_day(day)}
    return plan_rows(rows, today, off, outlook.finish if any(row.kind in _WORK for row in rows) else None)


_WORK = (WORK, RUNNING, HELD)


def _work_rows(snapshot: Snapshot, outlook: Outlook) -> Iterator[PlanRow]:
    waits = _waits_after(snapshot)
    for phase in snapshot.phases:
        if phase.state == "done":
            continue
        one, state = _stretch(snapshot, outlook, phase, waits.get(phase.id, 0)), _state(snapshot, phase)
        kind = HELD if state == _WAITS else WORK if phase.started_at is None else RUNNING
        rests = one.wait_ends.date() if one.wait_ends else None
        yield PlanRow(phase.name, one.starts.date(), one.ends.date(), kind, rests, state=state)


def _other_rows(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[PlanRow]:
    """Answers and deliveries; what is late stands at today."""
    for decision in snapshot.decisions:
        day = outlook.needed_by.get(decision.id)
        if decision.is_open and day is not None and not owed(decision):
            late = day < today
            question = f"Your answer: {decision.question}"
            yield PlanRow(question, max(day, today), max(day, today), ANSWER, late=late, state="late" if late else "")
    for one in snapshot.deliveries:
        if one.arrived_at is None:
            late, day = one.expected_high < today, max(one.expected_on, today)
            yield PlanRow(f"{one.item} arrives", day, day, DELIVERY, late=late, state="late" if late else "")


def _left_out(sheet: PlanSheet, today: date) -> str:
    """Name what had no room on the sheet. Empty where all had."""
    if not sheet.left_out:
        return ""
    first = min(row.first for row in sheet.left_out)
    return f"{counted(len(sheet.left_out), 'row')} more, from {dated_words(first, today)} on, stand on the page."


def _waits_after(snapshot: Snapshot) -> dict[int, int]:
    """The longest wait after each phase."""
    waits: dict[int, int] = {}
    for phase in snapshot.phases:
        for before, wait in phase.after:
            waits[before] = max(wait, waits.get(before, 0))
    return waits


def _weeks(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Week]:
    stretches = list(_stretches(snapshot, outlook))
    if stretches:
        yield from chart(Board(stretches, list(_marks(snapshot, outlook, today)), _days_off(outlook, stretches), today),
                         ident="plan")


def _stretches(snapshot: Snapshot, outlook: Outlook) -> Iterator[Stretch]:
    waits = _waits_after(snapshot)
    rooms = {room.id: at for at, room in enumerate(snapshot.rooms)}
    for phase in sorted(snapshot.phases, key=lambda one: rooms.get(one.room_id or 0, len(rooms))):
        yield _stretch(snapshot, outlook, phase, waits.get(phase.id, 0))


def _stretch(snapshot: Snapshot, outlook: Outlook, phase: PhaseFact, wait: int) -> Stretch:
    dates, moment = outlook.booked.of(phase.id), outlook.booked.plan.calendar.moment
    starts = moment(dates.early_start)
    ends = max(starts, moment(dates.early_finish))
    over = moment(dates.early_finish + wait) if wait >= _SHOWN_WAIT else None
    return Stretch(
        snapshot.room_name(phase.room_id), phase.name, _wall(starts), _wall(ends), _state(snapshot, phase),
        None if over is None else max(_wall(over), _wall(ends)),
    )


def _wall(moment: datetime) -> datetime:
    """The clock on the wall: the drawing knows no offsets."""
    return moment.replace(tzinfo=None)


def _state(snapshot: Snapshot, phase: PhaseFact) -> str:
    if phase.state == "waiting" and (snapshot.holding(phase) or snapshot.unasked(phase)):
        return _WAITS
    return _STATES.get(phase.state, "")


def _marks(snapshot: Snapshot, outlook: Outlook, today: date) -> Iterator[Mark]:
    """What is late stands at today, where people look."""
    for decision in snapshot.decisions:
        day = outlook.needed_by.get(decision.id)
        if decision.is_open and day is not None:
            room = decision.room_id or next((snapshot.phase(one).room_id for one in decision.holds), None)
            words = "answer by" if day >= today else "answer late"
            yield Mark(snapshot.room_name(room), max(day, today), f"{words}: question {decision.number}")
    for delivery in snapshot.deliveries:
        if delivery.arrived_at is None:
            room = next((snapshot.phase(one).room_id for one in delivery.phases), None)
            words = "expected" if delivery.expected_high >= today else "late"
            yield Mark(snapshot.room_name(room), max(delivery.expected_on, today), f"{words}: {delivery.item}")


def _days_off(outlook: Outlook, stretches: list[Stretch]) -> dict[date, str]:
    calendar = outlook.booked.plan.calendar
    day = min(one.starts for one in stretches).date() - timedelta(days=6)
    last = max(one.last for one in stretches).date() + timedelta(days=6)
    off = {}
    while day <= last:
        if not calendar.is_working_day(day):
            off[day] = "off"
        day += timedelta(days=1)
    return off
