"""What the record has to agree with: the facts of a project as they stand in the tables, in the shapes of
portal.record.agreement."""

import json
from typing import Any

from portal.record.agreement import Fact, KeptEntry, Member, Shown, Standing
from portal.record.canonical import read
from portal.store.database import execute
from portal.when import utc_text

_ENTRIES = "SELECT sequence, at, kind, canonical FROM record_entry WHERE project_id = ? ORDER BY sequence"
_APPROVALS = """SELECT d.number, a.revision, a."option", a.name, a.person_id, a.entered_by_id, a.at
    FROM approval a JOIN decision d ON d.id = a.decision_id WHERE d.project_id = ? ORDER BY a.id"""
_WITHDRAWALS = """SELECT d.number, a.revision, w.reason, w.person_id, w.at FROM withdrawal w
    JOIN approval a ON a.id = w.approval_id JOIN decision d ON d.id = a.decision_id WHERE d.project_id = ?
    ORDER BY a.id"""
_RELEASES = """SELECT d.number, r.phase_id, r.reason, r.staff_id, r.at FROM "release" r
    JOIN decision d ON d.id = r.decision_id WHERE d.project_id = ? ORDER BY r.id"""
_REVISIONS = """SELECT d.number, r.number, r.check_code, r.shown, r.question, r.options, r.detail, r.asked_by_id,
    r.asked_at FROM revision r JOIN decision d ON d.id = r.decision_id WHERE d.project_id = ?
    ORDER BY d.number, r.number"""
_STANDING = """SELECT d.number, d.revision, d.state,
    (SELECT COUNT(*) FROM revision r WHERE r.decision_id = d.id),
    (SELECT COUNT(*) FROM approval a WHERE a.decision_id = d.id AND a.revision = d.revision
        AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id))
    FROM decision d WHERE d.project_id = ? ORDER BY d.number"""
_MEMBERS = "SELECT id, name, role, may_approve FROM person WHERE project_id = ? ORDER BY id"
_CONTRACT = "SELECT contract_cents FROM project WHERE id = ?"


def kept_entries(project_id: int) -> list[KeptEntry]:
    return [KeptEntry(n, at, kind, read(bytes(text))) for n, at, kind, text in _rows(_ENTRIES, project_id)]


def kept_facts(project_id: int) -> list[Fact]:
    """Every fact of the kinds that have an entry each: questions, approvals, withdrawals, releases."""
    return [
        *(
            Fact("asked" if revision == 1 else "revised", utc_text(at), staff, (number, revision, code))
            for number, revision, code, *_, staff, at in _rows(_REVISIONS, project_id)
        ),
        *(
            Fact("approved", utc_text(at), staff or person, (number, revision, option, name, person, staff is not None))
            for number, revision, option, name, person, staff, at in _rows(_APPROVALS, project_id)
        ),
        *(
            Fact("withdrawn", utc_text(at), person, (number, revision, reason))
            for number, revision, reason, person, at in _rows(_WITHDRAWALS, project_id)
        ),
        *(
            Fact("released", utc_text(at), staff, (number, phase, reason))
            for number, phase, reason, staff, at in _rows(_RELEASES, project_id)
        ),
    ]


def shown_revisions(project_id: int) -> list[Shown]:
    """Each revision of each decision, in order."""
    return [
        Shown(number, revision, code, shown, question, _json(options), _json(detail))
        for number, revision, code, shown, question, options, detail, *_ in _rows(_REVISIONS, project_id)
    ]


def standing(project_id: int) -> list[Standing]:
    return [Standing(*row) for row in _rows(_STANDING, project_id)]


def members(project_id: int) -> list[Member]:
    """The household and whoever reads with it."""
    return [Member(i, name, role, bool(may)) for i, name, role, may in _rows(_MEMBERS, project_id)]


def contract_cents(project_id: int) -> int | None:
    found: int | None = _rows(_CONTRACT, project_id)[0][0]
    return found


def _rows(sql: str, project_id: int) -> list[tuple[Any, ...]]:
    rows: list[tuple[Any, ...]] = execute(sql, project_id).fetchall()
    return rows


def _json(value: Any) -> Any:
    return json.loads(value) if isinstance(value, str) else value
