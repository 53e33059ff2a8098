"""Where the pieces of a backup go, what is in their way, and renames that are all done or none."""

import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from portal.backup.contents import ASIDE, DATABASE, SECRET, apart, place_of
from portal.settings import Settings
from portal.store.engine.database import is_postgresql
from portal.store.engine.disk import sync_folder

_STAYS = {"lost+found"}  # where PORTAL_DATA is a disk of its own


def piece_of(name: str, settings: Settings) -> Path:
    """What is renamed into place to bring a member there: the file, or the topmost folder that is the portal's alone.

    Not `site` itself: on a server it belongs to the web server's group, and what is made within inherits that.
    """
    place = place_of(name, settings)
    if name in (DATABASE, SECRET):
        return place
    top = settings.data / place.relative_to(settings.data).parts[0]
    return top / "pages" if top == settings.site else top


def in_the_way(settings: Settings, backup: Path) -> list[Path]:
    """Everything of a portal that lies here already, the database first. The backup itself may lie here, too."""
    found = [*_within(settings.data), *_within(settings.site), settings.secret_file]
    if not is_postgresql(settings.database):
        database = Path(settings.database)
        found += database.parent.glob(f"{database.name}*")
    ways = {path for path in found if path.exists() or path.is_symlink()} - {settings.site, backup.absolute()}
    return sorted(ways, key=lambda path: (not apart(path, settings), path))


@contextmanager
def renames() -> Iterator[Callable[[Path, Path], None]]:
    """Rename by calling what this gives; when anything fails, all that was done is undone, the last first."""
    folders: set[Path] = set()
    with ExitStack() as undo:

        def rename(source: Path, target: Path) -> None:
            if not target.parent.exists():
                target.parent.mkdir(0o700)
                undo.callback(target.parent.rmdir)
            if os.path.lexists(target):
                raise FileExistsError(None, "there is something of this name now", str(target))
            source.rename(target)
            undo.callback(target.rename, source)
            folders.update((source.parent, target.parent))

        yield rename
        for folder in folders:
            sync_folder(folder)
        undo.pop_all()


def _within(folder: Path) -> list[Path]:
    if not folder.is_dir():
        return []
    return [
        path for path in folder.iterdir()
        if path.name not in _STAYS and not path.name.startswith((".", ASIDE))
    ]  # fmt: skip
