"""What the resources share: a blueprint below a project, and the answers to a write."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from flask import request
from flask_smorest import Blueprint
from marshmallow import Schema

from portal.api.http.around import View, check_order, named
from portal.api.http.request_text import Reader
from portal.api.http.sender import admit
from portal.api.http.unpriced import leave_out_sums
from portal.api.http.versions import etag, unless_known
from portal.store.refusals import FieldRefused


class Resource(Blueprint):
    ARGUMENTS_PARSER = Reader()

    def arguments(self, schema: type[Schema] | Schema, **how: Any) -> Any:
        """One instance for all requests: to make one costs more than to read a body with it."""
        reading = super().arguments(schema() if isinstance(schema, type) else schema, **how)
        sent = how.get("location", "json") == "json" and how.get("required", True)
        return lambda view: named("arguments", _with_a_body(reading(view)) if sent else reading(view), view)

    def response(self, status: int, *args: Any, **how: Any) -> Any:
        answering = super().response(status, *args, **how)
        return lambda view: named("response", answering(view), view)

    def route(self, rule: str, *, endpoint: str, **options: Any) -> Any:
        """A route says its endpoint, by which the table of roles knows it, and refuses decorators in a wrong order."""
        adding = super().route(rule, endpoint=endpoint, **options)

        def make(view: View) -> View:
            check_order(f"{self.name}.{endpoint}", view)
            made: View = adding(view)
            return made

        return make


def _with_a_body(view: View) -> View:
    """An empty body is no change of nothing: whoever sends it has lost theirs."""

    @wraps(view)
    def run(*args: Any, **kwargs: Any) -> Any:
        if not request.get_data(cache=True):
            raise FieldRefused("body", "Send a JSON object, with the content type application/json.")
        return view(*args, **kwargs)

    return run


def resource(name: str, prefix: str, description: str) -> Blueprint:
    """A blueprint below /api/v1/<prefix>, open to those whom the table of roles names."""
    blueprint = Resource(name, name, url_prefix=f"/api/v1/{prefix}", description=description)
    blueprint.before_request(admit)
    blueprint.after_request(unless_known)
    blueprint.after_request(leave_out_sums)
    return blueprint


def under_project(name: str, description: str) -> Blueprint:
    """A blueprint for /api/v1/projects/{id}/<name>."""
    return resource(name, f"projects/<int:project_id>/{name}", description)


class With:
    """A row, and beside it what does not stand in the row itself."""

    def __init__(self, row: Any, **more: Any) -> None:
        self.row = row
        self.__dict__.update(more)

    def __getattr__(self, name: str) -> Any:
        return getattr(self.row, name)


def makes(view: View) -> View:
    """For a view that returns a new row: 201, with its version and where it is, one step below the path."""
    return makes_at(lambda row, **ids: f"{request.path}/{row.id}")(view)


def makes_at(where: Callable[..., str]) -> Callable[[View], View]:
    """As `makes`, of a row that is elsewhere: `where` gets the row and the ids of the path."""

    def make(view: View) -> View:
        @wraps(view)
        def run(*args: Any, **ids: Any) -> tuple[Any, int, dict[str, str]]:
            row = view(*args, **ids)
            headers = {"Location": where(row, **ids)}
            if hasattr(row, "version"):
                headers["ETag"] = etag(row.version)
            return row, 201, headers

        return named("makes", run, view)

    return make
