"""The desk's blueprint: only staff get in, and every form must come from a page of their own session."""

from collections.abc import Callable
from functools import wraps
from typing import Any
from urllib.parse import urlsplit

from flask import Blueprint, Response, abort, g, redirect, request, url_for

from portal.acts.actor import Actor, allow
from portal.acts.firm.sessions import CODE, SET_UP, whose_it_was
from portal.request.sent.bodies import allow_long_forms
from portal.request.session import check_form_mark, mark_digest, same_site, standing, to_the_door
from portal.store.rows.editable import project_row
from portal.web.desk.by_script import answer_script
from portal.web.desk.entering.beside import beside_the_form, give_left_files, may_be_carried

blueprint = Blueprint("desk", __name__, url_prefix="/desk")

PROJECT = "/projects/<int:project_id>"
_OPEN = (
    "desk.sign_in", "desk.sign_out", "desk.code", "desk.set_password", "desk.worker", "desk.standing",
)  # fmt: skip
"""What needs no finished sign-in; each of them looks by itself who is there."""
_SETTING_UP = ("desk.set_up_factor",)
View = Callable[..., Response]


@blueprint.before_request
def only_staff() -> Response | None:
    """To the door, or to what is asked of them before anything else: a code, or to set up a second factor. A form
    waits meanwhile, and goes on."""
    if request.method == "POST" and whose_it_was(mark_digest()):
        allow_long_forms()
    if request.endpoint in _OPEN:
        _check_at_the_door()
    elif _step() and may_be_carried():
        answer = beside_the_form()
        if answer is not None:
            return answer
    elif _step():
        return to_the_door() if standing() is None else _on_to(_step())
    elif request.method == "POST":
        check_form_mark()
    found = standing()
    g.actor = found.actor if found else None
    if request.endpoint not in _OPEN:
        give_left_files()
    return None


@blueprint.after_request
def told_to_the_script(response: Response) -> Response:
    if request.endpoint in ("desk.sign_out", "desk.sign_out_everywhere") and response.status_code == 303:
        response.headers["Clear-Site-Data"] = '"storage"'  # W3C Clear Site Data: forms that wait, and their worker
    return response if request.endpoint in _OPEN else answer_script(response)


def _step() -> str:
    """The page that is asked of who sends this before anything else; empty for who is in."""
    found = standing()
    if found is None:
        return "desk.sign_in"
    if found.step == SET_UP and request.endpoint not in _SETTING_UP:
        return "desk.set_up_factor"
    return "desk.code" if found.step == CODE else ""


def _check_at_the_door() -> None:
    if request.method != "POST":
        return
    if request.endpoint != "desk.sign_in":
        check_form_mark()
    elif not same_site():  # nobody has a mark yet; but another site could sign people in to an account of its own
        abort(400)  # (OWASP, login CSRF)


def _on_to(endpoint: str) -> Response:
    wanted = request.full_path.rstrip("?") if request.method == "GET" else None
    return redirect(url_for(endpoint, next=wanted), 303)  # type: ignore[return-value]


def wanted_page() -> str:
    """What `next` asks for, only if it is a page of the desk: nobody is sent elsewhere by a link to our door."""
    wanted = request.args.get("next", "")
    parts = urlsplit(wanted)
    safe = wanted.startswith("/desk/") and not parts.netloc and not parts.scheme and "\\" not in wanted
    safe = safe and wanted.isprintable()  # a line break would end the header that leads there
    return wanted if safe else url_for("desk.every")


def who() -> Actor:
    """The member of staff who is signed in, or is setting up the second factor that is asked of them."""
    actor: Actor = g.actor
    return actor


def form_page(rule: str, doing: str) -> Callable[[View], View]:
    """A form at `rule` for those whose role may do this act; below a project, only if there is such a project."""

    def wrap(view: View) -> View:
        @blueprint.route(rule, methods=["GET", "POST"])
        @wraps(view)
        def run(**ids: Any) -> Response:
            project_id = ids.get("project_id")
            allow(who(), doing, project_id)
            if project_id is not None:
                project_row(project_id)
            return view(**ids)

        return run

    return wrap
