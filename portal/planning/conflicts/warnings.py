"""What a manager is warned of besides visits that can't be kept: nights to tell the household about in time, and
answers or orders that fall into the days in which the contract can still be cancelled, work that began ahead of what
it follows."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime

from portal.planning.contract import CancellationWindow
from portal.planning.household.nights import Shortfall
from portal.planning.schedule.critical_path import Schedule
from portal.planning.schedule.plan import Phase

CONTRACT_ANSWER = "contract_answer"
CONTRACT_ORDER = "contract_order"
PROMISE = "promise"
BEGUN_AHEAD = "begun_ahead"
# How what began ahead of it stands: see BegunAhead.
NOT_BEGUN, UNDER_WAY, CURING = "not_begun", "under_way", "curing"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanWarning:
    """What a manager is warned of. `kind`: CONTRACT_ANSWER, CONTRACT_ORDER, BEGUN_AHEAD, PROMISE or one of
    nights.SHORTFALL_KINDS. `on`: the first day that it is about; `phases`, `decision`, `delivery`: what it is about, by
    id."""

    kind: str
    on: date
    phases: tuple[int, ...] = ()
    decision: int | None = None
    delivery: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NightWarning(PlanWarning):
    """The household must be told of a shortfall; `late`: it should have been by now."""

    shortfall: Shortfall
    late: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ContractWarning(PlanWarning):
    """The contract can be cancelled until the end of the day `until`. An answer to the decision `number` is needed `on`
    a day before that; or the `item` (empty where it has no name) is on order."""

    until: date
    number: int = 0
    item: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BegunAhead(PlanWarning):
    """The phase `name` has begun, but it follows `before`, which `standing` tells of: NOT_BEGUN, UNDER_WAY, or CURING
    until the moment `over` of the project's calendar, else None."""

    name: str
    before: str
    standing: str
    over: datetime | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PromiseWarning(PlanWarning):
    """By the plan as booked all is done on the day `finish`, after the promised one (`on`)."""

    finish: date


def night_warnings(found: Iterable[Shortfall], today: date) -> Iterator[NightWarning]:
    """Warn of each shortfall, and tell whether it is too late to let the household know in time."""
    for one in found:
        late = one.told_late(today)
        yield NightWarning(kind=one.kind, on=one.first, phases=one.phases, shortfall=one, late=late)


def contract_warnings(schedule: Schedule, window: CancellationWindow) -> Iterator[ContractWarning]:
    """Find open decisions that are needed, and items that are on order, while the contract can still be cancelled.

    Nothing is found once the window is over.
    """
    today = schedule.plan.calendar.day_of(schedule.now)
    if today > window.ends:
        return
    for dates in schedule.decisions:
        decision = schedule.plan.open_decisions.get(dates.decision)
        if decision and dates.needed_by and dates.needed_by <= window.ends:
            yield ContractWarning(
                kind=CONTRACT_ANSWER, on=dates.needed_by, decision=decision.id,
                until=window.ends, number=decision.number,
            )
    for delivery in schedule.plan.deliveries if today >= window.signed else ():
        if delivery.arrived is None:
            yield ContractWarning(
                kind=CONTRACT_ORDER, on=delivery.likely, phases=delivery.phases, delivery=delivery.id,
                until=window.ends, item=delivery.item,
            )


def begun_ahead(schedule: Schedule) -> Iterator[BegunAhead]:
    """Find phases that have begun though one that they follow is not finished, or its wait is not over yet.

    Either the plan says more than is so, or someone forgot to say that the earlier work is done: common practice.
    """
    plan = schedule.plan
    for phase in plan.phases:
        if not phase.begun or phase.started is None:
            continue
        for link in phase.after:
            before = plan.by_id[link.phase]
            standing = _standing(before, link.wait, schedule.now)
            if standing:
                over = plan.calendar.moment(before.finished + link.wait) if before.finished is not None else None
                yield BegunAhead(
                    kind=BEGUN_AHEAD, on=plan.calendar.day_of(phase.started), phases=(phase.id, before.id),
                    name=phase.name, before=before.name, standing=standing, over=over,
                )


def _standing(before: Phase, wait: int, now: int) -> str:
    """Empty once it is finished and the wait after it is over."""
    if before.finished is None:
        return UNDER_WAY if before.begun else NOT_BEGUN
    return CURING if before.finished + wait > now else ""
