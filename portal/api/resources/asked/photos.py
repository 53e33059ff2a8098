"""Photos that a question shows: sent first, then named by its options."""

from functools import wraps
from typing import Any

from flask import Response, g, request
from marshmallow import ValidationError, fields

from portal.api.http.around import View, named
from portal.api.http.idempotency import idempotent
from portal.api.http.resource import under_project
from portal.api.http.shapes import Strict
from portal.request.option_photos import photo_told
from portal.request.sent_photos import one_kept, other_files
from portal.store.refusals import FieldRefused

blueprint = under_project("photos", "Photos for the options of a question.")


class KeptPhotoSchema(Strict):
    name = fields.String(dump_only=True)
    width = fields.Integer(dump_only=True)
    height = fields.Integer(dump_only=True)
    sha256 = fields.String(dump_only=True)


_FORM = {
    "type": "object", "required": ["photo"], "additionalProperties": False,
    "properties": {"photo": {"type": "string", "contentMediaType": "image/*"}},
}


def photo_first(view: View) -> View:
    """Keep the photo before it is the view's turn to write."""

    @wraps(view)
    def run(project_id: int) -> Response:
        others = [*request.form, *other_files("photo")]
        if others:
            raise ValidationError({name: ["Unknown field. The photo goes in photo."] for name in others})
        g.photo, refusal = one_kept(project_id, "photo")
        if refusal:
            raise refusal
        if g.photo is None:
            raise FieldRefused("photo", "Send the photo as a file in this field.")
        response: Response = view(project_id=project_id)
        return response

    return named("photos_first", run, view)


@blueprint.route("", endpoint="keep", methods=["POST"])
@blueprint.doc(requestBody={"required": True, "content": {"multipart/form-data": {"schema": _FORM}}})
@photo_first
@idempotent
@blueprint.response(201, KeptPhotoSchema)
def keep(project_id: int) -> Any:
    """Keep a photo, sent as the file `photo`, and answer its name. Until a question names it, it is kept for a day."""
    return photo_told(g.photo)
