"""One phase of the plan: added, changed or taken off by itself, in words and picks."""

from typing import Any

from flask import Response, request, url_for
from marshmallow import ValidationError, fields, post_load, validate

from portal import clock
from portal.acts.plan.phases import add_phase, add_phase_after, change_phase, remove_phase
from portal.api.http.shapes import Hours, Strict, Whole, day_field, line_field, name_field
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.tables import Phase
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.plan.plan_table import MOST_AFTER, crews_of, hours_text
from portal.web.forms import choices
from portal.web.forms.inputs import Choices, Field, Form, grouped
from portal.words.lists import quoted

_PLAN = f"{PROJECT}/plan"


class AfterPick(Strict):
    phase = fields.Integer(required=True)
    wait = Hours(load_default=0)


class OnePhaseForm(Strict):
    name = name_field(required=True)
    room = fields.Integer(allow_none=True, load_default=None)
    crew = line_field(80, load_default="")
    likely = Hours(required=True)
    low = Hours(allow_none=True, load_default=None)
    high = Hours(allow_none=True, load_default=None)
    after = fields.List(Whole(AfterPick), load_default=list, validate=validate.Length(max=MOST_AFTER))
    held_by = fields.List(fields.Integer(), load_default=list)
    not_before = day_field(allow_none=True, load_default=None)

    @post_load
    def as_kept(self, values: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
        """Hours that nobody spread are the same at best and at worst."""
        likely, low, high = values.pop("likely"), values.pop("low"), values.pop("high")
        low, high = likely if low is None else low, likely if high is None else high
        if low > likely:
            raise ValidationError("At best it takes no longer than it likely does.", "low")
        if high < likely:
            raise ValidationError("At worst it takes no less than it likely does.", "high")
        return values | {"work_low": low, "work_likely": likely, "work_high": high}


@form_page(f"{_PLAN}/new", "add_phase")
def new_phase(project_id: int) -> Response:
    snapshot, wanted = read_snapshot(project_id), request.args.get("after", type=int)
    before = next((one for one in snapshot.phases if one.id == wanted), None)

    def do(values: Values) -> tuple[str, str]:
        if before is None:
            added = add_phase(who(), project_id, values, now=clock.now())
        else:
            added = add_phase_after(who(), project_id, before.id, values, now=clock.now())
        return f"{added.name} is on the plan.", _plan(project_id, added.id)

    start = {"room": before.room_id, "after": [{"phase": before.id}]} if before else {}
    title = f"Add a phase after {before.name}" if before else "Add a phase"
    return _shown(snapshot, title, "Add the phase", do, start, None)


@form_page(f"{_PLAN}/<int:phase_id>", "change_phase")
def edit_phase(project_id: int, phase_id: int) -> Response:
    row = in_project(Phase, project_id, phase_id)
    snapshot = read_snapshot(project_id)
    phase = snapshot.phase(phase_id)

    def do(values: Values) -> tuple[str, str]:
        changed = change_phase(who(), project_id, phase_id, seen(), values, now=clock.now())
        return f"{changed.name} is changed.", _plan(project_id, phase_id)

    return _shown(snapshot, phase.name, "Save the phase", do, _typed(phase), phase, seen=row.version)


@form_page(f"{_PLAN}/<int:phase_id>/remove", "remove_phase")
def drop_phase(project_id: int, phase_id: int) -> Response:
    row, snapshot = in_project(Phase, project_id, phase_id), read_snapshot(project_id)

    def do(values: Values) -> str:
        remove_phase(who(), project_id, phase_id, seen(), now=clock.now())
        return f"{row.name} is off the plan."

    followers = quoted(one.name for one in snapshot.phases if phase_id in {before for before, _ in one.after})
    intro = f"{followers} will no longer wait for it." if followers else ""
    form = Form(f"Take off the plan: {row.name}", [], Strict(), "Take it off", intro=intro)
    return project_form(form, do, project_id, then=_plan(project_id), look=True, seen=row.version)


def _plan(project_id: int, phase_id: int | None = None) -> str:
    """The plan, at the row of a phase."""
    return url_for("desk.plan", project_id=project_id, _anchor=None if phase_id is None else f"p{phase_id}")


def _shown(
    snapshot: Snapshot, title: str, button: str, do: Any, start: dict[str, Any], phase: PhaseFact | None, **around: Any
) -> Response:
    form = Form(title, _fields(snapshot, phase, start), OnePhaseForm(), button, template="one_phase.html")
    return project_form(form, do, snapshot.project.id, start, look=True, phase=phase, crews=crews_of(snapshot),
                        **around)


def _fields(snapshot: Snapshot, phase: PhaseFact | None, start: dict[str, Any]) -> list[Field]:
    rows = len(start.get("after", ())) + 1
    sent = [n for n in range(MOST_AFTER) if f"after.{n}.phase" in request.form]
    questions = [(str(one.id), one.question) for one in snapshot.decisions]
    others: Choices = [("", "Nothing"), *choices.phases(
        snapshot, [one for one in snapshot.phases if phase is None or one.id != phase.id])]
    after = [
        one for row in range(min(MOST_AFTER, max(rows, len(sent)))) for one in (
            Field(f"after.{row}.phase", "It comes after" if not row else "and after", "choice", choices=others),
            Field(f"after.{row}.wait", "wait, hours", "number"),
        )
    ] if len(others) > 1 else []
    return [
        Field("name", "Phase", required=True),
        Field("room", "Room", "choice", choices=choices.rooms(snapshot)),
        Field("crew", "Crew", offers="crews"),
        Field("likely", "Work, crew hours", "number", required=True),
        *after,
        *grouped("Questions that hold it", [
            Field("held_by", "Can’t start before the answer to", "choices", choices=questions)
        ] if questions else [], folded=True),
        *grouped("At best, at worst, not before", [
            Field("low", "Hours at best", "number"), Field("high", "Hours at worst", "number"),
            Field("not_before", "Not before", "date"),
        ], folded=True),
    ]


def _typed(phase: PhaseFact) -> dict[str, Any]:
    spread = not phase.work_low == phase.work_likely == phase.work_high
    return {
        "name": phase.name, "room": phase.room_id, "crew": phase.crew, "likely": hours_text(phase.work_likely),
        "low": hours_text(phase.work_low) if spread else None, "high": hours_text(phase.work_high) if spread else None,
        "after": [{"phase": one, "wait": hours_text(wait) if wait else None} for one, wait in phase.after],
        "held_by": [str(one) for one in phase.held_by], "not_before": phase.not_before,
    }
