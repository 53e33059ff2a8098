"""Writes a record entry with the fact, in its transaction: if it can't be written, the fact isn't."""

from typing import Any

from portal.acts.actor import Actor
from portal.record.log.chain import Entry, next_entry
from portal.store.rows import record_rows
from portal.words.dates import utc_text


def keep(actor: Actor, project_id: int, kind: str, body: dict[str, Any], now: int) -> Entry:
    """Add one entry to the project's record. `body` is plain JSON values; `now` in seconds."""
    who = {"kind": actor.kind, "id": actor.id, "name": actor.name, "role": actor.role}
    edge = record_rows.edge(project_id)
    entry = next_entry(project_id, edge.last, utc_text(now), who, kind, body)
    record_rows.add(entry, edge)
    return entry
