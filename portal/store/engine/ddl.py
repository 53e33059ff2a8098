"""Runs the SQL scripts of migrations on SQLite and PostgreSQL alike."""

import re
from functools import lru_cache

from peewee import Database, DatabaseProxy, SqliteDatabase

_SQLITE = {"serial": "INTEGER NOT NULL PRIMARY KEY", "json": "TEXT", "blob": "BLOB"}
_POSTGRESQL = {"serial": "BIGSERIAL PRIMARY KEY", "json": "JSON", "blob": "BYTEA"}


def run_script(db: Database, script: str) -> None:
    """Run statements that end in `;` at the end of a line; {serial}, {json}, {blob} are filled in."""
    lines = [line for line in script.splitlines() if not line.startswith("--")]
    for statement in "\n".join(lines).split(";\n"):
        if statement.strip():
            db.execute_sql(_filled(db, statement))


def _filled(db: Database, statement: str) -> str:
    if _is_sqlite(db):
        return statement.format(**_SQLITE)
    # The first version called the ids of other tables INTEGER, which on SQLite are as wide as any.
    return re.sub(r'("\w+_id") INTEGER', r"\1 BIGINT", statement.format(**_POSTGRESQL)).replace("%", "%%")


def refuse_changes(db: Database, table: str) -> None:
    """Have the database refuse any UPDATE or DELETE of this table's rows."""
    if _is_sqlite(db):
        for doing in ("update", "delete"):
            db.execute_sql(
                f'CREATE TRIGGER "{table}_no_{doing}" BEFORE {doing.upper()} ON "{table}" '
                f"BEGIN SELECT RAISE(ABORT, '{table} is only added to'); END"
            )
        return
    db.execute_sql(
        f"CREATE FUNCTION {table}_only_added_to() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN RAISE EXCEPTION '{table} is only added to' USING ERRCODE = 'integrity_constraint_violation'; END $$"
    )
    db.execute_sql(
        f'CREATE TRIGGER "{table}_no_change" BEFORE UPDATE OR DELETE OR TRUNCATE ON "{table}" '
        f"FOR EACH STATEMENT EXECUTE FUNCTION {table}_only_added_to()"
    )


def refuse_row_changes(db: Database, table: str) -> None:
    """The same for a table whose rows would go with those that they belong to: on PostgreSQL a statement that meets no
    row is let through, since removing the other row sends one in any case."""
    refuse_changes(db, table)
    if _is_sqlite(db):
        return
    db.execute_sql(f'DROP TRIGGER "{table}_no_change" ON "{table}"')
    db.execute_sql(
        f'CREATE TRIGGER "{table}_no_change" BEFORE UPDATE OR DELETE ON "{table}" '
        f"FOR EACH ROW EXECUTE FUNCTION {table}_only_added_to()"
    )
    db.execute_sql(
        f'CREATE TRIGGER "{table}_no_emptying" BEFORE TRUNCATE ON "{table}" '
        f"FOR EACH STATEMENT EXECUTE FUNCTION {table}_only_added_to()"
    )


def refuse_replacing(db: Database, table: str, *key: str) -> None:
    """SQLite's INSERT OR REPLACE removes the row that is there without asking the triggers that refuse a DELETE.
    PostgreSQL has no such statement: its ON CONFLICT DO UPDATE is an UPDATE."""
    if not _is_sqlite(db):
        return
    same = " AND ".join(f'"{column}" = NEW."{column}"' for column in key)
    db.execute_sql(
        f'CREATE TRIGGER "{table}_no_replace_{"_".join(key)}" BEFORE INSERT ON "{table}" '
        f'WHEN EXISTS (SELECT 1 FROM "{table}" WHERE {same}) '
        f"BEGIN SELECT RAISE(ABORT, '{table} is only added to'); END"
    )


_LIFTED = """EXISTS (SELECT 1 FROM "record_entry" e JOIN "record_edge" r ON r."project_id" = e."project_id"
    AND r."size" = e."sequence" JOIN "decision" d ON d."project_id" = e."project_id"
    WHERE d."id" = OLD."decision_id" AND e."kind" = 'hold_lifted' AND {there})"""
_HELD = "a hold goes only beside an entry that says so"


def refuse_unlifted(db: Database) -> None:
    """Have the database refuse any change of a hold; and its removal, unless the newest entry of the record lifts it:
    in the canonical form, that entry names the hold's id as `"hold":5,`, which no text in it can do."""
    if _is_sqlite(db):
        named = """instr(CAST(e."canonical" AS TEXT), '"hold":' || OLD."id" || ',') > 0"""
        there = _LIFTED.format(there=named)
        refused = f"BEGIN SELECT RAISE(ABORT, '{_HELD}'); END"
        db.execute_sql(f'CREATE TRIGGER "phase_hold_no_update" BEFORE UPDATE ON "phase_hold" {refused}')
        db.execute_sql(
            f'CREATE TRIGGER "phase_hold_no_delete" BEFORE DELETE ON "phase_hold" WHEN NOT {there} {refused}'
        )
        return
    named = """position('"hold":' || OLD."id" || ',' in convert_from(e."canonical", 'UTF8')) > 0"""
    there = _LIFTED.format(there=named)
    db.execute_sql(
        "CREATE FUNCTION phase_hold_lifted() RETURNS trigger LANGUAGE plpgsql AS "
        f"$$ BEGIN IF TG_OP = 'DELETE' THEN IF {there} THEN RETURN OLD; END IF; END IF; "
        f"RAISE EXCEPTION '{_HELD}' USING ERRCODE = 'integrity_constraint_violation'; END $$"
    )
    for when, each in (("UPDATE OR DELETE", "ROW"), ("TRUNCATE", "STATEMENT")):
        db.execute_sql(
            f'CREATE TRIGGER "phase_hold_no_{when.split()[0].lower()}" BEFORE {when} ON "phase_hold" '
            f"FOR EACH {each} EXECUTE FUNCTION phase_hold_lifted()"
        )


def placeholders(db: Database | DatabaseProxy, sql: str) -> str:
    """A statement written with `?`, as this database's driver wants it."""
    return sql if _is_sqlite(db) else _for_postgresql(sql)


@lru_cache(maxsize=1024)
def _for_postgresql(sql: str) -> str:
    return sql.replace("%", "%%").replace("?", "%s")


def _is_sqlite(db: Database | DatabaseProxy) -> bool:
    return isinstance(getattr(db, "obj", db), SqliteDatabase)
