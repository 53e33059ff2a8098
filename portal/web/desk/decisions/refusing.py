"""A proposal that is not taken up: why, for the designer."""

from flask import Response, abort, url_for
from marshmallow import Schema

from portal import clock
from portal.acts.decisions.proposals import REFUSED, settle_proposal
from portal.api.http.shapes import Strict, text_field
from portal.store.rows.editable import in_project
from portal.store.rows.proposal_rows import proposal_of
from portal.store.tables import Decision
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.forms.inputs import Field, Form


class RefusalForm(Strict):
    because = text_field(2000, required=True)


@form_page(f"{PROJECT}/decisions/<int:decision_id>/proposals/<int:proposal_id>/refuse", "settle_proposal")
def refuse_proposal(project_id: int, decision_id: int, proposal_id: int) -> Response:
    found = proposal_of(in_project(Decision, project_id, decision_id).id, str(proposal_id))
    if found is None:
        abort(404)

    def do(values: Values) -> str:
        settle_proposal(who(), project_id, decision_id, proposal_id, REFUSED, values["because"], now=clock.now())
        return f"{found.name} is told why."

    schema: Schema = RefusalForm()
    form = Form(f"Not taken up: what {found.name} proposes",
                [Field("because", "Why", "text", required=True, hint=f"{found.name} reads this, nobody else does.")],
                schema, "Tell them", intro=f"“{found.layout}”")
    then = url_for("desk.decision", project_id=project_id, decision_id=decision_id)
    return project_form(form, do, project_id, then=then)
