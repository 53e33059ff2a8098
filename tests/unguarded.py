"""Past the guards of the database, as somebody who holds it could go: for tests that want another past."""

from portal.store.engine.database import execute, is_sqlite


def unguard(table: str) -> None:
    """Let rows of this table be changed, for the rest of the test."""
    if not is_sqlite():
        execute(f'ALTER TABLE "{table}" DISABLE TRIGGER USER')
        return
    guards = execute("SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ?", table).fetchall()
    for (name,) in guards:
        execute(f'DROP TRIGGER "{name}"')
