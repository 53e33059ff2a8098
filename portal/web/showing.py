"""Shows the desk's pages: the same base and style as all pages, with the desk's own sheet."""

from typing import Any

from flask import Response, get_flashed_messages, request
from jinja2 import ChoiceLoader, PackageLoader

from portal.pages.environment import content_policy, environment, page_style
from portal.pages.firm import current_firm
from portal.web.session import form_mark, session_actor

_desk = environment.overlay(loader=ChoiceLoader([PackageLoader("portal.web"), environment.loader or PackageLoader("portal.pages")]))


def show(template: str, status: int = 200, **values: Any) -> Response:
    """A page of the desk, never kept by a cache."""
    html = _desk.get_template(template).render(
        firm=current_firm(), style=page_style(), policy=content_policy(), who=session_actor(), mark=form_mark(),
        said=get_flashed_messages(), path=request.path, **values,
    )
    return page(html, status)


def page(html: str, status: int = 200) -> Response:
    """An HTML answer that is for its reader only."""
    response = Response(html, status, content_type="text/html; charset=utf-8")
    response.headers["Cache-Control"] = "no-store"
    response.headers["Referrer-Policy"] = "same-origin"
    response.headers["X-Content-Type-Options"] = "nosniff"
    return response
