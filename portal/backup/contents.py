"""What belongs into a backup, by its name there and its place on a server. Making and restoring ask the same question.

A member is `database`, `secret`, `photos/<project>.tar` (portal.backup.photos), or `data/...`: whatever else lies in
PORTAL_DATA and can't be made anew. What is derived (published pages, pointers of links), passing (parts, locks) or a
copy of something else stays behind.
"""

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path, PurePosixPath

from portal.backup.photos import project_in
from portal.photo_files import name_in
from portal.settings import Settings
from portal.store.engine.database import is_postgresql

DATABASE, SECRET, DATA = "database", "secret", "data/"
ASIDE = "replaced-"
_NEVER = {"lost+found"}


def carried(relative: PurePosixPath) -> bool:
    """Whether a backup carries the file with this path below PORTAL_DATA."""
    top, parts = relative.parts[0], relative.parts
    if any(part.startswith(".") or part.endswith(".part") for part in parts) or ".." in parts:
        return False
    if top == "site":  # backups of form 1 have the photos from there
        return len(parts) == 5 and parts[1] == "pages" and parts[3] == "photos"
    return top not in _NEVER and not top.startswith((ASIDE, "portal.db"))


def apart(path: Path, settings: Settings) -> bool:
    """Whether this is the secret, or the SQLite database or something of its own beside it: no `data/...` is."""
    database = Path(settings.database).resolve()
    path = path.resolve()
    beside = path.parent == database.parent and path.name.startswith(database.name)
    return beside or path == settings.secret_file.resolve()


def is_member(name: str) -> bool:
    """Whether a backup may have a member of this name: one that leads nowhere but where it belongs."""
    if name in (DATABASE, SECRET) or project_in(name):
        return True
    relative = PurePosixPath(name.removeprefix(DATA))
    plain = name.isprintable() and "\\" not in name and name == f"{DATA}{relative}" and not relative.is_absolute()
    return plain and bool(relative.parts) and carried(relative)


def files_of(settings: Settings) -> Iterator[tuple[str, Path]]:
    """Members below PORTAL_DATA with where they lie. The secret and a SQLite database have names of their own, photos
    are put together."""
    for path in _walk(settings.data, {settings.site}):
        relative = PurePosixPath(path.relative_to(settings.data).as_posix())
        if carried(relative) and not _is_photo(relative) and not apart(path, settings):
            yield f"{DATA}{relative}", path


def _is_photo(relative: PurePosixPath) -> bool:
    return relative.parts[0] == "photos" and len(relative.parts) == 3 and name_in(relative.name) is not None


def place_of(name: str, settings: Settings) -> Path:
    """Where a member lies on this server; a dump of PostgreSQL only until it has been put in."""
    if name == DATABASE:
        return settings.data / DATABASE if is_postgresql(settings.database) else Path(settings.database)
    if project := project_in(name):
        return settings.photos / project
    return settings.secret_file if name == SECRET else settings.data / name.removeprefix(DATA)


def _walk(folder: Path, but: set[Path], above: frozenset[Path] = frozenset()) -> Iterator[Path]:
    """Every file below, in the order of their names, `but` those in some folders. A folder may be a link to a larger
    disk, but to none that it lies in itself."""
    real = folder.resolve()
    if real in above or folder in but:
        return
    with suppress(FileNotFoundError), os.scandir(folder) as entries:  # it may be taken away meanwhile
        for entry in sorted(entries, key=lambda one: one.name):
            path = Path(entry.path)
            if entry.is_dir():
                yield from _walk(path, but, above | {real})
            elif entry.is_file():
                yield path
