"""The whole database as one file, on either database; and what a copy has to agree with."""

from pathlib import Path

from portal.store.engine.database import database, is_sqlite
from portal.store.engine.named_rows import rows
from portal.store.engine.sqlite_copy import copy_sqlite

_NAMED = {
    "photo": 'SELECT u.project_id, p.name FROM photo p JOIN "update" u ON u.id = p.update_id',
    "open_item": "SELECT h.project_id, i.photo AS name FROM open_item i JOIN handover h ON h.id = i.handover_id "
    "WHERE i.photo <> ''",
}


def copy_database(into: Path) -> None:
    """Write a new file with all that the open database holds at one moment, while others read and write."""
    if is_sqlite():
        copy_sqlite(Path(database.obj.database), into)
        return
    from portal.store.engine.postgresql_copy import dump_postgresql

    dump_postgresql(database.obj.database, into)


def photos_named() -> list[tuple[int, str]]:
    """The photos that some row names: project and name, as `portal.acts.keeping.photos` keeps them. The database may be
    of an earlier version, since a backup comes before an upgrade."""
    tables = database.get_tables()
    asked = [sql for table, sql in _NAMED.items() if table in tables]
    return sorted({(row["project_id"], row["name"]) for sql in asked for row in rows(sql)})
