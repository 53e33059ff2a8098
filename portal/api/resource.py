"""What the resources share: a blueprint below a project, and the answers to a write."""

from typing import Any

from flask import request
from flask_smorest import Blueprint

from portal.api.versions import etag

UNDER_PROJECT = "/api/v1/projects/<int:project_id>"


def under_project(name: str, description: str) -> Blueprint:
    """A blueprint for /api/v1/projects/{id}/<name>."""
    return Blueprint(name, name, url_prefix=f"{UNDER_PROJECT}/{name}", description=description)


def made(row: Any) -> tuple[Any, int, dict[str, str]]:
    """201: the new row, where it is, and its version."""
    headers = {"Location": f"{request.path}/{row.id}"}
    if hasattr(row, "version"):
        headers["ETag"] = etag(row.version)
    return row, 201, headers


def shown(row: Any) -> tuple[Any, int, dict[str, str]]:
    """200: the row and its version."""
    return row, 200, {"ETag": etag(row.version)}
