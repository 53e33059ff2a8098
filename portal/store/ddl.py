"""Runs the SQL scripts of migrations on SQLite and PostgreSQL alike."""

from peewee import Database, SqliteDatabase

_SQLITE = {"serial": "INTEGER NOT NULL PRIMARY KEY", "json": "TEXT", "blob": "BLOB"}
_POSTGRESQL = {"serial": "BIGSERIAL PRIMARY KEY", "json": "JSON", "blob": "BYTEA"}


def run_script(db: Database, script: str) -> None:
    """Run statements that end in `;` at the end of a line; {serial}, {json}, {blob} are filled in."""
    names = _SQLITE if isinstance(getattr(db, "obj", db), SqliteDatabase) else _POSTGRESQL
    lines = [line for line in script.splitlines() if not line.startswith("--")]
    for statement in "\n".join(lines).split(";\n"):
        if statement.strip():
            db.execute_sql(statement.format(**names))
