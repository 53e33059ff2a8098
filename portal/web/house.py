"""A homeowner's private link: the page, the decisions with their forms, the record, the photos.

The link in the address is the only credential; a wrong one finds nothing, whatever else is right. GET changes nothing.
"""

from dataclasses import replace
from typing import Any

from flask import Blueprint, Flask, Response, abort, g, redirect, request

from portal import clock
from portal.acts.actor import Actor
from portal.acts.answers import approve, ask_back
from portal.acts.links import actor_of, holder_of
from portal.acts.refusals import AlreadyApproved, Superseded
from portal.pages.decision_page import Typed, render_approved, render_asked, render_decision, render_review
from portal.pages.record_page import render_record
from portal.store import record_rows
from portal.store.facts import DecisionFact, Snapshot
from portal.store.planned import schedule_of
from portal.store.refusals import FieldRefused, Refused
from portal.store.snapshot import read_snapshot
from portal.web.answer import page
from portal.web.once import new_mark, once
from portal.web.published import published, published_photo
from portal.web.services import services
from portal.web.session import same_site

blueprint = Blueprint("house", __name__, url_prefix="/p/<link>")


def register(app: Flask) -> None:
    app.register_blueprint(blueprint)


@blueprint.url_value_preprocessor
def open_link(endpoint: str | None, values: dict[str, Any] | None) -> None:
    """Before anything else: whose link is it? A stranger gets the same 404 everywhere."""
    holder = holder_of((values or {}).pop("link", ""))
    if holder is None:
        abort(404)
    g.actor = actor_of(holder)
    if request.method == "POST" and not same_site():
        abort(403)


@blueprint.get("/")
def status_page() -> Response:
    return published(_project())


@blueprint.get("/photos/<name>")
def photo(name: str) -> Response:
    return published_photo(_project(), name) or abort(404)


@blueprint.get("/record/")
def record() -> Response:
    snapshot = _snapshot()
    return page(render_record(snapshot, list(record_rows.every(snapshot.project.id)), clock.now()))


@blueprint.get("/decisions/<int:number>/")
def decision(number: int) -> Response:
    snapshot = _snapshot()
    return _show(snapshot, _decision(snapshot, number), Typed(once=new_mark()))


@blueprint.post("/decisions/<int:number>/review")
def review(number: int) -> Response:
    """The second step: shows the choice once more. Nothing is changed by it."""
    snapshot = _snapshot()
    asked, typed = _decision(snapshot, number), _typed()
    if _revision() != asked.revision or asked.state == "approved":
        return _answer(snapshot, asked, typed)
    if asked.option(typed.option) is None:
        refusal = FieldRefused("option", "Choose one of the options first.")
        return _refused(snapshot, asked, typed, refusal)
    return page(render_review(snapshot, asked, clock.now(), typed))


@blueprint.post("/decisions/<int:number>/approve")
def approve_it(number: int) -> Response:
    snapshot = _snapshot()
    return _answer(snapshot, _decision(snapshot, number), _typed())


@blueprint.post("/decisions/<int:number>/ask")
def ask(number: int) -> Response:
    snapshot = _snapshot()
    asked, typed, actor = _decision(snapshot, number), _typed(), _actor()

    def do() -> str:
        ask_back(actor, snapshot.project.id, asked.id, revision=_revision(), text=typed.text, now=clock.now())
        return "asked"

    try:
        once(actor, typed.once, do)
    except Refused as refusal:
        return _refused(snapshot, asked, typed, refusal)
    services().publisher.flush(snapshot.project.id)
    return redirect("asked", 303)  # type: ignore[return-value]


@blueprint.get("/decisions/<int:number>/approved")
def approved(number: int) -> Response:
    """The copy at once, for the person who approved."""
    snapshot = _snapshot()
    asked = _decision(snapshot, number)
    mine = next((a for a in asked.approvals if a.person_id == _actor().id), None)
    if mine is None:
        return redirect("./", 303)  # type: ignore[return-value]
    return page(render_approved(snapshot, asked, mine, clock.now()))


@blueprint.get("/decisions/<int:number>/asked")
def asked_back(number: int) -> Response:
    snapshot = _snapshot()
    return page(render_asked(snapshot, _decision(snapshot, number), clock.now()))


def _answer(snapshot: Snapshot, asked: DecisionFact, typed: Typed) -> Response:
    try:
        approve(
            _actor(), snapshot.project.id, asked.id,
            revision=_revision(), option=typed.option, name=typed.name, now=clock.now(),
        )
    except FieldRefused as refusal:
        if refusal.field == "name" and asked.option(typed.option) and _revision() == asked.revision:
            again = replace(typed, refusal=str(refusal.details["message"]), field="name")
            return page(render_review(snapshot, asked, clock.now(), again), 422)
        return _refused(snapshot, asked, typed, refusal)
    except Refused as refusal:
        return _refused(_snapshot(), _decision(_snapshot(), asked.number), typed, refusal)
    services().publisher.flush(snapshot.project.id)
    return redirect("approved", 303)  # type: ignore[return-value]


def _refused(snapshot: Snapshot, asked: DecisionFact, typed: Typed, refusal: Refused) -> Response:
    """The decision page once more, with what was typed and why it did not count."""
    message = str(refusal.details.get("message", refusal))
    superseded = isinstance(refusal, Superseded | AlreadyApproved)
    again = replace(typed, refusal=message, field=refusal.field or "", superseded=superseded)
    return _show(snapshot, asked, again, refusal.status)


def _show(snapshot: Snapshot, asked: DecisionFact, typed: Typed, status: int = 200) -> Response:
    now = clock.now()
    may = _actor().may_approve and _actor().role == "homeowner"
    return page(render_decision(snapshot, schedule_of(snapshot, now), asked, now, typed, may_approve=may), status)


def _typed() -> Typed:
    form = request.form
    return Typed(
        option=form.get("option", ""), name=form.get("name", "")[:200], text=form.get("text", "")[:4000],
        once=form.get("once", "")[:64],
    )


def _revision() -> int:
    text = request.form.get("revision", "")
    if not text.isdigit():
        abort(400)
    return int(text)


def _actor() -> Actor:
    actor: Actor = g.actor
    return actor


def _project() -> int:
    project = _actor().project
    assert project is not None
    return project


def _snapshot() -> Snapshot:
    return read_snapshot(_project())


def _decision(snapshot: Snapshot, number: int) -> DecisionFact:
    found = next((one for one in snapshot.decisions if one.number == number), None)
    return found if found is not None else abort(404)
