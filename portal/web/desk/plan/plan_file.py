"""The plan as a file: taken along, and brought in again. What came in is shown before any of it is saved."""

import json
from collections.abc import Callable
from functools import partial
from typing import Any

from flask import Response, request, url_for
from marshmallow import ValidationError, fields

from portal import clock
from portal.acts.plan.plan_table import Line, PlanRefused, fill_plan
from portal.api.http.shapes import Strict
from portal.pages.plan_file.cells import guarded, unguarded
from portal.pages.plan_file.differences import Difference, differences
from portal.pages.plan_file.lines import Sheet, SheetLine, sheet_of
from portal.pages.plan_file.making import CSV_TYPE, XLSX_TYPE, as_csv, as_xlsx, plan_rows
from portal.pages.plan_file.reading import MOST_BYTES, FileRefused, Rows, rows_of
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import project_row, versions_of
from portal.store.tables import Phase
from portal.web.desk.ahead import look_at
from portal.web.desk.blueprint import PROJECT, blueprint, form_page, who
from portal.web.desk.forms import Values, project_form
from portal.web.desk.showing import show
from portal.web.forms.inputs import Field, Form
from portal.words.dates import local
from portal.words.names import plate
from portal.words.plurals import counted, plural

Brought = tuple[Sheet, list[Line]]


class SheetRows(fields.Field[Rows]):
    """The rows that were shown, as the form carries them: each the number of its line and its texts."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Rows:
        try:
            rows = [(int(number), [unguarded(str(text)) for text in texts]) for number, texts in json.loads(value)]
        except (ValueError, TypeError, OverflowError, RecursionError) as error:
            raise ValidationError("Choose the file once more.") from error
        if not rows:
            raise ValidationError("Choose the file once more.")
        return rows


class BringInForm(Strict):
    rows = SheetRows(required=True)
    leave_out = fields.Boolean(load_default=False)


@blueprint.get(f"{PROJECT}/plan.csv")
def plan_csv(project_id: int) -> Response:
    return _file(project_id, "csv")


@blueprint.get(f"{PROJECT}/plan.xlsx")
def plan_xlsx(project_id: int) -> Response:
    return _file(project_id, "xlsx")


@form_page(f"{PROJECT}/plan/import", "fill_plan")
def bring_in(project_id: int) -> Response:
    if request.method == "GET" or "rows" in request.form:
        return _second(project_id) if request.method == "POST" else _first(project_id)
    sent = request.files.get("file")
    try:
        if sent is None or not sent.filename:
            raise FileRefused("Choose a file first.")
        rows = rows_of(sent.stream.read(MOST_BYTES + 1))
        return _shown(project_id, rows)
    except FileRefused as refused:
        return _first(project_id, str(refused))


def _first(project_id: int, wrong: str = "", sheet: Sheet | None = None, said: str = "") -> Response:
    """`sheet`: one of which no line can be used; `said`: why nothing is left to save of one that can."""
    form = Form("Bring in a plan", [Field("file", "The file", "file")], Strict(), "Look at it")
    return show("plan_import.html", 422 if wrong else 200, form=form, project=project_row(project_id),
                message=wrong or said, typed={}, errors={"file": [wrong]} if wrong else {}, ahead=(), looked="",
                seen=None, stale=False, **_around(sheet or Sheet(), []))


def _shown(project_id: int, rows: Rows) -> Response:
    """What would become of the plan, and each line that can't be used."""
    snapshot = read_snapshot(project_id)
    (sheet, lines), changed, ahead = _tried(snapshot, rows)
    if not lines:
        return _first(project_id, "No line of the file can be used. The plan is as it was.", sheet)
    differing = differences(sheet, snapshot)
    if not changed:
        return _first(project_id, said="The plan is already as the file has it: there is nothing to save.", sheet=sheet)
    carried = json.dumps([[number, [guarded(cell.text) if not cell.formula else cell.text for cell in row]]
                          for number, row in rows])
    return show("plan_import.html", form=_form(sheet), project=project_row(project_id), message="",
                typed={"rows": [carried]}, errors={}, ahead=ahead, looked="", seen=None, stale=False,
                **_around(sheet, differing))


def _around(sheet: Sheet, differing: list[Difference]) -> dict[str, Any]:
    faults = [(sheet.names.get(number, ""), number, said) for number, said in sorted(sheet.faults.items())]
    return {
        "found": sheet, "faults": faults, "differing": differing, "new": sum(one.new for one in differing),
        "changed": sum(not one.new for one in differing),
    }


