"""The one door for pictures that come with a request, in either skin.

They are kept before a form is done, or before it is a request's turn to write: to make a photo small takes seconds.
"""

import os

from flask import g, request
from werkzeug.datastructures import FileStorage

from portal import clock
from portal.acts.actor import Actor
from portal.acts.keeping.photos import Kept, keep_photo
from portal.acts.limits import take
from portal.acts.refusals import NotAPhoto, PhotosWait, Refused, TooOften
from portal.request.services import services


def sent_as_form() -> bool:
    """Whether fields and files came as a form, and no JSON."""
    return bool(request.form or request.files)


def photos_sent(field: str) -> list[FileStorage]:
    """The files chosen in a field of the form: where none is, a browser sends one without name and bytes."""
    return [file for file in request.files.getlist(field) if file.filename or file.stream.seek(0, os.SEEK_END)]


def other_files(field: str) -> list[str]:
    """Fields that hold files and are not this one."""
    return [name for name in request.files if name != field]


def keep_sent(project_id: int, file: FileStorage) -> Kept:
    """Keep one for the project, counted before it is looked at. Raises NotAPhoto, PhotosWait, TooOften."""
    sender: Actor = g.actor
    take("staff_photos" if sender.is_staff else "photos", sender.key, clock.now())
    file.stream.seek(0)
    return keep_photo(services().settings.photos_of(project_id), file.stream, file.filename or "photo")


def one_kept(project_id: int, field: str) -> tuple[Kept | None, Refused | None]:
    """Keep the one photo of a field: the photo (None when none was chosen), and why it can't be used."""
    for file in photos_sent(field)[:1]:
        try:
            return keep_sent(project_id, file), None
        except (NotAPhoto, PhotosWait, TooOften) as refusal:
            return None, refusal
    return None, None
