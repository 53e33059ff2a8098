"""A plan to start from as phases that can be scheduled without a project."""

from portal.planning.schedule.plan import Phase, Predecessor
from portal.planning.starting_plans.plans import StartingPlan


def phases_of(plan: StartingPlan) -> tuple[Phase, ...]:
    """With ids from 1 in the order of the plan; rooms and decisions likewise."""
    ids = {phase.key: number for number, phase in enumerate(plan.phases, 1)}
    rooms = {room.key: number for number, room in enumerate(plan.rooms, 1)}
    decisions = {decision.key: number for number, decision in enumerate(plan.decisions, 1)}
    return tuple(
        Phase(
            ids[phase.key], phase.name, phase.low, phase.likely, phase.high, room=rooms.get(phase.room),
            crew=phase.crew, after=tuple(Predecessor(ids[key], wait) for key, wait in phase.after),
            held_by=tuple(decisions[key] for key in phase.held_by),
        )
        for phase in plan.phases
    )
