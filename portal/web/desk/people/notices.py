"""Notices: whom the office must tell itself, what is on its way, what went out; and sending someone their own link."""

from collections.abc import Sequence
from dataclasses import dataclass

from flask import Response, flash, redirect, request, url_for

from portal import clock
from portal.acts.actor import allow
from portal.acts.telling import send_link, tell_by_phone
from portal.api.http.shapes import Strict
from portal.notices.notice_kinds import KINDS
from portal.notices.reach import hindrance, needs_a_call, staff_lacks
from portal.notices.returned_mail import returned_words
from portal.pages.telling.phone_addresses import sms_address
from portal.request.services import services
from portal.store.reading import desk_lines
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows import notice_rows
from portal.store.rows.editable import in_project
from portal.store.rows.letters import staff_notice_rows
from portal.store.rows.notice_rows import FAILED, SENT, WAITING, Notice
from portal.store.tables import Person
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.conflict_words import Said
from portal.web.desk.forms import Values, project_form
from portal.web.desk.people.link_first import ask_first
from portal.web.desk.people.mail import no_mail, without_mail
from portal.web.desk.people.telling import Telling
from portal.web.desk.showing import show
from portal.web.forms.inputs import Form
from portal.words.dates import when_words
from portal.words.plurals import times

MOST, LATELY = 300, 30
_READ = 5_000
_STAFF_SECONDS = 14 * 24 * 3600


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
    """A person to be called, why, and all that they must be told. `says`: as one message. `needs_link`: a new link is
    what helps."""

    person: Notice
    why: list[str]
    lines: list[Line]
    says: str

    @property
    def text(self) -> str:
        """Opens a text message with all of it ready; empty without a number."""
        return sms_address(self.person.phone, self.says)

    @property
    def needs_link(self) -> bool:
        return self.person.salt is None or any(line.is_link for line in self.lines)


@blueprint.get("/notices/")
def every_notice() -> Response:
    allow(who(), "tell_by_phone")
    mail, now = no_mail(), clock.now()
    waiting, left = _unsettled(not mail)
    sent = notice_rows.in_state(SENT, LATELY)
    every = [*waiting, *sent]
    houses = {one.id: one for one in desk_lines.those(sorted({one.project_id for one in every}), now)}
    telling = Telling(every, houses, now)
    calls = [(one, needs_a_call(one, not mail)) for one in waiting]
    return show(
        "notices.html", returned="" if mail else returned_words(services().settings.bounces),
        mail=f"{mail} Tell people by phone." if mail else _mail_goes(), late=bool(mail),
        left=left, lacking=[(one, staff_lacks(one)) for one in staff_notice_rows.lacking(now - _STAFF_SECONDS, LATELY)],
        calls=_to_call([(one, why) for one, why in calls if why and not telling.is_ours(one)], telling),
        coming=[_line(one, _trouble(one, mail), telling) for one, why in calls if not why and one.state == WAITING],
        sent=[_line(one, f"Sent {_when(one.settled_at, one)}.", telling) for one in sent],
    )


@blueprint.post(f"{PROJECT}/notices/<int:notice_id>/told")
def told(project_id: int, notice_id: int) -> Response:
    tell_by_phone(who(), project_id, notice_id, now=clock.now())
    return _noted()


@blueprint.post(f"{PROJECT}/people/<int:person_id>/told")
def told_all(project_id: int, person_id: int) -> Response:
    """All that stood on the page when it was opened; what has come since is still to be told."""
    in_project(Person, project_id, person_id)
    return _told([one for one in _shown(project_id) if one.person_id == person_id])


@blueprint.post(f"{PROJECT}/notices/told")
def told_house(project_id: int) -> Response:
    """The same for all people of a house."""
    return _told(_shown(project_id))


def _shown(project_id: int) -> list[Notice]:
    shown = {int(text) for text in request.form.getlist("notice") if text.isdecimal() and len(text) < 16}
    return [one for one in notice_rows.these(sorted(shown)[:_READ]) if one.project_id == project_id]


