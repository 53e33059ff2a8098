"""What an act has left behind: entries of the record, and notices that wait in the outbox."""

import json
from typing import Any, NamedTuple

from portal.store.rows import record_rows
from portal.store.tables import Notice


class Told(NamedTuple):
    """A notice: for whom, of which kind, about what."""

    person: int
    kind: str
    about: dict[str, Any]


def entries(project: int) -> list[dict[str, Any]]:
    """The record of a project, oldest first; without what it tells of rows, which `rows_told` has."""
    found = [json.loads(canonical) for _, _, canonical in record_rows.every(project)]
    for entry in found:
        entry["body"] = {name: said for name, said in entry["body"].items() if name not in ("rows", "all_rows")}
    return found


def rows_told(project: int) -> list[dict[str, Any]]:
    """What each entry tells of rows, oldest first."""
    return [json.loads(canonical)["body"].get("rows", {}) for _, _, canonical in record_rows.every(project)]


def newest(project: int) -> dict[str, Any]:
    return entries(project)[-1]


def kinds(project: int) -> list[str]:
    return [entry["kind"] for entry in entries(project)]


def notices(project: int) -> list[Told]:
    """In the order in which they were written."""
    rows = Notice.select().where(Notice.project == project).order_by(Notice.id)
    return [Told(row.person_id, row.kind, row.about) for row in rows]
