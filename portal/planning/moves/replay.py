"""What moved the finish: a plan's changes replayed one by one, each with the day of the finish before it and after it.

The finish is the day of the plan as booked. A change is reckoned at the moment at which it was made, so that what the
clock had moved by then is not put down to it; between two changes the clock is let run from midnight to midnight. Each
move begins at the day at which the one before it ended: so they add up to the difference, to the day, by construction.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from portal.planning.calendar.week import CalendarError
from portal.planning.moves import drivers
from portal.planning.schedule.booked import early_as_booked
from portal.planning.schedule.network import LoopError, UnknownPredecessor
from portal.planning.schedule.passes import Dates, last_moment
from portal.planning.schedule.plan import DONE, Plan, PlanError

ANSWER = "answer"
DELIVERY = "delivery"
VISIT = "visit"
WORK = "work"
STOP = "stop"
RELEASE = "release"
PLAN = "plan"
TIME = "time"
CAUSES = (ANSWER, DELIVERY, VISIT, WORK, STOP, RELEASE, PLAN, TIME)

_BY_CLOCK = {
    drivers.NOT_ANSWERED: ANSWER, drivers.NOT_COME: DELIVERY, drivers.NOT_STARTED: WORK, drivers.TOOK_LONGER: WORK,
    drivers.RESTED: STOP, drivers.NOT_INSPECTED: STOP, drivers.PASSED: TIME,
}  # fmt: skip
VISIT_OVER = "visit_over"
"""A booked visit is over and its work has not begun: the plan no longer waits for that visit."""


@dataclass(frozen=True, slots=True)
class Cause:
    """`kind`: one of CAUSES. `did`: what happened, or what of portal.planning.moves.drivers did not. `about`: names of
    phases, items or crews, or numbers of decisions as text. `reason`: as somebody typed it."""

    kind: str
    did: str
    about: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """From the instant `at` on the plan is this one."""

    at: int
    plan: Plan
    cause: Cause


@dataclass(frozen=True, slots=True)
class Move:
    """On a local `day` the finish went from one date to another."""

    day: date
    before: date
    after: date
    cause: Cause

    @property
    def days(self) -> int:
        """Calendar days: above zero later, below it earlier."""
        return (self.after - self.before).days


class Replay:
    """A plan on its way through time: `finish` is the day of its finish at the instant `at`, None while it was never
    one that could be computed."""

    def __init__(self, plan: Plan, at: int, finish: date | None = None) -> None:
        self.plan, self.at = plan, at
        self.finish = finish if finish is not None else done_day(plan, at)

    def pass_to(self, at: int) -> Iterator[Move]:
        """Let the clock run, midnight by midnight; what it moves belongs to the day that has passed by then."""
        if all(phase.state == DONE for phase in self.plan.phases):
            self.at = max(at, self.at)
        while self.at < at:
            midnight = self.plan.calendar.day_end(self.plan.calendar.day_of(self.at))
            yield from self._run_to(min(midnight, at))

    def become(self, change: Change) -> Iterator[Move]:
        """Let the clock run up to the change, and make it. One that is dated before the last is made right after it."""
        yield from self.pass_to(change.at)
        self.plan = change.plan
        yield from self._move(done_day(change.plan, self.at), self.plan.calendar.day_of(self.at), change.cause)

    def _run_to(self, at: int) -> Iterator[Move]:
        began, self.at = self.at, at
        found = _early(self.plan, at)
        if found is None:
            return
        after = _day(found, at)
        if after != self.finish:
            yield from self._move(after, self.plan.calendar.day_of(at - 1), self._why(found, began, after))

    def _why(self, found: tuple[Plan, Dates], began: int, after: date) -> Cause:
        if self.finish is not None and after < self.finish:
            over = (visit.crew for visit in self.plan.visits if began < visit.ends <= self.at)
            return Cause(VISIT, VISIT_OVER, tuple(dict.fromkeys(over)))
        driver = drivers.driver(*found, self.at)
        return Cause(_BY_CLOCK[driver.did], driver.did, driver.about)

    def _move(self, after: date | None, day: date, cause: Cause) -> Iterator[Move]:
        """A plan that can't be computed moves nothing: the next that can is compared with the last that could."""
        before = self.finish
        if after is None or after == before:
            return
        self.finish = after
        if before is not None:
            yield Move(day, before, after, cause)


def replayed(start: Plan, at: int, changes: Iterable[Change], now: int) -> tuple[Replay, list[Move]]:
    """Give where the plan ends at the instant `now`, and its moves, oldest first. `start`: the plan at the instant
    `at`; `changes` in their order."""
    replay = Replay(start, at)
    found: list[Move] = []
    for change in changes:
        found += replay.become(change)
    found += replay.pass_to(now)
    return replay, joined(found)


def joined(moves: Iterable[Move]) -> list[Move]:
    """Moves that follow each other on one day for the same cause and reason become one, which names all that they were
    about; those that cancel each other out are left out."""
    found: list[Move] = []
    for move in moves:
        last = found[-1] if found else None
        if last and _alike(last, move):
            about = tuple(dict.fromkeys((*last.cause.about, *move.cause.about)))
            cause = Cause(last.cause.kind, last.cause.did, about, last.cause.reason)
            found[-1] = Move(last.day, last.before, move.after, cause)
        else:
            found.append(move)
    return [move for move in found if move.days]


def done_day(plan: Plan, now: int) -> date | None:
    """The day of the finish of the plan as booked; None where it has no work, or can't be computed."""
    found = _early(plan, now)
    return None if found is None else _day(found, now)


def _early(plan: Plan, now: int) -> tuple[Plan, Dates] | None:
    if not plan.phases:
        return None
    try:
        return early_as_booked(plan, now)
    except (CalendarError, LoopError, UnknownPredecessor, PlanError, OverflowError):
        return None


def _day(found: tuple[Plan, Dates], now: int) -> date:
    plan, early = found
    return plan.calendar.day_of(last_moment(plan, early, now) - 1)


def _alike(one: Move, two: Move) -> bool:
    return (one.day, one.cause.kind, one.cause.did, one.cause.reason) == (
        two.day, two.cause.kind, two.cause.did, two.cause.reason
    )  # fmt: skip
