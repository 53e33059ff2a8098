"""What keeps a phase from starting at a given time, in words: the obstacle that lasts longest."""

from collections.abc import Iterator

from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.passes import finished
from portal.planning.schedule.plan import Phase
from portal.planning.schedule.ready_times import answered_until, at_hand, held_until
from portal.words.schedule_words import day_words, moment_words

HELD = "held"
DELIVERY = "delivery"
CURE = "cure"
TOO_EARLY = "too_early"

Obstacle = tuple[int, str, str]
"""Until when, kind, words."""


def obstacle(schedule: Schedule, phase: int, starts: int) -> tuple[str, str] | None:
    """Kind and words of what keeps `phase` longest from starting at `starts`; None when nothing but the hours does."""
    found = schedule.plan.by_id[phase]
    obstacles = [*_holds(schedule, found), *_deliveries(schedule, found), *_follows(schedule, found, starts)]
    obstacles += _dates(schedule, found)
    until, kind, words = max(obstacles, key=lambda one: one[0])
    return (kind, words) if until > starts else None


def _holds(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    plan = schedule.plan
    for number, until in answered_until(plan).items():
        if number in phase.holds:
            day = day_words(plan.calendar.day_of(until))
            yield until, TOO_EARLY, (
                f"Decision {plan.answered[number].number} is answered, and what it is needed for takes until {day}."
            )
    for number, until in held_until(plan, plan.calendar.day_of(schedule.now)).items():
        if number in phase.holds:
            day = day_words(plan.calendar.day_of(until))
            yield until, HELD, (
                f"“{phase.name}” is held by decision {plan.open_decisions[number].number}, which is not answered. "
                f"Answered today, it lets work start on {day}."
            )


def _deliveries(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    calendar = schedule.plan.calendar
    for delivery in schedule.plan.delivered_to.get(phase.id, ()):
        until = at_hand(schedule.plan, delivery, calendar.day_of(schedule.now))
        if delivery.arrived is None:
            item = delivery.item or "A delivery"
            yield until, DELIVERY, f"{item} is not expected before {day_words(calendar.day_of(until - 1))} is over."


def _follows(schedule: Schedule, phase: Phase, starts: int) -> Iterator[Obstacle]:
    plan = schedule.plan
    place = plan.network.position[phase.id]
    for before, wait in plan.network.before[place]:
        name = plan.ordered[before].name
        done = finished(plan.rows.floors + before, schedule.early, plan.calendar)
        if done > starts:
            yield done + wait, TOO_EARLY, f"“{name}” is not finished before {_moment(schedule, done)}."
        elif wait:
            yield done + wait, CURE, f"The wait after “{name}” is not over before {_moment(schedule, done + wait)}."


def _dates(schedule: Schedule, phase: Phase) -> Iterator[Obstacle]:
    plan = schedule.plan
    if phase.not_before is not None:
        day = day_words(plan.calendar.day_of(phase.not_before))
        yield phase.not_before, TOO_EARLY, f"“{phase.name}” is not to start before {day}."
    if plan.resumes_at is not None:
        yield plan.resumes_at, TOO_EARLY, f"The job rests until {_moment(schedule, plan.resumes_at)}."
    yield plan.starts, TOO_EARLY, f"The job starts on {day_words(plan.calendar.day_of(plan.starts))}."


def _moment(schedule: Schedule, instant: int) -> str:
    return moment_words(schedule.plan.calendar.moment(instant))
