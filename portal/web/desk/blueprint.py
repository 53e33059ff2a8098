"""The desk's blueprint: only staff get in, and every form must come from a page of their own session."""

from flask import Blueprint, Response, g, request

from portal.acts.actor import Actor
from portal.web.session import check_form_mark, session_actor

blueprint = Blueprint("desk", __name__, url_prefix="/desk")

_OPEN = ("desk.sign_in",)


@blueprint.before_request
def only_staff() -> Response | None:
    if request.method == "POST":
        check_form_mark()
    if request.endpoint in _OPEN:
        return None
    actor = session_actor()
    if actor is None:
        from portal.web.desk.door import to_the_door

        return to_the_door()
    g.actor = actor
    return None


def who() -> Actor:
    """The member of staff who is signed in."""
    actor: Actor = g.actor
    return actor
