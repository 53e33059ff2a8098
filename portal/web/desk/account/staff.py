"""The people of the firm: who has a second factor, who was here when, and what was done to accounts."""

from flask import Response, url_for
from marshmallow import fields, validate

from portal import clock
from portal.acts.firm.second_factor import demand_second_factor
from portal.acts.firm.ways_in import LASTS
from portal.api.http.shapes import Strict
from portal.store.rows import staff_rows
from portal.store.rows.accounts import factor_rows, journal_rows, session_rows, way_in_rows
from portal.web.desk.account.own import journal_lines, zone_shown
from portal.web.desk.blueprint import form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.forms.inputs import Field, Form
from portal.words.dates import when_words

SHOWN = 50


class DemandSchema(Strict):
    of = fields.String(required=True, validate=validate.OneOf(["everybody", "nobody"]))


@form_page("/staff/", "demand_second_factor")
def staff() -> Response:
    """One button: it turns the demand on, or off again. It says which, so pressed twice it does it once."""
    demanded = factor_rows.is_demanded()

    def do(values: Values) -> str:
        wanted = values["of"] == "everybody"
        demand_second_factor(who(), wanted, clock.now())
        return "From now on, nobody needs a second factor." if not wanted else (
            "From now on, everybody needs a second factor. Whoever has none sets one up before anything else.")

    words = "Ask nobody for a second factor" if demanded else "Ask everybody for a second factor"
    form = Form("The people of the firm", [Field("of", "", "hidden")], DemandSchema(), words, template="staff.html")
    now = clock.now()
    with_one, seen, zone = factor_rows.staff_with_one(), session_rows.last_used(), zone_shown()
    ways = way_in_rows.newest(now - LASTS)
    people = [{"id": one.id, "name": one.name, "email": one.email, "role": one.role, "factor": one.id in with_one,
               "password": bool(one.password_hash), "way": one.id in ways, "here": one.id == who().id,
               "seen": when_words(seen[one.id], zone) if one.id in seen else ""} for one in staff_rows.every_working()]
    start = {"of": "nobody" if demanded else "everybody"}
    return handle(form, do, url_for("desk.staff"), start, people=people, demanded=demanded,
                  left=[one.name for one in staff_rows.every_left()], zone=zone,
                  journal=journal_lines(journal_rows.newest(SHOWN)))
