"""Notices: whom the office must tell itself, what is on its way, what went out; and sending someone their own link."""

from dataclasses import dataclass

from flask import Response, flash, redirect, url_for

from portal import clock
from portal.acts.actor import allow
from portal.acts.telling import send_link, tell_by_phone
from portal.api.shapes import Strict
from portal.notices.kinds import KINDS
from portal.notices.reach import needs_a_call
from portal.store import notice_rows
from portal.store.firm_rows import current_firm
from portal.store.notice_rows import GIVEN_UP, SENT, WAITING, Notice
from portal.store.rows import in_project
from portal.store.tables import Person
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.inputs import Form
from portal.web.desk.showing import show
from portal.web.services import services
from portal.when import when_words

MOST, LATELY = 300, 30


@dataclass(frozen=True, slots=True)
class Line:
    """A notice as the desk shows it: what it tells, and why it has not arrived or when it was sent."""

    notice: Notice
    tells: str
    state: str


@blueprint.get("/notices/")
def every_notice() -> Response:
    allow(who(), "tell_by_phone")
    mail = _no_mail()
    waiting = [*notice_rows.in_state(GIVEN_UP, MOST), *notice_rows.in_state(WAITING, MOST)]
    calls = [(one, needs_a_call(one, not mail)) for one in waiting]
    return show(
        "notices.html", mail=mail or f"Mail goes out by {_server()}, a few minutes after what it tells.",
        late=bool(mail), calls=[_line(one, f"{one.name} {why}.") for one, why in calls if why],
        coming=[_line(one, _trouble(one)) for one, why in calls if not why and one.state == WAITING],
        sent=[_line(one, f"Sent {_when(one.settled_at, one)}.") for one in notice_rows.in_state(SENT, LATELY)],
    )


@blueprint.post(f"{PROJECT}/notices/<int:notice_id>/told")
def told(project_id: int, notice_id: int) -> Response:
    tell_by_phone(who(), project_id, notice_id, now=clock.now())
    flash("Noted: they are told.")
    return redirect(url_for("desk.every_notice"), 303)  # type: ignore[return-value]


@form_page(f"{PROJECT}/people/<int:person_id>/send-link", "send_link")
def mail_link(project_id: int, person_id: int) -> Response:
    """What a spoken answer leads to. The link is the one that they have, made again in the mail alone."""
    person = in_project(Person, project_id, person_id)

    def do(values: Values) -> str:
        send_link(who(), project_id, person_id, now=clock.now())
        return f"The link is on its way to {person.name}." if not _no_mail() else _no_mail()

    to = f"It goes to {person.email}, with what waits for their answer." if person.email else "No e-mail address yet."
    form = Form(f"Send {person.name} their link", [], Strict(), "Send the link", intro=f"{to} {_no_mail()}".strip())
    return project_form(form, do, project_id)


def _no_mail() -> str:
    """Why no mail is sent from here; empty when it is."""
    if services().settings.smtp is None:
        return "No mail is sent from here, because PORTAL_SMTP is not set. Tell people by phone."
    if not current_firm().email:
        return "No mail is sent, because the firm has no e-mail address. Enter one in the firm’s details."
    return ""


def _server() -> str:
    server = services().settings.smtp
    return server.host if server else ""


def _line(notice: Notice, state: str) -> Line:
    return Line(notice, KINDS[notice.kind].told(notice.about, notice.zone), state)


def _trouble(notice: Notice) -> str:
    if not notice.trouble:
        return "Goes out within minutes."
    times = "once" if notice.tries == 1 else f"{notice.tries} times"
    return f"Tried {times}. {notice.trouble.rstrip('.')}. The next try is {_when(notice.due_at, notice)}."


def _when(at: int | None, notice: Notice) -> str:
    return when_words(at, notice.zone) if at else ""
