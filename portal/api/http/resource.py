"""What the resources share: a blueprint below a project, and the answers to a write."""

from typing import Any

from flask import request
from flask_smorest import Blueprint
from marshmallow import Schema

from portal.api.http.request_text import Reader
from portal.api.http.sender import admit
from portal.api.http.versions import etag, unless_known


class Resource(Blueprint):
    ARGUMENTS_PARSER = Reader()

    def arguments(self, schema: type[Schema] | Schema, **how: Any) -> Any:
        """One instance for all requests: to make one costs more than to read a body with it."""
        return super().arguments(schema() if isinstance(schema, type) else schema, **how)


def resource(name: str, prefix: str, description: str) -> Blueprint:
    """A blueprint below /api/v1/<prefix>, open to those whom the table of roles names."""
    blueprint = Resource(name, name, url_prefix=f"/api/v1/{prefix}", description=description)
    blueprint.before_request(admit)
    blueprint.after_request(unless_known)
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


def made(row: Any) -> tuple[Any, int, dict[str, str]]:
    """201: the new row, where it is, and its version."""
    headers = {"Location": f"{request.path}/{row.id}"}
    if hasattr(row, "version"):
        headers["ETag"] = etag(row.version)
    return row, 201, headers


def shown(row: Any) -> tuple[Any, int, dict[str, str]]:
    """200: the row and its version."""
    return row, 200, {"ETag": etag(row.version)}
