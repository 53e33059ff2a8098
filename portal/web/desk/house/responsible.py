"""Handing a house over to another manager: one list and one press."""

from flask import Response
from marshmallow import fields

from portal import clock
from portal.acts.actor import MANAGER
from portal.acts.firm.responsible import hand_over_house
from portal.api.http.shapes import Strict
from portal.store.rows import staff_rows
from portal.store.rows.editable import project_row
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.forms.inputs import Field, Form


class ResponsibleForm(Strict):
    staff = fields.Integer(allow_none=True, load_default=None)


@form_page(f"{PROJECT}/responsible", "hand_over_house")
def responsible(project_id: int) -> Response:
    row = project_row(project_id)
    managers = [one for one in staff_rows.every_working() if one.role == MANAGER]

    def do(values: Values) -> str:
        named = values["staff"]
        project = hand_over_house(who(), project_id, seen(), named, now=clock.now())
        if project.responsible_id is None:
            return "Nobody is named; every manager is told what waits for us here."
        return f"{staff_rows.names()[project.responsible_id]} runs this house from now on."

    choices = [(str(one.id), one.name) for one in managers] + [("", "Nobody: tell all managers")]
    form = Form("Who runs this house", [Field("staff", "Manager", "choice", choices=choices)], ResponsibleForm(),
                "Hand it over", intro="What the household tells us, and what waits for us, is written to them.")
    other = next((one.id for one in managers if one.id != row.responsible_id), None)
    chosen = other if row.responsible_id == who().id else who().id
    return project_form(form, do, project_id, {"staff": chosen}, seen=row.version)
