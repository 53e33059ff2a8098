"""Signing in and out."""

from urllib.parse import urlsplit

from flask import Response, redirect, request, url_for
from marshmallow import Schema, fields

from portal.acts.staff import sign_in as check
from portal.web import session
from portal.web.desk.blueprint import blueprint
from portal.web.desk.forms import Field, Form, Values, handle


class SignInSchema(Schema):
    email = fields.String(required=True)
    password = fields.String(required=True)


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
        session.begin(check(values["email"], values["password"]))
        return "You are signed in."

    return handle(FORM, do, _wanted(), once=False)


@blueprint.post("/sign-out")
def sign_out() -> Response:
    session.end()
    return redirect(url_for("desk.sign_in"), 303)  # type: ignore[return-value]


def to_the_door() -> Response:
    """Sign in first; afterwards the page that was wanted opens, unless that would be a form."""
    wanted = request.full_path if request.method == "GET" else None
    return redirect(url_for("desk.sign_in", next=wanted), 303)  # type: ignore[return-value]


def _wanted() -> str:
    """Only a page of the desk: nobody is sent elsewhere by a link to our door."""
    wanted = request.args.get("next", "")
    parts = urlsplit(wanted)
    safe = wanted.startswith("/desk/") and not parts.netloc and not parts.scheme and "\\" not in wanted
    return wanted if safe else url_for("desk.every")
