"""The sheet of a decision: PDF to print for the crew, DXF for the fabricator's machine."""

from typing import Any

from flask import Response
from marshmallow import fields, validate

from portal.api.http.resource import resource
from portal.api.http.sender import who
from portal.api.http.shapes import Strict
from portal.pages.without_sums import without_sums
from portal.request.sheet_answers import PAPERS, holes_dxf, sheet_pdf
from portal.store.facts import Snapshot
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.tables import Decision

blueprint = resource("sheets", "projects/<int:project_id>/decisions/<int:decision_id>", "Drilling sheets of decisions.")


_FILE = {"type": "string", "format": "binary"}


class SheetQuery(Strict):
    """Without `option`, the approved one; without `revision`, the current one. What is not approved is overprinted."""

    format = fields.String(load_default="pdf", validate=validate.OneOf(["pdf", "dxf"]))
    paper = fields.String(validate=validate.OneOf(PAPERS))
    option = fields.String()
    revision = fields.Integer(validate=validate.Range(1))


@blueprint.route("/sheet", endpoint="sheet", methods=["GET"])
@blueprint.arguments(SheetQuery, location="query")
@blueprint.doc(responses={200: {"content": {"image/vnd.dxf": {"schema": _FILE}}}})
@blueprint.response(200, _FILE, content_type="application/pdf")
def sheet(query: dict[str, Any], project_id: int, decision_id: int) -> Response:
    """The decision's sheet, as a file."""
    row, snapshot = in_project(Decision, project_id, decision_id), _seen(project_id)
    printed = holes_dxf if query["format"] == "dxf" else sheet_pdf
    return printed(snapshot, snapshot.decision(row.id))


def _seen(project_id: int) -> Snapshot:
    snapshot = read_snapshot(project_id)
    return snapshot if who().reads_sums else without_sums(snapshot)
