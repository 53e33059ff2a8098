"""What an answer on a given day moves, and the sentences that say what waiting costs."""

from bisect import bisect_right
from dataclasses import dataclass
from datetime import date

from portal.planning.answers import AnswerDates
from portal.planning.late import Curve
from portal.planning.plan import Plan, Visit
from portal.planning.schedule import Schedule, last_moment
from portal.planning.situation import Floors, allowed_from, run
from portal.planning.sweep import finished
from portal.planning.wording import day_words


@dataclass(frozen=True, slots=True)
class Moved:
    """`phases` start later than they would with an answer today; `visits` could be kept then, and can't any more."""

    on: date
    finish: int
    phases: tuple[int, ...]
    visits: tuple[int, ...]


def moved_by_answer(schedule: Schedule, decision: int, on: date) -> Moved:
    """One more forward pass, with the held phases free from the day that the answer allows."""
    plan = schedule.plan
    floors = _answered(schedule, decision, on)
    early = run(plan, floors)
    count = plan.rows.floors
    later = [i for i in range(len(plan.phases)) if early.finish[count + i] > schedule.early.finish[count + i]
             or early.clock.get(count + i, 0) > schedule.early.clock.get(count + i, 0)]
    starts = {}
    for i in later:
        done = finished(count + i, early, plan.calendar)
        starts[plan.ordered[i].id] = plan.calendar.subtract(done, int(plan.rows.work[i])) if plan.rows.work[i] else done
    visits = tuple(visit.id for visit in plan.visits if _can_not_be_kept(schedule, visit, starts))
    return Moved(on, last_moment(plan, early, schedule.now), tuple(starts), visits)


def _answered(schedule: Schedule, decision: int, on: date) -> Floors:
    plan = schedule.plan
    morning = allowed_from(plan, on, plan.open_decisions[decision].lead_days)
    floors = Floors(list(schedule.floors.work), dict(schedule.floors.clock))
    for phase in plan.held[decision]:
        floor = 1 + plan.floored.index(plan.network.position[phase.id])
        if morning > floors.clock[floor]:
            floors.clock[floor] = morning
            floors.work[floor] = plan.calendar.work_before(morning)
    return floors


def _can_not_be_kept(schedule: Schedule, visit: Visit, starts: dict[int, int]) -> bool:
    if visit.phase not in starts or visit.starts < schedule.now:
        return False
    return schedule.of(visit.phase).early_start <= visit.starts < starts[visit.phase]


def late_sentences(schedule: Schedule, curve: Curve) -> list[str]:
    """What waiting costs: the date that is kept, the finish that is kept, and what each day after that does."""
    plan = schedule.plan
    dates = next(dates for dates in schedule.decisions if dates.decision == curve.decision)
    said = [_keeps_the_date(schedule, dates)]
    last = _last_in_time(schedule, curve, dates)
    if last is None:
        return said
    day, after = day_words(curve.days[last]), day_words(curve.days[last + 1])
    finish, moved = (day_words(plan.calendar.day_of(moment)) for moment in curve.finishes[last:last + 2])
    if dates.needed_by is None or curve.days[last] > dates.needed_by:
        said.append(f"The finish stays {finish} with an answer by {day}.")
    if _one_for_one(schedule, curve, last):
        said.append(f"From {after} on, each working day of waiting moves the finish by one.")
    else:
        said.append(f"An answer on {after} moves the finish from {finish} to {moved}.")
    return said


def _last_in_time(schedule: Schedule, curve: Curve, dates: AnswerDates) -> int | None:
    """The last of the curve's days before the finish moves to another day. A visit booked later than it could be has
    already cost what an answer up to its date costs."""
    first = max(curve.kept, bisect_right(curve.days, dates.needed_by) if dates.needed_by else 0) - 1
    day_of = schedule.plan.calendar.day_of
    later = (n for n in range(first + 1, len(curve.days)) if day_of(curve.finishes[n]) > day_of(curve.finishes[first]))
    step = next(later, None)
    return None if step is None else step - 1


def _keeps_the_date(schedule: Schedule, dates: AnswerDates) -> str:
    plan = schedule.plan
    names = " and ".join(phase.name for phase in plan.held[dates.decision])
    today = plan.calendar.day_of(schedule.now)
    if dates.needed_by is None or dates.overdue(today):
        starts = min(schedule.of(phase.id).early_start for phase in plan.held[dates.decision])
        return f"With an answer today, {names} can start on {day_words(plan.calendar.day_of(starts))}."
    booked = _next_visit(plan, dates.decision, schedule.now)
    by = day_words(dates.needed_by)
    if booked is None:
        return f"If you answer by {by}, {names} can start as planned."
    return f"If you answer by {by}, {names} comes on {day_words(plan.calendar.day_of(booked.starts))} as booked."


def _next_visit(plan: Plan, decision: int, now: int) -> Visit | None:
    held = {phase.id for phase in plan.held[decision]}
    visits = [visit for visit in plan.visits if visit.phase in held and visit.ends > now]
    return min(visits, key=lambda visit: visit.starts, default=None)


def _one_for_one(schedule: Schedule, curve: Curve, last: int) -> bool:
    """Every answer day after the last in time has its finish one working day after the one before."""
    calendar = schedule.plan.calendar
    finishes = [calendar.day_of(finish) for finish in curve.finishes[last:]]
    return all(
        calendar.add_days(one, 1) == two for one, two in zip(finishes, finishes[1:], strict=False)
    )
