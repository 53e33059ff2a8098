"""Changing one's own password."""

from flask import Response, url_for
from marshmallow import ValidationError, validates_schema

from portal import clock
from portal.acts import limits
from portal.acts.firm.passwords import SHORTEST
from portal.acts.firm.staff import change_password, new_password
from portal.api.http.shapes import Strict
from portal.web.desk.account.once_more import password_field, session_id
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.forms.inputs import Field, Form
from portal.words.plurals import counted


class PasswordSchema(Strict):
    old = password_field()
    password = password_field()
    again = password_field()

    @validates_schema
    def is_the_same(self, values: Values, **kwargs: object) -> None:
        if values.get("again") != values.get("password"):
            raise ValidationError({"again": "This differs from the new password above. Type it again."})


FORM = Form(
    "Change your password",
    [
        Field("old", "Your password until now", "password", required=True, fills="current-password"),
        Field("password", "The new one", "password", required=True, fills="new-password",
              hint=f"At least {SHORTEST} characters, such as four words that have nothing to do with each other. "
              "Any characters will do; pasting is fine."),
        Field("again", "The new one, once more", "password", required=True, fills="new-password"),
    ],
    PasswordSchema(), "Change it", intro="A new one signs you out everywhere else.",
)


@form_page("/account/password", "change_password")
def password() -> Response:
    """Hashing stands outside of what is done once: it takes longer than the writers' turn should."""

    def do(values: Values) -> str:
        now = clock.now()
        limits.take("own_password", who().id, now)
        made = new_password(who().id, values["old"], values["password"])
        limits.begin_anew("own_password", who().id)
        ended = change_password(who(), made, session_id(), now)
        return f"Your password is changed. {counted(ended, 'other session')} of yours ended."

    return handle(FORM, do, url_for("desk.account"), repeatable=True)
