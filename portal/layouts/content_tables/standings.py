"""What a check is worth: a rule stops a layout, an advice is said beside it. Which is which stands in
content/checks.toml, with the reason and the source; it is read once, when the program starts, as its code is."""

from dataclasses import dataclass
from typing import Any

from portal.folders import CONTENT
from portal.layouts.content_tables.reading import TableError, entries, exactly, said

FILE = CONTENT / "checks.toml"
_FIELDS = {"name", "stops", "why", "source"}


@dataclass(frozen=True, slots=True)
class Standing:
    """`name`: how the check is called. `stops`: a layout that fails it is not offered. `why`: what happens where it is
    not kept, in a sentence. `source`: who says that it matters, where no sheet of this job does."""

    name: str
    stops: bool
    why: str
    source: str


def read(text: str) -> dict[str, Standing]:
    """Read the table: `[kind.check]` with `name`, `stops`, `why` and `source`. Raises TableError."""
    return {f"{kind}.{key}": _standing(f"{kind}.{key}", entry)
            for kind, checks in entries(FILE, text).items() for key, entry in checks.items()}


def _standing(key: str, entry: Any) -> Standing:
    values = exactly(FILE, key, entry, _FIELDS)
    if not isinstance(values["stops"], bool):
        raise TableError(f"{FILE.name}, {key}.stops: write true for a rule, false for an advice")
    for name in ("name", "why", "source"):
        said(FILE, key, values, name)
    return Standing(**values)


STANDINGS = read(FILE.read_text(encoding="utf-8"))
"""Every check by its key, such as `deck.hole-to-cutout`."""


def standing(key: str) -> Standing:
    """Find what a check is worth. Raises TableError for one that the table doesn't have."""
    if key not in STANDINGS:
        raise TableError(f"{FILE.name} has no entry [{key}]; add one, with stops, why and source")
    return STANDINGS[key]
