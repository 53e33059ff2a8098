"""Restores a backup, all or nothing: everything is unpacked, checked and brought forward beside its place first, and
then renamed. Each rename is undone when a later step fails. The database goes away first and comes last: so at no
moment does it lie beside the keys of another.
"""

import os
import pwd
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

from portal.acts.keeping.moved_photos import bring_home
from portal.backup.contents import ASIDE, DATA, DATABASE, apart, place_of
from portal.backup.opened import Backup, opened_backup
from portal.backup.placing import in_the_way, renames
from portal.backup.refusals import Altered, NotRestored, Occupied, OtherDatabase, WrongUser
from portal.backup.staging import unpacked
from portal.settings import Settings
from portal.store.engine.database import close_database, database, is_postgresql, open_database
from portal.store.engine.migrate import applied, migrate
from portal.store.engine.sqlite_copy import check_sqlite, let_go
from portal.words.dates import utc_text


@dataclass(frozen=True)
class Restored:
    """`aside`: the folders that hold what was there before, and the schema. The database is open."""

    made_at: str
    base_url: str
    migrated: tuple[str, ...]
    aside: tuple[str, ...]
    key_unfinished: bool
    missing: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()


def restore_backup(path: Path, settings: Settings, now: int, *, move_old_aside: bool = False) -> Restored:
    """Raises a Refused of portal.backup.refusals, or of the database; then all is as it was."""
    aside = ASIDE + utc_text(now).replace("-", "").replace(":", "")
    with opened_backup(path) as backup:
        _check_fit(backup, settings)
        way, schemas = _what_is_in_the_way(backup, settings, move_old_aside, aside)
        backup.check()
        with _saying(settings):
            migrated = _put_in_place(backup, settings, way, aside)
    open_database(settings.database)
    bring_home(settings.photos, settings.site / "pages")
    manifest = backup.manifest
    folders = sorted({str(old.parent / aside) for old in way})
    unfinished = any(member.name == f"{DATA}record-key.next" for member in manifest.members)
    return Restored(
        manifest.made_at, manifest.base_url, (*migrated, *migrate()), (*folders, *schemas), unfinished,
        manifest.missing, manifest.changed,
    )  # fmt: skip


def _check_fit(backup: Backup, settings: Settings) -> None:
    held, named = backup.manifest.database, "postgresql" if is_postgresql(settings.database) else "sqlite"
    if held != named:
        raise OtherDatabase(path=backup.path, held=held, named=named)
    for member in backup.manifest.members:
        if member.name.startswith(DATA) and apart(place_of(member.name, settings), settings):
            raise Altered(path=backup.path, member=member.name, reason="another member belongs in its place")
    owner = settings.data.stat().st_uid if settings.data.exists() else os.geteuid()
    if os.geteuid() == 0 and owner != 0:
        raise WrongUser(path=settings.data, user=pwd.getpwuid(owner).pw_name)


def _what_is_in_the_way(backup: Backup, settings: Settings, move: bool, aside: str) -> tuple[list[Path], list[str]]:
    """Files and folders that have to go aside, and the name that a schema of PostgreSQL gets there. Raises Occupied
    unless they may be moved, and StillOpen when somebody is at work in them."""
    if is_postgresql(settings.database):
        tables = _tables(settings, move)
    else:
        tables = []
        if move and Path(settings.database).is_file():
            let_go(Path(settings.database))
    way = in_the_way(settings, Path(backup.path))
    if not move and (way or tables):
        names = [*map(str, way), *(["tables in the database that PORTAL_DATABASE names"] if tables else [])]
        more = f" and {len(names) - 3} more" if len(names) > 3 else ""
        raise Occupied(paths=", ".join(names[:3]) + more)
    return way, [f"the schema {_schema(aside)}"] if tables else []


def _tables(settings: Settings, move: bool) -> list[str]:
    from portal.store.engine.postgresql_copy import nobody_connected

    open_database(settings.database)
    if move:
        nobody_connected()
    return list(database.get_tables())


def _put_in_place(backup: Backup, settings: Settings, way: list[Path], aside: str) -> list[str]:
    """Returns the migrations that were done before anything was renamed."""
    there = place_of(DATABASE, settings)
    with ExitStack() as rooms:
        pieces = unpacked(backup, settings, rooms)
        dump = pieces.pop(there) if is_postgresql(settings.database) else None
        migrated = [] if dump else _brought_forward(backup, pieces[there])
        with renames() as rename:
            for old in way:
                rename(old, old.parent / aside / old.name)
            for place in sorted(pieces, key=lambda place: place == there):
                rename(pieces[place], place)
            if dump:
                _load(dump, settings, aside)
    return migrated


def _brought_forward(backup: Backup, path: Path) -> list[str]:
    """A SQLite database, checked and migrated before it is in use."""
    check_sqlite(path)
    open_database(str(path))
    if tuple(applied()) != backup.manifest.migrations:
        raise Altered(path=backup.path, member=DATABASE, reason="it is of another version than its list says")
    migrated = migrate()
    close_database()
    os.sync()
    return migrated


def _load(dump: Path, settings: Settings, aside: str) -> None:
    from portal.store.engine.postgresql_copy import load_postgresql

    open_database(settings.database)
    load_postgresql(settings.database, dump, _schema(aside))


def _schema(aside: str) -> str:
    return aside.lower().replace("-", "_")


@contextmanager
def _saying(settings: Settings) -> Iterator[None]:
    """What the operating system refuses, as a sentence that names the file."""
    try:
        yield
    except OSError as error:
        raise NotRestored(path=error.filename or settings.data, reason=error.strerror or str(error)) from error
