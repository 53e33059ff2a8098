"""For whoever watches the service: `/up` says that it answers, `/up/ready` whether all is in order, `/metrics` figures.

Reasons are for programs on this machine and for staff; others are told one word. No draft of a format for this has
become a standard, so the answer is plain JSON of our own; that of `/metrics` is Prometheus's text format.
"""

from flask import Blueprint, Flask, Response, abort, current_app, json

from portal.request.caller import is_on_this_machine
from portal.request.services import services
from portal.request.session import session_actor
from portal.running.figures import Figures
from portal.running.looking import Looks

blueprint = Blueprint("up", __name__)


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)


def begin_looking(app: Flask) -> None:
    found = app.extensions["portal"]
    app.extensions["portal looks"] = Looks(found.settings, found.publisher)


@blueprint.get("/up")
def up() -> Response:
    """It asks nothing and touches nothing."""
    return Response("up\n", content_type="text/plain")


@blueprint.get("/up/ready")
def ready() -> Response:
    told = is_on_this_machine() or _is_staff()
    lines = _looks().lines(fresh=told)
    ok = all(line.ok for line in lines)
    answer: dict[str, object] = {"status": "ready" if ok else "not ready"}
    if told:
        answer["lines"] = [
            {"name": one.name, "ok": one.ok, "found": one.found, "limit": one.limit, "to_do": one.to_do}
            for one in lines
        ]
    return Response(json.dumps(answer), 200 if ok else 503, content_type="application/json")


@blueprint.get("/metrics")
def metrics() -> Response:
    """On this machine alone: to anyone else there is nothing here."""
    if not is_on_this_machine():
        abort(404)
    figures: Figures = current_app.extensions["portal figures"]
    text, kind = figures.text(_looks().lines(fresh=True), services().settings)
    return Response(text, content_type=kind)


def _looks() -> Looks:
    found: Looks = current_app.extensions["portal looks"]
    return found


def _is_staff() -> bool:
    try:
        return session_actor() is not None
    except Exception:  # the database can't be asked: that is what the lines will say
        return False
