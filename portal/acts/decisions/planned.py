"""What a plan to start from wants asked is settled by the decision that asks it with drawings, whichever way that was
asked: so nobody is asked twice, and what the plan held is held by the decision from then on."""

from typing import Any

from portal.layouts.kept_checks import dimensions_in
from portal.layouts.kinds import KINDS
from portal.store.rows import plan_rows, planned_rows
from portal.store.tables import Decision, PlannedQuestion


def settle_planned(project_id: int, decision: Decision, detail: Any) -> PlannedQuestion | None:
    """Settle the planned question that this decision asks by drawing: the one of its kind and room. Returns it.

    None where there is none, or where several are as near: then each stays until it is asked or dropped itself. Of
    several, one that holds some of the same work is nearer.
    """
    if decision.kind not in KINDS or dimensions_in(detail) is None:
        return None
    held = plan_rows.held_phases(decision.id)
    like = [
        one for one in planned_rows.questions(project_id)
        if (one.kind, one.room_id) == (decision.kind, decision.room_id)
    ]
    near = [one for one in like if set(one.holds) & set(held)] or like
    if len(near) != 1:
        return None
    (found,) = near
    waiting = [one.id for one in plan_rows.phases_with(found.holds) if one.started_at is None]
    plan_rows.add_holds((phase, decision.id) for phase in waiting)
    planned_rows.settle(found, decision=decision)
    return found
