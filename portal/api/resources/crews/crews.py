"""The firm's crews, and the texts that stand for them in plans and visits."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.crews import crews as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import With, makes, resource
from portal.api.http.sender import who
from portal.api.http.shapes import Strict, YesNo, email_field, line_field, name_field
from portal.api.http.versions import needs_version, shows_version
from portal.planning.crews.names import crew_key
from portal.store.rows.crews import crew_rows
from portal.store.rows.editable import in_firm
from portal.store.tables import Crew

blueprint = resource("crews", "crews", "The firm's crews, which plans and visits name.")

NAMES = validate.Length(max=50)


class CrewSchema(Strict):
    """`week`: its own hours by weekday, as in a house's calendar; null: those of the house. `names`: the texts that
    stand for it in plans and visits; those that are sent are added."""

    id = fields.Integer(dump_only=True)
    name = name_field(80, required=True)
    trade = line_field(80)
    size = fields.Integer(allow_none=True, strict=True, validate=validate.Range(1, 200))
    phone = line_field(40)
    email = email_field()
    week = fields.Dict(keys=fields.String(), values=fields.List(fields.List(fields.String())), allow_none=True)
    days_off = fields.List(fields.String(), validate=validate.Length(max=400))
    active = YesNo()
    names = fields.List(name_field(80), validate=NAMES)


class NamesSchema(Strict):
    names = fields.List(name_field(80), required=True, validate=NAMES)


class WrittenSchema(Strict):
    """A text that plans and visits hold for a crew: how often, in how many houses, and the crew that it stands for."""

    text = fields.String()
    many = fields.Integer()
    houses = fields.Integer()
    crew = fields.Integer(allow_none=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, CrewSchema(many=True))
@pages
def every(query: dict[str, Any]) -> Any:
    crews, total = crew_rows.page(offset(query), query["per_page"])
    return [_view(crew) for crew in crews], total


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(CrewSchema)
@blueprint.response(201, CrewSchema)
@makes
def add(values: dict[str, Any]) -> Any:
    return _view(acts.add_crew(who(), values, clock.now()))


@blueprint.route("/written", endpoint="written", methods=["GET"])
@blueprint.response(200, WrittenSchema(many=True))
def written() -> Any:
    """Each text in plans and visits that names a crew, whether or not it stands for one of the firm's."""
    known = crew_rows.known()
    found = ((one, known.get(crew_key(one.text))) for one in crew_rows.written())
    return [{**one._asdict(), "crew": crew and crew.id} for one, crew in found]


@blueprint.route("/<int:crew_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, CrewSchema)
@shows_version
def one(crew_id: int) -> Any:
    return _view(in_firm(Crew, crew_id))


@blueprint.route("/<int:crew_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(CrewSchema(partial=True))
@needs_version(Crew, "crew_id")
@blueprint.response(200, CrewSchema)
@shows_version
def change(values: dict[str, Any], crew_id: int, seen: int) -> Any:
    return _view(acts.change_crew(who(), crew_id, seen, values, clock.now()))


@blueprint.route("/<int:crew_id>/names", endpoint="name", methods=["POST"])
@idempotent
@blueprint.arguments(NamesSchema)
@blueprint.response(200, CrewSchema)
@shows_version
def name(values: dict[str, Any], crew_id: int) -> Any:
    """From now on these texts stand for this crew. A crew that is called so becomes this one."""
    return _view(acts.name_crew(who(), crew_id, values["names"], clock.now()))


@blueprint.route("/<int:crew_id>", endpoint="remove", methods=["DELETE"])
@needs_version(Crew, "crew_id")
@blueprint.response(204)
def remove(crew_id: int, seen: int) -> None:
    """409 with where, while work or a visit for it is still to come."""
    acts.remove_crew(who(), crew_id, seen, clock.now())


def _view(crew: Crew) -> With:
    return With(crew, names=crew_rows.names_of(crew.id))
