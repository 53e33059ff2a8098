"""The shapes of a snapshot: what the store knows of one project at one moment, as plain values.

Times are whole seconds since 1970-01-01T00:00Z, dates are dates, work and waits are minutes, money is cents.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, NamedTuple

from portal.store.told_facts import CrewFact as CrewFact
from portal.store.told_facts import HandoverFact as HandoverFact
from portal.store.told_facts import ItemFact as ItemFact
from portal.store.told_facts import MessageFact as MessageFact
from portal.store.told_facts import PhotoFact as PhotoFact
from portal.store.told_facts import UpdateFact as UpdateFact
from portal.store.told_facts import VisitAnswerFact as VisitAnswerFact


class FirmFact(NamedTuple):
    name: str
    phone: str
    email: str
    address: str
    office_hours: str
    registrations: list[str]
    mark: str = ""  # a few letters beside the name


class ProjectFact(NamedTuple):
    id: int
    name: str
    address: str
    timezone: str
    calendar: str  # JSON text, so that a calendar can be kept by it
    starts_on: date
    promised_on: date | None
    signed_on: date | None
    contract_cents: int | None
    phone: str
    office_hours: str
    closed_at: int | None
    changed: int
    entries: int = 0  # of its record
    responsible_id: int | None = None  # who of the staff runs it
    closed_because: str = ""  # why before all was finished; empty where it was


class RoomFact(NamedTuple):
    id: int
    name: str
    services: list[Any]


def reads_sums(role: str, may_approve: bool, reads_prices: bool) -> bool:
    """Owners read prices; designers, and those who only look on, once an owner has said yes (`reads_prices`)."""
    return reads_prices or is_owner(role, may_approve)


def is_owner(role: str, may_approve: bool) -> bool:
    return role == "homeowner" and may_approve


class PersonFact(NamedTuple):
    id: int
    name: str
    role: str
    phone: str
    email: str
    may_approve: bool
    reads_prices: bool = False

    @property
    def is_owner(self) -> bool:
        return is_owner(self.role, self.may_approve)

    @property
    def reads_sums(self) -> bool:
        return reads_sums(self.role, self.may_approve, self.reads_prices)


class ReleaseFact(NamedTuple):
    phase_id: int
    decision_id: int
    reason: str
    staff: str
    at: int


@dataclass(frozen=True, slots=True)
class PhaseFact:
    id: int
    name: str
    room_id: int | None
    crew: str
    work_low: int
    work_likely: int
    work_high: int
    not_before: date | None
    state: str
    started_at: int | None
    finished_at: int | None
    remaining: int | None
    note: str
    takes: list[Any]
    inspection_at: int | None = None
    stopped_at: int | None = None
    resumes_at: int | None = None
    rested: int = 0
    stopped_reason: str = ""
    after: tuple[tuple[int, int], ...] = ()  # (phase id, wait)
    held_by: tuple[int, ...] = ()  # decision ids
    releases: tuple[ReleaseFact, ...] = ()


class ApprovalFact(NamedTuple):
    decision_id: int
    revision: int
    option: str
    person_id: int
    name: str
    at: int
    signed_on: date | None = None  # the date on the paper
    entered_by: str = ""  # who of the staff entered it from paper; empty: approved on a screen

    @property
    def on_paper(self) -> bool:
        return bool(self.entered_by)


class WithdrawalFact(NamedTuple):
    """An approval of the current revision that was taken back. `entered_by`: who of the staff had entered it."""

    decision_id: int
    option: str
    person_id: int
    person: str
    reason: str
    at: int
    entered_by: str


class QuestionWithdrawalFact(NamedTuple):
    """That the current revision of a question was withdrawn. `lifts_hold`: what it held may start without an answer."""

    decision_id: int
    staff: str
    reason: str
    lifts_hold: bool
    at: int


QUESTION, ANOTHER_OPTION = "question", "another_option"
"""What somebody of the household may say instead of answering."""


class QuestionFact(NamedTuple):
    """A question that was asked back; or that somebody wants another option (`kind`)."""

    id: int
    decision_id: int
    revision: int
    person: str
    text: str
    asked_at: int
    answer: str | None
    answered_by: str | None
    answered_at: int | None
    kind: str = QUESTION

    @property
    def wants_another(self) -> bool:
        return self.kind == ANOTHER_OPTION


@dataclass(frozen=True, slots=True)
class DecisionFact:
    """A decision in its current revision. `approvals` are those of the current revision only."""

    id: int
    number: int
    kind: str
    room_id: int | None
    lead_days: int
    asked_for: date | None
    approvers: str
    revision: int
    state: str
    question: str
    options: list[dict[str, Any]]
    detail: dict[str, Any] | None
    check_code: str
    asked_at: int
    reason: str
    approvals: tuple[ApprovalFact, ...] = ()
    questions: tuple[QuestionFact, ...] = ()
    holds: tuple[int, ...] = ()  # phase ids
    withdrawals: tuple[WithdrawalFact, ...] = ()
    work_has_begun: bool = False  # all that it holds, where it holds any
    withdrawn: QuestionWithdrawalFact | None = None
    as_asked: bool = True  # whether what is kept of it still is what was asked

    @property
    def is_open(self) -> bool:
        """Whether the household can still answer it."""
        return self.state in ("asked", "asked_back") and not self.is_closed

    @property
    def is_closed(self) -> bool:
        """Whether nothing is said in it any more: it was withdrawn, or the work has begun, approved or not."""
        return self.work_has_begun or self.withdrawn is not None

    @property
    def holds_work(self) -> bool:
        """Whether what it holds may not start: it is not approved, and no withdrawal has let that start."""
        return self.state != "approved" and not (self.withdrawn and self.withdrawn.lifts_hold)

    @property
    def unanswered(self) -> list[QuestionFact]:
        """What was asked back and we owe an answer to; an approval doesn't settle it, the begun work does. That
        somebody wants another option is settled by asking anew, too."""
        return [] if self.is_closed else [
            one for one in self.questions
            if one.answer is None and not (one.wants_another and one.revision < self.revision)
        ]

    @property
    def differ(self) -> bool:
        """Whether those who must agree have chosen differently: nothing is settled by it."""
        return self.is_open and len({approval.option for approval in self.approvals}) > 1

    def option(self, key: str) -> dict[str, Any] | None:
        return next((option for option in self.options if option["key"] == key), None)


class PlannedFact(NamedTuple):
    """A question that a plan to start from wants asked, and that was neither asked nor dropped. `holds`: phase ids,
    which don't start before that."""

    id: int
    question: str
    kind: str
    room_id: int | None
    lead_days: int
    holds: list[int]


