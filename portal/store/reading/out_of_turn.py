"""What is still open of a project's plan when a phase starts or is finished."""

from collections.abc import Callable
from typing import Any

from portal.planning.calendar.week import CalendarError
from portal.planning.conflicts.out_of_turn import StillOpen, open_before_finish, open_before_start
from portal.planning.schedule.plan import Plan, PlanError
from portal.store.reading.project_plan import minutes, plan_of
from portal.store.reading.snapshot import read_snapshot

Asked = Callable[[Plan, int, int], tuple[StillOpen, ...]]
TO_START: Asked = open_before_start
TO_FINISH: Asked = open_before_finish


def still_open(asked: Asked, project_id: int, phase_id: int, at: int) -> tuple[StillOpen, ...]:
    """`asked`: TO_START or TO_FINISH; `at` in seconds. Of a plan that can't be computed, nothing."""
    try:
        return asked(plan_of(read_snapshot(project_id)), phase_id, minutes(at))
    except (CalendarError, PlanError, OverflowError):
        return ()


def as_entry(found: tuple[StillOpen, ...]) -> dict[str, Any]:
    """What an entry of the record says of it; nothing where nothing was open."""
    said = [{"kind": one.kind, "id": one.id, "name": one.name} for one in found]
    return {"open": said} if said else {}
