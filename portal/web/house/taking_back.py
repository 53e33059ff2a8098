"""Taking one's approval back, in two steps: what it means first, then it is done. Until the held work starts."""

from dataclasses import replace

from flask import Response, redirect

from portal import clock
from portal.acts.decisions.answers import withdraw
from portal.pages.decision.answer_steps import render_taking_back
from portal.pages.decision.decision_page import Typed
from portal.pages.decision.taking_back import may_take_back
from portal.pages.plain_pages import render_not_taken_back
from portal.request.services import services
from portal.store.facts import DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.refusals import FieldRefused, Refused
from portal.web.answer import page
from portal.web.forms.once import new_mark, once
from portal.web.house.blueprint import blueprint, decision_in, reader, snapshot, typed, typed_number
from portal.words.typed import legible


@blueprint.get("/decisions/<int:number>/withdraw")
def look_at_taking_back(number: int) -> Response:
    """Where there is nothing to take back, or no longer, the page of the decision says why."""
    shown = snapshot()
    return _show(shown, decision_in(shown, number), Typed(once=new_mark()))


@blueprint.post("/decisions/<int:number>/withdraw")
def take_back(number: int) -> Response:
    shown = snapshot()
    asked, answer = decision_in(shown, number), Typed(text=typed("reason"), once=typed("once", 64))

    def do() -> str:
        if typed_number("revision") != asked.revision:
            raise FieldRefused("revision", "The question has changed since you opened this page. Read it again first.")
        withdraw(reader(), shown.project.id, asked.id, reason=answer.text, now=clock.now())
        return "withdrawn"

    try:
        once(reader(), answer.once, do)
    except Refused as refusal:
        message = str(refusal.details.get("message", refusal))
        again = replace(answer, text=legible(answer.text), refusal=message, once=new_mark())
        return _show(snapshot(), asked, again, refusal.status)
    services().publisher.flush(shown.project.id)
    return redirect("./", 303)  # type: ignore[return-value]


def _show(shown: Snapshot, asked: DecisionFact, answer: Typed, status: int = 200) -> Response:
    now = clock.now()
    mine = next((one for one in asked.approvals if one.person_id == reader().id), None)
    if mine is None or not may_take_back(shown, asked, reader().id):
        if not answer.refusal:
            return redirect("./", 303)  # type: ignore[return-value]
        return page(render_not_taken_back(shown.firm, answer.refusal), status)
    return page(render_taking_back(shown, schedule_of(shown, now), asked, mine, now, answer), status)
