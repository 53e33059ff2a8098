"""Past the guards of the database, as somebody who holds it could go: for tests that want another past."""

import hashlib
import json
from typing import Any

from portal.store.engine.database import execute, is_sqlite
from portal.store.tables import Revision


def unguard(table: str) -> None:
    """Let rows of this table be changed, for the rest of the test."""
    if not is_sqlite():
        execute(f'ALTER TABLE "{table}" DISABLE TRIGGER USER')
        return
    guards = execute("SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ?", table).fetchall()
    for (name,) in guards:
        execute(f'DROP TRIGGER "{name}"')


def loosen() -> None:
    """Let any value stand in any column of SQLite: past triggers, keys, and what may not be null."""
    execute("PRAGMA foreign_keys = 0")
    for (name,) in execute("SELECT name FROM sqlite_master WHERE type = 'trigger'").fetchall():
        execute(f'DROP TRIGGER "{name}"')
    kept = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
    for (name,) in execute(kept).fetchall():
        execute(f'CREATE TABLE "loose" AS SELECT * FROM "{name}"')
        execute(f'DROP TABLE "{name}"')
        execute(f'ALTER TABLE "loose" RENAME TO "{name}"')


def as_asked_then(decision: int, **columns: Any) -> None:
    """Make the first revision one that was asked with these question, options or detail, as old data is: its columns,
    what was shown and the check code all say the same. Lets the rows be changed for the rest of the test."""
    unguard("revision")
    shown = json.loads(Revision.get(Revision.decision == decision, Revision.number == 1).shown) | columns
    text = json.dumps(shown, sort_keys=True, separators=(",", ":"))  # also what has no canonical form: 1e400
    change = {**columns, "shown": text, "check_code": hashlib.sha256(text.encode()).hexdigest()}
    Revision.update(change).where(Revision.decision == decision, Revision.number == 1).execute()
