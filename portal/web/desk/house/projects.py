"""All projects, with who waits on whom and the nearest need-by date first; and finding the house of a caller."""

from dataclasses import dataclass
from typing import Any

from flask import Response, redirect, request, url_for

from portal import clock
from portal.acts.written import written
from portal.backup.last import none_since
from portal.request.services import services
from portal.store.reading import desk_lines
from portal.store.reading.desk_lines import Listed
from portal.store.rows import project_rows
from portal.web.desk.blueprint import blueprint
from portal.web.desk.house.waiting import is_late, waiting_words
from portal.web.desk.showing import show
from portal.words.dates import day_words, local

AT_A_TIME = 50


@dataclass(frozen=True, slots=True)
class Line:
    """One project of the list, with who waits on whom in it: in words, and whether it is late."""

    id: int
    name: str
    address: str
    waiting: list[tuple[str, bool]]


@blueprint.get("/")
def every() -> Response:
    """With `q`: the houses that match; if it is only one, straight to it. `page` counts from 1."""
    words = written("q", request.args.get("q", ""))
    found = project_rows.find(words, AT_A_TIME) if words else None
    if found is not None and len(found) == 1:
        return redirect(url_for("desk.project", project_id=found[0].id), 303)  # type: ignore[return-value]
    now = clock.now()
    near = project_rows.near(words) if found == [] else []
    shown_rows = [row.id for row in found or near]
    listed = desk_lines.open_projects(now) if found is None else desk_lines.those(shown_rows, now)
    shown, pages = _page(listed, request.args.get("page", 1, type=int))
    lines = [_line(one, now) for one in shown]
    backed_up = none_since(services().settings, now)
    return show("projects.html", lines=lines, words=words, near=bool(near), many=len(listed), most=AT_A_TIME, **pages,
                backed_up=None if backed_up is None else day_words(local(backed_up, "UTC").date()))


def _page(listed: list[Listed], page: int) -> tuple[list[Listed], dict[str, Any]]:
    """What stands on that page, or on the last one; the first and last of it by number, and the pages beside it."""
    last = max(1, -(-len(listed) // AT_A_TIME))
    page = min(max(page, 1), last)
    first = (page - 1) * AT_A_TIME
    shown = listed[first:first + AT_A_TIME]
    beside = {"before": page - 1 if page > 1 else None, "after": page + 1 if page < last else None}
    return shown, {"first": first + 1, "last": first + len(shown), **beside}


def _line(one: Listed, now: int) -> Line:
    today = local(now, one.timezone).date()
    waiting = [(waiting_words(waits, today), is_late(waits, today)) for waits in one.waiting]
    return Line(one.id, one.name, one.address, waiting)