class VisitFact(NamedTuple):
    id: int
    phase_id: int | None
    crew: str
    purpose: str
    starts_at: int
    ends_at: int
    version: int = 1
    changed_at: int = 0


@dataclass(frozen=True, slots=True)
class DeliveryFact:
    id: int
    item: str
    expected_low: date
    expected_on: date
    expected_high: date
    arrived_at: int | None
    note: str
    phases: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Snapshot:
    firm: FirmFact
    project: ProjectFact
    rooms: tuple[RoomFact, ...]
    people: tuple[PersonFact, ...]
    phases: tuple[PhaseFact, ...]
    decisions: tuple[DecisionFact, ...]
    visits: tuple[VisitFact, ...]
    deliveries: tuple[DeliveryFact, ...]
    updates: tuple[UpdateFact, ...]  # newest first
    handovers: tuple[HandoverFact, ...] = ()
    planned: tuple[PlannedFact, ...] = ()
    messages: tuple[MessageFact, ...] = ()  # the oldest first
    visit_answers: tuple[VisitAnswerFact, ...] = ()  # in the order in which they were given
    crews: Mapping[str, CrewFact] = field(default_factory=dict)  # by each key that stands for one
    sums: bool = True  # False: prices are left out of it (portal.pages.without_sums)

    @property
    def stopped(self) -> bool:
        """Closed before all was finished: nobody goes on with it, and it is not done."""
        return self.project.closed_at is not None and any(phase.finished_at is None for phase in self.phases)

    @property
    def owners(self) -> list[PersonFact]:
        return [person for person in self.people if person.is_owner]

    @property
    def photo_names(self) -> list[str]:
        """Photos that the pages show: of updates, options, open items of hand-overs, messages. Each once."""
        names = [photo.name for update in self.updates for photo in update.photos]
        options = [option for decision in self.decisions for option in decision.options]
        names += [photo["name"] for option in options for photo in option.get("photos") or ()]
        names += [item.photo for handover in self.handovers for item in handover.items if item.photo]
        names += [message.photo for message in self.messages if message.photo]
        return list(dict.fromkeys(names))

    @property
    def owed_messages(self) -> list[MessageFact]:
        """Those that wait for our answer, the oldest first."""
        return [message for message in self.messages if message.answer is None]

    def answers_to(self, visit: VisitFact) -> list[VisitAnswerFact]:
        """What each person said last of a visit as it is booked now: once it is moved, nobody has said anything."""
        last = {
            one.person_id: one for one in self.visit_answers
            if (one.visit_id, one.starts_at, one.ends_at) == (visit.id, visit.starts_at, visit.ends_at)
        }
        return list(last.values())

    def unsuited(self, now: int) -> list[tuple[VisitFact, VisitAnswerFact]]:
        """Visits that are not over and do not suit somebody, as they are booked now, with what they said."""
        coming = [visit for visit in self.visits if visit.ends_at > now]
        return [(visit, said) for visit in coming for said in self.answers_to(visit) if not said.suits]

    def room_name(self, room_id: int | None) -> str:
        return next((room.name for room in self.rooms if room.id == room_id), "The whole house")

    def phase(self, phase_id: int) -> PhaseFact:
        return next(phase for phase in self.phases if phase.id == phase_id)

    def decision(self, decision_id: int) -> DecisionFact:
        return next(decision for decision in self.decisions if decision.id == decision_id)

    def holding(self, phase: PhaseFact) -> list[DecisionFact]:
        """Decisions for which the phase may not start yet: they hold it, and it was not released from them."""
        released = {release.decision_id for release in phase.releases}
        held = [self.decision(one) for one in phase.held_by if one not in released]
        return [one for one in held if one.holds_work] if phase.started_at is None else []

    def unasked(self, phase: PhaseFact) -> list[PlannedFact]:
        """Planned questions that must be asked or dropped before the phase may start."""
        return [one for one in self.planned if phase.id in one.holds] if phase.started_at is None else []
