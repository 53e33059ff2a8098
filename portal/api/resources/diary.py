"""Updates with photos, and call notes."""

from dataclasses import replace
from functools import wraps
from typing import Any

from flask import Response, g, request
from marshmallow import ValidationError, fields

from portal import clock
from portal.acts.household import updates as acts
from portal.acts.keeping.photos import MOST_PHOTOS, Kept
from portal.api.http.around import View, named
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.request_text import json_sent
from portal.api.http.resource import makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, RowId, Strict, line_field, name_field, note_field, prose_field, text_field
from portal.api.http.versions import needs_version, shows_version
from portal.request.sent_photos import keep_sent, other_files, photos_sent, sent_as_form
from portal.store.refusals import FieldRefused
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Call, Update

updates = under_project("updates", "Dated notes, with photos.")
calls = under_project("calls", "What callers asked and were told.")


class PhotoSchema(Strict):
    name = fields.String()
    caption = fields.String()
    width = fields.Integer()
    height = fields.Integer()


class UpdateSchema(Strict):
    id = fields.Integer(dump_only=True)
    at = Instant(dump_only=True)
    staff = RowId(dump_only=True)
    text = prose_field(20_000, required=True)
    photos = fields.List(fields.Nested(PhotoSchema), dump_only=True)


class PostForm(Strict):
    """An update as a form: its photos come as files beside it."""

    text = prose_field(20_000, required=True)
    caption = fields.List(line_field(500), load_default=list)


_FORM = {
    "type": "object", "required": ["text"], "additionalProperties": False,
    "properties": {
        "text": {"type": "string", "minLength": 1, "maxLength": 20_000},
        "photos": {"type": "array", "maxItems": MOST_PHOTOS,
                   "items": {"type": "string", "contentMediaType": "image/*"}},
        "caption": {"type": "array", "items": {"type": "string", "maxLength": 500}},
    },
}


class CallSchema(Strict):
    id = fields.Integer(dump_only=True)
    at = Instant(dump_only=True)
    staff = RowId(dump_only=True)
    caller = name_field(120, required=True)
    asked = text_field(4000, required=True)
    told = note_field(4000, load_default="")
    send_link_to = RowId(load_only=True, load_default=None, allow_none=True)


@updates.route("", endpoint="every_update", methods=["GET"])
@updates.arguments(PageQuery, location="query")
@updates.response(200, UpdateSchema(many=True))
@pages
def every_update(query: dict[str, Any], project_id: int) -> Any:
    return page_of(Update, project_id, offset(query), query["per_page"])


def photos_first(view: View) -> View:
    """Keep the photos, and read the text with its HTML, before it is the view's turn to write: both take their time."""

    @wraps(view)
    def run(project_id: int) -> Response:
        g.values, g.photos = _values(), _kept_photos(project_id)
        response: Response = view(project_id=project_id)
        return response

    return named("photos_first", run, view)


@updates.route("", endpoint="post_update", methods=["POST"])
@updates.doc(requestBody={"required": True, "content": {
    "application/json": {"schema": UpdateSchema}, "multipart/form-data": {"schema": _FORM},
}})
@photos_first
@idempotent
@updates.response(201, UpdateSchema)
@makes
def post_update(project_id: int) -> Any:
    """JSON {"text"}, or a form with the fields text, photos (files) and caption (one for each photo, in order)."""
    values = g.values
    captioned = [
        replace(photo, caption=caption.strip())
        for photo, caption in zip(g.photos, [*values.get("caption", []), *[""] * MOST_PHOTOS], strict=False)
    ]
    return acts.post_update(who(), project_id, text=values["text"], photos=captioned, now=clock.now())


def _values() -> dict[str, Any]:
    if sent_as_form():
        form = {name: texts if name == "caption" else texts[-1] for name, texts in request.form.lists()}
        values: dict[str, Any] = PostForm().load(form)
    else:
        values = UpdateSchema().load(json_sent())
    return values


@updates.route("/<int:update_id>", endpoint="one_update", methods=["GET"])
@updates.response(200, UpdateSchema)
@shows_version
def one_update(project_id: int, update_id: int) -> Any:
    return in_project(Update, project_id, update_id)


@updates.route("/<int:update_id>", endpoint="change_update", methods=["PATCH"])
@updates.arguments(UpdateSchema)
@needs_version(Update, "update_id")
@updates.response(200, UpdateSchema)
@shows_version
def change_update(values: dict[str, Any], project_id: int, update_id: int, seen: int) -> Any:
    return acts.change_update(who(), project_id, update_id, seen, text=values["text"], now=clock.now())


@updates.route("/<int:update_id>", endpoint="remove_update", methods=["DELETE"])
@needs_version(Update, "update_id")
@updates.response(204)
def remove_update(project_id: int, update_id: int, seen: int) -> None:
    acts.remove_update(who(), project_id, update_id, seen, now=clock.now())


@calls.route("", endpoint="every_call", methods=["GET"])
@calls.arguments(PageQuery, location="query")
@calls.response(200, CallSchema(many=True))
@pages
def every_call(query: dict[str, Any], project_id: int) -> Any:
    return page_of(Call, project_id, offset(query), query["per_page"])


@calls.route("", endpoint="note_call", methods=["POST"])
@idempotent
@calls.arguments(CallSchema)
@calls.response(201, CallSchema)
@makes
def note_call(values: dict[str, Any], project_id: int) -> Any:
    return acts.note_call(who(), project_id, values, clock.now())


@calls.route("/<int:call_id>", endpoint="one_call", methods=["GET"])
@calls.response(200, CallSchema)
def one_call(project_id: int, call_id: int) -> Any:
    return in_project(Call, project_id, call_id)


def _kept_photos(project_id: int) -> list[Kept]:
    others = {name: ["Unknown field. Photos go in photos."] for name in other_files("photos")}
    if others:
        raise ValidationError(others)
    files = photos_sent("photos")
    if len(files) > MOST_PHOTOS:
        raise FieldRefused("photos", f"Send at most {MOST_PHOTOS} photos at a time.")
    return [keep_sent(project_id, file) for file in files]
