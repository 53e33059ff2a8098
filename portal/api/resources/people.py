"""People of the household, and their private links."""

from typing import Any

from flask import json
from marshmallow import fields, validate

from portal import clock, signing
from portal.acts.firm import projects as acts
from portal.acts.household import links as link_acts
from portal.api.http.idempotency import idempotent, idempotent_but
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Strict, YesNo, email_field, name_field, phone_field
from portal.api.http.versions import needs_version, shows_version
from portal.request.services import services
from portal.store.facts import reads_sums
from portal.store.reading.firm import current_firm
from portal.store.rows import link_rows
from portal.store.rows.editable import in_project, page_of, project_row
from portal.store.tables import Person
from portal.words.page_lacks import page_lacks

blueprint = under_project("people", "The household: who reads the page, and who approves.")


def _reads_prices(person: Person) -> bool:
    """As an owner, or since an owner has said yes."""
    return reads_sums(person.role, person.may_approve, person.reads_prices)


class PersonSchema(Strict):
    id = fields.Integer(dump_only=True)
    name = name_field(required=True)
    role = fields.String(validate=validate.OneOf(["homeowner", "designer"]))
    phone = phone_field()
    email = email_field()
    may_approve = YesNo()
    reads_prices = fields.Function(_reads_prices, metadata={
        "type": "boolean", "readOnly": True, "description": "As an owner, or since an owner has said yes.",
    })


class LinkSchema(Strict):
    link = fields.String(dump_only=True)
    warnings = fields.List(fields.String(), dump_only=True, metadata={
        "description": "What the page lacks that the link opens: the firm's name, a phone number."})


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


def _without_the_link(body: str) -> str:
    """A link is kept nowhere but by its digest: of the answer remains which one it told."""
    told = json.loads(body)
    link = str(told["link"]).rstrip("/").rpartition("/")[2]
    return json.dumps({"made": link_rows.link_id(signing.digest(link)), "warnings": told["warnings"]})


def _with_the_link(kept: str) -> str:
    settings = services().settings
    link = signing.link_for(settings.secret, link_rows.salt_of(json.loads(kept)["made"]))
    return json.dumps(_told(link) | {"warnings": json.loads(kept).get("warnings", [])})


def _told(link: str) -> dict[str, Any]:
    return {"link": f"{services().settings.base_url}/p/{link}/"}


def _lacks(project_id: int) -> list[str]:
    firm = current_firm()
    said = page_lacks(firm.name, firm.phone, project_row(project_id).phone)
    return [said] if said else []


@blueprint.route("/<int:person_id>/link", endpoint="make_link", methods=["POST"])
@idempotent_but(_without_the_link, _with_the_link)
@blueprint.response(201, LinkSchema)
def make_link(project_id: int, person_id: int) -> Any:
    """An earlier one stops working. It is told only here."""
    made = link_acts.make_link(who(), project_id, person_id, secret=services().settings.secret, now=clock.now())
    return _told(made) | {"warnings": _lacks(project_id)}


@blueprint.route("/<int:person_id>/link", endpoint="revoke_link", methods=["DELETE"])
@blueprint.response(204)
def revoke_link(project_id: int, person_id: int) -> None:
    link_acts.revoke_link(who(), project_id, person_id, now=clock.now())
