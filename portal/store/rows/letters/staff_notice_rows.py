"""Letters to our own people: written with the fact, tried when due, settled once. As those to a household
(`notice_rows`), each move of the sender commits by itself."""

import json
from typing import Any, NamedTuple

from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_json, rows
from portal.store.rows.letters.moves import Moves
from portal.store.rows.notice_rows import FAILED, GIVEN_UP, RETURNED, SENT, WAITING

_ADD = """INSERT INTO staff_notice (project_id, staff_id, kind, about, made_at, state, due_at, tries, trouble)
    VALUES (?, ?, ?, ?, ?, 'waiting', ?, 0, '')"""
_NOTICES = """SELECT n.id, n.project_id, n.staff_id, n.kind, n.about, n.made_at, n.due_at, n.tries, s.name, s.email,
    s.active FROM staff_notice n JOIN staff s ON s.id = n.staff_id"""
_DUE = f"{_NOTICES} WHERE n.state = 'waiting' AND n.due_at <= ? ORDER BY n.due_at, n.id"
_SETTLE = "UPDATE staff_notice SET state = ?, settled_at = ? WHERE id = ? AND state = 'waiting'"
_GIVE_UP_OLD = """UPDATE staff_notice SET state = ?, settled_at = ? WHERE state = 'waiting' AND due_at <= ?
    AND made_at <= ?"""
_CAME_BACK = "UPDATE staff_notice SET state = ?, trouble = ? WHERE id = ? AND state = ?"
_LACKING = f"""SELECT s.name, s.email, n.state, n.trouble, n.made_at, j.id AS project_id, j.name AS project,
    j.timezone AS zone FROM staff_notice n JOIN staff s ON s.id = n.staff_id JOIN project j ON j.id = n.project_id
    WHERE (n.state IN ({", ".join("?" * len(FAILED))}) OR (n.state = ? AND n.trouble <> '')) AND n.made_at > ?
    AND s.active ORDER BY n.id DESC LIMIT ?"""
_MOVES = Moves("staff_notice")
claim, put_back, later, give_up = _MOVES.claim, _MOVES.put_back, _MOVES.later, _MOVES.give_up


class StaffNotice(NamedTuple):
    """A letter to somebody of the staff, and whether they still work here."""

    id: int
    project_id: int
    staff_id: int
    kind: str
    about: dict[str, Any]
    made_at: int
    due_at: int
    tries: int
    name: str
    email: str
    active: bool


class Lacking(NamedTuple):
    """A letter that somebody of the staff, who works here still, did not get, or not yet: of which house, and why."""

    name: str
    email: str
    state: str
    trouble: str
    made_at: int
    project_id: int
    project: str
    zone: str


def add(project_id: int, staff_id: int, kind: str, about: dict[str, Any], now: int) -> None:
    """Within the act's own transaction: one row, tried at the next tick."""
    execute(_ADD, project_id, staff_id, kind, json.dumps(about), now, now)


def due(now: int) -> list[StaffNotice]:
    """The one that is due longest first."""
    return [StaffNotice(**row) for row in rows(_DUE, now, about=as_json, active=bool)]


def settle(notice_id: int, state: str, now: int) -> None:
    with write():
        execute(_SETTLE, state, now, notice_id)


def give_up_old(now: int, made_before: int) -> int:
    """Those due that were made by then; returns how many."""
    with write():
        return int(execute(_GIVE_UP_OLD, GIVEN_UP, now, now, made_before).rowcount)


def came_back(notice_id: int, said: str) -> None:
    with write():
        execute(_CAME_BACK, RETURNED, said, notice_id, SENT)


def lacking(made_after: int, limit: int) -> list[Lacking]:
    """The newest first."""
    return [Lacking(**row) for row in rows(_LACKING, *FAILED, WAITING, made_after, limit)]
