"""The dimensions of each kind of layout as schemas, made of the kind's own blanks and read by the kind itself.

So there is one validation: the kind's `from_json`. The schema says to a reader which fields there are.
"""

from functools import cache
from typing import Any

from marshmallow import ValidationError, fields, post_load

from portal.api.http.shapes import Strict, Whole
from portal.layouts.form import CHOICE, COUNT, FLAG, LENGTH, Blank, Part
from portal.layouts.kinds import kind_named
from portal.layouts.length import DimensionError

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


@cache
def dimensions_schema(kind: str) -> type[Measured]:
    """The schema of a kind's dimensions. Raises DimensionError for a kind that there isn't."""
    form = kind_named(kind).FORM
    name = f"{kind.capitalize()}Dimensions"
    found: Any = Measured.from_dict(_fields(form, "", name), name=f"{name}Schema")
    found.kind = kind
    schema: type[Measured] = found
    return schema


def nested_message(path: str, message: str) -> dict[str, Any]:
    """A message at a dotted path as marshmallow nests it."""
    steps = path.split(".")
    found: Any = [message]
    for step in reversed(steps):
        found = {int(step) if step.isdecimal() else step: found}
    whole: dict[str, Any] = found
    return whole


def _fields(form: tuple[Part, ...], path: str, name: str) -> dict[str, Any]:
    """The fields of the object at `path`: its own blanks, and the objects one step below."""
    own = [blank for part in form if part.path == path and not part.rows for blank in part.blanks]
    found: dict[str, Any] = {blank.name: _field(blank) for blank in own}
    for part in form:
        above, _, last = part.path.rpartition(".")
        if part.path and above == path:
            found[last] = _object(form, part, name)
    return found


def _object(form: tuple[Part, ...], part: Part, name: str) -> Any:
    inner_name = name + "".join(word.capitalize() for word in part.path.replace(".", "_").split("_"))
    inside = _fields(form, part.path, inner_name)
    if part.rows:
        inside = {blank.name: _field(blank) for blank in part.blanks}
    inner = Whole(Strict.from_dict(inside, name=f"{inner_name}Schema"), allow_none=not part.rows)
    if part.rows:
        return fields.List(inner, allow_none=True, metadata={"description": part.title})
    inner.required, inner.metadata = part.needed, {"description": part.title}
    inner.error_messages = {**inner.error_messages, **_MISSING}
    return inner


def _field(blank: Blank) -> fields.Raw:
    described: dict[str, Any] = {"type": _TYPES.get(blank.holds, "string"), "description": _words(blank)}
    if blank.holds in _EXAMPLES:
        described["examples"] = _EXAMPLES[blank.holds]
    if blank.holds == CHOICE:
        described["enum"] = list(blank.choices)
    return fields.Raw(required=blank.needed, allow_none=not blank.needed, metadata=described, error_messages=_MISSING)


def _words(blank: Blank) -> str:
    return f"{blank.label}. {blank.hint}".strip()
