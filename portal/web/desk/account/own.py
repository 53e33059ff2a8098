"""Your account: where you are signed in, and the ways to change how you sign in."""

from typing import Any

from flask import Response, redirect, url_for

from portal import clock
from portal.acts.firm import sessions
from portal.acts.firm.sessions import end_own_session, end_own_sessions
from portal.request import session
from portal.store.refusals import NotFound
from portal.store.rows import staff_rows
from portal.store.rows.accounts import factor_rows, journal_rows
from portal.store.rows.project_rows import usual_timezone
from portal.store.tables import AccountEntry, StaffSession
from portal.web.desk.account.journal_words import by_words, done_words
from portal.web.desk.account.once_more import PASSWORD, OnceMoreSchema, confirm, session_id
from portal.web.desk.blueprint import blueprint, form_page, who
from portal.web.desk.forms import Values, handle
from portal.web.desk.showing import show
from portal.web.forms.inputs import Form
from portal.words.dates import when_words
from portal.words.plurals import counted

SHOWN = 20


EVERYWHERE = Form(
    "Sign out everywhere", [PASSWORD], OnceMoreSchema(), "Sign out everywhere",
    intro="Every phone and computer on which you are signed in is signed out, this one, too. Programs that use the API "
    "in your name go on.",
)


@blueprint.get("/account/")
def account() -> Response:
    now, zone = clock.now(), zone_shown()
    row = staff_rows.working(who().id)
    listed = [_line(one, now, zone) for one in sessions.sessions_of(who().id)]
    factor = factor_rows.factor_of(who().id)
    return show(
        "account.html", email=row.email if row else "", sessions=[one for one in listed if one["open"]],
        ended=[one for one in listed if not one["open"]][:SHOWN], zone=zone,
        factor_since=when_words(factor.made_at, zone) if factor else "",
        codes=counted(factor_rows.codes_left(who().id), "recovery code"), demanded=factor_rows.is_demanded(),
        journal=journal_lines(journal_rows.newest(SHOWN, who().id)), tokens=token_lines(who().id),
    )  # fmt: skip


def _line(one: StaffSession, now: int, zone: str) -> dict[str, Any]:
    return {
        "id": one.id, "device": one.device or "another program", "here": one.id == session_id(),
        "began": when_words(one.began_at, zone), "used": when_words(one.used_at, zone),
        "open": sessions.is_open(one, now), "ended": when_words(one.ended_at, zone) if one.ended_at else "",
    }  # fmt: skip


def journal_lines(entries: list[AccountEntry]) -> list[dict[str, str]]:
    names, zone = staff_rows.names(), zone_shown()
    return [{"when": when_words(one.at, zone), "who": names.get(one.staff_id, ""), "by": by_words(one, names),
             "done": done_words(one)} for one in entries]  # fmt: skip


def token_lines(staff_id: int) -> list[dict[str, Any]]:
    """Those that work, the newest first."""
    zone = zone_shown()
    return [{"id": one.id, "label": one.label or "no label", "made": when_words(one.made_at, zone)}
            for one in reversed(staff_rows.tokens(staff_id)) if one.revoked_at is None]  # fmt: skip


def zone_shown() -> str:
    """By whose clocks: that of the newest house, and of nobody while there is none."""
    return usual_timezone() or "UTC"


@form_page("/account/sign-out-everywhere", "end_sessions")
def sign_out_everywhere() -> Response:
    def do(values: Values) -> tuple[str, str]:
        confirm(values)
        ended = end_own_sessions(who(), clock.now())
        session.end()
        return f"You are signed out everywhere: {counted(ended, 'session')} ended.", url_for("desk.sign_in")

    return handle(EVERYWHERE, do, "", repeatable=True)


@form_page("/account/sessions/<int:number>/end", "end_session")
def end_one(number: int) -> Response:
    """One on a phone that is lost, say."""
    found = next((one for one in sessions.sessions_of(who().id) if one.id == number), None)
    if found is None:
        raise NotFound(what="session of yours")
    if number == session_id() or not sessions.is_open(found, clock.now()):
        return redirect(url_for("desk.account"), 303)  # type: ignore[return-value]

    def do(values: Values) -> str:
        confirm(values)
        end_own_session(who(), number, clock.now())
        return "It is signed out."

    told = f"{found.device}, signed in on {when_words(found.began_at, zone_shown())}. Whoever has it finds the door."
    form = Form("Sign one out", [PASSWORD], OnceMoreSchema(), "Sign it out", intro=told)
    return handle(form, do, url_for("desk.account"), repeatable=True)
