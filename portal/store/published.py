"""What a publisher asks: a project whole with its links, and which change each project is at."""

from typing import NamedTuple

from portal.store.database import close_database, execute, read
from portal.store.facts import Snapshot
from portal.store.links import live_links
from portal.store.snapshot import read_snapshot

_MARKS = "SELECT id, timezone, changed, closed_at FROM project ORDER BY id"


class Marked(NamedTuple):
    """What a published page is compared with, to know whether it is stale."""

    id: int
    timezone: str
    changed: int
    closed_at: int | None


def marks() -> list[Marked]:
    return [Marked(*row) for row in execute(_MARKS).fetchall()]


def read_for_publishing(project_id: int) -> tuple[Snapshot, list[str]]:
    """The snapshot, and the salts of the links that open it, all as of one moment. Raises NotFound."""
    with read():
        return read_snapshot(project_id), [salt for salt, _ in live_links(project_id)]


def give_back() -> None:
    """Close the connection of this thread, which will ask no more."""
    close_database()
