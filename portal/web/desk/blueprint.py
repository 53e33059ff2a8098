"""The desk's blueprint: only staff get in, and every form must come from a page of their own session."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from flask import Blueprint, Response, g, request

from portal.acts.actor import Actor, allow
from portal.request.session import check_form_mark, session_actor, to_the_door
from portal.store.rows.editable import project_row

blueprint = Blueprint("desk", __name__, url_prefix="/desk")

PROJECT = "/projects/<int:project_id>"
_OPEN = ("desk.sign_in",)
View = Callable[..., Response]


@blueprint.before_request
def only_staff() -> Response | None:
    actor = session_actor()
    if actor is None and request.endpoint not in _OPEN:
        return to_the_door()
    if request.method == "POST":
        check_form_mark()
    g.actor = actor
    return None


def who() -> Actor:
    """The member of staff who is signed in."""
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
