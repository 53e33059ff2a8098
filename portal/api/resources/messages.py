"""Messages: what somebody of the household tells the firm, and what it answers."""

from functools import wraps
from typing import Any

from flask import Response, g, request
from marshmallow import ValidationError, fields

from portal import clock
from portal.acts.household import messages as acts
from portal.api.http.around import View, named
from portal.api.http.idempotency import idempotent
from portal.api.http.paging import PageQuery, offset, pages
from portal.api.http.request_text import json_sent
from portal.api.http.resource import makes, under_project
from portal.api.http.sender import who
from portal.api.http.shapes import Instant, RowId, Strict, text_field
from portal.request.sent_photos import one_kept, other_files, sent_as_form
from portal.store.rows.editable import in_project, page_of
from portal.store.tables import Message

blueprint = under_project("messages", "What the household tells the firm at any time, and our answers.")


class MessageSchema(Strict):
    id = fields.Integer(dump_only=True)
    name = fields.String(attribute="person.name", dump_only=True)
    room = RowId(allow_none=True, load_default=None)
    text = text_field(acts.LONGEST, required=True)
    photo = fields.String(dump_only=True)
    told_at = Instant(dump_only=True)
    answer = fields.String(dump_only=True, allow_none=True)
    answered_at = Instant(dump_only=True)


class AnswerMessageSchema(Strict):
    answer = text_field(acts.LONGEST, required=True)


_FORM = {
    "type": "object", "required": ["text"], "additionalProperties": False,
    "properties": {
        "text": {"type": "string", "minLength": 1, "maxLength": acts.LONGEST}, "room": {"type": "integer"},
        "photo": {"type": "string", "contentMediaType": "image/*"},
    },
}


@blueprint.route("", endpoint="every", methods=["GET"])
@blueprint.arguments(PageQuery, location="query")
@blueprint.response(200, MessageSchema(many=True))
@pages
def every(query: dict[str, Any], project_id: int) -> Any:
    """The newest first."""
    return page_of(Message, project_id, offset(query), query["per_page"])


def photo_first(view: View) -> View:
    """Count it, and keep its photo, before it is the view's turn to write."""

    @wraps(view)
    def run(project_id: int) -> Response:
        g.values = MessageSchema().load(request.form.to_dict() if sent_as_form() else json_sent())
        if others := {name: ["Unknown field. The photo goes in photo."] for name in other_files("photo")}:
            raise ValidationError(others)
        acts.count_message(who().key, clock.now())
        g.photo, refusal = one_kept(project_id, "photo")
        if refusal:
            raise refusal
        response: Response = view(project_id=project_id)
        return response

    return named("photos_first", run, view)


@blueprint.route("", endpoint="send", methods=["POST"])
@blueprint.doc(requestBody={"required": True, "content": {
    "application/json": {"schema": MessageSchema}, "multipart/form-data": {"schema": _FORM},
}})
@photo_first
@idempotent
@blueprint.response(201, MessageSchema)
@makes
def send(project_id: int) -> Any:
    """JSON {"text", "room"}, or a form with the fields text, room and photo (a file). `room` null: the whole house."""
    return acts.send_message(who(), project_id, **g.values, photo=g.photo, now=clock.now())


@blueprint.route("/<int:message_id>", endpoint="one", methods=["GET"])
@blueprint.response(200, MessageSchema)
def one(project_id: int, message_id: int) -> Any:
    return in_project(Message, project_id, message_id)


@blueprint.route("/<int:message_id>/answer", endpoint="answer", methods=["POST"])
@idempotent
@blueprint.arguments(AnswerMessageSchema)
@blueprint.response(200, MessageSchema)
def answer(values: dict[str, Any], project_id: int, message_id: int) -> Any:
    """Answer it, once. The answer goes to whoever told us, and stands on the page."""
    return acts.answer_message(who(), project_id, message_id, answer=values["answer"], now=clock.now())
