"""Shows the desk's pages: the same base and style as all pages, and the desk's own templates."""

from typing import Any

from flask import Response, get_flashed_messages
from jinja2 import ChoiceLoader, PackageLoader

from portal import clock
from portal.acts.actor import MAY
from portal.drawings.symbols.sheet import with_shapes
from portal.pages.environment import SCREENS, desk_policy_of, environment, policy_of, style_of
from portal.pages.joined import joined
from portal.request.heads import FRAMED_NOWHERE
from portal.request.session import form_mark, session_actor
from portal.store.reading.firm import current_firm
from portal.web.answer import page
from portal.web.desk.by_script import answered
from portal.web.desk.slips import offered
from portal.web.forms.once import new_mark

_desk = environment.overlay(loader=ChoiceLoader([PackageLoader("portal.web"), PackageLoader("portal.pages")]))


def show(template: str, status: int = 200, **values: Any) -> Response:
    """A page of the desk. Its forms carry the session's mark and a mark that makes a repeated form one. Only to who is
    signed in it may run our scripts."""
    actor, screen = session_actor(), template if template in SCREENS else "desk.html"
    policy = desk_policy_of(screen) if actor else policy_of(screen)
    html = _desk.get_template(template).render(
        firm=current_firm(), style=style_of(screen), policy=policy, who=actor, mark=form_mark(),
        may=lambda doing: actor is not None and actor.role in MAY[doing], once=new_mark(),
        said=get_flashed_messages(category_filter=["message"]), slips=offered(), now=clock.now(),
        answered=answered(actor is not None and template != "beside.html"), **values,
    )
    whole = with_shapes(html)
    answer = page(joined(whole) if template in SCREENS else whole, status)
    if actor:
        answer.headers["Content-Security-Policy"] = f"{policy}; {FRAMED_NOWHERE}"
    return answer


def small_page(template: str, **values: Any) -> str:
    """A page with the few styles that it can't do without."""
    return _desk.get_template(template).render(style=style_of(template), **values)
