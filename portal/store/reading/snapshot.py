"""Reads a project whole, in one transaction and in few plain queries (the mapper costs seventeen times as much).

Each query names its columns as the fields of the shape that its rows fill: see portal.store.engine.named_rows.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable
from datetime import date
from typing import Any, TypeVar

from portal.record.log.as_asked import is_as_asked
from portal.store import facts
from portal.store.engine.database import read
from portal.store.engine.kept_options import json_in, options_in
from portal.store.engine.named_rows import Row, as_date, as_json, as_json_text, first_row, rows
from portal.store.facts import Snapshot
from portal.store.refusals import NotFound
from portal.store.rows.crews import crew_rows

_PROJECT = """SELECT id, name, address, timezone, calendar, starts_on, promised_on, signed_on, contract_cents, phone,
    office_hours, closed_at, closed_because, changed, responsible_id,
    COALESCE((SELECT size FROM record_edge e WHERE e.project_id = project.id), 0) AS entries
    FROM project WHERE id = ? AND removed_at IS NULL"""
_FIRM = "SELECT name, phone, email, address, office_hours, registrations, mark FROM firm ORDER BY id LIMIT 1"
_ROOMS = "SELECT id, name, services FROM room WHERE project_id = ? ORDER BY position, id"
_PEOPLE = """SELECT id, name, role, phone, email, may_approve, reads_prices FROM person
    WHERE project_id = ? ORDER BY id"""
_PHASES = """SELECT id, name, room_id, crew, work_low, work_likely, work_high, not_before, state, started_at,
    finished_at, remaining, note, takes, inspection_at, stopped_at, resumes_at, rested, stopped_reason
    FROM phase WHERE project_id = ? ORDER BY position, id"""
_LINKS = """SELECT l.phase_id, l.after_id, l.wait FROM phase_link l JOIN phase p ON p.id = l.phase_id
    WHERE p.project_id = ? ORDER BY l.id"""
_HOLDS = """SELECT h.phase_id, h.decision_id FROM phase_hold h JOIN phase p ON p.id = h.phase_id
    WHERE p.project_id = ? ORDER BY h.id"""
_RELEASES = """SELECT r.phase_id, r.decision_id, r.reason, s.name AS staff, r.at FROM "release" r
    JOIN phase p ON p.id = r.phase_id JOIN staff s ON s.id = r.staff_id WHERE p.project_id = ?
    AND NOT EXISTS (SELECT 1 FROM release_taken_back t WHERE t.release_id = r.id) ORDER BY r.id"""
_DECISIONS = """SELECT d.id, d.number, d.kind, d.room_id, d.lead_days, d.asked_for, d.approvers, d.revision, d.state,
    r.question, r.options, r.detail, r.check_code, r.shown, r.asked_at, r.reason
    FROM decision d JOIN revision r ON r.decision_id = d.id AND r.number = d.revision
    WHERE d.project_id = ? ORDER BY d.number"""
_APPROVALS = """SELECT a.decision_id, a.revision, a.option, a.person_id, a.name, a.at, a.signed_on,
    COALESCE(s.name, '') AS entered_by
    FROM approval a JOIN decision d ON d.id = a.decision_id AND d.revision = a.revision
    LEFT JOIN staff s ON s.id = a.entered_by_id WHERE d.project_id = ?
    AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id) ORDER BY a.id"""
_WITHDRAWALS = """SELECT a.decision_id, a.option, w.person_id, p.name AS person, w.reason, w.at,
    COALESCE(s.name, '') AS entered_by
    FROM withdrawal w JOIN approval a ON a.id = w.approval_id
    JOIN decision d ON d.id = a.decision_id AND d.revision = a.revision
    JOIN person p ON p.id = w.person_id LEFT JOIN staff s ON s.id = w.entered_by_id
    WHERE d.project_id = ? ORDER BY w.approval_id"""
_QUESTION_WITHDRAWALS = """SELECT w.decision_id, s.name AS staff, w.reason, w.lifts_hold, w.at
    FROM question_withdrawal w JOIN decision d ON d.id = w.decision_id AND d.revision = w.revision
    JOIN staff s ON s.id = w.staff_id WHERE d.project_id = ?"""
_QUESTIONS = """SELECT q.id, q.decision_id, q.revision, p.name AS person, q.text, q.asked_at, q.answer,
    s.name AS answered_by, q.answered_at, q.kind
    FROM question_back q JOIN decision d ON d.id = q.decision_id JOIN person p ON p.id = q.person_id
    LEFT JOIN staff s ON s.id = q.answered_by_id WHERE d.project_id = ? ORDER BY q.id"""
_VISITS = """SELECT id, phase_id, crew, purpose, starts_at, ends_at, version, changed_at FROM visit
    WHERE project_id = ? AND cancelled_at IS NULL ORDER BY starts_at, id"""
_DELIVERIES = """SELECT id, item, expected_low, expected_on, expected_high, arrived_at, note FROM delivery
    WHERE project_id = ? ORDER BY expected_on, id"""
_DELIVERY_HOLDS = """SELECT h.delivery_id, h.phase_id FROM delivery_hold h JOIN delivery d ON d.id = h.delivery_id
    WHERE d.project_id = ? ORDER BY h.id"""
_UPDATES = """SELECT u.id, COALESCE(s.name, '') AS staff, u.at, u.html
    FROM "update" u LEFT JOIN staff s ON s.id = u.staff_id
    WHERE u.project_id = ? ORDER BY u.at DESC, u.id DESC"""
_PHOTOS = """SELECT f.update_id, f.name, f.caption, f.width, f.height FROM photo f JOIN "update" u ON u.id = f.update_id
    WHERE u.project_id = ? ORDER BY f.id"""
_HANDOVERS = """SELECT h.id, h.phase_id, h.note, h.offered_at, h.accepted_at, h.accepted_name,
    COALESCE(p.name, '') AS accepted_by, h.items_until
    FROM handover h LEFT JOIN person p ON p.id = h.accepted_by_id WHERE h.project_id = ?
    AND h.taken_back_at IS NULL ORDER BY h.id"""
_ITEMS = """SELECT i.id, i.handover_id, i.room_id, i.item, i.photo, i.who, i.by_on, i.added_by, i.done_at
    FROM open_item i JOIN handover h ON h.id = i.handover_id WHERE h.project_id = ? ORDER BY i.id"""
_MESSAGES = """SELECT m.id, m.person_id, p.name AS person, m.room_id, m.text, m.photo, m.told_at, m.answer,
    s.name AS answered_by, m.answered_at FROM message m JOIN person p ON p.id = m.person_id
    LEFT JOIN staff s ON s.id = m.answered_by_id WHERE m.project_id = ? ORDER BY m.id"""
_VISIT_ANSWERS = """SELECT a.visit_id, a.person_id, p.name AS person, a.suits, a.why, a.at, a.starts_at, a.ends_at
    FROM visit_answer a JOIN visit v ON v.id = a.visit_id JOIN person p ON p.id = a.person_id
    WHERE v.project_id = ? ORDER BY a.id"""
_PLANNED = """SELECT id, question, kind, room_id, lead_days, holds FROM planned_question
    WHERE project_id = ? AND decision_id IS NULL AND dropped_at IS NULL ORDER BY id"""
_ASKED = ("check_code", "question", "options", "detail")

T = TypeVar("T")


def read_snapshot(project_id: int) -> Snapshot:
    """Everything that the page shows of a project, all as of one moment. Raises NotFound."""
    with read():
        project = first_row(
            _PROJECT, project_id, calendar=as_json_text, starts_on=_day, promised_on=as_date, signed_on=as_date
        )
        if project is None:
            raise NotFound(what="project")
        holds = rows(_HOLDS, project_id)
        phases = _phases(project_id, holds)
        return Snapshot(
            firm=read_firm(),
            project=facts.ProjectFact(**project),
            rooms=_all(facts.RoomFact, rows(_ROOMS, project_id, services=as_json)),
            people=_all(facts.PersonFact, rows(_PEOPLE, project_id, may_approve=bool, reads_prices=bool)),
            phases=phases,
            decisions=_decisions(project_id, holds, {phase.id for phase in phases if phase.started_at is not None}),
            visits=_all(facts.VisitFact, rows(_VISITS, project_id)),
            deliveries=_deliveries(project_id),
            updates=_updates(project_id),
            handovers=_handovers(project_id),
            messages=_all(facts.MessageFact, rows(_MESSAGES, project_id)),
            visit_answers=_all(facts.VisitAnswerFact, rows(_VISIT_ANSWERS, project_id, suits=bool)),
            planned=_all(facts.PlannedFact, rows(_PLANNED, project_id, holds=as_json)),
            crews=crew_rows.known(),
        )


def read_firm() -> facts.FirmFact:
    """The firm; before it was first written down, one without a name or anything else."""
    found = first_row(_FIRM, registrations=as_json)
    return facts.FirmFact(**found) if found else facts.FirmFact("", "", "", "", "", [])


def _phases(project_id: int, holds: list[Row]) -> tuple[facts.PhaseFact, ...]:
    after = _grouped("phase_id", rows(_LINKS, project_id), lambda row: (row["after_id"], row["wait"]))
    held_by = _grouped("phase_id", holds, lambda row: row["decision_id"])
    releases = _grouped("phase_id", rows(_RELEASES, project_id), _filling(facts.ReleaseFact))
    return tuple(
        facts.PhaseFact(**row, after=after[row["id"]], held_by=held_by[row["id"]], releases=releases[row["id"]])
        for row in rows(_PHASES, project_id, not_before=as_date, takes=as_json)
    )


def _decisions(project_id: int, holds: list[Row], begun: set[int]) -> tuple[facts.DecisionFact, ...]:
    """`begun`: the ids of the phases that have started."""
    approvals = _grouped(
        "decision_id", rows(_APPROVALS, project_id, signed_on=as_date), _filling(facts.ApprovalFact)
    )
    questions = _grouped("decision_id", rows(_QUESTIONS, project_id), _filling(facts.QuestionFact))
    withdrawals = _grouped("decision_id", rows(_WITHDRAWALS, project_id), _filling(facts.WithdrawalFact))
    withdrawn = {
        row["decision_id"]: facts.QuestionWithdrawalFact(**row)
        for row in rows(_QUESTION_WITHDRAWALS, project_id, lifts_hold=bool)
    }
    phases = _grouped("decision_id", holds, lambda row: row["phase_id"])
    return tuple(
        facts.DecisionFact(
            **row, as_asked=is_as_asked(shown, *(row[name] for name in _ASKED)),
            approvals=approvals[row["id"]], questions=questions[row["id"]], holds=phases[row["id"]],
            withdrawals=withdrawals[row["id"]], work_has_begun=begun.issuperset(phases[row["id"]] or {None}),
            withdrawn=withdrawn.get(row["id"]),
        )
        for row in rows(_DECISIONS, project_id, asked_for=as_date, options=options_in, detail=json_in)
        for shown in [row.pop("shown")]
    )


def _deliveries(project_id: int) -> tuple[facts.DeliveryFact, ...]:
    phases = _grouped("delivery_id", rows(_DELIVERY_HOLDS, project_id), lambda row: row["phase_id"])
    return tuple(
        facts.DeliveryFact(**row, phases=phases[row["id"]])
        for row in rows(_DELIVERIES, project_id, expected_low=_day, expected_on=_day, expected_high=_day)
    )


def _updates(project_id: int) -> tuple[facts.UpdateFact, ...]:
    photos = _grouped("update_id", rows(_PHOTOS, project_id), _filling(facts.PhotoFact))
    return tuple(facts.UpdateFact(**row, photos=photos[row["id"]]) for row in rows(_UPDATES, project_id))


def _handovers(project_id: int) -> tuple[facts.HandoverFact, ...]:
    items = _grouped("handover_id", rows(_ITEMS, project_id, by_on=as_date), _filling(facts.ItemFact))
    return tuple(facts.HandoverFact(**row, items=items[row["id"]])
                 for row in rows(_HANDOVERS, project_id, items_until=as_date))


def _all(shape: Callable[..., T], found: Iterable[Row]) -> tuple[T, ...]:
    return tuple(shape(**row) for row in found)


def _filling(shape: Callable[..., T]) -> Callable[[Row], T]:
    return lambda row: shape(**row)


def _grouped(by: str, found: Iterable[Row], value: Callable[[Row], T]) -> defaultdict[int, tuple[T, ...]]:
    """What is made of each row, by the id in the column `by`; nothing for ids that no row has."""
    groups: dict[int, list[T]] = defaultdict(list)
    for row in found:
        groups[row[by]].append(value(row))
    return defaultdict(tuple, {key: tuple(group) for key, group in groups.items()})


def _day(value: Any) -> date:
    """A date that is never left out."""
    found = as_date(value)
    assert found is not None
    return found
