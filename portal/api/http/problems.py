"""The one shape of an error: RFC 9457 problem details, with the field named."""

from collections.abc import Iterator
from typing import Any

from flask import Response, json, request
from marshmallow import ValidationError
from werkzeug.exceptions import HTTPException

from portal.request.traces.request_id import request_id
from portal.store.refusals import Refused

_PLAIN = {
    400: "The request can't be read. Check that the body is valid JSON.",
    404: "There is nothing at this address.",
    405: "This address does not take that method.",
    413: "What was sent is too large: it may have 1 MB, with files 90 MB.",
    415: "Send JSON, with the content type application/json.",
    422: "Something in what was sent can't be used. See the errors.",
    429: "That was too often. Wait a little, then try again.",
    500: "Something went wrong here; it is not your fault. Nothing was changed.",
}


def problem_for_refusal(error: Refused) -> Response:
    members: dict[str, Any] = {k: v for k, v in error.details.items() if k not in ("field_name", "message")}
    if error.field:
        members |= {"field": error.field, "errors": [_one(field, message) for field, message in error.faults]}
    response = problem(error.status, title=_title(type(error)), detail=str(error), code=error.code(), **members)
    if error.status == 401:
        response.headers["WWW-Authenticate"] = "Bearer"
    if error.retry_after is not None:
        response.headers["Retry-After"] = str(error.retry_after)
    return response


def problem_for_http(error: HTTPException) -> Response:
    status = error.code or 500
    messages = (getattr(error, "data", None) or {}).get("messages", {})
    members = _members(messages.get("json") or messages.get("query") or {})
    response = problem(status, title=error.name, detail=_PLAIN.get(status, error.description or error.name), **members)
    for name in ("Allow", "Retry-After"):
        if name in dict(error.get_headers()):
            response.headers[name] = dict(error.get_headers())[name]
    return response


def problem_for_invalid(error: ValidationError) -> Response:
    """What a schema refuses where a view loads it by itself."""
    return problem(422, title="Unprocessable Entity", detail=_PLAIN[422], **_members(error.normalized_messages()))


def _members(messages: Any) -> dict[str, Any]:
    errors = list(_flattened(messages))
    return {"field": errors[0]["field"], "errors": errors} if errors else {}


def problem(status: int, *, title: str, detail: str, code: str | None = None, **members: Any) -> Response:
    """`type` is `about:blank` where the status says it all, else the address of a page on this kind of refusal."""
    body = {
        "type": f"/problems/{code}" if code else "about:blank",
        "title": title, "status": status, "detail": detail, "instance": request.path, **members,
    }
    if status >= 500:
        body["request_id"] = request_id()
    return Response(json.dumps(body), status, content_type="application/problem+json")


def _title(refusal: type[Refused]) -> str:
    return refusal.code().replace("-", " ").capitalize()


def _flattened(messages: Any, path: tuple[str, ...] = ()) -> Iterator[dict[str, str]]:
    """Marshmallow's nested messages as a list: one entry a fault, with its JSON pointer."""
    if isinstance(messages, dict):
        for name, inner in messages.items():
            yield from _flattened(inner, path if name == "_schema" else (*path, str(name)))
    else:
        for message in messages if isinstance(messages, list) else [messages]:
            yield _one(".".join(path), str(message))


def _one(field: str, message: str) -> dict[str, str]:
    pointer = "#/" + "/".join(part.replace("~", "~0").replace("/", "~1") for part in field.split(".")) if field else "#"
    return {"field": field, "pointer": pointer, "detail": message}
