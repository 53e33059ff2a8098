"""The outbox's rows: written with the fact, tried when due, settled once.

Each of the sender's moves commits by itself, so that what was handed over is known to be, whatever happens next.
"""

import json
from collections.abc import Callable
from typing import Any, NamedTuple

from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_json, rows, values

WAITING, SENT, TOLD, DROPPED, GIVEN_UP = "waiting", "sent", "told", "dropped", "given_up"

_ADD = """INSERT INTO notice (project_id, person_id, kind, about, mark, made_at, state, due_at, tries, trouble)
    VALUES (?, ?, ?, ?, ?, ?, 'waiting', ?, 0, '')"""
_ADD_ONCE = f"{_ADD} ON CONFLICT (mark) DO NOTHING"
_NOTICES = """SELECT n.id, n.project_id, n.person_id, n.kind, n.about, n.made_at, n.state, n.due_at, n.tries, n.trouble,
    n.settled_at, p.name, p.email, p.phone,
    (SELECT l.salt FROM link l WHERE l.person_id = p.id AND l.revoked_at IS NULL ORDER BY l.id DESC LIMIT 1) AS salt,
    EXISTS (SELECT 1 FROM consent c WHERE c.person_id = p.id) AND NOT EXISTS
        (SELECT 1 FROM consent c WHERE c.person_id = p.id AND c.withdrawn_at IS NULL) AS on_paper,
    j.name AS project, j.timezone AS zone
    FROM notice n JOIN person p ON p.id = n.person_id JOIN project j ON j.id = n.project_id"""
_DUE = f"{_NOTICES} WHERE n.state = 'waiting' AND n.due_at <= ? ORDER BY n.due_at, n.id LIMIT ?"
_IN_STATE = f"{_NOTICES} WHERE n.state = ? ORDER BY n.id DESC LIMIT ?"
_CLAIM = "UPDATE notice SET due_at = ?, tries = tries + 1 WHERE id = ? AND state = 'waiting' AND due_at <= ?"
_LATER = "UPDATE notice SET due_at = ?, trouble = ? WHERE id = ? AND state = 'waiting'"
_SETTLE = "UPDATE notice SET state = ?, settled_at = ? WHERE id = ? AND state IN ('waiting', 'given_up')"
_MOVED = "SELECT about FROM notice WHERE person_id = ? AND kind = 'visit_moved' AND state = 'waiting' ORDER BY id"
_OF_PERSON = "SELECT about FROM notice WHERE person_id = ? AND kind = ? AND state <> 'dropped'"
_UNTOLD = """SELECT id, about FROM notice WHERE project_id = ? AND state IN ('waiting', 'given_up')
    AND kind IN ('visit_moved', 'visit_cancelled') ORDER BY id"""
_REWRITE = "UPDATE notice SET about = ? WHERE id = ? AND state IN ('waiting', 'given_up')"
_LINKS = """SELECT n.about, n.state, n.settled_at, p.name FROM person p JOIN notice n ON n.person_id = p.id
    WHERE p.project_id = ? AND n.kind = 'link' ORDER BY n.id"""
_AWAITED = """SELECT DISTINCT d.project_id FROM decision d JOIN project j ON j.id = d.project_id
    WHERE d.state = 'asked' AND j.closed_at IS NULL ORDER BY d.project_id"""


class Notice(NamedTuple):
    """A notice with whom it is for: `salt` makes the link that opens for them now, `on_paper` says that they have gone
    back to paper."""

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
    project: str
    zone: str


def add(project_id: int, person_id: int, kind: str, about: dict[str, Any], now: int) -> None:
    """Within the act's own transaction: one row, tried at the next tick."""
    execute(_ADD, project_id, person_id, kind, json.dumps(about), None, now, now)


def add_once(project_id: int, person_id: int, kind: str, about: dict[str, Any], mark: str, now: int) -> None:
    """Unless there was ever a notice with this mark."""
    with write():
        execute(_ADD_ONCE, project_id, person_id, kind, json.dumps(about), mark, now, now)


def due(now: int, limit: int) -> list[Notice]:
    return _notices(_DUE, now, limit)


def in_state(state: str, limit: int) -> list[Notice]:
    """The newest first."""
    return _notices(_IN_STATE, state, limit)


def claim(notice_id: int, until: int, now: int) -> bool:
    """Whether the notice is this sender's until then. If it is not settled by then, it is due again."""
    with write():
        return bool(execute(_CLAIM, until, notice_id, now).rowcount)


def later(notice_id: int, due_at: int, trouble: str) -> None:
    with write():
        execute(_LATER, due_at, trouble, notice_id)


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


def projects_that_wait() -> list[int]:
    """Those in which a decision waits for the household."""
    return values(_AWAITED)


def _notices(sql: str, *parameters: Any) -> list[Notice]:
    return [Notice(**row) for row in rows(sql, *parameters, about=as_json, on_paper=bool)]
