"""What is measured once, or read off a sheet once: the firm's for every house, a house's own, and what is usual."""

from typing import Any

from marshmallow import fields, validate

from portal import clock
from portal.acts.firm import sizes as acts
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.resource import makes, resource
from portal.api.http.sender import who
from portal.api.http.shapes import AnyJson, Strict, name_field
from portal.api.http.versions import needs_version, shows_version
from portal.layouts.sizes.picking import USUAL_SIZES
from portal.layouts.sizes.whats import WHATS
from portal.store.rows import size_rows
from portal.store.rows.editable import in_firm, in_project, page_of
from portal.store.tables import KeptSize

blueprint = resource("sizes", "sizes", "Sizes that are measured once: the firm's, for every house.")
of_project = resource("house_sizes", "projects/<int:project_id>/sizes", "Sizes that are measured once: of this house.")


class SizeSchema(Strict):
    """`values`: by the fields of `what`, each length as it is written on the job. `source`: who measured it, or whose
    sheet says it. Its id is what a part of some dimensions names as `kept`."""

    id = fields.Integer(dump_only=True)
    what = fields.String(required=True, validate=validate.OneOf(list(WHATS)))
    name = name_field(80, required=True)
    values = AnyJson(required=True, metadata={"description": "; ".join(
        f"{what}: {', '.join(blank.name for blank in one.fields)}" for what, one in WHATS.items())})
    source = name_field(80, required=True)


class UsualSizeSchema(Strict):
    """`key` is what a part names as `kept`. `source` is empty where nobody gives a figure."""

    key = fields.String()
    what = fields.String()
    name = fields.String()
    values = fields.Raw(metadata={"type": "object"})
    source = fields.String()


@blueprint.route("/usual", endpoint="usual", methods=["GET"])
@blueprint.response(200, UsualSizeSchema(many=True))
def usual() -> Any:
    return list(USUAL_SIZES)


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, SizeSchema(many=True))
@pages
def every(query: dict[str, Any]) -> Any:
    return size_rows.firms_page(offset(query), query["per_page"])


@blueprint.route("", endpoint="add", methods=["POST"])
@idempotent
@blueprint.arguments(SizeSchema)
@blueprint.response(201, SizeSchema)
@makes
def add(values: dict[str, Any]) -> Any:
    return acts.keep_firm_size(who(), values)


@blueprint.route("/<int:size_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, SizeSchema)
@shows_version
def one(size_id: int) -> Any:
    return in_firm(KeptSize, size_id)


@blueprint.route("/<int:size_id>", endpoint="change", methods=["PATCH"])
@blueprint.arguments(SizeSchema(partial=True))
@needs_version(KeptSize, "size_id")
@blueprint.response(200, SizeSchema)
@shows_version
def change(values: dict[str, Any], size_id: int, seen: int) -> Any:
    return acts.change_firm_size(who(), size_id, seen, values)


@blueprint.route("/<int:size_id>", endpoint="remove", methods=["DELETE"])
@needs_version(KeptSize, "size_id")
@blueprint.response(204)
def remove(size_id: int, seen: int) -> None:
    acts.drop_firm_size(who(), size_id, seen)


@of_project.route("", endpoint="every", methods=["GET"])
@of_project.arguments(PageQuery, location="query")
@of_project.response(200, SizeSchema(many=True))
@pages
def every_of_house(query: dict[str, Any], project_id: int) -> Any:
    return page_of(KeptSize, project_id, offset(query), query["per_page"])


@of_project.route("", endpoint="add", methods=["POST"])
@idempotent
@of_project.arguments(SizeSchema)
@of_project.response(201, SizeSchema)
@makes
def add_to_house(values: dict[str, Any], project_id: int) -> Any:
    return acts.keep_size(who(), project_id, values, now=clock.now())


@of_project.route("/<int:size_id>", endpoint="one", methods=["GET"])
@of_project.response(200, SizeSchema)
@shows_version
def one_of_house(project_id: int, size_id: int) -> Any:
    return in_project(KeptSize, project_id, size_id)


@of_project.route("/<int:size_id>", endpoint="change", methods=["PATCH"])
@of_project.arguments(SizeSchema(partial=True))
@needs_version(KeptSize, "size_id")
@of_project.response(200, SizeSchema)
@shows_version
def change_of_house(values: dict[str, Any], project_id: int, size_id: int, seen: int) -> Any:
    return acts.change_size(who(), project_id, size_id, seen, values, now=clock.now())


@of_project.route("/<int:size_id>", endpoint="remove", methods=["DELETE"])
@needs_version(KeptSize, "size_id")
@of_project.response(204)
def remove_from_house(project_id: int, size_id: int, seen: int) -> None:
    acts.drop_size(who(), project_id, size_id, seen, now=clock.now())
