"""The session of a member of staff: a signed cookie that names them and when they signed in."""

from urllib.parse import urlsplit

from flask import Response, abort, redirect, request, session, url_for

from portal import clock, signing
from portal.acts.actor import Actor
from portal.acts.firm.staff import staff_actor
from portal.request.services import services

LONGEST_SECONDS = 14 * 24 * 3600


def begin(actor: Actor) -> None:
    session.clear()
    session.permanent = True
    session.update(staff=actor.id, since=clock.now(), mark=signing.new_salt())


def end() -> None:
    session.clear()


def session_actor() -> Actor | None:
    """Who is signed in, if they still work here and signed in within the last two weeks."""
    staff, since = session.get("staff"), session.get("since", 0)
    if staff is None or not 0 <= clock.now() - since <= LONGEST_SECONDS:
        return None
    return staff_actor(staff)


def same_site() -> bool:
    """Whether the browser says that this request comes from our own pages (a form of another site does not)."""
    sent = request.headers.get("Sec-Fetch-Site")
    if sent:
        return sent in ("same-origin", "none")
    origin = request.headers.get("Origin") or request.headers.get("Referer")
    return origin is None or urlsplit(origin).netloc == request.host


def form_mark() -> str:
    """The mark that every form of this session carries."""
    return signing.form_mark_for(services().settings.secret, session.get("mark", ""))


def check_form_mark() -> None:
    """Refuse a form that does not come from a page of this session."""
    if not same_site() or not signing.same(request.form.get("mark", ""), form_mark()):
        abort(400)


def to_the_door() -> Response:
    """Sign in first; afterwards the page that was wanted opens, unless that would be a form."""
    wanted = request.full_path.rstrip("?") if request.method == "GET" else None
    return redirect(url_for("desk.sign_in", next=wanted), 303)  # type: ignore[return-value]
