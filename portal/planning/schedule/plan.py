"""What the schedule is computed from, as plain values: phases with their links, decisions, visits, deliveries."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.schedule.network import Network
from portal.planning.schedule.network_levels import Levels
from portal.planning.schedule.passes import Rows

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
class Link:
    """Finish to start: the phase follows `phase`, `wait` clock minutes (a cure) after it has finished."""

    phase: int
    wait: int = 0


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of work by one trade. `low`, `likely`, `high`: work minutes; instants and `remaining` in minutes.

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
    after: tuple[Link, ...] = ()
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
        """Decisions that still hold it if they are open."""
        return tuple(decision for decision in self.held_by if decision not in self.released)

    @property
    def begun(self) -> bool:
        return self.state != WAITING


@dataclass(frozen=True, slots=True)
class Decision:
    """`open`: not approved in its current revision. `lead_days`: working days between the answer and the held work.

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
    """A booked appointment at the house, from `starts` to `ends`. Its crew may be booked in other projects, too."""

    id: int
    crew: str
    starts: int
    ends: int
    phase: int | None = None
    project: int = 0


@dataclass(frozen=True, slots=True)
class Delivery:
    """An ordered item that `phases` wait for. Expected dates low, likely, high; `arrived`: an instant."""

    id: int
    phases: tuple[int, ...]
    low: date
    likely: date
    high: date
    arrived: int | None = None
    item: str = ""


@dataclass(frozen=True)
class Plan:
    """One project. `starts`: nothing is done before; `resumes_at`: the whole job rests until then."""

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
        """Order and links, kept. Raises LoopError, UnknownPredecessor."""
        return Network.of(
            {phase.id: phase.name for phase in self.phases},
            [(phase.id, link.phase, link.wait) for phase in self.phases for link in phase.after],
        )

    @cached_property
    def rows(self) -> Rows:
        """The network made ready for the passes, kept: it does not depend on the time of day."""
        ordered = self.ordered
        return Rows.of(
            self.network,
            work=[0 if phase.begun else phase.expected for phase in ordered],
            clocked={i for i, phase in enumerate(ordered) if _by_the_clock(phase)},
            own={i: 1 + n for n, i in enumerate(self.floored)},
            begun=self.begun,
        )

    @cached_property
    def ordered(self) -> tuple[Phase, ...]:
        """Phases in the order of the network."""
        return tuple(self.by_id[phase] for phase in self.network.ids)

    @cached_property
    def floored(self) -> tuple[int, ...]:
        """Positions of the phases with a floor of their own."""
        return tuple(i for i, phase in enumerate(self.ordered) if self._has_own_floor(phase))

    @cached_property
    def held(self) -> dict[int, tuple[Phase, ...]]:
        """By open decision: the phases that have not begun and that it holds."""
        held: dict[int, list[Phase]] = {decision: [] for decision in self.open_decisions}
        for i in self.floored:
            phase = self.ordered[i]
            for decision in phase.holds:
                if decision in held and not phase.begun:
                    held[decision].append(phase)
        return {decision: tuple(phases) for decision, phases in held.items()}

    @cached_property
    def crew_hours_onward(self) -> tuple[bool, ...]:
        """By position: nothing but crew hours from the start to the finish, no wait and no moment of the clock."""
        onward = [i not in self.rows.clocked for i in range(len(self.phases))]
        for i in reversed(range(len(self.phases))):
            followers = [link for link in self.network.after[i] if link[0] not in self.begun]
            onward[i] = onward[i] and all(onward[after] and not wait for after, wait in followers)
        return tuple(onward)

    @cached_property
    def levels(self) -> Levels:
        """What a late answer to an open decision can reach, made ready to be carried; kept as `rows` is."""
        return Levels.of(
            self.network.before,
            held={self.network.position[phase.id] for phases in self.held.values() for phase in phases},
            work=self.rows.work[:-1].tolist(),
            clocked=frozenset(self.rows.clocked),
            onward=self.crew_hours_onward,
            begun=self.begun,
        )

    @cached_property
    def begun(self) -> frozenset[int]:
        """Positions of the phases that have begun."""
        return frozenset(i for i in self.floored if self.ordered[i].begun)

    @cached_property
    def finished(self) -> tuple[int, ...]:
        """Positions of the phases that are done."""
        return tuple(i for i in self.floored if self.ordered[i].state == DONE)

    def _has_own_floor(self, phase: Phase) -> bool:
        held = any(decision in self.open_decisions or decision in self.answered for decision in phase.holds)
        return phase.begun or held or phase.not_before is not None or phase.id in self.delivered_to

    @cached_property
    def delivered_to(self) -> dict[int, list[Delivery]]:
        """Deliveries by the phase that waits for them."""
        waiting: dict[int, list[Delivery]] = {}
        for delivery in self.deliveries:
            for phase in delivery.phases:
                waiting.setdefault(phase, []).append(delivery)
        return waiting

    @cached_property
    def by_id(self) -> dict[int, Phase]:
        return {phase.id: phase for phase in self.phases}

    @cached_property
    def answered(self) -> dict[int, Decision]:
        """Those that are approved, whose lead may not be over yet."""
        return {decision.id: decision for decision in self.decisions if not decision.open and decision.answered}

    @cached_property
    def open_decisions(self) -> dict[int, Decision]:
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
