"""Warnings with the answer to a write: what it has caused. Visits that can't be kept, with the first time that works;
nights to tell the household about; answers and orders while the contract can still be cancelled."""

from functools import wraps
from typing import Any

from marshmallow import Schema, fields

from portal import clock
from portal.api.http.around import View, named
from portal.api.http.resource import With
from portal.api.http.shapes import Instant
from portal.pages.unkept_visits import reason_words
from portal.pages.warning_words import warning_words
from portal.planning.conflicts.warnings import PlanWarning
from portal.store.reading.warnings import caused


class ConflictSchema(Schema):
    visit = fields.Integer()
    kind = fields.String()
    words = fields.Method("said", metadata={"type": "string"})
    first_that_works = fields.Method("first", allow_none=True)
    other = fields.Integer(allow_none=True)

    def said(self, conflict: Any) -> str:
        return reason_words(conflict.reason)

    def first(self, conflict: Any) -> str | None:
        instant = conflict.first_that_works
        return Instant().serialize("at", {"at": None if instant is None else instant * 60})


class WarningSchema(ConflictSchema):
    """A conflict of a visit, or what the manager must see to: `on` is the first day that it is about, `phases`,
    `decision` or `delivery` what it is about."""

    visit = fields.Integer(allow_none=True, dump_default=None)
    other = fields.Integer(allow_none=True, dump_default=None)
    on = fields.Date(allow_none=True, dump_default=None)
    phases = fields.List(fields.Integer(), dump_default=list)
    decision = fields.Integer(allow_none=True, dump_default=None)
    delivery = fields.Integer(allow_none=True, dump_default=None)

    def said(self, conflict: Any) -> str:
        return warning_words(conflict) if isinstance(conflict, PlanWarning) else super().said(conflict)

    def first(self, conflict: Any) -> str | None:
        return super().first(conflict) if hasattr(conflict, "first_that_works") else None


def warnings_field() -> fields.List:
    return fields.List(fields.Nested(WarningSchema), dump_only=True)


def warned(view: View) -> View:
    """For a view that writes and returns a row: adds `warnings` to the row."""

    @wraps(view)
    def run(*args: Any, project_id: int, **kwargs: Any) -> With:
        row, found = caused(project_id, clock.now(), lambda: view(*args, project_id=project_id, **kwargs))
        return With(row, warnings=found)

    return named("warned", run, view)
