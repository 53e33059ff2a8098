"""ETag and If-Match: an edit names the version that it saw (RFC 9110 section 13, RFC 6585 section 3)."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from flask import Response, request

from portal.api.http.around import View, named
from portal.store.refusals import Refused, Stale
from portal.store.rows.editable import in_firm, in_project, project_row, word_for
from portal.store.rows.handover_rows import needed_item
from portal.store.tables import OpenItem, Project, Versioned


class VersionMissing(Refused):
    status = 428
    sentence = "Say which version you saw: send its ETag in If-Match. Read the {what} first to get it."


_UNPRICED = "-unpriced"


def etag(version: int) -> str:
    return f'"{version}"'


def mark_unpriced(response: Response) -> None:
    """The row without sums is another answer, and has an ETag of its own: nobody who reads sums now is told that they
    know the row already. As If-Match it names the same version."""
    tag, weak = response.get_etag()
    if tag is not None:
        response.set_etag(f"{tag}{_UNPRICED}", weak=bool(weak))


def needs_version(table: type[Versioned], row: str) -> Callable[[View], View]:
    """For a view that changes a row of `table`, whose id is `row` in the path: it gets the version as `seen`.

    Raises VersionMissing (428) without If-Match, Stale (412) with an older one. The act names the version again when
    it writes, so that a change in between is refused, too.
    """
    return _with_version("needs_version", table, row)


def takes_version(table: type[Versioned], row: str) -> Callable[[View], View]:
    """As `needs_version`, but without If-Match `seen` is None."""
    return _with_version("takes_version", table, row)


def shows_version(view: View) -> View:
    """For a view that returns a row: 200, with its version as the ETag."""

    @wraps(view)
    def run(*args: Any, **kwargs: Any) -> tuple[Any, int, dict[str, str]]:
        row = view(*args, **kwargs)
        return row, 200, {"ETag": etag(row.version)}

    return named("shows_version", run, view)


def _with_version(name: str, table: type[Versioned], row: str) -> Callable[[View], View]:
    def make(view: View) -> View:
        @wraps(view)
        def run(*args: Any, **kwargs: Any) -> Any:
            seen = None
            if name == "needs_version" or request.headers.get("If-Match"):
                seen = _seen(_current(table, kwargs.get("project_id"), kwargs[row]), word_for(table))
            return view(*args, **kwargs, seen=seen)

        return named(name, run, view)

    return make


def _current(table: type[Versioned], project_id: int | None, row_id: int) -> int:
    """A row below no project is the firm's."""
    if project_id is None:
        row = in_firm(table, row_id)
    elif table is OpenItem:
        row = needed_item(project_id, row_id)
    else:
        row = project_row(project_id) if table is Project else in_project(table, project_id, row_id)
    version: int = row.version
    return version


def _seen(current: int, what: str) -> int:
    if not request.headers.get("If-Match"):
        raise VersionMissing(what=what)
    if not any(request.if_match.contains(f"{current}{mark}") for mark in ("", _UNPRICED)):
        raise Stale(what=what)
    return current


def unless_known(response: Response) -> Response:
    """After a GET with an ETag: 304 when If-None-Match already has it."""
    if request.method in ("GET", "HEAD") and response.status_code == 200 and "ETag" in response.headers:
        response.make_conditional(request)
    return response
