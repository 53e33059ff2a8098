"""Random histories of a plan: what people do to it, and when."""

from dataclasses import replace
from datetime import timedelta

from hypothesis import strategies as st

from portal.planning.moves.replay import ANSWER, DELIVERY, PLAN, STOP, VISIT, WORK, Cause, Change
from portal.planning.schedule.plan import DONE, STOPPED, UNDER_WAY, WAITING, Delivery, Phase, Plan, Visit
from tests.planning.late_answers.test_curve import held_plans


@st.composite
def histories(draw: st.DrawFn) -> tuple[Plan, list[Change], int]:
    """A plan, its changes, and the instant at which somebody asks."""
    plan = draw(held_plans())
    first = plan
    now, changes = plan.starts, []
    for _ in range(draw(st.integers(0, 12))):
        now += draw(st.sampled_from([0, 0, 20, 300, 1_440, 4_000, 12_000]))
        plan, cause = _changed(draw, plan, now)
        changes.append(Change(now, plan, cause))
    return first, changes, now + draw(st.sampled_from([0, 100, 3_000, 20_000]))


def _changed(draw: st.DrawFn, plan: Plan, now: int) -> tuple[Plan, Cause]:
    phase = draw(st.sampled_from(plan.phases))
    act = draw(st.sampled_from([_work, _begin, _rest, _finish, _answer, _deliver, _visit]))
    return act(draw, plan, phase, now)


def _with(plan: Plan, phase: Phase) -> Plan:
    return replace(plan, phases=tuple(phase if one.id == phase.id else one for one in plan.phases))


def _work(draw: st.DrawFn, plan: Plan, phase: Phase, now: int) -> tuple[Plan, Cause]:
    work = draw(st.sampled_from([30, 240, 510, 1_530]))
    return _with(plan, replace(phase, low=work, likely=work, high=work)), Cause(PLAN, "plan_changed", (phase.name,))


def _begin(draw: st.DrawFn, plan: Plan, phase: Phase, now: int) -> tuple[Plan, Cause]:
    cause = Cause(WORK, "started", (phase.name,))
    begun = replace(phase, state=UNDER_WAY, started=now)
    return (_with(plan, begun), cause) if phase.state == WAITING else (plan, cause)


def _rest(draw: st.DrawFn, plan: Plan, phase: Phase, now: int) -> tuple[Plan, Cause]:
    cause = Cause(STOP, "stopped", (phase.name,), draw(st.sampled_from(["", "rain"])))
    if phase.state != UNDER_WAY:
        return plan, cause
    on = now + draw(st.sampled_from([60, 5_000]))
    return _with(plan, replace(phase, state=STOPPED, stopped_at=now, resumes_at=on)), cause


def _finish(draw: st.DrawFn, plan: Plan, phase: Phase, now: int) -> tuple[Plan, Cause]:
    cause = Cause(WORK, "finished", (phase.name,))
    done = replace(phase, state=DONE, finished=now)
    return (_with(plan, done), cause) if phase.started is not None else (plan, cause)


def _answer(draw: st.DrawFn, plan: Plan, phase: Phase, now: int) -> tuple[Plan, Cause]:
    one = draw(st.sampled_from(plan.decisions))
    said = replace(one, open=not one.open, answered=plan.calendar.day_of(now) if one.open else None)
    decisions = tuple(said if other.id == one.id else other for other in plan.decisions)
    cause = Cause(ANSWER, "approved" if one.open else "withdrawn", (f"{one.number}",))
    return replace(plan, decisions=decisions), cause


def _deliver(draw: st.DrawFn, plan: Plan, phase: Phase, now: int) -> tuple[Plan, Cause]:
    day = plan.calendar.day_of(now) + timedelta(days=draw(st.integers(-3, 12)))
    arrived = draw(st.sampled_from([None, None, now]))
    delivery = Delivery(1, (phase.id,), day, day, day, arrived, "Tile")
    return replace(plan, deliveries=(delivery,)), Cause(DELIVERY, "delivery_changed", ("Tile",))


def _visit(draw: st.DrawFn, plan: Plan, phase: Phase, now: int) -> tuple[Plan, Cause]:
    starts = now + draw(st.sampled_from([30, 2_000, 9_000]))
    visits = (*plan.visits[-2:], Visit(len(plan.visits) + 1, "Tile setter", starts, starts + 120, phase.id))
    return replace(plan, visits=visits), Cause(VISIT, "visit_booked", ("Tile setter",))
