"""What the record has to agree with: the facts of a project as they stand in the tables, in the shapes of
portal.record.checking.facts_in_entries and portal.record.checking.tables_check."""

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from hashlib import sha256
from typing import Any

from portal.record.checking.facts_in_entries import Fact, KeptEntry
from portal.record.checking.tables_check import DecisionState, Member, ShownRevision
from portal.record.log.approval_history import ALL, is_enough
from portal.record.log.canonical import read
from portal.store.engine.kept_options import json_in, options_in
from portal.store.engine.named_rows import first_value, rows
from portal.store.facts import ANOTHER_OPTION
from portal.store.rows.wording_rows import wordings
from portal.words.dates import utc_text

_ENTRIES = "SELECT sequence, at, kind, canonical AS content FROM record_entry WHERE project_id = ? ORDER BY sequence"
_APPROVALS = """SELECT d.number, a.revision, a."option", a.name, a.person_id, a.entered_by_id, a.at, a.signed_on
    FROM approval a JOIN decision d ON d.id = a.decision_id WHERE d.project_id = ? ORDER BY a.id"""
_WITHDRAWALS = """SELECT d.number, a.revision, w.reason, w.person_id, w.entered_by_id, w.at FROM withdrawal w
    JOIN approval a ON a.id = w.approval_id JOIN decision d ON d.id = a.decision_id WHERE d.project_id = ?
    ORDER BY a.id"""
_QUESTION_WITHDRAWALS = """SELECT d.number, w.revision, w.reason, w.lifts_hold, w.staff_id, w.at
    FROM question_withdrawal w JOIN decision d ON d.id = w.decision_id WHERE d.project_id = ? ORDER BY w.id"""
_RELEASES = """SELECT d.number, r.phase_id, r.reason, r.staff_id, r.at FROM "release" r
    JOIN decision d ON d.id = r.decision_id WHERE d.project_id = ? ORDER BY r.id"""
_RELEASES_TAKEN_BACK = """SELECT d.number, r.phase_id, t.reason, t.staff_id, t.at FROM release_taken_back t
    JOIN "release" r ON r.id = t.release_id JOIN decision d ON d.id = r.decision_id WHERE d.project_id = ?
    ORDER BY r.id"""
_REVISIONS = """SELECT d.number AS decision, r.number AS revision, r.check_code, r.shown, r.question, r.options,
    r.detail, r.asked_by_id, r.asked_at FROM revision r JOIN decision d ON d.id = r.decision_id WHERE d.project_id = ?
    ORDER BY d.number, r.number"""
_QUESTIONS = """SELECT d.number, q.revision, q.kind, q.text, q.person_id, q.asked_at, q.answer, q.answered_by_id,
    q.answered_at
    FROM question_back q JOIN decision d ON d.id = q.decision_id WHERE d.project_id = ? ORDER BY q.id"""
_HANDOVERS = """SELECT id, phase_id, note, offered_by_id, offered_at, accepted_name, accepted_by_id, accepted_at
    FROM handover WHERE project_id = ? ORDER BY id"""
_ITEMS = """SELECT i.handover_id, i.added_by, i.item, i.room_id, i.who, i.by_on, i.photo, i.photo_sha256, i.added_at,
    i.done_at FROM open_item i JOIN handover h ON h.id = i.handover_id WHERE h.project_id = ? ORDER BY i.id"""
_MESSAGES = """SELECT id, person_id, text, room_id, photo, photo_sha256, told_at, answer, answered_by_id, answered_at
    FROM message WHERE project_id = ? ORDER BY id"""
_VISIT_ANSWERS = """SELECT a.visit_id, a.person_id, a.suits, a.why, a.at, a.starts_at, a.ends_at FROM visit_answer a
    JOIN visit v ON v.id = a.visit_id WHERE v.project_id = ? ORDER BY a.id"""
_STANDING = """SELECT d.number AS decision, d.revision, d.state, d.approvers,
    (SELECT COUNT(*) FROM revision r WHERE r.decision_id = d.id) AS revisions,
    (SELECT COUNT(*) FROM approval a WHERE a.decision_id = d.id AND a.revision = d.revision
        AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id)) AS in_force,
    (SELECT COUNT(*) FROM question_withdrawal q WHERE q.decision_id = d.id AND q.revision = d.revision) AS withdrawn
    FROM decision d WHERE d.project_id = ? ORDER BY d.number"""
