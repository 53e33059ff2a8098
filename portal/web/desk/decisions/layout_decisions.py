"""Decisions with drawings, at the desk: fill in what was measured, look at the layouts, tick those to offer, ask.

All of it is one form on one page, so that nothing that was typed is lost on the way.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from flask import Response, flash, redirect, request, url_for
from marshmallow import ValidationError

from portal import clock
from portal.acts.decisions.asking import ask_again, ask_decision
from portal.acts.decisions.layout_options import layouts_of
from portal.acts.decisions.proposals import key_of
from portal.acts.plan.planned_questions import ask_planned
from portal.content import guidance_for
from portal.layouts.kept_checks import dimensions_in
from portal.layouts.kinds import KINDS
from portal.pages.decision.option_drawing import advice_of
from portal.record.log.canonical import digest
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
from portal.web.desk.decisions.beginning import beginning_of
from portal.web.desk.decisions.picking import boxes_of, pick_and_keep
from portal.web.desk.forms import CHECK, Values, load, placed, seen
from portal.web.desk.showing import show
from portal.web.forms import layout_forms as made
from portal.web.forms.blanks import MORE, Group, checked, dimensions_from, groups, growing, texts
from portal.web.forms.inputs import Field, Form, grouped
from portal.web.forms.nesting import Positions, faults
from portal.web.forms.once import once
from portal.web.forms.picking import Box

ONE = f"{PROJECT}/decisions/<int:decision_id>"
Do = Callable[[Values], Said]
_CHANGED = "The dimensions have changed since you looked. Look at the layouts again before you ask."


@dataclass
class Draft:
    """What the page shows: the dimensions as typed, the layouts of them, and what is wrong."""

    kind: str
    form: Form
    asked: Sequence[Mapping[str, Any]] = ()  # the options of the revision that is asked again
    around: dict[str, Any] = field(default_factory=dict)  # what the template needs besides
    typed: dict[str, list[str]] = field(default_factory=dict)
    dimensions: dict[str, Any] = field(default_factory=dict)
    rows: list[made.Row] = field(default_factory=list)
    total: int = 0
    errors: dict[str, list[str]] = field(default_factory=dict)
    message: str = ""
    told: list[str] = field(default_factory=list)  # what was filled in, and what was kept
    begun: dict[str, list[str]] = field(default_factory=dict)  # what stands in the question before it is first shown

    @property
    def mark(self) -> str:
        """Stands for the dimensions that were looked at."""
        return digest(self.dimensions)[:16]

    @property
    def advice(self) -> list[str]:
        return advice_of(row.option for row in self.rows)

    @property
    def here(self) -> str:
        return request.full_path

    @property
    def wrong(self) -> list[Field]:
        """The inputs that are refused, in their order on the page."""
        measured = [one for group, _, kept in self._groups() for fields in (group.fields, *(box.fields for box in kept))
                    for one in grouped(group.title, fields)]
        worded = [one for row in self.rows for one in grouped(row.layout.title, row.fields)]
        return [one for one in (*measured, *worded, *self.form.fields) if self.errors.get(one.name)]

    def lay_out(self, dimensions: dict[str, Any], positions: Positions, offered: Sequence[str]) -> None:
        self.dimensions = dimensions
        self.errors = checked(self.kind, dimensions, positions)
        if self.errors:
            self.message = CHECK
            return
        try:
            found = layouts_of(self.kind, dimensions)
        except Refused as refusal:
            self.errors, self.message = {"": []}, str(refusal.details["message"])
            return
        self.rows, self.total = made.rows_of(found, offered, self.asked), len(found)

    def show(self, status: int = 200) -> Response:
        title = guidance_for(self.kind)
        return show(
            "layouts.html", status, draft=self, form=self.form, groups=self._groups(), typed=self.typed,
            errors=self.errors,
            growing=growing(self.kind, self.typed), kind_title=title.title if title else self.kind,
            **{"seen": None, "planned": None, **self.around},
        )  # fmt: skip

    def _groups(self) -> list[tuple[Group, bool, list[Box]]]:
        """The groups of inputs, whether each stands open, and what may fill it."""
        found = groups(self.kind, sent=self.typed)
        kept = boxes_of(found, self.around["project"].id)
        return [(group, self._is_open(group, own), own) for group, own in zip(found, kept, strict=True)]

    def _is_open(self, group: Group, kept: Sequence[Box]) -> bool:
        """A group that may be left out stands open when something was typed into it, or is wrong."""
        fields = [one for fields in (group.fields, *(box.fields for box in kept)) for one in fields]
        return any(any(self.typed.get(one.name, [])) or one.name in self.errors for one in fields)


@form_page(f"{PROJECT}/decisions/layouts", "ask_decision")
def layouts(project_id: int) -> Response:
    """`?kind=`: which; without it, the kinds to choose from. `?planned=`: the plan's question that it asks."""
    snapshot, kind = read_snapshot(project_id), request.args.get("kind", "")
    if kind not in KINDS:
        return show("layout_kinds.html", project=snapshot.project, kinds=_kinds())
    begun = beginning_of(project_id, kind, request.args.get("planned", ""), sent=request.method == "POST")
    around = {"project": snapshot.project, "planned": begun.planned}
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
        return "It is asked again. Earlier approvals no longer count.", _at(project_id, decision_id)

    if request.method == "GET":
        _begin(draft, asked)
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
    draft.typed = request.form.to_dict(flat=False)
    if "question" not in draft.typed:
        draft.typed = draft.begun | draft.typed
    draft.told, not_kept = pick_and_keep(draft.kind, project_id, draft.typed)
    draft.lay_out(*dimensions_from(draft.kind, draft.typed), request.form.getlist("offer"))
    if MORE in request.form or (request.form.get("step") == "fill" and draft.told and not not_kept):
        return _more(draft)
    if not_kept:
        draft.errors = not_kept | draft.errors
        draft.message = CHECK
    if draft.errors:
        return draft.show(422)
    looked = request.form.get("looked") == draft.mark
    if request.form.get("step") != "ask" or not looked:
        draft.typed = made.offered_texts(draft.rows, draft.asked) | draft.typed
        draft.message = _CHANGED if request.form.get("step") == "ask" else ""
        return draft.show()
    return _ask(draft, project_id, do)


def _more(draft: Draft) -> Response:
    """The same page with more rows, or more in them; nobody is blamed yet for what is still to be filled in."""
    draft.errors, draft.message = {}, ""
    draft.typed = made.offered_texts(draft.rows, draft.asked) | draft.typed
    return draft.show()


def _ask(draft: Draft, project_id: int, do: Do) -> Response:
    options, draft.errors = made.options_from(draft.rows, request.form, draft.asked)
    positions: Positions = {}
    try:
        values = load(draft.form, positions) | {"options": options, "detail": {"dimensions": draft.dimensions}}
    except ValidationError as error:
        draft.errors |= placed(draft.form, faults(error.normalized_messages(), positions))
    if draft.errors:
        draft.message = CHECK
        return draft.show(422)
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


def asked_words(asked: Decision) -> str:
    """Say that it is asked; and where it has settled a question of the plan, which."""
    planned, said = planned_rows.settled_by(asked.id), f"Decision {asked.number} is asked. It stands on the page."
    return f"{said} With it the plan’s question “{planned.question}” is asked, too." if planned else said


def _kinds() -> list[tuple[str, str, str]]:
    found = [(kind, guidance_for(kind)) for kind in KINDS]
    return [(kind, page.title, page.summary) for kind, page in found if page]


def _at(project_id: int, decision_id: int) -> str:
    return url_for("desk.decision", project_id=project_id, decision_id=decision_id)
