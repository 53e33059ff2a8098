"""Notices: whom the office must tell itself, what is on its way, what went out; and sending someone their own link."""

from collections.abc import Sequence
from dataclasses import dataclass

from flask import Response, flash, redirect, request, url_for

from portal import clock
from portal.acts.actor import allow
from portal.acts.telling import send_link, tell_by_phone
from portal.api.http.shapes import Strict
from portal.notices.notice_kinds import KINDS
from portal.notices.reach import hindrance, needs_a_call
from portal.request.services import services
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.store.rows.editable import in_project
from portal.store.rows.notice_rows import GIVEN_UP, SENT, WAITING, Notice
from portal.store.tables import Person
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.conflict_words import Said
from portal.web.desk.forms import Values, project_form
from portal.web.desk.people.mail import no_mail, without_mail
from portal.web.desk.showing import show
from portal.web.forms.inputs import Form
from portal.words.dates import when_words
from portal.words.plurals import times

MOST, LATELY = 300, 30


@dataclass(frozen=True, slots=True)
class Line:
    """A notice as the desk shows it: what it tells, and why it has not arrived or when it was sent. `decision`: the id
    of the one that it is about."""

    notice: Notice
    tells: str
    state: str
    decision: int | None

    @property
    def is_link(self) -> bool:
        return self.notice.kind == "link"


@dataclass(frozen=True, slots=True)
class ToCall:
    """A person to be called, why, and all that they must be told. `needs_link`: a new link is what helps."""

    person: Notice
    why: list[str]
    lines: list[Line]

    @property
    def needs_link(self) -> bool:
        return self.person.salt is None or any(line.is_link for line in self.lines)


@blueprint.get("/notices/")
def every_notice() -> Response:
    allow(who(), "tell_by_phone")
    mail = no_mail()
    waiting = _still_true([*notice_rows.in_state(GIVEN_UP, MOST), *notice_rows.in_state(WAITING, MOST)])
    calls = [(one, needs_a_call(one, not mail)) for one in waiting]
    return show(
        "notices.html", mail=f"{mail} Tell people by phone." if mail else _mail_goes(), late=bool(mail),
        calls=_to_call([(one, why) for one, why in calls if why]),
        coming=[_line(one, _trouble(one, mail)) for one, why in calls if not why and one.state == WAITING],
        sent=[_line(one, f"Sent {_when(one.settled_at, one)}.") for one in notice_rows.in_state(SENT, LATELY)],
    )


@blueprint.post(f"{PROJECT}/notices/<int:notice_id>/told")
def told(project_id: int, notice_id: int) -> Response:
    tell_by_phone(who(), project_id, notice_id, now=clock.now())
    flash("Noted.")
    return redirect(url_for("desk.every_notice"), 303)  # type: ignore[return-value]


@blueprint.post(f"{PROJECT}/people/<int:person_id>/told")
def told_all(project_id: int, person_id: int) -> Response:
    """All that stood on the page when it was opened; what has come since is still to be told."""
    in_project(Person, project_id, person_id)
    shown = {int(text) for text in request.form.getlist("notice") if text.isdecimal() and len(text) < 16}
    for one in [*notice_rows.in_state(GIVEN_UP, MOST), *notice_rows.in_state(WAITING, MOST)]:
        if one.person_id == person_id and one.id in shown:
            tell_by_phone(who(), project_id, one.id, now=clock.now())
    flash("Noted.")
    return redirect(url_for("desk.every_notice"), 303)  # type: ignore[return-value]


@form_page(f"{PROJECT}/people/<int:person_id>/send-link", "send_link")
def mail_link(project_id: int, person_id: int) -> Response:
    """What a spoken answer leads to. The link is the one that they have, made again in the mail alone."""
    person = in_project(Person, project_id, person_id)

    def do(values: Values) -> Said:
        send_link(who(), project_id, person_id, now=clock.now())
        if no_mail():
            return without_mail(project_id, person_id, "Noted.")
        return f"The link is on its way to {person.name}."

    to = f"It goes to {person.email}, with what waits for their answer." if person.email else "No e-mail address yet."
    form = Form(f"Send {person.name} their link", [], Strict(), "Send the link", intro=f"{to} {no_mail()}".strip())
    return project_form(form, do, project_id)


def _still_true(notices: Sequence[Notice]) -> list[Notice]:
    """Without what is settled by what has happened since: it is dropped when it would be sent."""
    houses = {project_id: read_snapshot(project_id) for project_id in {one.project_id for one in notices}}
    now = clock.now()
    return [
        one for one in notices if KINDS[one.kind].is_true(houses[one.project_id], one.person_id, one.about, now)
    ]


def _to_call(calls: Sequence[tuple[Notice, str]]) -> list[ToCall]:
    """Each person once, in the order of their newest notice."""
    found: dict[int, ToCall] = {}
    for one, why in calls:
        group = found.setdefault(one.person_id, ToCall(one, [], []))
        group.lines.append(_line(one, ""))
        if (words := f"{one.name} {why}.") not in group.why:
            group.why.append(words)
    return list(found.values())


def _mail_goes() -> str:
    server = services().settings.smtp
    return f"Mail goes out by {server.host if server else ''}, a few minutes after what it tells."


def _line(notice: Notice, state: str) -> Line:
    return Line(notice, KINDS[notice.kind].told(notice.about, notice.zone), state, notice.about.get("decision"))


def _trouble(notice: Notice, mail: str) -> str:
    if why := hindrance(notice, not mail):
        return f"It waits: {notice.name} {why}."
    if not notice.trouble:
        return "Goes out within minutes."
    return f"Tried {times(notice.tries)}. {notice.trouble.rstrip('.')}. The next try is {_when(notice.due_at, notice)}."


def _when(at: int | None, notice: Notice) -> str:
    return when_words(at, notice.zone) if at else ""
