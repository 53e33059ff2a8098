"""What the record has to agree with: the facts of a project as they stand in the tables, in the shapes of
portal.record.checking.facts_in_entries and portal.record.checking.tables_check."""

import json
from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import Any

from portal.record.checking.facts_in_entries import Fact, KeptEntry
from portal.record.checking.tables_check import DecisionState, Member, ShownRevision
from portal.record.log.canonical import read
from portal.store.engine.database import execute
from portal.store.rows.wording_rows import wordings
from portal.words.dates import utc_text

_ENTRIES = "SELECT sequence, at, kind, canonical FROM record_entry WHERE project_id = ? ORDER BY sequence"
_APPROVALS = """SELECT d.number, a.revision, a."option", a.name, a.person_id, a.entered_by_id, a.at
    FROM approval a JOIN decision d ON d.id = a.decision_id WHERE d.project_id = ? ORDER BY a.id"""
_WITHDRAWALS = """SELECT d.number, a.revision, w.reason, w.person_id, w.entered_by_id, w.at FROM withdrawal w
    JOIN approval a ON a.id = w.approval_id JOIN decision d ON d.id = a.decision_id WHERE d.project_id = ?
    ORDER BY a.id"""
_RELEASES = """SELECT d.number, r.phase_id, r.reason, r.staff_id, r.at FROM "release" r
    JOIN decision d ON d.id = r.decision_id WHERE d.project_id = ? ORDER BY r.id"""
_REVISIONS = """SELECT d.number, r.number, r.check_code, r.shown, r.question, r.options, r.detail, r.asked_by_id,
    r.asked_at FROM revision r JOIN decision d ON d.id = r.decision_id WHERE d.project_id = ?
    ORDER BY d.number, r.number"""
_QUESTIONS = """SELECT d.number, q.revision, q.text, q.person_id, q.asked_at, q.answer, q.answered_by_id, q.answered_at
    FROM question_back q JOIN decision d ON d.id = q.decision_id WHERE d.project_id = ? ORDER BY q.id"""
_HANDOVERS = """SELECT id, phase_id, note, offered_by_id, offered_at, accepted_name, accepted_by_id, accepted_at
    FROM handover WHERE project_id = ? ORDER BY id"""
_ITEMS = """SELECT i.handover_id, i.added_by, i.item, i.room_id, i.who, i.by_on, i.photo, i.photo_sha256, i.added_at,
    i.done_at FROM open_item i JOIN handover h ON h.id = i.handover_id WHERE h.project_id = ? ORDER BY i.id"""
_STANDING = """SELECT d.number, d.revision, d.state,
    (SELECT COUNT(*) FROM revision r WHERE r.decision_id = d.id),
    (SELECT COUNT(*) FROM approval a WHERE a.decision_id = d.id AND a.revision = d.revision
        AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id))
    FROM decision d WHERE d.project_id = ? ORDER BY d.number"""
_MEMBERS = "SELECT id, name, role, may_approve FROM person WHERE project_id = ? ORDER BY id"
_CONTRACT = "SELECT contract_cents FROM project WHERE id = ?"


def kept_entries(project_id: int) -> list[KeptEntry]:
    return [KeptEntry(n, at, kind, read(bytes(text))) for n, at, kind, text in _rows(_ENTRIES, project_id)]


def kept_facts(project_id: int) -> list[tuple[Fact, ...]]:
    """Every fact of the kinds that have an entry each, in the ways in which an entry may tell of it."""
    facts = [*_answers(project_id), *_questions_back(project_id)]
    return [*((fact,) for fact in facts), *_handovers(project_id), *_items(project_id)]


def _answers(project_id: int) -> list[Fact]:
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
            Fact("withdrawn", utc_text(at), staff or person, (number, revision, reason))
            for number, revision, reason, person, staff, at in _rows(_WITHDRAWALS, project_id)
        ),
        *(
            Fact("released", utc_text(at), staff, (number, phase, reason))
            for number, phase, reason, staff, at in _rows(_RELEASES, project_id)
        ),
    ]


def photo_file(name: str) -> str:
    """The kept file of an open item's photo, as the record names it."""
    return f"{name}-large.jpg"


def _questions_back(project_id: int) -> Iterator[Fact]:
    for number, revision, text, person, asked_at, answer, staff, answered_at in _rows(_QUESTIONS, project_id):
        yield Fact("asked_back", utc_text(asked_at), person, (number, revision, text))
        if answer is not None:
            yield Fact("answered", utc_text(answered_at or 0), staff, (number, text, answer))


def _handovers(project_id: int) -> Iterator[tuple[Fact, ...]]:
    for handover, phase, note, staff, offered_at, name, person, accepted_at in _rows(_HANDOVERS, project_id):
        yield _handed("handed_over", utc_text(offered_at), staff, handover, phase, note)
        if accepted_at is not None:
            yield _handed("handover_accepted", utc_text(accepted_at), person, handover, phase, name)


def _handed(kind: str, at: str, actor: int, handover: int, phase: int | None, said: str) -> tuple[Fact, ...]:
    """Before entries told of the phase's id, they told of the rest."""
    return Fact(kind, at, actor, (handover, phase, said)), Fact(kind, at, actor, (handover, said))


def _items(project_id: int) -> Iterator[tuple[Fact, ...]]:
    """Open items; before entries told all of one, they told its text."""
    for handover, by, item, room, who, by_on, photo, code, added_at, done_at in _rows(_ITEMS, project_id):
        at, file = utc_text(added_at), photo_file(photo) if photo else None
        day = None if by_on is None else str(by_on)  # a date on PostgreSQL, its text on SQLite
        whole = (handover, by, item, room, who or None, day, file, code or None)
        yield Fact("open_item", at, 0, whole), Fact("open_item", at, 0, (handover, by, item))
        if done_at is not None:
            yield (Fact("item_closed", utc_text(done_at), 0, (handover, item)),)


def shown_revisions(project_id: int) -> list[ShownRevision]:
    """Each revision of each decision, in order."""
    return [
        ShownRevision(number, revision, code, shown, question, _json(options), _json(detail))
        for number, revision, code, shown, question, options, detail, *_ in _rows(_REVISIONS, project_id)
    ]


def wording_hashes(versions: Iterable[str]) -> dict[str, str]:
    """SHA-256 of the words that are kept, by version."""
    return {version: sha256(text.encode()).hexdigest() for version, text in wordings(versions).items()}


def decision_states(project_id: int) -> list[DecisionState]:
    return [DecisionState(*row) for row in _rows(_STANDING, project_id)]


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
