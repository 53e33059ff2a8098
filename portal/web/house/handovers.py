"""Hand-overs under a private link: what is handed over, what is still open; add to it, accept it."""

from collections.abc import Callable

from flask import Response, abort, redirect

from portal import clock
from portal.acts.handovers import accept_handover, add_item
from portal.pages.handover_page import render_handover
from portal.store.refusals import Refused
from portal.typed import legible
from portal.web.answer import page
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot, typed, typed_number
from portal.web.once import new_mark, once
from portal.web.published import sent_photo
from portal.web.services import services


@blueprint.get("/handovers/<int:handover_id>/")
def handover(handover_id: int) -> Response:
    return _show(handover_id)


@blueprint.post("/handovers/<int:handover_id>/items")
def add(handover_id: int) -> Response:
    values = {"item": typed("item"), "room": typed_number("room")}
    photo, refusal = sent_photo(project_id(), "photo")
    if refusal:
        return _show(handover_id, str(refusal), 422)

    def do() -> str:
        add_item(reader(), project_id(), handover_id, {**values, "photo": photo}, clock.now())
        return "added"

    return _done(handover_id, do)


@blueprint.post("/handovers/<int:handover_id>/accept")
def accept(handover_id: int) -> Response:
    seen = typed_number("seen")
    if seen is None:
        abort(400)

    def do() -> str:
        accept_handover(
            reader(), project_id(), handover_id, name=typed("name"), seen=seen, now=clock.now()
        )
        return "accepted"

    return _done(handover_id, do)


def _done(handover_id: int, do: Callable[[], str]) -> Response:
    try:
        once(reader(), typed("once", 64), do)
    except Refused as refusal:
        return _show(handover_id, str(refusal.details.get("message", refusal)), refusal.status)
    services().publisher.flush(project_id())
    return redirect("./", 303)  # type: ignore[return-value]


def _show(handover_id: int, refusal: str = "", status: int = 200) -> Response:
    shown = snapshot()
    found = next((one for one in shown.handovers if one.id == handover_id), None)
    if found is None:
        abort(404)
    kept = {name: legible(typed(name, 1000)) for name in ("item", "name", "room")}
    may_accept = reader().role == "homeowner" and reader().may_approve
    html = render_handover(shown, found, refusal=refusal, typed=kept, once=new_mark(), may_accept=may_accept)
    return page(html, status)
