"""Visits: booked, moved, cancelled; by the wall clock of the house."""

from typing import Any

from flask import Response, request

from portal import clock
from portal.acts.visiting.visits import book_visit, cancel_visit, change_visit
from portal.api.resources.visits import CancelSchema, VisitSchema
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.tables import Visit
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.forms import choices
from portal.web.forms.inputs import Field, Form
from portal.web.forms.plain_fields import HouseTime, house_time


class VisitForm(VisitSchema):
    starts_at = HouseTime(required=True)
    ends_at = HouseTime(required=True)


def _form(snapshot: Snapshot, title: str, button: str) -> Form:
    return Form(
        title,
        [
            Field("crew", "Who comes", required=True, hint="The crew, such as Plumber."),
            Field("purpose", "To do what", required=True, hint="The household reads this."),
            Field("starts_at", "From", "moment", required=True),
            Field("ends_at", "Until", "moment", required=True),
            Field("phase", "For which phase", "choice", choices=choices.phase_or_none(snapshot)),
        ],
        VisitForm(), button, intro="Times are by the clock at the house.",
    )


@form_page(f"{PROJECT}/visits/new", "book_visit")
def new_visit(project_id: int) -> Response:
    snapshot = read_snapshot(project_id)

    def do(values: Values) -> str:
        book_visit(who(), project_id, values, clock.now())
        return "The visit is booked."

    form = _form(snapshot, "Book a visit", "Book it")
    return project_form(form, do, project_id, _for_phase(snapshot, request.args.get("phase", "")))


@form_page(f"{PROJECT}/visits/<int:visit_id>/change", "change_visit")
def move_visit(project_id: int, visit_id: int) -> Response:
    visit, snapshot = in_project(Visit, project_id, visit_id), read_snapshot(project_id)

    def do(values: Values) -> str:
        change_visit(who(), project_id, visit_id, seen(), values, clock.now())
        return "The visit is changed."

    form = _form(snapshot, "Move or change a visit", "Save the visit")
    start = _typed(visit, snapshot.project.timezone)
    return project_form(form, do, project_id, start, seen=visit.version)


@form_page(f"{PROJECT}/visits/<int:visit_id>/cancel", "cancel_visit")
def call_off(project_id: int, visit_id: int) -> Response:
    visit = in_project(Visit, project_id, visit_id)

    def do(values: Values) -> str:
        cancel_visit(who(), project_id, visit_id, seen(), because=values["because"], now=clock.now())
        return "The visit is cancelled."

    form = Form(
        f"Cancel a visit: {visit.crew}", [Field("because", "Why", hint="It goes on the record.")],
        CancelSchema(), "Cancel the visit", intro=f"They were to come to: {visit.purpose}",
    )
    return project_form(form, do, project_id, seen=visit.version)


def _for_phase(snapshot: Snapshot, text: str) -> dict[str, Any]:
    """From a phase's own page, the visit is for it."""
    phase = next((one for one in snapshot.phases if str(one.id) == text), None)
    return {"phase": phase.id, "crew": phase.crew, "purpose": phase.name} if phase else {}


def _typed(visit: Visit, zone: str) -> dict[str, Any]:
    return {
        "crew": visit.crew, "purpose": visit.purpose, "phase": visit.phase_id,
        "starts_at": house_time(visit.starts_at, zone), "ends_at": house_time(visit.ends_at, zone),
    }
