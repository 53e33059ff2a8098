"""The record of a project: its entries as they were hashed, and its head."""

from typing import Any

from flask import json
from marshmallow import RAISE, Schema, fields, validate

from portal.api.resource import under_project
from portal.store import record_rows
from portal.store.rows import project_row

blueprint = under_project("record", "What was asked, shown, approved, released and changed. Only ever added to.")


class AfterQuery(Schema):
    class Meta:
        unknown = RAISE

    after = fields.Integer(load_default=0, validate=validate.Range(0))
    limit = fields.Integer(load_default=200, validate=validate.Range(1, 1000))


class EntrySchema(Schema):
    sequence = fields.Integer()
    hash = fields.String()
    entry = fields.Dict()


class HeadSchema(Schema):
    sequence = fields.Integer()
    hash = fields.String(allow_none=True)


class RecordSchema(Schema):
    entries = fields.List(fields.Nested(EntrySchema))
    head = fields.Nested(HeadSchema)


@blueprint.route("", methods=["GET"])
@blueprint.arguments(AfterQuery, location="query")
@blueprint.response(200, RecordSchema)
def every(query: dict[str, Any], project_id: int) -> Any:
    """Entries after the sequence number `after`, and the newest one's sequence and hash."""
    project_row(project_id)
    rows = record_rows.some(project_id, query["after"], query["limit"])
    newest = record_rows.edge(project_id).last
    return {
        "entries": [{"sequence": s, "hash": h, "entry": json.loads(c)} for s, h, c in rows],
        "head": {"sequence": newest[0] if newest else 0, "hash": newest[1] if newest else None},
    }
