"""The first day: what is missing before the firm can work with this, and trying its mail."""

from flask import Response, request, url_for

from portal import clock
from portal.acts import limits
from portal.acts.actor import MANAGER, allow
from portal.acts.firm.first_day import note_mail_tried
from portal.api.http.shapes import Strict
from portal.notices.to_staff.at_once import send_at_once, sends_mail
from portal.notices.to_staff.firm_letters import trial_letter
from portal.request.services import services
from portal.store.reading.firm import current_firm
from portal.store.refusals import FieldRefused
from portal.store.rows import staff_rows
from portal.web.desk.blueprint import blueprint, form_page, who
from portal.web.desk.firm.steps import Step, steps
from portal.web.desk.forms import Values, handle
from portal.web.desk.showing import show
from portal.web.forms.inputs import Form
from portal.web.forms.once import once


@blueprint.get("/first-day/")
def first_day() -> Response:
    allow(who(), "change_firm")
    found = steps(clock.now(), request.host_url.rstrip("/"))
    return show("first_day.html", steps=found, missing=[one for one in found if not one.done])


def missing_today() -> list[Step]:
    """For the desk's first page: what is missing, of a manager; the others can't mend it."""
    if who().role != MANAGER:
        return []
    return [one for one in steps(clock.now(), request.host_url.rstrip("/")) if not one.done]


@form_page("/first-day/mail", "note_mail_tried")
def try_mail() -> Response:
    me, settings = staff_rows.working(who().id), services().settings
    to = me.email if me else ""

    def do(values: Values) -> str:
        if not sends_mail(settings, current_firm()):
            raise FieldRefused("", "No mail can be sent yet: this server has no mail server, or the firm no address.")
        first: list[str] = []

        def claim() -> str:
            first.append("sent")
            return "sent"

        once(who(), request.form.get("once", ""), claim)  # by itself: the mail goes out in no transaction
        if not first:
            return f"The letter to {to} was sent with the first press."
        limits.take("trial_letters", who().id, clock.now())
        letter = trial_letter(current_firm().name, f"{settings.base_url}/desk/")
        trouble = send_at_once(settings, current_firm(), letter, who().name, to, clock.now())
        note_mail_tried(who(), trouble, clock.now())
        if trouble:
            return f"It did not go. The mail server said: {trouble}"
        return f"The mail server took it. Look whether it comes to {to}, and from whom."

    form = Form("Try the mail", [], Strict(), "Send a letter to me",
                intro=f"One letter goes to {to}, from {current_firm().email or 'the firm’s address'}.")
    return handle(form, do, url_for("desk.first_day"), repeatable=True)
