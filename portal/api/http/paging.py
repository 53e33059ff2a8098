"""Pages of a list, joined by Link headers (RFC 8288): the body is the plain list."""

from typing import Any
from urllib.parse import urlencode

from flask import request
from marshmallow import RAISE, Schema, fields, validate


class PageQuery(Schema):
    class Meta:
        unknown = RAISE

    page = fields.Integer(load_default=1, validate=validate.Range(1, 1_000_000))
    per_page = fields.Integer(load_default=50, validate=validate.Range(1, 200))


def offset(query: dict[str, Any]) -> int:
    return (query["page"] - 1) * query["per_page"]


def links(query: dict[str, Any], total: int) -> dict[str, str]:
    """The headers of one page: Link with first, prev, next, last, and Total-Count."""
    last = max(1, -(-total // query["per_page"]))
    pages = {"first": 1, "prev": query["page"] - 1, "next": query["page"] + 1, "last": last}
    return _linked({rel: query | {"page": page} for rel, page in pages.items() if 1 <= page <= last}, total)


def links_after(query: dict[str, Any], last: int, total: int) -> dict[str, str]:
    """The same of a list that only grows and is read on from `last`, the number of the last one that was shown."""
    return _linked({"first": query | {"after": 0}} | ({"next": query | {"after": last}} if last < total else {}), total)


def _linked(queries: dict[str, dict[str, Any]], total: int) -> dict[str, str]:
    shown = [f'<{request.path}?{urlencode(query)}>; rel="{rel}"' for rel, query in queries.items()]
    return {"Link": ", ".join(shown), "Total-Count": str(total)}
