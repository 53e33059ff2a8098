"""Warnings with the answer to a write: the conflicts that it has caused, each with the first time that works."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from marshmallow import Schema, fields

from portal import clock
from portal.api.resource import With
from portal.api.shapes import Instant
from portal.store.clashes import caused


class ConflictSchema(Schema):
    visit = fields.Integer()
    kind = fields.String()
    words = fields.String()
    first_that_works = fields.Method("first", allow_none=True)
    other = fields.Integer(allow_none=True)

    def first(self, conflict: Any) -> str | None:
        instant = conflict.first_that_works
        return Instant().serialize("at", {"at": None if instant is None else instant * 60})


def warnings_field() -> fields.List:
    return fields.List(fields.Nested(ConflictSchema), dump_only=True)


def warned(view: Callable[..., Any]) -> Callable[..., Any]:
    """For a view that writes and returns (row, status, headers): adds `warnings` to the row. Put it innermost."""

    @wraps(view)
    def run(*args: Any, project_id: int, **kwargs: Any) -> Any:
        (row, *rest), found = caused(project_id, clock.now(), lambda: view(*args, project_id=project_id, **kwargs))
        return With(row, warnings=found), *rest

    return run
