"""What a manager is warned of besides visits that can't be kept: nights to tell the household about in time, and
answers or orders that fall into the days in which the contract can still be cancelled, work that began ahead of what
it follows."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from portal.planning.contract import CancellationWindow
from portal.planning.household.nights import TELL_DAYS_AHEAD, Shortfall
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Phase
from portal.words.dates import day_words, moment_words

CONTRACT_ANSWER = "contract_answer"
CONTRACT_ORDER = "contract_order"
BEGUN_AHEAD = "begun_ahead"


@dataclass(frozen=True, slots=True)
class PlanWarning:
    """What a manager is warned of. `kind`: CONTRACT_ANSWER, CONTRACT_ORDER, BEGUN_AHEAD or one of
    nights.SHORTFALL_KINDS; `words` say it in a sentence or two. `on`: the first day that it is about; `phases`,
    `decision`, `delivery`: what it is about, by id."""

    kind: str
    words: str
    on: date
    phases: tuple[int, ...] = ()
    decision: int | None = None
    delivery: int | None = None


def night_warnings(found: Iterable[Shortfall], today: date) -> Iterator[PlanWarning]:
    """Warn of each shortfall, and say by when the household must be told, or that it is too late for that."""
    for one in found:
        why = ", ".join(one.why)
        tell = f"Tell the household by {day_words(one.tell_by)}."
        if one.told_late(today):
            tell = f"The household must be told today: it is less than {_TELL_WORDS} working days ahead."
        yield PlanWarning(one.kind, f"{_when(one)} {one.message}, because of {why}. {tell}", one.first, one.phases)


def contract_warnings(schedule: Schedule, window: CancellationWindow) -> Iterator[PlanWarning]:
    """Find open decisions that are needed, and items that are on order, while the contract can still be cancelled.

    Nothing is found once the window is over.
    """
    today = schedule.plan.calendar.day_of(schedule.now)
    if today > window.ends:
        return
    until = f"the contract can be cancelled until the end of {day_words(window.ends)}"
    for dates in schedule.decisions:
        decision = schedule.plan.open_decisions.get(dates.decision)
        if decision and dates.needed_by and dates.needed_by <= window.ends:
            day = day_words(dates.needed_by)
            words = f"Decision {decision.number} is needed by {day}, and {until}. Don’t count on the answer before."
            yield PlanWarning(CONTRACT_ANSWER, words, dates.needed_by, decision=decision.id)
    for delivery in schedule.plan.deliveries if today >= window.signed else ():
        if delivery.arrived is None:
            item = delivery.item or "An item"
            words = f"{item} is on order, and {until}. Make sure that the order can be taken back."
            yield PlanWarning(CONTRACT_ORDER, words, delivery.likely, delivery.phases, delivery=delivery.id)


def begun_ahead(schedule: Schedule) -> Iterator[PlanWarning]:
    """Find phases that have begun though one that they follow is not finished, or its wait is not over yet.

    Either the plan says more than is so, or someone forgot to say that the earlier work is done: common practice.
    """
    plan = schedule.plan
    for phase in plan.phases:
        if not phase.begun or phase.started is None:
            continue
        for link in phase.after:
            before = plan.by_id[link.phase]
            why = _not_over(schedule, before, link.wait)
            if why:
                words = f"“{phase.name}” has begun, but it follows “{before.name}”, {why}"
                yield PlanWarning(BEGUN_AHEAD, words, plan.calendar.day_of(phase.started), (phase.id, before.id))


def _not_over(schedule: Schedule, before: Phase, wait: int) -> str:
    if before.finished is None:
        standing = "is not finished" if before.begun else "has not begun"
        return f"which {standing}. Enter what has happened, or change what it follows."
    if before.finished + wait > schedule.now:
        over = moment_words(schedule.plan.calendar.moment(before.finished + wait))
        return f"and the wait after that is not over before {over}."
    return ""


_TELL_WORDS = {3: "three"}.get(TELL_DAYS_AHEAD, str(TELL_DAYS_AHEAD))


def _when(one: Shortfall) -> str:
    if one.by_day:
        return f"On {day_words(one.first)}, while the crew works,"
    if one.first == one.last:
        return f"In the night of {day_words(one.first)}"
    return f"From the night of {day_words(one.first)} to the night of {day_words(one.last)}"
