"""Layouts without a project: dimensions in, perhaps with kept sizes; positions, checks and drawing out. Nothing of it
is kept."""

from collections.abc import Sequence
from typing import Any

from marshmallow import fields, validate

from portal.api.http.dimensions import dimensions_schema
from portal.api.http.resource import resource
from portal.api.http.shapes import Strict
from portal.api.resources.drawn.layout_fields import fields_of_kinds, marks_field
from portal.drawings.layout_answer import answered
from portal.layouts.kinds import KINDS, kind_named
from portal.layouts.layout import Layout

blueprint = resource("layouts", "layouts", "Where the holes go: every layout of some dimensions, checked and ranked.")


class LayoutsQuery(Strict):
    most = fields.Integer(load_default=20, validate=validate.Range(1, 600))
    drawings = fields.Boolean(load_default=True)
    project = fields.Integer(metadata={"description": "The house whose kept sizes a part may name; none: the firm's."})


class LengthSchema(Strict):
    text = fields.String()
    mm = fields.Float()


class CheckSchema(Strict):
    """`stops`: a rule, and a layout that fails it is not offered; else it is an advice."""

    key = fields.String()
    name = fields.String()
    about = fields.String()
    measured = fields.Nested(LengthSchema)
    rule = fields.String()
    required = fields.Nested(LengthSchema)
    ok = fields.Boolean()
    stops = fields.Boolean()
    source = fields.String()


class AdviceSchema(Strict):
    text = fields.String()
    source = fields.String()


class SuggestionSchema(AdviceSchema):
    field = fields.String()


class LayoutSchema(Strict):
    """`rank` counts from 1, the best. `key` names the layout in `detail.layout` of an option, and stays the same
    however its title is worded. `drawing` is SVG. Some fields belong to one kind only."""

    rank = fields.Integer()
    key = fields.String()
    title = fields.String()
    effects = fields.List(fields.String())
    cannot_be_undone = fields.String()
    ok = fields.Boolean()
    reason = fields.String()
    checks = fields.List(fields.Nested(CheckSchema))
    advice = fields.List(fields.Nested(AdviceSchema))
    not_checked = fields.List(fields.String())
    mends = fields.List(fields.String())
    drawing = fields.String()
    marks = marks_field()


_Layout: Any = LayoutSchema.from_dict(fields_of_kinds(), name="LayoutSchema")


class LayoutsSchema(Strict):
    kind = fields.String()
    total = fields.Integer()
    layouts = fields.List(fields.Nested(_Layout))
    suggestions = fields.List(fields.Nested(SuggestionSchema))


def answer(kind: str, dimensions: Any, query: dict[str, Any]) -> dict[str, Any]:
    """Give the best `most` of the layouts. `dimensions` are the kind's own, as its schema has read them."""
    one = kind_named(kind)
    found: Sequence[Layout] = one.layouts(dimensions)
    best = enumerate(found[: query["most"]], start=1)
    shown = [answered(layout, rank, drawing=query["drawings"]) for rank, layout in best]
    suggestions = [each.to_json() for each in one.suggestions()]
    return {"kind": kind, "total": len(found), "layouts": shown, "suggestions": suggestions}


def _add(kind: str) -> None:
    def lay_out(query: dict[str, Any], dimensions: dict[str, Any]) -> Any:
        return answer(kind, dimensions, query)

    lay_out.__doc__ = f"The layouts of a {kind}, best first. A length is written as on the job: `1-3/8 in`, `35 mm`."
    view: Any = blueprint.response(200, LayoutsSchema)(lay_out)
    view = blueprint.arguments(dimensions_schema(kind))(view)
    view = blueprint.arguments(LayoutsQuery, location="query")(view)
    blueprint.route(f"/{kind}", endpoint=kind, methods=["POST"])(view)


for _kind in KINDS:
    _add(_kind)
