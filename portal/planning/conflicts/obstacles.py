"""What keeps a phase from starting at a given time: the obstacle that lasts longest, as facts."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Phase
from portal.planning.schedule.ready_times import at_hand, held_until, lead_over

HELD = "held"
DELIVERY = "delivery"
CURE = "cure"
TOO_EARLY = "too_early"
# What a Reason is about. Finer than the kinds, which are what the API tells apart.
ANSWERED, UNANSWERED, NOT_DELIVERED = "answered", "unanswered", "not_delivered"
UNFINISHED, CURING = "unfinished", "curing"
NOT_BEFORE, RESTING, NOT_BEGUN = "not_before", "resting", "not_begun"


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something can't be when it is booked: `about` says which of the facts below hold.

    ANSWERED: the decision `number` is answered, what it is needed for takes until the day of `when`. UNANSWERED: it
    holds the phase `name`; answered today, it lets work start on that day. NOT_DELIVERED: the item `name` (empty where
    it has none) is not expected before that day is over. UNFINISHED: the phase `name` is not finished before the moment
    `when`; CURING: the wait after it isn't. NOT_BEFORE: the phase `name` is not to start before that day. RESTING: the
    job rests until the moment. NOT_BEGUN: it starts on that day. DAY_OFF and OUT_OF_HOURS: the visit is on that day;
    CREW_OFF and CREW_HOURS: and that is none of the crew `name`, or not all of it.
    CREW_TWICE: the crew `name` comes at the moment `when`, and `other_when` somewhere else, `elsewhere` at another
    project, in `house` where that is said. Moments are those of the project's calendar, with their offset.
    """

    about: str
    when: datetime
    name: str = ""
    number: int = 0
    other_when: datetime | None = None
    elsewhere: bool = False
    house: str = ""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """What keeps a phase from starting before `until` (an instant): its `kind` and the `reason`."""

    until: int
    kind: str
    reason: Reason


def longest_obstacle(schedule: Schedule, phase: int, starts: int) -> Obstacle | None:
    """Find what keeps `phase` (its id) longest from starting at the instant `starts`; None when nothing but the hours
    does."""
    found = schedule.plan.by_id[phase]
    obstacles = [*_holds(schedule, found), *_deliveries(schedule, found), *_follows(schedule, found, starts)]
    obstacles += _dates(schedule, found)
    longest = max(obstacles, key=lambda one: one.until)
    return longest if longest.until > starts else None


def _holds(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    plan, moment = schedule.plan, schedule.plan.calendar.moment
    for decision, until in lead_over(plan).items():
        if decision in phase.holds:
            reason = Reason(ANSWERED, moment(until), phase.name, plan.answered[decision].number)
            yield Obstacle(until, TOO_EARLY, reason)
    for decision, until in held_until(plan, plan.calendar.day_of(schedule.now)).items():
        if decision in phase.holds:
            reason = Reason(UNANSWERED, moment(until), phase.name, plan.open_decisions[decision].number)
            yield Obstacle(until, HELD, reason)


def _deliveries(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    calendar = schedule.plan.calendar
    for delivery in schedule.plan.delivered_to.get(phase.id, ()):
        until = at_hand(schedule.plan, delivery, calendar.day_of(schedule.now))
        if delivery.arrived is None:
            yield Obstacle(until, DELIVERY, Reason(NOT_DELIVERED, calendar.moment(until - 1), delivery.item))


def _follows(schedule: Schedule, phase: Phase, starts: int) -> Iterator[Obstacle]:
    plan, moment = schedule.plan, schedule.plan.calendar.moment
    place = plan.network.position[phase.id]
    for before, wait in plan.network.before[place]:
        name = plan.ordered[before].name
        done = schedule.early.finishes_at(before)
        if done > starts:
            yield Obstacle(done + wait, TOO_EARLY, Reason(UNFINISHED, moment(done), name))
        elif wait:
            yield Obstacle(done + wait, CURE, Reason(CURING, moment(done + wait), name))


def _dates(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    plan, moment = schedule.plan, schedule.plan.calendar.moment
    if phase.not_before is not None:
        yield Obstacle(phase.not_before, TOO_EARLY, Reason(NOT_BEFORE, moment(phase.not_before), phase.name))
    if plan.resumes_at is not None:
        yield Obstacle(plan.resumes_at, TOO_EARLY, Reason(RESTING, moment(plan.resumes_at)))
    yield Obstacle(plan.starts, TOO_EARLY, Reason(NOT_BEGUN, moment(plan.starts)))
