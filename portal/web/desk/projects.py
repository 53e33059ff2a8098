"""All projects, with who waits on whom and the nearest need-by date first; and finding the house of a caller."""

from dataclasses import dataclass
from datetime import date

from flask import Response, redirect, request, url_for

from portal import clock
from portal.acts.written import written
from portal.pages.outlook import outlook_of
from portal.store import project_rows
from portal.store.facts import Snapshot
from portal.store.planned import schedule_of
from portal.store.snapshot import read_snapshot
from portal.web.desk.blueprint import blueprint
from portal.web.desk.showing import show
from portal.web.desk.waiting import Waiting, waiting_of
from portal.when import local


@dataclass(frozen=True, slots=True)
class Line:
    """One project of the list, with who waits on whom in it."""

    id: int
    name: str
    address: str
    nearest: date
    waiting: list[Waiting]


@blueprint.get("/")
def every() -> Response:
    """With `q`: the houses that match; if it is only one, straight to it."""
    words = written("q", request.args.get("q", ""))
    found = project_rows.find(words) if words else None
    if found is not None and len(found) == 1:
        return redirect(url_for("desk.project", project_id=found[0].id), 303)  # type: ignore[return-value]
    ids = [row.id for row in found] if found is not None else project_rows.open_ids()
    lines = sorted((_line(read_snapshot(i)) for i in ids), key=lambda line: (line.nearest, line.name))
    return show("projects.html", lines=lines, words=words)


def _line(snapshot: Snapshot) -> Line:
    now, project = clock.now(), snapshot.project
    today = local(now, project.timezone).date()
    waiting = waiting_of(snapshot, outlook_of(snapshot, schedule_of(snapshot, now)), today)
    nearest = next((one.needed_by for one in waiting if one.needed_by), date.max)
    return Line(project.id, project.name, project.address, nearest, waiting)
