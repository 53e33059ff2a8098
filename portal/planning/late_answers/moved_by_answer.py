"""What an answer on a given day moves."""

from dataclasses import dataclass
from datetime import date

from portal.planning.schedule.critical_path import Schedule, last_moment
from portal.planning.schedule.passes import finished
from portal.planning.schedule.plan import Visit
from portal.planning.schedule.ready_times import Floors, allowed_from, run


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
