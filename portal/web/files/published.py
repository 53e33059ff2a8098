"""Sends published files: the very bytes that a web server in front would send."""

from pathlib import Path

from flask import Response, request

from portal.acts.keeping.photos import LARGEST_BYTES, Kept, keep_photo
from portal.acts.refusals import NotAPhoto
from portal.request.services import services


def published(project_id: int) -> Response:
    """The project's page; a change of this process that still waits to be published is published first."""
    publisher = services().publisher
    publisher.flush(project_id)
    path = publisher.page_path(project_id)
    if not path.exists():
        publisher.publish(project_id)
    return _file(path, "text/html; charset=utf-8", "private, no-cache")


def published_photo(project_id: int, name: str) -> Response | None:
    """A photo of the project, or None when there is none of this name."""
    folder = photo_folder(project_id)
    path = folder / name
    if path.parent != folder or name.startswith(".") or not path.is_file():
        return None
    return _file(path, "image/jpeg", "private, max-age=86400")


def sent_photo(project_id: int, field: str) -> tuple[Kept | None, NotAPhoto | None]:
    """Keep the one photo of a form's field: the photo (None when none was chosen), and why it can't be used.

    To be called before a form is done: encoding a photo must keep no writer waiting.
    """
    file = request.files.get(field)
    if file is None or not file.filename:
        return None, None
    data = file.stream.read(LARGEST_BYTES + 1)
    try:
        return keep_photo(photo_folder(project_id), data, file.filename), None
    except NotAPhoto as refusal:
        return None, refusal


def photo_folder(project_id: int) -> Path:
    """Where the photos of a project's updates lie."""
    return services().publisher.page_path(project_id).parent / "photos"


def _file(path: Path, kind: str, kept: str) -> Response:
    """Small files, read whole: none stays open when a reader hangs up."""
    response = Response(path.read_bytes(), content_type=kind)
    response.headers["Cache-Control"] = kept
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["X-Robots-Tag"] = "noindex"
    response.add_etag()
    response.make_conditional(request)
    return response
