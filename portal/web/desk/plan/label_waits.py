"""Waits that only a label knows: what a plan to start from still wants entered, and the form that enters it."""

from collections.abc import Mapping
from typing import Any

from flask import Response
from marshmallow import fields

from portal import clock
from portal.acts.plan.phases import change_phase
from portal.api.http.shapes import Hours, Strict
from portal.api.resources.plans import own_plans
from portal.content import cures
from portal.planning.starting_plans.label_waits import entered_wait
from portal.store.facts import Snapshot
from portal.store.reading.label_waits import MissingWait, missing_waits
from portal.store.reading.plans_to_start_from import usable_plans
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import NotFound
from portal.store.rows import plan_rows
from portal.store.rows.editable import in_project
from portal.store.tables import Phase
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import Values, project_form, seen
from portal.web.desk.plan.planned import ToSend
from portal.web.forms.inputs import Field, Form
from portal.words.lists import quoted

NOTHING_RESTS = "0: nothing must rest here."


class LabelWaitForm(Strict):
    hours = Hours(required=True)


class LabelHours(fields.Dict):
    """Hours by the key of a cure; what is left empty is not entered."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        given = {key: one for key, one in value.items() if one not in (None, "")} if isinstance(value, dict) else value
        return super()._deserialize(given, attr, data, **kwargs)


def to_enter(snapshot: Snapshot) -> list[ToSend]:
    """What is still to be taken from labels, and where it is entered."""
    return [
        ToSend(cures()[one.cure].what, _where(snapshot, one), f"phases/{one.phase}/label-wait/{one.cure}")
        for one in _missing(snapshot)
    ]


@form_page(f"{PROJECT}/phases/<int:phase_id>/label-wait/<cure>", "change_phase")
def enter_label_wait(project_id: int, phase_id: int, cure: str) -> Response:
    row, snapshot = in_project(Phase, project_id, phase_id), read_snapshot(project_id)
    found = [one for one in _missing(snapshot) if (one.phase, one.cure) == (phase_id, cure)]
    if not found:
        raise NotFound(what="wait to enter")

    def do(values: Values) -> str:
        changed = _changed(snapshot, found, entered_wait(values["hours"]))
        change_phase(who(), project_id, phase_id, seen(), changed, clock.now())
        return f"{row.name}: the wait is entered, and the dates are computed anew."

    form = Form(
        f"Enter a wait: {row.name}", [Field("hours", "Hours, by the label", "number", required=True,
                                            hint=NOTHING_RESTS)],
        LabelWaitForm(), "Enter it",
        intro=f"{cures()[cure].what}: no figure is published for all products, so that of the label counts. "
              f"{' '.join(_where(snapshot, one) for one in found)}",
    )
    return project_form(form, do, project_id, seen=row.version)


def label_fields(asked: Mapping[str, tuple[str, ...]]) -> list[Field]:
    """The blanks of the form that starts from a plan. `asked`: names of phases by the keys of cures."""
    return [
        Field(f"labels.{cure}", f"Hours by the label: {cures()[cure].what}", "number",
              hint=f"For {quoted(names)}. Empty: entered later. {NOTHING_RESTS}")
        for cure, names in asked.items()
    ]


def _missing(snapshot: Snapshot) -> tuple[MissingWait, ...]:
    return missing_waits(snapshot, plan_rows.made_from(snapshot.project.id), usable_plans(own_plans()))


def _where(snapshot: Snapshot, one: MissingWait) -> str:
    name = snapshot.phase(one.phase).name
    if not one.after:
        return f"Until it is entered, what “{name}” takes is out until further notice on the household’s page."
    before = quoted(snapshot.phase(phase).name for phase in one.after)
    return f"Until it is entered, “{name}” counts as free to follow {before} at once."


def _changed(snapshot: Snapshot, found: list[MissingWait], wait: int) -> dict[str, Any]:
    """The phase's links and takes with the wait in its place."""
    phase, cure = snapshot.phase(found[0].phase), found[0].cure
    after = {before for one in found for before in one.after}
    links = [{"phase": before, "wait": wait if before in after else kept} for before, kept in phase.after]
    takes = [take | {"wait_hours": wait / 60} if take.get("gate") == cure and not take.get("wait_hours") else take
             for take in phase.takes]
    return ({"after": links} if after else {}) | ({"takes": takes} if takes != phase.takes else {})
