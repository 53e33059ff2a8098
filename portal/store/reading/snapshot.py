"""Reads a project whole, in one transaction and in few plain queries (the mapper costs seventeen times as much)."""

import json
from collections import defaultdict
from collections.abc import Callable, Iterable
from datetime import date
from typing import Any, TypeVar

from portal.store import facts
from portal.store.engine.database import execute, read
from portal.store.facts import Snapshot
from portal.store.refusals import NotFound

_PROJECT = """SELECT id, name, address, timezone, calendar, starts_on, promised_on, signed_on, contract_cents, phone,
    office_hours, closed_at, changed FROM project WHERE id = ?"""
_FIRM = "SELECT name, phone, email, address, office_hours, registrations FROM firm ORDER BY id LIMIT 1"
_ROOMS = "SELECT id, name, services FROM room WHERE project_id = ? ORDER BY position, id"
_PEOPLE = "SELECT id, name, role, phone, email, may_approve FROM person WHERE project_id = ? ORDER BY id"
_PHASES = """SELECT id, name, room_id, crew, work_low, work_likely, work_high, not_before, state, started_at,
    finished_at, remaining, note, takes, inspection_at, stopped_at, resumes_at, rested
    FROM phase WHERE project_id = ? ORDER BY position, id"""
_LINKS = """SELECT l.phase_id, l.after_id, l.wait FROM phase_link l JOIN phase p ON p.id = l.phase_id
    WHERE p.project_id = ? ORDER BY l.id"""
_HOLDS = """SELECT h.phase_id, h.decision_id FROM phase_hold h JOIN phase p ON p.id = h.phase_id
    WHERE p.project_id = ? ORDER BY h.id"""
_RELEASES = """SELECT r.phase_id, r.decision_id, r.reason, s.name, r.at FROM "release" r
    JOIN phase p ON p.id = r.phase_id JOIN staff s ON s.id = r.staff_id WHERE p.project_id = ? ORDER BY r.id"""
_DECISIONS = """SELECT d.id, d.number, d.kind, d.room_id, d.lead_days, d.asked_for, d.approvers, d.revision, d.state,
    r.question, r.options, r.detail, r.check_code, r.asked_at, r.reason
    FROM decision d JOIN revision r ON r.decision_id = d.id AND r.number = d.revision
    WHERE d.project_id = ? ORDER BY d.number"""
_APPROVALS = """SELECT a.decision_id, a.revision, a.option, a.person_id, a.name, a.at, a.signed_on,
    COALESCE(s.name, '') FROM approval a JOIN decision d ON d.id = a.decision_id AND d.revision = a.revision
    LEFT JOIN staff s ON s.id = a.entered_by_id WHERE d.project_id = ?
    AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id) ORDER BY a.id"""
_WITHDRAWALS = """SELECT a.decision_id, a.option, w.person_id, p.name, w.reason, w.at, COALESCE(s.name, '')
    FROM withdrawal w JOIN approval a ON a.id = w.approval_id
    JOIN decision d ON d.id = a.decision_id AND d.revision = a.revision
    JOIN person p ON p.id = w.person_id LEFT JOIN staff s ON s.id = w.entered_by_id
    WHERE d.project_id = ? ORDER BY w.approval_id"""
_QUESTIONS = """SELECT q.id, q.decision_id, q.revision, p.name, q.text, q.asked_at, q.answer, s.name, q.answered_at
    FROM question_back q JOIN decision d ON d.id = q.decision_id JOIN person p ON p.id = q.person_id
    LEFT JOIN staff s ON s.id = q.answered_by_id WHERE d.project_id = ? ORDER BY q.id"""
_VISITS = """SELECT id, phase_id, crew, purpose, starts_at, ends_at, version, changed_at FROM visit
    WHERE project_id = ? AND cancelled_at IS NULL ORDER BY starts_at, id"""
_DELIVERIES = """SELECT id, item, expected_low, expected_on, expected_high, arrived_at, note FROM delivery
    WHERE project_id = ? ORDER BY expected_on, id"""
_DELIVERY_HOLDS = """SELECT h.delivery_id, h.phase_id FROM delivery_hold h JOIN delivery d ON d.id = h.delivery_id
    WHERE d.project_id = ? ORDER BY h.id"""
_UPDATES = """SELECT u.id, COALESCE(s.name, ''), u.at, u.html FROM "update" u LEFT JOIN staff s ON s.id = u.staff_id
    WHERE u.project_id = ? ORDER BY u.at DESC, u.id DESC"""
_PHOTOS = """SELECT f.update_id, f.name, f.caption, f.width, f.height FROM photo f JOIN "update" u ON u.id = f.update_id
    WHERE u.project_id = ? ORDER BY f.id"""

_HANDOVERS = """SELECT h.id, h.phase_id, h.note, h.offered_at, h.accepted_at, h.accepted_name, COALESCE(p.name, '')
    FROM handover h LEFT JOIN person p ON p.id = h.accepted_by_id WHERE h.project_id = ? ORDER BY h.id"""
_ITEMS = """SELECT i.id, i.handover_id, i.room_id, i.item, i.photo, i.who, i.by_on, i.added_by, i.done_at
    FROM open_item i JOIN handover h ON h.id = i.handover_id WHERE h.project_id = ? ORDER BY i.id"""

T = TypeVar("T")
Rows = list[tuple[Any, ...]]


