"""Each answer of 500 and above is a line in the log: which request, where, and what failed. Every answer says
its number."""

import logging

from flask import Response, g, request

from portal.request.traces.logged_path import logged_path
from portal.request.traces.request_id import HEADER, request_id
from portal.store.refusals import Busy

log = logging.getLogger(__name__)

_ASKED_WHETHER = {"up.ready"}  # its 503 is what was asked for, every few seconds


def note_failure(error: BaseException | None) -> None:
    """What the answer to this request will be about, should it be one of those."""
    g.failure = error


def log_failure(response: Response) -> Response:
    """After every request."""
    response.headers[HEADER] = request_id()
    if response.status_code >= 500 and request.endpoint not in _ASKED_WHETHER:
        failure = g.get("failure")
        log.log(
            logging.WARNING if isinstance(failure, Busy) else logging.ERROR, "a request failed", exc_info=failure,
            extra={"request": request_id(), "route": logged_path(), "method": request.method,
                   "status": response.status_code},
        )
    return response
