"""What keeps a phase from starting at a given time, in words: the obstacle that lasts longest."""

from collections.abc import Iterator
from dataclasses import dataclass

from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Phase
from portal.planning.schedule.ready_times import at_hand, held_until, lead_over
from portal.words.dates import day_words, moment_words

HELD = "held"
DELIVERY = "delivery"
CURE = "cure"
TOO_EARLY = "too_early"


@dataclass(frozen=True, slots=True)
class Obstacle:
    """What keeps a phase from starting before `until` (an instant): its `kind` and, in a sentence or two, `words`."""

    until: int
    kind: str
    words: str


def longest_obstacle(schedule: Schedule, phase: int, starts: int) -> Obstacle | None:
    """Find what keeps `phase` (its id) longest from starting at the instant `starts`; None when nothing but the hours
    does."""
    found = schedule.plan.by_id[phase]
    obstacles = [*_holds(schedule, found), *_deliveries(schedule, found), *_follows(schedule, found, starts)]
    obstacles += _dates(schedule, found)
    longest = max(obstacles, key=lambda one: one.until)
    return longest if longest.until > starts else None


def _holds(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    plan = schedule.plan
    for number, until in lead_over(plan).items():
        if number in phase.holds:
            day = day_words(plan.calendar.day_of(until))
            yield Obstacle(until, TOO_EARLY, (
                f"Decision {plan.answered[number].number} is answered, and what it is needed for takes until {day}."
            ))
    for number, until in held_until(plan, plan.calendar.day_of(schedule.now)).items():
        if number in phase.holds:
            day = day_words(plan.calendar.day_of(until))
            yield Obstacle(until, HELD, (
                f"“{phase.name}” is held by decision {plan.open_decisions[number].number}, which is not answered. "
                f"Answered today, it lets work start on {day}."
            ))


def _deliveries(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    calendar = schedule.plan.calendar
    for delivery in schedule.plan.delivered_to.get(phase.id, ()):
        until = at_hand(schedule.plan, delivery, calendar.day_of(schedule.now))
        if delivery.arrived is None:
            item = delivery.item or "A delivery"
            day = day_words(calendar.day_of(until - 1))
            yield Obstacle(until, DELIVERY, f"{item} is not expected before {day} is over.")


def _follows(schedule: Schedule, phase: Phase, starts: int) -> Iterator[Obstacle]:
    plan = schedule.plan
    place = plan.network.position[phase.id]
    for before, wait in plan.network.before[place]:
        name = plan.ordered[before].name
        done = schedule.early.finishes_at(before)
        if done > starts:
            yield Obstacle(done + wait, TOO_EARLY, f"“{name}” is not finished before {_moment(schedule, done)}.")
        elif wait:
            over = done + wait
            yield Obstacle(over, CURE, f"The wait after “{name}” is not over before {_moment(schedule, over)}.")


def _dates(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    plan = schedule.plan
    if phase.not_before is not None:
        day = day_words(plan.calendar.day_of(phase.not_before))
        yield Obstacle(phase.not_before, TOO_EARLY, f"“{phase.name}” is not to start before {day}.")
    if plan.resumes_at is not None:
        yield Obstacle(plan.resumes_at, TOO_EARLY, f"The job rests until {_moment(schedule, plan.resumes_at)}.")
    yield Obstacle(plan.starts, TOO_EARLY, f"The job starts on {day_words(plan.calendar.day_of(plan.starts))}.")


def _moment(schedule: Schedule, instant: int) -> str:
    return moment_words(schedule.plan.calendar.moment(instant))
