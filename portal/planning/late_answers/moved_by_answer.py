"""What an answer on a given day moves."""

from dataclasses import dataclass
from datetime import date

from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.passes import forward, last_moment
from portal.planning.schedule.plan import Visit
from portal.planning.schedule.ready_times import ready_times_if_answered


@dataclass(frozen=True, slots=True)
class MovedByAnswer:
    """With an answer `on` a day: `finish` is the instant of the finish, `phases` (ids) start later than they would with
    an answer today, and `visits` (ids) could be kept then, and can't any more."""

    on: date
    finish: int
    phases: tuple[int, ...]
    visits: tuple[int, ...]


def moved_by_answer(schedule: Schedule, decision: int, on: date) -> MovedByAnswer:
    """Find what moves when an open decision (its id) is answered on a day from today on: one more forward pass, with
    the held phases free from the day that the answer allows. Raises KeyError when the decision is not open."""
    plan = schedule.plan
    early = forward(plan, ready_times_if_answered(plan, schedule.ready, decision, on))
    later = {
        phase.id: early.starts_at(i)
        for i, phase in enumerate(plan.ordered) if early.starts_at(i) > schedule.early.starts_at(i)
    }
    visits = tuple(visit.id for visit in plan.visits if _can_not_be_kept(schedule, visit, later))
    return MovedByAnswer(on, last_moment(plan, early, schedule.now), tuple(later), visits)


def _can_not_be_kept(schedule: Schedule, visit: Visit, later: dict[int, int]) -> bool:
    if visit.phase not in later or visit.starts < schedule.now:
        return False
    return schedule.of(visit.phase).early_start <= visit.starts < later[visit.phase]
