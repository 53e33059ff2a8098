"""The dimensions of each kind of layout as schemas, made of the kind's own blanks and read by the kind itself.

So there is one validation: the kind's `from_json`. The schema says to a reader which fields there are.
"""

from collections.abc import Iterable
from functools import cache, reduce
from typing import Any

from flask import request
from marshmallow import ValidationError, fields
from marshmallow.error_store import merge_errors

from portal.api.http.shapes import Strict, Whole
from portal.layouts.form import CHOICE, COUNT, FLAG, LENGTH, WORDS, Blank, Form, Part
from portal.layouts.json_fields import LONGEST_NAME
from portal.layouts.kinds import kind_named
from portal.layouts.length import DimensionError
from portal.layouts.sizes.picking import KEPT, resolved
from portal.layouts.sizes.whats import WHATS
from portal.store.rows import size_rows

_TYPES = {LENGTH: "string", FLAG: "boolean", COUNT: "integer"}
_EXAMPLES = {LENGTH: ["1-3/8 in", "35 mm"]}


class Measured(Strict):
    """A kind's dimensions as they are sent: a part may name what is kept, of the house in the query's `project` or of
    the firm, and then needs only what that leaves empty. What the fields may hold is for the kind to say."""

    kind = ""

    def load(self, data: Any, **how: Any) -> Any:
        """What the kind makes of them is what is loaded, so that nobody reads them again. What is kept is put in its
        place first, so that all else is as if it had been sent whole."""
        house, kind = request.args.get("project", type=int), kind_named(self.kind)
        try:
            whole = resolved(kind.FORM, data, lambda key: size_rows.find(house, key))
        except DimensionError as error:
            raise ValidationError(nested_messages([(error.field, f"{error.field} {error.message}.")])) from error
        if not isinstance(whole, dict):
            return super().load(whole, **how)
        try:
            return kind.from_json(whole)
        except DimensionError as error:
            raise ValidationError(nested_messages(error.every)) from error


@cache
def dimensions_schema(kind: str) -> type[Measured]:
    """The schema of a kind's dimensions: a part that may be picked has `kept`. Raises DimensionError for a kind that
    there isn't."""
    form, name = kind_named(kind).FORM, f"{kind.capitalize()}Dimensions"
    found: Any = Measured.from_dict(_fields(form, "", name), name=f"{name}Schema")
    found.kind = kind
    schema: type[Measured] = found
    return schema


def nested_messages(faults: Iterable[tuple[str, str]]) -> dict[str, Any]:
    """Messages at dotted paths as marshmallow nests them."""
    found: dict[str, Any] = reduce(merge_errors, (_nested(path.split("."), message) for path, message in faults))
    return found


def _nested(steps: list[str], message: str) -> Any:
    found: Any = [message]
    for step in reversed(steps):
        found = {int(step) if step.isdecimal() else step: found}
    return found


def _fields(form: Form, path: str, name: str) -> dict[str, Any]:
    """The fields of the object at `path`: its own blanks, and the objects one step below."""
    found: dict[str, Any] = {}
    for part in form:
        if part.path == path and not part.rows:
            found |= _own(part)
    for part in form:
        above, _, last = part.path.rpartition(".")
        if part.path and above == path:
            found[last] = _object(form, part, name)
    return found


def _own(part: Part) -> dict[str, Any]:
    """Its blanks, and `kept` where something may be picked for it; then what that fills need not be sent."""
    filled = {blank for pick in part.picks for blank, _ in pick.fills}
    found: dict[str, Any] = {blank.name: _field(blank, blank.name not in filled) for blank in part.blanks}
    if part.picks:
        titles = " or ".join(WHATS[pick.what].title.lower() for pick in part.picks)
        found[KEPT] = fields.Raw(allow_none=True, metadata={
            "type": ["integer", "string", "array"], "items": {"type": ["integer", "string"]},
            "description": f"The id of a kept size ({titles}), or several: it fills what is not sent."})
    return found


def _object(form: Form, part: Part, name: str) -> Any:
    inner_name = name + "".join(word.capitalize() for word in part.path.replace(".", "_").split("_"))
    inside = _own(part) if part.rows else _fields(form, part.path, inner_name)
    inner = Whole(Strict.from_dict(inside, name=f"{inner_name}Schema"), allow_none=not part.rows)
    if part.rows:
        return fields.List(inner, allow_none=True, metadata={"description": part.title})
    inner.required, inner.metadata = part.needed, {"description": part.title}
    return inner


def _field(blank: Blank, asked: bool = True) -> fields.Raw:
    """`asked`: nothing else may fill it."""
    described: dict[str, Any] = {"type": _TYPES.get(blank.holds, "string"), "description": _words(blank)}
    if blank.holds in _EXAMPLES:
        described["examples"] = _EXAMPLES[blank.holds]
    if blank.holds == WORDS:
        described["maxLength"] = LONGEST_NAME
    if blank.holds == CHOICE:
        described["enum"] = list(blank.choices)
    return fields.Raw(required=blank.needed and asked, allow_none=not blank.needed, metadata=described)


def _words(blank: Blank) -> str:
    return f"{blank.label}. {blank.hint}".strip()
