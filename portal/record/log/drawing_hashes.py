"""The hashes of what is drawn of an option: layout, drawing, sheet and machine file, each by its own. The entry of
asking tells them, so that what is printed in ten years can be compared with what was asked, part by part."""

from collections.abc import Iterable, Mapping
from typing import Any

from portal.layouts.kept_checks import PARTS, is_drawn
from portal.record.log.canonical import digest
from portal.record.log.unrecordable import NotRecordable


def drawing_hashes(options: Iterable[Mapping[str, Any]]) -> list[dict[str, str]]:
    """Give the SHA-256 of each part that is kept of each drawn option, in their order, as 64 hex digits: `{"option":
    "a", "layout": ..., "drawing": ..., "sheet": ...}`. A part that has no canonical form has an empty hash."""
    return [_hashes(one) for one in options if is_drawn(one)]


def _hashes(option: Mapping[str, Any]) -> dict[str, str]:
    detail = option["detail"]
    parts = {name: detail[name] for name in PARTS if detail.get(name) is not None} if isinstance(detail, dict) else {}
    return {"option": str(option["key"]), **{name: _digest(value) for name, value in parts.items()}}


def _digest(value: Any) -> str:
    try:
        return digest(value)
    except NotRecordable:
        return ""
