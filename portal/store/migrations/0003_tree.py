"""The tree over each record, grown from the entries that are there; and the tables for completion and consent."""

from pathlib import Path
from typing import Any

from portal.record.log.merkle import Frontier, leaf_hash
from portal.store.engine.ddl import placeholders, refuse_changes, run_script


def up(migrator: Any, db: Any) -> None:
    run_script(db, Path(__file__).with_suffix(".sql").read_text())
    for (project_id,) in db.execute_sql("SELECT DISTINCT project_id FROM record_entry").fetchall():
        _grow(db, project_id)
    refuse_changes(db, "record_node")
    refuse_changes(db, "withdrawal")


def _grow(db: Any, project_id: int) -> None:
    entries = "SELECT canonical, hash, at FROM record_entry WHERE project_id = ? ORDER BY sequence"
    add_node = "INSERT INTO record_node (project_id, level, place, hash) VALUES (?, ?, ?, ?)"
    add_edge = "INSERT INTO record_edge (project_id, size, peaks, hash, at) VALUES (?, ?, ?, ?, ?)"
    frontier, newest = Frontier(), ("", "")
    for canonical, code, at in db.execute_sql(placeholders(db, entries), (project_id,)).fetchall():
        frontier, nodes = frontier.added(leaf_hash(bytes(canonical)))
        newest = (code, at)
        for (level, place), made in nodes:
            db.execute_sql(placeholders(db, add_node), (project_id, level, place, made))
    db.execute_sql(placeholders(db, add_edge), (project_id, frontier.size, frontier.packed, *newest))
