"""Who else reads prices: an owner says so under their own link, and takes it back there."""

from collections.abc import Callable

from flask import Response, abort, redirect

from portal import clock
from portal.acts.household.prices import hide_prices, show_prices
from portal.pages.home.prices import render_prices
from portal.request.services import services
from portal.store.facts import is_owner
from portal.store.refusals import Refused
from portal.web.answer import page
from portal.web.forms.once import new_mark, once
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot, typed


@blueprint.get("/prices/")
def prices() -> Response:
    return _show()


@blueprint.post("/prices/<int:person_id>/show")
def show(person_id: int) -> Response:
    return _do(lambda: show_prices(reader(), project_id(), person_id, now=clock.now()))


@blueprint.post("/prices/<int:person_id>/hide")
def hide(person_id: int) -> Response:
    return _do(lambda: hide_prices(reader(), project_id(), person_id, now=clock.now()))


def _do(act: Callable[[], None]) -> Response:
    def do() -> str:
        act()
        return "done"

    try:
        once(reader(), typed("once", 64), do)
    except Refused as refusal:
        return _show(str(refusal.details.get("message", refusal)), refusal.status)
    services().publisher.flush(project_id())
    return redirect("../", 303)  # type: ignore[return-value]


def _show(refusal: str = "", status: int = 200) -> Response:
    if not is_owner(reader().role, reader().may_approve):
        abort(404)
    return page(render_prices(snapshot(), reader().id, new_mark(), refusal), status)
