"""The blueprint of a crew's private link: whose it is, before anything else. A wrong one finds nothing, nor does one
whose day is over. Whoever holds it reads, and changes nothing: there is no form below it."""

from typing import Any

from flask import Blueprint, abort, g

from portal import clock
from portal.acts.crews.crew_links import crew_holder_of
from portal.store.rows.crews.crew_link_rows import CrewHolder

blueprint = Blueprint("crew", __name__, url_prefix="/c/<link>")


@blueprint.url_value_preprocessor
def open_link(endpoint: str | None, values: dict[str, Any] | None) -> None:
    """A stranger gets the same 404 everywhere."""
    holder = crew_holder_of((values or {}).pop("link", ""), clock.now())
    if holder is None:
        abort(404)
    g.crew_holder = holder


def holder() -> CrewHolder:
    found: CrewHolder = g.crew_holder
    return found
