"""An HTML answer. Its heads are those of every answer: portal.request.heads."""

from flask import Response

from portal.store.refusals import Refused


def page(html: str, status: int = 200) -> Response:
    return Response(html, status, content_type="text/html; charset=utf-8")


def asked_to_wait(response: Response, refusal: Refused) -> Response:
    """The same answer, saying after how many seconds it is worth trying again, where the refusal knows."""
    if refusal.retry_after is not None:
        response.headers["Retry-After"] = str(refusal.retry_after)
    return response
