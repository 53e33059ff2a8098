"""The end of a house at the desk: close it, open it again, remove one that was set up by mistake."""

from flask import Response, request, url_for

from portal import clock
from portal.acts.firm import ending as acts
from portal.api.http.shapes import Strict, WhySchema, note_field
from portal.store.reading.closing.what_ends import reason_to_stay, what_ends
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import project_row
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, handle, project_form, seen
from portal.web.desk.house.ending_words import ending_sentences
from portal.web.desk.showing import show
from portal.web.files.closing_report import closing_report_answer
from portal.web.forms.inputs import Field, Form


class CloseForm(Strict):
    reason = note_field(1000, load_default="")


@form_page(f"{PROJECT}/close", "close_house")
def close_house(project_id: int) -> Response:
    row, ending = project_row(project_id), what_ends(project_id, clock.now())

    def do(values: Values) -> str:
        acts.close_house(who(), project_id, seen(), reason=values["reason"], now=clock.now())
        return "The house is closed. Its page, links, copy and calendar stay."

    asked = [Field("reason", "Why it is closed all the same", required=True)] if ending.unfinished else []
    form = Form("Close this house", asked, CloseForm(), "Close it", template="closing.html")
    sentences = ending_sentences(ending, read_snapshot(project_id))
    return project_form(form, do, project_id, seen=row.version, sentences=sentences)


@blueprint.get(f"{PROJECT}/closing-report.pdf")
def closing_report(project_id: int) -> Response:
    return closing_report_answer(read_snapshot(project_id))


@form_page(f"{PROJECT}/open", "open_house")
def open_house_again(project_id: int) -> Response:
    def do(values: Values) -> str:
        acts.open_house(who(), project_id, seen(), reason=values["reason"], now=clock.now())
        return "The house is open again. Its questions stand under Questions: ask, order and book anew."

    form = Form("Open this house again", [Field("reason", "Why", required=True)], WhySchema(), "Open it again")
    return project_form(form, do, project_id, seen=project_row(project_id).version)


@form_page(f"{PROJECT}/remove", "remove_house")
def remove_house(project_id: int) -> Response:
    """Its own address is gone with it, so that the way goes on to Today."""
    row, why = project_row(project_id), reason_to_stay(project_id)
    if why and request.method == "GET":
        return show("stays.html", project=row, why=f"This house can’t be removed: {why}. Close it instead.")

    def do(values: Values) -> str:
        acts.remove_house(who(), project_id, seen(), reason=values["reason"], now=clock.now())
        return f"{row.name} is removed."

    form = Form(
        "Remove a house set up by mistake", [Field("reason", "Why", required=True)], WhySchema(), "Remove it",
        intro="It goes from all lists and searches, with its page. Our record keeps what was done.",
    )
    return handle(form, do, url_for("desk.every"), seen=row.version, project=row)
