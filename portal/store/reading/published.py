"""What a publisher asks: a project whole with its links, and which change each project is at."""

from typing import NamedTuple

from portal.store.engine.database import close_database, read, write
from portal.store.engine.named_rows import rows
from portal.store.facts import Snapshot
from portal.store.reading import desk_lines, forecasts
from portal.store.reading.desk_lines import DeskLine
from portal.store.reading.forecasts import Foreseen
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.link_rows import live_links

_MARKS = "SELECT id, timezone, changed, closed_at FROM project ORDER BY id"


class Marked(NamedTuple):
    """What a published page is compared with, to know whether it is stale."""

    id: int
    timezone: str
    changed: int
    closed_at: int | None


def marks() -> list[Marked]:
    return [Marked(**row) for row in rows(_MARKS)]


def read_for_publishing(project_id: int) -> tuple[Snapshot, list[str]]:
    """The snapshot, and the salts of the links that open it, all as of one moment. Raises NotFound."""
    with read():
        return read_snapshot(project_id), [link.salt for link in live_links(project_id)]


def keep_computed(foreseen: Foreseen, line: DeskLine | None) -> None:
    """What publishing has computed and others need not again: the forecast, and the line of the desk's list. One commit
    for both; none when both are kept."""
    if line is None:
        forecasts.keep(foreseen)
        return
    with write():
        forecasts.keep(foreseen)
        desk_lines.keep(line)


def give_back() -> None:
    """Close the connection of this thread, which will ask no more."""
    close_database()
