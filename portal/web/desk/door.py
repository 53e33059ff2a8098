"""Signing in and out."""

from urllib.parse import urlsplit

from flask import Response, redirect, request, url_for
from marshmallow import fields, validate

from portal import clock
from portal.acts.firm.staff import sign_in as check
from portal.acts.refusals import WrongPassword
from portal.api.http.shapes import Strict, line_field
from portal.request import session
from portal.web.desk import guessing
from portal.web.desk.blueprint import blueprint
from portal.web.desk.forms import Values, handle
from portal.web.forms.inputs import Field, Form


class SignInSchema(Strict):
    email = line_field(200, required=True)
    password = fields.String(required=True, validate=validate.Length(max=1000))


FORM = Form(
    "Sign in",
    [
        Field("email", "E-mail address", "email", required=True),
        Field("password", "Password", "password", required=True),
    ],
    SignInSchema(), "Sign in", intro="This is for the people of the firm. Homeowners: open the link that we sent you.",
)


@blueprint.route("/sign-in", methods=["GET", "POST"])
def sign_in() -> Response:
    def do(values: Values) -> str:
        origin, account = request.remote_addr or "", values["email"].strip().lower()
        guessing.check(origin, account, clock.now())
        try:
            session.begin(check(values["email"], values["password"]))
        except WrongPassword:
            guessing.note_wrong(origin, account, clock.now())
            raise
        guessing.forget(origin, account)
        return "You are signed in."

    return handle(FORM, do, _wanted(), repeatable=True)


@blueprint.post("/sign-out")
def sign_out() -> Response:
    session.end()
    return redirect(url_for("desk.sign_in"), 303)  # type: ignore[return-value]


def _wanted() -> str:
    """Only a page of the desk: nobody is sent elsewhere by a link to our door."""
    wanted = request.args.get("next", "")
    parts = urlsplit(wanted)
    safe = wanted.startswith("/desk/") and not parts.netloc and not parts.scheme and "\\" not in wanted
    safe = safe and wanted.isprintable()  # a line break would end the header that leads there
    return wanted if safe else url_for("desk.every")
