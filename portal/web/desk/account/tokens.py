"""One's own API tokens: made, shown once, ended."""

from flask import Response, url_for
from marshmallow import fields

from portal import clock
from portal.acts.firm.tokens import end_token, make_token
from portal.api.http.shapes import Strict, line_field
from portal.store.refusals import NotFound
from portal.store.rows import staff_rows
from portal.web.desk.account.once_more import confirm_unless_fresh, unless_fresh
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form


class TokenForm(Strict):
    label = line_field(200, required=True)
    password = fields.String()


@form_page("/account/tokens/new", "make_token")
def new_token() -> Response:
    """Shown in the answer to the form, and nowhere else."""
    made: list[str] = []

    def do(values: Values) -> str:
        confirm_unless_fresh(values)
        made.append(make_token(who(), values["label"], clock.now()))
        return ""

    label = Field("label", "What it is for", required=True, hint="Such as: our accounts program. You find it by this.")
    form = Form("Make an API token", unless_fresh([label]), TokenForm(), "Make it",
                intro="A program that has it does whatever you may do here, without password and code.")
    answer = handle(form, do, url_for("desk.account"), repeatable=True)
    if not made:
        return answer
    return show("shown_once.html", title="Your new API token", secret=made[0], label="The token", trouble="",
                onward=url_for("desk.account"),
                told=["Copy it into the program now. It is not shown again; if it is lost, end it and make another."])


@form_page("/account/tokens/<int:number>/end", "end_token")
def end_own_token(number: int) -> Response:
    token = next((one for one in staff_rows.tokens(who().id) if one.id == number), None)
    if token is None:
        raise NotFound(what="token of yours")

    def do(values: Values) -> str:
        if token.revoked_at is None:
            end_token(who(), number, clock.now())
        return "The token opens nothing any longer."

    form = Form("End an API token", [], Strict(), "End it",
                intro=f"{token.label or 'A token without a label'}: the program that uses it stops working.")
    return handle(form, do, url_for("desk.account"), repeatable=True)
