"""The people of the firm, for its managers: letting somebody in, changing what they may do, ending an account."""

from collections.abc import Sequence

from flask import Response, url_for
from marshmallow import fields, validate

from portal import clock
from portal.acts.actor import MANAGER
from portal.acts.firm.colleagues import add_colleague, change_colleague, end_account, take_factor_away, working
from portal.api.http.shapes import Strict, email_field, name_field
from portal.store.rows import staff_rows
from portal.web.desk.account.once_more import (
    PASSWORD,
    OnceMoreSchema,
    confirm,
    confirm_unless_fresh,
    unless_fresh,
)
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.forms import Values, handle, seen
from portal.web.forms.inputs import Field, Form
from portal.words.lists import listed
from portal.words.plurals import counted

ONE = "/staff/<int:staff_id>"


class ColleagueForm(Strict):
    name = name_field(required=True)
    email = email_field(required=True)
    role = fields.String(required=True, validate=validate.OneOf(["manager", "office"]))
    password = fields.String()


class EndForm(OnceMoreSchema):
    houses_to = fields.Integer(allow_none=True, load_default=None)


_ROLES = [("office", "Office: finds houses, notes calls, books visits"),
          ("manager", "Manager: all of it, and the people of the firm")]
_FIELDS = [
    Field("name", "Name", required=True, hint="The pages and the record show it."),
    Field("email", "E-mail address", "email", required=True, hint="They sign in with it."),
    Field("role", "What they do here", "choice", choices=_ROLES),
]


@form_page("/staff/new", "add_colleague")
def new_colleague() -> Response:
    def do(values: Values) -> tuple[str, str]:
        confirm_unless_fresh(values)
        staff = add_colleague(who(), values, clock.now())
        return f"{staff.name} has an account. Next: their way in.", url_for("desk.new_way_in", staff_id=staff.id)

    form = Form("Add a colleague", unless_fresh(_FIELDS), ColleagueForm(), "Add them")
    return handle(form, do, "", {"role": "office"})


@form_page(f"{ONE}/change", "change_colleague")
def edit_colleague(staff_id: int) -> Response:
    staff = working(staff_id)

    def do(values: Values) -> str:
        confirm_unless_fresh(values)
        change_colleague(who(), staff_id, seen(), values, clock.now())
        return f"{values['name']}: changed. They are told by nobody but you."

    start = {"name": staff.name, "email": staff.email, "role": staff.role}
    form = Form(f"Change the account of {staff.name}", unless_fresh(_FIELDS), ColleagueForm(), "Save it")
    return handle(form, do, url_for("desk.colleague", staff_id=staff_id), start, seen=staff.version)


@form_page(f"{ONE}/end", "end_account")
def leave(staff_id: int) -> Response:
    staff, houses = working(staff_id), staff_rows.houses_run_by(staff_id)

    def do(values: Values) -> str:
        confirm(values)
        end_account(who(), staff_id, values["houses_to"], clock.now())
        return f"{staff.name} can no longer sign in. What they did keeps their name."

    told = "They are signed out everywhere, and their API tokens end. They can be let in again at any time."
    form = Form(f"End the account of {staff.name}", [*_houses_to(staff_id, houses), PASSWORD], EndForm(),
                "End the account", intro=told)
    return handle(form, do, url_for("desk.staff"), repeatable=True)


def _houses_to(staff_id: int, houses: Sequence[tuple[int, str, int]]) -> list[Field]:
    """Only where they run any."""
    if not houses:
        return []
    others = [one for one in staff_rows.every_working() if one.role == MANAGER and one.id != staff_id]
    choices = [(str(one.id), one.name) for one in others] + [("", "Nobody: tell all managers")]
    hint = f"They run {counted(len(houses), 'house')}: {listed([name for _, name, _ in houses[:5]])}."
    return [Field("houses_to", "Who runs their houses from now on", "choice", hint=hint, choices=choices)]


@form_page(f"{ONE}/second-factor", "take_factor_away")
def drop_factor_of(staff_id: int) -> Response:
    staff = working(staff_id)

    def do(values: Values) -> str:
        confirm(values)
        ended = take_factor_away(who(), staff_id, clock.now())
        return f"{staff.name} signs in with the password alone. {counted(ended, 'session')} ended."

    told = ("For a phone that is lost. Call them first, on a number that you know: whoever asks by mail may be "
            "somebody else. Where the firm asks everybody for a second factor, they set up another one at the door.")
    form = Form(f"Take the second factor of {staff.name} away", [PASSWORD], OnceMoreSchema(), "Take it away",
                intro=told)
    return handle(form, do, url_for("desk.colleague", staff_id=staff_id), repeatable=True)
