"""All projects, with who waits on whom and the nearest need-by date first; and finding a house while someone is on the line."""

from dataclasses import dataclass
from datetime import date

from flask import Response, abort, redirect, request, url_for

from portal import clock
from portal.pages.outlook import outlook_of
from portal.pages.words import near_words
from portal.store import project_rows
from portal.store.facts import Snapshot
from portal.store.planned import schedule_of
from portal.store.rows import project_row
from portal.store.snapshot import read_snapshot
from portal.web.desk.blueprint import blueprint
from portal.web.desk.showing import show
from portal.web.published import published, published_photo
from portal.when import local


@dataclass(frozen=True, slots=True)
class Line:
    """One project of the list. `waiting`: sentences that say who waits on whom."""

    id: int
    name: str
    address: str
    nearest: date | None
    waiting: list[str]


@blueprint.get("/")
def every() -> Response:
    """With `q`: the houses that match; if it is only one, straight to it."""
    words = request.args.get("q", "").strip()
    found = project_rows.find(words) if words else None
    if found is not None and len(found) == 1:
        return redirect(url_for("desk.project", project_id=found[0].id), 303)  # type: ignore[return-value]
    ids = [row.id for row in found] if found is not None else project_rows.open_ids()
    lines = sorted((_line(read_snapshot(i)) for i in ids), key=lambda line: (line.nearest or date.max, line.name))
    return show("projects.html", lines=lines, words=words)


@blueprint.get("/projects/<int:project_id>/page")
def same_page(project_id: int) -> Response:
    """The very file that the homeowner reads."""
    project_row(project_id)
    return published(project_id)


@blueprint.get("/projects/<int:project_id>/photos/<name>")
def photo(project_id: int, name: str) -> Response:
    return published_photo(project_id, name) or abort(404)


def _line(snapshot: Snapshot) -> Line:
    now = clock.now()
    outlook = outlook_of(snapshot, schedule_of(snapshot, now))
    today = local(now, snapshot.project.timezone).date()
    waiting = []
    for decision in (one for one in snapshot.decisions if one.is_open):
        day = outlook.needed_by.get(decision.id)
        whom = "We owe an answer on" if decision.state == "asked_back" else "The household owes"
        by = "" if day is None else f", needed by {near_words(day, today)}"
        late = " It is late." if day is not None and day < today else ""
        waiting.append((day or date.max, f"{whom} decision {decision.number}, “{decision.question}”{by}.{late}"))
    waiting.sort()
    nearest = waiting[0][0] if waiting and waiting[0][0] != date.max else None
    project = snapshot.project
    return Line(project.id, project.name, project.address, nearest, [words for _, words in waiting])
