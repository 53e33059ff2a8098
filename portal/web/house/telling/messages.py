"""Tell us something, under a private link: from the page's own form, or from the page of all that was told."""

from flask import Response, abort, redirect

from portal import clock
from portal.acts.household.messages import count_message, send_message
from portal.pages.telling.tell import render_message, render_messages
from portal.request.sent_photos import one_kept, photos_sent
from portal.request.services import services
from portal.store.refusals import Refused
from portal.web.answer import asked_to_wait, page
from portal.web.forms.once import new_mark, once
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot, typed, typed_number
from portal.words.typed import legible


@blueprint.get("/messages/")
def messages() -> Response:
    return page(render_messages(snapshot(), once=new_mark()))


@blueprint.post("/messages/")
def tell() -> Response:
    """The form of the page carries the change that the page shows as its mark: from one page, the same words are told
    once."""
    try:
        sent = _sent()
    except Refused as refusal:
        return asked_to_wait(_again(refusal), refusal)
    services().publisher.flush(project_id())
    return redirect(f"{sent}/", 303)  # type: ignore[return-value]


@blueprint.get("/messages/<int:message_id>/")
def message(message_id: int) -> Response:
    shown = snapshot()
    found = next((one for one in shown.messages if one.id == message_id), None)
    return page(render_message(shown, found)) if found is not None else abort(404)


def _sent() -> str:
    """The id of the message, also where it was told before. Raises Refused."""
    count_message(reader().key, clock.now())
    photo, refusal = one_kept(project_id(), "photo")
    if refusal:
        raise refusal

    def do() -> str:
        made = send_message(
            reader(), project_id(), text=typed("text"), room=typed_number("room"), photo=photo, now=clock.now())
        return str(made.id)

    return once(reader(), typed("once", 64), do)


def _again(refusal: Refused) -> Response:
    """The form once more, with all that was typed; a photo has to be chosen again, browsers keep none."""
    said = str(refusal.details.get("message", refusal))
    html = render_messages(
        snapshot(), once=new_mark(), text=legible(typed("text")), room=legible(typed("room", 12)), refusal=said,
        had_photo=bool(photos_sent("photo")))
    return page(html, refusal.status)
