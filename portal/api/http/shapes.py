"""What the schemas share: strictness, and the fields that are not plain."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from portal import clock
from portal.acts import written
from portal.planning.household.services import HouseholdError
from portal.store.refusals import FieldRefused
from portal.words import typed

REACH = 25
"""Years before and after today in which a job can lie: with twice as many, calendars can still be computed."""


class Strict(Schema):
    """Unknown fields are errors."""

    class Meta:
        unknown = RAISE

    def handle_error(self, error: ValidationError, data: Any, *, many: bool, **kwargs: Any) -> None:
        """What a client has read and sends back is not unknown to it."""
        told = error.messages
        for fields_told in told.values() if many and isinstance(told, dict) else [told]:
            for name in set(fields_told) & (self.dump_fields.keys() - self.load_fields.keys()):
                fields_told[name] = ["This is computed. Leave it out."]


class Typed(fields.String):
    """A text that someone typed, as it is kept: `kept` is one of portal.words.typed, and says what it may hold."""

    def __init__(self, kept: Callable[[str], str], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.kept = kept

    @property
    def described(self) -> dict[str, Any]:
        """What it may hold, in words and as a pattern."""
        of_lines, something = self.kept is typed.lines, _not_blank in self.validators
        said = f"{'Text of several lines' if of_lines else 'One line of text'}, without control characters"
        said += "; it can’t be blank." if something else "."
        return {"pattern": typed.pattern(of_lines, something), "description": said}

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        return _as_kept(self.kept, super()._deserialize(value, attr, data, **kwargs))


def name_field(longest: int = 120, **kwargs: Any) -> Typed:
    """A line of text that says something."""
    return Typed(typed.line, validate=[validate.Length(1, longest), _not_blank], **kwargs)


def line_field(longest: int = 255, **kwargs: Any) -> Typed:
    """A line of text, or nothing."""
    return Typed(typed.line, validate=validate.Length(max=longest), **kwargs)


def text_field(longest: int = 20_000, **kwargs: Any) -> Typed:
    """A text of several lines that says something."""
    return Typed(typed.lines, validate=[validate.Length(1, longest), _not_blank], **kwargs)


def note_field(longest: int = 2000, **kwargs: Any) -> Typed:
    """A text of several lines, or nothing."""
    return Typed(typed.lines, validate=validate.Length(max=longest), **kwargs)


class WhySchema(Strict):
    """Why something is done that is kept with its reason; the act says what is asked for where there is none."""

    reason = note_field(1000, required=True)


class PhoneNumber(Typed):
    """A phone number as people write it, or nothing."""

    @property
    def described(self) -> dict[str, Any]:
        said = "A phone number with three digits and more, as people write it, or nothing."
        return {"pattern": r"^([^\x00-\x1f\x7f-\x9f]*([0-9][^\x00-\x1f\x7f-\x9f]*){3,})?$", "description": said}


def phone_field(**kwargs: Any) -> Typed:
    return PhoneNumber(typed.line, validate=[validate.Length(max=40), _dialled], **kwargs)


class EmailAddress(Typed):
    """One e-mail address, or nothing."""

    @property
    def described(self) -> dict[str, Any]:
        return {"pattern": f"^({typed.ADDRESS_PATTERN})?$", "description": "One e-mail address, or nothing."}


def email_field(**kwargs: Any) -> Typed:
    return EmailAddress(_email, validate=validate.Length(max=typed.LONGEST_ADDRESS), **kwargs)


class ProseField(Typed):
    """A text in Markdown: outside as it was typed, inside with the HTML that pages show."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        text = super()._deserialize(value, attr, data, **kwargs)
        super()._validate(text)  # what is too long is not begun with
        try:
            return written.shown(attr or "", text)
        except FieldRefused as refusal:
            raise ValidationError(str(refusal.details["message"])) from refusal

    def _validate(self, value: Any) -> None:
        """It is validated already."""


def prose_field(longest: int = 20_000, **kwargs: Any) -> ProseField:
    """A text of several lines in Markdown that says something."""
    return ProseField(typed.lines, validate=[validate.Length(1, longest), _not_blank], **kwargs)


