"""Projects by page, by id, and what is usual in them."""

from datetime import date
from typing import Any, NamedTuple

from portal.store.engine.database import opened
from portal.store.engine.named_rows import first_row, first_value, shaped, values
from portal.store.tables import Phase, Project
from portal.words.dates import local

_CLOSED = "FROM project WHERE closed_at IS NOT NULL AND removed_at IS NULL"
_STAMP = "SELECT COUNT(*) AS many, SUM(changed) AS changes, MAX(changed_at) AS last_at FROM project"


class Stamp(NamedTuple):
    """How many projects there are, how often they were changed, and when last; no two are alike with a change between
    them, since every change of a project counts on (`store.engine.database.touch`)."""

    many: int
    changes: int | None
    last_at: int | None


def stamp() -> tuple[str, Stamp]:
    """The same, of the database that is open, while nothing of any project has changed."""
    return opened(), shaped(_STAMP, Stamp)[0]


def page(offset: int, limit: int) -> tuple[list[Project], int]:
    rows = Project.select().where(Project.removed_at.is_null())
    return list(rows.order_by(Project.id).offset(offset).limit(limit)), rows.count()


def with_phases() -> list[Project]:
    """Projects that have a plan, the newest first."""
    planned = Phase.select(Phase.project)
    there = Project.id.in_(planned) & Project.removed_at.is_null()
    return list(Project.select().where(there).order_by(Project.id.desc()))


def all_ids() -> list[int]:
    return [row.id for row in Project.select(Project.id).where(Project.removed_at.is_null()).order_by(Project.id)]


def open_ones() -> list[Project]:
    there = Project.closed_at.is_null() & Project.removed_at.is_null()
    return list(Project.select().where(there).order_by(Project.id))


class ClosedHouse(NamedTuple):
    id: int
    name: str
    address: str
    timezone: str
    closed_at: int


def closed_houses(offset: int, limit: int) -> list[ClosedHouse]:
    """Those that were closed last first."""
    found = f"SELECT id, name, address, timezone, closed_at {_CLOSED} ORDER BY closed_at DESC, id DESC LIMIT ? OFFSET ?"
    return shaped(found, ClosedHouse, limit, offset)


def how_many_closed() -> int:
    return int(first_value(f"SELECT COUNT(*) {_CLOSED}"))


def closed_on(project_id: int) -> date | None:
    """The day at the house on which it was closed; None: it is not."""
    found = first_row("SELECT closed_at, timezone FROM project WHERE id = ? AND closed_at IS NOT NULL", project_id)
    return local(found["closed_at"], found["timezone"]).date() if found else None


def all_with_record() -> list[int]:
    """The ids of all projects, and of those that only a record is left of."""
    left = "SELECT id FROM project UNION SELECT project_id FROM record_edge UNION SELECT project_id FROM record_entry"
    return sorted(one for one in values(left) if isinstance(one, int))


def usual_timezone() -> str:
    """That of the newest project: the next house is most likely in the same one."""
    newest = Project.select(Project.timezone).order_by(Project.id.desc()).first()
    return newest.timezone if newest else ""


def usual_holidays() -> dict[str, Any] | None:
    """Whose holidays the newest project goes by, and which of them are worked there; None: nobody's."""
    newest = Project.select(Project.calendar).order_by(Project.id.desc()).first()
    return newest.calendar.get("holidays") if newest else None


def those(ids: list[int]) -> list[Project]:
    """Those that are there, in this order."""
    there = Project.id.in_(ids) & Project.removed_at.is_null()
    rows = {row.id: row for row in Project.select().where(there)}
    return [rows[project_id] for project_id in ids if project_id in rows]
