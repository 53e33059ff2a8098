"""Decisions with drawings, at the desk: fill in what was measured, look at the layouts, tick those to offer, ask.

All of it is one form on one page, so that nothing that was typed is lost on the way.
"""

import json
from collections.abc import Callable
from typing import Any

from flask import Response, flash, redirect, request, url_for
from marshmallow import ValidationError

from portal import clock
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.decisions.proposals import key_of, settle_asked
from portal.acts.plan.planned_questions import ask_planned
from portal.content import guidance_for
from portal.layouts.kept_checks import dimensions_in
from portal.layouts.kinds import KINDS
from portal.store.facts import Snapshot
from portal.store.reading.decision_views import DecisionView, view
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import Refused
from portal.store.rows import planned_rows
from portal.store.rows.editable import in_project
from portal.store.rows.proposal_rows import proposal_of
from portal.store.tables import Decision
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.conflict_words import Said, warned
from portal.web.desk.decisions.beginning import asked_already, beginning_of
from portal.web.desk.decisions.layout_draft import Draft
from portal.web.desk.decisions.picking import begun_with_only_ones, pick, pick_and_keep, recognized
from portal.web.desk.forms import CHECK, Values, load, placed, seen
from portal.web.desk.showing import show
from portal.web.forms import layout_forms as made
from portal.web.forms.blanks import MORE, dimensions_from, texts
from portal.web.forms.nesting import Positions, faults
from portal.web.forms.once import once

ONE = f"{PROJECT}/decisions/<int:decision_id>"
Do = Callable[[Values], Said]
DRAW = "draw"
"""The step of a script that looks while somebody types."""

_CHANGED = "The dimensions have changed since you looked. Look at the layouts again before you ask."


@form_page(f"{PROJECT}/decisions/layouts", "ask_decision")
def layouts(project_id: int) -> Response:
    """`?kind=`: which; without it, the kinds to choose from. `?planned=`: the plan's question that it asks; `?phase=`:
    the phase that it is asked from."""
    snapshot, kind, phase = read_snapshot(project_id), request.args.get("kind", ""), request.args.get("phase", "")
    if kind not in KINDS:
        way = f"&phase={phase}" if phase.isdecimal() else ""
        return show("layout_kinds.html", project=snapshot.project, kinds=_kinds(), way=way)
    sent = request.method == "POST"
    begun = beginning_of(snapshot, kind, request.args.get("planned", ""), phase, sent=sent)
    room = "".join((request.form.getlist("room") if "room" in request.form else begun.texts.get("room", []))[:1])
    around = {
        "project": snapshot.project, "planned": begun.planned, "already": asked_already(snapshot, kind, room),
        "rooms": {one.id: one.name for one in snapshot.rooms},
    }  # fmt: skip
    draft = Draft(kind, made.question_form(snapshot), around=around, begun=begun.texts)

    def do(values: Values) -> Said:
        values, now = values | {"kind": kind}, clock.now()
        asked = ask_planned(who(), project_id, begun.planned.id, values, now) if begun.planned else ask_decision(
            who(), project_id, values, now)
        return asked_words(asked), _at(project_id, asked.id)

    if request.method == "GET":
        draft.typed = dict(begun.texts)
        if begun.dimensions:
            draft.lay_out(begun.dimensions, {}, [])
            draft.typed |= texts(kind, begun.dimensions) | made.offered_texts(draft.rows)
            recognized(kind, project_id, draft.typed)
        else:
            draft.told = begun_with_only_ones(kind, project_id, draft.typed)
        return draft.show()
    return _answer(draft, project_id, do)


@form_page(f"{ONE}/layouts", "ask_again")
def layouts_again(project_id: int, decision_id: int) -> Response:
    """Ask again with other dimensions or other layouts. `?proposal=`: begin with what a designer proposes."""
    asked = view(in_project(Decision, project_id, decision_id))
    if asked.kind not in KINDS:
        return redirect(url_for("desk.again", project_id=project_id, decision_id=decision_id), 303)  # type: ignore[return-value]
    draft = _again(read_snapshot(project_id), asked)

    def do(values: Values) -> Said:
        ask_again(who(), project_id, decision_id, values, clock.now(), seen())
        begun = proposal_of(decision_id, request.args.get("proposal", ""))
        if begun:
            settle_asked(who(), project_id, decision_id, begun.id, now=clock.now())
        return "It is asked again. Earlier approvals no longer count.", _at(project_id, decision_id)

    if request.method == "GET":
        _begin(draft, asked)
        recognized(draft.kind, project_id, draft.typed)
        return draft.show()
    draft.around["seen"] = seen()
    return _answer(draft, project_id, do)


