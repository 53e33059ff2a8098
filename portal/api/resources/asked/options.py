"""The options of a question as they are sent and answered: words, price and time, drawing, finish and photos."""

from typing import Any

from marshmallow import fields, validate

from portal.acts.decisions.finishes import MOST_PHOTOS
from portal.api.http.shapes import AnyJson, Strict, Whole, YesNo, line_field, name_field, note_field, text_field
from portal.layouts.declared import OF_OPTION, declared

_OPTION_DETAIL = {
    "description": "`layout` makes the option one of the layouts that the dimensions give: its `key` from /layouts, or "
                   "that layout as it was answered. Drawing and sheet are computed and answered beside it.",
    "examples": [{"layout": "overhang:254mm"}],
}
AMOUNT = validate.Range(-(10**10), 10**10)


class DespiteSchema(Strict):
    """Why a layout that breaks a rule is offered all the same. `by` and `at` are set by the service; sent back as they
    were read, they stay."""

    reason = text_field(1000, required=True)
    by = fields.String()
    at = fields.String()


class DetailJson(AnyJson):
    """Given out is what is declared of it; what else an old row holds stays in what was shown."""

    def __init__(self, names: frozenset[str], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.names = names

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return declared(value, self.names)


class OptionFinishSchema(Strict):
    """Of an option that is a finish. `sample_at`: where the sample lies. `swatch`: its color on a screen, `#rrggbb`;
    screens differ, and the page says so."""

    maker = line_field(80)
    line = line_field(80)
    color = line_field(80)
    number = line_field(40)
    sample_at = line_field(120)
    swatch = line_field(7, metadata={"examples": ["#d9d2c3"]})


class OptionPhotoSchema(Strict):
    """A photo that was sent to `photos` before. Size and hash are the service's; sent back as they were read, they
    stay."""

    name = fields.String(required=True, validate=validate.Regexp(r"^[0-9a-f]{20}$", error="Send the name of a photo."))
    caption = line_field(200)
    width = fields.Integer(strict=True)
    height = fields.Integer(strict=True)
    sha256 = fields.String()


class OptionSchema(Strict):
    """`despite`: only of a layout that breaks a rule, which no manager offers without a written reason."""

    key = fields.String(validate=validate.Regexp(r"^[a-z0-9][a-z0-9_-]{0,31}$", error="Use a-z, 0-9, - and _ only."))
    title = name_field(200, required=True)
    effects = note_field(2000, load_default="")
    cannot_be_undone = note_field(1000, load_default="")
    recommended = YesNo(load_default=False)
    cost_cents = fields.Integer(strict=True, allow_none=True, load_default=None, validate=AMOUNT)
    days = fields.Integer(strict=True, allow_none=True, load_default=None, validate=validate.Range(-1000, 1000))
    detail = DetailJson(OF_OPTION, allow_none=True, load_default=None, metadata=_OPTION_DETAIL)
    despite = Whole(DespiteSchema, allow_none=True)
    finish = Whole(OptionFinishSchema, allow_none=True)
    photos = fields.List(Whole(OptionPhotoSchema), validate=validate.Length(max=MOST_PHOTOS))
