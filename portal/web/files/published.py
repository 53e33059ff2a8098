"""Sends published files: the very bytes that a web server in front would send."""

from pathlib import Path

from flask import Response, request

from portal.pages.publishing.site import KEPT_CALENDAR
from portal.photo_files import name_in
from portal.request.heads import PUBLISHED_POLICY
from portal.request.services import services


def published(project_id: int, *, sums: bool = True) -> Response:
    """The project's page, or the one without sums; a change of this process that still waits is published first."""
    publisher = services().publisher
    publisher.flush(project_id)
    path = publisher.page_path(project_id, sums=sums)
    if not path.exists():
        publisher.publish(project_id)
    return _file(path, "text/html; charset=utf-8", "private, no-cache")


def kept_calendar(project_id: int) -> Response | None:
    """The calendar that was published with the page; None where there is none yet."""
    path = services().publisher.page_path(project_id).with_name(KEPT_CALENDAR)
    return _file(path, "text/calendar; charset=utf-8", "private, no-cache") if path.is_file() else None


def published_photo(project_id: int, name: str) -> Response | None:
    """A photo of the project, or None when there is none of this name. A form shows those that no page does yet."""
    path = services().settings.photo_file(project_id, name)
    if not name_in(name) or not path.is_file():
        return None
    return _file(path, "image/jpeg", "private, max-age=86400")


def _file(path: Path, kind: str, kept: str) -> Response:
    """Small files, read whole: none stays open when a reader hangs up. What lies there packed goes out packed to those
    who read that (RFC 9110, 12.5.3); each of the two has its own ETag (8.8.3.3)."""
    packed = path.with_name(f"{path.name}.gz")
    both = packed.is_file()
    as_packed = both and request.accept_encodings["gzip"] > 0
    response = Response((packed if as_packed else path).read_bytes(), content_type=kind)
    if as_packed:
        response.headers["Content-Encoding"] = "gzip"
    if both:
        response.headers["Vary"] = "Accept-Encoding"
    response.headers["Cache-Control"] = kept
    response.headers["Referrer-Policy"] = "no-referrer"
    if response.mimetype == "text/html":
        response.headers["Content-Security-Policy"] = PUBLISHED_POLICY
    response.add_etag()
    response.make_conditional(request)
    return response
