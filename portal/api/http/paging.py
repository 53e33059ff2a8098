"""Pages of a list, joined by Link headers (RFC 8288): the body is the plain list."""

from functools import wraps
from typing import Any
from urllib.parse import urlencode

from flask import request
from marshmallow import RAISE, Schema, fields, validate

from portal.api.http.around import View, named


class PageQuery(Schema):
    class Meta:
        unknown = RAISE

    page = fields.Integer(load_default=1, validate=validate.Range(1, 1_000_000))
    per_page = fields.Integer(load_default=50, validate=validate.Range(1, 200))


def offset(query: dict[str, Any]) -> int:
    return (query["page"] - 1) * query["per_page"]


def pages(view: View) -> View:
    """For a view that gets PageQuery and returns (rows, how many there are in all): adds Link and Total-Count."""

    @wraps(view)
    def run(query: dict[str, Any], **kwargs: Any) -> tuple[Any, int, dict[str, str]]:
        rows, total = view(query, **kwargs)
        return rows, 200, _linked(_around(query, total), total)

    return named("pages", run, view)


def reads_on(view: View) -> View:
    """For a view of a list that only grows, which is read on from a number, and that returns (what is shown, the
    number of the last one in it, how many there are in all): adds Link and Total-Count."""

    @wraps(view)
    def run(query: dict[str, Any], **kwargs: Any) -> tuple[Any, int, dict[str, str]]:
        shown, last, total = view(query, **kwargs)
        after = {"next": query | {"after": last}} if last < total else {}
        return shown, 200, _linked({"first": query | {"after": 0}} | after, total)

    return named("reads_on", run, view)


def _around(query: dict[str, Any], total: int) -> dict[str, dict[str, Any]]:
    last = max(1, -(-total // query["per_page"]))
    numbers = {"first": 1, "prev": query["page"] - 1, "next": query["page"] + 1, "last": last}
    return {rel: query | {"page": page} for rel, page in numbers.items() if 1 <= page <= last}


def _linked(queries: dict[str, dict[str, Any]], total: int) -> dict[str, str]:
    shown = [f'<{request.path}?{urlencode(query)}>; rel="{rel}"' for rel, query in queries.items()]
    return {"Link": ", ".join(shown), "Total-Count": str(total)}
