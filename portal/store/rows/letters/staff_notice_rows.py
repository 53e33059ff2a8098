"""Letters to our own people: written with the fact, tried when due, settled once. As those to a household
(`notice_rows`), each move of the sender commits by itself."""

import json
from typing import Any, NamedTuple

from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_json, rows
from portal.store.rows.letters.moves import Moves
from portal.store.rows.notice_rows import GIVEN_UP

_ADD = """INSERT INTO staff_notice (project_id, staff_id, kind, about, made_at, state, due_at, tries, trouble)
    VALUES (?, ?, ?, ?, ?, 'waiting', ?, 0, '')"""
_NOTICES = """SELECT n.id, n.project_id, n.staff_id, n.kind, n.about, n.made_at, n.due_at, n.tries, s.name, s.email,
    s.active FROM staff_notice n JOIN staff s ON s.id = n.staff_id"""
_DUE = f"{_NOTICES} WHERE n.state = 'waiting' AND n.due_at <= ? ORDER BY n.due_at, n.id"
_SETTLE = "UPDATE staff_notice SET state = ?, settled_at = ? WHERE id = ? AND state = 'waiting'"
_GIVE_UP_OLD = """UPDATE staff_notice SET state = ?, settled_at = ? WHERE state = 'waiting' AND due_at <= ?
    AND made_at <= ?"""
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
