"""What the OpenAPI description says beyond the schemas: who gets in, the headers, the shape of an error.

Headers are told by the decorators that read and set them (portal.api.http.around), so that it says what they do.
"""

from http import HTTPStatus
from typing import Any

from apispec import BasePlugin
from apispec.ext.marshmallow import MarshmallowPlugin
from flask import Flask
from flask_smorest import Api
from marshmallow import INCLUDE, Schema, fields, validate
from werkzeug.routing import IntegerConverter

from portal.api.http.around import around
from portal.api.http.request_text import LARGEST_NUMBER
from portal.api.http.shapes import Day, Hours, Instant, Typed, years
from portal.api.operations import NAMES, Operation

ABOUT = """Asks a household before what can't be undone, and keeps its answers.

Send `Authorization: Bearer TOKEN`. The token of a member of staff is made on the server (`portal staff token EMAIL`);
what the household does is sent with what follows /p/ in that person's own link.

A change of what was read carries its ETag in `If-Match`. A POST with an `Idempotency-Key` may be sent again when its
answer was lost. Errors are RFC 9457 problem details: `detail` says it in words, `errors` names each field.

The usual order: a project, its rooms, people and phases; a layout of some dimensions (/layouts); a decision with these
dimensions in `detail` and a layout's key in its options, which holds a phase; the approval, by revision and option;
the start of the phase, refused with 409 until then; the sheet and the record."""
_PROBLEM = "application/problem+json"
_IF_MATCH = {
    "name": "If-Match", "in": "header", "required": True, "schema": {"type": "string", "minLength": 1},
    "description": "The ETag of the version that was seen. An older one is refused with 412; none, where one is "
                   "required, with 428.",
}
_KEY = {
    "name": "Idempotency-Key", "in": "header", "required": False,
    "schema": {"type": "string", "pattern": '^("[!#-~]{1,200}"|[!#-~]{1,200})$'},
    "description": "The same request with the same key is done once and answered alike; another one with it gets 422.",
}
_TEXT = {"schema": {"type": "string"}}
_PAGES = {
    "Link": {**_TEXT, "description": "The pages around this one: first, prev, next, last (RFC 8288)."},
    "Total-Count": {"schema": {"type": "integer"}},
}
_HEADERS: dict[str, dict[str, Any]] = {
    "makes": {"Location": {**_TEXT, "description": "Where the new one is."}},
    "shows_version": {"ETag": {**_TEXT, "description": "Its version, for If-Match."}},
    "pages": _PAGES,
    "reads_on": _PAGES,
}
"""Those that are sent, by the decorator that sets them."""
_PARAMETERS: dict[str, dict[str, Any]] = {
    "needs_version": _IF_MATCH,
    "takes_version": _IF_MATCH | {"required": False},
    "idempotent": _KEY,
}
"""Those that are read, by the decorator that reads them."""


class FaultSchema(Schema):
    field = fields.String()
    pointer = fields.String()
    detail = fields.String()


class ProblemSchema(Schema):
    """RFC 9457 problem details. A refused field is named, all of them are in `errors`; a kind may say more."""

    class Meta:
        unknown = INCLUDE

    type = fields.String(required=True)
    title = fields.String(required=True)
    status = fields.Integer(required=True)
    detail = fields.String(required=True)
    instance = fields.String(required=True)
    field = fields.String()
    errors = fields.List(fields.Nested(FaultSchema))
    request_id = fields.String(metadata={"description": "Of 500 and above: the line in the server's log has it, too."})


class DescribedApi(Api):
    """Errors are answered by portal.api.http.problems, for the whole application, and described as they are."""

    def _register_error_handlers(self) -> None:
        return

    def _register_responses(self) -> None:
        named = {status.name: status.phrase for status in HTTPStatus if status >= 400}
        for name, words in {**named, "DEFAULT_ERROR": "Refused, and why"}.items():
            answer = {"description": words, "content": {_PROBLEM: {"schema": ProblemSchema}}}
            self.spec.components.response(name, answer, lazy=True)


class Operations(BasePlugin):
    """Adds to each operation its name, how it may refuse, and the headers that its decorators read and set."""

    def __init__(self, app: Flask) -> None:
        self.app = app

    def operation_helper(
        self, path: str | None = None, operations: Any = None, rule: Any = None, **kwargs: Any
    ) -> None:
        names = around(self.app.view_functions[rule.endpoint])
        taken = [_PARAMETERS[name] for name in names if name in _PARAMETERS]
        set_by = {header: told for name in names for header, told in _HEADERS.get(name, {}).items()}
        for method, operation in (operations or {}).items():
            _named(operation, Operation(rule.endpoint, method.upper(), names))
            if taken:
                operation.setdefault("parameters", []).extend(taken)
            for status, answer in operation.get("responses", {}).items():
                if set_by and str(status).startswith("2"):
                    answer["headers"] = set_by


def _named(operation: dict[str, Any], known: Operation) -> None:
    """What a view says of itself stands below the sentence that sums it up."""
    name, summary = NAMES[known.endpoint]
    said = " ".join(filter(None, (operation.pop("summary", ""), operation.pop("description", ""))))
    operation |= {"operationId": name, "summary": summary} | ({"description": said} if said else {})
    for status in sorted(known.refusals):
        operation["responses"][str(status)] = HTTPStatus(status).name


def describe(api: Api, schemas: MarshmallowPlugin) -> None:
    assert schemas.converter  # it is there once the API is
    schemas.converter.add_attribute_function(_type_outside)
    schemas.converter.add_attribute_function(_what_it_holds)
    api.register_converter(IntegerConverter, lambda _: {"type": "integer", "minimum": 1})  # ids, entries of the record
    api.spec.components.security_scheme("token", {
        "type": "http", "scheme": "bearer",
        "description": "A token of a member of staff (`portal staff token EMAIL`), or what follows /p/ in the private "
                       "link of a homeowner.",
    })


def _type_outside(converter: Any, field: Any, **kwargs: Any) -> dict[str, Any]:
    """Of the fields that are numbers inside and something else outside. Where one is only read, it may be missing."""
    kind: dict[str, Any] = {}
    if isinstance(field, Hours):
        kind = {"type": "number", "minimum": 0, "maximum": 100_000}
    elif isinstance(field, Instant):
        kind = {"type": "string", "format": "date-time"}
    return {**kind, "type": [kind["type"], "null"]} if kind and (field.dump_only or field.allow_none) else kind


def _what_it_holds(converter: Any, field: Any, **kwargs: Any) -> dict[str, Any]:
    """Of what somebody types: the characters and the years that are taken."""
    if field.dump_only:
        return {}
    if isinstance(field, fields.Number) and not any(isinstance(one, validate.Range) for one in field.validators):
        return {"minimum": -LARGEST_NUMBER, "maximum": LARGEST_NUMBER}
    if isinstance(field, Typed):
        return field.described | {name: said for name, said in field.metadata.items() if name == "description"}
    if isinstance(field, Day | Instant):
        near = years()[1:-1]  # so that it stays true when the year has turned
        said = f"In a year from {near[0]} to {near[-1]}."
        day = f"^({'|'.join(map(str, near))})-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"
        return {"pattern": day + ("$" if isinstance(field, Day) else "[Tt]"), "description": said}
    return {}
