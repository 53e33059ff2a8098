"""The options of a revision as they are read back. A row may hold anything (old data, somebody's change): whatever
stands there, the pages around it work, and nobody approves what nobody can read. What is kept is not changed by it.
"""

import json
from typing import Any

from peewee import JSONField

from portal.photo_files import is_photo_name
from portal.words.drawn.layout_words import CHOICE_NOT_SHOWN

Values = dict[str, Any]
_TEXTS = ("effects", "cannot_be_undone")
_LOST = "unreadable"
_FARTHEST = 10**15
"""More cents or days are no price and no time."""


def options_in(kept: Any) -> list[Values]:
    """Read the options from JSON, as text or read already. A field of a wrong type is left out; an option that is no
    object with a key and a title is one that says that it can't be shown. Sound ones are given as they are kept."""
    found = json_in(kept)
    if not isinstance(found, list):
        return [_unreadable("")]
    return [_read(one) for one in found]


def json_in(kept: Any) -> Any:
    """Read JSON, as text or read already; None for what is none."""
    if not isinstance(kept, str | bytes):
        return kept
    try:
        return json.loads(kept)
    except (ValueError, RecursionError):
        return None


def is_readable(option: Values) -> bool:
    """Say whether an option that was read so can be chosen: what is kept beside its words is nothing, or an object."""
    return bool(option["key"]) and (not option.get("detail") or isinstance(option["detail"], dict))


class OptionsField(JSONField):
    """A column of options, read with care."""

    def python_value(self, value: Any) -> Any:
        """Read what the database gives; None stays None."""
        return None if value is None else options_in(value)


def _read(one: Any) -> Values:
    if not isinstance(one, dict):
        return _unreadable("")
    key, title = one.get("key"), one.get("title")
    if not isinstance(key, str) or not key or not isinstance(title, str):
        return _unreadable(key if isinstance(key, str) else "")
    return {name: value for name, value in one.items() if _fits(name, value)}


def _unreadable(key: str) -> Values:
    """A detail that is no object is one that can't be drawn, printed or approved."""
    return {"key": key, "title": CHOICE_NOT_SHOWN, "detail": _LOST}


def _fits(name: str, value: Any) -> bool:
    if value is None:
        return True
    if name in _TEXTS:
        return isinstance(value, str)
    if name in ("cost_cents", "days"):
        return isinstance(value, int) and not isinstance(value, bool) and abs(value) < _FARTHEST
    if name == "recommended":
        return isinstance(value, bool)
    if name == "photos":
        return isinstance(value, list) and all(map(_is_photo, value))
    if name == "finish":
        return isinstance(value, dict) and all(isinstance(one, str) for one in value.values())
    return name != "despite" or isinstance(value, dict)


def _is_photo(one: Any) -> bool:
    """Whether a page can show it: a name of ours, a size, and words or none."""
    return (
        isinstance(one, dict) and isinstance(one.get("name"), str) and is_photo_name(one["name"])
        and all(type(one.get(side)) is int for side in ("width", "height")) and isinstance(one.get("caption", ""), str)
    )
