"""The heads that go with every answer of the service, in one table; deploy/nginx.conf says the same of what it sends.

After OWASP ASVS 5.0, V3.4, and V3.2.1: what is no page opens in a sandbox. The policy is a head because
`frame-ancestors` works in no meta element (W3C CSP3, 6.4.2). HSTS goes with TLS alone (RFC 6797, 7.2) and speaks for no
other host of the firm. `no-store` is said to caches (RFC 9111, 5.2.2.5): a client keeps the ETag that it was given and
names it in If-Match and If-None-Match all the same (RFC 9110, 13.1).
"""

from flask import Response, request

from portal.pages.environment import content_policy
from portal.request.services import services

HSTS = "max-age=31536000"
FRAMED_NOWHERE = "object-src 'none'; frame-ancestors 'none'"

PUBLISHED_POLICY = (
    "default-src 'none'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; form-action 'self'; base-uri 'none'; "
    f"{FRAMED_NOWHERE}"
)
"""Of a page in a file, which may be older than our style sheet: the meta element in it allows its own style alone."""
PDF_POLICY = f"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; {FRAMED_NOWHERE}"
"""No sandbox: browsers show no PDF in one."""
NO_PAGE_POLICY = f"{PDF_POLICY}; sandbox"
"""Browsers show a picture or a text in a page of their own, which they style."""
WORKER_POLICY = f"default-src 'none'; connect-src 'self'; base-uri 'none'; {FRAMED_NOWHERE}"
"""A worker goes by its own head, and asks us alone (W3C CSP3, 2.2)."""

EVERY = {
    "X-Content-Type-Options": "nosniff",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Robots-Tag": "noindex",
    "Cache-Control": "no-store",
}
"""Unless a view says otherwise."""


def set_heads(response: Response) -> Response:
    """After every request."""
    for name, value in heads_of(response.mimetype, _over_tls()).items():
        response.headers.setdefault(name, value)
    return response


def heads_of(kind: str | None, over_tls: bool, policy: str | None = None) -> dict[str, str]:
    """Those of an answer of this media type."""
    found = EVERY | {
        "Content-Security-Policy": policy or _policy(kind),
        "Referrer-Policy": "same-origin" if kind == "text/html" else "no-referrer",
    }
    return found | {"Strict-Transport-Security": HSTS} if over_tls else found


def _policy(kind: str | None) -> str:
    if kind == "text/html":
        return f"{content_policy()}; {FRAMED_NOWHERE}"
    return PDF_POLICY if kind == "application/pdf" else NO_PAGE_POLICY


def _over_tls() -> bool:
    return services().settings.over_tls and request.is_secure
