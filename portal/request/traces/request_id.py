"""The number of a request: in the log, in the answer, and on the page or in the problem that says something failed."""

import re
import secrets

from flask import g, request

HEADER = "X-Request-Id"
_MADE_BY_NGINX = re.compile(r"[0-9a-f]{32}")  # its $request_id


def request_id() -> str:
    """The web server's own, if it looks like one; else made here. 32 letters."""
    if "request_id" not in g:
        given = request.headers.get(HEADER, "")
        g.request_id = given if _MADE_BY_NGINX.fullmatch(given) else secrets.token_hex(16)
    number: str = g.request_id
    return number


def to_tell() -> str:
    """As much of it as one can tell on the phone: it begins with these letters."""
    return f"{request_id()[:4]} {request_id()[4:8]}"