_IN_FORCE = """SELECT d.number, a.person_id, a."option" FROM approval a JOIN decision d ON d.id = a.decision_id
    WHERE d.project_id = ? AND a.revision = d.revision
    AND NOT EXISTS (SELECT 1 FROM withdrawal w WHERE w.approval_id = a.id)"""
_MEMBERS = "SELECT id AS person, name, role, may_approve FROM person WHERE project_id = ? ORDER BY id"
_PRICES = "SELECT id, name FROM person WHERE project_id = ? AND reads_prices ORDER BY id"
_CONTRACT = "SELECT contract_cents FROM project WHERE id = ?"


def kept_entries(project_id: int) -> list[KeptEntry]:
    return [KeptEntry(**row) for row in rows(_ENTRIES, project_id, content=lambda text: read(bytes(text)))]


def kept_facts(project_id: int) -> list[tuple[Fact, ...]]:
    """Every fact of the kinds that have an entry each, in the ways in which an entry may tell of it."""
    facts = [*_answers(project_id), *_offers(project_id), *_questions_back(project_id), *_messages(project_id)]
    return [*((fact,) for fact in facts), *_handovers(project_id), *_items(project_id)]


def _answers(project_id: int) -> Iterator[Fact]:
    for one in rows(_REVISIONS, project_id):
        kind, at = "asked" if one["revision"] == 1 else "revised", utc_text(one["asked_at"])
        yield Fact(kind, at, one["asked_by_id"], (one["decision"], one["revision"], one["check_code"]))
    for one in rows(_APPROVALS, project_id):
        staff, person = one["entered_by_id"], one["person_id"]
        answer = (
            one["number"], one["revision"], one["option"], one["name"], person, staff is not None,
            _day(one["signed_on"]),
        )  # fmt: skip
        yield Fact("approved", utc_text(one["at"]), staff or person, answer)
    for one in rows(_WITHDRAWALS, project_id):
        actor = one["entered_by_id"] or one["person_id"]
        yield Fact("withdrawn", utc_text(one["at"]), actor, (one["number"], one["revision"], one["reason"]))
    for one in rows(_QUESTION_WITHDRAWALS, project_id, lifts_hold=bool):
        said = (one["number"], one["revision"], one["reason"], one["lifts_hold"])
        yield Fact("question_withdrawn", utc_text(one["at"]), one["staff_id"], said)
    for one in rows(_RELEASES, project_id):
        yield Fact("released", utc_text(one["at"]), one["staff_id"], (one["number"], one["phase_id"], one["reason"]))
    for one in rows(_RELEASES_TAKEN_BACK, project_id):
        because = (one["number"], one["phase_id"], one["reason"])
        yield Fact("release_taken_back", utc_text(one["at"]), one["staff_id"], because)


def _offers(project_id: int) -> Iterator[Fact]:
    """Layouts that break a rule and are offered all the same."""
    for one in rows(_REVISIONS, project_id, options=options_in):
        for option in one["options"]:
            despite = option.get("despite")
            if isinstance(despite, dict):
                said = (option["key"], *(despite.get(name) for name in ("reason", "by", "at")))
                at, staff = utc_text(one["asked_at"]), one["asked_by_id"]
                yield Fact("failing_layout_offered", at, staff, (one["decision"], one["revision"], *said))


def _day(kept: date | str | None) -> str | None:
    """A date on PostgreSQL, its text on SQLite."""
    return None if kept is None else str(kept)


def photo_file(name: str) -> str:
    """The kept file of an open item's photo, as the record names it."""
    return f"{name}-large.jpg"


def _questions_back(project_id: int) -> Iterator[Fact]:
    for one in rows(_QUESTIONS, project_id):
        number, text = one["number"], one["text"]
        said = "another_option_wanted" if one["kind"] == ANOTHER_OPTION else "asked_back"
        yield Fact(said, utc_text(one["asked_at"]), one["person_id"], (number, one["revision"], text))
        if one["answer"] is not None:
            at = utc_text(one["answered_at"] or 0)
            yield Fact("answered", at, one["answered_by_id"], (number, text, one["answer"]))


