"""Answers to designers and to those who only look on hold no sums, as their pages do."""

from flask import Response, g, json

from portal.api.http.versions import mark_unpriced
from portal.pages.without_sums import without


def leave_out_sums(response: Response) -> Response:
    """After every request under /api/: what is JSON is answered without the sums in it."""
    if "actor" in g and not g.actor.reads_sums and response.is_json and not response.direct_passthrough:
        found = response.get_json()
        less = without(found)
        if less != found:
            response.set_data(json.dumps(less))
            mark_unpriced(response)
    return response
