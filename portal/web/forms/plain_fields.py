"""What people type into a form, as the values of the schemas: dollars, times at the house, lists of lines."""

import re
from datetime import date
from typing import Any

from marshmallow import ValidationError, fields

from portal.api.http.shapes import moment_of
from portal.api.resources.visits import WallClock
from portal.words.dates import local
from portal.words.typed import NotText, lines

_DOLLARS = re.compile(r"(-?)\$?(\d{1,3}(?:,\d{3})+|\d+)(?:\.(\d\d?))?")


class Dollars(fields.Integer):
    """`48,600` or `-30.50` outside, cents inside."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> str | None:
        return None if value is None else dollars(value)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        match = _DOLLARS.fullmatch(str(value).replace(" ", "").replace("−", "-").replace("$-", "-$"))
        if match is None:
            raise ValidationError("Give dollars, such as 640 or 48,600.50.")
        sign, whole, cents = match.groups()
        found = int(whole.replace(",", "")) * 100 + int((cents or "0").ljust(2, "0"))
        return -found if sign else found


def dollars(cents: int) -> str:
    """As one types them: `-30` or `48600.50`."""
    whole, rest = divmod(abs(cents), 100)
    return f"{'-' if cents < 0 else ''}{whole}" + (f".{rest:02}" if rest else "")


class HouseTime(WallClock):
    """The wall clock at the house; the act finds the instant."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        try:
            return moment_of(str(value))
        except ValidationError as error:
            raise ValidationError("Give a date and a time, such as 2026-12-04 08:00.") from error


def house_time(at: int | None, zone: str) -> str | None:
    """An instant as the input for a date and a time takes it."""
    return None if at is None else f"{local(at, zone):%Y-%m-%dT%H:%M}"


class Lines(fields.Field[list[str]]):
    """One thing a line outside, a list inside."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[str]:
        try:
            return [line.strip() for line in lines(str(value)).split("\n") if line.strip()]
        except NotText as error:
            raise ValidationError(str(error)) from error


class DateLines(Lines):
    """One date a line."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> list[str]:
        return [_date(line) for line in super()._deserialize(value, attr, data)]


def _date(line: str) -> str:
    try:
        return date.fromisoformat(line).isoformat()
    except ValueError as error:
        raise ValidationError(f"“{line}” is no date. Write each on a line of its own, such as 2026-12-24.") from error
