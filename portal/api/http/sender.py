"""Who sends a request: staff by bearer token or session, a person of a household by their link as the token."""

from flask import Response, current_app, g, request
from werkzeug.exceptions import NotFound as NoSuchAddress

from portal.acts.actor import Actor
from portal.acts.firm.staff import bearer_actor
from portal.acts.household.links import actor_of, holder_of
from portal.acts.refusals import NotSignedIn, NotYours
from portal.request.sent.bodies import allow_long_forms
from portal.request.session import same_site, session_actor
from portal.store.refusals import NotFound
from portal.store.rows.editable import project_row

ROLES = "portal.api.roles"
"""Where the application keeps the table of who may use which endpoint (portal.api.access)."""


def who() -> Actor:
    """The actor of this request, as `admit` let them in."""
    actor: Actor = g.actor
    return actor


def admit() -> Response | None:
    """Before every request under /api/: a stranger gets nothing, and what is in no table is closed."""
    if request.endpoint is None or request.blueprint is None:
        return None
    if request.method == "OPTIONS":
        return _which_methods()
    roles = current_app.extensions[ROLES].get(request.endpoint.removeprefix("api."))
    if roles is None:
        raise NoSuchAddress()
    actor = _found()
    if actor is None:
        raise NotSignedIn()
    if actor.is_staff:
        allow_long_forms()
    project_id = (request.view_args or {}).get("project_id")
    if project_id is not None and not actor.may_see(project_id):
        raise NotFound(what="project")
    if actor.role not in roles:
        raise NotYours(who=" or ".join(f"the {role}" for role in sorted(roles)))
    if project_id is not None and request.method in ("GET", "HEAD"):
        project_row(project_id)  # a list of no house is not an empty one; a write finds out in its act
    g.actor = actor
    return None


def _which_methods() -> Response:
    """OPTIONS says which methods there are, as the description does, and nothing of what is kept (RFC 9110, 9.3.7)."""
    allowed = current_app.make_default_options_response().headers["Allow"]
    answer = Response(status=204, headers={"Allow": allowed})
    del answer.headers["Content-Type"]
    return answer


def _found() -> Actor | None:
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    if scheme.lower() == "bearer" and token:
        return bearer_actor(token.strip()) or _household(token.strip())
    actor = session_actor()
    if actor and request.method not in ("GET", "HEAD") and not same_site():
        return None
    return actor


def _household(link: str) -> Actor | None:
    holder = holder_of(link)
    return actor_of(holder) if holder else None
