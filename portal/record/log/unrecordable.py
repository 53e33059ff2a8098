"""Why a value has no canonical JSON: one named error for each reason, with the path to the field."""

from collections.abc import Iterator
from typing import Any

LARGEST = 2**53 - 1
"""Beyond it two whole numbers share one double (RFC 8785, 3.2.2.3; RFC 7493, 2.2)."""


class NotRecordable(ValueError):
    """A value that has no canonical form. `field` is the path to it, e.g. `options.0.cost_cents`."""

    def __init__(self, field: str, why: str) -> None:
        super().__init__(f"{field or 'the value'}: {why}")
        self.field = field


class IntegerTooLarge(NotRecordable):
    """A whole number that JSON readers would round."""


class NumberNotFinite(NotRecordable):
    """NaN or an infinity."""


class BrokenText(NotRecordable):
    """Text with half a surrogate pair, which has no UTF-8."""


class NotJson(NotRecordable):
    """A value, or a key, of a type that JSON does not know."""


class NestedTooDeep(NotRecordable):
    """Lists in lists (or a list in itself) beyond what a reader can follow."""


def refusal_of(value: Any, field: str = "") -> NotRecordable | None:
    """Find the first reason why this value has no canonical JSON; None if it has one. `field`: the value's path."""
    if isinstance(value, dict):
        return _first(_entry_refusal(key, item, field) for key, item in value.items())
    if isinstance(value, list | tuple):
        return _first(refusal_of(item, _join(field, str(place))) for place, item in enumerate(value))
    if value is None or isinstance(value, bool):
        return None
    if isinstance(value, int | float):
        return _number_refusal(value, field)
    if isinstance(value, str):
        return None if _has_utf8(value) else BrokenText(field, "holds half a character. Send valid Unicode.")
    return NotJson(field, f"{type(value).__name__} is not JSON. Send text, numbers, lists, or objects with text keys.")


def _entry_refusal(key: Any, item: Any, field: str) -> NotRecordable | None:
    if not isinstance(key, str):
        return NotJson(field, f"the key {key!r} is not text. Write it as text.")
    if not _has_utf8(key):
        return BrokenText(field, f"the key {key!a} holds half a character. Send valid Unicode.")
    return refusal_of(item, _join(field, key))


def _number_refusal(value: int | float, field: str) -> NotRecordable | None:
    if isinstance(value, int):
        why = f"{value} is beyond {LARGEST}, where JSON loses digits. Write it as text, or in a larger unit."
        return IntegerTooLarge(field, why) if abs(value) > LARGEST else None
    finite = value - value == 0
    return None if finite else NumberNotFinite(field, f"{value} is no number that JSON can write. Leave it out.")


def _has_utf8(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def _join(field: str, part: str) -> str:
    return f"{field}.{part}" if field else part


def _first(refusals: Iterator[NotRecordable | None]) -> NotRecordable | None:
    return next((refused for refused in refusals if refused), None)
