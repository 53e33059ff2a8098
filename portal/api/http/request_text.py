"""How the body and the query of a request are read, before a schema sees them: what can't be kept is refused here."""

import json
from collections.abc import Iterator
from typing import Any

from flask import Request, request
from marshmallow import ValidationError
from webargs import missing
from webargs.core import is_json, parse_json
from webargs.flaskparser import FlaskParser
from werkzeug.exceptions import BadRequest, UnsupportedMediaType

from portal.words.typed import NotText, lines

LARGEST_NUMBER = 10**15
"""Every reader of JSON keeps such numbers exactly (RFC 8259, section 6), and so does the record (RFC 8785)."""
DEEPEST = 40


class Reader(FlaskParser):
    """Says no to a body that is no JSON, and to a query that the schema does not know."""

    DEFAULT_UNKNOWN_BY_LOCATION = {**FlaskParser.DEFAULT_UNKNOWN_BY_LOCATION, "query": None}

    def _raw_load_json(self, req: Request) -> Any:
        body = req.get_data(cache=True)
        if not is_json(req.mimetype):
            if body:
                raise UnsupportedMediaType()
            return missing
        return _parsed(body)


def json_sent() -> Any:
    """The body, of a route that takes a form as well and so has no schema around it."""
    if not is_json(request.mimetype):
        raise UnsupportedMediaType()
    try:
        return _parsed(request.get_data(cache=True))
    except json.JSONDecodeError as error:
        raise BadRequest() from error


def _parsed(body: bytes) -> Any:
    try:
        found = parse_json(body)
    except json.JSONDecodeError:
        raise
    except (ValueError, RecursionError) as error:  # a number of thousands of digits, brackets without end
        raise json.JSONDecodeError("This is nested too deeply or too long", "...", 0) from error
    for path, message in _faults(found, ()):
        raise ValidationError(_nested(path, message))
    return found


def _faults(value: Any, path: tuple[str | int, ...]) -> Iterator[tuple[tuple[str | int, ...], str]]:
    """What no table can keep, with its path."""
    if isinstance(value, dict | list):
        if len(path) >= DEEPEST:
            yield path, f"This is nested deeper than {DEEPEST} levels."
            return
        for step, inner in value.items() if isinstance(value, dict) else enumerate(value):
            yield from _faults(inner, (*path, step))
    elif isinstance(value, str):
        try:
            lines(value)
        except NotText as error:
            yield path, str(error)
    elif isinstance(value, int | float) and not -LARGEST_NUMBER <= value <= LARGEST_NUMBER:
        yield path, f"Give a number up to {LARGEST_NUMBER}."


def _nested(path: tuple[str | int, ...], message: str) -> dict[str | int, Any] | list[str]:
    found: Any = [message]
    for step in reversed(path):
        found = {step: found}
    whole: dict[str | int, Any] | list[str] = found
    return whole
