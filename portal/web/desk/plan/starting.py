"""Starting a project's plan from typical plans, ours or the firm's own, or from an earlier project."""

from typing import Any

from flask import Response
from marshmallow import fields

from portal import clock
from portal.acts.plan.starting_plans import Chosen, LaidOut, start_from_plan, start_from_project
from portal.api.http.shapes import Hours, Strict, Whole, line_field
from portal.api.resources.plans import own_plans
from portal.planning.starting_plans.label_waits import entered_wait, label_waits, with_label_waits
from portal.store.reading.plans_to_start_from import Starter, starter, starters
from portal.store.rows import project_rows
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.plan.label_waits import LabelHours, label_fields
from portal.web.forms.inputs import Field, Form, grouped
from portal.words.plurals import counted


class ChoiceForm(Strict):
    key = line_field(80, required=True)
    chosen = fields.Boolean(load_default=False)
    rooms = fields.Dict(
        keys=line_field(80), values=line_field(120), load_default=dict
    )
    labels = LabelHours(keys=line_field(80), values=Hours(), load_default=dict)


class StartForm(Strict):
    project = fields.Integer(allow_none=True, load_default=None)
    plans = fields.Dict(keys=fields.Integer(), values=Whole(ChoiceForm), load_default=dict)


@form_page(f"{PROJECT}/start-from", "start_from_plan")
def start_from(project_id: int) -> Response:
    found = starters(own_plans())
    usable = [one for one in found if one.plan is not None]

    def do(values: Values) -> str:
        if values["project"]:
            return _said(start_from_project(who(), project_id, values["project"], now=clock.now()))
        chosen = [_chosen(one) for one in values["plans"].values() if one["chosen"]]
        return _said(start_from_plan(who(), project_id, chosen, now=clock.now()))

    earlier = [(str(row.id), row.name) for row in project_rows.with_phases() if row.id != project_id]
    form = _form(usable, earlier)
    start: dict[str, Any] = {"plans": {str(n): _start(one) for n, one in enumerate(usable)}}
    return project_form(form, do, project_id, start, refused=[one.refused for one in found if one.refused])


def _form(usable: list[Starter], earlier: list[tuple[str, str]]) -> Form:
    asked = [one for n, plan in enumerate(usable) for one in grouped(plan.title, _choice(plan), f"plans.{n}.")]
    if earlier:
        choices = [("", "No earlier project"), *earlier]
        hint = "Its phases as they were planned. Choose this, or plans below."
        asked.insert(0, Field("project", "The plan of an earlier project", "choice", choices=choices, hint=hint))
    return Form(
        "Start from a plan", asked, StartForm(), "Add them to the plan", template="start_from.html",
        intro="What you choose is added to the plan, and yours to change. Its questions and orders wait on the "
        "project’s page until you send them. Where only a label says how long something rests, enter its hours.",
    )


def _choice(one: Starter) -> list[Field]:
    assert one.plan is not None
    count = len(one.plan.phases)
    hint = f"{one.plan.about} {counted(count, 'phase')}. Times: {one.plan.source}."
    asked = label_fields(label_waits(one.plan))
    rooms = [
        Field(f"rooms.{room.key}", f"Its room “{room.name}” is here", hint="A room of this name is used, or made.")
        for room in one.plan.rooms
    ]
    return [Field("chosen", f"Start from “{one.title}”", "yes", hint=hint), *rooms, *asked, Field("key", "", "hidden")]


def _start(one: Starter) -> dict[str, Any]:
    assert one.plan is not None
    return {"key": one.key, "rooms": {room.key: room.name for room in one.plan.rooms}}


def _chosen(one: Values) -> Chosen:
    """A room whose name was left empty keeps that of the plan."""
    names = {key: name for key, name in one["rooms"].items() if name}
    entered = {cure: entered_wait(minutes) for cure, minutes in one["labels"].items()}
    return Chosen(one["key"], with_label_waits(starter(own_plans(), one["key"]), entered), names)


def _said(laid: LaidOut) -> str:
    count = len(laid.phases)
    words = f"{counted(count, 'phase is', 'phases are')} on the plan."
    if laid.questions or laid.orders:
        words += f" To ask: {len(laid.questions)}. To order: {len(laid.orders)}."
    return words
