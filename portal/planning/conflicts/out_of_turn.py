"""What is still open when somebody says that a phase starts, or is finished: facts to ask about first, no refusals."""

from collections.abc import Iterator
from dataclasses import dataclass

from portal.planning.schedule.plan import INSPECTION, STOPPED, Phase, Plan

PHASE, INSPECTED, CURE, DELIVERY, DAY_OFF, TOO_SOON = "phase", "inspection", "cure", "delivery", "day_off", "too_soon"


@dataclass(frozen=True, slots=True)
class StillOpen:
    """`kind`: one of the words above. `id`, `name`: of the phase before it, of the delivery; of itself for DAY_OFF and
    TOO_SOON. CURE: `left` clock minutes until the instant `until`. TOO_SOON: `done` of `left` work minutes, the least
    that it was planned with, have passed since it was started. DAY_OFF: `until` lies on the day."""

    kind: str
    id: int
    name: str
    until: int = 0
    left: int = 0
    done: int = 0


def open_before_start(plan: Plan, phase: int, at: int) -> tuple[StillOpen, ...]:
    """What was open at the instant `at`, if the phase (its id) starts then."""
    found = plan.by_id[phase]
    return (*_before(plan, found, at), *_ordered(plan, found, at), *_day_off(plan, found, at))


def open_before_finish(plan: Plan, phase: int, at: int) -> tuple[StillOpen, ...]:
    """What speaks against it that a phase which has begun was finished at the instant `at`: half of the least work that
    it was planned with has not passed, or nobody works on that day."""
    found = plan.by_id[phase]
    return (*_too_soon(plan, found, at), *_day_off(plan, found, at))


def _before(plan: Plan, phase: Phase, at: int) -> Iterator[StillOpen]:
    for link in phase.after:
        before = plan.by_id[link.phase]
        if before.finished is None or before.finished > at:
            kind = INSPECTED if before.state == INSPECTION else PHASE
            yield StillOpen(kind, before.id, before.name)
        elif before.finished + link.wait > at:
            until = before.finished + link.wait
            yield StillOpen(CURE, before.id, before.name, until, until - at)


def _ordered(plan: Plan, phase: Phase, at: int) -> Iterator[StillOpen]:
    for one in plan.delivered_to.get(phase.id, ()):
        if one.arrived is None or one.arrived > at:
            yield StillOpen(DELIVERY, one.id, one.item)


def _day_off(plan: Plan, phase: Phase, at: int) -> Iterator[StillOpen]:
    """Of what happens by the clock, such as an inspection, the day says nothing."""
    if phase.expected and not plan.calendar.is_working_day(plan.calendar.day_of(at)):
        yield StillOpen(DAY_OFF, phase.id, phase.name, at)


def _too_soon(plan: Plan, phase: Phase, at: int) -> Iterator[StillOpen]:
    if phase.state == INSPECTION or phase.started is None:
        return
    until = phase.stopped_at if phase.state == STOPPED and phase.stopped_at is not None else at
    done = max(0, plan.calendar.count(phase.started, max(phase.started, until)) - phase.rested)
    if phase.remaining is not None:
        done = max(done, phase.low - phase.remaining)
    if 2 * done < phase.low:
        yield StillOpen(TOO_SOON, phase.id, phase.name, left=phase.low, done=done)
