"""The plan: one plain table to fill in, a line for each phase and empty ones at its end, saved as a whole."""

import re
from typing import Any

from flask import Response, request
from marshmallow import ValidationError, fields

from portal.acts.plan.plan_table import Line, PlanRefused, fill_plan
from portal.api.http.shapes import Strict, Whole, day_field, line_field, name_field
from portal.store.facts import PhaseFact, Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import versions_of
from portal.store.tables import Phase
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import RowsRefused, Values, project_form
from portal.web.forms import choices
from portal.web.forms.inputs import Field, Form, grouped
from portal.words.plurals import counted

EMPTY_LINES = 5
MOST_LINES = 200
_HOURS = r"\d{1,5}(?:\.\d{1,2})?"
_WORK = re.compile(rf"({_HOURS})(?:\s*[/ ]\s*({_HOURS})\s*[/ ]\s*({_HOURS}))?")
_AFTER = re.compile(rf"(\d{{1,3}})(?:\s*\+\s*({_HOURS})\s*h?)?")


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


class AfterText(fields.Field[Any]):
    """`3, 5 + 24` outside; inside the lines that it follows, each with its wait in minutes."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[tuple[int, int]]:
        return [self._one(part.strip()) for part in re.split(r"[,;\n]", str(value)) if part.strip()]

    def _one(self, part: str) -> tuple[int, int]:
        match = _AFTER.fullmatch(part)
        if match is None:
            raise ValidationError(f"“{part}” can’t be read. Write line numbers: 3, or 3 + 24 for a wait of 24 hours.")
        return int(match[1]), _minutes(match[2] or "0")


class Numbers(fields.Field[Any]):
    """`1, 4` outside, the numbers inside."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[int]:
        parts = re.split(r"[,;\s]+", str(value).strip())
        if not all(part.isdecimal() and len(part) < 6 for part in parts):
            raise ValidationError("Write the numbers of decisions, such as 1, 4.")
        return [int(part) for part in parts]


class LineForm(Strict):
    phase = fields.Integer(load_default=None)
    seen = fields.Integer(load_default=None)
    name = name_field(required=True)
    room = fields.Integer(allow_none=True, load_default=None)
    crew = line_field(80, load_default="")
    work = WorkText(required=True)
    after = AfterText(load_default=list)
    held_by = Numbers(load_default=list)
    not_before = day_field(allow_none=True, load_default=None)
    remove = fields.Boolean(load_default=False)


class PlanForm(Strict):
    lines = fields.Dict(keys=fields.Integer(), values=Whole(LineForm), load_default=dict)


@form_page(f"{PROJECT}/plan", "fill_plan")
def plan(project_id: int) -> Response:
    snapshot = read_snapshot(project_id)
    start = _typed(snapshot, versions_of(Phase, project_id))
    crews = sorted({phase.crew for phase in snapshot.phases if phase.crew})
    return project_form(_form(snapshot), lambda values: _fill(project_id, values), project_id, {"lines": start},
                        crews=crews, decisions=snapshot.decisions)


def _fill(project_id: int, values: Values) -> str:
    try:
        changed = fill_plan(who(), project_id, [Line(number, **line) for number, line in values["lines"].items()])
    except PlanRefused as refusal:
        faults = [(f"lines.{number}.{name}", message) for number, name, message in refusal.details["faults"]]
        raise RowsRefused(faults=faults) from refusal
    return f"The plan is saved: {counted(changed, 'line')} changed." if changed else (
        "Nothing on the plan was changed.")


def _form(snapshot: Snapshot) -> Form:
    asked = [
        Field("phase", "", "hidden"), Field("seen", "", "hidden"),
        Field("name", "Phase"), Field("room", "Room", "choice", choices=choices.rooms(snapshot)),
        Field("crew", "Crew"), Field("work", "Work hours"), Field("after", "Follows lines"),
        Field("held_by", "Held by decisions"), Field("not_before", "Not before", "date"),
        Field("remove", "Take it off", "yes"),
    ]
    sent = [int(name.split(".")[1]) for name in request.form if re.fullmatch(r"lines\.\d{1,3}\.name", name)]
    count = min(MOST_LINES, max([len(snapshot.phases) + EMPTY_LINES, *sent]))
    lines = [one for n in range(1, count + 1) for one in grouped(f"Line {n}", asked, f"lines.{n}.")]
    return Form("The plan", lines, PlanForm(), "Save the plan", template="plan.html")


def _typed(snapshot: Snapshot, versions: dict[int, int]) -> dict[str, Any]:
    numbers = {phase.id: number for number, phase in enumerate(snapshot.phases, 1)}
    return {str(numbers[phase.id]): _line(snapshot, phase, numbers, versions) for phase in snapshot.phases}


def _line(snapshot: Snapshot, phase: PhaseFact, numbers: dict[int, int], versions: dict[int, int]) -> dict[str, Any]:
    work = [_hours(minutes) for minutes in (phase.work_low, phase.work_likely, phase.work_high)]
    after = [f"{numbers[one]} + {_hours(wait)}" if wait else str(numbers[one]) for one, wait in phase.after]
    return {
        "phase": phase.id, "seen": versions[phase.id], "name": phase.name, "room": phase.room_id, "crew": phase.crew,
        "work": work[0] if len(set(work)) == 1 else " / ".join(work), "after": ", ".join(after),
        "held_by": ", ".join(str(snapshot.decision(one).number) for one in phase.held_by),
        "not_before": phase.not_before,
    }


def _hours(minutes: int) -> str:
    return f"{round(minutes / 60, 2):g}"


def _minutes(hours: str) -> int:
    return round(float(hours) * 60)
