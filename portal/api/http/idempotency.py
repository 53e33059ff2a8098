"""Idempotency-Key on POST: the same request sent twice is done once and answered alike.

The answer is kept in the transaction of the change itself, so a crash leaves both or neither.
(draft-ietf-httpapi-idempotency-key-header; the key may come with or without the quotes of a structured field.)
"""

import hashlib
import re
from collections.abc import Callable
from functools import wraps
from typing import Any

from flask import Response, json, request

from portal import clock
from portal.api.http.around import View, named
from portal.api.http.sender import who
from portal.store.engine.database import write
from portal.store.refusals import FieldRefused, Refused
from portal.store.rows import kept_answers

_A_KEY = re.compile('"([!#-~]{1,200})"|([!#-~]{1,200})')
_KEPT = ("ETag", "Location")


class KeyReused(Refused):
    status = 422
    sentence = "This Idempotency-Key was used for another request. Make a new key for each new request."


def idempotent_but(kept: Callable[[str], str], told: Callable[[str], str]) -> Callable[[View], View]:
    """As `idempotent`, of an answer that must not be kept as it is: `kept` makes of its body what may be kept, `told`
    the body again."""

    def make(view: View) -> View:
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
                    return _repeated(before, fingerprint, told)
                response = view(*args, **kwargs)
                _keep(key, fingerprint, response, kept(response.get_data(as_text=True)))
                return response

        return named("idempotent", run, view)

    return make


idempotent = idempotent_but(str, str)
"""For a view that returns a whole response: a request whose Idempotency-Key came before is not done again."""


def _keep(key: str, fingerprint: str, response: Response, body: str) -> None:
    headers = json.dumps({name: response.headers[name] for name in _KEPT if name in response.headers})
    kept_answers.keep(who().key, key, fingerprint, response.status_code, headers, body, clock.now())


def _key() -> str | None:
    key = request.headers.get("Idempotency-Key")
    if key is None:
        return None
    found = _A_KEY.fullmatch(key.strip())
    if found is None:
        raise FieldRefused("Idempotency-Key", "Send a key of 1 to 200 plain characters, such as a UUID.")
    return found[1] or found[2]


def _fingerprint() -> str:
    digest = hashlib.sha256(f"{request.method} {request.path}\n".encode())
    if request.mimetype == "multipart/form-data":  # piece by piece: photos are never in memory, all of them at once
        digest.update(json.dumps(sorted(request.form.lists())).encode())
        for name, file in request.files.items(multi=True):
            file.stream.seek(0)
            content = hashlib.file_digest(file.stream, "sha256").hexdigest()  # type: ignore[arg-type]
            digest.update(json.dumps([name, file.filename, content]).encode())
    else:
        digest.update(request.get_data())
    return digest.hexdigest()


def _repeated(before: kept_answers.Answer, fingerprint: str, told: Callable[[str], str]) -> Response:
    if before.request != fingerprint:
        raise KeyReused(field="Idempotency-Key")
    response = Response(told(before.body), before.status, content_type="application/json")
    response.headers.update(json.loads(before.headers))
    response.headers["Idempotent-Replayed"] = "true"
    return response
