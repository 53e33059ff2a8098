"""Writes a record entry with the fact, in its transaction: if it can't be written, the fact isn't.

Each entry tells in `rows` what it makes of the rows that pages and refusals go by; the first of a project that does so
tells them all. So a row that was changed past the acts does not agree with what was told of it last.
"""

from typing import Any

from portal.acts.actor import Actor
from portal.record.log.chain import Entry, next_entry
from portal.record.log.entry_kinds import KEY_LOST, ROTATED
from portal.store.rows import record_rows
from portal.store.told import told_rows
from portal.words.dates import utc_text

Body = dict[str, Any]
_SIGNED = (ROTATED, KEY_LOST)
"""Their bodies say no more than what keys have signed."""


def keep(actor: Actor, project_id: int, kind: str, body: Body, now: int) -> Entry:
    """Add one entry to the project's record. `body` is plain JSON values; `now` in seconds."""
    who = {"kind": actor.kind, "id": actor.id, "name": actor.name, "role": actor.role}
    edge = record_rows.edge(project_id)
    rows = _rows(project_id, bool(edge.told_from)) if kind not in _SIGNED else {}
    entry = next_entry(project_id, edge.last, utc_text(now), who, kind, {**body, **rows})
    record_rows.add(entry, edge, edge.told_from or (entry.sequence if rows else 0))
    return entry


def keep_rest(actor: Actor, project_id: int, kind: str, body: Body, now: int) -> None:
    """Add an entry if rows were written that no entry has told of yet."""
    if told_rows.untold(project_id):
        keep(actor, project_id, kind, body, now)


def _rows(project_id: int, told_before: bool) -> Body:
    if not told_before:
        told_rows.all_told()
        return {"rows": told_rows.standing(project_id), "all_rows": True}
    found = told_rows.untold(project_id)
    told_rows.now_told(found)
    return {"rows": found} if found else {}
