"""What is kept of a project, as the plan that planning computes with: seconds become minutes, days local midnights."""

import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from functools import partial
from typing import TypeVar

from portal.content import cures
from portal.planning.calendar.working_calendar import WorkCalendar, calendar_of
from portal.planning.conflicts.unkept_visits import own_conflicts
from portal.planning.contract import CancellationWindow, cancellation_window
from portal.planning.crews.hours import own_hours
from portal.planning.crews.names import crew_key
from portal.planning.household.house_services import HouseServices, PhaseTimes
from portal.planning.household.outages import NEVER, Span
from portal.planning.household.services import HouseholdError, RoomServices, Service, Take, read_services, read_takes
from portal.planning.schedule import plan as planning
from portal.planning.schedule.critical_path import Schedule, schedule
from portal.store import facts
from portal.store.facts import ProjectFact, Snapshot
from portal.words.dates import local

Read = TypeVar("Read")
_LONGEST_WINDOW = 10  # days after signing in which a window can end; later none is computed


def plan_of(snapshot: Snapshot) -> planning.Plan:
    """The snapshot's phases, decisions, visits and deliveries, in its working calendar."""
    calendar = calendar_of(snapshot.project.calendar, snapshot.project.timezone)
    return planning.Plan(
        phases=tuple(_phase(phase, calendar) for phase in snapshot.phases),
        calendar=calendar,
        starts=calendar.day_start(snapshot.project.starts_on),
        decisions=tuple(_decision(decision, snapshot.project.timezone) for decision in snapshot.decisions),
        visits=tuple(_visit(visit, snapshot) for visit in snapshot.visits),
        deliveries=tuple(_delivery(delivery) for delivery in snapshot.deliveries),
    )


def schedule_of(snapshot: Snapshot, now: int) -> Schedule:
    """The schedule as it stands at `now` (seconds). What people are told is portal.planning.schedule.booked's of it."""
    return schedule(plan_of(snapshot), minutes(now))


def household_of(snapshot: Snapshot, booked: Schedule) -> HouseServices:
    """The rooms with what the household uses in them, and the phases that take from it, as they are booked. A visit
    that can't be kept takes nothing. Once the job has ended early, what is begun rests until nobody knows when, and
    what is not begun takes nothing."""
    rooms = tuple(RoomServices(room.id, room.name, services_of(room)) for room in snapshot.rooms)
    unkept = {one.visit for one in own_conflicts(booked)}
    visits: dict[int, list[Span]] = {}
    for visit in booked.plan.visits:
        if visit.phase is not None and visit.id not in unkept:
            visits.setdefault(visit.phase, []).append((visit.starts, visit.ends))
    going = [phase for phase in snapshot.phases if phase.started_at is not None or not snapshot.stopped]
    times = (_times(phase, booked, visits.get(phase.id, [])) for phase in going)
    phases = (one if one.done or not snapshot.stopped else _left(one) for one in times)
    return HouseServices(rooms, tuple(phases), booked.plan.calendar)


def _left(begun: PhaseTimes) -> PhaseTimes:
    return replace(begun, finish=None, rests=(begun.start, NEVER))


def services_of(room: facts.RoomFact) -> tuple[Service, ...]:
    """What the household uses in it."""
    return _read(read_services, room.services)


def takes_of(phase: facts.PhaseFact) -> tuple[Take, ...]:
    """What the household does without while it lasts."""
    return _read(partial(read_takes, cures=cures()), phase.takes)


def window_of(project: ProjectFact, today: date) -> CancellationWindow | None:
    """The days in which the contract can still be cancelled, if they are not over; for houses in the United States."""
    signed = project.signed_on
    if signed is None or (today - signed).days > _LONGEST_WINDOW or not _in_the_states(project):
        return None
    window = cancellation_window(signed)
    return window if today <= window.ends else None


def _in_the_states(project: ProjectFact) -> bool:
    holidays = json.loads(project.calendar).get("holidays")
    return holidays is None or holidays.get("country") == "US"


def of_crew(text: str, crews: Mapping[str, facts.CrewFact], timezone: str) -> tuple[str, WorkCalendar | None]:
    """What tells the crew that a text names from others, and its own hours where it has some, by this clock."""
    key = crew_key(text)
    crew = crews.get(key)
    if crew is None:
        return key, None
    return f"crew:{crew.id}", hours_of(crew, timezone)


def hours_of(crew: facts.CrewFact, timezone: str) -> WorkCalendar | None:
    """A crew's own hours and days off; None: it works whenever the house lets it."""
    days_off = json.loads(crew.days_off)
    if crew.week is None and not days_off:
        return None
    return calendar_of(json.dumps(own_hours(json.loads(crew.week or "null"), days_off)), timezone)


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
        after=tuple(planning.Predecessor(follows, wait) for follows, wait in phase.after),
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
        rested=phase.rested,
    )


def _decision(decision: facts.DecisionFact, zone: str) -> planning.Decision:
    """Answered on the day of the last approval that it needed. One that was withdrawn is waited for as long as it holds
    work all the same."""
    answered = None
    waited_for = decision.holds_work if decision.withdrawn else decision.is_open
    if decision.approvals and not decision.is_open and not decision.withdrawn:
        answered = local(max(approval.at for approval in decision.approvals), zone).date()
    return planning.Decision(
        decision.id, decision.number, decision.lead_days, waited_for, decision.asked_for, answered
    )


def _visit(visit: facts.VisitFact, snapshot: Snapshot) -> planning.Visit:
    project = snapshot.project
    key, hours = of_crew(visit.crew, snapshot.crews, project.timezone)
    return planning.Visit(
        visit.id, visit.crew, minutes(visit.starts_at), minutes(visit.ends_at), visit.phase_id, project.id, key, hours
    )


def _delivery(delivery: facts.DeliveryFact) -> planning.Delivery:
    return planning.Delivery(
        delivery.id, delivery.phases, delivery.expected_low, delivery.expected_on, delivery.expected_high,
        _instant(delivery.arrived_at), delivery.item,
    )


def _instant(seconds: int | None) -> int | None:
    return None if seconds is None else minutes(seconds)


def _times(phase: facts.PhaseFact, booked: Schedule, visits: list[Span]) -> PhaseTimes:
    dates = booked.of(phase.id)
    rests = _rests(phase, booked.now)
    finish = None if rests and rests[1] == NEVER and phase.state == "stopped" else dates.early_finish
    return PhaseTimes(
        phase.id, phase.name, dates.early_start, finish, phase.room_id, takes_of(phase), tuple(sorted(visits)), rests,
        done=phase.finished_at is not None,
    )


def _rests(phase: facts.PhaseFact, now: int) -> Span | None:
    """From when to when nobody works at it, NEVER where nobody knows: it is stopped, or only the inspection is left."""
    if phase.state == "stopped":
        return _instant(phase.stopped_at) or now, NEVER if phase.resumes_at is None else minutes(phase.resumes_at)
    return (now, NEVER) if phase.state == "inspection" else None


def _read(reader: Callable[[object], tuple[Read, ...]], given: object) -> tuple[Read, ...]:
    """What is kept was checked when it was written; should it still not be readable, the page must come out all the
    same, without it."""
    try:
        return reader(given)
    except HouseholdError:
        return ()
