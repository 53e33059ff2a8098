"""The blueprint of a private link: whose it is, before anything else. A wrong one finds nothing.

The link in the address is the only credential of a homeowner. GET changes nothing: mail scanners follow links.
"""

from typing import Any

from flask import Blueprint, Response, abort, g, request

from portal.acts.actor import Actor
from portal.acts.household.links import actor_of, holder_of
from portal.pages.without_sums import seen_by, without
from portal.request.session import same_site
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.snapshot import read_snapshot

blueprint = Blueprint("house", __name__, url_prefix="/p/<link>")


@blueprint.url_value_preprocessor
def open_link(endpoint: str | None, values: dict[str, Any] | None) -> None:
    """A stranger gets the same 404 everywhere."""
    holder = holder_of((values or {}).pop("link", ""))
    if holder is None:
        abort(404)
    g.actor = actor_of(holder)
    if request.method == "POST" and not same_site():
        abort(403)


@blueprint.after_request
def leave_out_sums(response: Response) -> Response:
    """Whatever a page says besides the facts (why something is refused, what was typed) holds no sum either."""
    packed = bool(response.content_encoding)  # a published file: portal.web.files.published sends the one without sums
    if response.mimetype == "text/html" and not packed and "actor" in g and not reader().reads_sums:
        html = response.get_data(as_text=True)
        less = without(html)
        if less != html:
            response.set_data(less)
    return response


def reader() -> Actor:
    """The person whose link was opened."""
    actor: Actor = g.actor
    return actor


def project_id() -> int:
    project = reader().project
    assert project is not None
    return project


def snapshot() -> Snapshot:
    """The house as its reader may see it: every page below a link is made of this."""
    return seen_by(read_snapshot(project_id()), reader().id)


def decision_in(shown: Snapshot, number: int) -> DecisionFact:
    found = next((one for one in shown.decisions if one.number == number), None)
    return found if found is not None else abort(404)


def typed(name: str, longest: int = 10_000) -> str:
    """What a form's field holds, cut beyond what any act takes: what is too long is refused, not shortened."""
    return request.form.get(name, "")[:longest]


def typed_number(name: str) -> int | None:
    """A number that the form carries, if it is one that we could have put there."""
    text = typed(name, 12)
    return int(text) if text.isdecimal() and len(text) < 10 else None
