"""Signing in and out."""

from flask import Response, redirect, url_for
from marshmallow import fields, validate

from portal.acts.firm.passwords import LONGEST
from portal.acts.firm.sessions import CODE
from portal.api.http.shapes import Strict, line_field
from portal.request import session
from portal.web.desk.blueprint import blueprint, wanted_page
from portal.web.desk.entering.proving import give_code, give_password
from portal.web.desk.forms import Values, handle
from portal.web.forms.inputs import Field, Form
from portal.words.plurals import counted, plural


class SignInSchema(Strict):
    email = line_field(200, required=True)
    password = fields.String(required=True, validate=validate.Length(max=LONGEST))


class CodeSchema(Strict):
    code = line_field(100, required=True)


FORM = Form(
    "Sign in",
    [
        Field("email", "E-mail address", "email", required=True, fills="username"),
        Field("password", "Password", "password", required=True, fills="current-password"),
    ],
    SignInSchema(), "Sign in", intro="This is for the people of the firm. Homeowners: open the link that we sent you.",
)
CODE_FORM = Form(
    "The code of your phone",
    [Field("code", "Code", required=True, hint="The 6 digits that your phone shows now, or one of your recovery codes.",
           fills="one-time-code")],
    CodeSchema(), "Go on", template="code.html",
)


@blueprint.route("/sign-in", methods=["GET", "POST"])
def sign_in() -> Response:
    def do(values: Values) -> str | tuple[str, str]:
        found = give_password(values["email"], values["password"])
        if found is not None and found.step == CODE:
            return "", url_for("desk.code", next=wanted_page())
        return "You are signed in."

    return handle(FORM, do, wanted_page(), repeatable=True)


@blueprint.route("/sign-in/code", methods=["GET", "POST"])
def code() -> Response:
    """The second step, for who has a second factor. Sent twice, the second finds it done."""
    found = session.standing()
    if found is None or found.step != CODE:
        return redirect(wanted_page() if found else url_for("desk.sign_in"), 303)  # type: ignore[return-value]

    def do(values: Values) -> str:
        left = give_code(found, values["code"])
        return "You are signed in." if left is None else _used_up(left)

    return handle(CODE_FORM, do, wanted_page(), repeatable=True)


def _used_up(left: int) -> str:
    are_left = f"{counted(left, 'recovery code')} {plural(left, 'is', 'are')} left"
    return (f"You are signed in. That code is used up; {are_left}. If your phone is lost, take your second factor "
            "away under “Your account” and set it up on the new one.")


@blueprint.post("/sign-out")
def sign_out() -> Response:
    session.end()
    return redirect(url_for("desk.sign_in"), 303)  # type: ignore[return-value]
