"""Sends a published page: the very file that a web server in front would send."""

from pathlib import Path

from flask import Response, send_file

from portal.web.services import services


def published(project_id: int) -> Response:
    """The project's page; a change of this process that still waits to be published is published first."""
    publisher = services().publisher
    publisher.flush(project_id)
    path = publisher.page_path(project_id)
    if not path.exists():
        publisher.publish(project_id)
    response = send_file(path, mimetype="text/html", conditional=True, etag=True, max_age=0)
    response.headers["Cache-Control"] = "private, no-cache"
    response.headers["Referrer-Policy"] = "no-referrer"
    response.headers["X-Content-Type-Options"] = "nosniff"
    response.headers["X-Robots-Tag"] = "noindex"
    return response


def published_photo(project_id: int, name: str) -> Response | None:
    """A photo of the project, or None when there is none of this name."""
    folder = photo_folder(project_id)
    path = folder / name
    if path.parent != folder or name.startswith(".") or not path.is_file():
        return None
    return send_file(path, mimetype="image/jpeg", conditional=True, max_age=86400)


def photo_folder(project_id: int) -> Path:
    """Where the photos of a project's updates lie."""
    return services().publisher.page_path(project_id).parent / "photos"
