"""Marks that somebody was told of a matter: the newest of each, with the state of it that was told."""

import json
from typing import Any, NamedTuple

from portal.store.engine.database import execute, write
from portal.store.engine.named_rows import as_json, rows

_ALL = """SELECT m.project_id AS project, m.matter, m.state, m.said, s.name AS staff, m.at FROM told_mark m
    JOIN staff s ON s.id = m.staff_id JOIN project p ON p.id = m.project_id WHERE p.closed_at IS NULL"""
_OF = """SELECT m.project_id AS project, m.matter, m.state, m.said, s.name AS staff, m.at FROM told_mark m
    JOIN staff s ON s.id = m.staff_id WHERE m.project_id = ? ORDER BY m.at DESC, m.id DESC"""
_KEEP = """INSERT INTO told_mark (project_id, matter, state, said, staff_id, at) VALUES (?, ?, ?, ?, ?, ?)
    ON CONFLICT (project_id, matter) DO UPDATE SET state = excluded.state, said = excluded.said,
    staff_id = excluded.staff_id, at = excluded.at"""
_DROP = "DELETE FROM told_mark WHERE project_id = ? AND matter = ?"


class Mark(NamedTuple):
    """`matter`: its key (store.reading.today.matters); `state`: the digest of what was told; `said`: its facts then."""

    project: int
    matter: str
    state: str
    said: dict[str, Any]
    staff: str
    at: int


def of_open_houses() -> dict[int, dict[str, Mark]]:
    """By house, then by matter."""
    found: dict[int, dict[str, Mark]] = {}
    for one in _marks(_ALL):
        found.setdefault(one.project, {})[one.matter] = one
    return found


def of_house(project_id: int) -> list[Mark]:
    """The newest first."""
    return list(_marks(_OF, project_id))


def keep(project_id: int, matter: str, state: str, said: dict[str, Any], staff_id: int, now: int) -> None:
    """It was told in this state; what was told of it before counts no more."""
    with write():
        execute(_KEEP, project_id, matter, state, json.dumps(said), staff_id, now)


def drop(project_id: int, matter: str) -> None:
    with write():
        execute(_DROP, project_id, matter)


def _marks(sql: str, *parameters: Any) -> list[Mark]:
    return [Mark(**row) for row in rows(sql, *parameters, said=as_json)]