def _told(notices: Sequence[Notice]) -> Response:
    for one in notices:
        tell_by_phone(who(), one.project_id, one.id, now=clock.now())
    return _noted()


def _noted() -> Response:
    """Back to the list on which it was pressed."""
    flash("Noted.")
    then = "desk.every" if request.form.get("then") == "today" else "desk.every_notice"
    return redirect(url_for(then), 303)  # type: ignore[return-value]


@form_page(f"{PROJECT}/people/<int:person_id>/send-link", "send_link")
def mail_link(project_id: int, person_id: int) -> Response:
    """What a spoken answer leads to. The link is the one that they have, made again in the mail alone."""
    person = in_project(Person, project_id, person_id)

    def do(values: Values) -> Said:
        ask_first(project_id)
        send_link(who(), project_id, person_id, now=clock.now())
        if no_mail():
            return without_mail(project_id, person_id, "Noted.")
        return f"The link is on its way to {person.name}."

    to = f"It goes to {person.email}, with what waits for their answer." if person.email else "No e-mail address yet."
    form = Form(f"Send {person.name} their link", [], Strict(), "Send the link", intro=f"{to} {no_mail()}".strip())
    return project_form(form, do, project_id)


def _unsettled(can_send: bool) -> tuple[list[Notice], int]:
    """The newest of whom must be called, and of what is on its way; and how many older ones of the first were not
    looked at. What is settled, or what nobody must be told, as a receipt that they have seen, hides none."""
    found = [one for state in (*FAILED, WAITING) for one in notice_rows.in_state(state, _READ)]
    calls = [one for one in found if needs_a_call(one, can_send)]
    known = {one.id for one in calls}
    coming = [one for one in found if one.state == WAITING and one.id not in known]
    shown: list[Notice] = []
    while calls and len(shown) < MOST:
        shown += still_true(calls[:MOST])
        del calls[:MOST]
    return [*shown, *still_true(coming[:MOST])], len(calls)


def still_true(notices: Sequence[Notice]) -> list[Notice]:
    """Those, without what is settled by what has happened since: it is dropped when it would be sent."""
    houses = {project_id: read_snapshot(project_id) for project_id in {one.project_id for one in notices}}
    now = clock.now()
    return [
        one for one in notices if KINDS[one.kind].is_true(houses[one.project_id], one.person_id, one.about, now)
    ]


def _to_call(calls: Sequence[tuple[Notice, str]], telling: Telling) -> list[ToCall]:
    """Each person once, in the order of their newest notice."""
    found: dict[int, ToCall] = {}
    for one, why in calls:
        says = " ".join(telling.message([other for other, _ in calls if other.person_id == one.person_id])) if (
            one.person_id not in found) else ""
        group = found.setdefault(one.person_id, ToCall(one, [], [], says))
        group.lines.append(_line(one, "", telling))
        if (words := f"{one.name} {why}.") not in group.why:
            group.why.append(words)
    return list(found.values())


def _mail_goes() -> str:
    server = services().settings.smtp
    return f"Mail goes out by {server.host if server else ''}, a few minutes after what it tells."


def _line(notice: Notice, state: str, telling: Telling) -> Line:
    return Line(notice, telling.words(notice), state, notice.about.get("decision"))


def _trouble(notice: Notice, mail: str) -> str:
    if why := hindrance(notice, not mail):
        return f"It waits: {notice.name} {why}."
    if not notice.trouble:
        return "Goes out within minutes."
    tried = f"Tried {times(notice.tries)}. " if notice.tries else ""
    then = "within minutes" if notice.due_at <= clock.now() else _when(notice.due_at, notice)
    return f"{tried}{notice.trouble.rstrip('.')}. The next try is {then}."


def _when(at: int | None, notice: Notice) -> str:
    return when_words(at, notice.zone) if at else ""
