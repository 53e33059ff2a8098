"""The matters of one house, from its snapshot and its schedule; read once for each change and each new day."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Any

from portal.planning.calendar.lead import answer_by, order_by
from portal.planning.calendar.working_calendar import WorkCalendar
from portal.planning.conflicts.unkept_visits import own_conflicts
from portal.planning.day_list import Due
from portal.planning.schedule.booked import as_booked
from portal.planning.schedule.critical_path import Schedule
from portal.store.engine.named_rows import as_json, rows
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.finish.moves import MovedFinish
from portal.store.reading.today import matters as kinds
from portal.store.reading.today.matters import Matter
from portal.store.reading.today.of_work import work_matters
from portal.store.reading.today.telling import telling_matters
from portal.words.dates import local

AHEAD = timedelta(days=7)
"""What has a day stands in the list a week before it (common practice: the week is what a crew is told)."""
ORDER_AHEAD = timedelta(days=28)
"""Where nobody knows how long a supplier takes: four weeks before it is needed (common practice)."""
TO_ANSWER = 2
"""Working days that a household is given to answer (common practice)."""
_SHOWN = 200  # letters of what somebody typed

_ORDERS = """SELECT o.id, o.item, o.phases, s.name AS supplier, s.lead_days AS lead FROM planned_order o
    LEFT JOIN supplier s ON s.id = o.supplier_id
    WHERE o.project_id = ? AND o.delivery_id IS NULL AND o.dropped_at IS NULL ORDER BY o.id"""
_VERSIONS = "SELECT id, version FROM delivery WHERE project_id = ? AND arrived_at IS NULL"
_PROPOSALS = """SELECT p.id AS proposal, p.decision_id AS decision, p.at, p.layout, n.name AS person FROM proposal p
    JOIN person n ON n.id = p.person_id JOIN decision d ON d.id = p.decision_id
    JOIN revision r ON r.decision_id = d.id AND r.number = d.revision
    WHERE d.project_id = ? AND d.state IN ('asked', 'asked_back') AND p.at >= r.asked_at
    AND NOT EXISTS (SELECT 1 FROM proposal x WHERE x.decision_id = p.decision_id AND x.id > p.id) ORDER BY p.id"""


@dataclass(frozen=True)
class Looked:
    """A house as it is looked at: all that its matters follow from."""

    snapshot: Snapshot
    pure: Schedule

    @property
    def calendar(self) -> WorkCalendar:
        return self.pure.plan.calendar

    @property
    def now(self) -> int:
        """In seconds."""
        return self.pure.now * 60

    @cached_property
    def today(self) -> date:
        return self.calendar.day_of(self.pure.now)

    @cached_property
    def booked(self) -> Schedule:
        return as_booked(self.pure)

    def day(self, at: int) -> date:
        """The local day of an instant in seconds."""
        return local(at, self.snapshot.project.timezone).date()

    def starts(self, phases: Any) -> dict[str, date]:
        """The day on which each of these phases (ids) starts as booked, by its name; those that have begun left out."""
        found = {}
        for phase in self.snapshot.phases:
            if phase.id in phases and phase.started_at is None:
                found[phase.name] = self.calendar.day_of(self.booked.of(phase.id).early_start)
        return found

    def next_working_day(self, at: int) -> date:
        """The last day on which an answer to what was said at this moment is not late: the working day after it (common
        practice)."""
        return self.calendar.add_days(self.day(at), 1)


def matters_of(snapshot: Snapshot, pure: Schedule, moved: MovedFinish | None = None) -> list[Matter]:
    """All of a house, whatever their day; of one that is closed, what its people still wait for. `pure`: its schedule,
    not as booked; `moved`: what moved the finish, where that is known already."""
    house = Looked(snapshot, pure)
    if snapshot.project.closed_at is not None:
        return [*_messages(house), *_items(house)]
    found = [
        *_late_answers(house), *_unkept(house), *_orders(house), *_deliveries(house), *_questions_to_ask(house),
        *_answers(house), *_messages(house), *_unsuited(house), *_proposals(house), *_items(house),
        *telling_matters(snapshot, pure, house.booked, moved), *work_matters(snapshot, pure, house.booked),
    ]
    return sorted(found, key=lambda one: kinds.KINDS.index(one.kind))


def _late_answers(house: Looked) -> Iterator[Matter]:
    """Questions that the household owes an answer to, from the day on by which it is needed; and those in which they
    differ, at once: somebody must call."""
    dates = {one.decision: one for one in house.pure.decisions}
    for one in house.snapshot.decisions:
        if not one.is_open or one.state == "asked_back":
            continue
        found = dates[one.id]
        needed, latest = found.needed_by, found.latest_by
        if needed is None and not one.differ:
            continue
        finish = house.calendar.day_of(house.booked.finish - 1) if house.snapshot.phases else None
        yield Matter(kinds.DECISION, f"{one.id}", Due(needed, None if one.differ else needed), {
            "decision": one.id, "number": one.number, "question": one.question[:_SHOWN], "differ": one.differ,
            "people": _awaited(house.snapshot, one), "latest": _text(latest),
            "holds": [house.snapshot.phase(phase).name for phase in one.holds][:3], "finish": _text(finish),
        })  # fmt: skip


def _awaited(snapshot: Snapshot, decision: DecisionFact) -> list[int]:
    """Ids of those whose answer is still missing; of those who differ, all who answered."""
    owners = [person.id for person in snapshot.owners]
    wanted = owners if decision.approvers in ("any", "all") else [
        person for person in owners if f"{person}" == decision.approvers
    ]
    answered = {approval.person_id for approval in decision.approvals}
    return [person for person in wanted if decision.differ or person not in answered]


def _unkept(house: Looked) -> Iterator[Matter]:
    """Booked visits that can't be kept for what stands in this house; a crew that is booked twice is told apart, over
    all houses."""
    visits = {visit.id: visit for visit in house.snapshot.visits}
    seen: set[int] = set()
    for one in own_conflicts(house.booked):
        if one.visit in seen:
            continue
        seen.add(one.visit)
        visit, why = visits[one.visit], one.reason
        day = house.day(visit.starts_at)
        yield Matter(kinds.UNKEPT, f"{visit.id}", Due(max(day, house.today), None, True), {
            "visit": visit.id, "crew": visit.crew, "purpose": visit.purpose, "starts_at": visit.starts_at,
            "works": one.first_that_works and one.first_that_works * 60,
            "about": why.about, "name": why.name, "number": why.number, "when": why.when.isoformat(),
            "other": why.other_when and why.other_when.isoformat(),
        })  # fmt: skip


def _orders(house: Looked) -> Iterator[Matter]:
    """What the plan wants ordered: so many working days before the first phase that waits for it starts as booked as
    its supplier takes; where nobody knows how many, by that day."""
    for row in rows(_ORDERS, house.snapshot.project.id, phases=as_json):
        starts = house.starts(row["phases"])
        if not starts:
            continue
        name, needed = min(starts.items(), key=lambda one: one[1])
        lead = row["lead"]
        by = needed if lead is None else order_by(house.calendar, needed, lead)
        yield Matter(kinds.ORDER, f"{row['id']}", Due(by, by - (ORDER_AHEAD if lead is None else AHEAD)), {
            "order": row["id"], "item": row["item"], "phase": name, "needed": _text(needed), "lead": lead,
            "supplier": row["supplier"] or "",
        })  # fmt: skip


def _deliveries(house: Looked) -> Iterator[Matter]:
    """What is on order, from the day on which it may come; late once its last day is over."""
    versions = {row["id"]: row["version"] for row in rows(_VERSIONS, house.snapshot.project.id)}
    for one in house.snapshot.deliveries:
        if one.arrived_at is None:
            starts = sorted((day, name) for name, day in house.starts(one.phases).items())
            yield Matter(kinds.COMES, f"{one.id}", Due(one.expected_high, one.expected_on), {
                "delivery": one.id, "item": one.item, "on": _text(one.expected_on), "high": _text(one.expected_high),
                "phase": starts[0][1] if starts else "", "seen": versions.get(one.id, 1),
            })  # fmt: skip


def _questions_to_ask(house: Looked) -> Iterator[Matter]:
    """What the plan wants asked, early enough for the household to answer before the work that it holds; late once its
    answer can no longer be there in time."""
    for one in house.snapshot.planned:
        starts = house.starts(one.holds)
        if not starts:
            continue
        name, start = min(starts.items(), key=lambda pair: pair[1])
        needed = answer_by(house.calendar, start, one.lead_days)
        to_ask = house.calendar.add_days(needed, -TO_ANSWER, roll="backward")
        yield Matter(kinds.ASK, f"{one.id}", Due(needed, to_ask - AHEAD), {
            "planned": one.id, "question": one.question[:_SHOWN], "phase": name, "start": _text(start),
            "needed": _text(needed),
        })  # fmt: skip


def _answers(house: Looked) -> Iterator[Matter]:
    """Questions back, and other options that somebody wants: ours to answer, before the day by which the household's
    own answer is needed, or the day after."""
    needed = {one.decision: one.needed_by for one in house.pure.decisions}
    for decision in house.snapshot.decisions:
        for one in decision.unanswered:
            by = needed.get(decision.id) if decision.is_open else None
            yield Matter(kinds.QUESTION, f"{one.id}", Due(by or house.next_working_day(one.asked_at)), {
                "decision": decision.id, "number": decision.number, "question": one.id, "person": one.person,
                "text": one.text[:_SHOWN], "another": one.wants_another, "needed": _text(by),
                "holds": [house.snapshot.phase(phase).name for phase in decision.holds][:1],
            })  # fmt: skip


def _messages(house: Looked) -> Iterator[Matter]:
    for one in house.snapshot.owed_messages:
        yield Matter(kinds.MESSAGE, f"{one.id}", Due(house.next_working_day(one.told_at)), {
            "message": one.id, "person": one.person, "text": one.text[:_SHOWN], "day": _text(house.day(one.told_at)),
        })  # fmt: skip


def _unsuited(house: Looked) -> Iterator[Matter]:
    for visit, said in house.snapshot.unsuited(house.now):
        day = house.day(visit.starts_at)
        yield Matter(kinds.UNSUITED, f"{visit.id}.{said.person_id}", Due(max(day, house.today)), {
            "visit": visit.id, "crew": visit.crew, "purpose": visit.purpose, "starts_at": visit.starts_at,
            "person": said.person, "why": said.why[:_SHOWN],
        })  # fmt: skip


def _proposals(house: Looked) -> Iterator[Matter]:
    """The newest of each open question that has not been asked anew since."""
    for row in rows(_PROPOSALS, house.snapshot.project.id):
        decision, day = house.snapshot.decision(row["decision"]), house.next_working_day(row.pop("at"))
        if decision.is_open:
            yield Matter(kinds.PROPOSAL, f"{decision.id}", Due(day), {
                "number": decision.number, "question": decision.question[:_SHOWN], **row,
            })  # fmt: skip


def _items(house: Looked) -> Iterator[Matter]:
    for handover in house.snapshot.handovers:
        for one in handover.still_open:
            yield Matter(kinds.ITEM, f"{one.id}", Due(one.by_on, one.by_on and one.by_on - AHEAD), {
                "item": one.id, "handover": handover.id, "text": one.item[:_SHOWN], "who": one.who,
                "by": _text(one.by_on),
            })  # fmt: skip


def _text(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