def _messages(project_id: int) -> Iterator[Fact]:
    """What the household told us, what we answered, and which visits suit."""
    for one in rows(_MESSAGES, project_id):
        message, text, file = one["id"], one["text"], photo_file(one["photo"]) if one["photo"] else None
        said = (message, text, one["room_id"], file, one["photo_sha256"] or None)
        yield Fact("message_sent", utc_text(one["told_at"]), one["person_id"], said)
        if one["answer"] is not None:
            at = utc_text(one["answered_at"] or 0)
            yield Fact("message_answered", at, one["answered_by_id"], (message, text, one["answer"]))
    for one in rows(_VISIT_ANSWERS, project_id, suits=bool):
        times = (utc_text(one["starts_at"]), utc_text(one["ends_at"]))
        said = (one["visit_id"], one["suits"], one["why"], *times)
        yield Fact("visit_answered", utc_text(one["at"]), one["person_id"], said)


def _handovers(project_id: int) -> Iterator[tuple[Fact, ...]]:
    for one in rows(_HANDOVERS, project_id):
        handover, phase = one["id"], one["phase_id"]
        offered_at, accepted_at = utc_text(one["offered_at"]), one["accepted_at"]
        yield _handed("handed_over", offered_at, one["offered_by_id"], handover, phase, one["note"])
        if accepted_at is not None:
            actor, name = one["accepted_by_id"], one["accepted_name"]
            yield _handed("handover_accepted", utc_text(accepted_at), actor, handover, phase, name)


def _handed(kind: str, at: str, actor: int, handover: int, phase: int | None, said: str) -> tuple[Fact, ...]:
    """Before entries told of the phase's id, they told of the rest."""
    return Fact(kind, at, actor, (handover, phase, said)), Fact(kind, at, actor, (handover, said))


def _items(project_id: int) -> Iterator[tuple[Fact, ...]]:
    """Open items; before entries told all of one, they told its text."""
    for one in rows(_ITEMS, project_id):
        handover, by, item, at = one["handover_id"], one["added_by"], one["item"], utc_text(one["added_at"])
        file = photo_file(one["photo"]) if one["photo"] else None
        day, code = _day(one["by_on"]), one["photo_sha256"] or None
        whole = (handover, by, item, one["room_id"], one["who"] or None, day, file, code)
        yield Fact("open_item", at, 0, whole), Fact("open_item", at, 0, (handover, by, item))
        if one["done_at"] is not None:
            yield (Fact("item_closed", utc_text(one["done_at"]), 0, (handover, item)),)


def shown_revisions(project_id: int) -> list[ShownRevision]:
    """Each revision of each decision, in order, its options as pages show them."""
    return _revisions(project_id, options_in)


def kept_revisions(project_id: int) -> list[ShownRevision]:
    """The same with options of whatever shape they are kept in; text where that is no JSON."""
    return _revisions(project_id, _as_kept)


def _as_kept(value: Any) -> Any:
    found = json_in(value)
    return value if found is None else found


def _revisions(project_id: int, options: Callable[[Any], Any]) -> list[ShownRevision]:
    found = rows(_REVISIONS, project_id, options=options, detail=_as_kept)
    return [ShownRevision(**{name: row[name] for name in ShownRevision._fields}) for row in found]


def wording_hashes(versions: Iterable[str]) -> dict[str, str]:
    """SHA-256 of the words that are kept, by version."""
    return {version: sha256(text.encode()).hexdigest() for version, text in wordings(versions).items()}


def decision_states(project_id: int) -> list[DecisionState]:
    """Where each decision stands, by number."""
    given: dict[int, dict[int, str]] = {}
    for row in rows(_IN_FORCE, project_id):
        given.setdefault(row["number"], {})[row["person_id"]] = row["option"]
    return [
        DecisionState(**row, enough=_enough(approvers, given.get(row["decision"], {})))
        for row in rows(_STANDING, project_id) for approvers in [row.pop("approvers")]
    ]


def _enough(approvers: str, given: dict[int, str]) -> bool:
    """Where all of a household have to, that depends on who was in it, which an old record does not tell."""
    return approvers != ALL and is_enough(approvers, given, ())


def members(project_id: int) -> list[Member]:
    """The household and whoever reads with it."""
    return [Member(**row) for row in rows(_MEMBERS, project_id, may_approve=bool)]


def contract_cents(project_id: int) -> int | None:
    """The price of the contract in cents; None where none was written down."""
    found: int | None = first_value(_CONTRACT, project_id)
    return found


def reading_prices(project_id: int) -> list[tuple[int, str]]:
    """Id and name of those whom an owner has let read prices."""
    return [(row["id"], row["name"]) for row in rows(_PRICES, project_id)]
