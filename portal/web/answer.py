"""An HTML answer that is for its reader only."""

from flask import Response


def page(html: str, status: int = 200) -> Response:
    response = Response(html, status, content_type="text/html; charset=utf-8")
    response.headers["Cache-Control"] = "no-store"
    response.headers["Referrer-Policy"] = "same-origin"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["X-Robots-Tag"] = "noindex"
    return response
