"""What usually stands in a hole beside a faucet: its usual hole, how long it lasts, and who says so. It stands in
content/accessories.toml, and is read once, when the program starts, as its code is."""

from dataclasses import dataclass
from typing import Any

from portal.folders import CONTENT
from portal.layouts.content_tables.reading import TableError, entries, said
from portal.layouts.length import DimensionError, Length

FILE = CONTENT / "accessories.toml"
_FIELDS = ("name", "hole", "usual", "source", "lasts", "lasts_source")
_TOGETHER = (("usual", "source"), ("lasts", "lasts_source"))


@dataclass(frozen=True, slots=True)
class Usual:
    """`hole`: the one usual size as it is written, None where there is more than one; `usual` says in words what is,
    by `source`; both None where nobody says. `lasts`: how long it lives, by `lasts_source`, in the same way."""

    use: str
    name: str
    hole: str | None
    usual: str | None
    source: str | None
    lasts: str | None
    lasts_source: str | None


def read(text: str) -> dict[str, Usual]:
    """Read the table, by use. Raises TableError for an entry without a name, with a field that there isn't, with a hole
    that is no length, or with something that is said by nobody."""
    return {use: _usual(use, entry) for use, entry in entries(FILE, text).items()}


def _usual(use: str, entry: Any) -> Usual:
    if not isinstance(entry, dict) or set(entry) - {*_FIELDS}:
        raise TableError(f"{FILE.name}, {use}: give only {', '.join(_FIELDS)}")
    for name in ("name", *entry):
        said(FILE, use, entry, name)
    for told, source in _TOGETHER:
        if (told in entry) != (source in entry):
            raise TableError(f"{FILE.name}, {use}: give {told} and {source} together, or neither")
    try:
        Length.parse(entry.get("hole", "1 in"), f"{use}.hole")
    except DimensionError as error:
        raise TableError(f"{FILE.name}, {error}") from error
    return Usual(use, entry["name"], *(entry.get(name) for name in _FIELDS[1:]))


USUAL = read(FILE.read_text(encoding="utf-8"))
"""By use, in the order of the table."""
