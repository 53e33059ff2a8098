"""The dimensions of each kind of layout as schemas, made of the kind's own blanks and read by the kind itself.

So there is one validation: the kind's `from_json`. The schema says to a reader which fields there are.
"""

from functools import cache
from typing import Any

from flask import request
from marshmallow import ValidationError, fields, post_load

from portal.api.http.shapes import Strict, Whole
from portal.layouts.form import CHOICE, COUNT, FLAG, LENGTH, WORDS, Blank, Form, Part
from portal.layouts.json_fields import LONGEST_NAME
from portal.layouts.kinds import kind_named
from portal.layouts.length import DimensionError
from portal.layouts.sizes.picking import KEPT, resolved
from portal.layouts.sizes.whats import WHATS
from portal.store.rows import size_rows

_NEEDED = "is missing; measure it, or take it from the maker's sheet"
_MISSING: dict[str, Any] = {"required": _NEEDED, "null": _NEEDED}
_TYPES = {LENGTH: "string", FLAG: "boolean", COUNT: "integer"}
_EXAMPLES = {LENGTH: ["1-3/8 in", "35 mm"]}


class Measured(Strict):
    """A kind's dimensions: what the fields may hold is for the kind to say."""

    kind = ""

    @post_load(pass_original=True)
    def read(self, data: Any, original: Any, **kwargs: Any) -> Any:
        """What the kind makes of them is what is loaded, so that nobody reads them again."""
        try:
            return kind_named(self.kind).from_json(original)
        except DimensionError as error:
            raise ValidationError(nested_message(error.field, error.message)) from error


class MeasuredOrKept(Strict):
    """A kind's dimensions as they are sent: a part may name what is kept, of the house in the query's `project` or of
    the firm, and then needs only what that leaves empty."""

    kind = ""

    def load(self, data: Any, **how: Any) -> Any:
        """What is kept is put in its place first, so that all else is as if it had been sent whole."""
        house = request.args.get("project", type=int)
        try:
            whole = resolved(kind_named(self.kind).FORM, data, lambda key: size_rows.find(house, key))
        except DimensionError as error:
            raise ValidationError(nested_message(error.field, f"{error.field} {error.message}.")) from error
        return dimensions_schema(self.kind)().load(whole, **how)


@cache
def dimensions_schema(kind: str) -> type[Measured]:
    """The schema of a kind's dimensions. Raises DimensionError for a kind that there isn't."""
    schema: type[Measured] = _schema(Measured, kind, may_be_kept=False)
    return schema


@cache
def sent_schema(kind: str) -> type[MeasuredOrKept]:
    """The schema of what is sent, and described: a part that may be picked has `kept`."""
    schema: type[MeasuredOrKept] = _schema(MeasuredOrKept, kind, may_be_kept=True)
    return schema


def _schema(base: type[Strict], kind: str, may_be_kept: bool) -> Any:
    form = kind_named(kind).FORM
    name = f"{kind.capitalize()}Dimensions"
    found: Any = base.from_dict(_fields(form, "", name, may_be_kept), name=f"{name}Schema")
    found.kind = kind
    return found


def nested_message(path: str, message: str) -> dict[str, Any]:
    """A message at a dotted path as marshmallow nests it."""
    steps = path.split(".")
    found: Any = [message]
    for step in reversed(steps):
        found = {int(step) if step.isdecimal() else step: found}
    whole: dict[str, Any] = found
    return whole


def _fields(form: Form, path: str, name: str, may_be_kept: bool) -> dict[str, Any]:
    """The fields of the object at `path`: its own blanks, and the objects one step below."""
    found: dict[str, Any] = {}
    for part in form:
        if part.path == path and not part.rows:
            found |= _own(part, may_be_kept)
    for part in form:
        above, _, last = part.path.rpartition(".")
        if part.path and above == path:
            found[last] = _object(form, part, name, may_be_kept)
    return found


def _own(part: Part, may_be_kept: bool) -> dict[str, Any]:
    """Its blanks, and `kept` where something may be picked for it; then what that fills need not be sent."""
    picks = part.picks if may_be_kept else ()
    filled = {blank for pick in picks for blank, _ in pick.fills}
    found: dict[str, Any] = {blank.name: _field(blank, blank.name not in filled) for blank in part.blanks}
    if picks:
        titles = " or ".join(WHATS[pick.what].title.lower() for pick in picks)
        found[KEPT] = fields.Raw(allow_none=True, metadata={
            "type": ["integer", "string", "array"], "items": {"type": ["integer", "string"]},
            "description": f"The id of a kept size ({titles}), or several: it fills what is not sent."})
    return found


def _object(form: Form, part: Part, name: str, may_be_kept: bool) -> Any:
    inner_name = name + "".join(word.capitalize() for word in part.path.replace(".", "_").split("_"))
    inside = _own(part, may_be_kept) if part.rows else _fields(form, part.path, inner_name, may_be_kept)
    inner = Whole(Strict.from_dict(inside, name=f"{inner_name}Schema"), allow_none=not part.rows)
    if part.rows:
        return fields.List(inner, allow_none=True, metadata={"description": part.title})
    inner.required, inner.metadata = part.needed, {"description": part.title}
    inner.error_messages = {**inner.error_messages, **_MISSING}
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
    return fields.Raw(required=blank.needed and asked, allow_none=not blank.needed, metadata=described,
                      error_messages=_MISSING)


def _words(blank: Blank) -> str:
    return f"{blank.label}. {blank.hint}".strip()