def read_snapshot(project_id: int) -> Snapshot:
    """Everything that the page shows of a project, all as of one moment. Raises NotFound."""
    with read():
        project = _rows(_PROJECT, project_id)
        if not project:
            raise NotFound(what="project")
        return Snapshot(
            firm=read_firm(),
            project=_project(project[0]),
            rooms=tuple(facts.RoomFact(i, name, _json(s)) for i, name, s in _rows(_ROOMS, project_id)),
            people=tuple(
                _made(facts.PersonFact, *row[:5], bool(row[5])) for row in _rows(_PEOPLE, project_id)
            ),
            phases=_phases(project_id),
            decisions=_decisions(project_id),
            visits=tuple(facts.VisitFact(*row) for row in _rows(_VISITS, project_id)),
            deliveries=_deliveries(project_id),
            updates=_updates(project_id),
            handovers=_handovers(project_id),
        )


def read_firm() -> facts.FirmFact:
    found = execute(_FIRM).fetchone()
    if found is None:
        return facts.FirmFact("", "", "", "", "", [])
    return _made(facts.FirmFact, *found[:5], _json(found[5]))


def _project(row: tuple[Any, ...]) -> facts.ProjectFact:
    i, name, address, zone, calendar, starts, promised, signed, *rest = row
    text = calendar if isinstance(calendar, str) else json.dumps(calendar, sort_keys=True)
    return facts.ProjectFact(i, name, address, zone, text, _needed(starts), _date(promised), _date(signed), *rest)


def _phases(project_id: int) -> tuple[facts.PhaseFact, ...]:
    after = _grouped(_rows(_LINKS, project_id))
    held_by = _grouped(_rows(_HOLDS, project_id))
    releases = [facts.ReleaseFact(*row) for row in _rows(_RELEASES, project_id)]
    return tuple(
        _made(
            facts.PhaseFact, *row[:7], _date(row[7]), *row[8:13], _json(row[13]), *row[14:18],
            after=tuple((phase, wait) for phase, wait in after[row[0]]),
            held_by=tuple(decision for (decision,) in held_by[row[0]]),
            releases=tuple(release for release in releases if release.phase_id == row[0]),
        )
        for row in _rows(_PHASES, project_id)
    )


def _decisions(project_id: int) -> tuple[facts.DecisionFact, ...]:
    rows = _rows(_APPROVALS, project_id)
    approvals = _by_decision(_made(facts.ApprovalFact, *row[:6], _date(row[6]), row[7]) for row in rows)
    questions = _by_decision(facts.QuestionFact(*row) for row in _rows(_QUESTIONS, project_id))
    withdrawals = _by_decision(facts.WithdrawalFact(*row) for row in _rows(_WITHDRAWALS, project_id))
    holds: dict[int, list[int]] = defaultdict(list)
    for phase_id, decision_id in _rows(_HOLDS, project_id):
        holds[decision_id].append(phase_id)
    return tuple(
        _made(
            facts.DecisionFact, *row[:5], _date(row[5]), *row[6:10], _json(row[10]), _json(row[11]), *row[12:15],
            approvals=tuple(approvals[row[0]]),
            questions=tuple(questions[row[0]]),
            holds=tuple(holds[row[0]]),
            withdrawals=tuple(withdrawals[row[0]]),
        )
        for row in _rows(_DECISIONS, project_id)
    )


def _deliveries(project_id: int) -> tuple[facts.DeliveryFact, ...]:
    phases = _grouped(_rows(_DELIVERY_HOLDS, project_id))
    return tuple(
        facts.DeliveryFact(
            row[0], row[1], _needed(row[2]), _needed(row[3]), _needed(row[4]), row[5], row[6],
            phases=tuple(phase for (phase,) in phases[row[0]]),
        )
        for row in _rows(_DELIVERIES, project_id)
    )


def _updates(project_id: int) -> tuple[facts.UpdateFact, ...]:
    photos: dict[int, list[facts.PhotoFact]] = defaultdict(list)
    for row in _rows(_PHOTOS, project_id):
        photos[row[0]].append(facts.PhotoFact(*row))
    return tuple(
        _made(facts.UpdateFact, *row, photos=tuple(photos[row[0]])) for row in _rows(_UPDATES, project_id)
    )


def _made(shape: Callable[..., T], *values: Any, **more: Any) -> T:
    """A row is as long as its SELECT says, which no type checker can see."""
    return shape(*values, **more)


def _handovers(project_id: int) -> tuple[facts.HandoverFact, ...]:
    items = [_made(facts.ItemFact, *row[:6], _date(row[6]), *row[7:]) for row in _rows(_ITEMS, project_id)]
    return tuple(
        _made(facts.HandoverFact, *row, items=tuple(item for item in items if item.handover_id == row[0]))
        for row in _rows(_HANDOVERS, project_id)
    )


def _rows(sql: str, project_id: int) -> Rows:
    return execute(sql, project_id).fetchall()


def _grouped(rows: Rows) -> dict[int, list[tuple[Any, ...]]]:
    groups: dict[int, list[tuple[Any, ...]]] = defaultdict(list)
    for first, *rest in rows:
        groups[first].append(tuple(rest))
    return groups


def _by_decision(rows: Iterable[Any]) -> dict[int, list[Any]]:
    groups: dict[int, list[Any]] = defaultdict(list)
    for row in rows:
        groups[row.decision_id].append(row)
    return groups


def _json(value: Any) -> Any:
    return json.loads(value) if isinstance(value, str) else value


def _date(value: Any) -> date | None:
    return date.fromisoformat(value) if isinstance(value, str) else value


def _needed(value: Any) -> date:
    found = _date(value)
    assert found is not None
    return found
