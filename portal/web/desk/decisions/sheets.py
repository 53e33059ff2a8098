"""The drilling sheet at the desk, to print for the crew and to send to the shop."""

from flask import Response

from portal.request.sheet_answers import holes_dxf, sheet_pdf
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.tables import Decision
from portal.web.desk.blueprint import PROJECT, blueprint

ONE = f"{PROJECT}/decisions/<int:decision_id>"


@blueprint.get(f"{ONE}/sheet.pdf")
def sheet(project_id: int, decision_id: int) -> Response:
    row, snapshot = in_project(Decision, project_id, decision_id), read_snapshot(project_id)
    return sheet_pdf(snapshot, snapshot.decision(row.id))


@blueprint.get(f"{ONE}/holes.dxf")
def holes(project_id: int, decision_id: int) -> Response:
    row, snapshot = in_project(Decision, project_id, decision_id), read_snapshot(project_id)
    return holes_dxf(snapshot, snapshot.decision(row.id))
