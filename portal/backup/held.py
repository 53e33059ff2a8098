"""What a backup holds of each record: how many entries, and the root over them. A later one has to begin with that."""

import tempfile
from contextlib import suppress
from pathlib import Path

from portal.backup.contents import DATABASE
from portal.backup.opened import Backup, opened_backup
from portal.backup.refusals import HoldsNoHeads
from portal.record.log.heads import Head
from portal.record.log.merkle import Frontier, NotAFrontier
from portal.store.engine.sqlite_copy import edges_in


def heads_held(path: Path) -> list[Head]:
    """Raises NoBackup, Altered, MadeByNewer; HoldsNoHeads for one of PostgreSQL that a version before 0.4.0 made."""
    with opened_backup(path) as backup:
        if backup.manifest.heads is not None:
            return list(backup.manifest.heads)
        if backup.manifest.database != "sqlite":
            raise HoldsNoHeads(path=path)
        return _in_database(backup)


def _in_database(backup: Backup) -> list[Head]:
    """A version before 0.4.0 did not note them; the copied database has them."""
    member = next(one for one in backup.manifest.members if one.name == DATABASE)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / DATABASE
        with path.open("wb") as into:
            backup.copy(member, into)
        heads = heads_in_database(path)
    if heads is None:
        raise HoldsNoHeads(path=backup.path)
    return heads


def heads_in_database(path: Path) -> list[Head] | None:
    """Of the file of a SQLite database; None in one of before there were trees. One whose edge was changed is left out,
    which verifying tells."""
    edges = edges_in(path)
    if edges is None:
        return None
    found = []
    for project, size, peaks, at in edges:
        with suppress(NotAFrontier):
            found.append(Head(project, size, Frontier.unpacked(size, peaks).root.hex(), at))
    return found
