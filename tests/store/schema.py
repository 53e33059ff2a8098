"""What the open database itself knows of a table, in the same words whether it is SQLite or PostgreSQL."""

from portal.store import tables
from portal.store.engine.database import database, execute, is_sqlite

TABLES = [getattr(tables, name) for name in tables.__all__ if name not in ("Table", "Versioned")]

# What the mapper calls a column's type, as each database calls it. SQLite keeps JSON as text.
_CALLED = {
    "AUTO": ("INTEGER", "bigint"), "INT": ("INTEGER", "integer"), "BIGINT": ("BIGINT", "bigint"),
    "VARCHAR": ("VARCHAR(255)", "character varying"), "TEXT": ("TEXT", "text"), "JSON": ("TEXT", "json"),
    "DATE": ("DATE", "date"), "BOOL": ("BOOLEAN", "boolean"), "BLOB": ("BLOB", "bytea"),
    "DOUBLE": ("DOUBLE PRECISION", "double precision"),
}  # fmt: skip
_ON_DELETE = {"a": "NO ACTION", "r": "RESTRICT", "c": "CASCADE", "n": "SET NULL"}
_KEYS = """SELECT a.attname, t.relname, c.confdeltype FROM pg_constraint c JOIN pg_class t ON t.oid = c.confrelid
    JOIN pg_attribute a ON a.attrelid = c.conrelid AND a.attnum = c.conkey[1]
    WHERE c.contype = 'f' AND c.conrelid = CAST(? AS regclass)"""


def called_here(field_type: str) -> str:
    """What this database calls a type of the mapper."""
    return _CALLED[field_type][0 if is_sqlite() else 1]


def types_of(name: str) -> dict[str, str]:
    """The type of each column that is no id of another table."""
    others = foreign_keys_of(name)
    return {column.name: column.data_type for column in database.get_columns(name) if column.name not in others}


def foreign_keys_of(name: str) -> dict[str, tuple[str, str]]:
    """By column: the table that it points to, and what becomes of the row when the other one goes."""
    if is_sqlite():
        found = execute(f'PRAGMA foreign_key_list("{name}")').fetchall()
        return {row[3]: (row[2], row[6]) for row in found}
    found = execute(_KEYS, f'"{name}"').fetchall()
    return {column: (to, _ON_DELETE[str(letter)]) for column, to, letter in found}


def indexes_of(name: str) -> set[tuple[tuple[str, ...], bool]]:
    """Columns of each index, and whether it is unique; without the primary key's own."""
    found = {(tuple(index.columns), bool(index.unique)) for index in database.get_indexes(name)}
    return found - {(tuple(database.get_primary_keys(name)), True)}
