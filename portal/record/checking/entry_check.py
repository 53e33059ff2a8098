"""Whether one entry is what it should be at its place in the chain, and in words why not."""

from dataclasses import dataclass
from typing import Any

from portal.record.log.canonical import read
from portal.record.log.chain import NO_HASH, entry_hash, is_earlier, is_time
from portal.record.log.entry_kinds import KINDS
from portal.record.log.strict_reading import Misshapen, fields, is_canonical
from portal.record.verdict import Fault

Row = tuple[int, str | None, bytes]
"""An entry as it is kept: its sequence, its hash (64 hex digits; None: not kept), its canonical bytes."""

_FIELDS: dict[str, type] = {
    "project": int, "sequence": int, "previous": str, "at": str, "actor": dict, "kind": str, "body": dict,
}


@dataclass(frozen=True, slots=True)
class Place:
    """Where an entry should stand: after the entry with hash `previous`, made at `before` (empty for the first)."""

    project: int
    sequence: int
    previous: str = NO_HASH
    before: str = ""


def content_at(place: Place, row: Row) -> dict[str, Any]:
    """Check a row at its place and return the entry's content. Raises Fault with the first thing that is not right."""
    sequence, kept, data = row
    _check_number(place, sequence)
    if kept is not None and entry_hash(data) != kept:
        raise Fault(f"entry {sequence} was changed: its bytes no longer have the hash that was kept of it.")
    content = _content_of(data, f"entry {sequence}")
    _check_links(place, content)
    return content


def _content_of(data: bytes, name: str) -> dict[str, Any]:
    try:
        value = read(data)
    except ValueError:
        raise Fault(f"{name} is not JSON: its bytes were changed.") from None
    content = check_content(value, name)
    if not is_canonical(content, data):
        raise Fault(f"{name} is not in its canonical form (RFC 8785), so its hash says nothing.")
    return content


def check_content(value: Any, name: str) -> dict[str, Any]:
    """Check that a JSON value says all that an entry says and no more, and return it. `name` is what a Fault calls it.

    Whether it is right at its place, and in canonical form, is not looked at. Raises Fault.
    """
    moved = isinstance(value, dict) and value.get("clock_moved") is True
    try:
        content = fields(value, "", _FIELDS | ({"clock_moved": bool} if moved else {}))
    except Misshapen as wrong:
        raise Fault(f"{name}: {wrong}") from None
    if content["kind"] not in KINDS:
        raise Fault(f"{name} is of a kind that does not exist: {content['kind']!r}.")
    if not is_time(content["at"]):
        raise Fault(f"{name} has no time in UTC: {content['at']!r}.")
    if missing := {"kind", "id", "name"} - content["actor"].keys():
        raise Fault(f"{name} does not say who did it: {', '.join(sorted(missing))} of the actor missing.")
    return content


def _check_number(place: Place, found: int) -> None:
    if found == place.sequence:
        return
    if found == place.sequence - 1:
        raise Fault(f"entry {found} is there twice.")
    if found > place.sequence:
        raise Fault(f"entry {place.sequence} is missing: entry {found} stands in its place.")
    raise Fault(f"entry {found} is out of order: entry {place.sequence} should stand in its place.")


def _check_links(place: Place, content: dict[str, Any]) -> None:
    name = f"entry {place.sequence}"
    if content["project"] != place.project:
        raise Fault(f"{name} belongs to project {content['project']}, not to project {place.project}.")
    if content["sequence"] != place.sequence:
        raise Fault(f"{name} says that it is entry {content['sequence']}: it was put in the wrong place.")
    if content["previous"] != place.previous:
        after = f"entry {place.sequence - 1}" if place.sequence > 1 else "nothing"
        raise Fault(f"{name} does not follow {after}: it names another hash. One of the two was changed or replaced.")
    if ("clock_moved" in content) is not is_earlier(content["at"], place.before):
        raise Fault(f"{name} does not say rightly whether the clock was set back before it.")