def _again(snapshot: Snapshot, asked: DecisionView) -> Draft:
    around = {"project": snapshot.project, "seen": asked.version}
    return Draft(asked.kind, made.again_form(asked.number, asked.revision), asked.options, around)


def _begin(draft: Draft, asked: DecisionView) -> None:
    """The page as it opens: as it was asked, or as somebody proposes."""
    proposal = proposal_of(asked.id, request.args.get("proposal", ""))
    dimensions = proposal.dimensions if proposal else dimensions_in(asked.detail)
    draft.typed = {"question": [asked.question]}
    if dimensions is None:
        return
    proposed = [key] if proposal and (key := key_of(proposal, draft.kind)) else []
    draft.lay_out(dimensions, {}, proposed)
    draft.typed |= texts(draft.kind, dimensions) | made.offered_texts(draft.rows, () if proposal else asked.options)
    if proposal:
        fitting = [row.key for row in draft.rows if row.key in proposed and row.layout.ok]
        draft.typed |= {"offer": proposed, "reason": [f"{proposal.name} proposes it."]}
        if fitting:
            draft.typed["recommended"] = fitting


def _answer(draft: Draft, project_id: int, do: Do) -> Response:
    """Fill in, look, or ask. Whatever it is, all that was typed stays in its place."""
    step = request.form.get("step")
    draft.typed, draft.asking, draft.drawing = request.form.to_dict(flat=False), step == "ask", step == DRAW
    if "question" not in draft.typed:
        draft.typed = draft.begun | draft.typed
    draft.told, not_kept = (pick if draft.drawing else pick_and_keep)(draft.kind, project_id, draft.typed)
    draft.lay_out(*dimensions_from(draft.kind, draft.typed), request.form.getlist("offer"))
    if draft.drawing:
        return draft.show()
    if MORE in request.form or (step == "fill" and draft.told and not not_kept):
        return _more(draft)
    if not_kept:
        draft.errors, draft.message = not_kept | draft.errors, CHECK
    if draft.asking:
        return _ask(draft, project_id, do)
    if draft.errors:
        return draft.show(422)
    return _look(draft)


def _look(draft: Draft, message: str = "") -> Response:
    draft.typed, draft.message = made.offered_texts(draft.rows, draft.asked) | draft.typed, message
    return draft.show()


def _more(draft: Draft) -> Response:
    """The same page with more rows, or more in them; nobody is blamed yet for what is still to be filled in."""
    draft.errors, draft.message = {}, ""
    draft.typed = made.offered_texts(draft.rows, draft.asked) | draft.typed
    return draft.show()


def _ask(draft: Draft, project_id: int, do: Do) -> Response:
    """All that is wrong is said at once: lengths, what is to be kept, options, the question."""
    unmeasured = bool(draft.errors)
    if not unmeasured and request.form.get("looked") != draft.mark:
        return _look(draft, _CHANGED)
    options, values = _question(draft)
    if draft.errors:
        draft.message = CHECK
        return draft.show(422)
    values |= {"options": options, "detail": {"dimensions": draft.dimensions}}
    try:
        done = once(who(), request.form.get("once", ""), lambda: json.dumps(warned(project_id, lambda: do(values))))
    except Refused as refusal:
        draft.message = str(refusal.details.get("message", refusal))
        draft.errors = {draft.form.holder_of(refusal.field or ""): [draft.message]}
        return draft.show(refusal.status)
    said, onward = json.loads(done)
    for each in (*draft.told, said):
        flash(each)
    return redirect(onward, 303)  # type: ignore[return-value]


def _question(draft: Draft) -> tuple[list[dict[str, Any]], Values]:
    """The options and the rest of the question; what is wrong with either is put beside what else is."""
    options, wrong = made.options_from(draft.rows, request.form, draft.asked)
    draft.errors |= wrong
    if draft.rows and not request.form.getlist("offer"):
        draft.errors[made.OFFER.name] = [made.OFFER_ONE]
    positions: Positions = {}
    try:
        return options, load(draft.form, positions)
    except ValidationError as error:
        draft.errors |= placed(draft.form, faults(error.normalized_messages(), positions))
        return options, {}


def asked_words(asked: Decision) -> str:
    """Say that it is asked; and where it has settled a question of the plan, which."""
    planned, said = planned_rows.settled_by(asked.id), f"Decision {asked.number} is asked. It stands on the page."
    return f"{said} With it the plan’s question “{planned.question}” is asked, too." if planned else said


def _kinds() -> list[tuple[str, str, str]]:
    found = [(kind, guidance_for(kind)) for kind in KINDS]
    return [(kind, page.title, page.summary) for kind, page in found if page]


def _at(project_id: int, decision_id: int) -> str:
    return url_for("desk.decision", project_id=project_id, decision_id=decision_id)
