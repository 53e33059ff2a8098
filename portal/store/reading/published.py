"""What a publisher asks: a project whole with its links, and which change each project is at; and what it tells: which
change and which date the published page shows, or since when it can't be published."""

from collections.abc import Sequence
from typing import NamedTuple

from portal.store.engine.database import close_database, execute, read, write
from portal.store.engine.named_rows import first_row, rows, values
from portal.store.facts import Snapshot, VisitFact
from portal.store.reading import desk_lines, forecasts
from portal.store.reading.crews import work
from portal.store.reading.crews.work import PlannedWork
from portal.store.reading.desk_lines import DeskLine
from portal.store.reading.finish import moves as finish_moves
from portal.store.reading.finish.moves import MovedFinish
from portal.store.reading.forecasts import Foreseen
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.link_rows import LiveLink, live_links
from portal.store.rows.visit_rows import cancelled

_DAY = 86_400
_LATELY = 30 * _DAY
"""For so long a tick looks into the page of a closed house to which somebody came; a start looks into every page."""
_AFTER_ALL = "v.project_id = p.id AND v.cancelled_at IS NULL AND v.ends_at > p.closed_at"
_STILL = f"""CASE WHEN p.closed_at IS NULL THEN NULL ELSE
    (SELECT COALESCE(MAX(v.ends_at) + {_DAY}, p.closed_at) FROM visit v WHERE {_AFTER_ALL}) END AS still_from"""
_MARKS = f"SELECT p.id, p.timezone, p.changed, {_STILL} FROM project p WHERE p.removed_at IS NULL ORDER BY p.id"
_MARK = f"SELECT p.id, p.timezone, p.changed, {_STILL} FROM project p WHERE p.id = ? AND p.removed_at IS NULL"
_ZONES = "SELECT DISTINCT timezone FROM project"
_NOT_SHOWN = f"""SELECT p.id, p.timezone, p.changed, {_STILL} FROM project p
    LEFT JOIN shown_page s ON s.project_id = p.id WHERE p.timezone = ?
    AND p.removed_at IS NULL AND (s.project_id IS NULL
    OR s.changed <> p.changed OR s.failing_since IS NOT NULL
    OR (s.day <> ? AND (p.closed_at IS NULL OR EXISTS (SELECT 1 FROM visit v WHERE {_AFTER_ALL} AND v.ends_at > ?))))"""
_PUBLISHED = """SELECT p.id FROM project p JOIN shown_page s ON s.project_id = p.id
    WHERE s.changed = p.changed AND s.failing_since IS NULL AND p.removed_at IS NULL ORDER BY p.id"""
_BEHIND = f"""SELECT p.id, p.name, p.timezone, p.changed, {_STILL}, p.changed_at, s.failing_since,
    COALESCE(s.failing, '') AS failing FROM project p LEFT JOIN shown_page s ON s.project_id = p.id
    WHERE p.removed_at IS NULL AND (s.failing_since IS NOT NULL
    OR ((s.project_id IS NULL OR s.changed < p.changed) AND p.changed_at > 0 AND p.changed_at < ?))
    ORDER BY p.id LIMIT ?"""
_SHOWN = "SELECT changed, failing_since, day FROM shown_page WHERE project_id = ?"
_SHOWS = """INSERT INTO shown_page (project_id, changed, day, failing_since, failing) VALUES (?, ?, ?, NULL, '')
    ON CONFLICT (project_id) DO UPDATE SET changed = excluded.changed, day = excluded.day, failing_since = NULL,
    failing = ''
    WHERE excluded.changed >= shown_page.changed"""
_FAILS = """INSERT INTO shown_page (project_id, changed, day, failing_since, failing) VALUES (?, -1, '', ?, ?)
    ON CONFLICT (project_id) DO UPDATE SET failing = excluded.failing,
    failing_since = COALESCE(shown_page.failing_since, excluded.failing_since)"""


