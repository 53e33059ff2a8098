"""Decisions under a private link: read, choose, look once more, approve under one's name; or ask, or take it back."""

from dataclasses import replace

from flask import Response, abort, redirect, request

from portal import clock
from portal.acts.answers import approve, ask_back, check_choice, withdraw
from portal.acts.receipts import entry_of_approval
from portal.acts.refusals import AlreadyApproved, Superseded
from portal.content import Piece, parse
from portal.pages.decision_page import Typed, render_approved, render_asked, render_decision, render_review
from portal.store import consent_rows
from portal.store.facts import DecisionFact, Snapshot
from portal.store.planned import schedule_of
from portal.store.refusals import FieldRefused, Refused
from portal.store.wordings import guidance_shown
from portal.typed import legible
from portal.web.answer import page
from portal.web.house.blueprint import blueprint, decision_in, reader, snapshot, typed, typed_number
from portal.web.once import new_mark, once
from portal.web.services import services


@blueprint.get("/decisions/<int:number>/")
def decision(number: int) -> Response:
    shown = snapshot()
    return _show(shown, decision_in(shown, number), Typed(once=new_mark()))


@blueprint.get("/decisions/<int:number>/review")
def review(number: int) -> Response:
    """The second step: shows the choice once more. It is a GET, so that the way back to it sends nothing twice."""
    shown = snapshot()
    asked, revision = decision_in(shown, number), request.args.get("revision", "")
    if not revision.isdecimal() or len(revision) > 9:
        return redirect("./", 303)  # type: ignore[return-value]
    answer = Typed(option=request.args.get("option", "")[:40], once=new_mark())
    if not answer.option:
        return _refused(shown, asked, answer, FieldRefused("option", "Choose one of the options first."))
    try:
        check_choice(reader(), shown.project.id, asked.id, revision=int(revision), option=answer.option)
    except Refused as refusal:
        return _refused(shown, asked, answer, refusal)
    return redirect("./", 303) if asked.state == "approved" else _review(shown, asked, answer)  # type: ignore


@blueprint.post("/decisions/<int:number>/approve")
def approve_it(number: int) -> Response:
    shown = snapshot()
    return _answer(shown, decision_in(shown, number), _typed())


@blueprint.post("/decisions/<int:number>/ask")
def ask(number: int) -> Response:
    shown = snapshot()
    asked, answer = decision_in(shown, number), _typed()

    def do() -> str:
        ask_back(reader(), shown.project.id, asked.id, revision=_revision(), text=answer.text, now=clock.now())
        return "asked"

    try:
        once(reader(), answer.once, do)
    except Refused as refusal:
        return _refused(shown, asked, answer, refusal)
    return _on_to("asked", shown)


@blueprint.post("/decisions/<int:number>/withdraw")
def take_back(number: int) -> Response:
    shown = snapshot()
    asked, answer = decision_in(shown, number), _typed()

    def do() -> str:
        if _revision() != asked.revision:
            raise FieldRefused("revision", "The question has changed since you opened this page. Read it again first.")
        withdraw(reader(), shown.project.id, asked.id, reason=typed("reason"), now=clock.now())
        return "withdrawn"

    try:
        once(reader(), answer.once, do)
    except Refused as refusal:
        return _refused(shown, asked, answer, refusal)
    return _on_to("./", shown)


@blueprint.get("/decisions/<int:number>/approved")
def approved(number: int) -> Response:
    """The copy at once, for the person who approved."""
    shown = snapshot()
    asked = decision_in(shown, number)
    mine = next((a for a in asked.approvals if a.person_id == reader().id), None)
    if mine is None:
        return redirect("./", 303)  # type: ignore[return-value]
    entry = entry_of_approval(shown.project.id, asked.number, mine.revision, mine.person_id)
    return page(render_approved(shown, asked, mine, clock.now(), entry))


@blueprint.get("/decisions/<int:number>/asked")
def asked_back(number: int) -> Response:
    shown = snapshot()
    return page(render_asked(shown, decision_in(shown, number), clock.now()))


def _answer(shown: Snapshot, asked: DecisionFact, answer: Typed) -> Response:
    try:
        approve(
            reader(), shown.project.id, asked.id,
            revision=_revision(), option=answer.option, name=answer.name, now=clock.now(),
        )
    except FieldRefused as refusal:
        if refusal.field == "name" and asked.option(answer.option) and _revision() == asked.revision:
            again = replace(answer, name=legible(answer.name), refusal=str(refusal.details["message"]), field="name")
            return _review(shown, asked, again, 422)
        return _refused(shown, asked, answer, refusal)
    except Refused as refusal:
        fresh = snapshot()
        return _refused(fresh, decision_in(fresh, asked.number), answer, refusal)
    return _on_to("approved", shown)


def _review(shown: Snapshot, asked: DecisionFact, answer: Typed, status: int = 200) -> Response:
    first = not consent_rows.standing(reader().id)
    return page(render_review(shown, asked, clock.now(), answer, first_time=first), status)


def _refused(shown: Snapshot, asked: DecisionFact, answer: Typed, refusal: Refused) -> Response:
    """The decision page once more, with what was typed and why it did not count."""
    message = str(refusal.details.get("message", refusal))
    superseded = isinstance(refusal, Superseded | AlreadyApproved)
    again = replace(
        answer, name=legible(answer.name), text=legible(answer.text), refusal=message, field=refusal.field or "",
        superseded=superseded,
    )  # fmt: skip
    return _show(shown, asked, again, refusal.status)


def _show(shown: Snapshot, asked: DecisionFact, answer: Typed, status: int = 200) -> Response:
    now = clock.now()
    may = reader().may_approve and reader().role == "homeowner"
    html = render_decision(
        shown, schedule_of(shown, now), asked, now, answer, may_approve=may, reader=reader().id,
        designer=reader().role == "designer", guidance=_guidance(asked),
    )  # fmt: skip
    return page(html, status)


def _guidance(asked: DecisionFact) -> Piece | None:
    """The words that were beside the question when it was asked: they may have been changed since."""
    kept = guidance_shown(asked.id, asked.revision)
    return parse(asked.kind, kept) if kept is not None else None


def _on_to(where: str, shown: Snapshot) -> Response:
    """After a change: first its page is published, then the reader goes on."""
    services().publisher.flush(shown.project.id)
    return redirect(where, 303)  # type: ignore[return-value]


def _typed() -> Typed:
    return Typed(option=typed("option", 40), name=typed("name"), text=typed("text"), once=typed("once", 64))


def _revision() -> int:
    number = typed_number("revision")
    return abort(400) if number is None else number
