"""The plan: on phones its phases one by one, at a desk a table, saved as a whole. Phases are meant by their names."""

import re
from typing import Any

from flask import Response, request
from marshmallow import ValidationError, fields, validate

from portal import clock
from portal.acts.plan.plan_table import Line, PlanRefused, fill_plan
from portal.api.http.shapes import Hours, Strict, Whole, day_field, line_field, name_field
from portal.pages.plan_file.phase_names import number_of, unknown_phase
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.crews import crew_rows
from portal.store.rows.editable import versions_of
from portal.store.tables import Phase
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import RowsRefused, Values, project_form
from portal.web.desk.plan.phase_list import phase_list
from portal.web.forms import choices
from portal.web.forms.inputs import Field, Form, grouped
from portal.words.plurals import counted

EMPTY_LINES = 5
MOST_LINES = 200
MOST_AFTER = 20
_HOURS = r"\d{1,5}(?:\.\d{1,2})?"
_WORK = re.compile(rf"({_HOURS})(?:\s*[/ ]\s*({_HOURS})\s*[/ ]\s*({_HOURS}))?")
_SENT = re.compile(r"lines\.(\d{1,3})\.(?:name|after\.(\d{1,2})\.phase)")


class WorkText(fields.Field[Any]):
    """`8`, or `6 / 8 / 12`, outside; minutes inside: low, likely, high."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> tuple[int, int, int]:
        match = _WORK.fullmatch(str(value).strip())
        if match is None:
            raise ValidationError("Give hours: one number such as 8, or three such as 6 / 8 / 12.")
        low, likely, high = (_minutes(text or match[1]) for text in match.groups())
        if not low <= likely <= high:
            raise ValidationError("Give the hours in order: at best, most likely, at worst.")
        return low, likely, high


class AfterForm(Strict):
    """What the phase comes after, by name, and the hours by the clock to wait then."""

    phase = name_field(required=True)
    wait = Hours(load_default=0)


class LineForm(Strict):
    phase = fields.Integer(load_default=None)
    seen = fields.Integer(load_default=None)
    name = name_field(required=True)
    room = fields.Integer(allow_none=True, load_default=None)
    crew = line_field(80, load_default="")
    work = WorkText(required=True)
    after = fields.List(Whole(AfterForm), load_default=list, validate=validate.Length(max=MOST_AFTER))
    held_by = fields.List(fields.Integer(), load_default=list)
    not_before = day_field(allow_none=True, load_default=None)
    remove = fields.Boolean(load_default=False)


class PlanForm(Strict):
    lines = fields.Dict(keys=fields.Integer(), values=Whole(LineForm), load_default=dict)


@form_page(f"{PROJECT}/plan", "fill_plan")
def plan(project_id: int) -> Response:
    snapshot = read_snapshot(project_id)
    start = _typed(snapshot, versions_of(Phase, project_id))
    return project_form(
        _form(snapshot), lambda values: _fill(snapshot, values), project_id, {"lines": start}, look=True,
        crews=crews_of(snapshot), names=[phase.name for phase in snapshot.phases], phases=phase_list(snapshot),
        typed_in=request.method == "POST", to_ask=_to_ask(snapshot),
    )


def _to_ask(snapshot: Snapshot) -> dict[str, list[str]]:
    """What holds a line and is no decision yet, at its input: questions that the plan wants asked."""
    return {
        f"lines.{number}.held_by": [f"“{one.question}”: not asked yet." for one in snapshot.unasked(phase)]
        for number, phase in enumerate(snapshot.phases, 1)
    }


def crews_of(snapshot: Snapshot) -> list[str]:
    """The firm's crews, and what they are called on this plan."""
    return list(dict.fromkeys([*crew_rows.offered(), *sorted({one.crew for one in snapshot.phases if one.crew})]))


def _fill(snapshot: Snapshot, values: Values) -> str:
    lines, wrong = _lines(snapshot, values["lines"])
    if wrong:
        raise RowsRefused(faults=wrong)
    try:
        changed = fill_plan(who(), snapshot.project.id, lines, clock.now())
    except PlanRefused as refusal:
        faults = [(f"lines.{number}.{name}", message) for number, name, message in refusal.details["faults"]]
        raise RowsRefused(faults=faults) from refusal
    return f"The plan is saved: {counted(changed, 'line')} changed." if changed else (
        "Nothing on the plan was changed.")