class Marked(NamedTuple):
    """What a published page is compared with, to know whether it is stale. `still_from`: once it was made on the day of
    this moment or later, another day changes nothing in it: the house is closed, and nobody comes any more."""

    id: int
    timezone: str
    changed: int
    still_from: int | None


class Behind(NamedTuple):
    """A project whose page may lag behind: last changed at `changed_at` (0: not known), or failing since then, and why
    (`portal.pages.publishing.lagging`)."""

    id: int
    name: str
    timezone: str
    changed: int
    still_from: int | None
    changed_at: int
    failing_since: int | None
    failing: str


def marks() -> list[Marked]:
    return [Marked(**row) for row in rows(_MARKS)]


def of_ids(project_ids: Sequence[int]) -> list[Marked]:
    """Those that are there."""
    found = (first_row(_MARK, project_id) for project_id in project_ids)
    return [Marked(**row) for row in found if row]


def is_removed(project_id: int) -> bool:
    return first_row("SELECT id FROM project WHERE id = ? AND removed_at IS NOT NULL", project_id) is not None


def zones() -> list[str]:
    return values(_ZONES)


def not_shown(zone: str, day: str, now: int) -> list[Marked]:
    """The projects of the time zone of which it is not kept that their page shows the last change, on this date;
    closed ones keep theirs, or may have it anew, where somebody was to come after all."""
    return [Marked(**row) for row in rows(_NOT_SHOWN, zone, day, now - _LATELY)]


def published_ids() -> list[int]:
    """The projects of which it is kept that their page shows the last change."""
    return values(_PUBLISHED)


def behind(before: int, most: int) -> list[Behind]:
    """Pages that don't show a change of before then, by what is kept; the page itself may be newer, when that could not
    be kept."""
    return [Behind(**row) for row in rows(_BEHIND, before, most)]


def still_from(snapshot: Snapshot) -> int | None:
    """The same of a snapshot."""
    closed = snapshot.project.closed_at
    if closed is None:
        return None
    return max((visit.ends_at + _DAY for visit in snapshot.visits if visit.ends_at > closed), default=closed)


def read_for_publishing(project_id: int) -> tuple[Snapshot, list[LiveLink], list[VisitFact]]:
    """The snapshot, the links that open it and the visits that were called off, all as of one moment.
    Raises NotFound."""
    with read():
        return read_snapshot(project_id), live_links(project_id), cancelled(project_id)


def keep_computed(
    foreseen: Foreseen, moved: MovedFinish, line: DeskLine | None, project_id: int, changed: int, day: str,
    crews: PlannedWork | None = None,
) -> None:
    """What publishing has computed and others need not again: the forecast, what moved the finish, the line of the
    desk's list, when crews are at work; and which change and date the page shows now. One commit for all; none when all
    are kept."""
    if line is None and crews is None and moved.to_keep is None and _is_kept(project_id, changed, day):
        forecasts.keep(foreseen)
        return
    with write():
        forecasts.keep(foreseen)
        finish_moves.keep(moved)
        if line is not None:
            desk_lines.keep(line)
        if crews is not None:
            work.keep(crews)
        execute(_SHOWS, project_id, changed, day)


def keep_shown(project_id: int, changed: int, day: str) -> None:
    """The page shows this change on this date, and nothing keeps it from being published."""
    if not _is_kept(project_id, changed, day):
        with write():
            execute(_SHOWS, project_id, changed, day)


def _is_kept(project_id: int, changed: int, day: str) -> bool:
    return first_row(_SHOWN, project_id) == {"changed": changed, "failing_since": None, "day": day}


def keep_failing(project_id: int, now: int, why: str) -> None:
    """The page can't be published: since now, unless it could not be before either."""
    with write():
        execute(_FAILS, project_id, now, why)


def give_back() -> None:
    """Close the connection of this thread, which will ask no more."""
    close_database()
