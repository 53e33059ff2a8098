"""The link by which somebody of the firm sets a password: made by a manager, opened by whoever it is for."""

from flask import Response, request, url_for
from marshmallow import ValidationError, fields, validate, validates_schema

from portal import clock
from portal.acts import limits
from portal.acts.firm.colleagues import working
from portal.acts.firm.passwords import SHORTEST
from portal.acts.firm.ways_in import make_way_in, set_by_link, whose
from portal.api.http.shapes import Strict
from portal.notices.to_staff.at_once import send_at_once, sends_mail
from portal.notices.to_staff.firm_letters import way_in_letter
from portal.request import browser, session
from portal.request.origin import origin
from portal.request.services import services
from portal.store.reading.firm import current_firm
from portal.store.refusals import NotFound
from portal.store.tables import Staff
from portal.web.desk.account.once_more import confirm_unless_fresh, password_field, unless_fresh
from portal.web.desk.blueprint import blueprint, form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form


class WayInForm(Strict):
    how = fields.String(required=True, validate=validate.OneOf(["mail", "show"]))
    password = fields.String()


class FirstPasswordForm(Strict):
    password = password_field()
    again = password_field()

    @validates_schema
    def is_the_same(self, values: Values, **kwargs: object) -> None:
        if values.get("again") != values.get("password"):
            raise ValidationError({"again": "This differs from the password above. Type it again."})


@form_page("/staff/<int:staff_id>/way-in", "make_way_in")
def new_way_in(staff_id: int) -> Response:
    """Sent by mail, or shown in the answer and nowhere else; where mail can't go, it is shown, too."""
    staff, made, trouble = working(staff_id), list[str](), list[str]()
    by_mail = sends_mail(services().settings, current_firm())

    def do(values: Values) -> str:
        confirm_unless_fresh(values)
        limits.take("ways_in_made", who().id, clock.now())
        made.append(f"{services().settings.base_url}/desk/way-in/{make_way_in(who(), staff_id, clock.now())}")
        if values["how"] == "show":
            return ""
        letter = way_in_letter(current_firm().name, who().name, made[0])
        trouble.append(send_at_once(services().settings, current_firm(), letter, staff.name, staff.email, clock.now()))
        return f"The link is on its way to {staff.email}. It works once, and for 24 hours."

    answer = handle(_form(staff, by_mail), do, url_for("desk.colleague", staff_id=staff_id), repeatable=True)
    if not made or trouble == [""]:
        return answer
    return show("shown_once.html", title=f"A way in for {staff.name}", secret=made[0], label="The link",
                trouble="".join(trouble), onward=url_for("desk.colleague", staff_id=staff_id), told=[
                    f"Hand it to {staff.name} only, by a way that you trust. It works once, and for 24 hours.",
                    "It is not shown again; if it is lost, make a new one."])  # fmt: skip


def _form(staff: Staff, by_mail: bool) -> Form:
    ways = [("mail", f"Send it to {staff.email}")] if by_mail else []
    how = Field("how", "How they get it", "choice", choices=[*ways, ("show", "Show it to me once, to hand over")],
                hint="" if by_mail else "This server sends no mail yet.")
    has_one = bool(staff.password_hash)
    told = "They set their password by it. " + (
        "Their password from before works until then." if has_one else "Until then they can’t sign in.")
    return Form(f"A way in for {staff.name}", unless_fresh([how]), WayInForm(), "Make the link", intro=told)


@blueprint.route("/way-in/<link>", methods=["GET", "POST"])
def set_password(link: str) -> Response:
    """For whoever has the link; what is wrong, used or older than a day reveals nothing."""
    now = clock.now()
    limits.take("way_in", origin(), now)

    def do(values: Values) -> tuple[str, str]:
        actor = set_by_link(link, values["password"], clock.now())
        session.begin(actor)
        found = session.standing()
        if found is not None and not found.step:
            browser.remember(found.session.email)
        return "Your password is set, and you are signed in.", url_for("desk.every")

    try:
        staff = whose(link, now, again=request.method == "POST")
    except NotFound:
        return show("no_way_in.html", 404)
    return handle(_password_form(staff), do, "", repeatable=True)


def _password_form(staff: Staff) -> Form:
    hint = (f"At least {SHORTEST} characters, such as four words that have nothing to do with each other. Any "
            "characters will do; pasting is fine.")
    return Form(
        "Set your password",
        [Field("password", "Password", "password", required=True, fills="new-password", hint=hint),
         Field("again", "The same once more", "password", required=True, fills="new-password")],
        FirstPasswordForm(), "Set it and sign in",
        intro=f"For {staff.name}: you sign in as {staff.email}. The link works once.",
    )  # fmt: skip
