"""The outbox's rows: written with the fact, tried when due, settled once.

Each of the sender's moves commits by itself, so that what was handed over is known to be, whatever happens next.
"""

import json
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_json, rows, values
from portal.store.rows.letters.moves import Moves

WAITING, SENT, TOLD, DROPPED, GIVEN_UP = "waiting", "sent", "told", "dropped", "given_up"
UNWRITTEN = "unwritten"
RETURNED = "returned"
FAILED = (GIVEN_UP, UNWRITTEN, RETURNED)
"""No mail tells it any more, and it may still have to be told."""

_ADD = """INSERT INTO notice (project_id, person_id, kind, about, mark, made_at, state, due_at, tries, trouble)
    VALUES (?, ?, ?, ?, ?, ?, 'waiting', ?, 0, '')"""
_ADD_ONCE = f"{_ADD} ON CONFLICT (mark) DO NOTHING"
_NOTICES = """SELECT n.id, n.project_id, n.person_id, n.kind, n.about, n.made_at, n.state, n.due_at, n.tries, n.trouble,
    n.settled_at, p.name, p.email, p.phone,
    (SELECT l.salt FROM link l WHERE l.person_id = p.id AND l.revoked_at IS NULL ORDER BY l.id DESC LIMIT 1) AS salt,
    EXISTS (SELECT 1 FROM consent c WHERE c.person_id = p.id) AND NOT EXISTS
        (SELECT 1 FROM consent c WHERE c.person_id = p.id AND c.withdrawn_at IS NULL) AS on_paper,
    EXISTS (SELECT 1 FROM mail_stop s WHERE s.person_id = p.id AND s.resumed_at IS NULL) AS stopped,
    COALESCE((SELECT b.said FROM bounce b WHERE b.person_id = p.id AND b.email = p.email AND b.bad_address
        AND b.cleared_at IS NULL ORDER BY b.id DESC LIMIT 1), '') AS comes_back,
    j.name AS project, j.timezone AS zone
    FROM notice n JOIN person p ON p.id = n.person_id JOIN project j ON j.id = n.project_id"""
_DUE = f"{_NOTICES} WHERE n.state = 'waiting' AND n.due_at <= ? ORDER BY n.due_at, n.id"
_ONE = f"{_NOTICES} WHERE n.id = ?"
_OLD = f"{_NOTICES} WHERE n.state = 'waiting' AND n.due_at <= ? AND n.made_at <= ? ORDER BY n.id LIMIT ?"
_OF_ENTRIES = f"""{_NOTICES} WHERE n.project_id = ?
    AND n.kind IN ('receipt', 'other_owner', 'handover_accepted') ORDER BY n.id"""
_IN_STATE = f"{_NOTICES} WHERE n.state = ? ORDER BY n.id DESC LIMIT ?"
_THESE = f"{_NOTICES} WHERE n.id IN ({{}}) ORDER BY n.id"
_ALL_HELD = "UPDATE notice SET trouble = ? WHERE state = 'waiting' AND due_at <= ?"
_OPEN = "state IN ('waiting', 'given_up', 'unwritten', 'returned')"
_SETTLE = f"UPDATE notice SET state = ?, settled_at = ? WHERE id = ? AND {_OPEN}"
_MOVED = "SELECT about FROM notice WHERE person_id = ? AND kind = 'visit_moved' AND state = 'waiting' ORDER BY id"
_OF_PERSON = "SELECT about FROM notice WHERE person_id = ? AND kind = ? AND state <> 'dropped'"
_REACHED = "SELECT about FROM notice WHERE person_id = ? AND kind = ? AND state IN ('sent', 'told', 'returned')"
_WAITS = "SELECT about FROM notice WHERE person_id = ? AND kind = ? AND state = 'waiting'"
_ASLEEP = """SELECT id, about FROM notice WHERE project_id = ? AND state = 'dropped' AND settled_at >= ?
    AND kind IN ('asked', 'reminder', 'other_owner') ORDER BY id"""
_WAKE = "UPDATE notice SET state = 'waiting', settled_at = NULL, due_at = ? WHERE id = ? AND state = 'dropped'"
_UNTOLD = f"""SELECT id, about FROM notice WHERE project_id = ? AND {_OPEN}
    AND kind IN ('visit_moved', 'visit_cancelled') ORDER BY id"""
_REWRITE = f"UPDATE notice SET about = ? WHERE id = ? AND {_OPEN}"
_LINKS = """SELECT n.about, n.state, n.settled_at, p.name FROM person p JOIN notice n ON n.person_id = p.id
    WHERE p.project_id = ? AND n.kind = 'link' ORDER BY n.id"""
_AWAITED = """SELECT DISTINCT d.project_id FROM decision d JOIN project j ON j.id = d.project_id
    LEFT JOIN reminder_look l ON l.project_id = j.id WHERE d.state = 'asked' AND j.closed_at IS NULL
    AND (l.project_id IS NULL OR l.changed <> j.changed OR l.next_at <= ? OR l.next_at > ?) ORDER BY d.project_id"""
_LOOKED_AT = """INSERT INTO reminder_look (project_id, changed, next_at) VALUES (?, ?, ?)
    ON CONFLICT (project_id) DO UPDATE SET changed = excluded.changed, next_at = excluded.next_at"""