def _lines(snapshot: Snapshot, typed: dict[int, Values]) -> tuple[list[Line], list[tuple[str, str]]]:
    """The lines by their numbers, and what names no phase. A phase that gets another name is still found by its own."""
    names = {number: line["name"] for number, line in typed.items()}
    kept = {phase.id: phase.name for phase in snapshot.phases}
    former = {number: kept[line["phase"]] for number, line in typed.items() if line["phase"] in kept}
    lines, wrong = [], []
    for number, line in typed.items():
        after = []
        for row, one in enumerate(line["after"]):
            found = number_of(one["phase"], names, former)
            if found is None:
                wrong.append((f"lines.{number}.after.{_row(number, row)}.phase", unknown_phase(one["phase"], names)))
            else:
                after.append((found, one["wait"]))
        lines.append(Line(number, **line | {"after": after}))
    return lines, wrong


def _row(number: int, index: int) -> int:
    """Where a predecessor stood in the form: blank rows were left out."""
    filled = [row for row in range(MOST_AFTER) if request.form.get(f"lines.{number}.after.{row}.phase", "").strip()
              or request.form.get(f"lines.{number}.after.{row}.wait", "").strip()]
    return filled[index] if index < len(filled) else index


def _form(snapshot: Snapshot) -> Form:
    sent = [(int(found[1]), int(found[2] or 0)) for found in map(_SENT.fullmatch, request.form) if found]
    count = min(MOST_LINES, max([len(snapshot.phases) + EMPTY_LINES, *(number for number, _ in sent)]))
    rooms = choices.rooms(snapshot)
    held_by = [(str(one.number), one.question) for one in snapshot.decisions]
    lines = []
    for number in range(1, count + 1):
        phase = snapshot.phases[number - 1] if number <= len(snapshot.phases) else None
        rows = max([len(phase.after) if phase else 0, *(row for line, row in sent if line == number)]) + 1
        title = phase.name if phase else f"New line {number - len(snapshot.phases)}"
        lines += grouped(title, _line_fields(rooms, held_by, min(rows, MOST_AFTER)), f"lines.{number}.")
    return Form("The plan", lines, PlanForm(), "Save the plan", template="plan.html")


def _line_fields(rooms: Any, held_by: Any, rows: int) -> list[Field]:
    after = [
        one for row in range(rows) for one in (
            Field(f"after.{row}.phase", "Comes after" if not row else f"Comes after, {row + 1}"),
            Field(f"after.{row}.wait", "Then wait, hours" if not row else f"Then wait, hours, {row + 1}", "number"),
        )
    ]
    return [
        Field("phase", "", "hidden"), Field("seen", "", "hidden"),
        Field("name", "Phase"), Field("room", "Room", "choice", choices=rooms),
        Field("crew", "Crew"), Field("work", "Work hours"), *after,
        Field("held_by", "Held by", "choices", choices=held_by), Field("not_before", "Not before", "date"),
        Field("remove", "Take it off", "yes"),
    ]


def _typed(snapshot: Snapshot, versions: dict[int, int]) -> dict[str, Any]:
    return {str(number): _line(snapshot, phase, versions) for number, phase in enumerate(snapshot.phases, 1)}


def _line(snapshot: Snapshot, phase: PhaseFact, versions: dict[int, int]) -> dict[str, Any]:
    work = [hours_text(minutes) for minutes in (phase.work_low, phase.work_likely, phase.work_high)]
    after = [{"phase": snapshot.phase(one).name, "wait": hours_text(wait) if wait else None}
             for one, wait in phase.after]
    return {
        "phase": phase.id, "seen": versions[phase.id], "name": phase.name, "room": phase.room_id, "crew": phase.crew,
        "work": work[0] if len(set(work)) == 1 else " / ".join(work), "after": after,
        "held_by": [str(snapshot.decision(one).number) for one in phase.held_by], "not_before": phase.not_before,
    }


def hours_text(minutes: int) -> str:
    return f"{round(minutes / 60, 2):g}"


def _minutes(hours: str) -> int:
    return round(float(hours) * 60)
