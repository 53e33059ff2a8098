"""Shows the desk's pages: the same base and style as all pages, and the desk's own templates."""

from typing import Any

from flask import Response, get_flashed_messages
from jinja2 import ChoiceLoader, PackageLoader

from portal.acts.actor import MAY
from portal.pages.environment import content_policy, environment, page_style
from portal.request.session import form_mark, session_actor
from portal.store.reading.firm import current_firm
from portal.web.answer import page
from portal.web.forms.once import new_mark

_desk = environment.overlay(loader=ChoiceLoader([PackageLoader("portal.web"), PackageLoader("portal.pages")]))


def show(template: str, status: int = 200, **values: Any) -> Response:
    """A page of the desk. Its forms carry the session's mark and a mark that makes a repeated form one."""
    actor = session_actor()
    html = _desk.get_template(template).render(
        firm=current_firm(), style=page_style(), policy=content_policy(), who=actor, mark=form_mark(),
        may=lambda doing: actor is not None and actor.role in MAY[doing], once=new_mark(),
        said=get_flashed_messages(), **values,
    )
    return page(html, status)