_TWO_DAYS = 2 * 24 * 3600

_MOVES = Moves("notice")
claim, put_back, later, give_up = _MOVES.claim, _MOVES.put_back, _MOVES.later, _MOVES.give_up


class Notice(NamedTuple):
    """A notice with whom it is for: `salt` makes the link that opens for them now, `on_paper` says that they have gone
    back to paper, `stopped` that they want no mail; `comes_back`: what was said of the last letter to this bad
    address."""

    id: int
    project_id: int
    person_id: int
    kind: str
    about: dict[str, Any]
    made_at: int
    state: str
    due_at: int
    tries: int
    trouble: str
    settled_at: int | None
    name: str
    email: str
    phone: str
    salt: str | None
    on_paper: bool
    stopped: bool
    comes_back: str
    project: str
    zone: str


def add(project_id: int, person_id: int, kind: str, about: dict[str, Any], now: int) -> None:
    """Within the act's own transaction: one row, tried at the next tick."""
    execute(_ADD, project_id, person_id, kind, json.dumps(about), None, now, now)


def add_once(project_id: int, person_id: int, kind: str, about: dict[str, Any], mark: str, now: int) -> None:
    """Unless there was ever a notice with this mark."""
    with write():
        execute(_ADD_ONCE, project_id, person_id, kind, json.dumps(about), mark, now, now)


def due(now: int) -> list[Notice]:
    """The one that is due longest first."""
    return _notices(_DUE, now)


def one(notice_id: int) -> Notice:
    (found,) = _notices(_ONE, notice_id)
    return found


def old(now: int, made_before: int, limit: int) -> list[Notice]:
    """Those due that were made by then."""
    return _notices(_OLD, now, made_before, limit)


def about_entry(project_id: int, sequence: int) -> list[Notice]:
    """Those that bring the receipt of this entry of the record, or tell others of it, the first one first."""
    return [notice for notice in _notices(_OF_ENTRIES, project_id) if notice.about.get("entry") == sequence]


def in_state(state: str, limit: int) -> list[Notice]:
    """The newest first."""
    return _notices(_IN_STATE, state, limit)


def these(ids: Sequence[int]) -> list[Notice]:
    return _notices(_THESE.format(", ".join("?" * len(ids))), *ids) if ids else []


def held(now: int, trouble: str) -> None:
    """Why nothing of what is due goes out."""
    with write():
        execute(_ALL_HELD, trouble, now)


def settle(notice_id: int, state: str, now: int) -> bool:
    """Whether it was open until now."""
    with write():
        return bool(execute(_SETTLE, state, now, notice_id).rowcount)


def still_believed(person_id: int, visit_id: int) -> dict[str, Any] | None:
    """When a person still believes a visit to be that was moved, if they were not told of it yet."""
    for known in map(as_json, values(_MOVED, person_id)):
        if known["visit"] == visit_id:
            return dict(known["before"])
    return None


def told(person_id: int, kind: str, about: dict[str, Any]) -> bool:
    """Whether a person was told this, or will be when the next mail goes out."""
    return any(as_json(known) == about for known in values(_OF_PERSON, person_id, kind))


def reached(person_id: int, kind: str, about: dict[str, Any]) -> bool:
    """Whether a letter or a call has told a person this."""
    return any(as_json(known) == about for known in values(_REACHED, person_id, kind))


def waits(person_id: int, kind: str, about: dict[str, Any]) -> bool:
    """Whether a letter that says at least this is on its way to a person."""
    return any(as_json(known).items() >= about.items() for known in values(_WAITS, person_id, kind))


def wake(project_id: int, decision_id: int, revision: int, since: int, now: int) -> None:
    """What was dropped since an instant because a question was closed is to be told after all, if it is still true."""
    for row in rows(_ASLEEP, project_id, since, about=as_json):
        if (row["about"].get("decision"), row["about"].get("revision")) == (decision_id, revision):
            execute(_WAKE, now, row["id"])


class LinkSent(NamedTuple):
    """The link that was to be sent after a call, to whom, and what became of it."""

    name: str
    state: str
    settled_at: int | None


def links_of_calls(project_id: int) -> dict[int, LinkSent]:
    """By the id of the call note."""
    return {
        row["about"]["call"]: LinkSent(name=row["name"], state=row["state"], settled_at=row["settled_at"])
        for row in rows(_LINKS, project_id, about=as_json) if row["about"].get("call") is not None
    }


def rewrite(project_id: int, anew: Callable[[dict[str, Any]], dict[str, Any]]) -> None:
    """Change what the notices about visits tell that nobody was told yet."""
    for row in rows(_UNTOLD, project_id, about=as_json):
        execute(_REWRITE, json.dumps(anew(row["about"])), row["id"])


def to_remind(now: int) -> list[int]:
    """Projects in which a decision waits for the household and that have changed since they were looked at for
    reminders, or whose next look is due; one that is more than two days off was set by a clock that went wrong."""
    return values(_AWAITED, now, now + _TWO_DAYS)


def looked_at(project_id: int, changed: int, next_at: int) -> None:
    with write():
        execute(_LOOKED_AT, project_id, changed, next_at)


def _notices(sql: str, *parameters: Any) -> list[Notice]:
    return [Notice(**row) for row in rows(sql, *parameters, about=as_json, on_paper=bool, stopped=bool)]
