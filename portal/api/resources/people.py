"""People of the household, and their private links."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.firm import projects as acts
from portal.acts.household import links as link_acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Strict, email_field, name_field, phone_field
from portal.api.http.versions import needs_version, shows_version
from portal.request.services import services
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Person

blueprint = under_project("people", "The household: who reads the page, and who approves.")


class PersonSchema(Strict):
    id = fields.Integer(dump_only=True)
    name = name_field(required=True)
    role = fields.String(validate=validate.OneOf(["homeowner", "designer"]))
    phone = phone_field()
    email = email_field()
    may_approve = fields.Boolean()


class LinkSchema(Strict):
    link = fields.String(dump_only=True)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, PersonSchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    return page_of(Person, project_id, offset(query), query["per_page"])


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(PersonSchema)
@blueprint.response(201, PersonSchema)
@makes
def add(values: dict[str, Any], project_id: int) -> Any:
    return acts.add_person(who(), project_id, values, clock.now())


@blueprint.route("/<int:person_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, PersonSchema)
@shows_version
def one(project_id: int, person_id: int) -> Any:
    return in_project(Person, project_id, person_id)


@blueprint.route("/<int:person_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(PersonSchema(partial=True))
@needs_version(Person, "person_id")
@blueprint.response(200, PersonSchema)
@shows_version
def change(values: dict[str, Any], project_id: int, person_id: int, seen: int) -> Any:
    return acts.change_person(who(), project_id, person_id, seen, values, clock.now())


@blueprint.route("/<int:person_id>", endpoint="remove", methods=["DELETE"])
@needs_version(Person, "person_id")
@blueprint.response(204)
def remove(project_id: int, person_id: int, seen: int) -> None:
    acts.remove_person(who(), project_id, person_id, seen, clock.now())


@blueprint.route("/<int:person_id>/link", endpoint="make_link", methods=["POST"])
@blueprint.response(201, LinkSchema)
def make_link(project_id: int, person_id: int) -> Any:
    """Make a new private link; an earlier one stops working. It is shown only here."""
    settings = services().settings
    link = link_acts.make_link(who(), project_id, person_id, secret=settings.secret, now=clock.now())
    return {"link": f"{settings.base_url}/p/{link}/"}


@blueprint.route("/<int:person_id>/link", endpoint="revoke_link", methods=["DELETE"])
@blueprint.response(204)
def revoke_link(project_id: int, person_id: int) -> None:
    link_acts.revoke_link(who(), project_id, person_id, now=clock.now())
