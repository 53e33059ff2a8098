"""Asks for the password once more, before what changes how somebody gets in (OWASP ASVS 5.0, 7.5.1): whoever finds a
phone that is signed in changes nothing with it."""

from collections.abc import Sequence

from marshmallow import fields, validate

from portal import clock
from portal.acts import limits
from portal.acts.firm.passwords import LONGEST
from portal.acts.firm.staff import check_own_password
from portal.api.http.shapes import Strict
from portal.request.session import standing
from portal.store.refusals import FieldRefused
from portal.web.desk.blueprint import who
from portal.web.desk.forms import Values
from portal.web.forms.inputs import Field

PASSWORD = Field("password", "Your password, once more", "password", required=True, fills="current-password")


def password_field() -> fields.String:
    return fields.String(required=True, validate=validate.Length(max=LONGEST))


class OnceMoreSchema(Strict):
    password = password_field()


def confirm(values: Values) -> None:
    """Raises NotYourPassword, and TooOften for who guesses it."""
    now = clock.now()
    limits.take("own_password", who().id, now)
    check_own_password(who().id, values["password"])
    limits.begin_anew("own_password", who().id)


def session_id() -> int:
    found = standing()
    assert found is not None, "the desk lets in nobody without a session"
    return found.session.id


def is_fresh() -> bool:
    """Whether they have given it a moment ago, to sign in."""
    found = standing()
    return found is not None and found.fresh


def unless_fresh(asked: Sequence[Field]) -> list[Field]:
    """These fields, and the password once more for whoever did not sign in a moment ago."""
    return list(asked) if is_fresh() else [*asked, PASSWORD]


def confirm_unless_fresh(values: Values) -> None:
    """Takes the password out of `values`. Raises as `confirm`, and FieldRefused where it is missing."""
    password = values.pop("password", "")
    if is_fresh():
        return
    if not password:
        raise FieldRefused("password", "Give your password once more.")
    confirm({"password": password})
