"""The whole database as one file, on either database; and what a copy has to agree with."""

import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from portal.store.engine.database import database, execute, is_sqlite
from portal.store.engine.named_rows import rows
from portal.store.engine.sqlite_copy import copy_sqlite

_NAMED = {
    "photo": 'SELECT u.project_id, p.name FROM photo p JOIN "update" u ON u.id = p.update_id',
    "open_item": "SELECT h.project_id, i.photo AS name FROM open_item i JOIN handover h ON h.id = i.handover_id "
    "WHERE i.photo <> ''",
    "message": "SELECT project_id, photo AS name FROM message WHERE photo <> ''",
}
_SHOWN = """SELECT d.project_id, r.shown FROM revision r JOIN decision d ON d.id = r.decision_id
    WHERE r.shown LIKE ?"""
_OF_OPTION = re.compile(r'"name":"([0-9a-f]{20})"')


def copy_database(into: Path) -> None:
    """Write a new file with all that the open database holds at one moment, while others read and write."""
    if is_sqlite():
        copy_sqlite(Path(database.obj.database), into)
        return
    from portal.store.engine.postgresql_copy import dump_postgresql

    dump_postgresql(database.obj.database, into)


def photos_named_in() -> dict[int, str]:
    """The names by project, in one text, a line each: so many houses' photos as lists of rows would fill a memory."""
    found: dict[int, str] = defaultdict(str)
    for sql in _asked():
        for project_id, name in execute(sql):
            found[project_id] += f"{name}\n"
    for project_id, name in _of_options():
        found[project_id] += f"{name}\n"
    return dict(found)


def photos_named() -> list[tuple[int, str]]:
    """The photos that some row names: project and name, as `portal.acts.keeping.photos` keeps them. The database may be
    of an earlier version, since a backup comes before an upgrade."""
    in_rows = {(row["project_id"], row["name"]) for sql in _asked() for row in rows(sql)}
    return sorted(in_rows | set(_of_options()))


def _of_options() -> Iterator[tuple[int, str]]:
    """The photos of a question's options, of every revision: they stand in the bytes that were shown, which stay."""
    if "revision" in database.get_tables():
        for row in rows(_SHOWN, '%"photos":[%'):
            for name in _OF_OPTION.findall(row["shown"]):
                yield row["project_id"], name


def _asked() -> list[str]:
    tables = database.get_tables()
    return [sql for table, sql in _NAMED.items() if table in tables]
