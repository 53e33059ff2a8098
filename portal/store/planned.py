"""What is kept of a project, as the plan that planning computes with: seconds become minutes, days local midnights."""

from portal.planning import plan as planning
from portal.planning.calendar import WorkCalendar, calendar_of
from portal.planning.schedule import Schedule, schedule
from portal.store import facts
from portal.store.facts import Snapshot


def plan_of(snapshot: Snapshot) -> planning.Plan:
    """The snapshot's phases, decisions, visits and deliveries, in its working calendar."""
    calendar = calendar_of(snapshot.project.calendar, snapshot.project.timezone)
    return planning.Plan(
        phases=tuple(_phase(phase, calendar) for phase in snapshot.phases),
        calendar=calendar,
        starts=calendar.day_start(snapshot.project.starts_on),
        decisions=tuple(_decision(decision) for decision in snapshot.decisions),
        visits=tuple(_visit(visit, snapshot.project.id) for visit in snapshot.visits),
        deliveries=tuple(_delivery(delivery) for delivery in snapshot.deliveries),
    )


def schedule_of(snapshot: Snapshot, now: int) -> Schedule:
    """The schedule as it stands at `now` (seconds)."""
    return schedule(plan_of(snapshot), minutes(now))


def minutes(seconds: int) -> int:
    """The instant, in whole minutes, in which these seconds lie."""
    return seconds // 60


def _phase(phase: facts.PhaseFact, calendar: WorkCalendar) -> planning.Phase:
    return planning.Phase(
        id=phase.id,
        name=phase.name,
        low=phase.work_low,
        likely=phase.work_likely,
        high=phase.work_high,
        room=phase.room_id,
        crew=phase.crew,
        after=tuple(planning.Link(follows, wait) for follows, wait in phase.after),
        not_before=None if phase.not_before is None else calendar.day_start(phase.not_before),
        held_by=phase.held_by,
        released=tuple(release.decision_id for release in phase.releases),
        state=phase.state,
        started=_instant(phase.started_at),
        finished=_instant(phase.finished_at),
        remaining=phase.remaining,
        inspection_at=_instant(phase.inspection_at),
        stopped_at=_instant(phase.stopped_at),
        resumes_at=_instant(phase.resumes_at),
    )


def _decision(decision: facts.DecisionFact) -> planning.Decision:
    return planning.Decision(decision.id, decision.number, decision.lead_days, decision.is_open, decision.asked_for)


def _visit(visit: facts.VisitFact, project_id: int) -> planning.Visit:
    return planning.Visit(
        visit.id, visit.crew, minutes(visit.starts_at), minutes(visit.ends_at), visit.phase_id, project_id
    )


def _delivery(delivery: facts.DeliveryFact) -> planning.Delivery:
    return planning.Delivery(
        delivery.id, delivery.phases, delivery.expected_low, delivery.expected_on, delivery.expected_high,
        _instant(delivery.arrived_at), delivery.item,
    )


def _instant(seconds: int | None) -> int | None:
    return None if seconds is None else minutes(seconds)
