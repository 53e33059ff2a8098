"""Idempotency-Key on POST: the same request sent twice is done once and answered alike.

The answer is kept in the transaction of the change itself, so a crash leaves both or neither.
(draft-ietf-httpapi-idempotency-key-header; the key may come with or without the quotes of a structured field.)
"""

import hashlib
from functools import wraps
from typing import Any

from flask import Response, json, request

from portal import clock
from portal.api.http.around import View, named
from portal.api.http.sender import who
from portal.store.engine.database import write
from portal.store.refusals import FieldRefused, Refused
from portal.store.rows import kept_answers

_KEPT = ("ETag", "Location")


class KeyReused(Refused):
    status = 422
    sentence = "This Idempotency-Key was used for another request. Make a new key for each new request."


def idempotent(view: View) -> View:
    """For a view that returns a whole response: a request whose Idempotency-Key came before is not done again."""

    @wraps(view)
    def run(*args: Any, **kwargs: Any) -> Response:
        key = _key()
        if key is None:
            response: Response = view(*args, **kwargs)
            return response
        fingerprint = _fingerprint()  # before the view reads a form: then the body is gone
        with write():
            before = kept_answers.find(who().key, key)
            if before:
                return _repeated(before, fingerprint)
            response = view(*args, **kwargs)
            headers = json.dumps({name: response.headers[name] for name in _KEPT if name in response.headers})
            body = response.get_data(as_text=True)
            kept_answers.keep(who().key, key, fingerprint, response.status_code, headers, body, clock.now())
            return response

    return named("idempotent", run, view)


def _key() -> str | None:
    key = request.headers.get("Idempotency-Key")
    if key is None:
        return None
    key = key.strip().strip('"')
    if not 1 <= len(key) <= 200:
        raise FieldRefused("Idempotency-Key", "Send a key of 1 to 200 characters, such as a UUID.")
    return key


def _fingerprint() -> str:
    whole = request.method.encode() + b" " + request.path.encode() + b"\n" + request.get_data()
    return hashlib.sha256(whole).hexdigest()


def _repeated(before: kept_answers.Answer, fingerprint: str) -> Response:
    if before.request != fingerprint:
        raise KeyReused(field="Idempotency-Key")
    response = Response(before.body, before.status, content_type="application/json")
    response.headers.update(json.loads(before.headers))
    response.headers["Idempotent-Replayed"] = "true"
    return response
