"""Updates: dated notes with photos. A photo that was good stays with the form when another is refused."""

from dataclasses import replace
from itertools import zip_longest

from flask import Response, request

from portal import clock
from portal.acts.household.updates import change_update, post_update, remove_update
from portal.acts.keeping.photos import MOST_PHOTOS, Kept, is_photo_name, keep_photo, kept_photo
from portal.acts.refusals import NotAPhoto
from portal.api.http.shapes import Strict, note_field
from portal.api.resources.diary import UpdateSchema
from portal.store.rows.editable import in_project
from portal.store.tables import Update
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import RowsRefused, Values, project_form, seen
from portal.web.files.published import photo_folder
from portal.web.forms.inputs import Field, Form

_HINT = "*Slanted*, **strong**, and a line that begins with - for a list."
_TEXT = Field("text", "What happened, and what comes next", "text", required=True, hint=_HINT)


class PostForm(UpdateSchema):
    captions = note_field(4000, load_default="")


POST = Form(
    "Post an update",
    [
        _TEXT,
        Field("photos", "Photos", "file", hint="Several at once, at most 20 MB each. Places and other data in them "
              "are taken out."),
        Field("captions", "What the photos show", "text", hint="One line for each photo, in their order."),
    ],
    PostForm(), "Post it", template="update_form.html",
)


@form_page(f"{PROJECT}/updates/new", "post_update")
def new_update(project_id: int) -> Response:
    """Photos are kept before anything else is looked at, so that nobody has to choose the good ones again."""
    kept, faults = _kept_before(project_id)
    faults += _keep_all(project_id, kept)

    def do(values: Values) -> str:
        if faults:
            raise RowsRefused(faults=[("photos", fault) for fault in faults])
        photos = _captioned(kept, values["captions"].splitlines())
        post_update(who(), project_id, text=values["text"], photos=photos, now=clock.now())
        return "The update is on the page."

    return project_form(POST, do, project_id, kept=kept)


@form_page(f"{PROJECT}/updates/<int:update_id>/change", "change_update")
def edit_update(project_id: int, update_id: int) -> Response:
    update = in_project(Update, project_id, update_id)

    def do(values: Values) -> str:
        change_update(who(), project_id, update_id, seen(), text=values["text"])
        return "The update is changed."

    form = Form("Change an update", [_TEXT], UpdateSchema(), "Save the update", intro="Its photos stay as they are.")
    return project_form(form, do, project_id, {"text": update.text}, seen=update.version)


@form_page(f"{PROJECT}/updates/<int:update_id>/remove", "remove_update")
def drop_update(project_id: int, update_id: int) -> Response:
    update = in_project(Update, project_id, update_id)

    def do(values: Values) -> str:
        remove_update(who(), project_id, update_id, seen())
        return "The update is removed."

    form = Form("Remove an update", [], Strict(), "Remove it from the page", intro=f"It says: {update.text[:300]}")
    return project_form(form, do, project_id, seen=update.version)


def _kept_before(project_id: int) -> tuple[list[Kept], list[str]]:
    """Good photos of an earlier try, which the form carries by their names; and whether one of them is gone again."""
    names = [name for name in request.form.getlist("kept")[:MOST_PHOTOS] if is_photo_name(name)]
    found = [kept_photo(photo_folder(project_id), name) for name in names]
    faults = ["A photo that was here is gone, because the form lay for more than a day. Choose it again."]
    return [one for one in found if one is not None], faults if None in found else []


def _keep_all(project_id: int, kept: list[Kept]) -> list[str]:
    """Keep each photo that can be kept; returns what is wrong with the others."""
    faults: list[str] = []
    for file in request.files.getlist("photos"):
        if len(kept) >= MOST_PHOTOS:
            return [*faults, f"An update takes {MOST_PHOTOS} photos. Post the others with another one."]
        if not file.filename:
            continue  # no file was chosen
        try:
            kept.append(keep_photo(photo_folder(project_id), file.read(), file.filename))
        except NotAPhoto as refusal:
            faults.append(str(refusal))
    return faults


def _captioned(kept: list[Kept], captions: list[str]) -> list[Kept]:
    return [replace(one, caption=caption.strip()[:500]) for one, caption in zip_longest(kept, captions, fillvalue="")
            if isinstance(one, Kept) and isinstance(caption, str)]
