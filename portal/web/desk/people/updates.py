"""Updates: dated notes with photos. A photo that was good stays with the form when another is refused."""

from dataclasses import replace
from itertools import zip_longest

from flask import Response, request

from portal import clock
from portal.acts.household.updates import change_update, post_update, remove_update
from portal.acts.keeping.photos import MOST_PHOTOS, Kept, kept_photo
from portal.acts.refusals import NotAPhoto, PhotosWait, TooOften
from portal.acts.written import shown
from portal.api.http.shapes import Strict, note_field, prose_field
from portal.api.resources.diary import UpdateSchema
from portal.pages.days.under_way import bare_words, photo_words
from portal.pages.outlook import outlook_of
from portal.photo_files import is_photo_name
from portal.request.pressed import pressed_at
from portal.request.sent_photos import keep_sent, photos_sent
from portal.request.services import services
from portal.store.reading.project_plan import schedule_of
from portal.store.reading.snapshot import read_snapshot
from portal.store.rows.editable import in_project
from portal.store.tables import Update
from portal.web.desk.blueprint import PROJECT, form_page, who
from portal.web.desk.forms import RowsRefused, Values, project_form, seen
from portal.web.forms.inputs import Field, Form
from portal.words.dates import local

_HINT = "*Slanted*, **strong**, and a line that begins with - for a list."
_TEXT = Field("text", "What happened, and what comes next", "text", required=True, hint=_HINT)


class PostForm(UpdateSchema):
    """`text` is not needed with a photo: it then says what is under way."""

    text = prose_field(20_000, load_default=None, allow_none=True)
    captions = note_field(4000, load_default="")


POST = Form(
    "Post an update",
    [
        Field("photos", "Photos", "file", hint="At most 20 MB each. Places and other data in them are taken out."),
        replace(_TEXT, required=False, hint=f"Empty: the photo says what is under way. {_HINT}"),
        Field("captions", "What the photos show", "text", hint="One line for each photo, in their order.",
              group="What each photo shows", folded=True),
    ],
    PostForm(), "Post it", template="update_form.html",
)


@form_page(f"{PROJECT}/updates/new", "post_update")
def new_update(project_id: int) -> Response:
    """Photos are kept before anything else is looked at, so that nobody has to choose the good ones again."""
    kept, faults = _kept_before(project_id)
    more, enough = _keep_all(project_id, kept)
    faults += more

    def do(values: Values) -> str:
        if enough is not None:
            raise enough
        if faults:
            raise RowsRefused(faults=[("photos", fault) for fault in faults])
        text = values["text"] or otherwise
        if text is None:
            raise RowsRefused(faults=[("text", "Write what happened, or choose a photo.")])
        photos = _captioned(kept, values["captions"].splitlines())
        post_update(who(), project_id, text=text, photos=photos, now=clock.now(), at=pressed_at())
        return "The update is on the page."

    words = _words(project_id, len(kept))
    otherwise = shown("text", words) if kept else None
    return project_form(POST, do, project_id, {"text": words}, kept=kept)


@form_page(f"{PROJECT}/updates/<int:update_id>/change", "change_update")
def edit_update(project_id: int, update_id: int) -> Response:
    update = in_project(Update, project_id, update_id)

    def do(values: Values) -> str:
        change_update(who(), project_id, update_id, seen(), text=values["text"], now=clock.now())
        return "The update is changed."

    form = Form("Change an update", [_TEXT], UpdateSchema(), "Save the update", intro="Its photos stay as they are.")
    return project_form(form, do, project_id, {"text": update.text}, seen=update.version)


@form_page(f"{PROJECT}/updates/<int:update_id>/remove", "remove_update")
def drop_update(project_id: int, update_id: int) -> Response:
    update = in_project(Update, project_id, update_id)

    def do(values: Values) -> str:
        remove_update(who(), project_id, update_id, seen(), now=clock.now())
        return "The update is removed."

    form = Form("Remove an update", [], Strict(), "Remove it from the page", intro=f"It says: {update.text[:300]}")
    return project_form(form, do, project_id, seen=update.version)


def _words(project_id: int, photos: int) -> str:
    """What is said of photos where nobody writes it; without photos, what the form begins with."""
    snapshot, now = read_snapshot(project_id), clock.now()
    said = photo_words(snapshot, outlook_of(snapshot, schedule_of(snapshot, now)))
    return said or (bare_words(photos, local(now, snapshot.project.timezone).date()) if photos else "")


def _kept_before(project_id: int) -> tuple[list[Kept], list[str]]:
    """Good photos of an earlier try, which the form carries by their names; and whether one of them is gone again."""
    names = [name for name in request.form.getlist("kept")[:MOST_PHOTOS] if is_photo_name(name)]
    found = [kept_photo(services().settings.photos_of(project_id), name) for name in names]
    faults = ["A photo that was here is gone, because the form lay for more than a day. Choose it again."]
    return [one for one in found if one is not None], faults if None in found else []


def _keep_all(project_id: int, kept: list[Kept]) -> tuple[list[str], TooOften | None]:
    """Keep each photo that can be kept; returns what is wrong with the others, and whether it is enough for today."""
    faults: list[str] = []
    for file in photos_sent("photos"):
        if len(kept) >= MOST_PHOTOS:
            return [*faults, f"An update takes {MOST_PHOTOS} photos. Post the others with another one."], None
        try:
            kept.append(keep_sent(project_id, file))
        except (NotAPhoto, PhotosWait) as refusal:
            faults.append(str(refusal))
        except TooOften as refusal:
            return faults, refusal
    return faults, None


def _captioned(kept: list[Kept], captions: list[str]) -> list[Kept]:
    return [replace(one, caption=caption.strip()[:500]) for one, caption in zip_longest(kept, captions, fillvalue="")
            if isinstance(one, Kept) and isinstance(caption, str)]
