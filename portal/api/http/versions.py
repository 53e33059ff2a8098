"""ETag and If-Match: an edit names the version that it saw (RFC 9110 section 13, RFC 6585 section 3)."""

from flask import Response, request

from portal.store.refusals import Refused, Stale


class VersionMissing(Refused):
    status = 428
    sentence = "Say which version you saw: send its ETag in If-Match. Read the {what} first to get it."


def etag(version: int) -> str:
    return f'"{version}"'


def seen(current: int, what: str) -> int:
    """The version that If-Match names, if it is the current one. Raises VersionMissing (428) or Stale (412).

    The write repeats the check in the database, so that a change in between is refused too.
    """
    if not request.headers.get("If-Match"):
        raise VersionMissing(what=what)
    if not request.if_match.contains(str(current)):
        raise Stale(what=what)
    return current


def unless_known(response: Response) -> Response:
    """After a GET with an ETag: 304 when If-None-Match already has it."""
    if request.method in ("GET", "HEAD") and response.status_code == 200 and "ETag" in response.headers:
        response.make_conditional(request)
    return response
