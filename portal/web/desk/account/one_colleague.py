"""One of the firm's people, for its managers: where they are signed in, their tokens, what was done to the account."""

from typing import Any

from flask import Response, request, url_for

from portal import clock
from portal.acts.actor import allow
from portal.acts.firm import sessions
from portal.acts.firm.colleagues import sign_colleague_out, working
from portal.acts.firm.tokens import end_token_of
from portal.acts.firm.ways_in import LASTS
from portal.api.http.shapes import Strict
from portal.store.refusals import NotFound
from portal.store.rows import staff_rows
from portal.store.rows.accounts import factor_rows, journal_rows, way_in_rows
from portal.store.tables import StaffSession
from portal.web.desk.account.own import SHOWN, journal_lines, token_lines, zone_shown
from portal.web.desk.blueprint import blueprint, form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.desk.showing import show
from portal.web.forms.inputs import Form
from portal.words.dates import when_words
from portal.words.plurals import counted

ONE = "/staff/<int:staff_id>"


@blueprint.get(f"{ONE}/")
def colleague(staff_id: int) -> Response:
    allow(who(), "change_colleague")
    staff, now, zone = working(staff_id), clock.now(), zone_shown()
    factor, way = factor_rows.factor_of(staff_id), way_in_rows.newest(now - LASTS).get(staff_id)
    return show(
        "colleague.html", staff=staff, here=staff_id == who().id, zone=zone,
        sessions=[_line(one, zone) for one in sessions.sessions_of(staff_id) if sessions.is_open(one, now)],
        factor_since=when_words(factor.made_at, zone) if factor else "", demanded=factor_rows.is_demanded(),
        way_until=when_words(way + LASTS, zone) if way else "", tokens=token_lines(staff_id),
        houses=[(project, name) for project, name, _ in staff_rows.houses_run_by(staff_id)],
        journal=journal_lines(journal_rows.newest(SHOWN, staff_id)),
    )  # fmt: skip


def _line(one: StaffSession, zone: str) -> dict[str, Any]:
    return {"id": one.id, "device": one.device or "another program", "began": when_words(one.began_at, zone),
            "used": when_words(one.used_at, zone)}  # fmt: skip


@form_page(f"{ONE}/sign-out", "sign_colleague_out")
def sign_out_colleague(staff_id: int) -> Response:
    """All of their sessions; with `?session=`, one."""
    staff, one = working(staff_id), request.args.get("session", type=int)
    found = next((row for row in sessions.sessions_of(staff_id) if row.id == one), None)
    if one is not None and found is None:
        raise NotFound(what="session of theirs")

    def do(values: Values) -> str:
        if found is not None and not sessions.is_open(found, clock.now()):
            return "It is signed out."
        ended = sign_colleague_out(who(), staff_id, one, clock.now())
        return f"{staff.name}: {counted(ended, 'session')} ended."

    told = "Every phone and computer on which they are signed in." if found is None else (
        f"{found.device}, signed in on {when_words(found.began_at, zone_shown())}.")
    form = Form(f"Sign {staff.name} out", [], Strict(), "Sign them out", intro=told)
    return handle(form, do, url_for("desk.colleague", staff_id=staff_id), repeatable=True)


@form_page(f"{ONE}/tokens/<int:number>/end", "end_token_of")
def end_their_token(staff_id: int, number: int) -> Response:
    staff = working(staff_id)
    token = next((one for one in staff_rows.tokens(staff_id) if one.id == number), None)
    if token is None:
        raise NotFound(what="token of theirs")

    def do(values: Values) -> str:
        if token.revoked_at is None:
            end_token_of(who(), staff_id, number, clock.now())
        return "The token opens nothing any longer."

    form = Form(f"End a token of {staff.name}", [], Strict(), "End it",
                intro=f"{token.label or 'A token without a label'}: the program that uses it stops working.")
    return handle(form, do, url_for("desk.colleague", staff_id=staff_id), repeatable=True)
