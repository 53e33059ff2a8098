"""Makes a backup while the service runs and people approve.

The database comes first and the photos after it: a photo is on the disk before a row names it, and goes a day after
nothing names it any more (portal.acts.keeping.unnamed_photos), when the backup has long been made. So every row of the
copy finds its photo among those that are there later. The other way round, an update posted in between would name a
photo that the backup lacks. A key that changes meanwhile belongs to another database than the copied one; so the keys
are read before and after the database, and it is copied again when they differ.
"""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path

from portal.acts.keeping.own_keys import check_keys
from portal.backup import contents
from portal.backup.dated import incomplete_name
from portal.backup.held import heads_in_database
from portal.backup.last import note
from portal.backup.manifest import Manifest
from portal.backup.opened import opened_backup
from portal.backup.packing import Packer
from portal.backup.photos import Photos, member_of, projects_with_photos
from portal.backup.refusals import Altered, KeysChange, MadeByNewer, NoBackup, NoPlaceForBackup, NothingToSave, NotSaved
from portal.backup.workroom import workroom
from portal.record.log.heads import Head
from portal.settings import Settings
from portal.store.engine.database import is_postgresql, open_database
from portal.store.engine.disk import sync_folder
from portal.store.engine.migrate import applied
from portal.store.engine.whole_copy import copy_database, photos_named_in
from portal.store.rows import record_rows
from portal.words.dates import utc_text

KEYS_NOTED = "0022_firm_keys"
_TRIES = 3
Keys = dict[str, bytes]
Heads = tuple[Head, ...]


@dataclass(frozen=True)
class Made:
    """`missing` are photos that some row names and that were not there, `changed` those that are not what their name
    says: with any, the backup is incomplete, and `path` says so."""

    path: Path
    size: int
    photos: int
    missing: tuple[str, ...]
    changed: tuple[str, ...]

    @property
    def incomplete(self) -> bool:
        return bool(self.missing or self.changed)


def make_backup(path: Path, settings: Settings, now: int) -> Made:
    """Write the backup to `path`, whole or not at all; it has been read back before it takes that name. Where a photo
    is lost, it takes another name, and a whole one of this name stays.

    Raises a Refused of portal.backup.refusals, or of the database.
    """
    _check_place(path, settings)
    _check_there(settings)
    open_database(settings.database)
    with _saying(path), workroom(path.parent) as room:
        # A dump can't be read here; what its records were before it was begun, they begin with.
        before = record_rows.all_heads() if is_postgresql(settings.database) else None
        keys = _database_and_keys(room, settings)
        heads = tuple(heads_in_database(room / "database") or () if before is None else before)
        if KEYS_NOTED in applied():  # a backup comes before an upgrade, too, from a version that did not note its keys
            check_keys(settings)
        photos = Photos(photos_named_in())
        _pack(room / "backup", room / "database", keys, photos, settings, heads, now)
        made = Made(path, _checked(room / "backup"), photos.whole, tuple(photos.missing), tuple(photos.changed))
        if made.incomplete:
            made = replace(made, path=incomplete_name(path))
            _check_place(made.path, settings)
        (room / "backup").replace(made.path)
        sync_folder(path.parent)
        if not made.incomplete:
            note(settings, now, path.parent)
    return made


def _check_place(path: Path, settings: Settings) -> None:
    if path.resolve().is_relative_to(settings.data):
        raise NoPlaceForBackup(path=path, reason="it would be lost with the data. Name a place outside of PORTAL_DATA.")
    if not path.parent.is_dir():
        raise NoPlaceForBackup(path=path, reason=f"there is no folder {path.parent}.")
    if path.is_symlink() or (path.exists() and not _is_backup(path)):
        raise NoPlaceForBackup(path=path, reason="there is something else of this name. Choose another.")


def _is_backup(path: Path) -> bool:
    """Also one that was damaged, or made by a newer version: then, the more, it should be replaced by a whole one."""
    try:
        with opened_backup(path):
            return True
    except NoBackup:
        return False
    except (Altered, MadeByNewer):
        return True


def _check_there(settings: Settings) -> None:
    """A wrong setting would make a new database, or save one that can't open its own links."""
    for path in (settings.secret_file, *([] if is_postgresql(settings.database) else [Path(settings.database)])):
        if not path.is_file():
            raise NothingToSave(path=path)


def _database_and_keys(room: Path, settings: Settings) -> Keys:
    keys = _keys(settings)
    for _ in range(_TRIES):
        copy_database(room / "database")
        before, keys = keys, _keys(settings)
        if before == keys:
            return keys
        (room / "database").unlink()
    raise KeysChange()


def _keys(settings: Settings) -> Keys:
    """Every key by the name of its member. While the records are given another key, that one lies beside the old."""
    following = settings.record_key_file.with_name(f"{settings.record_key_file.name}.next")
    paths = {contents.SECRET: settings.secret_file} | {
        f"{contents.DATA}{path.name}": path for path in (settings.record_key_file, following)
    }
    return {name: path.read_bytes() for name, path in paths.items() if path.is_file()}


def _pack(
    path: Path, database: Path, keys: Keys, photos: Photos, settings: Settings, heads: Heads, now: int
) -> None:
    postgresql = is_postgresql(settings.database)
    with path.open("xb") as file, Packer(file, now) as packer:
        path.chmod(0o600)
        packer.pack_file(contents.DATABASE, database, packed=postgresql)
        for name, key in keys.items():
            packer.pack_bytes(name, key)
        for name, source in contents.files_of(settings):
            if name not in keys:
                with suppress(FileNotFoundError):  # gone since the look: no row names it, or a plan was put away
                    packer.pack_file(name, source)
        projects = projects_with_photos(settings)
        for project_id in projects:
            packer.pack_photos(member_of(project_id), photos.paths(project_id, settings))
        photos.finish(set(projects))
        manifest = Manifest(
            utc_text(now), "postgresql" if postgresql else "sqlite", tuple(applied()), settings.base_url,
            tuple(packer.members), heads, tuple(photos.missing), tuple(photos.changed),
        )  # fmt: skip
        packer.finish(manifest)


def _checked(path: Path) -> int:
    with opened_backup(path) as backup:
        backup.check()
    return path.stat().st_size


@contextmanager
def _saying(path: Path) -> Iterator[None]:
    """What the operating system refuses, as a sentence that names the file."""
    try:
        yield
    except OSError as error:
        raise NotSaved(path=error.filename or path, reason=error.strerror or str(error)) from error
