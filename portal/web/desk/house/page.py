"""The very page that the homeowner reads, at the desk; its ways lead to the desk's own pages of the same things."""

from flask import Response, abort, redirect, url_for

from portal import clock
from portal.acts.actor import allow
from portal.pages.evidence.record_page import record_line
from portal.pages.plain_pages import render_message
from portal.record.log.canonical import read
from portal.store.reading.firm import current_firm
from portal.store.rows import decision_rows, record_rows
from portal.store.rows.editable import project_row
from portal.web.answer import page
from portal.web.desk.blueprint import PROJECT, blueprint, who
from portal.web.desk.showing import show
from portal.web.files.published import published, published_photo
from portal.words.dates import when_words

_TWINS = {
    "plan": "desk.chart", "record": "desk.record", "handovers": "desk.handovers", "messages": "desk.messages",
    "visits": "desk.project", "crew": "desk.crew_of_the_day",
}
"""By where a way of the page leads: the desk's own page of the same."""


@blueprint.get(f"{PROJECT}/page/")
def same_page(project_id: int) -> Response:
    project_row(project_id)
    return published(project_id)


@blueprint.get(f"{PROJECT}/page/photos/<name>")
@blueprint.get(f"{PROJECT}/photos/<name>")
def photo(project_id: int, name: str) -> Response:
    return published_photo(project_id, name) or abort(404)


@blueprint.get(f"{PROJECT}/page/decisions/<int:number>/")
def decision_of_page(project_id: int, number: int) -> Response:
    """The page counts decisions by number, the desk by id."""
    found = decision_rows.by_number(project_id, number)
    if found is None:
        abort(404)
    return redirect(url_for("desk.decision", project_id=project_id, decision_id=found.id), 303)  # type: ignore[return-value]


@blueprint.get(f"{PROJECT}/page/<path:way>")
def way_of_page(project_id: int, way: str) -> Response:
    project_row(project_id)
    first = way.split("/")[0]
    twin = _TWINS.get(first)
    if twin:
        return redirect(url_for(twin, project_id=project_id), 303)  # type: ignore[return-value]
    if first == "guide":
        return redirect(f"/{way}", 303)  # type: ignore[return-value]
    if first in ("copy", "calendar", "visits.ics"):
        words = "It stands under the household’s own link: send them there, or make them a new link."
        back = (url_for("desk.same_page", project_id=project_id), "Back to the page")
        return page(render_message(current_firm(), "This is for the household", [words], back))
    return abort(404)


@blueprint.post(f"{PROJECT}/page/messages/")
def told_from_the_desk(project_id: int) -> Response:
    """The form of the page is the household's; what they say on the phone is a call note."""
    return redirect(url_for("desk.new_call", project_id=project_id), 303)  # type: ignore[return-value]


@blueprint.get(f"{PROJECT}/record/")
def record(project_id: int) -> Response:
    allow(who(), "note_call", project_id)
    project = project_row(project_id)
    entries = [(sequence, code, read(text)) for sequence, code, text in record_rows.every(project_id)]
    lines = [record_line(sequence, code, entry, project.timezone) for sequence, code, entry in reversed(entries)]
    return show("record_desk.html", project=project, lines=lines, as_of=when_words(clock.now(), project.timezone))
