"""Setting up the second factor, taking it away, new recovery codes."""

import segno
from flask import Response, url_for
from markupsafe import Markup
from marshmallow import Schema

from portal import clock
from portal.acts import limits
from portal.acts.firm.second_factor import (
    NewFactor,
    drop_own_second_factor,
    new_factor,
    renew_recovery_codes,
    set_up_second_factor,
)
from portal.api.http.shapes import Strict, line_field
from portal.request.services import services
from portal.request.session import look_again, mark_digest, standing
from portal.store.reading.firm import current_firm
from portal.store.rows.accounts import factor_rows
from portal.web.desk.account.once_more import (
    PASSWORD,
    OnceMoreSchema,
    confirm,
    is_fresh,
    password_field,
    session_id,
)
from portal.web.desk.blueprint import form_page, wanted_page, who
from portal.web.desk.forms import Values, handle
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.words.plurals import counted

_QUIET = 4
"""Modules left white around a square code (ISO/IEC 18004)."""


class SetUpSchema(Strict):
    code = line_field(100, required=True)


class SetUpLaterSchema(SetUpSchema):
    password = password_field()


@form_page("/account/second-factor", "set_up_second_factor")
def set_up_factor() -> Response:
    """To look at it changes nothing: the key is kept once a code shows that the phone has it."""
    made, codes = _made(), list[str]()

    def do(values: Values) -> str:
        if "password" in values:
            confirm(values)
        limits.take("code", who().id, clock.now())
        secret = services().settings.secret
        codes.extend(set_up_second_factor(who(), made, values["code"], session_id(), secret, clock.now()))
        limits.begin_anew("code", who().id)
        look_again()
        return ""

    groups = " ".join(made.key[i:i + 4] for i in range(0, len(made.key), 4))
    answer = handle(_form(), do, "", repeatable=True, square=_square(made), key=groups, address=made.address,
                    demanded=factor_rows.is_demanded())
    return _shown_once(codes) if codes else answer


def _form() -> Form:
    code = Field("code", "The code that it shows now", required=True, hint="6 digits.", fills="one-time-code")
    fresh = is_fresh()
    schema: Schema = SetUpSchema() if fresh else SetUpLaterSchema()
    return Form("Set up a second factor", [code] if fresh else [code, PASSWORD], schema, "Set it up",
                template="set_up_factor.html")


def _made() -> NewFactor:
    found = standing()
    assert found is not None, "the desk lets in nobody without a session"
    return new_factor(services().settings.secret, found.session, mark_digest(), current_firm().name)


def _square(made: NewFactor) -> Markup:
    """Inside the page: the key is in no address, and so in no log. Filled, not stroked, each part with its own color:
    the look of drawings reaches every <svg>, and scanners need plain black on white, in dark too."""
    code = segno.make(made.address, micro=False, error="m")
    size = code.symbol_size(border=_QUIET)[0]
    dark = "".join(
        f"M{x + _QUIET} {y + _QUIET}h1v1h-1z"
        for y, row in enumerate(code.matrix) for x, is_dark in enumerate(row) if is_dark
    )  # fmt: skip
    return Markup(
        f'<svg width="{size * 5}" height="{size * 5}" viewBox="0 0 {size} {size}" role="img" '
        'shape-rendering="crispEdges"><title>The key as a square code</title>'
        f'<path fill="#fff" stroke="none" d="M0 0h{size}v{size}H0z"/><path fill="#000" stroke="none" d="{dark}"/></svg>'
    )  # nothing of it was typed: the address is in dots


def _shown_once(codes: list[str]) -> Response:
    return show("recovery_codes.html", codes=codes, onward=wanted_page())


@form_page("/account/second-factor/remove", "drop_second_factor")
def drop_factor() -> Response:
    def do(values: Values) -> str:
        confirm(values)
        ended = drop_own_second_factor(who(), session_id(), clock.now())
        look_again()
        return f"Your second factor is taken away. {counted(ended, 'other session')} of yours ended."

    told = ("The firm asks everybody for one: next, you set up another." if factor_rows.is_demanded() else
            "From then on, your password is all that keeps others out.")
    form = Form("Take your second factor away", [PASSWORD], OnceMoreSchema(), "Take it away", intro=told)
    return handle(form, do, url_for("desk.account"), repeatable=True)


@form_page("/account/recovery-codes", "renew_recovery_codes")
def renew_codes() -> Response:
    codes: list[str] = []

    def do(values: Values) -> str:
        confirm(values)
        codes.extend(renew_recovery_codes(who(), services().settings.secret, clock.now()))
        return ""

    form = Form("Make new recovery codes", [PASSWORD], OnceMoreSchema(), "Make new ones",
                intro="Those that you have from before work no longer.")
    answer = handle(form, do, url_for("desk.account"), repeatable=True)
    return _shown_once(codes) if codes else answer
