"""What the schedule is computed from, as plain values: phases with their links, decisions, visits, deliveries."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.network import Network, WaitLink

WAITING = "waiting"
UNDER_WAY = "under_way"
STOPPED = "stopped"
INSPECTION = "inspection"
DONE = "done"
STATES = (WAITING, UNDER_WAY, STOPPED, INSPECTION, DONE)


class PlanError(ValueError):
    """A plan that contradicts itself; `field` names the part, the message says what to do."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


@dataclass(frozen=True, slots=True)
class Predecessor:
    """Finish to start: the phase follows `phase`, `wait` clock minutes (a cure) after it has finished."""

    phase: int
    wait: int = 0


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of work by one trade. `low`, `likely`, `high`, `remaining`: work minutes; `not_before`, `started`,
    `finished`: instants. `room`: its id, None for the whole house.

    `held_by`: decisions that hold it, `released`: those of them that the manager released it from.
    `inspection`: its work is over, but it only counts as finished when an event, expected at `inspection_at`, has come.
    `stopped`: work rests since `stopped_at`, and goes on at `resumes_at` (None: nobody knows when; as if now).
    `rested`: working minutes for which it had rested before it went on again.
    """

    id: int
    name: str
    low: int
    likely: int
    high: int
    room: int | None = None
    crew: str = ""
    after: tuple[Predecessor, ...] = ()
    not_before: int | None = None
    held_by: tuple[int, ...] = ()
    released: tuple[int, ...] = ()
    state: str = WAITING
    started: int | None = None
    finished: int | None = None
    remaining: int | None = None
    inspection_at: int | None = None
    stopped_at: int | None = None
    resumes_at: int | None = None
    rested: int = 0

    @property
    def expected(self) -> int:
        """PERT mean (low + 4 likely + high) / 6, rounded to the minute (Malcolm et al. 1959, from memory)."""
        return (2 * (self.low + 4 * self.likely + self.high) + 6) // 12

    @property
    def holds(self) -> tuple[int, ...]:
        """Ids of the decisions that still hold it if they are open."""
        return tuple(decision for decision in self.held_by if decision not in self.released)

    @property
    def begun(self) -> bool:
        """Whether it was started: under way, stopped, waiting for an inspection, or done."""
        return self.state != WAITING


@dataclass(frozen=True, slots=True)
class Decision:
    """A question that may hold work. `number`: as people know it in the project. `open`: not approved in its current
    revision. `lead_days`: working days between the answer and the held work.

    `asked_for`: the date by which an answer was asked for, used when the decision holds no phase. `answered`: the day
    on which it was approved, if that is known: the lead runs from then on, whatever it is needed for.
    """

    id: int
    number: int
    lead_days: int = 1
    open: bool = True
    asked_for: date | None = None
    answered: date | None = None


@dataclass(frozen=True, slots=True)
class Visit:
    """A booked appointment at the house, from `starts` to `ends` (instants), for a `phase` (its id) or none. Its crew
    may be booked in other projects, too: `project` tells them apart. `key`: what tells its crew from others; empty: the
    crew's name does. `hours`: the crew's own, beside those of the house; None: it has none."""

    id: int
    crew: str
    starts: int
    ends: int
    phase: int | None = None
    project: int = 0
    key: str = ""
    hours: WorkCalendar | None = None


@dataclass(frozen=True, slots=True)
class Delivery:
    """An ordered `item` that `phases` (ids) wait for. It is expected on `likely`, from `low` to `high`; `arrived`: the
    instant at which it came, None while it is on order."""

    id: int
    phases: tuple[int, ...]
    low: date
    likely: date
    high: date
    arrived: int | None = None
    item: str = ""


@dataclass(frozen=True)
class Plan:
    """One project. `starts`: an instant before which nothing is done; `resumes_at`: the whole job rests until then.
    Raises PlanError when made of parts that contradict each other.

    What it derives by *position* is in the order of its network, in which each phase comes after all that it follows.
    """

    phases: tuple[Phase, ...]
    calendar: WorkCalendar
    starts: int
    decisions: tuple[Decision, ...] = ()
    visits: tuple[Visit, ...] = ()
    deliveries: tuple[Delivery, ...] = ()
    resumes_at: int | None = None

    def __post_init__(self) -> None:
        known = {phase.id for phase in self.phases}
        if len(known) < len(self.phases):
            raise PlanError("phases", "two phases have the same id")
        for phase in self.phases:
            _check_phase(phase)
        _check_known("deliveries", known, (phase for delivery in self.deliveries for phase in delivery.phases))

    @cached_property
    def network(self) -> Network:
        """Order and links of the phases. Raises LoopError, UnknownPredecessor."""
        return Network.of(
            {phase.id: phase.name for phase in self.phases},
            [(phase.id, link.phase, link.wait) for phase in self.phases for link in phase.after],
        )

    @cached_property
    def ordered(self) -> tuple[Phase, ...]:
        """Phases in the order of the network."""
        return tuple(self.by_id[phase] for phase in self.network.ids)

    @cached_property
    def predecessors(self) -> tuple[tuple[WaitLink, ...], ...]:
        """By position: what a phase still follows. One that has begun is bound by nothing before it any more."""
        return tuple(
            () if phase.begun else links for phase, links in zip(self.ordered, self.network.before, strict=True)
        )

    @cached_property
    def successors(self) -> tuple[tuple[WaitLink, ...], ...]:
        """By position: what follows a phase and has not begun."""
        return tuple(
            tuple(link for link in links if not self.ordered[link[0]].begun) for links in self.network.after
        )

    @cached_property
    def work(self) -> tuple[int, ...]:
        """By position: expected work minutes of what has not begun; 0 for the rest, whose finish is known otherwise."""
        return tuple(0 if phase.begun else phase.expected for phase in self.ordered)

    @cached_property
    def by_clock(self) -> frozenset[int]:
        """Positions of the phases that happen at a moment of the clock (a cure is over on Saturday) rather than in crew
        hours: those without work, those that wait for an inspection, those that are done."""
        return frozenset(i for i, phase in enumerate(self.ordered) if _by_the_clock(phase))

    @cached_property
    def held(self) -> dict[int, tuple[Phase, ...]]:
        """By open decision: the phases that have not begun and that it holds, in the order of the network."""
        waiting = [phase for phase in self.ordered if not phase.begun]
        return {
            decision: tuple(phase for phase in waiting if decision in phase.holds) for decision in self.open_decisions
        }

    def next_visits(self, now: int) -> dict[int, int]:
        """Give the instant at which the first visit starts that is not over, by id of its phase, where that has not
        begun."""
        booked: dict[int, int] = {}
        for visit in self.visits:
            if visit.phase is not None and visit.ends > now and not self.by_id[visit.phase].begun:
                booked[visit.phase] = min(visit.starts, booked.get(visit.phase, visit.starts))
        return booked

    @cached_property
    def delivered_to(self) -> dict[int, list[Delivery]]:
        """Deliveries by the id of the phase that waits for them; a phase that waits for none is not there."""
        waiting: dict[int, list[Delivery]] = {}
        for delivery in self.deliveries:
            for phase in delivery.phases:
                waiting.setdefault(phase, []).append(delivery)
        return waiting

    @cached_property
    def by_id(self) -> dict[int, Phase]:
        """Phases by id, in the plan's own order."""
        return {phase.id: phase for phase in self.phases}

    @cached_property
    def answered(self) -> dict[int, Decision]:
        """By id: those that are approved on a day that is known, whose lead may not be over yet."""
        return {decision.id: decision for decision in self.decisions if not decision.open and decision.answered}

    @cached_property
    def open_decisions(self) -> dict[int, Decision]:
        """By id: those that are not approved in their current revision."""
        return {decision.id: decision for decision in self.decisions if decision.open}


def _by_the_clock(phase: Phase) -> bool:
    return phase.state in (DONE, INSPECTION) or (not phase.begun and not phase.expected)


def _check_phase(phase: Phase) -> None:
    if not 0 <= phase.low <= phase.likely <= phase.high:
        raise PlanError("work", f"{phase.name}: give low, likely and high in rising order, not below 0")
    if phase.state not in STATES:
        raise PlanError("state", f"{phase.name}: {phase.state!r} is none of {', '.join(STATES)}")
    if phase.state == DONE and phase.finished is None:
        raise PlanError("finished", f"{phase.name} is done; say when it finished")
    if phase.state in (UNDER_WAY, STOPPED) and phase.started is None:
        raise PlanError("started", f"{phase.name} has been started; say when")
    if phase.started is not None and phase.finished is not None and phase.finished < phase.started:
        raise PlanError("finished", f"{phase.name} would finish before it started")
    if any(link.wait < 0 for link in phase.after):
        raise PlanError("after", f"{phase.name}: a wait can't be below 0")


def _check_known(field: str, known: set[int], ids: Iterable[int]) -> None:
    for phase in ids:
        if phase not in known:
            raise PlanError(field, f"phase {phase} is not in this plan")
