"""Decisions under a private link: read, choose, look once more, approve under one's name; or ask."""

from dataclasses import replace
from urllib.parse import urlencode

from flask import Response, abort, redirect, request

from portal import clock
from portal.acts.decisions.answers import approve, check_choice
from portal.acts.decisions.asking_back import ask_back
from portal.acts.keeping.receipts import entry_of_approval
from portal.acts.refusals import AlreadyApproved, Superseded
from portal.content import Piece, parse
from portal.pages.decision.answer_steps import render_asked, render_review
from portal.pages.decision.decision_page import Typed, render_decision
from portal.pages.signers import already_words, signed_by
from portal.request.services import services
from portal.store.facts import ANOTHER_OPTION, QUESTION, DecisionFact, Snapshot
from portal.store.reading.project_plan import schedule_of
from portal.store.refusals import FieldRefused, Refused
from portal.store.rows import consent_rows
from portal.store.rows.wording_rows import guidance_shown
from portal.web.answer import asked_to_wait, page
from portal.web.forms.once import new_mark, once
from portal.web.house.blueprint import blueprint, decision_in, reader, snapshot, typed, typed_number
from portal.web.house.signing_name import doubted
from portal.words.typed import legible


@blueprint.get("/decisions/<int:number>/")
def decision(number: int) -> Response:
    shown = snapshot()
    return _show(shown, decision_in(shown, number), Typed(option=_ticked(), once=new_mark()))


@blueprint.post("/decisions/<int:number>/choose")
def choose(number: int) -> Response:
    """On to the second step; it changes nothing. A question that was written and not sent is asked about first."""
    shown = snapshot()
    asked, answer = decision_in(shown, number), _typed()
    if answer.text.strip():
        message = "You have written a question and not sent it. Send it, or take the words out before you go on."
        return _refused(shown, asked, answer, FieldRefused("text", message))
    chosen = urlencode({"revision": _revision(), "option": answer.option})
    return redirect(f"review?{chosen}", 303)  # type: ignore[return-value]


@blueprint.get("/decisions/<int:number>/review")
def review(number: int) -> Response:
    """The second step: shows the choice once more. It is a GET, so that the way back to it sends nothing twice."""
    shown = snapshot()
    asked, revision = decision_in(shown, number), request.args.get("revision", "")
    if not revision.isdecimal() or len(revision) > 9:
        return redirect("./", 303)  # type: ignore[return-value]
    answer = Typed(option=_ticked(), once=new_mark())
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
    kind = ANOTHER_OPTION if typed("kind") == ANOTHER_OPTION else QUESTION

    def do() -> str:
        ask_back(
            reader(), shown.project.id, asked.id, revision=_revision(), text=answer.text, kind=kind, now=clock.now()
        )
        return "asked"

    try:
        once(reader(), answer.once, do)
    except Refused as refusal:
        return _refused(shown, asked, answer, refusal)
    ticked = f"?{urlencode({'option': answer.option})}" if answer.option else ""
    return _on_to(f"asked{ticked}", shown)


@blueprint.get("/decisions/<int:number>/approved")
def approved(number: int) -> Response:
    """The copy at once, for the person who approved: their receipt."""
    shown = snapshot()
    asked = decision_in(shown, number)
    mine = next((a for a in asked.approvals if a.person_id == reader().id), None)
    if mine is None:
        return _see_other("./")
    return _see_other(_receipt_of(shown, asked.number, mine.revision))


@blueprint.get("/decisions/<int:number>/asked")
def asked_back(number: int) -> Response:
    shown = snapshot()
    return page(render_asked(shown, decision_in(shown, number), clock.now(), _ticked()))


def _answer(shown: Snapshot, asked: DecisionFact, answer: Typed) -> Response:
    question = doubted(answer.name, answer.sure)
    if question and asked.option(answer.option) and _revision() == asked.revision:
        again = replace(answer, refusal=question, field="name", sure=answer.name.strip())
        return _review(shown, asked, again, 422)
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
    return _on_to(_receipt_of(shown, asked.number, asked.revision), shown)


def _receipt_of(shown: Snapshot, number: int, revision: int) -> str:
    """The way to the receipt of this reader's approval; for who may not read its price, to the decision."""
    entry = entry_of_approval(shown.project.id, number, revision, reader().id) if shown.sums else None
    return f"../../record/{entry}/" if entry else "./"


def _review(shown: Snapshot, asked: DecisionFact, answer: Typed, status: int = 200) -> Response:
    first, now = not consent_rows.standing(reader().id), clock.now()
    return page(render_review(shown, schedule_of(shown, now), asked, now, answer, first_time=first), status)


def _refused(shown: Snapshot, asked: DecisionFact, answer: Typed, refusal: Refused) -> Response:
    """The decision page once more, with what was typed and why it did not count."""
    message = _words(shown, asked, refusal)
    superseded = isinstance(refusal, Superseded | AlreadyApproved)
    again = replace(
        answer, name=legible(answer.name), text=legible(answer.text), refusal=message, field=refusal.field or "",
        superseded=superseded,
    )  # fmt: skip
    return asked_to_wait(_show(shown, asked, again, refusal.status), refusal)


def _words(shown: Snapshot, asked: DecisionFact, refusal: Refused) -> str:
    """Whoever approved it themselves needs no call to change it; of another, whose link it was is said."""
    if isinstance(refusal, AlreadyApproved) and asked.approvals:
        if any(one.person_id == reader().id for one in asked.approvals):
            return already_words(refusal.details["option"], refusal.details["when"])
        return str(AlreadyApproved(**{**refusal.details, "name": signed_by(asked.approvals[0], shown.people)}))
    return str(refusal.details.get("message", refusal))


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
    return _see_other(where)


def _see_other(where: str) -> Response:
    return redirect(where, 303)  # type: ignore[return-value]


def _typed() -> Typed:
    return Typed(
        option=typed("option", 40), name=typed("name"), text=typed("text"), once=typed("once", 64), sure=typed("sure"),
    )  # fmt: skip


def _ticked() -> str:
    return request.args.get("option", "")[:40]


def _revision() -> int:
    number = typed_number("revision")
    return abort(400) if number is None else number