def _second(project_id: int) -> Response:
    """The lines are tried once more, outside of the form's transaction: what is refused in one can't be taken back by
    itself."""
    snapshot = read_snapshot(project_id)
    try:
        (sheet, lines), _, _ = _tried(snapshot, SheetRows().deserialize(request.form["rows"]))
    except (ValidationError, FileRefused):
        return _first(project_id, "What was shown can’t be read any more. Choose the file once more.")

    def do(values: Values) -> tuple[str, str]:
        left = len(sheet.faults)
        if left and not values["leave_out"]:
            raise FieldRefused("leave_out", f"{counted(left, 'line')} can’t be used. Correct the file and choose it "
                               "again, or tick to leave them out.")
        try:
            changed = _fill(project_id, lines)
        except PlanRefused as refusal:
            raise FieldRefused("rows", "The plan was changed meanwhile. Choose the file once more.") from refusal
        said = f"The plan is saved: {counted(changed, 'line')} changed." if changed else "The plan is as it was."
        if left:
            said += f" {counted(left, 'line')} of the file {plural(left, 'was', 'were')} left out."
        return said, url_for("desk.plan", project_id=project_id)

    return project_form(_form(sheet), do, project_id, **_around(sheet, differences(sheet, snapshot)))


def _form(sheet: Sheet) -> Form:
    left = len(sheet.faults)
    leave = [Field("leave_out", f"Leave {plural(left, 'this line', f'these {left} lines')} out", "yes")]
    asked = [Field("rows", "", "hidden"), *(leave if left else [])]
    return Form("Bring in a plan", asked, BringInForm(), "Save the plan", template="plan_import.html")


def _tried(snapshot: Snapshot, rows: Rows) -> tuple[Brought, int, list[Any]]:
    """The lines that can be used, found by trying them: without those that can't, and those behind these."""
    sheet = sheet_of(rows, snapshot, local(clock.now(), snapshot.project.timezone).date())
    while sheet.lines:
        lines = [*map(_line(snapshot), sheet.lines), *_others(snapshot, sheet)]
        try:
            changed, ahead = look_at(snapshot.project.id, partial(_fill, snapshot.project.id, lines))
            return (sheet, lines), changed, ahead
        except PlanRefused as refusal:
            faults: dict[int, list[str]] = {}
            for number, _, message in refusal.details["faults"]:
                faults.setdefault(number, []).append(message)
            if not any(one.number in faults for one in sheet.lines):
                raise
            sheet.leave_out({number: said for number, said in faults.items() if number > 0})
    return (sheet, []), 0, []


def _fill(project_id: int, lines: list[Line]) -> int:
    return fill_plan(who(), project_id, lines, clock.now())


def _line(snapshot: Snapshot) -> Callable[[SheetLine], Line]:
    """Makes a line of the sheet one of the table, with the version of its phase as it is now."""
    versions = versions_of(Phase, snapshot.project.id)

    def made(one: SheetLine) -> Line:
        return Line(one.number, one.name, one.work, one.phase, versions.get(one.phase or 0), one.room, one.crew,
                    one.after, one.held_by, one.not_before)

    return made


def _others(snapshot: Snapshot, sheet: Sheet) -> list[Line]:
    """The phases that no line of the sheet names, as they are, so that lines can come after them."""
    versions, named = versions_of(Phase, snapshot.project.id), {one.phase for one in sheet.lines}
    numbers = {one.phase: one.number for one in sheet.lines}
    return [
        Line(-one.id, one.name, (one.work_low, one.work_likely, one.work_high), one.id, versions[one.id], one.room_id,
             one.crew, [(numbers.get(before, -before), wait) for before, wait in one.after],
             [snapshot.decision(held).number for held in one.held_by], one.not_before)
        for one in snapshot.phases if one.id not in named
    ]


def _file(project_id: int, kind: str) -> Response:
    snapshot = read_snapshot(project_id)
    rows = plan_rows(snapshot)
    made, media = (as_csv(rows), CSV_TYPE) if kind == "csv" else (as_xlsx(rows), XLSX_TYPE)
    response = Response(made, content_type=media)
    house = plate(snapshot.project.address, snapshot.project.name)
    number = "".join(one for one in house if one.isascii() and one.isalnum())  # others, gunicorn sends in no head
    name = "-".join(filter(None, ("plan", number)))
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.{kind}"'
    return response
