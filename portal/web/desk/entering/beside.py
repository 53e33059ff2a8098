"""A form that comes without a session asks to sign in beside what was typed, and goes on with it.

It is done at once for the same person: the browser still has the cookie of the session that ended, the form carries
that session's mark, and they have just shown who they are. That is as much as any form shows, and a second press would
be one for nothing. For anybody else, and where nothing shows whose the form was, it is shown with its words, and goes
with a press of theirs and under their name. A form with a password in it is carried nowhere.
"""

from flask import Response, abort, jsonify, request

from portal import signing
from portal.acts.firm import sessions
from portal.acts.firm.sessions import CODE, SET_UP, Standing
from portal.api.http.shapes import Strict
from portal.request import session
from portal.request.by_script import is_by_script
from portal.request.sent.left_files import leave_files, take_up_files
from portal.request.services import services
from portal.store.refusals import Refused
from portal.store.rows import staff_rows
from portal.web.answer import asked_to_wait
from portal.web.desk.entering.proving import give_code, give_password
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.words.typed import legible

DOOR = "door."
"""What the names of our own fields begin with, beside those of the form."""

_SIGN_IN = Form("Sign in, and it goes on", [
    Field(f"{DOOR}email", "E-mail address", "email", required=True, fills="username"),
    Field(f"{DOOR}password", "Password", "password", required=True, fills="current-password"),
], Strict(), "Sign in and go on", "beside.html")  # fmt: skip
_CODE = Form("The code of your phone", [
    Field(f"{DOOR}code", "Code", required=True, fills="one-time-code",
          hint="The 6 digits that your phone shows now, or one of your recovery codes."),
], Strict(), "Go on", "beside.html")  # fmt: skip
_LOOK = Form("Look once more, then send it", [], Strict(), "Send it", "beside.html")


def may_be_carried() -> bool:
    """Whether this request is a form that can wait for who sends it."""
    return request.method == "POST" and bool(request.form) and not any("password" in name for name in _names())


def beside_the_form() -> Response | None:
    """Ask who it is. None once that is known: the form goes on as it came."""
    if not session.same_site():
        abort(400)
    if is_by_script():
        return _not_in(jsonify(state="sign_in"))
    whose, files, gone = _whose(), request.form.get(f"{DOOR}files", ""), False
    if request.files and not files:
        files = leave_files(whose) if whose else ""
        gone = not files and any(file.filename for file in request.files.values())
    try:
        _enter()
    except Refused as refusal:
        asked = _CODE if session.standing() else _SIGN_IN
        return asked_to_wait(_shown(asked, whose, files, gone, str(refusal), refusal.status), refusal)
    found = session.standing()
    if found is None:
        return _not_in(_shown(_SIGN_IN, whose, files, gone, status=401))
    if found.step == CODE:
        return _shown(_CODE, whose if whose == found.actor.id else 0, files, gone)
    if found.step == SET_UP or whose != found.actor.id:
        return _shown(_LOOK, 0, files, gone)
    return None


def give_left_files() -> None:
    """To a form that is let through."""
    left = request.form.get(f"{DOOR}files", "")
    if left:
        take_up_files(left)


def _enter() -> None:
    found, sent = session.standing(), request.form
    if found is None and f"{DOOR}password" in sent:
        give_password(sent.get(f"{DOOR}email", "")[:200], sent[f"{DOOR}password"][:1000])
    elif found is not None and found.step == CODE and signing.same(sent.get(f"{DOOR}mark", ""), session.form_mark()):
        give_code(found, sent.get(f"{DOOR}code", "")[:100])


def _whose() -> int:
    """Whose press this was, as far as it is shown: 0 for nobody's that we know."""
    said = request.form.get(f"{DOOR}whose", "")
    if said:
        digits = said.partition("-")[0]
        return int(digits) if digits.isdecimal() and signing.same(said, _told(int(digits))) else 0
    if not signing.same(request.form.get("mark", ""), session.form_mark()):
        return 0
    return sessions.whose_it_was(session.mark_digest())


def _told(staff_id: int) -> str:
    """That this form is of this person, said to the next step: for this session and this address alone."""
    return signing.left_form_mark_for(services().settings.secret, staff_id, session.form_mark(), request.full_path)


def _shown(form: Form, whose: int, files: str, gone: bool, message: str = "", status: int = 200) -> Response:
    found = session.standing()
    return show(
        form.template, status, form=form, errors={}, message=message, stale=False, seen=None, project=None,
        typed={f"{DOOR}email": [_email(whose)]} if form is _SIGN_IN else {},
        carried=[(name, legible(text)) for name, text in request.form.items(multi=True) if not name.startswith(DOOR)
                 and (name != "mark" or form is _SIGN_IN)],
        said_in_it=[text for text in map(legible, request.form.values()) if " " in text.strip()],
        files=files, gone=gone, whose=_told(whose) if whose and form is _CODE else "", step=_step(form, found),
    )


def _step(form: Form, found: Standing | None) -> str:
    if form is not _LOOK:
        return "code" if form is _CODE else "sign_in"
    return "set_up" if found is not None and found.step == SET_UP else "look"


def _email(whose: int) -> str:
    if f"{DOOR}email" in request.form:
        return legible(request.form[f"{DOOR}email"][:200])
    known = staff_rows.working(whose) if whose else None
    return known.email if known else ""


def _names() -> list[str]:
    return [name for name in request.form if not name.startswith(DOOR)]


def _not_in(answer: Response) -> Response:
    """RFC 9110, 15.5.2: what it takes is said; browsers know no such scheme, and show the page."""
    answer.status_code = 401
    answer.headers["WWW-Authenticate"] = "Session"
    return answer