class Whole(fields.Nested):
    """A value that is sent whole or not at all: a change of the row around it does not make its fields optional."""

    def _load(self, value: Any, partial: Any = None) -> Any:
        return super()._load(value, partial=False)


class HouseholdJson(fields.Field[list[Any]]):
    """What rooms give and phases take: JSON that portal.planning.household.services reads, kept as it was sent."""

    def __init__(self, read: Callable[[object], object], **kwargs: Any) -> None:
        super().__init__(metadata={"type": "array", "items": {}}, **kwargs)
        self.read = read

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[Any]:
        try:
            self.read(value)
        except HouseholdError as error:
            raise ValidationError(str(error)) from error
        return list(_as_kept(typed.whole, value))


class AnyJson(fields.Dict):
    """A JSON object of which only its texts are looked at. What is kept is answered as it is, of whatever shape."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return value

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        return _as_kept(typed.whole, super()._deserialize(value, attr, data, **kwargs))


class RowId(fields.Integer):
    """The id of another row: a foreign key is read without fetching that row."""

    def get_value(self, obj: Any, attr: str, accessor: Any = None, default: Any = None) -> Any:
        foreign = f"{attr}_id"
        return getattr(obj, foreign) if hasattr(obj, foreign) else super().get_value(obj, attr, accessor, default)


class YesNo(fields.Boolean):
    """`true` or `false`, as the description says: a 0, a 1 or a word may be anything that went into the wrong place."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> bool:
        if not isinstance(value, bool):
            raise self.make_error("invalid", input=value)
        return value


class Day(fields.Date):
    """A day that a job can have to do with: one so near that it can be counted on from."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> date:
        day: date = super()._deserialize(value, attr, data, **kwargs)
        _near(day)
        return day


def day_field(**kwargs: Any) -> Day:
    return Day(**kwargs)


def years() -> range:
    """Those in which a day of a job can lie, as of today."""
    this_year = datetime.fromtimestamp(clock.now(), UTC).year
    return range(this_year - REACH, this_year + REACH + 1)


class Instant(fields.Field[int]):
    """RFC 3339 with offset outside, whole seconds inside."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str | None:
        return None if value is None else datetime.fromtimestamp(value, UTC).isoformat().replace("+00:00", "Z")

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        moment = moment_of(value)
        if moment.tzinfo is None:
            raise ValidationError("Add the offset, such as -06:00 or Z.")
        return int(moment.timestamp())


def moment_of(value: Any) -> datetime:
    """A time as it was sent, with or without offset. Raises ValidationError."""
    try:
        moment = datetime.fromisoformat(value)
    except (TypeError, ValueError) as error:
        raise ValidationError("Give a time such as 2026-12-04T08:00:00-06:00.") from error
    _near(moment)
    return moment


class Hours(fields.Field[int]):
    """Hours outside (a number), whole minutes inside."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> float | int | None:
        if value is None:
            return None
        return value // 60 if value % 60 == 0 else round(value / 60, 6)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise ValidationError("Give hours as a number, such as 6 or 1.5.")
        if not 0 <= value <= 100_000:
            raise ValidationError("Give between 0 and 100000 hours.")
        return round(value * 60)


def _near(day: date) -> None:
    near = years()
    if day.year not in near:
        raise ValidationError(f"Give a year from {near[0]} to {near[-1]}.")


def _not_blank(value: str) -> None:
    if not typed.seen(value):
        raise ValidationError("This can’t be blank.")


def _dialled(value: str) -> None:
    if value.strip() and sum(c.isdecimal() for c in value) < 3:
        raise ValidationError("A phone number has digits in it. Write it out, or leave this empty.")


def _email(value: str) -> str:
    return typed.email(value) if value.strip() else ""


def _as_kept(kept: Callable[[Any], Any], value: Any) -> Any:
    try:
        return kept(value)
    except typed.NotText as error:
        raise ValidationError(str(error)) from error
