"""Whether a visit suits, under a private link."""

from flask import Response, abort, redirect

from portal import clock
from portal.acts.actor import MAY
from portal.acts.visiting.suiting import answer_visit, count_visit_answer
from portal.pages.telling.suiting import render_visits
from portal.request.services import services
from portal.store.refusals import FieldRefused, NotFound, Refused
from portal.web.answer import asked_to_wait, page
from portal.web.forms.once import new_mark, once
from portal.web.house.blueprint import blueprint, project_id, reader, snapshot, typed
from portal.words.typed import legible


@blueprint.get("/visits/")
def visits_to_come() -> Response:
    _only_who_lives_there()
    return page(render_visits(snapshot(), clock.now(), once=new_mark()))


@blueprint.post("/visits/<int:visit_id>")
def say_whether_it_suits(visit_id: int) -> Response:
    _only_who_lives_there()
    suits, starts_at = {"yes": True, "no": False}.get(typed("suits", 8)), _instant(typed("starts_at", 14))

    def do() -> str:
        if suits is None or starts_at is None:
            raise FieldRefused("suits", "Press one of the two buttons: it suits, or it does not.")
        answer_visit(
            reader(), project_id(), visit_id, suits=suits, why=typed("why"), starts_at=starts_at, now=clock.now())
        return "said"

    try:
        count_visit_answer(reader().key, clock.now())
        once(reader(), typed("once", 64), do)
    except NotFound:
        abort(404)
    except Refused as refusal:
        said, why = str(refusal.details.get("message", refusal)), legible(typed("why"))
        html = render_visits(snapshot(), clock.now(), once=new_mark(), refusal=said, about=visit_id, why=why)
        return asked_to_wait(page(html, refusal.status), refusal)
    services().publisher.flush(project_id())
    return redirect("./", 303)  # type: ignore[return-value]


def _instant(text: str) -> int | None:
    """Seconds that the form carries, if they are some that we could have put there."""
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 13 else None


def _only_who_lives_there() -> None:
    if reader().role not in MAY["answer_visit"]:
        abort(404)
