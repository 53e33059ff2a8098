"""The session of a member of staff: a signed cookie with a random mark, whose digest is a row that can be ended."""

from urllib.parse import urlsplit

from flask import Response, abort, g, redirect, request, session, url_for

from portal import clock, signing
from portal.acts.actor import Actor
from portal.acts.firm import sessions
from portal.acts.firm.sessions import Standing
from portal.request.browser import device_words
from portal.request.services import services


def begin(actor: Actor) -> None:
    """A new mark, whatever this browser had before; and what that opened is ended."""
    end()
    session.permanent = True
    session["mark"] = sessions.begin_session(actor.id, device_words(), clock.now())


def end() -> None:
    sessions.end_session(session.get("mark", ""), clock.now())
    session.clear()
    g.pop("standing", None)


def standing() -> Standing | None:
    """Whose session this request comes with, and what they still have to do; looked up once."""
    if "standing" not in g:
        g.standing = sessions.standing_of(session.get("mark", ""), clock.now())
    found: Standing | None = g.standing
    return found


def look_again() -> None:
    """After what changes what there is to do."""
    g.pop("standing", None)


def session_actor() -> Actor | None:
    """Who is signed in, with all that is asked of them."""
    found = standing()
    return found.actor if found is not None and not found.step else None


def mark_digest() -> str:
    return signing.digest(session.get("mark", ""))


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
