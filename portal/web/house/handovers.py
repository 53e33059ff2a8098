"""Hand-overs under a private link: what is handed over, what is still open; add to it, look once more, accept it."""

from dataclasses import replace

from flask import Response, abort, redirect

from portal import clock
from portal.acts.household.handovers import accept_handover, add_item, refuse_taken_back
from portal.acts.keeping.receipts import entry_of_acceptance
from portal.pages.evidence.handover_page import Accepting, render_accepting, render_handover
from portal.request.sent_photos import one_kept, photos_sent
from portal.request.services import services
from portal.store.facts import HandoverFact, Snapshot
from portal.store.refusals import Refused
from portal.web.answer import asked_to_wait, page
from portal.web.forms.once import new_mark, once
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot, typed, typed_number
from portal.web.house.signing_name import doubted
from portal.words.typed import legible


@blueprint.get("/handovers/<int:handover_id>/")
def handover(handover_id: int) -> Response:
    return _show(handover_id)


@blueprint.post("/handovers/<int:handover_id>/items")
def add(handover_id: int) -> Response:
    """One form, two buttons: whichever is pressed, what was written goes onto the list."""
    going_on = typed("step") == "review"
    if going_on and not typed("item").strip() and not photos_sent("photo"):
        return _on_to("review")
    values = {"item": typed("item"), "room": typed_number("room")}
    photo, refusal = one_kept(project_id(), "photo")
    if refusal:
        return asked_to_wait(_show(handover_id, str(refusal), refusal.status), refusal)

    def do() -> str:
        add_item(reader(), project_id(), handover_id, {**values, "photo": photo}, clock.now())
        return "added"

    try:
        once(reader(), typed("once", 64), do)
    except Refused as refused:
        return _show(handover_id, _words(refused), refused.status)
    services().publisher.flush(project_id())
    return _on_to("review" if going_on else "./")


@blueprint.get("/handovers/<int:handover_id>/review")
def look_at_handover(handover_id: int) -> Response:
    """The second step, a GET: the way back to it sends nothing twice."""
    shown, found = _found(handover_id)
    if not _may_accept() or found.accepted_at is not None:
        return _on_to("./")
    return page(render_accepting(shown, found, clock.now(), Accepting(once=new_mark())))


@blueprint.post("/handovers/<int:handover_id>/accept")
def accept(handover_id: int) -> Response:
    seen = typed_number("seen")
    if seen is None:
        abort(400)
    answer = Accepting(legible(typed("name")), typed("once", 64), sure=legible(typed("sure")))
    question = doubted(typed("name"), answer.sure)
    if question:
        return _look_again(handover_id, replace(answer, refusal=question, sure=answer.name.strip()))

    def do() -> str:
        accept_handover(reader(), project_id(), handover_id, name=typed("name"), seen=seen, now=clock.now())
        return "accepted"

    try:
        once(reader(), answer.once, do)
    except Refused as refused:
        if refused.field in ("name", "seen"):
            return _look_again(handover_id, replace(answer, refusal=_words(refused)), refused.status)
        return _show(handover_id, _words(refused), refused.status)
    services().publisher.flush(project_id())
    entry = entry_of_acceptance(project_id(), handover_id)
    return _on_to(f"../../record/{entry}/" if entry and reader().reads_sums else "./")


def _look_again(handover_id: int, answer: Accepting, status: int = 422) -> Response:
    shown, found = _found(handover_id)
    return page(render_accepting(shown, found, clock.now(), replace(answer, once=new_mark())), status)


def _show(handover_id: int, refusal: str = "", status: int = 200) -> Response:
    shown, found = _found(handover_id)
    kept = {name: legible(typed(name, 1000)) for name in ("item", "room")}
    accepted = found.accepted_at is not None and shown.sums
    html = render_handover(
        shown, found, clock.now(), refusal=refusal, typed=kept, once=new_mark(), may_accept=_may_accept(),
        receipt=entry_of_acceptance(shown.project.id, handover_id) if accepted else None,
    )
    return page(html, status)


def _found(handover_id: int) -> tuple[Snapshot, HandoverFact]:
    shown = snapshot()
    found = next((one for one in shown.handovers if one.id == handover_id), None)
    if found is None:
        refuse_taken_back(project_id(), handover_id)
        abort(404)
    return shown, found


def _may_accept() -> bool:
    return reader().role == "homeowner" and reader().may_approve


def _words(refusal: Refused) -> str:
    return str(refusal.details.get("message", refusal))


def _on_to(where: str) -> Response:
    return redirect(where, 303)  # type: ignore[return-value]
